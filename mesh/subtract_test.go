package mesh_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/mesh/meshtest"
)

func box(x0, y0, z0, x1, y1, z1 float64) *mesh.Mesh {
	return meshtest.Box(mesh.Vec{X: x0, Y: y0, Z: z0}, mesh.Vec{X: x1, Y: y1, Z: z1})
}

// subtract takes cutters from base and checks the result against both.
func subtract(t require.TestingT, base *mesh.Mesh, cutters ...*mesh.Mesh) *mesh.Mesh {
	m, err := mesh.Subtract(base, cutters...)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	require.NoError(t, meshtest.Taken(m, 2e-4, 60, base, cutters...))
	return m
}

func TestSubtractClosedForms(t *testing.T) {
	const volume = 8000.0
	for name, c := range map[string]struct {
		cutters []*mesh.Mesh
		removed float64
		genus   int
		shells  int
	}{
		"corner":              {[]*mesh.Mesh{box(35, 15, 5, 45, 25, 15)}, 125, 0, 1},
		"pocket":              {[]*mesh.Mesh{box(10, 5, 5, 20, 15, 15)}, 500, 0, 1},
		"through":             {[]*mesh.Mesh{box(10, 5, -5, 20, 15, 15)}, 1000, 1, 1},
		"slot out of an edge": {[]*mesh.Mesh{box(10, 5, 4, 20, 25, 15)}, 10 * 15 * 6, 0, 1},
		"end":                 {[]*mesh.Mesh{box(30, -5, -5, 45, 25, 15)}, 2000, 0, 1},
		"cut in two":          {[]*mesh.Mesh{box(10, -5, -5, 20, 25, 15)}, 2000, 0, 2},
		"cavity":              {[]*mesh.Mesh{box(10, 5, 2, 20, 15, 7)}, 500, 0, 2},
		"outside":             {[]*mesh.Mesh{box(50, 5, 2, 60, 15, 7)}, 0, 0, 1},
		"hole": {
			[]*mesh.Mesh{meshtest.Moved(meshtest.Bar(24, 3, -5, 15), 20, 10, 0)},
			10 * meshtest.BarArea(24, 3), 1, 1,
		},
		"two that overlap": {
			[]*mesh.Mesh{box(10, 5, 5, 20, 15, 15), box(15, 8, 3, 25, 12, 14)},
			500 + 5*4*7 + 5*4*2, 0, 1,
		},
		"a pocket in a pocket": {
			[]*mesh.Mesh{box(10, 5, 5, 20, 15, 15), box(12, 7, 2, 18, 13, 14)},
			500 + 36*3, 0, 1,
		},
		"a cavity and a hole into it": {
			[]*mesh.Mesh{box(10, 5, 2, 20, 15, 7), box(14, 8, 3, 16, 12, 15)},
			500 + 2*4*3, 0, 1,
		},
		"a cutter inside another": {
			[]*mesh.Mesh{box(10, 5, 2, 20, 15, 12), box(14, 8, 3, 16, 12, 9)},
			800, 0, 1,
		},
	} {
		t.Run(name, func(t *testing.T) {
			m := subtract(t, box(0, 0, 0, 40, 20, 10), c.cutters...)
			assert.InDelta(t, volume-c.removed, m.Volume(), 1e-3)
			assert.Equal(t, c.genus, m.Topology().Genus())
			assert.Len(t, m.Topology().Shells, c.shells)
		})
	}
}

// TestSubtractTurnedBox takes a box that stands out at both ends, turned by any
// angle about the middle of a large plate: the hole's volume is that of the
// oblique prism.
func TestSubtractTurnedBox(t *testing.T) {
	for k := range 24 {
		a := 0.05 * float64(k)
		s, c := math.Sincos(a)
		cutter := meshtest.Box(mesh.Vec{X: -3, Y: -2, Z: -60}, mesh.Vec{X: 3, Y: 2, Z: 60})
		for i, v := range cutter.Vertices {
			x, z := c*v.X+s*v.Z, c*v.Z-s*v.X
			cutter.Vertices[i] = mesh.Vec{X: x, Y: 0.6*v.Y + 0.8*x, Z: z}
			cutter.Vertices[i].X = 0.6*x - 0.8*v.Y
		}
		m := subtract(t, box(-50, -50, -4, 50, 50, 4), cutter)
		assert.InDelta(t, 80000-8*24/c, m.Volume(), 5e-3, "%g", a)
		assert.Equal(t, 1, m.Topology().Genus())
	}
}

// TestSubtractFlatsAreRefilled counts the faces that a hole in a flat leaves: a
// polygon of n points with h holes has n + 2 h - 2 triangles, whatever
// triangles were there before.
func TestSubtractFlatsAreRefilled(t *testing.T) {
	const n = 30
	m := subtract(t, box(0, 0, 0, 40, 20, 10), meshtest.Moved(meshtest.Bar(n, 4, -1, 11), 20, 10, 0))
	top := 4 + n + 2 - 2
	assert.Len(t, m.Faces, 2*top+4*2+2*n)
}

