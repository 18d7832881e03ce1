package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"image/png"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// carving writes the demo spec and the example readings into a folder of the
// test's own.
func carving(t *testing.T) {
	t.Helper()
	text := readingsText(t, evening)
	inFolder(t)
	require.NoError(t, os.WriteFile("tern.toml", []byte(spec.Starter()), 0o666))
	require.NoError(t, os.WriteFile("today.csv", []byte(text), 0o666))
}

// TestProgressTable checks the example against what it says of itself: one
// point below, where the rasp slipped, and the totals' targets by hand.
func TestProgressTable(t *testing.T) {
	carving(t)
	r := call("", "progress", "tern.toml", "today.csv")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "35 readings: 8 on target, 26 to come off, 1 below.")
	// The target's 5.53: between the readings a facet may come down to it.
	assert.Contains(t, r.out, "Least cover as carved, where it was read: 5.53 mm at fret 1 (x = 35.7 mm); the limit is 4 mm.")
	assert.Contains(t, r.out, "--rescue looks for a new target")
	for line := range strings.Lines(r.out) {
		assert.LessOrEqual(t, len([]rune(line)), 100, line)
	}

	c := call("", "progress", "tern.toml", "today.csv", "--format", "csv")
	require.Equal(t, exitDone, c.code, c.err)
	assert.Contains(t, c.err, "Least cover as carved", "said beside a table for another program")
	rows, err := csv.NewReader(strings.NewReader(c.out)).ReadAll()
	require.NoError(t, err)
	assert.Equal(t, "station,kind,y_mm,read_mm,target_mm,remaining_mm,status,direction", strings.Join(rows[0], ","))
	assert.Len(t, rows, 36)
	below := 0
	for _, row := range rows[1:] {
		switch row[6] {
		case "below":
			below++
			assert.Equal(t, []string{"fret 5", "point", "-20.900", "8.300"}, row[:4])
			assert.Contains(t, row[7], "bass side")
		case "on target":
			assert.Empty(t, row[7], "nothing is to come off")
		default:
			assert.NotEmpty(t, row[7])
		}
	}
	assert.Equal(t, 1, below)
	// The targets of the totals are the spec's own.
	assert.Equal(t, []string{"fret 1", "total", "", "20.700", "20.600", "0.100", "on target", ""}, rows[1])
	assert.Equal(t, []string{"fret 12", "total", "", "23.000", "22.400", "0.600", "to come off", "off the back"}, rows[27])
	assert.Equal(t, []string{"nut", "width", "", "42.800", "42.800", "0.000", "on target", ""}, rows[35])

	// Twice the same, from a file and from a pipe, in json and in inches.
	assert.Equal(t, r.out, call("", "progress", "tern.toml", "today.csv").out)
	assert.Equal(t, r.out, call(readingsText(t, "today.csv"), "progress", "tern.toml", "-").out)
	assert.Equal(t, r.out, call(spec.Starter(), "progress", "-", "today.csv").out)
	j := call("", "progress", "tern.toml", "today.csv", "--format", "json", "--in", "-o", "p.json")
	require.Equal(t, exitDone, j.code, j.err)
	assert.Empty(t, j.out)
	var objects []map[string]any
	require.NoError(t, json.Unmarshal([]byte(readingsText(t, "p.json")), &objects))
	require.Len(t, objects, 35)
	assert.InDelta(t, 0.6/25.4, objects[26]["remaining_in"], 5e-5)
	in := call("", "progress", "tern.toml", "today.csv", "--in")
	assert.Contains(t, in.out, "the limit is 0.157 in")
}

// TestProgressTolerance checks that the tolerance decides what is on target: in
// every table it is what remains that does.
func TestProgressTolerance(t *testing.T) {
	carving(t)
	for tolerance, mm := range map[string]float64{"0": 0, "0.3": 0.3, "1mm": 1, "0.02in": 0.508} {
		r := call("", "progress", "tern.toml", "today.csv", "--tolerance", tolerance, "--format", "csv")
		require.Equal(t, exitDone, r.code, r.err)
		rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
		require.NoError(t, err)
		seen := make(map[string]int)
		for _, row := range rows[1:] {
			left, err := strconv.ParseFloat(row[5], 64)
			require.NoError(t, err)
			want := "on target"
			if left > mm {
				want = "to come off"
			} else if left < -mm {
				want = "below"
			}
			if math.Abs(math.Abs(left)-mm) > 0.001 {
				assert.Equal(t, want, row[6], "%s: %v", tolerance, row)
			}
			seen[row[6]]++
		}
		assert.Contains(t, r.err, fmt.Sprintf("35 readings: %d on target, %d to come off, %d below.", seen["on target"], seen["to come off"], seen["below"]))
	}
}

