package main

import (
	"encoding/csv"
	"encoding/json"
	"fmt"
	"image/png"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hschendel/stl"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// oldNeck and evening are the readings of the README.
const (
	oldNeck = "../../testdata/readings/old-flat-top.csv"
	evening = "../../testdata/readings/tern-third-evening.csv"
)

// readingsText returns the text of an example file.
func readingsText(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	return string(text)
}

// TestFitFeedsMake checks that what fit writes is a spec that check, make and
// fit itself take: from readings in millimetres, in inches and in TOML, with a
// base spec, to a file and through a pipe.
//
// Long, since it is one table of cases.
func TestFitFeedsMake(t *testing.T) {
	old := readingsText(t, oldNeck)
	inches := inInches(t, old)
	inFolder(t)
	require.NoError(t, os.WriteFile("old.csv", []byte(old), 0o666))
	require.NoError(t, os.WriteFile("in.csv", []byte(inches), 0o666))
	require.NoError(t, os.WriteFile("my-neck.toml", []byte(spec.Starter()), 0o666))
	require.NoError(t, os.WriteFile("few.toml", []byte("units = \"mm\"\n[[total]]\nfret = 1\nvalue = 19.9\n[[total]]\nfret = 12\nvalue = 21.8\n"), 0o666))
	for name, args := range map[string][]string{
		"a.toml": {"fit", "old.csv"},
		"b.toml": {"fit", "in.csv", "--name", "In inches"},
		"c.toml": {"fit", "few.toml", "--spec", "my-neck.toml"},
		"d.toml": {"fit", "old.csv", "--targets", "3", "--profiles", "1", "--report", "ranges", "--format", "json"},
	} {
		r := call("", append(args, "-o", name)...)
		require.Equal(t, exitDone, r.code, "%s: %s", name, r.err)
		r = call("", "check", name)
		require.Equal(t, exitDone, r.code, "%s: %s", name, r.err)
		solid := filepath.Join("out", "neck.stl")
		args := []string{"make", name, "-o", "out"}
		if name != "a.toml" || !drawn.All() { // of the others their solid is enough
			solid = name + ".stl"
			args = []string{"mesh", name, "-o", solid}
		}
		r = call("", args...)
		require.Equal(t, exitDone, r.code, "%s: %s", name, r.err)
		m, err := export.ReadSTLFile(solid)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
	}
	a, err := spec.ReadFile("a.toml")
	require.NoError(t, err)
	b, err := spec.ReadFile("b.toml")
	require.NoError(t, err)
	assert.Equal(t, spec.Inch, b.Units)
	assert.Equal(t, "In inches", b.Name)
	// The same readings, rounded to a thousandth of an inch.
	assert.InDelta(t, a.Depth[0].Total, b.Depth[0].Total, 0.03)
	assert.InDelta(t, a.Profile[0].Bass, b.Profile[0].Bass, 0.02)
	c, err := spec.ReadFile("c.toml")
	require.NoError(t, err)
	assert.InDelta(t, 19.9, c.Depth[0].Total, 0.001)
	assert.Equal(t, spec.Demo().Heel, c.Heel, "kept from the base")
	d, err := spec.ReadFile("d.toml")
	require.NoError(t, err)
	assert.Len(t, d.Depth, 3)
	assert.Len(t, d.Profile, 1)

	// Through a pipe: the report stands as comments in front of the spec.
	r := call(old, "fit", "-")
	require.Equal(t, exitDone, r.code, r.err)
	for line := range strings.Lines(r.out[:strings.Index(r.out, "name =")]) {
		assert.True(t, strings.HasPrefix(line, "#"), line)
	}
	assert.Equal(t, exitDone, call(r.out, "check", "-").code)
	s, err := spec.Read(strings.NewReader(r.out), "-")
	require.NoError(t, err)
	assert.Equal(t, a.Depth, s.Depth)
	assert.Equal(t, a.Profile, s.Profile)
	// A fitted spec is a base for more readings.
	r = call("kind,station,value_mm\ntotal,1,21\ntotal,12,23\n", "fit", "-", "--spec", "a.toml", "-o", "e.toml")
	assert.Equal(t, exitDone, r.code, r.err)
	r = call(spec.Starter(), "fit", "few.toml", "--spec", "-", "-o", "f.toml")
	assert.Equal(t, exitDone, r.code, r.err)
}

// inInches returns readings in millimetres rewritten in inches, by the inch of
// 25.4 mm.
func inInches(t *testing.T, text string) string {
	t.Helper()
	r := csv.NewReader(strings.NewReader(text))
	r.Comment = '#'
	rows, err := r.ReadAll()
	require.NoError(t, err)
	var b strings.Builder
	b.WriteString("kind,station,y_in,value_in\n")
	for _, row := range rows[1:] {
		inch := func(s string) string {
			if s == "" {
				return ""
			}
			var v float64
			_, err := fmt.Sscan(s, &v)
			require.NoError(t, err)
			return fmt.Sprintf("%.4f", v/25.4)
		}
		value := inch(row[3])
		if row[0] == "frets" {
			value = row[3]
		}
		fmt.Fprintf(&b, "%s,%s,%s,%s\n", row[0], row[1], inch(row[2]), value)
	}
	return b.String()
}

// TestFitReport checks that the report says what was found, which reading is
// bad, and how well each number is known.
func TestFitReport(t *testing.T) {
	old := readingsText(t, oldNeck)
	inFolder(t)
	r := call(old, "fit", "-", "--name", "Old flat-top", "-o", "old.toml", "--picture", "fit.png")
	require.Equal(t, exitDone, r.code, r.err)
	flat := strings.Join(strings.Fields(r.out), " ")
	for _, want := range []string{
		"Old flat-top, fitted by neckloft to -.",
		"line 18: total at fret 7 was read as 23.6 mm where the other readings make it 22.73 mm: left out as a bad reading. Measure it again.",
		"left out; in a hurry", "95 % range", "with 40 readings to spare.",
	} {
		assert.Contains(t, flat, want)
	}
	for line := range strings.Lines(r.out) {
		assert.LessOrEqual(t, len([]rune(line)), 100, line)
	}
	spec, err := os.ReadFile("old.toml")
	require.NoError(t, err)
	assert.Regexp(t, `(?m)^total = 21\.\d+ +# fitted; 95 %: 21\.\d\d mm to 21\.\d\d mm$`, string(spec))
	assert.Contains(t, string(spec), "# default, not measured")
	f, err := os.Open("fit.png")
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	assert.Greater(t, img.Bounds().Dx(), 1000)
}

// TestFitTables checks the tables for other programs: every reading is in
// them, and the numbers are those of the spec.
func TestFitTables(t *testing.T) {
	old := readingsText(t, oldNeck)
	inFolder(t)
	r := call(old, "fit", "-", "--format", "csv", "-o", "old.toml")
	require.Equal(t, exitDone, r.code, r.err)
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	assert.Contains(t, r.err, "neckloft: line 18: total at fret 7 was read as 23.6 mm", "said beside the table")
	assert.Equal(t, "line,reading,read_mm,fitted_mm,off_mm,deviations,remark", strings.Join(rows[0], ","))
	assert.Len(t, rows, 1+53)
	for _, row := range rows[1:] {
		if strings.HasPrefix(row[1], "point") {
			continue
		}
		var read, fitted, off float64
		for i, v := range []*float64{&read, &fitted, &off} {
			_, err := fmt.Sscan(row[2+i], v)
			require.NoError(t, err)
		}
		assert.InDelta(t, read-fitted, off, 0.0011, "%v", row)
	}
	r = call(old, "fit", "-", "--report", "ranges", "--format", "json", "--in")
	require.Equal(t, exitDone, r.code, r.err)
	var ranges []map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.out), &ranges))
	s, err := spec.ReadFile("old.toml")
	require.NoError(t, err)
	found := 0
	for _, g := range ranges {
		switch g["key"] {
		case "depth[1].total":
			found++
			assert.InDelta(t, s.Depth[0].Total/25.4, g["value_in"], 5e-5)
			assert.Less(t, g["low_in"], g["value_in"])
			assert.Greater(t, g["high_in"], g["value_in"])
			assert.Nil(t, g["plain"])
		case "profile[1].bass":
			found++
			assert.InDelta(t, s.Profile[0].Bass, g["plain"], 5e-4)
		case "scale.length":
			found++
			assert.Nil(t, g["low_in"], "not fitted")
		}
	}
	assert.Equal(t, 3, found)
	// The same twice.
	assert.Equal(t, r.out, call(old, "fit", "-", "--report", "ranges", "--format", "json", "--in").out)
}

