package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// nearestBySearch finds the nearest point of a triangle with no cases: the
// least of the distances to the plane, where the foot is inside, and to the
// sides.
func nearestBySearch(p, a, b, c Vec) float64 {
	best := math.Inf(1)
	n := b.Sub(a).Cross(c.Sub(a))
	h := n.Dot(p.Sub(a)) / n.Norm()
	foot := p.Sub(n.Scale(h / n.Norm()))
	corners := [3]Vec{a, b, c}
	inside := true
	for i, v := range corners {
		w := corners[(i+1)%3]
		e := w.Sub(v)
		inside = inside && n.Dot(e.Cross(foot.Sub(v))) >= 0
		t := min(max(e.Dot(p.Sub(v))/e.Dot(e), 0), 1)
		best = min(best, v.Add(e.Scale(t)).Sub(p).Norm())
	}
	if inside {
		best = min(best, math.Abs(h))
	}
	return best
}

func TestNearestAgainstAllFaces(t *testing.T) {
	r := rand.New(rand.NewPCG(31, 32))
	for _, m := range []*Mesh{
		solidTetrahedron(),
		solidTorus(10, 3, 20, 10),
		solidBar(12, 20),
		soup(r, 300, 0.2),
	} {
		l := NewLocator(m)
		lo, hi := m.Bounds()
		size := hi.Sub(lo)
		for range 400 {
			p := lo.Add(Vec{(1.4*r.Float64() - 0.2) * size.X, (1.4*r.Float64() - 0.2) * size.Y, (1.4*r.Float64() - 0.2) * size.Z})
			want := math.Inf(1)
			for i := range m.Faces {
				a, b, c := m.Triangle(i)
				want = min(want, nearestBySearch(p, a, b, c))
			}
			dist, face, point := l.Nearest(p)
			require.InDelta(t, want, dist, 1e-10)
			require.InDelta(t, dist, p.Sub(point).Norm(), 1e-12)
			a, b, c := m.Triangle(face)
			require.InDelta(t, 0, nearestBySearch(point, a, b, c), 1e-10)
		}
	}
}

func TestNearestOnBox(t *testing.T) {
	l := NewLocator(solidBox(Vec{}, Vec{10, 10, 10}))
	for _, c := range []struct {
		p    Vec
		dist float64
		at   Vec
	}{
		{Vec{5, 3, 9}, 1, Vec{5, 3, 10}},
		{Vec{5, 3, 14}, 4, Vec{5, 3, 10}},
		{Vec{13, 14, 5}, 5, Vec{10, 10, 5}},
		{Vec{-1, -2, -2}, 3, Vec{0, 0, 0}},
		{Vec{10, 10, 10}, 0, Vec{10, 10, 10}},
	} {
		dist, _, at := l.Nearest(c.p)
		assert.InDelta(t, c.dist, dist, 1e-14)
		assertVec(t, c.at, at, 1e-14)
	}
	// A vertex belongs to several faces: the lowest wins.
	_, face, _ := l.Nearest(Vec{20, 20, 20})
	assert.Equal(t, 2, face)
}

func TestNearestOnSphere(t *testing.T) {
	l := NewLocator(solidSphere(Vec{1, 2, 3}, 10, 5))
	r := rand.New(rand.NewPCG(33, 34))
	for range 300 {
		v := Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		rho := 20 * r.Float64()
		dist, _, _ := l.Nearest(Vec{1, 2, 3}.Add(v.Scale(rho / v.Norm())))
		// The faces are up to 10 (1 - cos(theta)) under the sphere, theta half
		// an edge of about 1/20.
		assert.InDelta(t, math.Abs(rho-10), dist, 0.01)
	}
}

func TestNearestNothing(t *testing.T) {
	dist, face, _ := NewLocator(&Mesh{}).Nearest(Vec{})
	assert.Equal(t, math.Inf(1), dist)
	assert.Equal(t, -1, face)
}

func BenchmarkNearest(b *testing.B) {
	for _, m := range []*Mesh{solidBar(100, 60), solidBar(500, 200)} {
		b.Run(fmt.Sprint(len(m.Faces)), func(b *testing.B) {
			l := NewLocator(m)
			r := rand.New(rand.NewPCG(1, 1))
			points := make([]Vec, 1024)
			for i := range points {
				// Close to the surface, inside and outside.
				a, q, c := m.Triangle(r.IntN(len(m.Faces)))
				points[i] = a.Add(q).Add(c).Scale(1 / 3.0).Add(Vec{0, r.NormFloat64(), r.NormFloat64()}.Scale(3))
			}
			for i := 0; b.Loop(); i++ {
				l.Nearest(points[i%len(points)])
			}
		})
	}
}
