package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestRadiusGaugesOnPaper writes gauges of the crown on both papers: those that go
// on one page take one, whatever the size of the bed.
func TestRadiusGaugesOnPaper(t *testing.T) {
	for _, paper := range []string{"a4", "letter"} {
		for _, bed := range []string{"220x220", "500x500"} {
			path := filepath.Join(t.TempDir(), "r.pdf")
			r := call("", "board", "../../testdata/specs/lapwing.toml", "--what", "radius", "--at", "1,5,9,12", "--bed", bed, "--paper", paper, "-o", path)
			require.Equal(t, 0, r.code, r.err)
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			assert.Equal(t, 1, bytes.Count(data, []byte("/Type /Page\n")), "%s, %s", paper, bed)
		}
	}
	r := call("", "board", "../../testdata/specs/lapwing.toml", "--what", "wire", "--paper", "a4")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, "--paper goes with")
}
