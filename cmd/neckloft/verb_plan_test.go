package main

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// planRows runs plan and returns one of its tables from csv, one map a row.
func planRows(t *testing.T, table string, args ...string) []map[string]string {
	t.Helper()
	r := call("", append([]string{"plan", "--format", "csv", "--table", table}, args...)...)
	require.Equal(t, exitDone, r.code, r.err)
	all, err := csv.NewReader(strings.NewReader(r.out)).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(all), 1)
	var rows []map[string]string
	for _, line := range all[1:] {
		row := map[string]string{}
		for i, cell := range line {
			row[all[0][i]] = cell
		}
		rows = append(rows, row)
	}
	return rows
}

func value(t *testing.T, row map[string]string, key string) float64 {
	t.Helper()
	text, ok := row[key]
	require.True(t, ok, "no column %q", key)
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err, key)
	return v
}

// unbroken returns a text with every run of blanks and line ends as one blank.
func unbroken(text string) string { return strings.Join(strings.Fields(text), " ") }

// TestPlanTaper checks the sled by similar triangles from the demo's spec:
// wood 15 mm deep at fret 1 and 16.8 mm at fret 12, on a scale of 636 mm.
func TestPlanTaper(t *testing.T) {
	x1 := 636 * (1 - math.Pow(2, -1.0/12))
	slope := (16.8 - 15) / (318 - x1)
	row := planRows(t, "taper", "--sled-span", "600mm", "--sled-offset", "2in", "--sled-unsupported", "400")[0]
	assert.InDelta(t, slope*600, value(t, row, "shim_mm"), 6e-4)
	assert.InDelta(t, math.Atan(slope)*180/math.Pi, value(t, row, "angle_deg"), 6e-4)
	assert.InDelta(t, 50.8, value(t, row, "sled_offset_mm"), 1e-9)
	// 3.5 kg on a plate of 150 by 18 mm and 9000 MPa over 400 mm: P L³/48EI.
	assert.InDelta(t, 3.5*9.80665*400*400*400/(48*9000*150*18*18*18/12), value(t, row, "sag_mm"), 6e-4)
	// Eight times as thick, half as wide, ten times as stiff.
	row = planRows(t, "taper", "--sled-unsupported", "400", "--sled-thickness", "36mm", "--sled-width", "75mm",
		"--sled-modulus", "900", "--router-mass", "7")[0]
	assert.InDelta(t, 7*9.80665*400*400*400/(48*900*75*36*36*36/12), value(t, row, "sag_mm"), 6e-4)

	row = planRows(t, "stations", "--at", "1,12", "--stock-depth", "20mm")[1]
	assert.Equal(t, "fret 12", row["station"])
	assert.InDelta(t, 20-16.8, value(t, row, "take_off_mm"), 1e-3)

	text := unbroken(call("", "plan", "--sled-unsupported", "400", "--sled-carries", "router").out)
	assert.Contains(t, text, "The plate sags by 0.07 mm under the router")
	assert.Contains(t, text, "the cut is deeper there by as much")
}

// TestPlanRoundOver checks the flags of the bit against each other: a height
// follows from the guide's geometry.
//
// Long, since its cases share what is set up first.
func TestPlanRoundOver(t *testing.T) {
	base := planRows(t, "roundover", "--bit-radius", "10mm")[0]
	// What is left must be at least what was asked for, so that more to leave is
	// a lower bit.
	more := planRows(t, "roundover", "--bit-radius", "10mm", "--allowance", "1mm")[0]
	none := planRows(t, "roundover", "--bit-radius", "10mm", "--allowance", "0mm")[0]
	assert.Less(t, value(t, more, "height_mm"), value(t, base, "height_mm"))
	assert.Equal(t, none["height_mm"], none["limit_mm"])
	assert.Equal(t, base["limit_mm"], none["height_mm"])
	// A bearing that holds the cutter off leaves more at the same height, and
	// the bit may come deeper.
	off := planRows(t, "roundover", "--bit-radius", "10mm", "--bearing", "0.5mm")[0]
	assert.Greater(t, value(t, off, "limit_mm"), value(t, base, "limit_mm"))
	// A template lengthens the guide: the bearing has all of it to run on.
	tpl := planRows(t, "roundover", "--bit-radius", "10mm", "--guide", "template", "--template", "9mm")[0]
	assert.Equal(t, "template", tpl["guide"])
	assert.Equal(t, base["height_mm"], tpl["height_mm"])
	assert.GreaterOrEqual(t, value(t, tpl, "bearing_contact_mm"), value(t, base, "bearing_contact_mm"))
	// Inches in, inches out, and a fraction as bits are sold.
	inch := planRows(t, "roundover", "--bit-radius", "1/2in", "--in")[0]
	mm := planRows(t, "roundover", "--bit-radius", "12.7")[0]
	assert.Equal(t, "0.5000", inch["bit_radius_in"])
	assert.InDelta(t, value(t, mm, "height_mm"), 25.4*value(t, inch, "height_in"), 0.026) // rounded to a thousandth

	// Passes of 2 mm end at the height.
	passes := planRows(t, "passes", "--bit-radius", "10mm", "--step", "2mm")
	require.Len(t, passes, int(math.Ceil(value(t, base, "height_mm")/2)))
	assert.Equal(t, base["height_mm"], passes[len(passes)-1]["height_mm"])

	// A limit is printed on its safe side, in text and in csv, in both units and
	// from both references.
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	for _, ref := range []carve.Reference{carve.ReferenceBack, carve.ReferenceGlue} {
		o := carve.DefaultOptions(spec.Millimetre)
		o.Reference = ref
		p, err := carve.New(n, o)
		require.NoError(t, err)
		side := 1.0
		if ref == carve.ReferenceGlue {
			side = -1
		}
		for unit, flag := range map[spec.Unit]string{spec.Millimetre: "--in=false", spec.Inch: "--in"} {
			args := []string{"--reference", ref.String(), flag}
			csv := planRows(t, "roundover", args...)[0]
			check := func(v, step float64) {
				assert.GreaterOrEqual(t, side*(p.Round.Greatest.Height-unit.Millimetres(v)), -1e-5, "%s %s", ref, unit)
				assert.Less(t, side*(p.Round.Greatest.Height-unit.Millimetres(v)), unit.Millimetres(step)+1e-5)
			}
			check(value(t, csv, "limit_"+unit.String()), map[spec.Unit]float64{spec.Millimetre: 0.001, spec.Inch: 0.0001}[unit])
			text := call("", append([]string{"plan", "--table", "roundover"}, args...)...).out
			found := regexp.MustCompile(`(?m)^limit +([0-9.]+) `).FindStringSubmatch(text)
			require.NotNil(t, found)
			v, err := strconv.ParseFloat(found[1], 64)
			require.NoError(t, err)
			check(v, map[spec.Unit]float64{spec.Millimetre: 0.01, spec.Inch: 0.001}[unit])
		}
	}

	// The builder's own height.
	own := planRows(t, "roundover", "--bit-radius", "10mm", "--height", "8mm")[0]
	assert.Equal(t, "8.000", own["height_mm"])
}

