package exact_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/necktest"
)

// rod returns a cylinder from p, with an axis as long as itself, as a solid and
// as a mesh of as great a cross-section.
func rod(t require.TestingT, p, axis mesh.Vec, radius float64) (*brep.Solid, *mesh.Mesh) {
	s, err := brep.Turned("rod", p, axis.Unit(), brep.Ring{Radius: radius}, brep.Ring{At: axis.Norm(), Radius: radius})
	require.NoError(t, err)

	const corners = 360
	w := 2 * math.Pi / corners
	plane := brep.NewPlane(p, axis)
	c := brep.Circle{Centre: p, Axis: plane.Normal, Ref: plane.Ref, Radius: radius * math.Sqrt(w/math.Sin(w))}
	m := &mesh.Mesh{Vertices: []mesh.Vec{p, p.Add(axis)}}
	for i := range uint32(corners) {
		at := c.Point(w * float64(i))
		m.Vertices = append(m.Vertices, at, at.Add(axis))
		a, b := 2+2*i, 2+2*((i+1)%corners)
		m.Faces = append(m.Faces, mesh.Face{0, b, a}, mesh.Face{1, a + 1, b + 1}, mesh.Face{a, b, b + 1}, mesh.Face{a, b + 1, a + 1})
	}
	return s, m
}

// TestSubtract takes rods that lie anyhow from a neck's wood, and holds what they
// take against what they take of a fine mesh.
func TestSubtract(t *testing.T) {
	n := necktest.Demo(t)
	wood := demo(t).Solid
	whole := wood.Volume()
	fine, err := n.Solid(neck.PartWood, 0.04)
	require.NoError(t, err)
	drawn.Checks(t, 30, func(rt *rapid.T) {
		count := 0
		number := func(lo, hi float64) float64 {
			count++
			// None is a round one, nor one of those before.
			_, k := math.Modf(float64(rapid.IntRange(1, 1e6).Draw(rt, "number"))*math.Phi + float64(count)*math.Sqrt2)
			return lo + (hi-lo)*k
		}
		var solids []*brep.Solid
		var meshes []*mesh.Mesh
		area := 0.0
		for range rapid.IntRange(1, 5).Draw(rt, "rods") {
			along := mesh.Vec{X: number(-0.7, 0.7), Y: number(-0.7, 0.7), Z: 1}.Unit()
			at := mesh.Vec{X: number(n.Start()+10, n.End()-10), Y: number(-22, 22), Z: number(-12, 0)}
			r := number(1, 5)
			s, m := rod(rt, at.Sub(along.Scale(60)), along.Scale(100), r)
			solids, meshes = append(solids, s), append(meshes, m)
			// What the rod meets of the back, if that is not too steep there.
			area += math.Pi * r * r
		}
		cut, err := brep.Subtract(wood, solids...)
		require.NoError(rt, err)
		require.NoError(rt, cut.Check())
		other, err := mesh.Subtract(fine, meshes...)
		require.NoError(rt, err)
		require.InDelta(rt, fine.Volume()-other.Volume(), whole-cut.Volume(), 0.05*area+0.1)
	})
}

// BenchmarkSubtract drills twelve slanting holes through the demo's wood.
func BenchmarkSubtract(b *testing.B) {
	built, err := exact.Build(necktest.Demo(b), neck.PartWood)
	require.NoError(b, err)
	var holes []*brep.Solid
	for i := range 12 {
		s, _ := rod(b, mesh.Vec{X: -140 + 45.3*float64(i), Y: 12.3, Z: -60}, mesh.Vec{X: 3, Z: 70}, 3)
		holes = append(holes, s)
	}
	for b.Loop() {
		_, err := brep.Subtract(built[0].Solid, holes...)
		require.NoError(b, err)
	}
}