// TestProgressPicture checks that the picture is a whole PNG, and the same
// twice.
func TestProgressPicture(t *testing.T) {
	carving(t)
	names := drawn.Some([]string{"a.png", "b.png"}, 1) // render tells that pictures are steady
	for _, name := range names {
		r := call("", "progress", "tern.toml", "today.csv", "--picture", name)
		require.Equal(t, exitDone, r.code, r.err)
	}
	a, err := os.ReadFile("a.png")
	require.NoError(t, err)
	b, err := os.ReadFile(names[len(names)-1])
	require.NoError(t, err)
	assert.True(t, bytes.Equal(a, b))
	img, err := png.Decode(bytes.NewReader(a))
	require.NoError(t, err)
	assert.Greater(t, img.Bounds().Dx(), 1000)
}

// TestProgressRescue checks that the new target is a spec that make takes,
// against which nothing is below.
func TestProgressRescue(t *testing.T) {
	carving(t)
	r := call("", "progress", "tern.toml", "today.csv", "--rescue=rescued.toml")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Regexp(t, `A new target inside the wood that remains, named Tern 636 rescued: it takes \d\.\d g of wood more\nthan the old one`, r.out)
	assert.Contains(t, r.out, "profile[1].bass")
	assert.Contains(t, r.out, "A thinner neck is a weaker one")
	r = call("", "progress", "rescued.toml", "today.csv", "--tolerance", "0")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, " 0 below.")
	if drawn.All() {
		r = call("", "make", "rescued.toml", "-o", "out")
		require.Equal(t, exitDone, r.code, r.err)
	}
	r = call("", "mesh", "rescued.toml", "-o", "neck.stl")
	require.Equal(t, exitDone, r.code, r.err)
	m, err := export.ReadSTLFile("neck.stl")
	require.NoError(t, err)
	require.NoError(t, m.Validate())

	// On the terminal, behind the table; and beside a table for a program.
	const low = "kind,station,value_mm\ntotal,5,21.2\n"
	r = call(low, "progress", "tern.toml", "-", "--rescue=b.toml", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	_, err = csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err, "nothing but the table")
	assert.Contains(t, r.err, "A new target inside the wood that remains")
	r = call(low, "progress", "tern.toml", "-", "--rescue")
	require.Equal(t, exitDone, r.code, r.err)
	i := strings.Index(r.out, "\nname = ")
	require.Positive(t, i)
	assert.Equal(t, readingsText(t, "b.toml"), r.out[i+1:])

	// A girth alone tells that wood is missing but not where.
	r = call("kind,station,value_mm\ngirth,5,60\n", "progress", "tern.toml", "-", "--rescue=c.toml")
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, r.err, "A girth tells that wood is missing but not where: read the total and points")
	assert.NoFileExists(t, "c.toml")

	// Nothing is low: there is nothing to rescue, which is no failure.
	r = call("kind,station,value_mm\ntotal,1,21\n", "progress", "tern.toml", "-", "--rescue=c.toml")
	assert.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.err, "nothing is below its target")
	assert.NoFileExists(t, "c.toml")
}

// TestProgressNoRescue checks workpieces that no new target saves: cut into
// the cover, and cut into the channel. The table is printed all the same.
func TestProgressNoRescue(t *testing.T) {
	carving(t)
	for value, want := range map[string][2]string{
		// The target's 5.53 less the 2.1 that are missing.
		"18.5": {"Least cover as carved, where it was read: 3.43 mm at fret 1 (x = 35.7 mm), BELOW the limit of 4 mm.", "3.43 mm of wood covers the channel at fret 1"},
		"14":   {"STOP: as read, the channel is cut through at fret 1", "no wood covers the channel at fret 1"},
	} {
		text := fmt.Sprintf("kind,station,value_mm\ntotal,1,%s\ntotal,12,23\n", value)
		r := call(text, "progress", "tern.toml", "-", "--rescue=none.toml")
		assert.Equal(t, exitFailed, r.code)
		assert.Contains(t, r.out, want[0])
		assert.Contains(t, r.err, "--rescue: no new target was found: ")
		assert.Contains(t, r.err, want[1])
		assert.NoFileExists(t, "none.toml")
		r = call(text, "progress", "tern.toml", "-", "--format", "csv")
		assert.Equal(t, exitDone, r.code)
		assert.Contains(t, r.err, want[0], "whatever the format")
	}
}

