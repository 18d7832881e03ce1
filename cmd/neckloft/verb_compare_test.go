package main

import (
	"encoding/csv"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// specFile returns the path of a spec of the tests, from any folder.
func specFile(t *testing.T, name string) string {
	t.Helper()
	path, err := filepath.Abs("../../testdata/specs/" + name + ".toml")
	require.NoError(t, err)
	return path
}

func TestComparePrints(t *testing.T) {
	a, b := specFile(t, "sanderling"), specFile(t, "redshank")
	r := call("", "compare", a, b)
	require.Equal(t, exitDone, r.code, r.err)
	for _, want := range []string{
		"A: Sanderling 24", "B: Redshank 655", "fret 12", "B (Redshank 655) against A:",
		"thicker throughout", "stiffer in the middle third", "An estimate", "Passed over as too small",
	} {
		assert.Contains(t, r.out, want)
	}

	r = call("", "compare", a, b, "--format", "csv", "--at", "1,x=120")
	require.Equal(t, exitDone, r.code, r.err)
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	assert.Len(t, rows, 5)
	assert.Equal(t, "x=120mm", rows[3][0])

	r = call("", "compare", a, b, "--format", "json", "--table", "necks", "--in")
	require.Equal(t, exitDone, r.code, r.err)
	var necks []map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.out), &necks))
	require.Len(t, necks, 2)
	assert.Equal(t, "Redshank 655", necks[1]["name"])
	assert.Contains(t, necks[1], "bow_in")

	// One of them from standard input.
	r = call(spec.Starter(), "compare", "-", b)
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "A: Tern 636")
}

func TestCompareWrites(t *testing.T) {
	b := specFile(t, "siskin")
	inFolder(t)
	require.NoError(t, os.WriteFile("demo.toml", []byte(spec.Starter()), 0o666))
	a := "demo.toml"
	r := call("", "compare", a, b, "--size", "600", "--align", "apex",
		"-o", "c.png", "-o", "c.svg", "-o", "c.pdf", "-o", "c.csv", "-o", "c.json", "-o", "c.txt")
	require.Equal(t, exitDone, r.code, r.err)
	for name, start := range map[string]string{
		"c.png": "\x89PNG", "c.svg": "<?xml", "c.pdf": "%PDF-", "c.csv": "station,spec,name,x_mm", "c.json": "[", "c.txt": "station",
	} {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		assert.True(t, strings.HasPrefix(string(data), start), "%s begins with %.20q", name, data)
	}
	text, err := os.ReadFile("c.txt")
	require.NoError(t, err)
	assert.Equal(t, r.out, string(text))
}

// TestCompareOldWord checks that a word that had another name is still read, with
// the new one said.
func TestCompareOldWord(t *testing.T) {
	a, b := specFile(t, "sanderling"), specFile(t, "redshank")
	inFolder(t)
	now := call("", "compare", a, b, "--view", "sections", "--align", "apex", "-o", "now.svg")
	was := call("", "compare", a, b, "--view", "sections", "--align", "crown", "-o", "was.svg")
	require.Equal(t, exitDone, was.code, was.err)
	assert.Contains(t, was.err, "neckloft: warning: --align crown is called --align apex now")
	assert.NotContains(t, now.err, "--align")
	assert.Equal(t, now.out, was.out)
	assert.Equal(t, readingsText(t, "now.svg"), readingsText(t, "was.svg"))
}

