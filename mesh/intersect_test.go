package mesh

import (
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
)

type gridPoint [3]int64

func (p gridPoint) minus(q gridPoint) gridPoint {
	return gridPoint{p[0] - q[0], p[1] - q[1], p[2] - q[2]}
}

func (p gridPoint) cross(q gridPoint) gridPoint {
	return gridPoint{p[1]*q[2] - p[2]*q[1], p[2]*q[0] - p[0]*q[2], p[0]*q[1] - p[1]*q[0]}
}

func (p gridPoint) dot(q gridPoint) int64 { return p[0]*q[0] + p[1]*q[1] + p[2]*q[2] }

func (p gridPoint) vec() Vec { return Vec{float64(p[0]), float64(p[1]), float64(p[2])} }

// gridPolygonsMeet decides by the separating axis theorem, in integers, whether
// two flat convex polygons have a point in common. If not, a normal of one of
// them, a product of two of their edges, or, in one plane, a normal of an edge
// in that plane parts them.
func gridPolygonsMeet(p, q []gridPoint) bool {
	edges := func(p []gridPoint) (e []gridPoint) {
		for i := range p {
			e = append(e, p[(i+1)%len(p)].minus(p[i]))
		}
		return e
	}
	ep, eq := edges(p), edges(q)
	np, nq := ep[0].cross(ep[1]), eq[0].cross(eq[1])
	axes := []gridPoint{np, nq}
	for _, e := range ep {
		axes = append(axes, np.cross(e))
		for _, f := range eq {
			axes = append(axes, e.cross(f))
		}
	}
	for _, f := range eq {
		axes = append(axes, nq.cross(f))
	}
	for _, axis := range axes {
		span := func(p []gridPoint) (lo, hi int64) {
			lo, hi = axis.dot(p[0]), axis.dot(p[0])
			for _, v := range p[1:] {
				lo, hi = min(lo, axis.dot(v)), max(hi, axis.dot(v))
			}
			return lo, hi
		}
		lp, hp := span(p)
		lq, hq := span(q)
		if hp < lq || hq < lp {
			return false
		}
	}
	return true
}

// gridTrim is the side of the fine grid in parts of the coarse one. On a grid
// of four points a side two triangles that meet outside a common corner or edge
// do so farther from it than one part in gridTrim.
const gridTrim = 1 << 12

// trimmed returns the polygon on the fine grid, with the first n corners, which
// are shared, cut off.
func trimmed(p []gridPoint, n int) []gridPoint {
	fine := func(from, to gridPoint, t int64) gridPoint {
		d := to.minus(from)
		return gridPoint{gridTrim*from[0] + t*d[0], gridTrim*from[1] + t*d[1], gridTrim*from[2] + t*d[2]}
	}
	switch n {
	case 1:
		return []gridPoint{fine(p[0], p[1], 1), fine(p[1], p[1], 0), fine(p[2], p[2], 0), fine(p[0], p[2], 1)}
	case 2:
		return []gridPoint{fine(p[0], p[2], 1), fine(p[1], p[2], 1), fine(p[2], p[2], 0)}
	}
	return []gridPoint{fine(p[0], p[0], 0), fine(p[1], p[1], 0), fine(p[2], p[2], 0)}
}

