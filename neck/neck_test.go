package neck

import (
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTargetsAreExact checks that the neck is at its targets what the spec
// says.
func TestTargetsAreExact(t *testing.T) {
	n := demo(t)
	s := n.Spec()
	for _, d := range s.Depth {
		x := s.X(d.At)
		assert.InDelta(t, d.Total, n.Total(x), 1e-9)
		assert.InDelta(t, d.Total-s.Board.Thickness, n.Depth(x), 1e-9)
		st := n.Station("", x)
		assert.InDelta(t, d.Total, st.Total, 1e-9)
		assert.InDelta(t, d.Total-s.Board.Thickness, st.Wood, 1e-9)
	}
	assert.InDelta(t, s.Width.Nut, n.Width(0), 1e-9)
	assert.InDelta(t, s.Width.Nut, 2*n.BoardHalfWidth(0), 1e-9)
	assert.InDelta(t, s.Width.End, 2*n.BoardHalfWidth(n.BoardEnd()), 1e-9)
	assert.InDelta(t, s.Heel.Total-s.Board.Thickness, n.Depth(n.End()), 1e-9)
	assert.InDelta(t, s.Heel.Width, n.Width(n.End()), 1e-9)
	assert.InDelta(t, s.Board.Thickness, n.BoardTop(100, 0), 1e-12)
	for _, p := range s.Profile {
		sec := n.Section(s.X(p.At))
		assert.InDelta(t, p.Bass, sec.Fullness(MinusY), 1e-9)
		assert.InDelta(t, p.Treble, sec.Fullness(PlusY), 1e-9)
		assert.InDelta(t, p.Apex, sec.Apex, 1e-9)
	}
}

// TestManyTargets checks that more than two depth targets are met and that
// the line between them neither overshoots nor breaks.
func TestManyTargets(t *testing.T) {
	s := spectest.Straight()
	s.Depth = nil
	for i, total := range []float64{20, 20.2, 21.5, 21.5, 23} {
		s.Depth = append(s.Depth, spec.DepthTarget{At: spec.AtFret(1 + 2.5*float64(i)), Total: total})
	}
	n, err := New(s)
	require.NoError(t, err)
	for i, d := range s.Depth {
		assert.InDelta(t, d.Total, n.Total(s.X(d.At)), 1e-9)
		if i == 0 {
			continue
		}
		prev := s.Depth[i-1]
		for j := range 51 {
			x := numeric.Lerp(s.X(prev.At), s.X(d.At), float64(j)/50)
			assert.GreaterOrEqual(t, n.Total(x), prev.Total-1e-9)
			assert.LessOrEqual(t, n.Total(x), d.Total+1e-9)
		}
	}
	// The end slopes continue.
	x0, x1 := s.X(s.Depth[0].At), s.X(s.Depth[4].At)
	assert.InDelta(t, slopeAt(n.Depth, x0+1e-4), slopeAt(n.Depth, 0.5*x0), 1e-3)
	assert.InDelta(t, slopeAt(n.Depth, x1-1e-4), slopeAt(n.Depth, x1+5), 1e-3)
}

func slopeAt(f func(float64) float64, x float64) float64 {
	const h = 1e-6
	return (f(x+h) - f(x-h)) / (2 * h)
}

// TestBackIsSmooth checks that the side view of the back has a continuous
// tangent from end to end: over steps of a hundredth of a millimetre no slope
// jumps.
func TestBackIsSmooth(t *testing.T) {
	specs := []*spec.Spec{spec.Demo()}
	flat := spec.Demo()
	flat.Headstock.Angle, flat.Headstock.Step, flat.Headstock.Cove = 0, 6, 14
	flat.Volute = nil
	specs = append(specs, flat)
	for _, s := range specs {
		n, err := New(s)
		require.NoError(t, err)
		const h = 0.01
		last := math.NaN()
		for x := n.Start() + h; x < n.End(); x += h {
			k := (n.Depth(x) - n.Depth(x-h)) / h
			if math.Abs(k-last) >= 0.002 { // not for the first
				t.Errorf("x = %.2f: the slope jumps from %g to %g", x, last, k)
			}
			last = k
		}
	}
}

// TestHeadstockThickness checks that the paddle has its thickness square to
// its face, and a face that lies where the spec puts it.
func TestHeadstockThickness(t *testing.T) {
	n := demo(t)
	h := n.Spec().Headstock
	x := n.Start() + 5
	assert.InDelta(t, h.Thickness, (n.Depth(x)+n.Top(x))*math.Cos(h.Angle), 1e-9)
	assert.InDelta(t, h.Width, n.Width(x), 1e-9)
	assert.InDelta(t, 1, func() float64 { s := n.Section(x); return s.Blend() }(), 1e-12)
	assert.Zero(t, n.Top(-h.Shelf))
	// The face's length from the nut, shelf included.
	assert.InDelta(t, h.Length, h.Shelf+(-h.Shelf-n.Start())/math.Cos(h.Angle), 1e-9)

	s := spec.Demo()
	s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 6, 14
	n, err := New(s)
	require.NoError(t, err)
	assert.InDelta(t, -6, n.Top(n.Start()), 1e-12)
	assert.InDelta(t, h.Thickness+6, n.Depth(n.Start()), 1e-9)
	assert.InDelta(t, -h.Length, n.Start(), 1e-9)
}

// TestVoluteRise checks the crest.
func TestVoluteRise(t *testing.T) {
	with := demo(t)
	s := spec.Demo()
	s.Volute = nil
	without, err := New(s)
	require.NoError(t, err)
	v := spec.Demo().Volute
	x := s.X(v.Centre)
	assert.InDelta(t, v.Rise, with.Depth(x)-without.Depth(x), 1e-9)
	assert.InDelta(t, 0, with.Depth(x+v.Length/2)-without.Depth(x+v.Length/2), 1e-12)
}

// TestFretboardArc checks the board's top against the circle of its radius.
func TestFretboardArc(t *testing.T) {
	n := demo(t)
	for _, x := range []float64{0, 150, n.BoardEnd()} {
		r := n.BoardRadius(x)
		for _, y := range []float64{-20, -7, 0, 3, 21} {
			z := n.BoardTop(x, y)
			centre := n.Spec().Board.Thickness - r
			assert.InDelta(t, r, math.Hypot(y, z-centre), 1e-9)
		}
		area := 0.0
		a := n.BoardHalfWidth(x)
		const k = 20000
		for i := range k {
			area += n.BoardTop(x, a*(2*(float64(i)+0.5)/k-1)) * 2 * a / k
		}
		assert.InEpsilon(t, area, n.BoardArea(x), 1e-8)
	}
	assert.Equal(t, spec.Demo().Board.RadiusNut, n.BoardRadius(0))
	assert.InDelta(t, spec.Demo().Board.RadiusEnd, n.BoardRadius(n.BoardEnd()), 1e-9)
}

// TestCylinderVolume checks a straight, untapered neck against half an
// elliptic cylinder, π a b L / 2, and a tapered one against the frustum of an
// elliptic cone, whose two axes run straight between its ends:
// π L (2 a0 b0 + a0 b1 + a1 b0 + 2 a1 b1) / 12. Both follow from the area
// π a b of the ellipse.
func TestCylinderVolume(t *testing.T) {
	s := spectest.Straight()
	n, err := New(s)
	require.NoError(t, err)
	assert.InEpsilon(t, math.Pi*22*15*n.End()/2, n.WoodVolume(), 1e-12)
	assert.InEpsilon(t, 44*6*n.End(), n.BoardVolume(), 1e-12)

	s.Width.End = 56
	s.Depth = append(s.Depth, spec.DepthTarget{At: spec.AtFret(12), Total: 22.5})
	n, err = New(s)
	require.NoError(t, err)
	a0, a1 := 22.0, 28.0
	b0, b1 := n.Depth(0), n.Depth(n.End())
	want := math.Pi * n.End() * (2*a0*b0 + a0*b1 + a1*b0 + 2*a1*b1) / 12
	assert.InEpsilon(t, want, n.WoodVolume(), 1e-12)

	// The meshes of both fall short by no more than the tolerance over the
	// surface.
	m, err := n.Solid(PartWood, 0.01)
	require.NoError(t, err)
	assert.InDelta(t, want, m.Volume(), 0.01*m.Area())
}

// TestCover checks the cover of a flat-bottomed channel in half a circular
// cylinder, where the nearest point of the back is on the ray through the
// channel's corner: r - sqrt((w/2)² + d²).
func TestCover(t *testing.T) {
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 40, 40
	s.Depth[0].Total = 26
	s.Rod = &spec.Rod{Width: 6, Depth: 9, From: spec.AtX(10), To: spec.AtX(250)}
	n, err := New(s)
	require.NoError(t, err)
	want := 20 - math.Hypot(3, 9)
	c, ok := n.Cover(100)
	require.True(t, ok)
	assert.InDelta(t, want, c, 1e-9)
	c, x, ok := n.LeastCover()
	require.True(t, ok)
	assert.InDelta(t, want, c, 1e-9)
	assert.True(t, x >= 10 && x <= 250)
	_, ok = n.Cover(9.9)
	assert.False(t, ok)

	// A ball-nose floor, whose lowest arc has its centre 6 mm down.
	s.Rod.Floor = spec.FloorRound
	n, err = New(s)
	require.NoError(t, err)
	c, _ = n.Cover(100)
	assert.InDelta(t, 20-6-3, c, 1e-9)
}

// TestCoverIsSpatial checks the cover against brute force in space where the
// back slopes: a cone-like neck is nearer along the normal than straight down.
func TestCoverIsSpatial(t *testing.T) {
	s := spectest.Straight()
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(0), Total: 18}, {At: spec.AtFret(12), Total: 60}}
	s.Width.Nut, s.Width.End = 60, 60
	s.Rod = &spec.Rod{Width: 6, Depth: 7, From: spec.AtX(20), To: spec.AtX(250)}
	n, err := New(s)
	require.NoError(t, err)
	for _, x := range []float64{20, 120, 250} {
		best := math.Inf(1)
		for i := -4000; i <= 4000; i++ {
			xs := x + float64(i)*0.005
			sec := n.Section(xs)
			if d := -sec.Distance(YZ{3, -7}); d < math.Hypot(best, 0) {
				best = math.Min(best, math.Hypot(d, xs-x))
			}
		}
		c, ok := n.Cover(x)
		require.True(t, ok)
		assert.InDelta(t, best, c, 1e-5, "x = %g", x)
		flat := n.Section(x)
		assert.Less(t, c, -flat.Distance(YZ{3, -7}))
	}
}

