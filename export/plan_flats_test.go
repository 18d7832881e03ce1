package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// crossedPlan is the plan of a neck whose apex lies far to the treble
// side: the first bass flat's line on the back lies beyond the centreline.
func crossedPlan(t *testing.T) *carve.Plan {
	return planFrom(t, `name = "far apex"
scale = { length = 640, frets = 20 }
width = { nut = 46, end = 56 }
board = { thickness = 5 }
depth = [{ fret = 1, total = 22 }, { fret = 12, total = 24 }]
profile = [{ fret = 1, bass = 1.4, treble = 2.6, apex = 12 }]
`)
}

// bentPlan is the plan of a neck whose second flats meet below the back near
// the nut.
func bentPlan(t *testing.T) *carve.Plan {
	return planFrom(t, `name = "bent"
scale = { length = 648, frets = 22 }
width = { nut = 43, end = 56 }
board = { thickness = 5 }
depth = [{ fret = 1, total = 20 }, { fret = 5, total = 22 }, { fret = 12, total = 22.5 }]
`)
}

func planFrom(t *testing.T, text string) *carve.Plan {
	t.Helper()
	s, err := spec.Read(strings.NewReader(text), "test.toml")
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	p, err := carve.New(n, carve.DefaultOptions(n.Spec().Units))
	require.NoError(t, err)
	return p
}

// tableRows returns the rows of a table from csv in millimetres, by column.
func tableRows(t testing.TB, table *Table) []map[string]string {
	t.Helper()
	return tableRowsIn(t, table, spec.Millimetre)
}

// tableRowsIn returns the rows of a table from csv in a unit, by column.
func tableRowsIn(t testing.TB, table *Table, unit spec.Unit) []map[string]string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, table.Write(&b, "csv", unit))
	all, err := csv.NewReader(&b).ReadAll()
	require.NoError(t, err)
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

func cellValue(t *testing.T, row map[string]string, key string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[key], 64)
	require.NoError(t, err, "%s: %v", key, row)
	return v
}

// flowing returns a text without its line ends.
func flowing(text string) string { return strings.Join(strings.Fields(text), " ") }

func tableText(t *testing.T, table *Table) string {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, table.Write(&b, "text", spec.Millimetre))
	return b.String()
}

