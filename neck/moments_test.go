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

// TestRectangleMoments: b h³/12 about the centroid (eng.libretexts.org).
func TestRectangleMoments(t *testing.T) {
	m := rectangle(-7, -20, 5, -4)
	assert.InDelta(t, 12*16.0, m.Area, 1e-12)
	assert.InDelta(t, 12*math.Pow(16, 3)/12, m.Bending(), 1e-9)
	assert.InDelta(t, 16*math.Pow(12, 3)/12, m.Sideways(), 1e-9)
	assert.InDelta(t, 0, m.Product(), 1e-9)
	assert.Equal(t, YZ{-1, -12}, m.Centroid())
}

// TestHalfEllipseMoments: a semicircle has 0.109757 r⁴ = (π/8 - 8/(9π)) r⁴
// about its centroid (eng.libretexts.org), which lies 4r/(3π) from the flat; a
// half ellipse follows by scaling.
func TestHalfEllipseMoments(t *testing.T) {
	for _, c := range []struct{ a, b float64 }{{20, 20}, {22, 15}, {30, 8}} {
		s := profile(2*c.a, c.b, 0, 2, 2, 0)
		m := s.Moments()
		assert.InEpsilon(t, math.Pi*c.a*c.b/2, m.Area, 1e-11)
		assert.InDelta(t, -4*c.b/(3*math.Pi), m.Centroid().Z, 1e-10)
		assert.InEpsilon(t, (math.Pi/8-8/(9*math.Pi))*c.a*math.Pow(c.b, 3), m.Bending(), 1e-10)
		assert.InEpsilon(t, 0.109757*c.a*math.Pow(c.b, 3), m.Bending(), 5e-6)
		assert.InEpsilon(t, math.Pi/8*math.Pow(c.a, 3)*c.b, m.Sideways(), 1e-10)
		assert.InDelta(t, 0, m.Centroid().Y, 1e-10)
		assert.InDelta(t, 0, m.Product(), 1e-7)
	}
}

// TestSuperellipseMoments checks sections with different sides, whose curves
// are taken in closed form, against fine polygons.
func TestSuperellipseMoments(t *testing.T) {
	for _, c := range []struct{ bass, treble, apex, wall float64 }{
		{2.5, 2.2, -1, 0}, {1.2, 3, 4, 0}, {1.05, 12, 0, 0}, {40, 1.7, 2, 1.2},
	} {
		const width, depth = 46.0, 16.0
		s := profile(width, depth, c.wall, c.bass, c.treble, c.apex)
		want := polygonMoments(superellipseLoop(&s, 40000))
		m := s.Moments()
		for i, pair := range [][2]float64{
			{want.Area, m.Area}, {want.SY, m.SY}, {want.SZ, m.SZ},
			{want.SYY, m.SYY}, {want.SZZ, m.SZZ}, {want.SYZ, m.SYZ},
		} {
			// Against the size of the section, since sides cancel.
			size := want.Area * []float64{1, width / 2, depth, width * width / 4, depth * depth, width / 2 * depth}[i]
			assert.InDelta(t, pair[0], pair[1], 1e-6*size, "%v moment %d", c, i)
		}
		assert.InEpsilon(t, s.Area(), m.Area, 1e-12)
	}
}

// TestQuarterSweep checks the rule for blended sections against the closed form
// where there is no blend.
func TestQuarterSweep(t *testing.T) {
	for _, n := range []float64{1.2, 1.7, 2, 3, 6} {
		s := profile(46, 16, 0, n, n, 0)
		want := s.Moments()
		s.blend = math.SmallestNonzeroFloat64
		got := s.Moments()
		assert.InEpsilon(t, want.Area, got.Area, 1e-9, "fullness %g", n)
		assert.InEpsilon(t, want.Bending(), got.Bending(), 1e-9, "fullness %g", n)
		assert.InEpsilon(t, want.Sideways(), got.Sideways(), 1e-9, "fullness %g", n)
	}
}

// superellipseLoop returns a profile as a polygon by the usual parametrisation
// y = a cos^(2/n) t, z = b sin^(2/n) t, which the code does not use.
func superellipseLoop(s *Section, steps int) []YZ {
	loop := []YZ{s.Edge(MinusY)}
	quarter := func(side Side, i int) {
		c := &s.curve[side]
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / float64(steps))
		loop = append(loop, YZ{
			s.Apex + side.Sign()*c.a*math.Pow(math.Max(0, cos), 2/c.n),
			-s.wall - c.b*math.Pow(sin, 2/c.n),
		})
	}
	for i := range steps + 1 {
		quarter(MinusY, i)
	}
	for i := range steps + 1 {
		quarter(PlusY, steps-i)
	}
	return append(loop, s.Edge(PlusY))
}

