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

	"github.com/spf13/pflag"
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
func sameAsLine(t *testing.T, file, what string, data []byte, flags ...string) {
	t.Helper()
	dir := t.TempDir()
	r := call("", append([]string{"jigs", file, "--what", what, "-o", filepath.Join(dir, bench.JigFolder)}, flags...)...)
	require.Equal(t, exitDone, r.code, r.err)
	for _, ending := range millFormats {
		if len(flags) > 0 {
			break // which are of jigs
		}
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

// askingOf returns what asks an engine of a page about a spec.
func askingOf(t *testing.T, file string) func(kind string, body map[string]any) []byte {
	engine := live.NewEngine(live.Options{Cautions: export.Cautions})
	return func(kind string, body map[string]any) []byte {
		t.Helper()
		body["text"] = string(textOf(file))
		in, err := json.Marshal(body)
		require.NoError(t, err)
		r := engine.Answer(context.Background(), kind, in)
		require.Equal(t, 200, r.Status, "%s", r.Data)
		return r.Data
	}
}

// TestExtraFilesAreThoseOfTheCommandLine asks the engine of the page for jigs of a
// left-handed neck in inches, flat ones and others, and for its set-up on a mill, and
// compares the bytes.
func TestExtraFilesAreThoseOfTheCommandLine(t *testing.T) {
	file := filepath.Join("..", "..", "testdata", "specs", "lapwing.toml")
	ask := askingOf(t, file)
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

// TestJigOptionsAreThoseOfTheCommandLine has the page's options be the flags of jigs,
// make the same bytes of them, and refuse with the same words.
func TestJigOptionsAreThoseOfTheCommandLine(t *testing.T) {
	file := filepath.Join("..", "..", "testdata", "specs", "lapwing.toml")
	ask := askingOf(t, file)
	var x struct {
		Options []struct{ Name, Kind, Help, Usual string }
		Jigs    []struct{ Name string }
		Fault   *struct{ Option, Error string }
	}
	require.NoError(t, json.Unmarshal(ask("extra", map[string]any{}), &x))
	require.Nil(t, x.Fault)
	// All flags but those that say which jigs, and where to.
	p := program{err: io.Discard}
	flags := map[string]bool{}
	p.jigsVerb().Flags().VisitAll(func(f *pflag.Flag) { flags[f.Name] = true })
	for _, name := range []string{"output", "what", "list", "paper"} {
		require.True(t, flags[name], name)
		delete(flags, name)
	}
	for _, o := range x.Options {
		require.True(t, flags[o.Name], o.Name)
		require.Contains(t, p.jigsVerb().Flags().Lookup(o.Name).Usage, o.Help)
		delete(flags, o.Name)
	}
	require.Empty(t, flags)

	asked := map[string]string{"lining": "3mm", "clearance": "0.02", "bed": "300x250", "at": "2,6", "joints": "pins", "format": "stl", "height": "3-1/2in", "size": "481"}
	line := []string{}
	for name, value := range asked {
		line = append(line, "--"+name, value)
	}
	only := []string{"jigs/rest", "jigs/bevels"}
	sameAsLine(t, file, "rest,bevels", ask("make", map[string]any{"name": "all.zip", "only": only, "jigs": asked}), line...)
	require.NotEqual(t, ask("picture", map[string]any{"name": "jigs/rest"}), ask("picture", map[string]any{"name": "jigs/rest", "jigs": asked}), "the picture shows the options")

	for name, value := range map[string]string{"lining": "2in", "length": "5mm", "bed": "30x30", "at": "x=", "dowel": "0", "fit": "much", "tolerance": "9", "size": "420"} {
		x.Jigs = nil
		require.NoError(t, json.Unmarshal(ask("extra", map[string]any{"jigs": map[string]string{name: value}}), &x))
		require.NotNil(t, x.Fault, name)
		require.Equal(t, name, x.Fault.Option)
		require.Empty(t, x.Jigs)
		r := call("", "jigs", file, "--"+name, value, "-o", t.TempDir())
		require.Equal(t, exitUsage, r.code)
		require.Equal(t, "neckloft: --"+name+": "+x.Fault.Error+"\n", r.err)
		x.Fault = nil
	}
}
