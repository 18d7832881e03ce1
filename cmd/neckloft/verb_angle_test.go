package main

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/neck/spec"
)

// example is a neck of the worked example of common practice, no published
// source: its scale, board and joint.
const angleExample = `name = "Angle"
[scale]
length = 645.16
frets = 20
[width]
nut = 44
end = 56
[board]
thickness = 6.35
[[depth]]
fret = 1
total = 21
[heel]
kind = "cap"
start = { fret = 11 }
full = { fret = 12.8 }
end = { fret = 14 }
total = 90
width = 55
cap_width = 28
rake = 0.5
[bridge]
height = 9.525
compensation = 3
`

func angleRows(t *testing.T, out string) []map[string]float64 {
	t.Helper()
	records, err := csv.NewReader(strings.NewReader(out)).ReadAll()
	require.NoError(t, err)
	var rows []map[string]float64
	for _, r := range records[1:] {
		row := map[string]float64{}
		for i, key := range records[0] {
			row[key], err = strconv.ParseFloat(r[i], 64)
			require.NoError(t, err)
		}
		rows = append(rows, row)
	}
	return rows
}

func TestAngleVerb(t *testing.T) {
	r := call(angleExample, "angle", "-", "--gap", "0.4,1.6", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	rows := angleRows(t, r.out)
	require.Len(t, rows, 2)
	assert.InDelta(t, 290.39, rows[0]["length_mm"], 0.005)
	assert.Equal(t, 0.508, rows[0]["angle_deg"])
	assert.Equal(t, 0.745, rows[1]["angle_deg"])
	deep := 90 - 6.35
	assert.InDelta(t, deep*(math.Tan(0.745*math.Pi/180)-math.Tan(0.5*math.Pi/180)), rows[1]["cut_mm"], 0.001)

	// Back from the angle and from the cut to the gap.
	for _, args := range [][]string{{"--rake", "0.745"}, {"--cut", strconv.FormatFloat(rows[1]["cut_mm"], 'f', -1, 64)}} {
		r = call(angleExample, append([]string{"angle", "-", "--format", "csv"}, args...)...)
		require.Equal(t, exitDone, r.code, r.err)
		assert.InDelta(t, 1.6, angleRows(t, r.out)[0]["gap_mm"], 0.01, args)
	}

	// Flags go before the spec, and inches are inches.
	r = call(angleExample, "angle", "-", "--gap", "1", "--bridge", "0.5in", "--dome", "2", "--joint", "12", "--fret-height", "1.2", "--stand", "3", "--compensation", "2", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	row := angleRows(t, r.out)[0]
	assert.InDelta(t, 12.7+2+1-3-6.35-1.2, row["rise_mm"], 1e-9)
	assert.InDelta(t, 645.16/2+2, row["length_mm"], 0.001)

	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{"--shim", "1", "--rake", "1"}, "--shim, --cut and --rake exclude each other"},
		{[]string{"--gap", "1", "--rake", "1"}, "--gap is what"},
		{[]string{"--shim", "1"}, "with this heel give --cut"},
		{[]string{"--rake", "40"}, "allowed: -30 to 30 degrees"},
		{[]string{"--joint", "x=700"}, "past the saddle"},
		{[]string{"--bridge", "900"}, "--bridge 900 is not sensible"},
		{[]string{"--bridge", "-5"}, "--bridge -5 is not sensible; allowed: 0 mm to 100 mm"},
		{[]string{"--dome", "51"}, "allowed: -50 mm to 50 mm"},
		{[]string{"--compensation", "-1"}, "allowed: 0 mm to 30 mm"},
		{[]string{"--fret-height", "6"}, "allowed: 0 mm to 5 mm"},
		{[]string{"--stand", "-1"}, "allowed: 0 mm to 60 mm"},
		{[]string{"--gap", "1,51"}, "--gap 51 is not sensible; allowed: -20 mm to 50 mm"},
		{[]string{"--joint", "40"}, "there is no fret 40 on this neck; allowed: up to "},
		{[]string{"--joint", "x=-3"}, "x=-3 is not where a body can begin; allowed: x = 10 mm to the end of the neck"},
	} {
		r := call(angleExample, append([]string{"angle", "-"}, c.args...)...)
		assert.Equal(t, exitUsage, r.code, c.args)
		assert.Contains(t, r.err, c.want, c.args)
	}
	bare, _, _ := strings.Cut(angleExample, "[bridge]")
	r = call(bare, "angle", "-")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, "the spec has no [bridge]; give --bridge")
	assert.Contains(t, call(spec.Starter(), "angle", "-", "--bridge", "10", "--cut", "1").err, "with a pocket give --shim")

	path := filepath.Join(t.TempDir(), "a.png")
	require.Equal(t, exitDone, call(angleExample, "angle", "-", "--picture", path).code)
	info, err := os.Stat(path)
	require.NoError(t, err)
	assert.Greater(t, info.Size(), int64(10_000))
}

func TestTemplateVerb(t *testing.T) {
	bolts := "../../testdata/specs/wheatear.toml"
	dir := t.TempDir()
	for _, name := range []string{"a.pdf", "a.svg", "a.dxf", "a.stl", "a.3mf"} {
		path := filepath.Join(dir, name)
		r := call("", "template", bolts, "-o", path)
		require.Equal(t, exitDone, r.code, r.err)
		assert.Contains(t, r.err, "let out by the clearance of 0.1 mm")
		info, err := os.Stat(path)
		require.NoError(t, err)
		assert.Positive(t, info.Size())
	}
	// The plate has the volume of its outline less the opening.
	path := filepath.Join(dir, "b.stl")
	require.Equal(t, exitDone, call("", "template", bolts, "--of", "pocket", "--clearance", "0.2", "--cutter", "20", "--thickness", "9", "-o", path).code)
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	m, err := export.ReadSTL(f)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	s, err := spec.ReadFile(bolts)
	require.NoError(t, err)
	wide, long := s.Heel.Width+0.4, s.X(s.Heel.End)+0.2-s.X(s.Heel.Full)+12
	opening := wide*long - 2*(1-math.Pi/4)*100 // the bit's radius of 10 is the greater
	assert.InDelta(t, 9*((wide+70)*(long+70)-opening), m.Volume(), 3)

	for _, c := range []struct {
		args []string
		want string
	}{
		{[]string{bolts, "-o", "x.png"}, "allowed: .pdf, .svg, .dxf, .stl, .3mf"},
		{[]string{bolts, "--paper", "letter", "-o", "x.stl"}, "--paper goes with a .pdf file"},
		{[]string{bolts, "--thickness", "3", "-o", "x.pdf"}, "--thickness goes with .stl and .3mf"},
		{[]string{bolts, "--clearance", "9", "-o", "x.pdf"}, "--clearance 9 is not sensible"},
		{[]string{"../../testdata/specs/nightjar.toml", "--of", "holes", "-o", "x.pdf"}, "the spec gives no bolts and no inserts"},
		{[]string{"../../testdata/specs/dunnock.toml", "-o", "x.pdf"}, "needs a heel"},
	} {
		r := call("", append([]string{"template"}, c.args...)...)
		assert.Equal(t, exitUsage, r.code, c.args)
		assert.Contains(t, r.err, c.want, c.args)
	}
}
