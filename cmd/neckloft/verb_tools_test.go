package main

import (
	"encoding/csv"
	"encoding/json"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// Shops for tests: one works in inches by a template, the other in millimetres
// on a table.
const (
	inchShop = `units = "in"
print = "in"
guide = "template"
template = 0.375
base_width = 5
router_mass = 4.4
feed = 50
hand_rate = 3
[[bit]]
name = "shop"
radius = 0.4375
bearing_height = 0.25
[[bit]]
radius = 0.75
diameter = 2
bearing = 0.5
[sled]
span = 22
offset = 1.5
thickness = 0.5
width = 7
modulus = 8000
unsupported = 18
carries = "router"
[printer]
bed_width = 6
bed_depth = 12
nozzle = 0.03
`
	mmShop = `[tools]
router = "table"
table_length = 600
base_width = 200
[[tools.bit]]
radius = 16
`
)

// written writes files into a folder of the test's own.
func written(t *testing.T, files map[string]string) {
	t.Helper()
	inFolder(t)
	for name, text := range files {
		require.NoError(t, os.WriteFile(name, []byte(text), 0o666))
	}
}

// done is call for one that must do.
func done(t *testing.T, args ...string) string {
	t.Helper()
	r := call("", args...)
	require.Equal(t, exitDone, r.code, "%v: %s", args, r.err)
	return r.out
}

// oneRow returns the one row of a table in csv.
func oneRow(t *testing.T, text string) map[string]string {
	t.Helper()
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	require.NoError(t, err)
	require.Len(t, all, 2)
	row := map[string]string{}
	for i, key := range all[0] {
		row[key] = all[1][i]
	}
	return row
}

// Tools take the place of flags: what they give is what the flags give, to the
// byte.
func TestToolsAreFlags(t *testing.T) {
	written(t, map[string]string{"neck.toml": spec.Starter(), "shop.toml": inchShop, "mm.toml": mmShop})
	flags := []string{"plan", "neck.toml", "--in", "--guide", "template", "--template", "0.375in", "--base", "2.5in", "--router-mass", "4.4",
		"--feed", "50in", "--hand-rate", "3", "--sled-span", "22in", "--sled-offset", "1.5in", "--sled-thickness", "0.5in", "--sled-width", "7in",
		"--sled-modulus", "8000", "--sled-unsupported", "18in", "--sled-carries", "router", "--bit-radius", "0.4375in", "--bearing-height", "0.25in"}
	mine := []string{"plan", "neck.toml", "--tools", "shop.toml", "--bit-radius", "7/16in"}
	for _, table := range []string{"taper", "passes", "stops", "stages", "stations"} {
		more := []string{"--table", table, "--at", "1,7,12"}
		assert.Equal(t, done(t, append(flags, more...)...), done(t, append(mine, more...)...), table)
	}
	asked := oneRow(t, done(t, append(flags, "--table", "roundover", "--format", "csv")...))
	owned := oneRow(t, done(t, append(mine, "--table", "roundover", "--format", "csv")...))
	for _, key := range []string{"verdict", "best_radius_in"} { // which say what it was chosen among
		assert.NotEqual(t, asked[key], owned[key])
		delete(asked, key)
		delete(owned, key)
	}
	assert.Equal(t, asked, owned)

	// Without --bit-radius one of the shop's bits, and no other in the table.
	bits := done(t, "plan", "neck.toml", "--tools", "shop.toml", "--bits")
	assert.Contains(t, bits, "7/16 in, shop")
	assert.Contains(t, bits, "3/4 in")
	assert.NotContains(t, bits, "1/2 in")
	assert.Contains(t, bits, "in3")

	// A flag goes before the tools.
	out := oneRow(t, done(t, "plan", "neck.toml", "--tools", "shop.toml", "--table", "taper", "--format", "csv", "--sled-span", "500mm", "--mm"))
	assert.InDelta(t, 500, value(t, out, "sled_span_mm"), 1e-9)
	assert.InDelta(t, 1.5*25.4, value(t, out, "sled_offset_mm"), 1e-3)
	round := oneRow(t, done(t, "plan", "neck.toml", "--tools", "shop.toml", "--table", "roundover", "--format", "csv", "--guide", "side", "--bit-radius", "19mm"))
	assert.InDelta(t, 19/25.4, value(t, round, "bit_radius_in"), 1e-4)
	r := call("", "plan", "neck.toml", "--tools", "mm.toml", "--template", "9mm")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, "--template goes with --guide template")
	assert.Equal(t, exitDone, call("", "plan", "neck.toml", "--tools", "shop.toml", "--template", "9mm").code)

	// A table: no base plate is looked at, and the ends of a squared blank foul it.
	r = call("", "plan", "neck.toml", "--tools", "mm.toml", "--bit-radius", "16mm")
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, unbroken(r.out), "below the table")
}