// scanFile writes a scan of the demo neck: turned in space, with noise and
// holes, in a unit of so many millimetres.
func scanFile(t *testing.T, path string, ascii bool, unit float64, part neck.Part) {
	t.Helper()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	m, err := n.Solid(part, 0.05)
	require.NoError(t, err)
	rng := rand.New(rand.NewPCG(2, 6))
	sin, cos := math.Sincos(0.7)
	v := make([]stl.Vec3, len(m.Vertices))
	for i, p := range m.Vertices {
		q := mesh.Vec{X: cos*p.X - sin*p.Z, Y: p.Y, Z: sin*p.X + cos*p.Z}
		q = mesh.Vec{X: cos*q.X - sin*q.Y + 40, Y: sin*q.X + cos*q.Y - 90, Z: q.Z + 7}
		for k, c := range []float64{q.X, q.Y, q.Z} {
			v[i][k] = float32((c + 0.04*rng.NormFloat64()) / unit)
		}
	}
	solid := stl.Solid{Name: "scan", IsAscii: ascii}
	for i, f := range m.Faces {
		if i%200 < 6 {
			continue // holes
		}
		solid.Triangles = append(solid.Triangles, stl.Triangle{Vertices: [3]stl.Vec3{v[f[0]], v[f[1]], v[f[2]]}})
	}
	require.NoError(t, solid.WriteFile(path))
}

