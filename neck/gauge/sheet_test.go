package gauge

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// crossings returns where the upright line at x crosses an outline.
func crossings(outline []mesh.Vec2, x float64) []float64 {
	var out []float64
	for i, p := range outline {
		q := outline[(i+1)%len(outline)]
		if (p.X > x) != (q.X > x) {
			out = append(out, p.Y+(x-p.X)/(q.X-p.X)*(q.Y-p.Y))
		}
	}
	return out
}

// requireSheet compares both sheets with the neck at many stations.
func requireSheet(t require.TestingT, n *neck.Neck) {
	side, plan := SideView(n), TopView(n)
	for _, tpl := range []Sheet{side, plan} {
		require.Positive(t, mesh.Area2(tpl.Outline), "counter-clockwise")
		_, err := mesh.Triangulate(tpl.Outline)
		require.NoError(t, err, "simple")
		lo, hi := mesh.LoopBounds(tpl.Outline)
		require.Equal(t, n.Start(), lo.X)
		require.InDelta(t, n.Tip(), hi.X, 1e-9)
	}
	whole := math.Min(n.End(), n.FaceX(n.HeelDepth())) // before the end is shaped
	if h := n.Spec().Heel; h != nil {
		whole = math.Min(whole, n.End()-h.EndCorner)
	}
	for i := range 997 {
		x := numeric.Lerp(n.Start(), whole, (float64(i)+0.5)/997)
		z := crossings(side.Outline, x)
		require.Len(t, z, 2, "x = %g", x)
		low := -n.Depth(x)
		if o := n.HeadEdge(); o != nil && x < backStart(n) {
			// On the tip, which is square to the face.
			sin, cos := math.Sincos(n.Spec().Headstock.Angle)
			low = n.Top(n.Start()) - (x-n.Start())/sin*cos
		}
		require.InDelta(t, low, math.Min(z[0], z[1]), 0.02, "x = %g", x)
		require.InDelta(t, n.SideTop(x), math.Max(z[0], z[1]), 0.02, "x = %g", x)
		y := crossings(plan.Outline, x)
		if n.HeadEdge() == nil || x > 0 {
			require.Len(t, y, 2, "x = %g", x)
		}
		require.True(t, len(y) > 0 && len(y)%2 == 0, "x = %g", x) // more beside a notch of the outline
		lo, hi := slices.Min(y), slices.Max(y)
		if o := n.HeadEdge(); o != nil && x < -n.Spec().Headstock.Shelf {
			// Where it is steep a hair along is much across: square to it.
			for _, y := range []float64{lo, hi} {
				require.InDelta(t, 0, o.Distance(mesh.Vec2{X: n.HeadU(x), Y: y}), 1.1*sheetTolerance, "x = %g", x)
			}
			continue
		}
		minus, plus := n.Edges(x)
		require.InDelta(t, plus, hi, 0.02, "x = %g", x)
		require.InDelta(t, minus, lo, 0.02, "x = %g", x)
	}
	if o := n.HeadEdge(); o != nil {
		// And the sheet has every corner and turn of it.
		edges := mesh.NewLocator(ribbon(plan.Outline))
		for _, p := range o.Loop(0.05) {
			d, _, _ := edges.Nearest(mesh.Vec{X: n.HeadX(p.X), Y: p.Y})
			require.LessOrEqual(t, d, 1.1*sheetTolerance, "u = %g, y = %g", p.X, p.Y)
		}
	}
}

// ribbon stands a closed line up as a strip of triangles.
func ribbon(line []mesh.Vec2) *mesh.Mesh {
	m := &mesh.Mesh{}
	for _, p := range line {
		m.Vertices = append(m.Vertices, mesh.Vec{X: p.X, Y: p.Y, Z: -1}, mesh.Vec{X: p.X, Y: p.Y, Z: 1})
	}
	k := uint32(len(m.Vertices))
	for i := uint32(0); i < k; i += 2 {
		m.Faces = append(m.Faces, mesh.Face{i, (i + 2) % k, i + 1}, mesh.Face{i + 1, (i + 2) % k, (i + 3) % k})
	}
	return m
}

func TestTemplates(t *testing.T) {
	for _, n := range necktest.All(t) {
		requireSheet(t, n)
	}
}

func TestTemplatesRandom(t *testing.T) {
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := necktest.Buildable(t)
		requireSheet(t, n)
	})
}

