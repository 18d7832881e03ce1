package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/export/bench"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// result is what one call of the program left behind.
type result struct {
	code     int
	out, err string
}

func call(in string, args ...string) result {
	var out, errs bytes.Buffer
	code := run(args, strings.NewReader(in), &out, &errs)
	return result{code, out.String(), errs.String()}
}

// inFolder moves the test into a folder of its own.
func inFolder(t *testing.T) string {
	dir := t.TempDir()
	t.Chdir(dir)
	return dir
}

// demoProducts are the files that make writes of the built-in neck, but for the
// index.
func demoProducts() []bench.Product {
	n, err := neck.New(spec.Demo())
	if err != nil {
		panic(err)
	}
	return bench.New(n, nil).Products
}

func TestMakeWritesEveryProduct(t *testing.T) {
	r := made(t, "")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Equal(t, "out", verbNamed("make").Flags().Lookup("output").DefValue)
	assert.Contains(t, r.err, "built-in demo neck")
	index, err := os.ReadFile(filepath.Join(r.dir, "index.md"))
	require.NoError(t, err)
	for _, p := range demoProducts() {
		info, err := os.Stat(filepath.Join(r.dir, p.File))
		require.NoError(t, err)
		assert.Positive(t, info.Size(), p.File)
		assert.Contains(t, string(index), "["+p.File+"]")
	}
	// The numbers that a builder looks at first, on the terminal and in the
	// index.
	for _, want := range []string{"wood at fret 1", "wood at fret 12", "back slope", "least cover", "weight"} {
		assert.Contains(t, r.out, want)
		assert.Contains(t, string(index), want)
	}
	assert.Contains(t, string(index), "against the cutter's rotation")
	entries, err := os.ReadDir(r.dir)
	require.NoError(t, err)
	assert.Len(t, entries, len(demoProducts())+1, "nothing but the products and the index")
}

// TestMakeIsDeterministic checks that the same spec gives the same bytes.
func TestMakeIsDeterministic(t *testing.T) {
	a, b := made(t, ""), made(t, spec.Starter())
	require.Equal(t, exitDone, a.code)
	require.Equal(t, exitDone, b.code)
	want := filesIn(t, a.dir)
	require.Len(t, want, len(demoProducts())+1)
	for name, data := range filesIn(t, b.dir) {
		assert.True(t, data == want[name], name)
	}
}

func TestStarterFeedsEveryVerb(t *testing.T) {
	inFolder(t)
	starter := call("", "starter")
	require.Equal(t, exitDone, starter.code)
	for _, args := range [][]string{
		{"check", "-"}, {"stations", "-"}, {"mesh", "-"}, {"preview", "-", "--size", "600"},
	} {
		r := call(starter.out, args...)
		assert.Equal(t, exitDone, r.code, "%v: %s", args, r.err)
	}
}

// TestEverySpecOfTestdataIsMade makes the ninth and seventeenth spec, of which another
// test wants one too, or all.
func TestEverySpecOfTestdataIsMade(t *testing.T) {
	specs, err := filepath.Glob("../../testdata/specs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, specs)
	for i, spec := range specs {
		if (i == 0 || i%8 != 0) && !drawn.All() {
			continue // .ci/run makes them all
		}
		text, err := os.ReadFile(spec)
		require.NoError(t, err)
		r := made(t, string(text))
		require.Equal(t, exitDone, r.code, "%s: %s", spec, r.err)
		m, err := export.ReadSTLFile(filepath.Join(r.dir, "neck.stl"))
		require.NoError(t, err)
		require.NoError(t, m.Validate())
	}
}

func TestExitCodes(t *testing.T) {
	dir := inFolder(t)
	require.NoError(t, os.WriteFile("bad.toml", []byte("[scale]\nlenght = 636\n"), 0o666))
	require.NoError(t, os.WriteFile("empty.toml", nil, 0o666))
	require.NoError(t, os.WriteFile("a-file", nil, 0o666))
	for _, c := range []struct {
		args []string
		code int
		text string
	}{
		{[]string{"bogus"}, exitUsage, `verb "bogus" is unknown`},
		{[]string{"step", "a.toml", "-o", "x.step"}, exitUsage, `verb "step" is unknown; did you mean "neckloft mesh -o neck.step"?`},
		{[]string{"mehs", "--tolerance", "1"}, exitUsage, `verb "mehs" is unknown; did you mean "mesh"?`},
		{[]string{"mak"}, exitUsage, `did you mean "make"`},
		{[]string{"stations", "--bogus"}, exitUsage, "unknown flag"},
		{[]string{"stations", "a", "b"}, exitUsage, "at most 1"},
		{[]string{"stations", "--format", "xml"}, exitUsage, "text, csv, json"},
		{[]string{"stations", "--at", "1,"}, exitUsage, "not understood"},
		{[]string{"stations", "--at", "99"}, exitUsage, "off the wood"},
		{[]string{"stations", "--at", "1", "--every", "5mm"}, exitUsage, "exclude each other"},
		{[]string{"stations", "--every", "0"}, exitUsage, "more than 0"},
		{[]string{"stations", "--every", "nan"}, exitUsage, "not understood"},
		{[]string{"--versoin"}, exitUsage, `neckloft: unknown flag: --versoin; did you mean --version?; "neckloft --help"`},
		{[]string{"mesh", "--prat", "wood"}, exitUsage, `neckloft: mesh: unknown flag: --prat; did you mean --part?; "neckloft mesh --help"`},
		{[]string{"mesh", "-o", "neck.obj"}, exitUsage, "allowed: .stl, .3mf, .glb, .step, .stp, or - for STL"},
		{[]string{"mesh", "--part", "nut"}, exitUsage, "wood, board, both"},
		{[]string{"mesh", "--tolerance", "0.000001"}, exitUsage, "million triangles"},
		{[]string{"mesh", "--ascii", "-o", "neck.3mf"}, exitUsage, "--ascii"},
		{[]string{"mesh", "--ascii", "-o", "neck.glb"}, exitUsage, "--ascii"},
		{[]string{"preview", "--view", "inside"}, exitUsage, "allowed: sheet"},
		{[]string{"preview", "-o", "neck.jpg"}, exitUsage, ".png"},
		{[]string{"preview", "--size", "huge"}, exitUsage, "--size"},
		{[]string{"preview", "--size", "3"}, exitUsage, "allowed"},
		{[]string{"check", "missing.toml"}, exitUsage, "no such file"},
		{[]string{"check", dir}, exitUsage, "folder"},
		{[]string{"check", "empty.toml"}, exitUsage, "empty"},
		{[]string{"check", "bad.toml"}, exitUsage, "bad.toml:2: scale.lenght: unknown key (is length meant?)"},
		{[]string{"starter", "x"}, exitUsage, "no SPEC.toml"},
		{[]string{"make", "-o", "a-file/out"}, exitFailed, "a-file"},
		{[]string{"mesh", "-o", "missing/neck.stl"}, exitFailed, "missing"},
		{[]string{"stations", "-o", dir}, exitFailed, dir},
	} {
		r := call("", c.args...)
		assert.Equal(t, c.code, r.code, "%v: %s", c.args, r.err)
		assert.Contains(t, r.err, c.text, "%v", c.args)
		assert.NotContains(t, r.err, "internal error", "%v", c.args)
	}
}

// full is standard output on a full disk.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestCheckReportsAFullDisk(t *testing.T) {
	var errs bytes.Buffer
	assert.Equal(t, exitFailed, run([]string{"check"}, strings.NewReader(""), full{}, &errs))
	assert.Contains(t, errs.String(), "no space left")

	errs.Reset()
	wrongSpec := strings.Replace(spec.Starter(), "length = 636", "length = -1", 1)
	assert.Equal(t, exitUsage, run([]string{"check", "-"}, strings.NewReader(wrongSpec), full{}, &errs))
	assert.Contains(t, errs.String(), "scale.length")
}

