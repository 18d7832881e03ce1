package scan

import (
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/spec"
)

// TestCoarseScan fits what other programs write of a neck: a mesh whose rows lie
// far apart, with no point on a flat but at its edges. The finer ones only with all
// cases.
func TestCoarseScan(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		tolerance float64
	}{{"heron", 0.02}, {"heron", 0.1}, {"lapwing", 0.02}} {
		if c.tolerance < 0.1 && !drawn.All() {
			continue
		}
		s, err := spec.ReadFile(filepath.Join("..", "..", "..", "testdata", "specs", c.name+".toml"))
		require.NoError(t, err)
		n, err := neck.New(s)
		require.NoError(t, err)
		m, err := n.Solid(neck.PartWood, c.tolerance)
		require.NoError(t, err)
		r, err := Scan(turned(m, 5, 0), facts(n), nil, Options{}, fit.Options{})
		require.NoError(t, err, "%s at %g mm", c.name, c.tolerance)
		checkScan(t, n, r)
	}
}

// TestRefined checks that a refined mesh is the same surface, closed as before,
// and that a fine one is left alone.
func TestRefined(t *testing.T) {
	m, err := mesh.Extrude(mesh.Region{Outer: []mesh.Vec2{{}, {X: 100}, {X: 100, Y: 2}, {X: 50, Y: 9}, {Y: 7}}}, 0, 20)
	require.NoError(t, err)
	fine := refined(m)
	require.NoError(t, fine.Validate())
	assert.InDelta(t, m.Volume(), fine.Volume(), 1e-6)
	assert.InDelta(t, m.Area(), fine.Area(), 1e-6)
	for i := range fine.Faces {
		a, b, c := fine.Triangle(i)
		for _, e := range [][2]mesh.Vec{{a, b}, {b, c}, {c, a}} {
			assert.LessOrEqual(t, e[1].Sub(e[0]).Norm(), longEdge)
		}
	}
	assert.Equal(t, fine.Faces, refined(fine).Faces)
}