// TestPlanHeights types the height that is printed back in, from both
// references with both guides and in both units: it is accepted, and gives the
// same plan. Every height counts from the one plane that is named.
//
// Long, since its cases share what is set up first.
// Without DRAWN=all it takes some of the cases.
func TestPlanHeights(t *testing.T) {
	for _, reference := range []string{"back", "glue"} {
		from := map[string]string{"back": "out of the base", "glue": "above the glue plane"}[reference]
		for _, guide := range []string{"side", "template"} {
			for _, unit := range []string{"mm", "in"} {
				if !drawn.All() && ((reference == "glue") != (guide == "template") || (reference == "glue") != (unit == "in")) {
					continue // two of the eight
				}
				args := []string{"plan", "--reference", reference, "--guide", guide, "--bit-radius", "8mm", "--in=" + strconv.FormatBool(unit == "in")}
				label := strings.Join(args, " ")
				r := call("", args...)
				require.Equal(t, exitDone, r.code, r.err)
				text := unbroken(r.out)
				found := regexp.MustCompile(`End of the arc ([0-9.]+) ` + unit + ` ` + from).FindStringSubmatch(text)
				require.NotNil(t, found, label)
				passes := regexp.MustCompile(`pass \d+ at ([0-9.]+) `+unit+`,`).FindAllStringSubmatch(text, -1)
				require.NotEmpty(t, passes, label)
				assert.Equal(t, found[1], passes[len(passes)-1][1], label)
				assert.Contains(t, text, "Passes, by the height of the arc's end "+from+": [ ] pass 1 at", label)
				assert.NotContains(t, text, "above the bench", label)
				assert.Contains(t, text, "heights of the bit, "+from, label)
				if reference == "glue" && guide == "template" {
					assert.Contains(t, text, "to measure from under the template add its ", label)
				}
				again := call("", append(args, "--height", found[1]+unit)...)
				require.Equal(t, exitDone, again.code, again.err)
				same := unbroken(again.out)
				why := regexp.MustCompile(`The height is the one asked for\.|It leaves [0-9.]+ ..? or more everywhere: .*? side\.`)
				assert.Equal(t, why.ReplaceAllString(text, ""), why.ReplaceAllString(same, ""), label)

				// csv and json say the same, and so does the row of the bit.
				row := planRows(t, "roundover", args[1:]...)[0]
				assert.Equal(t, from, row["height_counts"], label)
				v, err := strconv.ParseFloat(found[1], 64)
				require.NoError(t, err)
				assert.InDelta(t, v, value(t, row, "height_"+unit), 1e-9, label)
				for _, bit := range planRows(t, "bits", args[1:]...) {
					if strings.Contains(bit["remark"], "yours") {
						assert.InDelta(t, v, value(t, bit, "height_"+unit), 1e-9, label)
					}
				}
				js := call("", append(args, "--format", "json")...)
				assert.Contains(t, js.out, `"heights_count": "`+from+`"`)

				// The limit that is printed is allowed, and 0.2 mm more is not.
				never := regexp.MustCompile(`Never (?:beyond|below) ([0-9.]+) ` + unit + ` ` + from).FindStringSubmatch(text)
				require.NotNil(t, never, label)
				assert.Equal(t, exitDone, call("", append(args, "--height", never[1]+unit)...).code, label)
				v, err = strconv.ParseFloat(never[1], 64)
				require.NoError(t, err)
				more := spec.Millimetre
				if unit == "in" {
					more = spec.Inch
				}
				deeper := more.Millimetres(v) + map[string]float64{"back": 0.2, "glue": -0.2}[reference]
				bad := call("", append(args, "--height", strconv.FormatFloat(deeper, 'f', 3, 64)+"mm")...)
				assert.Equal(t, exitUsage, bad.code, label)
				assert.Contains(t, bad.err, from, label)
				assert.Regexp(t, `it cuts 0\.\d+ (mm|in) into the target at fret`, bad.err, label)
				touch := more.Millimetres(v) + map[string]float64{"back": 0.0255, "glue": -0.0255}[reference]
				bad = call("", append(args, "--height", strconv.FormatFloat(touch, 'f', 4, 64)+"mm")...)
				assert.Equal(t, exitUsage, bad.code, label)
				assert.NotContains(t, bad.err, "it cuts 0 ", label)
			}
		}
	}
	// A height that stays off the wood cuts nothing; the bit is not to blame.
	for _, h := range []string{"0", "-5mm"} {
		r := call("", "plan", "--bit-radius", "8mm", "--height="+h)
		assert.Equal(t, exitFailed, r.code)
		assert.Contains(t, r.err, "out of the base cuts nothing: the bit stays clear of the wood")
		assert.NotContains(t, r.out+r.err, "no height of this bit")
		assert.NotContains(t, r.out, "bit cannot be used")
		assert.NotContains(t, r.out, "leaving")
	}
	// A hair past the limit touches.
	r := call("", "plan", "--bit-radius", "38.1mm", "--height", "17mm")
	assert.Equal(t, exitUsage, r.code)
	assert.NotContains(t, r.err, "(x = 0)")
}