// A spec's own tools go before those of the file, key by key.
func TestOwnToolsGoBeforeShared(t *testing.T) {
	own := spec.Starter() + "\n[tools]\nprint = \"mm\"\npaper = \"Letter\"\nguide = \"side\"\n[[tools.bit]]\nradius = 10\n[tools.sled]\nspan = 480\n"
	written(t, map[string]string{"own.toml": own, "shop.toml": inchShop})
	taper := oneRow(t, done(t, "plan", "own.toml", "--tools", "shop.toml", "--table", "taper", "--format", "csv"))
	assert.InDelta(t, 480, value(t, taper, "sled_span_mm"), 1e-9)
	assert.InDelta(t, 1.5*25.4, value(t, taper, "sled_offset_mm"), 1e-3, "the file's, which the spec does not say")
	round := oneRow(t, done(t, "plan", "own.toml", "--tools", "shop.toml", "--table", "roundover", "--format", "csv"))
	assert.InDelta(t, 10, value(t, round, "bit_radius_mm"), 1e-9)
	assert.Contains(t, done(t, "stations", "own.toml", "--tools", "shop.toml", "--format", "csv"), "x_mm")
	assert.Contains(t, done(t, "stations", "own.toml", "--tools", "shop.toml", "--in", "--format", "csv"), "x_in")
}

// What is wrong with a file of tools has its line and exit code 2, from every
// verb that reads a spec; and no verb writes over it.
func TestToolsFileIsJudged(t *testing.T) {
	written(t, map[string]string{"neck.toml": spec.Starter(), "bad.toml": "paper = \"A4\"\n[[bit]]\nradius = 900\n", "shop.toml": inchShop,
		"today.csv": readingsText(t, evening)})
	for _, verb := range (&program{err: io.Discard}).verbs() {
		name := verb.Name()
		if known(name, []string{"starter", "mirror", "fit", "guide"}) {
			assert.Nil(t, verb.Flags().Lookup("tools"), name)
			continue
		}
		args := []string{name, "neck.toml", "--tools", "bad.toml"}
		switch name {
		case "compare":
			args = append(args, "neck.toml")
		case "progress":
			args = append(args, "today.csv")
		}
		r := call("", args...)
		assert.Equal(t, exitUsage, r.code, name)
		assert.Contains(t, r.err, "bad.toml:3: bit[1].radius: 900 mm is not sensible here; allowed: 1 mm to 150 mm", name)
		assert.Empty(t, r.out, name)
	}
	r := call("", "check", "--tools", "none.toml")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, "none.toml: there is no such file")
	r = call("", "stations", "neck.toml", "--tools", "shop.toml", "-o", "shop.toml")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, "-o shop.toml would write over the file of tools")
	text, err := os.ReadFile("shop.toml")
	require.NoError(t, err)
	assert.Equal(t, inchShop, string(text))
}

// hollowInShop returns hollow with the tools of a shop that prints inches on A4.
func hollowInShop() string {
	return hollow() + "\n" + strings.Replace(mmShop, "[tools]\n", "[tools]\nprint = \"in\"\npaper = \"A4\"\n", 1)
}

