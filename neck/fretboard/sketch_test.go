package fretboard

import (
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
)

// TestSketchIsTheSolid: what is drawn while a control moves is the solid of files at
// the same tolerance, vertex for vertex, though nobody has looked it over. Without
// DRAWN=all it takes every second neck.
func TestSketchIsTheSolid(t *testing.T) {
	cut := 0
	for _, n := range drawn.Some(necktest.All(t), 11) {
		for _, part := range []neck.Part{neck.PartWood, neck.PartBoard} {
			want, err := Solid(n, part, 0.1)
			require.NoError(t, err)
			got, err := Sketch(n, part, 0.1)
			require.NoError(t, err)
			require.Equal(t, len(want.Faces), len(got.Faces), n.Spec().Name)
			require.True(t, same(want, got), "%s, %s", n.Spec().Name, part)
			if n.HeadEdge() != nil {
				cut++
			}
		}
	}
	require.Positive(t, cut)
}

func same(a, b *mesh.Mesh) bool {
	if len(a.Vertices) != len(b.Vertices) || len(a.Faces) != len(b.Faces) {
		return false
	}
	for i := range a.Vertices {
		if a.Vertices[i] != b.Vertices[i] {
			return false
		}
	}
	for i := range a.Faces {
		if a.Faces[i] != b.Faces[i] {
			return false
		}
	}
	return true
}