// TestProgressLog checks the log and its history over three evenings.
func TestProgressLog(t *testing.T) {
	carving(t)
	for i, total := range []string{"22.9", "21.4", "20.65"} {
		r := call("kind,station,value_mm\ntotal,1,"+total+"\ntotal,12,24.1\n", "progress", "tern.toml", "-",
			"--log", "carve.csv", "--date", fmt.Sprintf("2026-03-%dT19:30:00+01:00", 14+i))
		require.Equal(t, exitDone, r.code, r.err)
	}
	log := readingsText(t, "carve.csv")
	assert.Equal(t, 4, strings.Count(log, "\n"))
	assert.Contains(t, log, "2026-03-15T19:30:00+01:00,Tern 636,")

	r := call("", "progress", "--history", "--log", "carve.csv", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 7)
	for i, want := range [][]string{{"2.300", ""}, {"0.800", "1.500"}, {"0.050", "0.750"}} {
		row := rows[1+i]
		assert.Equal(t, []string{"fret 1", fmt.Sprintf("2026-03-%d 19:30", 14+i), want[0], want[0], want[1]}, row[:5])
	}
	r = call("", "progress", "--history", "--log", "carve.csv", "--format", "json")
	var objects []map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.out), &objects))
	assert.Len(t, objects, 6)
	r = call("", "progress", "--history", "--log", "carve.csv")
	assert.Contains(t, r.out, "came off")
	assert.Contains(t, r.out, "fret 12  2026-03-16 19:30")

	r = call("", "progress", "--history", "--log", "carve.csv", "--format", "csv", "-o", "history.csv")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Empty(t, r.out)
	assert.True(t, strings.HasPrefix(readingsText(t, "history.csv"), "station,date,most_remaining_mm,"))

	// A line and the history in one call; a date without the time of day.
	r = call("", "progress", "tern.toml", "today.csv", "--log", "carve.csv", "--history", "--date", "2026-03-20")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "35 readings")
	assert.Contains(t, r.out, "2026-03-20 00:00")
	// Without --date it is the clock's; the table does not depend on it.
	r = call("", "progress", "tern.toml", "today.csv", "--log", "carve.csv")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Equal(t, call("", "progress", "tern.toml", "today.csv").out, r.out)
	entries, err := export.ReadCarveLog("carve.csv")
	require.NoError(t, err)
	assert.Len(t, entries, 5)

	// A log that is not one is left alone.
	before := readingsText(t, "today.csv")
	require.NoError(t, os.WriteFile("other.csv", []byte(before), 0o666))
	r = call("", "progress", "tern.toml", "today.csv", "--log", "other.csv")
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, r.err, "this is not a carving log")
	assert.Equal(t, before, readingsText(t, "other.csv"))
}

