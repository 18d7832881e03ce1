package mesh_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

// TestMend mends solids that nothing was cut from, and leaves sound ones alone.
func TestMend(t *testing.T) {
	good := box(0, 0, 0, 40, 20, 10)
	assert.Same(t, good, within(1e-4).Mend(good, 5e-3))

	// The ends of the bar are strips with a short edge on one border alone: the other
	// gets a corner across from it. Nothing moves.
	strip, err := mesh.Extrude(mesh.Region{Outer: []mesh.Vec2{{X: 0}, {X: 13}, {X: 14.3}, {X: 40}, {X: 40, Y: 0.009}, {X: 0, Y: 0.009}}}, 0, 20)
	require.NoError(t, err)
	require.Less(t, lowest(strip), 1e-3)
	assert.Same(t, strip, within(1e-4).Mend(strip, lowest(strip)/2), "none is so low")
	got := within(1e-4).Mend(strip, 5e-3)
	require.NoError(t, got.Validate())
	assert.Greater(t, lowest(got), 5e-3)
	assert.Len(t, got.Vertices, len(strip.Vertices)+2)
	assert.InDelta(t, strip.Volume(), got.Volume(), 1e-7)
	assert.Less(t, apart(got, strip), 1e-6)

	open := &mesh.Mesh{Vertices: strip.Vertices, Faces: strip.Faces[1:]}
	assert.Same(t, open, within(1e-4).Mend(open, 5e-3))
}