// TestFlatsSayTheirSide holds csv, json, text and the lines' own table against
// each other where a line lies beyond the centreline.
//
// Long, since it is one table of cases.
func TestFlatsSayTheirSide(t *testing.T) {
	for name, p := range map[string]*carve.Plan{"far apex": crossedPlan(t), "bent": bentPlan(t)} {
		// The lines' table has y with its sign.
		type key struct{ x, pair, side, edge, on string }
		y := map[key]float64{}
		for _, row := range tableRows(t, PlanLineTable(p)) {
			y[key{row["x_mm"], row["pair"], row["side"], row["edge"], row["on"]}] = cellValue(t, row, "y_mm")
			v := cellValue(t, row, "y_mm")
			if math.Abs(v) > 0.01 {
				assert.Equal(t, map[bool]string{true: "treble", false: "bass"}[v > 0], row["line_side"], name)
			}
		}
		crossed, compared := 0, 0
		rows := tableRows(t, PlanFlatTable(p))
		for _, row := range rows {
			for _, edge := range []string{"back", "board"} {
				v := cellValue(t, row, edge+"_line_from_centre_mm")
				assert.GreaterOrEqual(t, v, 0.0)
				require.Contains(t, []string{"bass", "treble"}, row[edge+"_line_side"])
				if row[edge+"_line_side"] == "bass" {
					v = -v
				}
				if row[edge+"_line_side"] != row["side"] {
					crossed++
				}
				if want, ok := y[key{row["x_mm"], row["pair"], row["side"], edge, row[edge+"_line_on"]}]; ok {
					assert.InDelta(t, want, v, 0.0011, "%s: %v", name, row)
					compared++
				}
			}
		}
		assert.Positive(t, crossed, name)
		assert.Greater(t, compared, 10, name)
		var b bytes.Buffer
		require.NoError(t, PlanFlatTable(p).Write(&b, "json", spec.Millimetre))
		var objects []map[string]any
		require.NoError(t, json.Unmarshal(b.Bytes(), &objects))
		require.Len(t, objects, len(rows))
		for i, o := range objects {
			assert.Equal(t, rows[i]["back_line_side"], o["back_line_side"])
			assert.Equal(t, rows[i]["board_line_side"], o["board_line_side"])
		}
	}
	text := tableText(t, PlanPencilTable(crossedPlan(t)))
	assert.Regexp(t, `(?m)^fret 1 +2\.62 treble +4\.86 +28\.72 +18\.37 `, text)
	assert.Contains(t, flowing(text), "treble, bass beside a figure: the line lies there, over the centreline")
	assert.NotContains(t, text, "flat 2")
	assert.NotContains(t, text, "c: the flat's line")
	assert.NotContains(t, text, "own pair")
	var b bytes.Buffer
	require.NoError(t, WritePlanText(&b, crossedPlan(t), spec.Millimetre))
	assert.Contains(t, strings.Join(strings.Fields(b.String()), " "), "The line of 1B towards the back lies on the treble side of the centreline.")

	// A neck on which nothing crosses has no such words.
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	p, err := carve.New(n, carve.DefaultOptions(n.Spec().Units))
	require.NoError(t, err)
	plain := tableText(t, PlanPencilTable(p))
	assert.NotContains(t, plain, "beside")
	assert.NotContains(t, plain, "treble\n")
	assert.NotRegexp(t, `(?m)^fret.*(treble|bass|back|flat)`, plain)
}

// TestFlatsSayTheirFace looks for the face at every station where it changes
// along the neck, and for blank cells: there are none.
func TestFlatsSayTheirFace(t *testing.T) {
	p := bentPlan(t)
	text := tableText(t, PlanPencilTable(p))
	lines := strings.Split(text, "\n")
	assert.Regexp(t, `2B back +2B flat 1 +2B wide +2Tc +2T flat 1 +2T wide`, lines[0])
	assert.NotContains(t, lines[0], "flat 2", "no heading may name a face for all")
	fret := regexp.MustCompile(`^(nut|fret \d+|run ends) `)
	rows := tableRows(t, PlanFlatTable(p))
	for _, line := range lines {
		m := fret.FindStringSubmatch(line)
		if m == nil {
			continue
		}
		for _, row := range rows {
			if row["station"] != m[1] || row["pair"] != "2" || row["side"] != "treble" {
				continue
			}
			figure := row["back_line_from_centre_mm"]
			if row["back_line_on"] != "back" {
				assert.Equal(t, "flat 2 bass", row["back_line_on"])
				figure = row["back_line_along_mm"]
			}
			found := regexp.MustCompile(` (\d+\.\d\d) ` + row["back_line_on"] + ` `).FindStringSubmatch(line)
			require.NotNil(t, found, line)
			shown, err := strconv.ParseFloat(found[1], 64)
			require.NoError(t, err)
			v, err := strconv.ParseFloat(figure, 64)
			require.NoError(t, err, "%v", row)
			assert.InDelta(t, v, shown, 0.0056)
		}
		// Thirteen figures after the station's name.
		assert.Len(t, regexp.MustCompile(` \d+\.\d\d\b`).FindAllString(line, -1), 13, line)
	}
	assert.Contains(t, flowing(text), "c: the flat's line nearer the centreline; s: nearer the side; its face changes")
	assert.Contains(t, flowing(text), "A line on the bass flat of its own pair is drawn when that one is cut.")
	assert.Contains(t, flowing(text), "treble, bass beside a figure")

	// The table of lines says the face point by point, both where it changes.
	faces := map[string]int{}
	last := map[string]string{}
	for _, row := range tableRows(t, PlanLineTable(p)) {
		if row["pair"] == "2" && row["side"] == "treble" && row["edge"] == "back" {
			faces[row["on"]]++
			if last["on"] != "" && last["on"] != row["on"] {
				assert.Equal(t, last["x_mm"], row["x_mm"])
			}
			last = row
		}
	}
	assert.Greater(t, faces["back"], 30)
	assert.Greater(t, faces["flat 2 bass"], 2)
}

