package step_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/export/step"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/necktest"
)

// findGmsh returns the program, and skips the test where there is none.
func findGmsh(t *testing.T) string {
	gmsh, err := exec.LookPath("gmsh")
	if err != nil {
		t.Skip("gmsh is not installed")
	}
	if testing.Short() {
		t.Skip("a kernel is slow to start")
	}
	return gmsh
}

// TestByGmsh has gmsh read the demo's wood and make a mesh of its surface. It runs only
// with DRAWN=all: TestCutByKernels has the same wood meshed, with holes in it.
func TestByGmsh(t *testing.T) {
	drawn.Only(t)
	gmsh := findGmsh(t)
	dir := t.TempDir()
	file := filepath.Join(dir, "neck.step")
	n := necktest.Demo(t)
	require.NoError(t, os.WriteFile(file, []byte(written(t, n, neck.PartWood, step.Options{Name: "neck"})), 0o644))
	said, err := exec.Command(gmsh, "-2", "-clmin", "6", "-clmax", "12", "-format", "stl", "-o", filepath.Join(dir, "neck.stl"), file).CombinedOutput()
	require.NoError(t, err, string(said))
	assert.NotContains(t, string(said), "Error")
	assert.NotContains(t, string(said), "Warning")
}

// TestRandomByGmsh has gmsh's kernel measure the wood and the boards of random necks,
// all in one run: one solid in each file, with the volume that the file's writer knows.
//
// Long, since gmsh is started once for all of its parts.
// Without DRAWN=all it takes one of the two of a neck, the wood of every fourth.
func TestRandomByGmsh(t *testing.T) {
	gmsh := findGmsh(t)
	cases := 25 // of which a fifth are drawn
	if drawn.All() {
		cases = 100
	}
	dir := t.TempDir()
	var script strings.Builder
	var want []float64
	necks := 0
	drawn.Checks(t, cases, func(t *rapid.T) {
		n := necktest.Buildable(t)
		parts := []neck.Part{neck.PartWood, neck.PartBoard}
		if necks++; !drawn.All() {
			parts = parts[min(necks%4, 1):][:1] // wood costs ten times as much
		}
		for _, part := range parts {
			models, err := exact.Build(n, part)
			if err != nil {
				var no *exact.Unsupported
				var sharp *exact.TooSharp
				var uncut *exact.Uncut
				if !errors.As(err, &no) && !errors.As(err, &sharp) && !errors.As(err, &uncut) {
					t.Fatal(err)
				}
				continue
			}
			var b bytes.Buffer
			if err := step.Write(&b, []step.Part{{Solid: models[0].Solid}}, step.Options{Name: "random"}); err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(dir, fmt.Sprintf("%d.step", len(want)))
			if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
				t.Fatal(err)
			}
			want = append(want, models[0].Volume())
			fmt.Fprintf(&script, "SetFactory(\"OpenCASCADE\");\nv() = ShapeFromFile(\"%s\");\nm = Mass Volume {v(0)};\nPrintf(\"READ %%g %%.12g\", #v(), m);\nDelete All;\n", filepath.Base(file))
		}
	})
	file := filepath.Join(dir, "all.geo")
	require.NoError(t, os.WriteFile(file, []byte(script.String()), 0o644))
	out, err := exec.Command(gmsh, "-", file).CombinedOutput()
	require.NoError(t, err, string(out))
	i, over, worst := 0, 0, 0.0
	for _, line := range strings.Split(string(out), "\n") {
		assert.NotContains(t, line, "Error")
		_, line, ok := strings.Cut(line, "READ ")
		if !ok {
			continue
		}
		var count, volume float64
		_, err := fmt.Sscan(line, &count, &volume)
		require.NoError(t, err, line)
		assert.Equal(t, 1.0, count)
		off := math.Abs(volume/want[i] - 1)
		assert.Less(t, off, 3*kernelVolume, "file %d: %g mm³, and %g were written", i, volume, want[i])
		worst = math.Max(worst, off)
		if off > kernelVolume {
			over++
		}
		i++
	}
	t.Logf("of %d files %d are off by more than %g, the worst by %.2g", i, over, kernelVolume, worst)
	assert.Equal(t, len(want), i)
	// Its rule has too few places for some very small and sharp necks.
	assert.LessOrEqual(t, over, len(want)/100)
}
