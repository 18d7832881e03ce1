package main

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/json"
	"io"
	"os"
	"path"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/export/bench"
	"neckloft/render/live"
)

// extraNames are what a page offers beside the files of make.
type extraNames struct {
	Jigs     []struct{ Name, Title, Cause string }
	Products []struct{ Name, Missing string }
}

// sameAsLine holds a zip of jigs and of the mill's files against what the command
// line writes for a spec.
func sameAsLine(t *testing.T, file, what string, data []byte) {
	t.Helper()
	dir := t.TempDir()
	r := call("", "jigs", file, "--what", what, "-o", filepath.Join(dir, bench.JigFolder))
	require.Equal(t, exitDone, r.code, r.err)
	for _, ending := range millFormats {
		r := call("", "mill", file, "-o", filepath.Join(dir, "mill"+ending))
		require.Equal(t, exitDone, r.code, r.err)
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	require.NoError(t, err)
	var names, written []string
	for _, f := range z.File {
		names = append(names, f.Name)
		in, err := f.Open()
		require.NoError(t, err)
		got, err := io.ReadAll(in)
		require.NoError(t, err)
		want, err := os.ReadFile(filepath.Join(dir, filepath.FromSlash(f.Name)))
		require.NoError(t, err)
		require.True(t, bytes.Equal(want, got), "%s: %d bytes, and %d of the command line", f.Name, len(got), len(want))
	}
	require.NoError(t, filepath.WalkDir(dir, func(p string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			at, _ := filepath.Rel(dir, p)
			written = append(written, filepath.ToSlash(at))
		}
		return err
	}))
	require.ElementsMatch(t, written, names)
}

// TestExtraFilesAreThoseOfTheCommandLine asks the engine of the page for jigs of a
// left-handed neck in inches, flat ones and others, and for its set-up on a mill, and
// compares the bytes.
func TestExtraFilesAreThoseOfTheCommandLine(t *testing.T) {
	engine := live.NewEngine(live.Options{Cautions: export.Cautions})
	file := filepath.Join("..", "..", "testdata", "specs", "lapwing.toml")
	ask := func(kind string, body map[string]any) []byte {
		body["text"] = string(textOf(file))
		in, err := json.Marshal(body)
		require.NoError(t, err)
		r := engine.Answer(context.Background(), kind, in)
		require.Equal(t, 200, r.Status, "%s", r.Data)
		return r.Data
	}
	var x extraNames
	require.NoError(t, json.Unmarshal(ask("extra", map[string]any{}), &x))
	offered := []string{}
	for _, j := range x.Jigs {
		require.Equal(t, path.Join(bench.JigFolder, j.Title), j.Name)
		offered = append(offered, j.Title)
	}
	require.Subset(t, offered, []string{"bevels", "rest", "rails"})
	only := []string{"jigs/bevels", "jigs/rest", "jigs/rails"}
	for _, p := range x.Products {
		require.Empty(t, p.Missing)
		only = append(only, p.Name)
	}
	require.Len(t, only, 6)
	sameAsLine(t, file, "bevels,rest,rails", ask("make", map[string]any{"name": "all.zip", "only": only}))
	require.NotEmpty(t, ask("picture", map[string]any{"name": "jigs/rest"}))
	require.True(t, bytes.HasPrefix(ask("make", map[string]any{"name": "mill.pdf"}), []byte("%PDF")))
	// Among the files of make, no more than was asked for.
	z := string(ask("make", map[string]any{"name": "all.zip", "only": []string{"stations.csv", "jigs/rest"}}))
	for name, there := range map[string]bool{"stations.csv": true, "jigs/rest.3mf": true, "mill.pdf": false, "jigs/bevels.3mf": false, "index.md": true} {
		require.Equal(t, there, strings.Contains(z, name), name)
	}
}
