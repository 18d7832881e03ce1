package mesh

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestCleanDrawsTogether puts a corner on an edge of a box and another beside it
// in the top. The second may go to the first; the first may go to the second
// only where that moves the box's side by next to nothing.
func TestCleanDrawsTogether(t *testing.T) {
	for name, c := range map[string]struct {
		apart     float64
		edgeFirst bool // the corner on the edge is the base's and stays
		want      int  // corners left
	}{
		"in the plane":        {3e-4, true, 9},
		"too long":            {6e-4, true, 10},
		"off the plane":       {3e-4, false, 10},
		"off it by a trifle":  {8e-5, false, 9},
		"in it, by a trifle":  {8e-5, true, 9},
		"just not too long":   {4.9e-4, true, 9},
		"just not by trifles": {1.2e-4, false, 10},
	} {
		m := solidBox(Vec{0, 0, 0}, Vec{10, 10, 10})
		onEdge, inTop := Vec{5, 0, 10}, Vec{5 - c.apart/10, c.apart, 10}
		v, w := uint32(8), uint32(9)
		m.Vertices = append(m.Vertices, onEdge.Round(), inTop.Round())
		if !c.edgeFirst {
			v, w = 9, 8
			m.Vertices[8], m.Vertices[9] = m.Vertices[9], m.Vertices[8]
		}
		var faces []Face
		for _, f := range m.Faces {
			switch f {
			case Face{4, 5, 6}:
				faces = append(faces, Face{v, 5, 6}, Face{4, v, w}, Face{v, 6, w}, Face{6, 4, w})
			case Face{0, 5, 4}:
				faces = append(faces, Face{0, 5, v}, Face{0, v, 4})
			default:
				faces = append(faces, f)
			}
		}
		m.Faces = faces
		require.NoError(t, m.Validate(), name)
		p, err := newPatchwork(m)
		require.NoError(t, err)
		for i := range p.f {
			a, b, d := p.corners(int32(i))
			n := b.Sub(a).Cross(d.Sub(a))
			p.ref = append(p.ref, n.Scale(1/n.Norm()))
		}
		p.clean(9, 9)
		got := p.mesh()
		require.NoError(t, got.Validate(), name)
		assert.Len(t, got.Vertices, c.want, name)
		assert.InDelta(t, 1000, got.Volume(), 1e-2, name)
		for i, f := range p.f {
			if !p.dead[i] {
				assert.Equal(t, triangleBox(p.corners(int32(i))), p.box[i], "%s: %v", name, f)
			}
		}
	}
}