// Make follows the tools: unit, paper, bits, bed; without them a spec in inches
// prints inches on Letter.
func TestMakeFollowsTools(t *testing.T) {
	const a4, letter = `/MediaBox \[\s*0 0 595\.\d+ 841\.\d+`, `/MediaBox \[\s*0 0 612(\.0+)? 792(\.0+)?`
	sheets := map[string]string{}
	for name, c := range map[string]struct {
		text        string
		unit, paper string
	}{
		"mm":     {spec.Starter(), "mm", "A4"},
		"inches": {readingsText(t, "../../testdata/specs/lapwing.toml"), "in", "Letter"},
		"shop":   {hollowInShop(), "in", "A4"},
	} {
		m := made(t, c.text)
		require.Equal(t, exitDone, m.code, "%s: %s", name, m.err)
		read := func(file string) string { return readingsText(t, filepath.Join(m.dir, file)) }
		assert.Contains(t, strings.SplitN(read("stations.csv"), "\n", 2)[0], "total_"+c.unit, name)
		assert.NotContains(t, strings.SplitN(read("plan.csv"), "\n", 2)[0], "_"+map[string]string{"mm": "in", "in": "mm"}[c.unit]+",", name)
		var plan map[string]any
		require.NoError(t, json.Unmarshal([]byte(read("plan.json")), &plan))
		assert.Contains(t, read("plan.json"), `"removed_`+map[string]string{"mm": "cm3", "in": "in3"}[c.unit]+`"`, name)
		for _, file := range []string{"plan.pdf", "gauges.pdf", "sheets.pdf"} {
			want, other := a4, letter
			if c.paper == "Letter" {
				want, other = letter, a4
			}
			turned := func(box string) string { // sheets may lie on their side
				return box + "|" + map[string]string{a4: `/MediaBox \[\s*0 0 841\.\d+ 595\.\d+`, letter: `/MediaBox \[\s*0 0 792(\.0+)? 612(\.0+)?`}[box]
			}
			assert.Regexp(t, turned(want), read(file), "%s %s", name, file)
			assert.NotRegexp(t, turned(other), read(file), "%s %s", name, file)
		}
		assert.Contains(t, read("index.md"), "on "+c.paper+" at full size", name)
		assert.NotContains(t, read("index.md"), "PAPER")
		assert.Regexp(t, `Scale length [0-9.]+ `+c.unit+`,`, read("index.md"), name)
		sheets[name] = read("plan.json")
	}
	assert.Contains(t, sheets["shop"], `"bit": "16 mm"`)
	assert.NotContains(t, sheets["shop"], `"bit": "1/2 in"`, "only the bit of the shop")
}

// Gauges follow the printer: bed, and letters that the nozzle can bridge.
func TestGaugesFollowThePrinter(t *testing.T) {
	written(t, map[string]string{"neck.toml": spec.Starter(), "shop.toml": inchShop})
	r := call("", "gauges", "neck.toml", "--tools", "shop.toml", "-o", "g.stl")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.err, "on a bed of 152.4 x 304.8 mm")
	assert.NotContains(t, r.err, "nozzle")
	// Two lines of 0.03 in to a stroke, seven strokes to a letter.
	r = call("", "gauges", "neck.toml", "--tools", "shop.toml", "--bed", "220x220", "--letters", "0.419in", "-o", "g.stl")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.err, "on a bed of 220 x 220 mm")
	assert.Contains(t, r.err, "with letters of 0.419 in strokes and bridges are narrower than two lines of your nozzle of 0.03 in; 0.42 in or more are not")
	r = call("", "gauges", "neck.toml", "--tools", "shop.toml", "--letters", "0.42in", "-o", "g.stl")
	require.Equal(t, exitDone, r.code, r.err)
	assert.NotContains(t, r.err, "nozzle")
	r = call("", "gauges", "neck.toml", "--tools", "shop.toml", "-o", "g.pdf")
	assert.Contains(t, r.err, "on Letter paper")
	r = call("", "gauges", "neck.toml", "--tools", "shop.toml", "--paper", "a4", "-o", "g.pdf")
	assert.Contains(t, r.err, "on A4 paper")
	r = call("", "gauges", "neck.toml", "--tools", "shop.toml", "--sheet", "both", "-o", "s.pdf")
	assert.Equal(t, exitDone, r.code, r.err)
}