// TestSubtractHolesOfParts saws a plate with holes in two: each hole of a flat
// goes with the part that it lies in.
func TestSubtractHolesOfParts(t *testing.T) {
	const n = 20
	hole := func(x, y float64) *mesh.Mesh { return meshtest.Moved(meshtest.Bar(n, 4, -1, 11), x, y, 0) }
	plate := subtract(t, box(0, 0, 0, 80, 20, 10), hole(20, 10), hole(60, 10), hole(70, 9))
	m := subtract(t, plate, box(35, -1, -1, 40, 21, 11))
	left, right := 4+n+2-2, 4+2*n+2*2-2
	assert.Len(t, m.Faces, 2*(left+right)+2*4*2+3*2*n)
	assert.Len(t, m.Topology().Shells, 2)
}

// TestSubtractTurnedFlats turns block and cutter alike, far from the origin:
// flats that no longer lie square to the axes are flat but for rounding, and are
// refilled all the same.
func TestSubtractTurnedFlats(t *testing.T) {
	const n = 30
	for k := range uint64(20) {
		turned := func(m *mesh.Mesh) *mesh.Mesh {
			m = meshtest.Turned(rand.New(rand.NewPCG(5, k)), meshtest.Moved(m, -20, -10, -5))
			m.Translate(mesh.Vec{X: 460, Y: 20, Z: -30})
			m.RoundFloat32()
			return m
		}
		m := subtract(t, turned(box(0, 0, 0, 40, 20, 10)), turned(meshtest.Moved(meshtest.Bar(n, 4, -1, 11), 20, 10, 0)))
		assert.Len(t, m.Faces, 2*(4+n+2-2)+4*2+2*n)
	}
}

// TestSubtractManyHoles drills a plate in one call: fifteen holes, or 45 with DRAWN=all.
func TestSubtractManyHoles(t *testing.T) {
	plate := box(0, 0, 0, 100, 60, 8)
	var cutters []*mesh.Mesh
	removed := 0.0
	rows := 3
	if drawn.All() {
		rows = 9
	}
	for i := range rows {
		for j := range 5 {
			r := 2 + 0.05*float64(i+j)
			cutters = append(cutters, meshtest.Moved(meshtest.Bar(20, r, -1, 9), 10+10*float64(i), 10+10*float64(j), 0))
			removed += 8 * meshtest.BarArea(20, r)
		}
	}
	m := subtract(t, plate, cutters...)
	assert.InDelta(t, 48000-removed, m.Volume(), 1e-2)
	assert.Equal(t, 5*rows, m.Topology().Genus())
}

// TestSubtractAligned takes cutters that share planes, edges and corners with
// the base, or rows of its corners.
func TestSubtractAligned(t *testing.T) {
	base := box(0, 0, 0, 40, 20, 10)
	for name, c := range map[string]struct {
		cutter  *mesh.Mesh
		removed float64
	}{
		"side in a side":     {box(10, 0, 5, 20, 10, 15), 500},
		"corner on a corner": {box(30, 10, 5, 40, 20, 15), 500},
		"end face":           {box(30, -1, -1, 40, 21, 11), 2000},
		"touches outside":    {box(40, 5, 2, 50, 15, 7), 0},
		"edge on an edge":    {box(40, 20, 2, 50, 30, 7), 0},
	} {
		m, err := mesh.Subtract(base, c.cutter)
		require.NoError(t, err, name)
		require.NoError(t, m.Validate(), name)
		assert.InDelta(t, 8000-c.removed, m.Volume(), 2, name)
	}
	// Its sides run through rows of the ball's corners.
	ball := meshtest.Ball(10, 11, 24)
	v := ball.Vertices
	m := subtract(t, ball, box(v[40].X, v[60].Y, -20, v[60].X+9, v[60].Y+5, v[2].Z), box(v[2].X, -20, v[2].Z, 20, 20, 20))
	assert.Less(t, m.Volume(), ball.Volume())
}

// TestSubtractGrid takes blocks whose corners lie on a grid: they share planes,
// edges and corners with each other.
// Without DRAWN=all it takes some of the cases.
func TestSubtractGrid(t *testing.T) {
	n := 200
	if !drawn.All() {
		n = 30
	}
	r := rand.New(rand.NewPCG(71, 7))
	for range n {
		var cutters []*mesh.Mesh
		for range 2 + r.IntN(4) {
			x, y, z := float64(r.IntN(20)), float64(r.IntN(12)), -float64(1+r.IntN(9))
			cutters = append(cutters, box(x, y, z, x+float64(1+r.IntN(8)), y+float64(1+r.IntN(8)), 5))
		}
		base := box(-50, -30, -20, 50, 30, 0)
		m, err := mesh.Subtract(base, cutters...)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		require.NoError(t, meshtest.Taken(m, 8e-3, 20, base, cutters...))
	}
}