// TestFitScan checks scans from the command line: binary and ASCII, in
// millimetres and inches, bare wood and with the board on, found and by a
// given frame.
//
// Long, since its cases share what is set up first.
// Without DRAWN=all it takes some of the cases.
func TestFitScan(t *testing.T) {
	inFolder(t)
	scanFile(t, "bin.stl", false, 1, neck.PartWood)
	scanFile(t, "ascii.stl", true, 25.4, neck.PartWood)
	scanFile(t, "both.stl", true, 25.4, neck.PartBoth)
	require.NoError(t, os.WriteFile("my-neck.toml", []byte(spec.Starter()), 0o666))
	facts := "kind,station,value_mm\nscale,,636\nfrets,,22\nboard,,5.6\n"
	check := func(path string) {
		t.Helper()
		s, err := spec.ReadFile(path)
		require.NoError(t, err)
		got, problems := neck.Check(s)
		require.NoError(t, problems.Err())
		want, err := neck.New(spec.Demo())
		require.NoError(t, err)
		for _, fret := range []float64{1, 6, 12} {
			x := spec.Demo().FretX(fret)
			a, b := want.Section(x), got.Section(x)
			assert.InDelta(t, want.Depth(x), got.Depth(x), 0.05, "%s, fret %g", path, fret)
			assert.InDelta(t, a.Fullness(neck.MinusY), b.Fullness(neck.MinusY), 0.05, "%s, fret %g", path, fret)
			assert.InDelta(t, a.Fullness(neck.PlusY), b.Fullness(neck.PlusY), 0.05, "%s, fret %g", path, fret)
		}
	}
	r := call("", "fit", "--scan", "bin.stl", "--scale", "636", "--frets", "22", "--board", "5.6", "-o", "a.toml")
	require.Equal(t, exitDone, r.code, r.err)
	check("a.toml")
	assert.Contains(t, r.out, "fitted neck, fitted by neckloft to bin.stl.\n")
	assert.Contains(t, r.out, "Found in the scan:")
	assert.Contains(t, r.out, "a flat ")

	// What was found, given back, finds the same.
	flat := strings.Join(strings.Fields(r.out), " ")
	i := strings.Index(flat, "--origin ")
	require.Positive(t, i)
	given := strings.Fields(flat[i:])[:6]
	units := map[string]float64{"m": 1000, "cm": 10, "in": 25.4}
	for name, unit := range units {
		if !drawn.All() {
			break
		}
		scanFile(t, name+".stl", false, unit, neck.PartWood)
		args := []string{"fit", "--scan", name + ".stl", "--scale", "636mm", "--frets", "22", "--board", "5.6mm", "--units", name}
		r := call("", append(args, "-o", name+".toml")...)
		require.Equal(t, exitDone, r.code, r.err)
		check(name + ".toml")
		flat := strings.Join(strings.Fields(r.out), " ")
		i := strings.Index(flat, "--units "+name+" --origin ")
		require.Positive(t, i, flat)
		again := strings.Fields(flat[i:])[:8]
		r = call("", append(append(args[:9:9], again...), "-o", name+"2.toml")...)
		require.Equal(t, exitDone, r.code, r.err)
		check(name + "2.toml")
		// The same place, but for the last digits.
		before, err := spec.ReadFile(name + ".toml")
		require.NoError(t, err)
		after, err := spec.ReadFile(name + "2.toml")
		require.NoError(t, err)
		for k := range before.Depth {
			assert.InDelta(t, before.Depth[k].Total, after.Depth[k].Total, 0.005, name)
		}
		assert.InDelta(t, before.Profile[0].Apex, after.Profile[0].Apex, 0.01, name)
	}
	r = call(facts, append([]string{"fit", "-", "--scan", "bin.stl", "-o", "b.toml", "--targets", "2", "--profiles", "2"}, given...)...)
	require.Equal(t, exitDone, r.code, r.err)
	check("b.toml")
	assert.Contains(t, r.out, "glue plane and axis as given")

	if drawn.All() {
		r = call(facts, "fit", "-", "--scan", "ascii.stl", "--units", "in", "-o", "c.toml")
		require.Equal(t, exitDone, r.code, r.err)
		check("c.toml")
	}
	r = call("", "fit", "--scan", "both.stl", "--units", "in", "--part", "both", "--spec", "my-neck.toml", "--targets", "2", "--profiles", "2", "-o", "d.toml", "--report", "stations", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	check("d.toml")
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "station,points,mean_mm,rms_mm", strings.Join(rows[0], ","))
	assert.Len(t, rows, 1+23)

	for _, c := range []struct {
		args, want string
		code       int
	}{
		{"--scan ascii.stl --scale 636 --frets 22 --board 5.6", "are the units of --units those of the scan?", exitFailed},
		{"--scan bin.stl", "the scale length and the number of frets are wanted too", exitUsage},
		{"--scan bin.stl --scale 636 --frets 22", "the board's thickness is missing", exitUsage},
		{"--scan bin.stl --scale 636 --frets 22 --part both", "give the board's thickness with --board", exitUsage},
		{"--scan bin.stl --scale 636 --frets 22 --board 5.6 --units km", `--units "km" is unknown; allowed: mm, cm, m, in`, exitUsage},
		{"--scan bin.stl --scale 636 --frets 22 --board 5.6 --nut far", "--nut: ", exitUsage},
		{"--scan bin.stl --scale 636 --frets 22 --board 5.6 --origin 0,0 --along 1,0,0 --up 0,0,1", `--origin: "0,0" is not understood; allowed: three numbers such as 0,0,1`, exitUsage},
		{"--scan bin.stl --scale 636 --frets 22 --board 5.6 --origin 0,0,nan --along 1,0,0 --up 0,0,1", "--origin: ", exitUsage},
		{"--scan bin.stl --scale 636 --frets 22 --board 5.6 --origin 0,0,0 --along 1,0,0 --up 1,0,0", "--along, --up: ", exitUsage},
		{"--scan bin.stl --scale 636 --frets 22 --board 5.6 --origin 9000,0,0 --along 1,0,0 --up 0,0,1", "no neck in the scan at the place given", exitFailed},
		{"--scan bin.stl --scale 5 --frets 22 --board 5.6", "--scale 5 is not sensible", exitUsage},
		{"--scan bin.stl --scale 636 --frets 22 --board 500", "--board 500 is not sensible", exitUsage},
		{"--scan none.stl --scale 636 --frets 22 --board 5.6", "none.stl", exitUsage},
		{"--scan my-neck.toml --scale 636 --frets 22 --board 5.6", "my-neck.toml", exitUsage},
	} {
		r := call("", append([]string{"fit"}, strings.Fields(c.args)...)...)
		assert.Equal(t, c.code, r.code, "%s: %s", c.args, r.err)
		assert.Contains(t, r.err, c.want, c.args)
		assert.Empty(t, r.out, c.args)
	}
}

