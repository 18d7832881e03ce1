package brep_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/mesh/drawn"
	"neckloft/neck/numeric"
	"neckloft/neck/outline"
)

// frameOf draws a frame, of either hand.
func frameOf(t *rapid.T) brep.Frame {
	unit := func(name string) vec {
		a, b := rapid.Float64Range(0, 2*math.Pi).Draw(t, name+" a"), rapid.Float64Range(-1.4, 1.4).Draw(t, name+" b")
		return vec{X: math.Cos(a) * math.Cos(b), Y: math.Sin(a) * math.Cos(b), Z: math.Sin(b)}
	}
	z := unit("z")
	p := brep.NewPlane(vec{}, z)
	turn := rapid.Float64Range(0, 2*math.Pi).Draw(t, "turn")
	sin, cos := math.Sincos(turn)
	up := z.Cross(p.Ref)
	f := brep.Frame{Origin: vec{X: 3, Y: -2, Z: 5}, X: p.Ref.Scale(cos).Add(up.Scale(sin)), Y: up.Scale(cos).Sub(p.Ref.Scale(sin)), Z: z}
	if rapid.Bool().Draw(t, "left-handed") {
		f.Y = f.Y.Scale(-1)
	}
	return f
}

// TestPrism has the volume of the outline's area, by Green's theorem, times the
// height: lines, arcs to the left and to the right, a Bézier curve and an arc of an
// ellipse, in any frame, whichever way the outline runs, and mirrored.
// Without DRAWN=all it takes some of the cases.
func TestPrism(t *testing.T) {
	p := func(x, y float64) mesh.Vec2 { return mesh.Vec2{X: x, Y: y} }
	ellipse := outline.Segment{Kind: outline.Arc, C: p(0, 5), U: p(0, 5), V: p(-2, 0), From: 0, To: math.Pi}
	path := []outline.Segment{
		outline.NewLine(p(0, 0), p(10, 0)),
		outline.NewArc(p(14, 0), 4, math.Pi, 0), // to the left as seen: a bite
		outline.NewLine(p(18, 0), p(30, 0)),
		outline.NewArc(p(30, 5), 5, -math.Pi/2, math.Pi/2),
		outline.NewCubic(p(30, 10), p(25, 20), p(15, 4), p(10, 10)),
		outline.NewLine(p(10, 10), p(0, 10)),
		ellipse,
	}
	area := 0.0
	for _, s := range path {
		area += s.Sweep() / 2
	}
	assert.Greater(t, area, 100.0)
	drawn.Checks(t, 100, func(t *rapid.T) {
		f := frameOf(t)
		run := path
		if rapid.Bool().Draw(t, "backwards") {
			run = nil
			for i := range path {
				run = append(run, path[len(path)-1-i].Reversed())
			}
		}
		s, err := brep.Prism("plate", f, run, -1, 3)
		require.NoError(t, err)
		require.InDelta(t, 4*area, s.Volume(), 3e-3)
		m := s.MirroredY()
		require.NoError(t, m.Check())
		require.InDelta(t, 4*area, m.Volume(), 3e-3)
	})
	_, err := brep.Prism("plate", brep.World, path[:1], 0, 1)
	assert.ErrorContains(t, err, "without area")
}

// TestTurned and a wedge have closed forms.
func TestTurned(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		f := frameOf(t)
		s, err := brep.Turned("hole", f.Origin, f.Z, brep.Ring{At: -1, Radius: 4}, brep.Ring{At: 2, Radius: 4},
			brep.Ring{At: 2, Radius: 3}, brep.Ring{At: 10, Radius: 3}, brep.Ring{At: 10, Radius: 5}, brep.Ring{At: 11, Radius: 5})
		require.NoError(t, err)
		require.InDelta(t, math.Pi*(16*3+9*8+25), s.Volume(), 1e-4)
		require.InDelta(t, math.Pi*(16*3+9*8+25), s.MirroredY().Volume(), 1e-4)
		require.Len(t, s.Faces, 10)
	})
}

// TestPolyhedron has the volume of a frustum, whichever way its polygons run.
func TestPolyhedron(t *testing.T) {
	square := func(half, z float64, back bool) []vec {
		out := []vec{{X: -half, Y: -half, Z: z}, {X: half, Y: -half, Z: z}, {X: half, Y: half, Z: z}, {X: -half, Y: half, Z: z}}
		if back {
			out[1], out[3] = out[3], out[1]
		}
		return out
	}
	for _, back := range []bool{false, true} {
		s, err := brep.Prismoid("frustum", square(5, 0, back), square(2, 9, back))
		require.NoError(t, err)
		assert.InDelta(t, 9./3*(100+16+40), s.Volume(), 1e-9)
		assert.Len(t, s.Faces, 6)
	}
}

