package main

import (
	"bytes"
	"io"
	"os"
	"strings"
	"testing"

	"github.com/spf13/pflag"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// givenFiles writes a spec and readings under names that verbs might write, and
// returns what a file holds.
func givenFiles(t *testing.T) {
	t.Helper()
	inFolder(t)
	require.NoError(t, os.MkdirAll("out", 0o777))
	for _, name := range []string{"my.toml", "old.toml", "g.svg", "g-fret-5.svg", "g-2.stl", "p.pdf", "p.png", "t.pdf", "neck.stl", "c.csv",
		"out/plan.json", "out/index.md", "out/mine.toml"} {
		require.NoError(t, os.WriteFile(name, []byte(spec.Starter()), 0o666))
	}
	require.NoError(t, os.Link("my.toml", "hard.toml"))
	require.NoError(t, os.Link("p.png", "hard.png"))
	require.NoError(t, os.Symlink("my.toml", "soft.toml"))
	require.NoError(t, os.Symlink("../p.png", "out/preview.png"))
	require.NoError(t, os.Symlink("out", "way"))
	require.NoError(t, os.WriteFile("r.csv", []byte("kind,station,value_mm\ntotal,1,21.3\ntotal,12,23.5\n"), 0o666))
	require.NoError(t, os.Link("r.csv", "log.csv"))
}

// contents returns what the files of the folder hold, two levels deep.
func contents(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	for _, dir := range []string{".", "out"} {
		entries, err := os.ReadDir(dir)
		require.NoError(t, err)
		for _, e := range entries {
			path := dir + "/" + e.Name()
			if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() {
				data, err := os.ReadFile(path)
				require.NoError(t, err)
				out[path] = string(data)
			}
		}
	}
	return out
}

// TestNoVerbWritesOverAGivenFile checks every verb that writes, with the file's
// own name, another way to it, and links.
//
// Long, since it is one table of cases.
func TestNoVerbWritesOverAGivenFile(t *testing.T) {
	givenFiles(t)
	before := contents(t)
	for _, c := range []struct{ args, want string }{
		{"stations my.toml -o my.toml", "-o my.toml would write over the spec; give another name"},
		{"stations my.toml -o out/../my.toml", "-o out/../my.toml would write over the spec"},
		{"stations my.toml -o hard.toml --format csv", "-o hard.toml would write over the spec"},
		{"stations my.toml -o soft.toml", "-o soft.toml would write over the spec"},
		{"stations soft.toml -o my.toml", "-o my.toml would write over the spec"},
		{"mesh neck.stl", "-o neck.stl would write over the spec"},
		{"mesh my.toml -o hard.toml", "-o hard.toml would write over the spec"},
		{"preview p.png -o hard.png", "-o hard.png would write over the spec"},
		{"preview p.png --map thickness -o p.png", "-o p.png would write over the spec"},
		{"compare my.toml c.csv -o c.csv", "-o c.csv would write over the spec"},
		{"compare my.toml old.toml c.csv -o a.csv -o c.csv", "-o c.csv would write over the spec"},
		{"compare my.toml old.toml -o a.csv -o ./a.csv", "-o and -o are both ./a.csv"},
		{"plan p.pdf --pdf p.pdf", "--pdf p.pdf would write over the spec"},
		{"plan p.pdf -o p.pdf", "-o p.pdf would write over the spec"},
		{"plan my.toml --format csv -o soft.toml", "-o soft.toml would write over the spec"},
		{"gauges g.svg -o g.svg", "-o g.svg would write over the spec"},
		{"gauges t.pdf --sheet both -o t.pdf", "-o t.pdf would write over the spec"},
		{"gauges g-fret-5.svg --separate -o g.svg", "-o g.svg: g-fret-5.svg would write over the spec"},
		{"gauges g-2.stl --bed 120x80 -o g.stl", "-o g.stl: g-2.stl would write over the spec"},
		{"make out/plan.json", "-o out: out/plan.json would write over the spec"},
		{"make out/index.md -o way", "-o way: way/index.md would write over the spec"},
		{"make p.png -o out", "-o out: out/preview.png would write over the spec"},
		{"make hard.png -o out", "-o out: out/preview.png would write over the spec"},
		{"make my.toml -o my.toml", "-o my.toml would write over the spec"},
		{"fit r.csv --spec my.toml -o soft.toml", "-o soft.toml would write over the base spec"},
		{"fit r.csv -o log.csv", "-o log.csv would write over the readings"},
		{"fit r.csv --spec p.png --picture hard.png", "--picture hard.png would write over the base spec"},
		{"fit --scan my.toml -o hard.toml", "-o hard.toml would write over the scan"},
		{"progress my.toml r.csv --log log.csv", "--log log.csv would write over the readings"},
		{"progress my.toml r.csv --rescue=hard.toml", "--rescue hard.toml would write over the spec"},
		{"progress p.png r.csv --picture hard.png", "--picture hard.png would write over the spec"},
		{"progress --history --log r.csv -o log.csv", "--log and -o are both log.csv"},
	} {
		r := call("", strings.Fields(c.args)...)
		assert.Equal(t, exitUsage, r.code, "%s: %s", c.args, r.err)
		assert.Contains(t, r.err, c.want, c.args)
		assert.Empty(t, r.out, c.args)
		if !strings.Contains(c.want, ": g-") {
			// The names of gauges come last.
			assert.NotContains(t, r.err, "warning", "%s: refused before the spec is read", c.args)
		}
	}
	assert.Equal(t, before, contents(t), "nothing was written and nothing removed")

	// Beside the given files everything may be written, over older files too.
	for _, args := range []string{
		"make out/mine.toml -o out", "stations my.toml -o old.toml", "gauges g.svg --separate -o h.svg", "compare my.toml soft.toml -o c.csv",
		"mesh my.toml -o -", "stations my.toml -o " + os.DevNull, "stations missing.toml -o my.toml",
	} {
		if strings.HasPrefix(args, "make") && !drawn.All() {
			continue // another test makes into a folder that has files
		}
		r := call("", strings.Fields(args)...)
		if strings.Contains(args, "missing") {
			assert.Contains(t, r.err, "missing.toml: ", args)
			continue
		}
		assert.Equal(t, exitDone, r.code, "%s: %s", args, r.err)
	}
	assert.Equal(t, spec.Starter(), contents(t)["./my.toml"])
	assert.Equal(t, spec.Starter(), contents(t)["out/mine.toml"])
}

// TestStandardInputIsAGivenFile checks a spec that the shell opened.
func TestStandardInputIsAGivenFile(t *testing.T) {
	givenFiles(t)
	for _, c := range []struct{ args, want string }{
		{"stations - -o hard.toml", "-o hard.toml would write over the spec"},
		{"fit r.csv --spec - -o my.toml", "-o my.toml would write over the base spec"},
		{"stations - -o new.csv", ""},
		{"stations - -o " + os.DevNull, ""},
		{"stations -", ""},
		{"stations old.toml -o my.toml", ""}, // standard input is not read
	} {
		f, err := os.Open("my.toml")
		require.NoError(t, err)
		var errs bytes.Buffer
		code := run(strings.Fields(c.args), f, io.Discard, &errs)
		f.Close()
		if c.want == "" {
			assert.Equal(t, exitDone, code, "%s: %s", c.args, errs.String())
			continue
		}
		assert.Equal(t, exitUsage, code, c.args)
		assert.Contains(t, errs.String(), c.want, c.args)
	}
	null, err := os.Open(os.DevNull)
	require.NoError(t, err)
	defer null.Close()
	var errs bytes.Buffer
	run([]string{"stations", "-", "-o", os.DevNull}, null, io.Discard, &errs)
	assert.NotContains(t, errs.String(), "would write over")
}

// TestWriteRefusesAGivenFile checks the last look, at a name that no flag has.
func TestWriteRefusesAGivenFile(t *testing.T) {
	givenFiles(t)
	p := &program{given: []namedFile{{name: "the spec", path: "my.toml"}}}
	err := p.write("hard.toml", func(io.Writer) error { panic("not reached") })
	assert.EqualError(t, err, "the file hard.toml would write over the spec; give another name")
	assert.Equal(t, exitUsage, exitCode(err))
}

// TestEveryFileFlagIsKnown fails for a flag of a new verb that might be a file
// and that nobody has said so of, and for one that is called so and is none.
func TestEveryFileFlagIsKnown(t *testing.T) {
	files := map[string]string{
		"output": "", "pdf": "", "picture": "", "rescue": "", "log": "", "spec": "", "scan": "", "tools": "", "graph": "",
	}
	for _, verb := range (&program{}).verbs() {
		verb.Flags().VisitAll(func(fl *pflag.Flag) {
			_, known := files[fl.Name]
			assert.Equal(t, known, len(fl.Annotations) > 0, "%s --%s", verb.Name(), fl.Name)
			if !known && fl.Value.Type() != "bool" {
				for _, word := range []string{"file", "folder", "write", "writes"} {
					assert.NotContains(t, strings.Fields(fl.Usage), word, "%s --%s: a file?", verb.Name(), fl.Name)
				}
			}
		})
	}
}
