package mesh

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// flatSetsMeet decides by the separating axis theorem, in integers, whether two
// convex polygons of the plane, or segments, have a point in common: if not, the
// normal or, for a segment, the direction of an edge parts them.
func flatSetsMeet(p, q [][2]int) bool {
	for _, set := range [2][][2]int{p, q} {
		for i := range set {
			a, b := set[i], set[(i+1)%len(set)]
			dx, dy := b[0]-a[0], b[1]-a[1]
			for _, axis := range [2][2]int{{-dy, dx}, {dx, dy}} {
				span := func(set [][2]int) (lo, hi int) {
					lo, hi = 1<<30, -1<<30
					for _, v := range set {
						d := axis[0]*v[0] + axis[1]*v[1]
						lo, hi = min(lo, d), max(hi, d)
					}
					return lo, hi
				}
				lp, hp := span(p)
				lq, hq := span(q)
				if hp < lq || hq < lp {
					return false
				}
			}
		}
	}
	return true
}

func flatVec(p [2]int) Vec2 { return Vec2{float64(p[0]), float64(p[1])} }

// flatTriangles returns triangles with corners on a grid, some of each kind.
func flatTriangles(r *rand.Rand, side, count int) [][][2]int {
	var out [][][2]int
	for len(out) < count {
		var t [][2]int
		for range 3 {
			t = append(t, [2]int{r.IntN(side), r.IntN(side)})
		}
		if (t[1][0]-t[0][0])*(t[2][1]-t[0][1]) != (t[1][1]-t[0][1])*(t[2][0]-t[0][0]) {
			out = append(out, t)
		}
	}
	return out
}

// TestFlatSegmentTouches checks every segment of a grid against triangles in
// its plane: through a corner, along a side, on a side's line but beyond it.
func TestFlatSegmentTouches(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	const side = 5
	seen := [2]int{}
	for _, tri := range flatTriangles(r, side, 60) {
		corners := [3]Vec2{flatVec(tri[0]), flatVec(tri[1]), flatVec(tri[2])}
		for i := range side * side {
			for j := range side * side {
				p, q := [2]int{i % side, i / side}, [2]int{j % side, j / side}
				if i == j {
					continue
				}
				want := flatSetsMeet([][2]int{p, q}, tri)
				if flatSegmentTouches(flatVec(p), flatVec(q), corners) != want {
					require.Failf(t, "wrong", "%v to %v and %v: want %v", p, q, tri, want)
				}
				if want {
					seen[1]++
				} else {
					seen[0]++
				}
			}
		}
	}
	assert.Greater(t, seen[0], 5000)
	assert.Greater(t, seen[1], 5000)
}

// TestSegmentTouches checks a segment against a triangle in space, whichever of
// its ends lie in the triangle's plane, by the same theorem in integers.
func TestSegmentTouches(t *testing.T) {
	r := rand.New(rand.NewPCG(33, 34))
	point := func() gridPoint { return gridPoint{int64(r.IntN(4)), int64(r.IntN(4)), int64(r.IntN(3))} }
	seen := map[[3]int]int{}
	for range 40000 {
		p, q, a, b, c := point(), point(), point(), point(), point()
		normal := b.minus(a).cross(c.minus(a))
		if p == q || normal == (gridPoint{}) {
			continue
		}
		want := gridSegmentMeets(p, q, a, b, c)
		side := func(v gridPoint) int { return sign(float64(normal.dot(v.minus(a)))) }
		sp, sq := side(p), side(q)
		got := segmentTouches(p.vec(), q.vec(), sp, sq, a.vec(), b.vec(), c.vec())
		require.Equal(t, want, got, "%v to %v and %v %v %v", p, q, a, b, c)
		touch := 0
		if got {
			touch = 1
		}
		seen[[3]int{sp * sp, sq * sq, touch}]++
	}
	for _, ends := range [][2]int{{0, 0}, {0, 1}, {1, 0}, {1, 1}} {
		for touch := range 2 {
			assert.Greater(t, seen[[3]int{ends[0], ends[1], touch}], 200, "%v %d", ends, touch)
		}
	}
}

