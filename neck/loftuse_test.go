package neck

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// TestLoftUsesItsTolerance holds that a mesh is no finer than it is asked to be:
// what it misses comes near the tolerance, and so the triangles are few. Long thin
// ones along the neck are as they should be, since it bends far more across.
// Without DRAWN=all it takes some of the cases.
func TestLoftUsesItsTolerance(t *testing.T) {
	const tol = 0.02
	cases := map[string]int{"curlew": 10700, "godwit": 11300, "lapwing": 9750, "nightjar": 11500, "siskin": 7950, "wagtail": 10700}
	for _, name := range drawn.Keys(cases, 2) {
		most := cases[name]
		s, err := spec.ReadFile("../testdata/specs/" + name + ".toml")
		require.NoError(t, err)
		n, err := New(s)
		require.NoError(t, err)
		m, err := n.Solid(PartWood, tol)
		require.NoError(t, err)
		used := meshToSurface(n, m, 2000) / tol
		assert.Greater(t, used, 0.8, name)
		assert.LessOrEqual(t, used, 1.0, name)
		assert.Less(t, len(m.Faces), most, name)
	}
}