// TestPlanFeed holds the words for the way to feed: by router against the
// rotation, counterclockwise round the back, and on a table, where the work
// moves, the other way along both sides.
func TestPlanFeed(t *testing.T) {
	text := unbroken(call("", "plan").out)
	assert.Contains(t, text, "Bass side: the router travels towards the nut; treble side: towards the body (bit seen turning clockwise from the router's side).")
	assert.Contains(t, text, "On a router table the router stands still and the neck is pushed the opposite way: with its bass side on the bit it moves body end first, with its treble side nut end first.")
	assert.NotContains(t, unbroken(call("", "plan", "--reference", "glue").out), "router table")
}

// TestPlanStations checks that the figures of step 6 do not hang on the
// stations that are asked for, and which cover the table shows.
func TestPlanStations(t *testing.T) {
	hand := regexp.MustCompile(`After the router .*? \(x = [^)]*\); past the stops .*?\)\. After the flats .*?\)\.`)
	a, b := call("", "plan"), call("", "plan", "--at", "5")
	found := hand.FindString(unbroken(a.out))
	require.NotEmpty(t, found)
	assert.Equal(t, found, hand.FindString(unbroken(b.out)))
	assert.Regexp(t, `to edge +cover round +cover final\n`, a.out)
	assert.Regexp(t, `width +final +flat`, a.out)
	row := planRows(t, "stations", "--at", "5")[0]
	for _, stage := range []string{"square", "taper", "round", "flats"} {
		assert.LessOrEqual(t, value(t, row, "cover_final_mm"), value(t, row, "cover_"+stage+"_mm"))
	}
	assert.Contains(t, b.out, row["cover_final_mm"][:4])
}

// TestPlanWays checks marks that the base sets, rails, a hinge inside the run,
// and files whose ending says their format.
func TestPlanWays(t *testing.T) {
	text := unbroken(call("", "plan", "--base", "75mm").out)
	assert.Contains(t, text, "The router's base sets the marks: it is 150 mm across")
	assert.NotContains(t, unbroken(call("", "plan", "--base", "10mm").out), "base sets the marks")
	text = unbroken(call("", "plan", "--reference", "glue").out)
	assert.Regexp(t, `Rails at least [0-9.]+ mm above the glue plane clear the blank with volute, headstock and heel`, text)
	text = unbroken(call("", "plan", "--sled-offset=-100mm").out)
	assert.Contains(t, text, "The shim lowers the wood by 0.64 mm at the near end of the run and lifts the wood by 1.7 mm at the far end")
	assert.NotContains(t, text, "-0.64")
	plain := unbroken(call("", "plan", "../../testdata/specs/siskin.toml").out)
	spec, err := spec.ReadFile("../../testdata/specs/siskin.toml")
	require.NoError(t, err)
	assert.Equal(t, spec.Volute != nil, strings.Contains(plain, "volute"))

	inFolder(t)
	for _, name := range []string{"p.csv", "p.json", "p.txt"} {
		require.Equal(t, exitDone, call("", "plan", "-o", name).code)
		b, err := os.ReadFile(name)
		require.NoError(t, err)
		switch name {
		case "p.csv":
			assert.True(t, strings.HasPrefix(string(b), "station,x_mm,"))
		case "p.json":
			assert.True(t, json.Valid(b))
		default:
			assert.True(t, strings.HasPrefix(string(b), "Carving plan: "))
		}
	}
}

