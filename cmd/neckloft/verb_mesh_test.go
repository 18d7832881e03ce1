package main

import (
	"bytes"
	"fmt"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// TestMeshSaysItsTolerance writes the demo in either unit. A bare number is in
// the spec's, which for a tolerance is rarely what was meant.
func TestMeshSaysItsTolerance(t *testing.T) {
	inFolder(t)
	require.NoError(t, os.WriteFile("mm.toml", []byte(spec.Starter()), 0o600))
	s := spec.Demo()
	s.Units = spec.Inch
	var text bytes.Buffer
	require.NoError(t, s.WriteTOML(&text))
	require.NoError(t, os.WriteFile("in.toml", text.Bytes(), 0o600))
	for _, c := range []struct {
		file, tolerance, says string
		warns                 bool
	}{
		{"mm.toml", "", "0.02 mm", false},
		{"mm.toml", "0.05", "0.05 mm", false},
		{"mm.toml", "0.002in", "0.0508 mm", false},
		{"in.toml", "", "0.02 mm", false},
		{"in.toml", "0.05mm", "0.05 mm", false},
		{"in.toml", "0.002in", "0.0508 mm", false},
		{"in.toml", "0.02", "0.508 mm", true},
	} {
		args := []string{"mesh", c.file, "-o", "neck.stl"}
		if c.tolerance != "" {
			args = append(args, "--tolerance", c.tolerance)
		}
		r := call("", args...)
		require.Equal(t, exitDone, r.code, r.err)
		require.Regexp(t, `neck\.stl: wood, \d+ triangles within `+c.says+" of the surface\n$", r.err)
		warning := fmt.Sprintf("warning: --tolerance %s is in inches, as the spec is: %s; type %smm if millimetres are meant", c.tolerance, c.says, c.tolerance)
		if c.warns {
			require.Contains(t, r.err, warning)
		} else {
			require.NotContains(t, r.err, "is in inches")
		}
	}
}