// TestFitErrors checks calls that are wrong, and that they leave nothing
// behind.
func TestFitErrors(t *testing.T) {
	old := readingsText(t, oldNeck)
	dir := inFolder(t)
	for _, c := range []struct {
		args, in, want string
		code           int
	}{
		{"", "", "wanted: a file of readings, or --scan scan.stl", exitUsage},
		{"a.csv b.csv", "", "2 arguments; allowed: one file of readings", exitUsage},
		{"none.csv", "", "none.csv: there is no such file", exitUsage},
		{dir, "", "this is a folder; readings are a file", exitUsage},
		{"- --spec none.toml", old, "none.toml", exitUsage},
		{"- --spec -", old, "cannot both be standard input", exitUsage},
		{"- --format xml", old, "text, csv, json", exitUsage},
		{"- --report all", old, `--report "all" is unknown; allowed: residuals, ranges, stations`, exitUsage},
		{"- --report stations", old, "--report stations goes with --scan", exitUsage},
		{"- --targets 12", old, "allowed: 1 to 9", exitUsage},
		{"- --targets -1", old, "allowed: 1 to 9", exitUsage},
		{"- --targets 9", old, "9 depth targets are asked for, the thickness is known at 7 stations", exitUsage},
		{"- --profiles 9", old, "9 profile stations are asked for, 3 stations have enough points", exitUsage},
		{"- --targets two", old, "invalid argument", exitUsage},
		{"- --units in", old, "--units goes with --scan", exitUsage},
		{"- --flip", old, "goes with --scan", exitUsage},
		{"- --flip=false", old, "goes with --scan", exitUsage},
		{"- --from 3 --to 9", old, "goes with --scan", exitUsage},
		{"- --from NaN", old, "--from", exitUsage},
		{"- --frets 99", old, "--frets 99: allowed: 0 to 60", exitUsage},
		{"- --board 5", old, "--board: the readings give the board's thickness too, on line 7", exitUsage},
		{"- --frets 22", old, "--frets: the readings give the number of frets too", exitUsage},
		{"- --scale 640", old, "--scale: the readings give the scale length too", exitUsage},
		{"- --scale long", old, "--scale: ", exitUsage},
		{"- --picture fit.jpg", old, "a name that ends in .png", exitUsage},
		{"- --bogus", old, "unknown flag", exitUsage},
		{"-", "", "-: this is empty", exitUsage},
		{"-", "kind,station,y_mm,value_mm\ntotal,1,,20,6\n", "-:2: this line has 5 fields", exitUsage},
		{"-", "kind,station,value_mm\ntotal,1,20\n", "the scale length is missing: add a line of kind scale", exitUsage},
		{"- -o missing/a.toml", old, "there is no folder missing", exitFailed},
		{"- -o " + dir, old, "it is a folder", exitFailed},
	} {
		r := call(c.in, append([]string{"fit"}, strings.Fields(c.args)...)...)
		assert.Equal(t, c.code, r.code, "%s: %s", c.args, r.err)
		assert.Contains(t, r.err, c.want, c.args)
		assert.NotContains(t, r.err, "internal error", c.args)
		assert.Empty(t, r.out, c.args)
	}
	assert.Empty(t, files(t), "nothing is left behind")
}

// TestFitHelp checks that the readings that the help shows are such as fit
// takes.
func TestFitHelp(t *testing.T) {
	r := call("", "fit", "--help")
	require.Equal(t, exitDone, r.code)
	var text strings.Builder
	for line := range strings.Lines(r.out) {
		if cell, _, ok := strings.Cut(strings.TrimSpace(line), "  "); ok || strings.HasPrefix(cell, "kind,") {
			if strings.Count(cell, ",") == 3 && strings.HasPrefix(line, "  ") {
				text.WriteString(cell + "\n")
			}
		}
	}
	set, err := readings.Read(strings.NewReader(text.String()), "help.csv")
	require.NoError(t, err, text.String())
	assert.Len(t, set.Readings, 6)
	assert.Equal(t, 636.0, set.Scale)
}