// TestProgressErrors checks calls that are wrong.
func TestProgressErrors(t *testing.T) {
	carving(t)
	require.NoError(t, os.WriteFile("torn.csv", []byte("date,neck,spec,readings,on_target,to_come_off,below,least_cover_mm,stations_mm\n2026-03-1"), 0o666))
	for _, c := range []struct {
		args, in, want string
		code           int
	}{
		{"", "", "0 arguments; wanted: SPEC.toml and READINGS", exitUsage},
		{"tern.toml", "", "1 argument; wanted: SPEC.toml and READINGS", exitUsage},
		{"tern.toml today.csv --rescue new.toml", "", "--rescue=new.toml", exitUsage},
		{"none.toml today.csv", "", "none.toml", exitUsage},
		{"tern.toml none.csv", "", "none.csv: there is no such file", exitUsage},
		{"today.csv tern.toml", "", "today.csv", exitUsage},
		{"- -", "", "cannot both be standard input", exitUsage},
		{"tern.toml today.csv --format xml", "", "text, csv, json", exitUsage},
		{"tern.toml today.csv --tolerance wide", "", "--tolerance: ", exitUsage},
		{"tern.toml today.csv --tolerance nan", "", "--tolerance: ", exitUsage},
		{"tern.toml today.csv --tolerance -1", "", "allowed: 0 mm to 5 mm", exitUsage},
		{"tern.toml today.csv --tolerance 9", "", "allowed: 0 mm to 5 mm", exitUsage},
		{"tern.toml today.csv --rescue=", "", "a file's name is wanted", exitUsage},
		{"tern.toml today.csv --rescue --format csv", "", "--rescue prints a spec", exitUsage},
		{"tern.toml today.csv --history", "", "--history goes with --log", exitUsage},
		{"tern.toml today.csv --history --log carve.csv --format csv", "", "--history prints a second table", exitUsage},
		{"tern.toml today.csv --date 2026-03-14", "", "--date goes with --log", exitUsage},
		{"tern.toml today.csv --log carve.csv --date yesterday", "", `--date "yesterday" is not understood; allowed: 2026-03-14`, exitUsage},
		{"tern.toml today.csv --picture p.jpg", "", "a name that ends in .png", exitUsage},
		{"--history --log none.csv", "", "there is no such carving log", exitUsage},
		{"--history --log torn.csv", "", "torn.csv:2: this line of the carving log is damaged", exitUsage},
		{"--history --log torn.csv --rescue=a.toml", "", "go with SPEC.toml and READINGS", exitUsage},
		{"tern.toml today.csv --bogus", "", "unknown flag", exitUsage},
		{"tern.toml -", "kind,station,value_mm\ntotal,x=900,20\n", "-:2: the station of total at x=900mm lies at x = 900 mm, off the wood", exitUsage},
		{"tern.toml -", "kind,station,value_mm\nscale,,648\ntotal,1,20\n", "-:2: the readings are of a scale of 648 mm, the spec has 636 mm", exitUsage},
		{"tern.toml -", "kind,station,value_mm\ntotal,1,21\ntotal,1,22\n", "-:3: the reading total at fret 1 repeats that of line 2", exitUsage},
		{"tern.toml -", "kind,station,value_mm\nboard,,5.6\n", "no reading of the wood in this file", exitUsage},
		{"tern.toml today.csv -o missing/p.txt", "", "there is no folder missing", exitFailed},
	} {
		r := call(c.in, append([]string{"progress"}, strings.Fields(c.args)...)...)
		assert.Equal(t, c.code, r.code, "%s: %s", c.args, r.err)
		assert.Contains(t, r.err, c.want, c.args)
		assert.NotContains(t, r.err, "internal error", c.args)
		assert.Empty(t, r.out, c.args)
	}
	// What fails after the table has been printed leaves no file either.
	for args, want := range map[string]string{
		"--picture missing/p.png": "there is no folder missing",
		"--log missing/carve.csv": "there is no folder missing",
		"--log torn.csv":          "torn.csv:2: this line of the carving log is damaged",
	} {
		r := call("", append([]string{"progress", "tern.toml", "today.csv"}, strings.Fields(args)...)...)
		assert.Equal(t, exitFailed, r.code, args)
		assert.Contains(t, r.err, want, args)
	}
	assert.Equal(t, []string{"tern.toml", "today.csv", "torn.csv"}, files(t))
}

// TestProgressCentre checks a finished neck that is deepest beside its
// centreline, read with calipers on the centreline: on target as what it is,
// and the word of it where it was entered as a total.
func TestProgressCentre(t *testing.T) {
	inFolder(t)
	sp := strings.Replace(spec.Starter(), "apex = -1.0", "apex = -9.0", 1)
	require.NotEqual(t, spec.Starter(), sp)
	require.NoError(t, os.WriteFile("far.toml", []byte(sp), 0o666))
	r := call("", "stations", "far.toml", "--at", "12", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	rows, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	total, centre := rows[1][3], rows[1][16]
	require.Equal(t, "centre_mm", rows[0][16])
	require.Equal(t, "22.400", total)
	require.NotEqual(t, total, centre)

	r = call("kind,station,value_mm\ncentre,12,"+centre+"\ntotal,12,"+total+"\n", "progress", "far.toml", "-")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "2 readings: 2 on target, 0 to come off, 0 below.")
	r = call("kind,station,value_mm\ntotal,12,"+centre+"\n", "progress", "far.toml", "-")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "1 below.")
	words := strings.Join(strings.Fields(r.out), " ")
	assert.Contains(t, words, "At fret 12 that lies 9 mm to the bass side, and on the centreline the target is ")
	assert.Contains(t, words, "a reading taken there is of kind centre.")
	for line := range strings.Lines(r.out) {
		assert.LessOrEqual(t, len([]rune(strings.TrimSpace(line))), 100, line)
	}
}
