package step_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export/step"
	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/necktest"
)

// rod returns a cylinder from p, with an axis as long as itself.
func rod(t testing.TB, p, axis mesh.Vec, radius float64) *brep.Solid {
	s, err := brep.Turned("hole", p, axis.Unit(), brep.Ring{Radius: radius}, brep.Ring{At: axis.Norm(), Radius: radius})
	require.NoError(t, err)
	return s
}

// TestCutByKernels has FreeCAD and gmsh read the demo's wood with holes through its
// free surfaces: one aslant, over the seam of both sides and into the channel, one
// across, and one that crosses that.
func TestCutByKernels(t *testing.T) {
	if testing.Short() {
		t.Skip("kernels are slow to start")
	}
	m, err := exact.Build(necktest.Demo(t), neck.PartWood)
	require.NoError(t, err)
	s, err := brep.Subtract(m[0].Solid,
		rod(t, mesh.Vec{X: 90, Y: 3, Z: -40}, mesh.Vec{X: 10, Z: 50}, 4),
		rod(t, mesh.Vec{X: 250, Y: -50, Z: -6}, mesh.Vec{X: 5, Y: 100}, 2),
		rod(t, mesh.Vec{X: 252, Y: 14, Z: -40}, mesh.Vec{Z: 50}, 3))
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, step.Write(&b, []step.Part{{Solid: s}}, step.Options{}))
	file := filepath.Join(t.TempDir(), "holes.step")
	require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
	t.Run("gmsh", func(t *testing.T) {
		gmsh, err := exec.LookPath("gmsh")
		if err != nil {
			t.Skip("gmsh is not installed")
		}
		said, err := exec.Command(gmsh, "-2", "-clmin", "6", "-clmax", "12", "-format", "stl", "-o", file+".stl", file).CombinedOutput()
		require.NoError(t, err, string(said))
		assert.NotContains(t, string(said), "Error")
		assert.NotContains(t, string(said), "Warning")
	})
	t.Run("FreeCAD", func(t *testing.T) {
		if !drawn.All() {
			t.Skip("costly: DRAWN=all has it run")
		}
		r := runKernel(t, []kernelJob{{File: file, Stations: []float64{}, Box: []float64{100, 0, -100, 400, 100, 200}, Deep: true}})[0]
		require.Len(t, r.Solids, 1)
		assert.True(t, r.Solids[0].Valid)
		assert.False(t, r.Solids[0].SelfIntersect)
		assert.Less(t, r.Solids[0].Tolerance, 0.005)
		assert.InEpsilon(t, s.Volume(), r.Solids[0].Volume, kernelVolume)
		assert.True(t, r.Whole)
		assert.InEpsilon(t, s.Volume(), r.Left+r.Taken, kernelVolume)
	})
}
