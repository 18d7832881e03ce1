package brep_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/mesh/drawn"
)

// turned is a cutter, as a solid and as a mesh of its own making.
type turned struct {
	solid *brep.Solid
	mesh  *mesh.Mesh
}

// prism returns a mesh from a loop, which turns left about the axis, along that.
func prism(loop []vec, axis vec) *mesh.Mesh {
	m := &mesh.Mesh{}
	n := uint32(len(loop))
	var sum vec
	for _, p := range loop {
		m.Vertices = append(m.Vertices, p)
		sum = sum.Add(p.Scale(1 / float64(n)))
	}
	for _, p := range loop {
		m.Vertices = append(m.Vertices, p.Add(axis))
	}
	m.Vertices = append(m.Vertices, sum, sum.Add(axis))
	for i := range n {
		j := (i + 1) % n
		m.Faces = append(m.Faces, mesh.Face{i, j, n + j}, mesh.Face{i, n + j, n + i}, mesh.Face{j, i, 2 * n}, mesh.Face{n + i, n + j, 2*n + 1})
	}
	return m
}

// aslant returns a block with three edges from a corner, which are square to
// each other.
func aslant(t require.TestingT, p vec, e [3]vec) *brep.Solid {
	var b brep.Builder
	for k := range 3 {
		u, v := e[(k+1)%3], e[(k+2)%3]
		for i, at := range []vec{p, p.Add(e[k])} {
			q := []vec{at, at.Add(u), at.Add(u).Add(v), at.Add(v)}
			var l []*brep.Edge
			for j := range q {
				l = append(l, b.Line(q[j], q[(j+1)%4]))
			}
			b.Face("side", brep.NewPlane(at, e[k].Scale(float64(2*i-1))), false, l)
		}
	}
	s, err := b.Solid("block aslant")
	require.NoError(t, err)
	return s
}

// numbers draws numbers none of which is a round one, nor one of those before:
// what is drawn is to lie anyhow.
func numbers(rt *rapid.T) func(lo, hi float64) float64 {
	drawn := 0
	return func(lo, hi float64) float64 {
		drawn++
		_, k := math.Modf(float64(rapid.IntRange(1, 1e6).Draw(rt, "number"))*math.Phi + float64(drawn)*math.Sqrt2)
		return lo + (hi-lo)*k
	}
}

// drawCutter draws a block or a rod that lies anyhow about a place.
func drawCutter(t *testing.T, rt *rapid.T, number func(lo, hi float64) float64, lo, hi vec) turned {
	at := vec{X: number(lo.X, hi.X), Y: number(lo.Y, hi.Y), Z: number(lo.Z, hi.Z)}
	along := vec{X: number(-1, 1), Y: number(-1, 1), Z: number(0.2, 1)}.Unit()
	ref := brep.NewPlane(at, along).Ref
	up := along.Cross(ref)
	long := number(4, 30)
	p := at.Sub(along.Scale(long * number(0, 1)))
	if rapid.Bool().Draw(rt, "block") {
		a, b := ref.Scale(number(1, 8)), up.Scale(number(1, 8))
		return turned{
			aslant(t, p, [3]vec{a, b, along.Scale(long)}),
			prism([]vec{p, p.Add(a), p.Add(a).Add(b), p.Add(b)}, along.Scale(long)),
		}
	}
	const corners = 100
	r := number(0.5, 4)
	// As wide that the area is the circle's.
	w := 2 * math.Pi / corners
	out := r * math.Sqrt(w/math.Sin(w))
	var loop []vec
	for i := range corners {
		sin, cos := math.Sincos(w * float64(i))
		loop = append(loop, p.Add(ref.Scale(out*cos)).Add(up.Scale(out*sin)))
	}
	return turned{rod(t, p, along.Scale(long), r), prism(loop, along.Scale(long))}
}

// TestSubtractDrawn takes cutters that lie anyhow from a block, and holds the
// volume against that of meshes.
func TestSubtractDrawn(t *testing.T) {
	lo, hi := vec{}, vec{X: 30, Y: 20, Z: 10}
	base := box(t, lo, hi)
	block := prism([]vec{lo, {X: 30}, {X: 30, Y: 20}, {Y: 20}}, vec{Z: 10})
	all, touching := 0, 0
	drawn.Checks(t, 200, func(rt *rapid.T) {
		var solids []*brep.Solid
		var meshes []*mesh.Mesh
		number := numbers(rt)
		for range rapid.IntRange(1, 4).Draw(rt, "cutters") {
			c := drawCutter(t, rt, number, lo, hi)
			solids, meshes = append(solids, c.solid), append(meshes, c.mesh)
		}
		all++
		m, err := mesh.Subtract(block, meshes...)
		if err != nil {
			return
		}
		s, err := brep.Subtract(base, solids...)
		if err != nil && (strings.Contains(err.Error(), "cavity") || strings.Contains(err.Error(), "pieces")) {
			return
		}
		if errors.Is(err, brep.ErrTouch) {
			touching++ // it happens that an edge grazes another
			return
		}
		require.NoError(rt, err)
		require.InDelta(rt, m.Volume(), s.Volume(), 0.01+4e-4*(6000-s.Volume()))
	})
	require.LessOrEqual(t, touching, all/50)
}