func TestCompareRefuses(t *testing.T) {
	a, b := specFile(t, "sanderling"), specFile(t, "redshank")
	inFolder(t)
	for want, args := range map[string][]string{
		"compare: 1 spec; allowed: 2 to 6":   {a},
		"compare: 7 specs; allowed: 2 to 6":  {a, a, a, a, a, a, a},
		`--format "xml" is unknown`:          {a, b, "--format", "xml"},
		`--table "all" is unknown`:           {a, b, "--table", "all"},
		`--view "top" is unknown`:            {a, b, "--view", "top"},
		`--align "nut" is unknown`:           {a, b, "--align", "nut"},
		`--size "wide" is not understood`:    {a, b, "--size", "wide"},
		`-o "x.gif": the file's ending`:      {a, b, "-o", "x.gif"},
		"off the wood":                       {a, b, "--at", "x=900"},
		"--at: station":                      {a, b, "--at", "five"},
		`"-" is given twice`:                 {"-", "-"},
		"there is no such file":              {a, "missing.toml"},
		"a preview cannot be 20 pixels wide": {a, b, "-o", "x.png", "--size", "20"},
	} {
		r := call(spec.Starter(), append([]string{"compare"}, args...)...)
		assert.Equal(t, exitUsage, r.code, "%v", args)
		assert.Contains(t, r.err, strings.TrimPrefix(want, "--view "), "%v", args)
		assert.Empty(t, r.out, "%v", args)
	}
	r := call("", "compare", a, b, "-o", "nowhere/x.png")
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, r.err, "nowhere")
	entries, err := os.ReadDir(".")
	require.NoError(t, err)
	assert.Empty(t, entries, "nothing is left behind")
}

func TestPreviewMap(t *testing.T) {
	inFolder(t)
	r := call("", "preview", "--map", "thickness", "--size", "600", "-o", "map.png")
	require.Equal(t, exitDone, r.code, r.err)
	data, err := os.ReadFile("map.png")
	require.NoError(t, err)
	assert.True(t, strings.HasPrefix(string(data), "\x89PNG"))
	for want, args := range map[string][]string{
		`--map "depth" is unknown; allowed: thickness`: {"--map", "depth"},
		"--map and --view exclude each other":          {"--map", "thickness", "--view", "back"},
		"give its width alone":                         {"--map", "thickness", "--size", "900x600"},
	} {
		r := call("", append([]string{"preview"}, args...)...)
		assert.Equal(t, exitUsage, r.code)
		assert.Contains(t, r.err, want)
	}
}

func TestStationsDeep(t *testing.T) {
	plain := call("", "stations", "--format", "csv")
	deep := call("", "stations", "--format", "csv", "--deep")
	require.Equal(t, exitDone, deep.code, deep.err)
	a, b := strings.Split(plain.out, "\n"), strings.Split(deep.out, "\n")
	require.Equal(t, len(a), len(b))
	for i := range a {
		assert.True(t, strings.HasPrefix(b[i], strings.TrimRight(a[i], "\r")), "the columns of the contract come first, as they are")
	}
	assert.Contains(t, call("", "stations", "--deep").out, "EI wood")
	assert.Contains(t, made(t, "").out, "bow without rod")
}

// TestCompareSame checks the warning of specs that say the same, and that there
// is none of others.
func TestCompareSame(t *testing.T) {
	inFolder(t)
	write := func(name string, changes ...string) {
		text := strings.NewReplacer(changes...).Replace(spec.Starter())
		require.NoError(t, os.WriteFile(name, []byte(text), 0o666))
	}
	write("a.toml")
	write("copy.toml", "# ", "#  ")
	write("named.toml", "Tern 636", "Tern again")
	write("other.toml", "total = 20.6", "total = 20.7")
	for args, want := range map[string]string{
		"a.toml a.toml":                "a.toml (A) and a.toml (B) are the same spec: there is no difference between them",
		"a.toml copy.toml":             "a.toml (A) and copy.toml (B) are the same spec: ",
		"a.toml named.toml":            "a.toml (A) and named.toml (B) are the same spec but for the name: ",
		"a.toml other.toml copy.toml":  "a.toml (A) and copy.toml (C) are the same spec: ",
		"a.toml other.toml":            "",
		"other.toml named.toml":        "",
		"other.toml a.toml other.toml": "other.toml (A) and other.toml (C) are the same spec: ",
	} {
		r := call("", append([]string{"compare"}, strings.Fields(args)...)...)
		assert.Equal(t, exitDone, r.code, r.err)
		assert.NotEmpty(t, r.out, "the tables come all the same")
		if want == "" {
			assert.NotContains(t, r.err, "the same spec", args)
		} else {
			assert.Equal(t, 1, strings.Count(r.err, "the same spec"), args)
			assert.Contains(t, r.err, "neckloft: warning: "+want, args)
		}
	}
}