// TestRuled lies straight between its splines, with one span across.
func TestRuled(t *testing.T) {
	basis, err := brep.NewBasis(0, 1, nil)
	require.NoError(t, err)
	low, high := []vec{{}, {X: 1, Y: 2}, {X: 2, Y: -2}, {X: 3}}, []vec{{Z: 4}, {X: 1, Z: 5}, {X: 2, Z: 5}, {X: 3, Z: 4}}
	p := brep.Ruled(basis, low, high)
	assert.Len(t, p.V.Spans(), 2)
	for _, u := range []float64{0, 0.3, 0.9} {
		a, b := p.Column(false).Point(u), p.Column(true).Point(u)
		at, _, _ := p.At(u, 0.7)
		assert.Less(t, at.Sub(a.Scale(0.3).Add(b.Scale(0.7))).Norm(), 1e-12)
	}
	assert.Less(t, p.Column(true).Point(0.5).Sub((&brep.Spline{Basis: basis, Points: high}).Point(0.5)).Norm(), 1e-12)
}

// TestShrunk cuts a plate with a curved side out of a tall one: its patch ends near
// the plate, and volume and faces stay.
func TestShrunk(t *testing.T) {
	p := func(x, y float64) mesh.Vec2 { return mesh.Vec2{X: x, Y: y} }
	path := []outline.Segment{outline.NewCubic(p(-5, 5), p(3, 9), p(6, 2), p(20, 6)), outline.NewLine(p(20, 6), p(20, 30)),
		outline.NewLine(p(20, 30), p(-5, 30)), outline.NewLine(p(-5, 30), p(-5, 5))}
	cutter, err := brep.Prism("cutter", brep.World, path, -50, 80)
	require.NoError(t, err)
	s, err := brep.Subtract(box(t, vec{}, vec{X: 15, Y: 12, Z: 2}), cutter)
	require.NoError(t, err)
	small := s.Shrunk()
	require.NoError(t, small.Check())
	assert.InDelta(t, s.Volume(), small.Volume(), 1e-6)
	require.Len(t, small.Faces, len(s.Faces))
	found := false
	for i, f := range small.Faces {
		patch, ok := f.Surface.(*brep.Patch)
		if !ok {
			assert.Equal(t, s.Faces[i].Surface, f.Surface)
			continue
		}
		found = true
		for _, row := range patch.Points {
			for _, q := range row {
				assert.Greater(t, q.Z, -8.0)
				assert.Less(t, q.Z, 10.0)
				assert.Greater(t, q.X, -6.0)
			}
		}
		at, _, _ := patch.At(0.5, 50.5/130)
		want, _, _ := s.Faces[i].Surface.At(0.5, 50.5/130)
		assert.Less(t, at.Sub(want).Norm(), 1e-9)
	}
	assert.True(t, found)
}

// TestBetweenBesideAKnot cuts a spline a hair before a knot: what the cut takes of a
// span is too short to tell the curve from.
func TestBetweenBesideAKnot(t *testing.T) {
	basis, err := brep.NewBasis(0, 4, []brep.Break{{At: 1, Times: 1}, {At: 2, Times: 2}, {At: 3, Times: 1}})
	require.NoError(t, err)
	c := &brep.Spline{Basis: basis}
	for i := range basis.Size() {
		c.Points = append(c.Points, vec{X: float64(i), Y: float64(i * i % 5), Z: float64(i % 3)})
	}
	for _, ends := range [][2]float64{{1 - 1e-13, 4}, {0.5, 3 + 1e-13}, {2 - 1e-13, 3 + 1e-13}} {
		part := c.Between(ends[0], ends[1]).Between(ends[0], (ends[0]+ends[1])/2)
		for k := range 21 {
			at := ends[0] + (ends[1]-ends[0])/2*float64(k)/20
			assert.Less(t, part.Point(at).Sub(c.Point(at)).Norm(), 1e-9)
		}
	}
}

// TestPlainError is what Gauss's rules with 8 places for each of two spans leave of a
// patch whose height is |u|³ over a square, exact for one span and for what is smooth:
// by the rules themselves in one dimension.
func TestPlainError(t *testing.T) {
	basis, err := brep.NewBasis(-1, 1, []brep.Break{{At: 0, Times: 3}})
	require.NoError(t, err)
	one, err := brep.NewBasis(0, 1, nil)
	require.NoError(t, err)
	p := &brep.Patch{U: basis, V: one}
	for i, x := range basis.Linear() {
		var row []vec
		for _, y := range one.Linear() {
			row = append(row, vec{X: x, Y: y, Z: []float64{1, 0, 0, 0, 0, 0, 1}[i]})
		}
		p.Points = append(p.Points, row)
	}
	// The flux about a point at a height h is the integral of z-h-x·dz/dx = -2|x|³-h.
	rule, want := numeric.NewRule(16), 0.0
	for i, x := range rule.X {
		want += rule.W[i] * 2 * math.Pow(math.Abs(2*x-1), 3) * 2
	}
	along, across := p.PlainError(vec{Z: 5})
	assert.InDelta(t, math.Abs(want-1)/3, along, 1e-12)
	assert.Greater(t, along, 1e-6)
	assert.Zero(t, across)
	v, u := p.Swapped().PlainError(vec{Z: 5})
	assert.Equal(t, [2]float64{along, across}, [2]float64{u, v})
}
