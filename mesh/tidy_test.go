package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// angleAt returns the angle at the corner k of a triangle.
func angleAt(v [3]Vec, k int) float64 {
	u, w := v[(k+1)%3].Sub(v[k]), v[(k+2)%3].Sub(v[k])
	return math.Atan2(u.Cross(w).Norm(), u.Dot(w))
}

// notDelaunay counts the edges between faces of one plane whose opposite angles add
// up to more than half a turn, by all pairs of faces.
func notDelaunay(m *Mesh) int {
	count := 0
	for i, f := range m.Faces {
		for j, g := range m.Faces[:i] {
			for s := range 9 {
				k, l := s/3, s%3
				if f[(k+1)%3] != g[(l+2)%3] || f[(k+2)%3] != g[(l+1)%3] {
					continue
				}
				var p, q [3]Vec
				p[0], p[1], p[2] = m.Triangle(i)
				q[0], q[1], q[2] = m.Triangle(j)
				n := p[1].Sub(p[0]).Cross(p[2].Sub(p[0]))
				if d := n.Dot(q[l].Sub(p[0])) / n.Norm(); math.Abs(d) > 1e-7 || n.Dot(q[1].Sub(q[0]).Cross(q[2].Sub(q[0]))) < 0 {
					continue
				}
				if angleAt(p, k)+angleAt(q, l) > math.Pi+1e-5 {
					count++
				}
			}
		}
	}
	return count
}

// TestTidyFlats turns edges of plates with holes about at random, and has them
// tidied: each face is a Delaunay triangulation again, and nothing else has changed.
func TestTidyFlats(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 7))
	for range 12 {
		region := Region{}
		for w := 0.0; w < 6.1; w += 0.1 + 0.4*r.Float64() {
			k := 8 + 4*r.Float64()
			region.Outer = append(region.Outer, Vec2{k * math.Cos(w), k * math.Sin(w)})
		}
		region.Holes = [][]Vec2{{{1, 1}, {1, -2}, {-1, -2}, {-1.5, 1}}}
		m, err := Extrude(region, 0, 1+3*r.Float64())
		require.NoError(t, err)
		p, err := newPatchwork(m)
		require.NoError(t, err)
		for i := range p.f {
			a, b, d := p.corners(int32(i))
			n := b.Sub(a).Cross(d.Sub(a))
			p.ref = append(p.ref, n.Scale(1/n.Norm()))
		}
		c := &cleaner{patchwork: p}
		any := func(i, j, k uint32, n Vec) float64 { // sound, and whatever else
			if c.narrowest(i, j, k, n) < 1e-3 {
				return -1
			}
			return r.Float64()
		}
		for range 300 {
			if s := int32(r.IntN(len(p.twin))); c.flatAcross(s) {
				c.turn(s, any)
			}
		}
		spoilt := p.mesh()
		require.NoError(t, spoilt.Validate())
		require.Positive(t, notDelaunay(spoilt))
		p.tidy()
		got := p.mesh()
		require.NoError(t, got.Validate())
		assert.Zero(t, notDelaunay(got))
		assert.Equal(t, spoilt.Vertices, got.Vertices)
		assert.InDelta(t, m.Volume(), got.Volume(), 1e-9*m.Volume())
		assert.InDelta(t, m.Area(), got.Area(), 1e-9*m.Area())
	}
}

// TestTidyNeedles puts corners near edges and other corners of solids. Those that can
// go without moving the surface do, the others stay.
func TestTidyNeedles(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for _, base := range []*Mesh{solidBox(Vec{0, 0, 0}, Vec{9, 7, 5}), solidTorus(20, 6, 24, 12)} {
		base.RoundFloat32()
		for range 60 {
			m := &Mesh{}
			m.Append(base)
			k := r.IntN(len(base.Faces))
			f := m.Faces[k]
			a, b, c := m.Triangle(k)
			off := []float64{3e-4, 1.5e-3, 4e-3}[r.IntN(3)]
			at := a
			if u := r.Float64(); u > 0.3 {
				at = a.Scale(1 - u).Add(b.Scale(u))
			}
			in := b.Add(c).Scale(0.5).Sub(at)
			in = in.Scale(off / in.Norm())
			m.Vertices = append(m.Vertices, at.Add(in).Round())
			v := uint32(len(m.Vertices) - 1)
			m.Faces[k] = Face{f[0], f[1], v}
			m.Faces = append(m.Faces, Face{f[1], f[2], v}, Face{f[2], f[0], v})
			if m.Validate() != nil {
				continue // rounded over an edge
			}
			p, err := newPatchwork(m)
			require.NoError(t, err)
			p.tidy()
			got := p.mesh()
			require.NoError(t, got.Validate())
			assert.InDelta(t, m.Volume(), got.Volume(), leastAltitude*m.Area()/10)
			if at == a && off < tidyEdge {
				assert.Len(t, got.Vertices, len(base.Vertices))
			}
			if at == a && off > tidyEdge {
				assert.Len(t, got.Vertices, len(m.Vertices))
			}
			for _, w := range base.Vertices {
				assert.Contains(t, got.Vertices, w)
			}
		}
	}
}
