package mesh_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/meshtest"
)

// TestUnseenIsTheSame: where all goes well, what is not looked over is what is.
func TestUnseenIsTheSame(t *testing.T) {
	unseen := mesh.Cutting{Within: 5e-4, Unseen: true} // as Subtract and Join cut
	bar := meshtest.Bar(64, 4.5, -60, 30)
	hole := meshtest.Moved(meshtest.Bar(24, 2, -10, 20), 3, 4, 0)
	want, err := mesh.Subtract(bar, hole)
	require.NoError(t, err)
	got, err := unseen.Subtract(bar, hole)
	require.NoError(t, err)
	require.Equal(t, want.Vertices, got.Vertices)
	require.Equal(t, want.Faces, got.Faces)
	require.NotEqual(t, len(bar.Faces), len(got.Faces), "something is cut")

	want, err = mesh.Join(bar, hole)
	require.NoError(t, err)
	got, err = unseen.Join(bar, hole)
	require.NoError(t, err)
	require.Equal(t, want.Vertices, got.Vertices)
	require.Equal(t, want.Faces, got.Faces)
	require.Greater(t, got.Volume(), bar.Volume(), "something is joined")

	open := &mesh.Mesh{Vertices: hole.Vertices, Faces: hole.Faces[1:]}
	_, err = mesh.Subtract(bar, open)
	require.ErrorContains(t, err, "it is no solid")
}