// polygonMoments returns the moments of a closed polygon by the formulas of
// the trapezoids under its edges (Steger, "On the calculation of arbitrary
// moments of polygons", 1996).
func polygonMoments(loop []YZ) Moments {
	var m Moments
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		k := p.Y*q.Z - q.Y*p.Z
		m.Area += k / 2
		m.SY += k * (p.Y + q.Y) / 6
		m.SZ += k * (p.Z + q.Z) / 6
		m.SYY += k * (p.Y*p.Y + p.Y*q.Y + q.Y*q.Y) / 12
		m.SZZ += k * (p.Z*p.Z + p.Z*q.Z + q.Z*q.Z) / 12
		m.SYZ += k * (2*p.Y*p.Z + p.Y*q.Z + q.Y*p.Z + 2*q.Y*q.Z) / 24
	}
	return m
}

// TestBlendedMoments checks sections of the demo neck from headstock to heel
// against a fine polygon.
func TestBlendedMoments(t *testing.T) {
	n := demo(t)
	for _, x := range []float64{n.Start(), -60, -30, -8, 0, 35, 200, n.heelStart, numeric.Lerp(n.heelStart, n.heelFull, 0.4), n.End()} {
		s := n.Section(x)
		want := polygonMoments(tracedLoop(&s, 10000))
		m := s.Moments()
		assert.InEpsilon(t, want.Area, m.Area, 1e-6, "x = %g", x)
		assert.InDelta(t, want.Centroid().Z, m.Centroid().Z, 1e-5, "x = %g", x)
		assert.InDelta(t, want.Centroid().Y, m.Centroid().Y, 1e-5, "x = %g", x)
		assert.InEpsilon(t, want.Bending(), m.Bending(), 2e-6, "x = %g", x)
		assert.InEpsilon(t, want.Sideways(), m.Sideways(), 2e-6, "x = %g", x)
		assert.InDelta(t, want.Product(), m.Product(), 1e-5*m.Bending(), "x = %g", x)
	}
}

// TestChannelMoments checks both floors against fine polygons, and that the
// channel is cut out between its ends only.
func TestChannelMoments(t *testing.T) {
	for _, floor := range []spec.Floor{spec.FloorFlat, spec.FloorRound} {
		r := &spec.Rod{Width: 6.2, Depth: 9.3, Floor: floor}
		loop := slotOutline(r.Width/2, r.Depth, floor == spec.FloorRound, roundSteps(r.Width/2, 1e-9))
		for i, j := 0, len(loop)-1; i < j; i, j = i+1, j-1 {
			loop[i], loop[j] = loop[j], loop[i] // counter-clockwise
		}
		want, m := polygonMoments(loop), slotMoments(r.Width/2, r.Depth, floor == spec.FloorRound)
		assert.InEpsilon(t, want.Area, m.Area, 1e-7)
		assert.InEpsilon(t, want.Bending(), m.Bending(), 1e-6)
		assert.InEpsilon(t, want.Sideways(), m.Sideways(), 1e-6)
		assert.InDelta(t, want.Centroid().Z, m.Centroid().Z, 1e-6)
	}
	n := demo(t)
	before, inside := n.WoodMoments(5), n.WoodMoments(7)
	sec := n.Section(7)
	assert.InDelta(t, sec.Area()-6.2*9.3, inside.Area, 1e-9)
	assert.Less(t, inside.Bending(), before.Bending())
	assert.Less(t, inside.Centroid().Z, before.Centroid().Z, "the channel takes wood from the top")
}

// TestBoardMoments checks a flat board as a rectangle and a round one against a
// fine polygon.
func TestBoardMoments(t *testing.T) {
	n, err := New(spectest.Straight())
	require.NoError(t, err)
	m, ok := n.BoardMoments(100)
	require.True(t, ok)
	assert.InEpsilon(t, 44*math.Pow(6, 3)/12, m.Bending(), 1e-12)
	assert.InDelta(t, 3, m.Centroid().Z, 1e-12)
	assert.InEpsilon(t, 6*math.Pow(44, 3)/12, m.Sideways(), 1e-12)

	d := demo(t)
	loop := []YZ{{d.BoardHalfWidth(200), 0}}
	const k = 20000
	for i := range k + 1 {
		y := d.BoardHalfWidth(200) * (1 - 2*float64(i)/k)
		loop = append(loop, YZ{y, d.BoardTop(200, y)})
	}
	loop = append(loop, YZ{-d.BoardHalfWidth(200), 0})
	want := polygonMoments(loop)
	m, _ = d.BoardMoments(200)
	assert.InEpsilon(t, want.Area, m.Area, 1e-7)
	assert.InEpsilon(t, d.BoardArea(200), m.Area, 1e-10)
	assert.InEpsilon(t, want.Bending(), m.Bending(), 1e-6)
	_, ok = d.BoardMoments(-1)
	assert.False(t, ok)
}