// A spec in inches prints inches in every table, and --mm millimetres; the
// numbers are the same lengths.
func TestInchSpecPrintsInches(t *testing.T) {
	siskin := specFile(t, "siskin")
	lengths := func(args ...string) (map[string]float64, string) {
		all, err := csv.NewReader(strings.NewReader(done(t, append(args, "--format", "csv")...))).ReadAll()
		require.NoError(t, err)
		out := map[string]float64{}
		for i, key := range all[0] {
			for _, unit := range []string{"_in", "_mm"} {
				if bare, ok := strings.CutSuffix(key, unit); ok && all[1][i] != "" {
					out[strings.ReplaceAll(bare, "mm", "")] = valueOf(t, all[1][i])
				}
			}
		}
		return out, strings.Join(all[0], ",")
	}
	for _, args := range [][]string{
		{"stations", siskin, "--at", "5"},
		{"plan", siskin, "--table", "stations", "--at", "5"},
		{"plan", siskin, "--table", "taper"},
		{"plan", siskin, "--table", "roundover"},
		{"plan", siskin, "--table", "bits"},
		{"compare", siskin, specFile(t, "pipit"), "--at", "5"},
	} {
		inches, keys := lengths(args...)
		mm, mmKeys := lengths(append(args, "--mm")...)
		assert.NotContains(t, keys, "_mm", "%v", args)
		assert.NotContains(t, mmKeys, "_in,", "%v", args)
		require.Equal(t, len(mm), len(inches), "%v", args)
		for key, v := range inches {
			near := 0.003
			if args[0] == "plan" { // the height is rounded to a thousandth of an inch or a hundredth of a millimetre
				near = 0.04
			}
			assert.InDelta(t, mm[key], v*25.4, near, "%v %s", args, key)
		}
	}
	assert.Contains(t, done(t, "stations", siskin), " in ")
	assert.NotContains(t, done(t, "plan", siskin), "cm3")
	stops := done(t, "plan", siskin, "--table", "stops", "--format", "csv")
	assert.Less(t, strings.Index(stops, "from_nut_in"), strings.Index(stops, "from_nut_mm"))
	r := call("", "stations", siskin, "--in", "--mm")
	assert.Equal(t, exitUsage, r.code)
	assert.Contains(t, r.err, "--in and --mm exclude each other")
	r = call("", "stations", siskin, "--mm=false", "--in")
	assert.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, done(t, "stations", siskin, "--mm", "--mm=false", "--format", "csv"), "x_in")
}

// progress prints the unit of its spec, of the tools, or of the flag; a log
// alone that of the tools.
func TestProgressFollowsTools(t *testing.T) {
	text := readingsText(t, evening)
	written(t, map[string]string{"neck.toml": spec.Starter(), "shop.toml": inchShop, "today.csv": text, "low.csv": "kind,station,value_mm\ntotal,5,21.2\n"})
	csvOf := func(args ...string) string {
		return strings.SplitN(done(t, append([]string{"progress", "neck.toml", "today.csv", "--format", "csv"}, args...)...), "\n", 2)[0]
	}
	assert.Contains(t, csvOf(), "_mm")
	assert.NotContains(t, csvOf("--tools", "shop.toml"), "_mm")
	assert.Contains(t, csvOf("--tools", "shop.toml", "--mm"), "_mm")
	assert.Contains(t, csvOf("--tools", "shop.toml", "--mm", "--log", "log.csv"), "_mm")
	said := done(t, "progress", "neck.toml", "low.csv", "--tools", "shop.toml", "--rescue=rescued.toml")
	assert.Regexp(t, `its surface lies up to [0-9.]+ in inside`, said)
	assert.NotContains(t, readingsText(t, "rescued.toml"), "[tools", "what the file of tools says stays there")
	history := func(args ...string) string {
		return done(t, append([]string{"progress", "--history", "--log", "log.csv", "--format", "csv"}, args...)...)
	}
	assert.Contains(t, history(), "_mm")
	assert.NotContains(t, history("--tools", "shop.toml"), "_mm")
}

// valueOf reads a number of a table.
func valueOf(t *testing.T, text string) float64 {
	t.Helper()
	v, err := spec.ParseLength(text, spec.Millimetre)
	if err != nil {
		return math.NaN()
	}
	return v
}
