package mesh

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestMirroredY mirrors a prism whose area, volume and centroid are known.
func TestMirroredY(t *testing.T) {
	m, err := Extrude(Region{Outer: []Vec2{{X: 0, Y: 0}, {X: 3, Y: 0}, {X: 0, Y: 6}}}, 1, 5)
	require.NoError(t, err)
	r := m.MirroredY()
	require.NoError(t, r.Validate())
	assert.InDelta(t, 36, r.Volume(), 1e-12)
	assert.InDelta(t, m.Area(), r.Area(), 1e-12)
	c := r.Centroid()
	assert.InDelta(t, 1, c.X, 1e-12)
	assert.InDelta(t, -2, c.Y, 1e-12)
	assert.InDelta(t, 3, c.Z, 1e-12)
	for i, v := range r.Vertices {
		assert.Equal(t, -m.Vertices[i].Y, v.Y)
		assert.False(t, v.Y == 0 && math.Signbit(v.Y), "a minus sign before 0")
	}
	assert.Equal(t, m, r.MirroredY())
}