// TestCommonPractice holds values of the trade: common practice, no published
// source. Totals of 21 mm at fret 1 and 22 mm at the heel station with a board
// that finishes at 6 mm leave 15 and 16 mm of wood and a back slope of 1 mm;
// a board can end 8 mm beyond the 24th fret.
func TestCommonPractice(t *testing.T) {
	s := spectest.Straight()
	s.Scale.Frets = 24
	s.Width.PastLastFret = 8
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 21}, {At: spec.AtFret(17), Total: 22}}
	n, err := New(s)
	require.NoError(t, err)
	assert.InDelta(t, 15, n.Depth(s.FretX(1)), 1e-9)
	assert.InDelta(t, 16, n.Depth(s.FretX(17)), 1e-9)
	slope := n.BackSlope()
	assert.InDelta(t, 1, slope.Rise, 1e-9)
	assert.InDelta(t, s.FretX(24)+8, n.BoardEnd(), 1e-12)

	for _, c := range []struct {
		mm   float64
		inch string
	}{{21, "0.827 in"}, {22, "0.866 in"}, {6, "0.236 in"}, {15, "0.591 in"}, {16, "0.63 in"}, {1, "0.039 in"}} {
		assert.Equal(t, c.inch, spec.Inch.Rounded(c.mm))
	}
}
