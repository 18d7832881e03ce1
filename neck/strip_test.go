package neck

import (
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// near holds moments against others, each against the size of the whole section.
func near(t assert.TestingT, want, got Moments, area, half, depth, tolerance float64, what string) {
	for i, pair := range [][2]float64{
		{want.Area, got.Area}, {want.SY, got.SY}, {want.SZ, got.SZ},
		{want.SYY, got.SYY}, {want.SZZ, got.SZZ}, {want.SYZ, got.SYZ},
	} {
		size := area * []float64{1, half, depth, half * half, depth * depth, half * depth}[i]
		assert.InDelta(t, pair[0], pair[1], tolerance*size, "%s, moment %d", what, i)
	}
}

// TestStripOfHalfEllipse holds a strip of a half ellipse against its closed form:
// with y = a sin φ the area is 2ab ∫ cos² and the second moment about the flat
// (2ab³/3) ∫ cos⁴, from 0 to φ.
func TestStripOfHalfEllipse(t *testing.T) {
	const a, b = 21.5, 15.0
	s := profile(2*a, b, 0, 2, 2, 0)
	for _, c := range []float64{0.01, 3, 11, 20, 21.49, a} {
		phi := math.Asin(c / a)
		m := s.MomentsBetween(-c, c)
		assert.InEpsilon(t, a*b*(phi+math.Sin(2*phi)/2), m.Area, 1e-10)
		assert.InEpsilon(t, 2*a*b*b*b/3*(3*phi/8+math.Sin(2*phi)/4+math.Sin(4*phi)/32), m.SZZ, 1e-10)
		assert.InDelta(t, 0, m.SY, 1e-8)
		half := s.MomentsBetween(0, c)
		// ∫ y b sqrt(1-y²/a²) dy from 0 to c.
		assert.InEpsilon(t, a*a*b/3*(1-math.Pow(math.Cos(phi), 3)), half.SY, 1e-9)
	}
	assert.Equal(t, Moments{}, s.MomentsBetween(5, 5))
	assert.Equal(t, Moments{}, s.MomentsBetween(22, 30))
}

// thinColumns sums a strip of a section in thin upright columns of its depth.
func thinColumns(s *Section, from, to float64, k int) Moments {
	var m Moments
	dy := (to - from) / float64(k)
	for i := range k {
		y := from + dy*(float64(i)+0.5)
		d, ok := s.DepthAt(y)
		if !ok {
			continue
		}
		m = m.Plus(1, rectangle(y-dy/2, -d, y+dy/2, s.Top))
	}
	return m
}

// TestStripsByColumns holds strips of profile, heel and headstock, of even and
// lopsided necks, against thousands of thin columns of the depth.
// Without DRAWN=all it takes some of the cases.
func TestStripsByColumns(t *testing.T) {
	cases := spectest.EdgeCases()
	for _, name := range drawn.Keys(cases, 5) {
		s := cases[name]
		n, err := New(s)
		require.NoError(t, err, name)
		for _, u := range []float64{0.02, 0.17, 0.3, 0.6, 0.87, 0.95} {
			sec := n.Section(numeric.Lerp(n.start, n.end, u))
			w := sec.HalfWidth
			cuts := []float64{-w, -0.93 * w, -0.4 * w, sec.Apex, 0.1 * w, 0.77 * w, w}
			for i := 1; i < len(cuts); i++ {
				if cuts[i] <= cuts[i-1] {
					continue
				}
				got := sec.MomentsBetween(cuts[i-1], cuts[i])
				near(t, thinColumns(&sec, cuts[i-1], cuts[i], 600), got, 2*w*sec.Depth, w, sec.Depth, 1e-4,
					fmt.Sprintf("%s, x = %g, strip %d", name, sec.X, i))
			}
		}
	}
}

// testSpecs are those of testdata.
func testSpecs(t testing.TB) []*spec.Spec {
	paths, err := filepath.Glob("../testdata/specs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	var out []*spec.Spec
	for _, path := range paths {
		s, err := spec.ReadFile(path)
		require.NoError(t, err)
		out = append(out, s)
	}
	return out
}

// TestStripsOfHeels holds strips of every test spec's heel, of blocks whose sides
// lean among them, against the same columns.
// Without DRAWN=all it takes some of the cases.
func TestStripsOfHeels(t *testing.T) {
	leaning := 0
	for i, s := range testSpecs(t) {
		n, err := New(s)
		require.NoError(t, err, s.Name)
		if s.Heel == nil {
			continue
		}
		if half := n.Section((n.heelStart + n.heelFull) / 2); i%4 != 0 && !half.lean.ok && !drawn.All() {
			continue
		}
		for _, u := range []float64{0.4, 0.8, 1} {
			sec := n.Section(numeric.Lerp(n.heelStart, n.heelFull, u))
			if sec.lean.ok {
				leaning++
			}
			w := sec.HalfWidth
			cuts := []float64{-w, -0.85 * w, -0.5 * w, 0.2 * w, 0.97 * w, w}
			for i := 1; i < len(cuts); i++ {
				near(t, thinColumns(&sec, cuts[i-1], cuts[i], 600), sec.MomentsBetween(cuts[i-1], cuts[i]), 2*w*sec.Depth, w, sec.Depth, 1e-4,
					fmt.Sprintf("%s, x = %g, strip %d", s.Name, sec.X, i))
			}
		}
	}
	assert.Positive(t, leaning)
}

// TestStickHoldsATenon: a stick is as long as the wood with its tenon.
func TestStickHoldsATenon(t *testing.T) {
	tenons := 0
	for _, s := range testSpecs(t) {
		n, err := New(s)
		require.NoError(t, err, s.Name)
		if n.tenoned() && s.Scarf == nil {
			tenons++
			assert.InDelta(t, n.Tip()-n.Start()+2*s.Saw().Trim, n.StickLength(s.Saw()), 1e-9, s.Name)
		}
	}
	assert.Positive(t, tenons)
}

// TestStripsAddUp: cut anywhere, the strips of any neck add up to the whole.
func TestStripsAddUp(t *testing.T) {
	drawn.Checks(t, 200, func(t *rapid.T) {
		n := buildable(t)
		sec := n.Section(rapid.Float64Range(n.start, n.end).Draw(t, "x"))
		w := sec.HalfWidth
		cut := rapid.Float64Range(-w, w).Draw(t, "cut")
		next := rapid.Float64Range(cut, w).Draw(t, "next")
		sum := sec.MomentsBetween(-1e9, cut).Plus(1, sec.MomentsBetween(cut, next)).Plus(1, sec.MomentsBetween(next, 1e9))
		assert.InEpsilon(t, sec.Area(), sum.Area, 1e-9)
		whole := sec.Moments()
		if math.Abs(whole.Area/sec.Area()-1) > 1e-8 {
			t.Skip("the rule over a blended quarter is not so close for a lean side")
		}
		near(t, whole, sum, 2*w*(sec.Depth+sec.Top), w, sec.Depth, 1e-6, "sum")
	})
}

// TestStripsOfAChannel: each strip loses its own share of the channel. A round
// floor's share is a segment of a circle.
func TestStripsOfAChannel(t *testing.T) {
	const r, edge = 4.0, 1.5
	n := halfCylinder(t, 20, func(s *spec.Spec) {
		s.Rod = &spec.Rod{Width: 2 * r, Depth: 9, From: spec.AtX(5), To: spec.AtX(200), Floor: spec.FloorRound}
		s.Laminations = []spec.Lamination{{Width: 20 + edge, WidthEnd: 20 + edge}, {Width: 20 - edge, WidthEnd: 20 - edge}}
	})
	strips := n.StripMoments(100)
	require.Len(t, strips, 2)
	sec := n.Section(100)
	bare := sec.MomentsBetween(edge, 20)
	segment := r*r*math.Acos(edge/r)/2 - edge*math.Sqrt(r*r-edge*edge)/2 // half of it, below the middle of the circle
	assert.InDelta(t, (r-edge)*(9-r)+segment, bare.Area-strips[1].Area, 1e-9)
	near(t, n.WoodMoments(100), strips[0].Plus(1, strips[1]), 628, 20, 20, 1e-9, "sum")
	before := n.StripMoments(4)
	near(t, n.WoodMoments(4), before[0].Plus(1, before[1]), 628, 20, 20, 1e-9, "no channel")

	// Slanted, with a pocket, and a bar beside.
	n = halfCylinder(t, 20, func(s *spec.Spec) {
		s.Channels = []spec.Channel{
			{Name: "rod", Width: 6, Depth: 8, DepthEnd: 8, Angle: 0.02, From: spec.AtX(30), To: spec.AtX(200), Floor: spec.FloorRound,
				Pocket: spec.Pocket{At: spec.PocketNut, Width: 12, Length: 25, Depth: 9}},
			{Name: "bar", Width: 3, Depth: 7, DepthEnd: 4, Offset: 8, From: spec.AtX(20), To: spec.AtX(180)},
		}
		s.Laminations = []spec.Lamination{{Width: 21, WidthEnd: 19}, {Width: 5, WidthEnd: 6}, {Width: 14, WidthEnd: 15}}
	})
	for _, x := range []float64{10, 25, 32, 90, 190} {
		var sum Moments
		for _, m := range n.StripMoments(x) {
			sum = sum.Plus(1, m)
		}
		near(t, n.WoodMoments(x), sum, 628, 20, 20, 1e-7, fmt.Sprintf("x = %g", x))
	}

	n.spec.Laminations = nil
	assert.Nil(t, n.StripMoments(100))
	assert.Nil(t, n.LaminationEdges(100))
}

// TestLaminationEdges: a wedge between straight strips, all centred.
func TestLaminationEdges(t *testing.T) {
	n := halfCylinder(t, 20, func(s *spec.Spec) {
		s.Laminations = []spec.Lamination{{Width: 10, WidthEnd: 10}, {Width: 6, WidthEnd: 12}, {Width: 14, WidthEnd: 14}}
	})
	assert.InDeltaSlice(t, []float64{-15, -5, 1, 15}, n.LaminationEdges(0), 1e-12)
	assert.InDeltaSlice(t, []float64{-18, -8, 4, 18}, n.LaminationEdges(n.BoardEnd()), 1e-12)
	assert.InDeltaSlice(t, []float64{-16.5, -6.5, 2.5, 16.5}, n.LaminationEdges(n.BoardEnd()/2), 1e-12)

	// In the mirror each strip is the same, on the other side.
	other, err := n.Mirrored()
	require.NoError(t, err)
	assert.Equal(t, n.LaminationEdges(90), other.LaminationEdges(90))
	mirror := other.StripMoments(90)
	for i, m := range n.StripMoments(90) {
		assert.InDelta(t, m.Area, mirror[i].Area, 1e-9)
		assert.InDelta(t, m.SY, -mirror[i].SY, 1e-8)
		assert.InDelta(t, m.SZZ, mirror[i].SZZ, 1e-7)
	}
}

// TestBetween: the part of an outline that lies between two lines.
func TestBetween(t *testing.T) {
	square := []YZ{{-2, 0}, {-2, -3}, {4, -3}, {4, 0}}
	near(t, rectangle(-1, -3, 2, 0), polygonMoments(clippedTo(square, -1, 2)), 9, 3, 3, 1e-12, "square")
	assert.Empty(t, clippedTo(square, 5, 6))
}

// TestLevel: the sides at a height are where the depth is that height.
func TestLevel(t *testing.T) {
	n := demo(t)
	for _, x := range []float64{-120, -40, -9, 0, 200, 380, 420, 470} {
		sec := n.Section(x)
		for _, u := range []float64{0.05, 0.3, 0.62, 0.9, 0.999} {
			z := numeric.Lerp(sec.Top, -sec.Depth, u)
			bass, treble, ok := sec.Level(z)
			require.True(t, ok)
			if z > sec.CurveStart() {
				assert.Equal(t, []float64{-sec.HalfWidth, sec.HalfWidth}, []float64{bass, treble})
				continue
			}
			for _, y := range []float64{bass, treble} {
				d, ok := sec.DepthAt(y * (1 - 1e-12))
				require.True(t, ok)
				assert.InDelta(t, -z, d, 1e-6, "x = %g, y = %g", x, y)
			}
			assert.Less(t, bass, treble)
		}
		_, _, ok := sec.Level(sec.Top + 0.01)
		assert.False(t, ok)
		_, _, ok = sec.Level(-sec.Depth - 0.01)
		assert.False(t, ok)
	}
}