// TestFacesCollideAgainstSeparatingAxes: without DRAWN=all it takes some of the cases.
func TestFacesCollideAgainstSeparatingAxes(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	point := func(side int) gridPoint {
		return gridPoint{int64(r.IntN(side)), int64(r.IntN(side)), int64(r.IntN(side))}
	}
	seen := map[[2]int]int{}
	cases, least := 15000, 100
	if drawn.All() {
		cases, least = 60000, 500
	}
	for range cases {
		shared := r.IntN(3)
		depth := 4
		if r.IntN(3) == 0 {
			depth = 1 // all in one plane
		}
		p, q := make([]gridPoint, 3), make([]gridPoint, 3)
		for k := range 3 {
			p[k], q[k] = point(4), point(4)
			p[k][2], q[k][2] = p[k][2]%int64(depth), q[k][2]%int64(depth)
		}
		copy(q, p[:shared])
		if p[1].minus(p[0]).cross(p[2].minus(p[0])) == (gridPoint{}) || q[1].minus(q[0]).cross(q[2].minus(q[0])) == (gridPoint{}) {
			continue
		}
		want := gridPolygonsMeet(trimmed(p, shared), trimmed(q, 0))

		// Number the corners, in any order, and lay the plane any way.
		axis := r.IntN(3)
		var vertices []Vec
		place := func(p gridPoint) uint32 {
			p[0], p[1], p[2] = p[axis], p[(axis+1)%3], p[(axis+2)%3]
			vertices = append(vertices, p.vec())
			return uint32(len(vertices) - 1)
		}
		f := []uint32{place(p[0]), place(p[1]), place(p[2])}
		g := make([]uint32, 3)
		for k := range g {
			if g[k] = f[k]; k >= shared {
				g[k] = place(q[k])
			}
		}
		swap := func(f []uint32) func(i, j int) { return func(i, j int) { f[i], f[j] = f[j], f[i] } }
		r.Shuffle(3, swap(f))
		r.Shuffle(3, swap(g))
		got := facesCollide(vertices, Face(f), Face(g))
		require.Equal(t, want, got, "%v and %v share %d", p, q, shared)
		require.Equal(t, want, facesCollide(vertices, Face(g), Face(f)))
		if got {
			seen[[2]int{shared, 1}]++
		} else {
			seen[[2]int{shared, 0}]++
		}
	}
	for shared := range 3 {
		assert.Greater(t, seen[[2]int{shared, 0}], least, "apart, sharing %d", shared)
		assert.Greater(t, seen[[2]int{shared, 1}], least, "colliding, sharing %d", shared)
	}
}

// soup returns n random triangles of the given size in a unit cube.
func soup(r *rand.Rand, n int, size float64) *Mesh {
	m := &Mesh{}
	for range n {
		o := Vec{r.Float64(), r.Float64(), r.Float64()}
		for range 3 {
			m.Vertices = append(m.Vertices, o.Add(Vec{r.Float64(), r.Float64(), r.Float64()}.Scale(size)))
		}
		k := uint32(len(m.Vertices))
		m.Faces = append(m.Faces, Face{k - 3, k - 2, k - 1})
	}
	return m
}

func TestSelfIntersectionAgainstAllPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	found := 0
	for range 150 {
		n := 1 + r.IntN(150)
		m := soup(r, n, 0.02+0.1*r.Float64())
		wantI, wantJ, want := 0, 0, false
		for i := 0; i < n && !want; i++ {
			for j := i + 1; j < n && !want; j++ {
				if facesCollide(m.Vertices, m.Faces[i], m.Faces[j]) {
					wantI, wantJ, want = i, j, true
				}
			}
		}
		i, j, ok := m.SelfIntersection()
		require.Equal(t, want, ok)
		require.Equal(t, [2]int{wantI, wantJ}, [2]int{i, j})
		if ok {
			found++
			p := meetingPoint(m, i, j)
			for _, k := range []int{i, j} {
				a, b, c := m.Triangle(k)
				q := nearestOnTriangle(p, &[3]Vec{a, b, c})
				require.InDelta(t, 0, q.Sub(p).Norm(), 1e-9)
			}
		}
	}
	assert.Greater(t, found, 20)
	assert.Less(t, found, 140)
}

// TestSelfIntersectionIsDeterministic has many pairs to choose from and several
// goroutines.
func TestSelfIntersectionIsDeterministic(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	m := soup(rand.New(rand.NewPCG(15, 16)), 4000, 0.1)
	i, j, ok := m.SelfIntersection()
	require.True(t, ok)
	for range 20 {
		k, l, _ := m.SelfIntersection()
		require.Equal(t, [2]int{i, j}, [2]int{k, l})
	}
}

func TestSelfIntersectionFewFaces(t *testing.T) {
	for _, m := range []*Mesh{{}, {Vertices: []Vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}, Faces: []Face{{0, 1, 2}}}} {
		_, _, found := m.SelfIntersection()
		assert.False(t, found)
	}
}