// TestPlanBits checks that the comparison has the common sizes and the
// builder's, and that none leaves less than the one it calls best.
func TestPlanBits(t *testing.T) {
	r := call("", "plan", "--bits", "--bit-radius", "11mm", "--format", "csv")
	require.Equal(t, exitDone, r.code, r.err)
	rows := planRows(t, "bits", "--bit-radius", "11mm")
	require.Len(t, rows, len(carve.CommonBits())+1)
	best, least, mine := math.NaN(), math.Inf(1), 0
	for _, row := range rows {
		least = math.Min(least, value(t, row, "remaining_cm3"))
		if strings.Contains(row["remark"], "leaves least") {
			best = value(t, row, "remaining_cm3")
		}
		if strings.Contains(row["remark"], "yours") {
			mine++
			assert.Equal(t, "11.000", row["radius_mm"])
		}
	}
	assert.Equal(t, least, best)
	assert.Equal(t, 1, mine)
	assert.Equal(t, strings.Count(r.out, "\n"), len(rows)+1)
}

// TestPlanPairs counts the flats' lines for one to three pairs.
func TestPlanPairs(t *testing.T) {
	before := math.Inf(1)
	for pairs := 1; pairs <= 3; pairs++ {
		n := strconv.Itoa(pairs)
		assert.Len(t, planRows(t, "flats", "--pairs", n, "--at", "3,9"), 2*2*pairs)
		lines := map[string]bool{}
		for _, row := range planRows(t, "lines", "--pairs", n) {
			lines[row["pair"]+row["side"]+row["edge"]] = true
		}
		assert.Len(t, lines, 4*pairs)
		left := value(t, planRows(t, "stages", "--pairs", n)[carve.StageFlats], "remaining_cm3")
		assert.Less(t, left, before, "another pair leaves no less")
		before = left
	}
}

// TestPlanMass checks the masses with the handbook's specific gravity and 12 %
// of moisture.
func TestPlanMass(t *testing.T) {
	for wood, gravity := range map[string]float64{"sugar maple": 0.63, "Black Walnut": 0.55} {
		row := planRows(t, "stages", "--species", wood)[carve.StageTaper]
		assert.InDelta(t, value(t, row, "removed_cm3")*gravity*1.12, value(t, row, "mass_g"), 2e-3)
	}
	rows := planRows(t, "stages", "--feed", "1000mm", "--hand-rate", "2")
	round := rows[carve.StageRound]
	travel := 2 * 4 * (361.856 - 24.35) // four passes on both sides between the stops
	assert.InDelta(t, travel/1000, value(t, round, "time_min"), 2e-3)
	assert.InDelta(t, value(t, round, "remaining_cm3")/2, value(t, round, "hand_time_min"), 1e-3)
}

// TestPlanText looks for what a builder reads, in both units.
func TestPlanText(t *testing.T) {
	r := call("", "plan")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.err, "built-in demo neck")
	for _, want := range []string{
		"Carving plan: Tern 636", "1. Square the blank", "2. Taper the back", "3. Mark the stops", "4. Round over",
		"5. Or cut flats", "6. Bring it down by hand", "against the cutter's rotation", "light passes", "guard", "eyes and ears",
		"dust", "on scrap", "[ ] pass 1", "24.4 mm (0.959 in) from the nut", "shim of 2.33 mm at the nut end",
		"Stations", "Stops", "Flats", "Stages", "fret 12",
	} {
		assert.Contains(t, r.out, want)
	}
	for _, line := range strings.Split(r.out, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 138, line)
		assert.Equal(t, strings.TrimRight(line, " "), line, "blanks at a line's end")
	}
	in := call("", "plan", "--in")
	require.Equal(t, exitDone, in.code, in.err)
	assert.Contains(t, in.out, "shim of 0.092 in at the nut end")
	assert.NotRegexp(t, `\d mm (out|deep|wide|over)`, unbroken(in.out))
	// A row of many columns stands upright.
	r = call("", "plan", "--table", "roundover", "--bit-radius", "12.7")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Regexp(t, `(?m)^bit radius +12\.70 mm$`, r.out)
	assert.Regexp(t, `(?m)^guide +side$`, r.out)
	assert.NotContains(t, r.out, "refused")
	assert.Contains(t, call("", "plan", "--table", "taper", "--in").out, " 0.37 deg\n")
	// A bare number stays in the spec's unit.
	a := call("", "plan", "--in", "--bit-radius", "10", "--at", "x=120", "--table", "stations", "--format", "csv")
	require.Equal(t, exitDone, a.code, a.err)
	assert.Contains(t, a.out, ",4.7244,")
}

// TestPlanJSON reads everything back and compares it with the csv.
func TestPlanJSON(t *testing.T) {
	r := call("", "plan", "--format", "json", "--pairs", "3")
	require.Equal(t, exitDone, r.code, r.err)
	var all map[string]any
	require.NoError(t, json.Unmarshal([]byte(r.out), &all))
	assert.Equal(t, "Tern 636", all["name"])
	assert.Equal(t, "mm", all["unit"])
	assert.Empty(t, all["refused"])
	for _, table := range export.PlanTables() {
		rows, ok := all[table].([]any)
		require.True(t, ok, table)
		if slices.Contains([]string{"table", "bearing", "offsets", "pairs", "ends"}, table) {
			assert.Empty(t, rows, table) // of a router table, a search that was not asked for, a blank too thin for its headstock
			continue
		}
		lines := planRows(t, table, "--pairs", "3")
		require.Len(t, rows, len(lines), table)
		for i, line := range lines {
			object := rows[i].(map[string]any)
			require.Len(t, object, len(line))
			for key, text := range line {
				switch v := object[key].(type) {
				case string:
					assert.Equal(t, text, v)
				case float64:
					w, err := strconv.ParseFloat(text, 64)
					require.NoError(t, err)
					assert.Equal(t, w, v)
				case nil:
					assert.Empty(t, text)
				}
			}
		}
	}
}

