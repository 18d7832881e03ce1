package main

import (
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

var update = flag.Bool("update", false, "write the golden tables anew")

// TestGoldenTables holds what the program prints against the tables that were
// last looked at. A change is to be meant: look at the difference, then run
// the test with -update.
func TestGoldenTables(t *testing.T) {
	for name, args := range map[string][]string{
		"stations-demo.csv":    {"stations", "--format", "csv"},
		"stations-demo.txt":    {"stations"},
		"stations-demo-in.txt": {"stations", "--at", "1,5,12,x=-12", "--in"},
		"stations-siskin.csv":  {"stations", "../../testdata/specs/siskin.toml", "--format", "csv"}, // a spec in inches

		"stations-siskin-mm.csv": {"stations", "../../testdata/specs/siskin.toml", "--format", "csv", "--mm"},
		"check-demo.txt":         {"check"},
		"fit-old-flat-top.txt":   {"fit", "../../testdata/readings/old-flat-top.csv", "--name", "Old flat-top"},
		"progress-tern.txt":      {"progress", "-", "../../testdata/readings/tern-third-evening.csv"},
	} {
		r := call(spec.Starter(), args...)
		require.Equal(t, exitDone, r.code, r.err)
		path := filepath.Join("../../testdata/golden", name)
		if *update {
			require.NoError(t, os.WriteFile(path, []byte(r.out), 0o666))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err)
		assert.Equal(t, string(want), r.out, name)
	}
}
