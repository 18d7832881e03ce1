package mesh_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/mesh/meshtest"
)

// without cuts as Subtract does, but mends no slivers.
var without = mesh.Cutting{}

// within returns the cutting that mends them in a distance, whoever made the surface.
func within(d float64) mesh.Cutting { return mesh.Cutting{Within: d} }

// lowest returns the smallest altitude of a mesh's triangles as a file holds them, by
// Heron's formula in the stable form of W. Kahan ("Miscalculating Area and Angles of a
// Needle-like Triangle", 2014).
func lowest(m *mesh.Mesh) float64 {
	low := math.Inf(1)
	for i := range m.Faces {
		p, q, r := m.Triangle(i)
		p, q, r = p.Round(), q.Round(), r.Round()
		a, b, c := p.Sub(q).Norm(), q.Sub(r).Norm(), r.Sub(p).Norm()
		a, b, c = max(a, b, c), max(min(a, b), min(max(a, b), c)), min(a, b, c)
		area := math.Sqrt(max(0, (a+(b+c))*(c-(a-b))*(c+(a-b))*(a+(b-c)))) / 4
		low = min(low, 2*area/a)
	}
	return low
}

// apart returns the largest distance of corners and middles of faces of one mesh from
// another.
func apart(a, b *mesh.Mesh) float64 {
	loc := mesh.NewLocator(b)
	most := 0.0
	for i := range a.Faces {
		p, q, r := a.Triangle(i)
		for _, v := range []mesh.Vec{p, p.Add(q).Scale(0.5), q.Add(r).Scale(0.5), p.Add(q).Add(r).Scale(1 / 3.0)} {
			d, _, _ := loc.Nearest(v)
			most = max(most, d)
		}
	}
	return most
}

// areaIn returns the area of a mesh's faces that lie in the plane z to the last bit.
func areaIn(m *mesh.Mesh, z float64) float64 {
	sum := 0.0
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		if a.Z == z && b.Z == z && c.Z == z {
			sum += b.Sub(a).Cross(c.Sub(a)).Norm() / 2
		}
	}
	return sum
}

// slivered are solids and what is cut from them so that slivers are left, and by how
// much they have to move the surface to go.
var slivered = map[string]struct {
	base, cutter *mesh.Mesh
	within       float64
}{
	// The edge of a block is broken by a hair, square to no axis.
	"a broken edge": {
		turned(box(0, 0, 0, 40, 20, 10), 0.3),
		turned(meshtest.Moved(turned(box(0, -50, -20, 100, 50, 30), -math.Pi/4), 40-0.0004, 0.0004, 0), 0.3), 1e-3,
	},
	// Two planes that are one, but for a hair.
	"a step": {box(0, 0, 0, 40, 20, 10), box(20, -5, 9.9997, 50, 25, 15), 5e-4},
	// Slots in a long side, far from all other corners: nothing has to move.
	"slots in a side": {
		box(0, 0, 0, 500, 20, 2),
		together(box(100, -1, 1, 100.1, 21, 12), box(220, -1, 1.1, 220.1, 21, 12), box(330, -1, 1, 330.1, 21, 12)), 5e-4,
	},
}

// turned returns a mesh turned about the z axis.
func turned(m *mesh.Mesh, angle float64) *mesh.Mesh {
	s, c := math.Sincos(angle)
	out := &mesh.Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, mesh.Vec{X: c*v.X - s*v.Y, Y: s*v.X + c*v.Y, Z: v.Z})
	}
	return out
}

// together returns solids that are clear of each other as one mesh.
func together(solids ...*mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, m := range solids {
		out.Append(m)
	}
	return out
}

// TestSliversGo: each of them is there where slivers stay, and gone where they may
// move the surface by as much as they have to.
func TestSliversGo(t *testing.T) {
	for name, c := range slivered {
		rough, err := without.Subtract(c.base, c.cutter)
		require.NoError(t, err, name)
		require.Less(t, lowest(rough), 2e-3, name)
		got, err := within(c.within).Subtract(c.base, c.cutter)
		require.NoError(t, err, name)
		require.NoError(t, got.Validate(), name)
		assert.Greater(t, lowest(got), 5e-3, name)
		assert.LessOrEqual(t, apart(got, rough), c.within, name)
		assert.LessOrEqual(t, apart(rough, got), c.within, name)
		assert.InDelta(t, rough.Volume(), got.Volume(), c.within*rough.Area(), name)
	}
}

// TestSliversOfRandomCuts cuts bars from solids at random: most of the slivers go, none is
// lower than before, and the surface is nowhere farther off than told. The plane of the base's underside stays plane to the last bit.
func TestSliversOfRandomCuts(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 9))
	cases := 12
	if drawn.All() {
		cases = 300
	}
	var low [2]int
	for range cases {
		base := meshtest.Bar(60+r.IntN(80), 18+4*r.Float64(), 0, 9)
		var cutters []*mesh.Mesh
		for i := range 3 + r.IntN(4) {
			bar := meshtest.Bar(5+r.IntN(60), 2+4*r.Float64(), -30, 30)
			if i%2 == 1 {
				for k, v := range bar.Vertices { // lying, across the rim
					bar.Vertices[k] = mesh.Vec{X: v.Z, Y: v.Y, Z: 8 - v.X}
				}
			}
			bar = turned(bar, 7*r.Float64())
			cutters = append(cutters, meshtest.Moved(bar, 30*r.Float64()-15, 30*r.Float64()-15, 0.2*r.Float64()))
		}
		const d = 1e-3
		rough, err := without.Subtract(base, cutters...)
		require.NoError(t, err)
		got, err := within(d).Subtract(base, cutters...)
		require.NoError(t, err)
		require.NoError(t, got.Validate())
		require.GreaterOrEqual(t, lowest(got), min(lowest(rough), 5e-3))
		for k, m := range []*mesh.Mesh{rough, got} {
			if lowest(m) < 2e-3 {
				low[k]++
			}
		}
		// At a sharp edge the moves of two faces may add up.
		require.LessOrEqual(t, apart(got, rough), 1.25*d)
		require.LessOrEqual(t, apart(rough, got), 1.25*d)
		require.InDelta(t, rough.Volume(), got.Volume(), d*rough.Area()/10)
		require.InDelta(t, areaIn(rough, 0), areaIn(got, 0), 0.05)
	}
	t.Logf("%d of %d have slivers, %d still", low[0], cases, low[1])
	assert.Greater(t, low[0], cases/6)
	assert.LessOrEqual(t, 5*low[1], low[0])
}