// TestSheetEnds looks at the end of the heel on both sheets: at the face as deep
// as the rake lets it be, at the tenon, and in the rounded corners.
func TestSheetEnds(t *testing.T) {
	s := spec.Demo()
	s.Joint = &spec.Joint{Kind: spec.JointTenon, Width: 36, Length: 30, Depth: 12, Corner: 6}
	s.Heel.Rake = 0.05
	n, err := neck.New(s)
	require.NoError(t, err)
	side, top := SideView(n), TopView(n)
	ends := func(loop []mesh.Vec2, x float64) (lo, hi float64) {
		v := crossings(loop, x)
		require.Len(t, v, 2)
		return math.Min(v[0], v[1]), math.Max(v[0], v[1])
	}
	lo, _ := ends(side.Outline, n.End()-0.8)
	assert.InDelta(t, -0.8/math.Tan(0.05), lo, 1e-6, "the raked face")
	lo, hi := ends(side.Outline, n.End()+5)
	assert.InDelta(t, -12, lo, 1e-9)
	assert.InDelta(t, 0, hi, 1e-9)
	lo, hi = ends(top.Outline, n.End()+5)
	assert.InDelta(t, -18, lo, 1e-9)
	assert.InDelta(t, 18, hi, 1e-9)
	_, hi = ends(top.Outline, n.Tip()-6+3) // 3 past the centre of the arc
	assert.InDelta(t, 12+math.Sqrt(36-9), hi, 0.006)
	lo, _ = ends(top.Outline, n.End()-0.1)
	assert.InDelta(t, -s.Heel.Width/2, lo, 1e-9)
}

// TestSheetPrism checks the full-size sheets of a neck without taper or curves:
// two rectangles, whatever was sampled.
func TestSheetPrism(t *testing.T) {
	spec := spectest.Straight()
	n, err := neck.New(spec)
	require.NoError(t, err)
	end := n.End()
	assert.Equal(t, []mesh.Vec2{{X: 0, Y: -15}, {X: end, Y: -15}, {X: end, Y: 0}, {X: 0, Y: 0}}, SideView(n).Outline)
	assert.Equal(t, []mesh.Vec2{{X: 0, Y: -22}, {X: end, Y: -22}, {X: end, Y: 22}, {X: 0, Y: 22}}, TopView(n).Outline)
}

// TestTemplateMarks checks the marks by what the spec says.
func TestTemplateMarks(t *testing.T) {
	n := necktest.Demo(t)
	s := n.Spec()
	for _, tpl := range []Sheet{SideView(n), TopView(n)} {
		at := map[string]float64{}
		for _, m := range tpl.Marks {
			require.GreaterOrEqual(t, len(m.Points), 2)
			at[m.Name] = m.Points[0].X
		}
		assert.Equal(t, 0.0, at["nut"])
		// 12 frets halve the string (twelve-tone equal temperament).
		assert.InDelta(t, s.Scale.Length/2, at["fret 12"], 1e-9)
		assert.InDelta(t, s.X(s.Volute.Centre), at["volute"], 1e-9)
		assert.InDelta(t, s.X(s.Heel.Full), at["heel full"], 1e-9)
		assert.InDelta(t, -s.Headstock.Shelf, at["face"], 1e-9)
		assert.InDelta(t, s.X(s.Rod.From), at["rod channel"], 1e-9)
		names := map[string]bool{}
		for _, l := range tpl.Labels {
			names[l.Text] = true
		}
		for _, want := range []string{"nut", "3", "5", "7", "9", "12", "volute", "heel full"} {
			assert.True(t, names[want], want)
		}
	}
}

// TestSheetChannel holds the rod channel on both sheets to the spec, corner
// by corner: from where it begins to where it ends, its depth under the glue
// plane, its width about the centreline.
func TestSheetChannel(t *testing.T) {
	for _, n := range necktest.All(t) {
		rod := n.Spec().Rod
		if rod == nil {
			continue
		}
		from, to := n.Spec().X(rod.From), n.Spec().X(rod.To)
		side, plan := rodMark(t, SideView(n)), rodMark(t, TopView(n))
		assert.True(t, side.Dashed, "hidden in the wood")
		assert.False(t, plan.Dashed, "open at the glue plane")
		w := rod.Width / 2
		corners := func(want []mesh.Vec2, got []mesh.Vec2) {
			require.Len(t, got, len(want), n.Spec().Name)
			for i := range want {
				assert.InDelta(t, 0, want[i].Sub(got[i]).Norm(), 1e-9, "%s: %v, want %v", n.Spec().Name, got[i], want[i])
			}
		}
		corners([]mesh.Vec2{{X: from, Y: 0}, {X: from, Y: -rod.Depth}, {X: to, Y: -rod.Depth}, {X: to, Y: 0}}, side.Points)
		corners([]mesh.Vec2{{X: from, Y: -w}, {X: to, Y: -w}, {X: to, Y: w}, {X: from, Y: w}, {X: from, Y: -w}}, plan.Points)
	}
}

func rodMark(t *testing.T, tpl Sheet) Mark {
	t.Helper()
	for _, m := range tpl.Marks {
		if m.Name == "rod channel" {
			return m
		}
	}
	t.Fatal("no rod channel on the " + tpl.Name)
	return Mark{}
}

func BenchmarkTemplates(b *testing.B) {
	n := necktest.Demo(b)
	for b.Loop() {
		SideView(n)
		TopView(n)
	}
}
