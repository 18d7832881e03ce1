package mesh

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestPolishSlides puts corners into faces of solids, next to their edges. Tidying leaves
// the caps between; polishing moves the corners onto the edges, within their faces.
func TestPolishSlides(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 8))
	slid := 0
	for _, base := range []*Mesh{solidBox(Vec{0, 0, 0}, Vec{9, 7, 5}), solidTorus(20, 6, 10, 8)} {
		base.RoundFloat32()
		for range 30 {
			m := &Mesh{}
			m.Append(base)
			k := r.IntN(len(base.Faces))
			f := m.Faces[k]
			a, b, c := m.Triangle(k)
			u := 0.2 + 0.6*r.Float64()
			edge := a.Scale(1 - u).Add(b.Scale(u))
			in := c.Sub(edge)
			m.Vertices = append(m.Vertices, edge.Add(in.Scale((0.0025+0.001*r.Float64())/in.Norm())).Round())
			v := uint32(len(m.Vertices) - 1)
			m.Faces[k] = Face{f[0], f[1], v}
			m.Faces = append(m.Faces, Face{f[1], f[2], v}, Face{f[2], f[0], v})
			require.NoError(t, m.Validate())
			p, err := newPatchwork(m)
			require.NoError(t, err)
			p.tidy()
			tidied := p.mesh()
			got, err := p.polished(Cutting{Within: leastAltitude})
			require.NoError(t, err)
			assert.Greater(t, leastAltitudeOf(got), polishLow)
			assert.InDelta(t, m.Volume(), got.Volume(), 1e-4)
			if leastAltitudeOf(tidied) < polishLow {
				slid++
				assert.Len(t, got.Vertices, len(m.Vertices))
				at := got.Vertices[len(got.Vertices)-1]
				d := b.Sub(a).Cross(at.Sub(a)).Norm() / b.Sub(a).Norm()
				assert.Less(t, d, 1e-5, "it stands on the edge")
			}
		}
	}
	assert.Greater(t, slid, 20)
}
