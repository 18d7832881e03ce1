package mesh

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// leastAltitudeOf returns the smallest altitude of all triangles.
func leastAltitudeOf(m *Mesh) float64 {
	least := 1e300
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		least = min(least, altitude(a, b, c, Vec{}))
	}
	return least
}

// TestFlipNeedles puts corners just beside edges of solids, which makes
// needles, and has them flipped.
func TestFlipNeedles(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	flipped := 0
	for _, base := range []*Mesh{solidBox(Vec{0, 0, 0}, Vec{9, 7, 5}), solidTorus(20, 6, 24, 12), solidSphere(Vec{}, 9, 2)} {
		base.RoundFloat32()
		require.Same(t, base, base.FlipNeedles())
		for range 30 {
			m := &Mesh{}
			m.Append(base)
			for range 1 + r.IntN(5) {
				k := r.IntN(len(base.Faces))
				f := m.Faces[k]
				a, b, c := m.Triangle(k)
				u := 0.1 + 0.8*r.Float64()
				edge := a.Scale(u).Add(b.Scale(1 - u))
				inward := c.Sub(edge)
				w := edge.Add(inward.Scale(4e-5 / inward.Norm()))
				m.Vertices = append(m.Vertices, w.Round())
				v := uint32(len(m.Vertices) - 1)
				m.Faces[k] = Face{f[0], f[1], v}
				m.Faces = append(m.Faces, Face{f[1], f[2], v}, Face{f[2], f[0], v})
			}
			require.Less(t, leastAltitudeOf(m), leastAltitude)
			if m.Validate() != nil {
				continue // rounded over the edge, or a needle in a needle
			}
			flipped++
			got := m.FlipNeedles()
			require.NoError(t, got.Validate())
			assert.Greater(t, leastAltitudeOf(got), leastAltitude)
			assert.Equal(t, m.Vertices, got.Vertices)
			assert.Len(t, got.Faces, len(m.Faces))
			assert.InDelta(t, m.Volume(), got.Volume(), leastAltitude*m.Area()/10)
		}
	}
	assert.Greater(t, flipped, 60)
	open := &Mesh{Vertices: []Vec{{0, 0, 0}, {9, 0, 0}, {4, 1e-5, 0}}, Faces: []Face{{0, 1, 2}}}
	assert.Same(t, open, open.FlipNeedles())
}
