package mesh_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

// TestJoin joins a plate that leans to a block, and one that lies apart from it:
// the volume is that of both less what they share, by Subtract.
func TestJoin(t *testing.T) {
	extrude := func(lo, hi float64, loop ...mesh.Vec2) *mesh.Mesh {
		m, err := mesh.Extrude(mesh.Region{Outer: loop}, lo, hi)
		require.NoError(t, err)
		return m
	}
	block := extrude(0, 10, mesh.Vec2{}, mesh.Vec2{X: 30}, mesh.Vec2{X: 30, Y: 20}, mesh.Vec2{Y: 20})
	plate := extrude(9, 13, mesh.Vec2{X: 5, Y: 3}, mesh.Vec2{X: 25, Y: 2}, mesh.Vec2{X: 27, Y: 25}, mesh.Vec2{X: 4, Y: 15})
	for i := range plate.Vertices {
		plate.Vertices[i].Z += 0.02 * plate.Vertices[i].X
	}
	m, err := mesh.Join(block, plate)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	rest, err := mesh.Subtract(plate, block)
	require.NoError(t, err)
	assert.InDelta(t, block.Volume()+rest.Volume(), m.Volume(), 1e-3)
	assert.Greater(t, rest.Volume(), 800.0)

	for i := range plate.Vertices {
		plate.Vertices[i].Z += 40
	}
	m, err = mesh.Join(block, plate)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	assert.InDelta(t, block.Volume()+plate.Volume(), m.Volume(), 1e-3)
}
