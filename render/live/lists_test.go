package live

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestListsAreNeverNull has no list of an answer be null where a neck has nothing to
// put into it: a page goes through them all.
func TestListsAreNeverNull(t *testing.T) {
	files, err := filepath.Glob("../../testdata/specs/*.toml")
	require.NoError(t, err)
	e := NewEngine(Options{})
	fretless := false
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		j := e.judged(string(text))
		require.NotNil(t, j.neck, file)
		m := &model{words: words{Problems: problemsOf(j.problems)}, meshes: meshes{Meshes: []meshInfo{}}}
		e.figures(t.Context(), m, j, &modelRequest{X: -30})
		out, err := m.head()
		require.NoError(t, err)
		at := strings.Index(string(out), "null")
		require.Negative(t, at, "%s: %s", file, string(out)[max(0, at-60):max(0, at)+4])
		fretless = fretless || strings.Contains(string(text), "frets  = 0")
	}
	require.True(t, fretless)
}