// gridSegmentMeets decides in integers whether a segment and a triangle have a
// point in common. Axes that part them: the triangle's normal, products of
// their edges, and in the triangle's plane its edges' normals and the segment's
// direction and normal.
func gridSegmentMeets(p, q, a, b, c gridPoint) bool {
	d := q.minus(p)
	normal := b.minus(a).cross(c.minus(a))
	axes := []gridPoint{normal, d, normal.cross(d)}
	for _, e := range []gridPoint{b.minus(a), c.minus(b), a.minus(c)} {
		axes = append(axes, d.cross(e), normal.cross(e))
	}
	for _, axis := range axes {
		lo, hi := min(axis.dot(p), axis.dot(q)), max(axis.dot(p), axis.dot(q))
		x, y, z := axis.dot(a), axis.dot(b), axis.dot(c)
		if hi < min(x, y, z) || max(x, y, z) < lo {
			return false
		}
	}
	return true
}

// TestFlatTrianglesTouch checks triangles of one plane against each other, those
// that hold a corner or all of the other and those that cross without holding
// any, and where such a pair is said to meet.
func TestFlatTrianglesTouch(t *testing.T) {
	r := rand.New(rand.NewPCG(35, 36))
	all := flatTriangles(r, 6, 130)
	var apart, corner, crossing int
	for i, p := range all {
		for j, q := range all[:i] {
			s := [3]Vec2{flatVec(p[0]), flatVec(p[1]), flatVec(p[2])}
			u := [3]Vec2{flatVec(q[0]), flatVec(q[1]), flatVec(q[2])}
			want := flatSetsMeet(p, q)
			require.Equal(t, want, flatTrianglesTouch(s, u), "%v and %v", p, q)
			// The same in space, in a sloping plane.
			m := &Mesh{Faces: []Face{{0, 1, 2}, {3, 4, 5}}}
			for _, v := range [6]Vec2{s[0], s[1], s[2], u[0], u[1], u[2]} {
				m.Vertices = append(m.Vertices, Vec{v.X, v.Y - v.X, 3 + 2*v.X + v.Y})
			}
			require.Equal(t, want, facesCollide(m.Vertices, m.Faces[0], m.Faces[1]), "%v and %v", p, q)
			if !want {
				apart++
				continue
			}
			holds := false
			for k := range 3 {
				holds = holds || inTriangle(u[k], s) || inTriangle(s[k], u)
			}
			if holds {
				corner++
			} else {
				crossing++
			}
			if (i+j)%4 != 0 {
				continue
			}
			at := meetingPoint(m, 0, 1)
			for k := range 2 {
				a, b, c := m.Triangle(k)
				near := nearestOnTriangle(at, &[3]Vec{a, b, c})
				require.InDelta(t, 0, near.Sub(at).Norm(), 1e-9, "%v and %v meet at %v", p, q, at)
			}
		}
	}
	assert.Greater(t, apart, 500)
	assert.Greater(t, corner, 500)
	assert.Greater(t, crossing, 100)
}

// TestMeetingPoint checks where faces that collide are said to meet: in both of
// them, and away from a corner that they share.
func TestMeetingPoint(t *testing.T) {
	r := rand.New(rand.NewPCG(37, 38))
	seen := [2]int{}
	for k := range 6000 {
		shared := k % 2
		deep := 1 + k/2%2*2 // in one plane or not
		m := &Mesh{Faces: []Face{{0, 1, 2}, {3, 4, 5}}}
		if shared == 1 {
			m.Faces[1] = Face{0, 3, 4}
		}
		for range 6 {
			m.Vertices = append(m.Vertices, Vec{float64(r.IntN(5)), float64(r.IntN(5)), float64(r.IntN(deep))})
		}
		flat := func(f Face) bool {
			a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
			return b.Sub(a).Cross(c.Sub(a)) == Vec{}
		}
		if flat(m.Faces[0]) || flat(m.Faces[1]) || !facesCollide(m.Vertices, m.Faces[0], m.Faces[1]) {
			continue
		}
		seen[shared]++
		at := meetingPoint(m, 0, 1)
		for i := range 2 {
			a, b, c := m.Triangle(i)
			near := nearestOnTriangle(at, &[3]Vec{a, b, c})
			require.InDelta(t, 0, near.Sub(at).Norm(), 1e-9, "%v", m)
		}
		if shared == 1 {
			require.Greater(t, at.Sub(m.Vertices[0]).Norm(), 0.01, "%v", m)
		}
	}
	assert.Greater(t, seen[0], 300)
	assert.Greater(t, seen[1], 300)
}