// TestPlanFiles writes pages and tables, the same twice, and through pipes.
func TestPlanFiles(t *testing.T) {
	inFolder(t)
	r := call("", "plan", "-o", "plan.pdf", "--paper", "letter")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Empty(t, r.out)
	first, err := os.ReadFile("plan.pdf")
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(first, []byte("%PDF-")))
	r = call("", "plan", "--pdf", "both.pdf", "--paper", "Letter")
	require.Equal(t, exitDone, r.code, r.err)
	assert.Contains(t, r.out, "2. Taper the back")
	b, err := os.ReadFile("both.pdf")
	require.NoError(t, err)
	assert.Equal(t, first, b)
	r = call("", "plan", "-o", "plan.png")
	require.Equal(t, exitDone, r.code, r.err)
	b, err = os.ReadFile("plan.png")
	require.NoError(t, err)
	assert.True(t, bytes.HasPrefix(b, []byte("\x89PNG")))

	piped := call(spec.Starter(), "plan", "-", "--format", "csv")
	require.Equal(t, exitDone, piped.code, piped.err)
	r = call("", "plan", "--format", "csv", "-o", "plan.csv")
	require.Equal(t, exitDone, r.code, r.err)
	b, err = os.ReadFile("plan.csv")
	require.NoError(t, err)
	assert.Equal(t, string(b), piped.out)
	assert.Equal(t, []string{"both.pdf", "plan.csv", "plan.pdf", "plan.png"}, files(t))
}

// TestPlanRefuses breaks the limit of cover: everything that is known is
// printed, and no page is written.
//
// Long, since it is one table of cases.
func TestPlanRefuses(t *testing.T) {
	inFolder(t)
	// The demo's channel leaves 5.54 mm at the tapered back and 5.36 mm at last.
	for _, c := range []struct {
		limit, stage string
		without      []string
	}{
		{"5.45", "finished back", []string{"Shape volute and heel"}},
		{"5.6", "tapered back", []string{"Shape volute and heel", "shim of", "[ ] pass 1", "[ ] pair 1", "from the nut,"}},
	} {
		sp := strings.Replace(spec.Starter(), "cover = 4.0 ", "cover = "+c.limit+" ", 1)
		require.NotEqual(t, spec.Starter(), sp)
		for _, args := range [][]string{{}, {"-o", "p.pdf"}, {"-o", "p.png"}, {"--pdf", "p.pdf"}} {
			r := call(sp, append([]string{"plan", "-"}, args...)...)
			r.out = unbroken(r.out)
			assert.Equal(t, exitFailed, r.code)
			assert.Contains(t, r.err, c.stage+": refused")
			assert.Contains(t, r.err, "at fret ")
			assert.Contains(t, r.err, "below the limit of "+c.limit+" mm")
			assert.Contains(t, r.out, "! "+strings.ToUpper(c.stage[:1])+c.stage[1:]+": refused")
			assert.Contains(t, r.out, "Stages")
			for _, setting := range c.without {
				assert.NotContains(t, r.out, setting)
			}
			if len(args) > 0 {
				assert.Contains(t, r.err, args[1]+" is not written")
			}
			assert.Empty(t, files(t))
		}
		r := call(sp, "plan", "-", "--format", "json")
		assert.Equal(t, exitFailed, r.code)
		var all struct{ Refused []string }
		require.NoError(t, json.Unmarshal([]byte(r.out), &all))
		assert.Contains(t, strings.Join(all.Refused, "\n"), c.stage)
		// What belongs to a refused stage is blank, in every form.
		rows := func(table string) []map[string]any {
			var all map[string]json.RawMessage
			require.NoError(t, json.Unmarshal([]byte(r.out), &all))
			var rows []map[string]any
			require.NoError(t, json.Unmarshal(all[table], &rows))
			return rows
		}
		blank := map[string][]string{"finished back": {"cover_final_mm"}, "tapered back": {
			"flat_mm", "take_off_mm", "limit_mm", "leaving_mm", "ridge_mm", "remaining_mm", "hand_mm2", "to_edge_mm",
			"flats_remaining_mm", "flats_at_y_mm", "flats_hand_mm2", "cover_taper_mm", "cover_round_mm", "cover_flats_mm", "cover_final_mm"}}[c.stage]
		for _, row := range rows("stations") {
			for _, key := range blank {
				v, ok := row[key]
				assert.True(t, ok, key)
				assert.Nil(t, v, key)
			}
			assert.NotNil(t, row["cover_square_mm"])
		}
		if c.stage == "tapered back" {
			for _, table := range []string{"passes", "stops", "flats", "lines"} {
				assert.Empty(t, rows(table), table)
			}
			for key, v := range rows("taper")[0] {
				switch key {
				case "from_x_mm", "to_x_mm", "run_mm", "stock_depth_mm", "refused":
				default:
					assert.Contains(t, []any{nil, ""}, v, key)
				}
			}
			for _, key := range []string{"height_mm", "decided_by", "limit_mm", "limit_decided_by", "straight_mm", "bearing_contact_mm", "verdict", "best_radius_mm"} {
				assert.Contains(t, []any{nil, ""}, rows("roundover")[0][key], key)
			}
			for _, row := range rows("bits") {
				assert.Nil(t, row["height_mm"])
				assert.Empty(t, row["remark"])
			}
			assert.Nil(t, rows("stages")[1]["removed_cm3"])
			assert.NotNil(t, rows("stages")[1]["cover_mm"])
			text := call(sp, "plan", "-").out
			assert.NotContains(t, text, "suits this profile")
			assert.NotRegexp(t, `station .*flat`, text)
			assert.NotContains(t, text, "Notes")
		}
	}
	// A bit that finds no room is refused too; flats remain.
	r := call("", "plan", "--base", "200mm", "-o", "flats.pdf")
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, r.err, "rounded over: refused: the router's base, 400 mm across, has no room between volute and heel")
	assert.Equal(t, []string{"flats.pdf"}, files(t))
}