func TestStationColumns(t *testing.T) {
	r := call("", "stations", "--format", "csv")
	require.Equal(t, exitDone, r.code)
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "station,x_mm,width_mm,total_mm,wood_mm,cover_mm,area_mm2,girth_mm,apex_y_mm,"+
		"depth_y-15_mm,depth_y-10_mm,depth_y-5_mm,depth_y0_mm,depth_y+5_mm,depth_y+10_mm,depth_y+15_mm,centre_mm",
		strings.Join(rows[0], ","))
	s := spec.Demo()
	assert.Len(t, rows, s.Scale.Frets+2)
	total, err := strconv.ParseFloat(rows[13][3], 64)
	require.NoError(t, err)
	assert.InDelta(t, s.Depth[1].Total, total, 0.0005)

	r = call("", "stations", "--at", "1,x=100,nut", "--format", "json")
	var objects []map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.out), &objects))
	require.Len(t, objects, 3)
	assert.Equal(t, "nut", objects[2]["station"])
	assert.Equal(t, "fret 1", objects[0]["station"])
	assert.InDelta(t, 20.6, objects[0]["total_mm"], 1e-9)

	r = call("", "stations", "--at", "12", "--in", "--format", "csv")
	rows, err = csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "x_in", rows[0][1])
	x, err := strconv.ParseFloat(rows[1][1], 64)
	require.NoError(t, err)
	assert.InDelta(t, 318/25.4, x, 0.0001)

	for line := range strings.SplitSeq(call("", "stations").out, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 100, line)
	}
}

// TestMeshFormats checks that ASCII, binary and 3MF agree.
func TestMeshFormats(t *testing.T) {
	inFolder(t)
	require.Equal(t, exitDone, call("", "mesh", "-o", "a.stl", "--part", "both").code)
	require.Equal(t, exitDone, call("", "mesh", "-o", "b.stl", "--part", "both", "--ascii").code)
	require.Equal(t, exitDone, call("", "mesh", "-o", "c.3mf", "--part", "both").code)
	a, err := export.ReadSTLFile("a.stl")
	require.NoError(t, err)
	b, err := export.ReadSTLFile("b.stl")
	require.NoError(t, err)
	assert.Equal(t, a, b)
	_, err = os.Stat("c.3mf")
	assert.NoError(t, err)

	file, err := os.ReadFile("a.stl")
	require.NoError(t, err)
	r := call("", "mesh", "-o", "-", "--part", "both")
	require.Equal(t, exitDone, r.code, r.err)
	assert.True(t, r.out == string(file), "standard output differs from the file")
}

// TestProgressIsSilentInAPipe checks that nothing but messages goes to
// standard error when it is no terminal.
func TestProgressIsSilentInAPipe(t *testing.T) {
	inFolder(t)
	r := call(spec.Starter(), "preview", "-", "--size", "600")
	require.Equal(t, exitDone, r.code)
	assert.NotContains(t, r.err, "\r")
	assert.NotContains(t, r.err, "%")
}

func BenchmarkMake(b *testing.B) {
	dir := b.TempDir()
	b.ReportAllocs()
	for b.Loop() {
		var errs bytes.Buffer
		if code := run([]string{"make", "-o", dir}, strings.NewReader(""), io.Discard, &errs); code != exitDone {
			b.Fatal(errs.String())
		}
	}
}
