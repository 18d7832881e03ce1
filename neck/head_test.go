package neck

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// headed returns a neck of testdata.
func headed(t *testing.T, name string) *Neck {
	s, err := spec.ReadFile(filepath.Join("..", "testdata", "specs", name+".toml"))
	require.NoError(t, err)
	n, err := New(s)
	require.NoError(t, err)
	return n
}

func TestHeadVolume(t *testing.T) {
	_ = os.Stdout
	for _, name := range []string{"turnstone", "corncrake"} {
		n := headed(t, name)
		m, err := n.Solid(PartWood, 0.005)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		t.Log(name, m.Volume(), n.WoodVolume(), n.HeadHoles(), n.HeadFull())
	}
	_ = math.Pi
	_ = assert.Equal
	_ = mesh.Vec{}
}