// TestMakeWithoutRoom makes a neck whose blank is too thin: everything but the
// plan is there, none from an earlier run is left, and both terminal and index
// say why.
func TestMakeWithoutRoom(t *testing.T) {
	sp := strings.Replace(spec.Starter(), "thickness = 32", "thickness = 16", 1)
	require.NotEqual(t, spec.Starter(), sp)
	r := made(t, sp)
	require.Equal(t, exitDone, r.code, r.err)
	t.Chdir(r.dir)
	index, err := os.ReadFile("index.md")
	require.NoError(t, err)
	for _, name := range olderFiles {
		assert.NoFileExists(t, name)
		assert.NotContains(t, r.out, name)
		assert.Contains(t, string(index), name+" is missing: ")
		assert.NotContains(t, string(index), "["+name+"]")
	}
	assert.Contains(t, r.err, "neckloft: warning: plan.pdf, plan.csv, plan.json are not made: ")
	assert.Contains(t, r.err, "the wood is 16 mm deep and the flat back needs 17.172 mm")
	assert.FileExists(t, "sheets.pdf")
	assert.FileExists(t, "neck.stl")
}

// TestMakeRefusedPlan makes a neck whose plan breaks the limit of cover: every
// file is there, terminal and index say not to cut by the plan's, and the exit
// code says that something is wrong.
func TestMakeRefusedPlan(t *testing.T) {
	sp := strings.Replace(spec.Starter(), "cover = 4.0 ", "cover = 5.45 ", 1)
	require.NotEqual(t, spec.Starter(), sp)
	r := made(t, sp)
	t.Chdir(r.dir)
	assert.Equal(t, exitFailed, r.code)
	assert.Contains(t, r.err, "the carving plan is refused, do not cut by plan.pdf, plan.csv or plan.json; all other files are made: finished back: refused: it leaves 5.36 mm")
	index, err := os.ReadFile("index.md")
	require.NoError(t, err)
	assert.Contains(t, string(index), "- carving plan: finished back: refused: it leaves 5.36 mm")
	for _, p := range demoProducts() {
		assert.FileExists(t, p.File)
		assert.Equal(t, strings.HasPrefix(p.File, "plan."), strings.Contains(string(index), "]("+p.File+"): **Refused: do not cut by it.** "), p.File)
	}
}