func TestSubtractErrors(t *testing.T) {
	base := meshtest.Ball(3, 9, 16)
	all := box(-5, -5, -5, 5, 5, 5)
	_, err := mesh.Subtract(base, box(2, 2, 2, 6, 6, 6), all)
	require.ErrorContains(t, err, "cutter 1")
	require.ErrorContains(t, err, "nothing would be left")
	var cut *mesh.CutError
	require.ErrorAs(t, err, &cut)
	assert.Equal(t, 1, cut.Cutter)

	open := box(0, 0, 0, 1, 1, 9)
	open.Faces = open.Faces[1:]
	_, err = mesh.Subtract(base, open)
	require.ErrorContains(t, err, "cutter 0")
	require.ErrorContains(t, err, "open edge")
	_, err = mesh.Subtract(open, all)
	require.Error(t, err)

	inside := box(0, 0, 0, 1, 1, 9)
	for i, f := range inside.Faces {
		inside.Faces[i] = mesh.Face{f[0], f[2], f[1]}
	}
	_, err = mesh.Subtract(base, inside)
	require.ErrorContains(t, err, "inward")
}

// TestSubtractLeavesTheRest holds that faces which no cutter touches keep their
// corners and order, that nothing of the input changes, and that the same input
// gives the same result.
func TestSubtractLeavesTheRest(t *testing.T) {
	base := meshtest.Torus(20, 6, 48, 24)
	cutters := []*mesh.Mesh{box(15, -5, -10, 30, 5, 1.1), meshtest.Moved(meshtest.Ball(4, 9, 16), -20, 0, 3)}
	before := append([]mesh.Vec(nil), base.Vertices...)
	m := subtract(t, base, cutters...)
	assert.Equal(t, before, base.Vertices)
	again := subtract(t, base, cutters...)
	assert.Equal(t, m, again)

	k := 0
	for i := range base.Faces {
		a, b, c := base.Triangle(i)
		d, e, f := m.Triangle(k)
		if a == d && b == e && c == f {
			k++
		}
	}
	assert.Greater(t, k, 1500, "faces in their order, of %d", len(base.Faces))

	same, err := mesh.Subtract(base)
	require.NoError(t, err)
	assert.Equal(t, base, same)
	same, err = mesh.Subtract(base, box(100, 0, 0, 101, 1, 1))
	require.NoError(t, err)
	assert.Equal(t, base, same)
}

// randomBase draws a solid some forty across.
func randomBase(t *rapid.T) *mesh.Mesh {
	switch rapid.IntRange(0, 3).Draw(t, "base") {
	case 0:
		return box(-20, -10, -8, 20, 10, 8)
	case 1:
		return meshtest.Torus(20, 6, 24, 12)
	case 2:
		return meshtest.Ball(15, 15, 24)
	}
	return meshtest.Bar(40, 15, -8, 8)
}

// randomCutter draws a cutter in any position.
func randomCutter(t *rapid.T, r *rand.Rand) *mesh.Mesh {
	var m *mesh.Mesh
	switch rapid.IntRange(0, 2).Draw(t, "cutter") {
	case 0:
		m = meshtest.Bar(rapid.IntRange(3, 40).Draw(t, "sides"), rapid.Float64Range(0.5, 7).Draw(t, "radius"), -20, 20)
	case 1:
		m = box(-8, -3, -5, 9, 2, 4)
	case 2:
		m = meshtest.Ball(rapid.Float64Range(2, 7).Draw(t, "radius"), 7, 12)
	}
	if !rapid.Bool().Draw(t, "upright") {
		meshtest.Turned(r, m)
	}
	return meshtest.Moved(m, 40*r.Float64()-20, 20*r.Float64()-10, 10*r.Float64()-5)
}

// TestSubtractRandom takes one to four cutters in general position.
func TestSubtractRandom(t *testing.T) {
	drawn.Checks(t, 500, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		base := randomBase(t)
		// Coordinates of a neck's far end, where float32 is coarser.
		far := mesh.Vec{X: rapid.SampledFrom([]float64{0, 467.3, -190}).Draw(t, "far")}
		base.Translate(far)
		base.RoundFloat32()
		var cutters []*mesh.Mesh
		for range rapid.IntRange(1, 4).Draw(t, "cutters") {
			c := randomCutter(t, r)
			c.Translate(far)
			cutters = append(cutters, c)
		}
		m, err := mesh.Subtract(base, cutters...)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		require.NoError(t, meshtest.Taken(m, 5e-4, 12, base, cutters...))
	})
}