// TestWordsBesideFigures checks that figures with words stay under each other,
// in text alone.
func TestWordsBesideFigures(t *testing.T) {
	table := &Table{Columns: []Column{{Key: "a", Heading: "a", Kind: LengthKind}, {Key: "b", Heading: "b", Kind: LengthKind}}}
	table.Add(Number(1).Beside("flat 1"), Number(2))
	table.Add(Number(10), Number(3))
	table.Add(Number(4).Beside("back"), Number(math.NaN()).Beside("nowhere"))
	text := tableText(t, table)
	lines := strings.Split(text, "\n")
	require.Contains(t, lines[3], " 1.00 flat 1")
	dot := strings.Index(lines[3], ".")
	assert.Equal(t, dot, strings.Index(lines[4], "."))
	assert.Equal(t, dot, strings.Index(lines[5], "."))
	assert.Contains(t, lines[5], "4.00 back")
	assert.NotContains(t, text, "nowhere")
	var b bytes.Buffer
	require.NoError(t, table.Write(&b, "csv", spec.Millimetre))
	assert.Equal(t, "a_mm,b_mm\n1.000,2.000\n10.000,3.000\n4.000,\n", b.String())
}

// TestNamesOnTheSheet checks that the names past the ends of a neck without heel
// and headstock lie on the sheet, and that a note is broken into lines that its
// sheet has room for.
func TestNamesOnTheSheet(t *testing.T) {
	for _, p := range []*carve.Plan{crossedPlan(t), bentPlan(t)} {
		sheets := MarkedSheets(&p.Flats)
		beyond := 0
		for _, s := range sheets {
			names := map[string]bool{}
			for _, text := range s.Texts {
				names[text.Text] = true
				half := 0.8 * text.Height * float64(len(text.Text)) / 2
				assert.GreaterOrEqual(t, text.At.X-half, fullSizeEdge-1e-9, text.Text)
				assert.LessOrEqual(t, text.At.X+half, s.Width-fullSizeEdge+1e-9, text.Text)
				lo, hi := s.bounds()
				if text.At.X < lo.X || text.At.X > hi.X {
					beyond++
				}
			}
			assert.True(t, names["1B"] || names["1B treble"], "%s", s.Title)
		}
		assert.Positive(t, beyond)
		all := Stack("both", sheets)
		whole, tall := "", 0.0
		for _, text := range all.Texts {
			if len(text.Text) > 25 {
				whole += " " + text.Text
				assert.Equal(t, fullSizeText, text.Height)
				assert.Less(t, float64(len(text.Text))*0.8*fullSizeText, all.Width-2*fullSizeEdge+1e-9)
				tall += noteRow
			}
		}
		for _, s := range sheets {
			assert.Contains(t, whole, s.Note)
			tall += s.Height
		}
		assert.InDelta(t, tall, all.Height, 1e-9)
		// The lines stand one under the other below their sheet.
		one := Stack("one", sheets[:1])
		lines := noteLines(sheets[0])
		require.Greater(t, len(lines), 1)
		assert.InDelta(t, sheets[0].Height+4.6*float64(len(lines)), one.Height, 1e-9)
		for i, text := range one.Texts[len(one.Texts)-len(lines):] {
			assert.Equal(t, lines[i], text.Text)
			assert.InDelta(t, one.Height-sheets[0].Height-4.6*(float64(i)+0.5), text.At.Y, 1e-9)
			assert.InDelta(t, one.Width/2, text.At.X, 1e-9)
		}
	}
}