// TestPlanRefusesFlags holds every message to what is wrong and what is
// allowed.
//
// Long, since it is one table of cases.
func TestPlanRefusesFlags(t *testing.T) {
	dir := inFolder(t)
	for _, c := range []struct {
		args, want string
		code       int
	}{
		{"--bit-radius 10kg", "--bit-radius:", exitUsage},
		{"--bit-radius 0", "--bit-radius: 0 is no length here", exitUsage},
		{"--bit-radius 1/0in", "--bit-radius:", exitUsage},
		{"--bit-radius 0.5mm", "--bit-radius: 0.5 mm; allowed: 1 mm to 150 mm", exitUsage},
		{"--bit-radius 10mm --bearing 10mm", "allowed: less than the radius", exitUsage},
		{"--bit-radius 10mm --bit-diameter 15mm", "cannot be 15 mm in diameter", exitUsage},
		{"--bit-diameter 30mm", "the bit's diameter goes with its radius", exitUsage},
		{"--bit-radius 10mm --height 14mm", "into the target", exitUsage},
		{"--allowance -1mm", "", exitUsage},
		{"--allowance 11mm", "--allowance: 11 mm; allowed: 0 mm to 10 mm", exitUsage},
		{"--step 0.1mm", "--step: 0.1 mm; allowed: 0.2 mm to 50 mm", exitUsage},
		{"--stock-depth 10mm", "a stock depth of 10 mm is too little: the flat back needs 17.172 mm at fret 15.5 (x = 376.2 mm); allowed: 17.172 mm or more", exitUsage},
		{"--stock-depth 17.171mm", "allowed: 17.172 mm or more", exitUsage},
		{"--pairs 1.5", `--pairs "1.5" is unknown; allowed: 1, 2, 3`, exitUsage},
		{"--hand-rate abc", `--hand-rate "abc" is no number; allowed: a number in cm3 a minute, such as 2.5`, exitUsage},
		{"--in=perhaps", "allowed: true or false", exitUsage},
		{"--sled-modulus stiff", `--sled-modulus "stiff" is no number; allowed: a number in MPa`, exitUsage},
		{"--bit-radius 1/2", `"1/2" has no unit, and bare numbers are millimetres here; a fraction of an inch is written 1/2in`, exitUsage},
		{"--bit-radius -1/2in", "--bit-radius: -12.7 mm; allowed: 1 mm", exitUsage},
		{"-o p.svg", `-o "p.svg": the plan has no .svg files; allowed: .pdf, .png, .csv, .json, .txt`, exitUsage},
		{"-o p.csv --format json", "-o p.csv and --format json exclude each other", exitUsage},
		{"--sled-thickness 0.5mm", "--sled-thickness: 0.5 mm; allowed: 1 mm to 200 mm", exitUsage},
		{"--sled-modulus 5", "--sled-modulus: 5 MPa", exitUsage},
		{"--router-mass 0", "--router-mass: 0 kg", exitUsage},
		{"--height 400mm", "it lies 389.34 mm beyond the height at which the arc's crown touches at fret 9.9", exitUsage},
		{"--height 10.66mm", "with it the bit already touches the target: the arc's crown touches at fret 9.9", exitUsage},
		{"--bit-radius 10mm --reference glue --height 3mm", "a bit height of 3 mm above the glue plane is refused: it cuts ", exitUsage},
		{"--guide fence", `--guide "fence" is unknown; allowed: side, template`, exitUsage},
		{"--template 9mm", "--template goes with --guide template", exitUsage},
		{"--guide template --template 0.5mm", "--template: 0.5 mm; allowed: 1 mm to 100 mm", exitUsage},
		{"--reference bench", `reference "bench" is unknown; allowed: back, glue`, exitUsage},
		{"--pairs 0", `--pairs "0" is unknown; allowed: 1, 2, 3`, exitUsage},
		{"--pairs 4", `--pairs "4" is unknown; allowed: 1, 2, 3`, exitUsage},
		{"--sled-span 5mm", "--sled-span: 5 mm; allowed: 10 mm to 5000 mm", exitUsage},
		{"--sled-unsupported 400 --sled-modulus 5", "--sled-modulus: 5 MPa; allowed: 100 to 300000 MPa", exitUsage},
		{"--sled-unsupported 400 --router-mass 0", "--router-mass: 0 kg", exitUsage},
		{"--sled-carries hope", `--sled-carries "hope" is unknown; allowed: work, router`, exitUsage},
		{"--species oak", `--species "oak" is not in the table of woods; allowed: sugar maple, `, exitUsage},
		{"--hand-rate -2", "--hand-rate -2; allowed: more than 0", exitUsage},
		{"--paper A3 -o p.pdf", `--paper: paper "A3" is unknown; allowed: A4, Letter`, exitUsage},
		{"--paper A4", "--paper goes with", exitUsage},
		{"--format xml", `--format "xml" is unknown`, exitUsage},
		{"--table screws", `--table "screws" is unknown; allowed: taper, `, exitUsage},
		{"--bits --table flats", "give one of them", exitUsage},
		{"--bits -o p.pdf", "go with a table", exitUsage},
		{"--pdf p.txt", "allowed: the name of a .pdf file", exitUsage},
		{"--pdf a.pdf -o b.pdf", "exclude each other", exitUsage},
		{"--at 1 --every 20mm", "--at and --every exclude each other", exitUsage},
		{"--at 22", "station fret 22 lies at", exitUsage},
		{"--every 900mm", "", exitUsage},
		{"missing.toml", "missing.toml", exitUsage},
		{"a.toml b.toml", "at most 1", exitUsage},
		{"-o none/p.pdf", "none", exitFailed},
	} {
		r := call("", append([]string{"plan"}, strings.Fields(c.args)...)...)
		assert.Equal(t, c.code, r.code, c.args)
		assert.Contains(t, r.err, c.want, c.args)
		assert.NotContains(t, r.err, "strconv", c.args)
		assert.Empty(t, r.out, c.args)
		left, err := os.ReadDir(dir)
		require.NoError(t, err)
		assert.Empty(t, left, c.args)
	}
}

