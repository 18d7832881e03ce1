package live_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestBundleMatchesSource builds the page's script anew from its source, with
// the command that package.json has, and compares the bytes.
func TestBundleMatchesSource(t *testing.T) {
	esbuild, err := filepath.Abs("web/node_modules/.bin/esbuild")
	require.NoError(t, err)
	if _, err := os.Stat(esbuild); err != nil {
		t.Skip("render/live/web/node_modules is not there; \"npm ci\" in render/live/web installs what builds the bundle")
	}
	data, err := os.ReadFile("web/package.json")
	require.NoError(t, err)
	_, rest, ok := strings.Cut(string(data), `"build": "esbuild `)
	require.True(t, ok)
	line, _, ok := strings.Cut(rest, `"`)
	require.True(t, ok)
	const committed = "--outfile=../page/app.js"
	require.Contains(t, line, committed)
	out := filepath.Join(t.TempDir(), "app.js")
	cmd := exec.Command(esbuild, strings.Fields(strings.Replace(line, committed, "--outfile="+out, 1))...)
	cmd.Dir = "web"
	said, err := cmd.CombinedOutput()
	require.NoError(t, err, string(said))
	want, err := os.ReadFile(out)
	require.NoError(t, err)
	got, err := os.ReadFile("page/app.js")
	require.NoError(t, err)
	require.True(t, string(want) == string(got), "page/app.js is not what its source builds; run \"npm run build\" in render/live/web")
}
