package render

import (
	"math"
	"testing"

	"github.com/fogleman/fauxgl"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

// TestNoSideIsLevel looks at the sides of all triangles as the rasterizer gets
// them: it divides by how far a side climbs, and makes a whole number of what may be
// as large as the picture over that.
func TestNoSideIsLevel(t *testing.T) {
	n := demo(t)
	s, err := newScene(n, 0.2)
	require.NoError(t, err)
	moved := 0
	for _, up := range []mesh.Vec{{Z: 1}, {Y: -1}, {Z: -1}} {
		c := along(mesh.Vec{X: 1}, up)
		lo, hi := c.extent(s, true)
		const width, height = 1800.0, 400.0
		near, far := c.depths(s)
		m := level(c.matrix(lo, hi, near, far))
		look := newStudio(c, m, s, 3)
		for _, tr := range s.parts(true) {
			out := apart(tr, &m, height)
			if out != tr {
				moved++
			}
			var y [3]float64
			for i, v := range []fauxgl.Vertex{out.V1, out.V2, out.V3} {
				p := look.Vertex(v).Output
				y[i] = p.Y / p.W * height / 2
				was := m.MulPositionW(v.Position)
				require.InDelta(t, was.Y/was.W*height/2, y[i], 1e-6, "a corner stays where it is seen")
			}
			for i := range y {
				require.Greater(t, math.Abs(y[i]-y[(i+1)%3]), 0.9e-7)
			}
		}
	}
	assert.Greater(t, moved, 50, "no level sides to move")
}
