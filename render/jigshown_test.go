package render

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// The sharp edges of a box are its twelve, as long together as those, and of a rod of
// many sides the two circles of its ends.
func TestSharpEdges(t *testing.T) {
	box, err := mesh.Extrude(mesh.Region{Outer: []mesh.Vec2{{}, {X: 3}, {X: 3, Y: 2}, {Y: 2}}}, 0, 1)
	require.NoError(t, err)
	long := func(lines [][2]mesh.Vec) float64 {
		sum := 0.0
		for _, l := range lines {
			sum += l[1].Sub(l[0]).Norm()
		}
		return sum
	}
	lines := sharpEdges(box, jigCrease)
	assert.Len(t, lines, 12)
	assert.InDelta(t, 4*(3+2+1), long(lines), 1e-9)

	const sides, radius = 36, 2.0
	rod := mesh.Rod(mesh.Vec{Y: 1}, mesh.Vec{X: 3, Y: 5, Z: 1}, radius, sides, 0)
	require.NoError(t, rod.Validate())
	area := sides * radius * radius * math.Sin(2*math.Pi/sides) / 2
	assert.InDelta(t, area*mesh.Vec{X: 3, Y: 4, Z: 1}.Norm(), rod.Volume(), 1e-9)
	lines = sharpEdges(rod, jigCrease)
	assert.Len(t, lines, 2*sides)
	assert.InDelta(t, 2*sides*2*radius*math.Sin(math.Pi/sides), long(lines), 1e-9)
	assert.Empty(t, sharpEdges(rod, math.Pi/2+0.01))
}

// shownNecks are necks that have all kinds of jigs together.
func shownNecks(t *testing.T) []*neck.Neck {
	t.Helper()
	s := spec.Demo()
	s.Tools = &spec.Tools{Router: spec.RouterHand, BaseWidth: 146, Sled: &spec.ToolSled{Span: 500, Offset: 30}}
	s.Blank = nil
	s.Scarf = &spec.Scarf{Place: spec.ScarfBoard, Angle: 12.5 * math.Pi / 180, Thickness: 21}
	s.Tuners = []spec.Tuner{{U: 50, Y: -21, Hole: 9, Post: 6, Height: 10}, {U: 90, Y: 20, Hole: 10, Post: 6, Height: 10}}
	demo, err := neck.New(s)
	require.NoError(t, err)
	left, err := demo.Mirrored()
	require.NoError(t, err)
	out := []*neck.Neck{demo, left}
	for _, n := range necktest.All(t) {
		if n.Spec().Name == "Wheatear 641" { // its neck has a shim
			out = append(out, n)
		}
	}
	require.Len(t, out, 3)
	return out
}

// Every picture of a jig shows words of it upright, and all words of those whose parts
// are told apart by them alone. Without DRAWN=all it takes some of the jigs.
func TestJigWordsAreSeen(t *testing.T) {
	bed := export.DefaultBed()
	seen := map[string]bool{}
	for i, n := range shownNecks(t) {
		names := jig.Names()
		if i > 0 {
			names = []string{"stops", "rest", "neck-shim", "scribes"}
		}
		names = drawn.Some(names, 4-i)
		set, err := jig.Named(n, jig.DefaultOptions(), names...)
		require.NoError(t, err)
		for _, j := range set.Jigs {
			view, _, err := viewOf(n, j, bed)
			require.NoError(t, err, j.Name)
			all, err := show(n, placedParts(j))
			require.NoError(t, err)
			seen[j.Name] = true
			if len(all.sights) == 0 {
				assert.NotEmpty(t, JigShown(j), j.Name)
				continue
			}
			assert.Positive(t, all.seen(view.camera), "%s of %s", j.Name, n.Spec().Name)
			if j.Name == "stops" || j.Name == "caul" || j.Name == "rest" || j.Name == "cradle" {
				for _, s := range all.sights {
					one := jigShow{sights: []sight{s}}
					assert.Positive(t, one.seen(view.camera), "%s of %s", j.Name, n.Spec().Name)
				}
			}
		}
	}
	for _, name := range jig.Names() {
		if name != "packing" && drawn.All() {
			assert.True(t, seen[name], name)
		}
	}
}

// Pieces that dowels join are drawn apart, as far as the dowels that are seen between
// them reach, and the middle of all stays where it is.
func TestJigPiecesAreApart(t *testing.T) {
	n := necktest.Demo(t)
	jigs, err := jig.New(n, jig.DefaultOptions(), "caul")
	require.NoError(t, err)
	parts := placedParts(jigs[0])
	require.Len(t, parts, 3)
	require.Equal(t, jigApartWords, JigShown(jigs[0]))
	all, err := show(n, parts)
	require.NoError(t, err)
	var ends [][2]float64
	for _, p := range parts {
		lo, hi := moved(p.Mesh, p.at).Bounds()
		ends = append(ends, [2]float64{lo.X, hi.X})
	}
	for i := range 2 {
		assert.InDelta(t, jigGap, ends[i+1][0]-ends[i][1], 1e-9)
	}
	from, to := n.BoardExtent()
	assert.InDelta(t, from-jigGap, ends[0][0], 1e-6)
	assert.InDelta(t, to+jigGap, ends[2][1], 1e-6)
	lo, hi := all.dowels.Bounds()
	assert.InDelta(t, ends[0][1]-1, lo.X, 1e-6)
	assert.InDelta(t, ends[2][0]+1, hi.X, 1e-6)
	// A dowel lies within the hole for it.
	dowels := all.dowels.Topology().Shells
	assert.Len(t, dowels, 4)
	at, d := parts[0].at, parts[0].Dowels[0]
	for _, v := range parts[0].Mesh.Vertices {
		q := at.Out(v).Sub(at.Out(d.At))
		if r := math.Hypot(q.Y, q.Z); q.X > -11 && q.X < 1 && r < 5 {
			assert.InDelta(t, d.Diameter/2+0.12, r, 0.02)
		}
	}
}