// TestPlanOfEverySpec plans every test neck, with both guides and odd bits. Without
// DRAWN=all it takes some of the necks, each with one of these in turn.
func TestPlanOfEverySpec(t *testing.T) {
	specs, err := filepath.Glob("../../testdata/specs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, specs)
	for i, name := range drawn.Some(specs, 8) {
		for k, args := range []string{"", "--guide template", "--bit-radius 3mm --reference glue --in", "--bit-radius 1.5in --pairs 3"} {
			if i%4 != k && !drawn.All() {
				continue // one after the other in turn
			}
			r := call("", append([]string{"plan", name}, strings.Fields(args)...)...)
			label := fmt.Sprintf("%s %s", name, args)
			assert.Contains(t, []int{exitDone, exitFailed}, r.code, label)
			if r.code == exitFailed {
				assert.Contains(t, r.err, "refused", label)
			}
			assert.NotContains(t, r.out, "NaN", label)
			assert.NotContains(t, r.out, "Inf", label)
		}
	}
}

// TestPlanLinesSayWhere asks for the flats of two necks without heel and
// headstock: one whose first bass line lies 2.62 mm on the treble side at fret 1,
// and one whose second flats meet below the back near the nut. Every table says
// so, no figure is blank, and the sheets name each line.
//
// Long, since its cases share what is set up first.
func TestPlanLinesSayWhere(t *testing.T) {
	inFolder(t)
	head := "name = \"lines\"\nboard = { thickness = 5 }\n"
	apex := head + `scale = { length = 640, frets = 20 }
width = { nut = 46, end = 56 }
depth = [{ fret = 1, total = 22 }, { fret = 12, total = 24 }]
profile = [{ fret = 1, bass = 1.4, treble = 2.6, apex = 12 }]
`
	bent := head + `scale = { length = 648, frets = 22 }
width = { nut = 43, end = 56 }
depth = [{ fret = 1, total = 20 }, { fret = 5, total = 22 }, { fret = 12, total = 22.5 }]
`
	require.NoError(t, os.WriteFile("apex.toml", []byte(apex), 0o666))
	require.NoError(t, os.WriteFile("bent.toml", []byte(bent), 0o666))

	row := planRows(t, "flats", "apex.toml", "--at", "1")[0]
	assert.Equal(t, "bass", row["side"])
	assert.Equal(t, "back", row["back_line_on"])
	assert.Equal(t, "treble", row["back_line_side"])
	assert.InDelta(t, 2.625, value(t, row, "back_line_from_centre_mm"), 0.001)
	assert.Regexp(t, `(?m)^fret 1 +2\.62 treble `, call("", "plan", "apex.toml").out)

	for _, file := range []string{"apex.toml", "bent.toml"} {
		faces := map[string]bool{}
		for _, row := range planRows(t, "flats", file) {
			for _, edge := range []string{"back", "board"} {
				on := row[edge+"_line_on"]
				if strings.HasPrefix(on, "flat") {
					value(t, row, edge+"_line_along_mm") // there is a figure
				}
				if row["pair"] == "2" && row["side"] == "treble" && edge == "back" {
					faces[on] = true
				}
			}
		}
		assert.Equal(t, file == "bent.toml", faces["back"])
		assert.Equal(t, file == "bent.toml", faces["flat 2 bass"])
		for _, row := range planRows(t, "lines", file) {
			y := value(t, row, "y_mm")
			if math.Abs(y) > 0.01 {
				assert.Equal(t, y > 0, row["line_side"] == "treble")
			}
			if row["on"] == "back" {
				assert.Less(t, value(t, row, "z_mm"), -15.0)
			}
		}
		r := call("", "gauges", file, "--sheet", "both", "-o", "t.svg")
		require.Equal(t, exitDone, r.code, r.err)
		svg, err := os.ReadFile("t.svg")
		require.NoError(t, err)
		names := []string{"1B", "1T", "1B treble", "2B", "2T"}
		if file == "bent.toml" {
			names = []string{"1B", "1T", "2Bc", "2Bc treble", "2Bs", "2Tc", "2Ts"}
		}
		for _, name := range names {
			assert.Contains(t, string(svg), ">"+name+"<", file)
		}
	}
	text := call("", "plan", "bent.toml").out
	assert.NotContains(t, text, "2B flat 2")
	assert.Regexp(t, `(?m)^nut .* flat 2 bass `, text)
	assert.Regexp(t, `(?m)^fret 12 .* back `, text)
}

// TestPlanOldNames gives flags and values by the names that they once had: they
// do what the new ones do, and the new name is said, once.
func TestPlanOldNames(t *testing.T) {
	for _, c := range []struct{ old, now, says string }{
		{"--leave 1mm", "--allowance 1mm", "--leave is called --allowance now"},
		{"--facets 3", "--pairs 3", "--facets is called --pairs now"},
		{"--bit-radius 6mm --shoulder 1mm", "--bit-radius 6mm --straight 1mm", "--shoulder is called --straight now"},
		{"--guide edge", "--guide side", "--guide edge is called --guide side now"},
	} {
		old := call("", append([]string{"plan"}, strings.Fields(c.old)...)...)
		now := call("", append([]string{"plan"}, strings.Fields(c.now)...)...)
		require.Equal(t, now.code, old.code, c.old)
		assert.Equal(t, now.out, old.out, c.old)
		assert.Equal(t, 1, strings.Count(old.err, "neckloft: warning: "+c.says), old.err)
		assert.NotContains(t, now.err, "is called")
	}
	help := call("", "plan", "--help").out
	for _, old := range []string{"--leave", "--facets", "--shoulder"} {
		assert.NotContains(t, help, old)
	}
}

// TestPlanSpeciesOverDensity gives a species for a neck whose spec has a density
// of its own: the masses are those of the species.
func TestPlanSpeciesOverDensity(t *testing.T) {
	const heron = "../../testdata/specs/heron.toml"
	sp, err := spec.ReadFile(heron)
	require.NoError(t, err)
	require.NotZero(t, sp.Wood.Density)
	row := planRows(t, "stages", heron, "--species", "black walnut")[carve.StageTaper]
	assert.InDelta(t, value(t, row, "removed_cm3")*0.55*1.12, value(t, row, "mass_g"), 2e-3)
	row = planRows(t, "stages", heron)[carve.StageTaper]
	assert.InDelta(t, value(t, row, "removed_cm3")*sp.Wood.Density/1e3, value(t, row, "mass_g"), 2e-3)
}
