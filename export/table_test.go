package export

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// sample has a column of each kind, blanks, and text that needs quoting.
func sample() *Table {
	t := &Table{
		Columns: []Column{
			{Key: "name", Heading: "name"},
			{Key: "width", Heading: "width", Kind: LengthKind},
			{Key: "y-15", Heading: "y-15", Kind: LengthKind, InchKey: "y-15mm"},
			{Key: "area", Heading: "area", Kind: AreaKind},
			{Key: "angle_deg", Heading: "angle", Kind: NumberKind, Unit: "deg"},
			{Key: "frets", Heading: "frets", Kind: CountKind},
		},
		Note: "A note.",
	}
	t.Add(Text("nut"), Number(42.8), Number(-1.23456), Number(645.16), Number(11), Number(22))
	t.Add(Text(`a "b", c`), Number(math.NaN()), Number(-0.00001), Number(0), Cell{}, Number(0))
	return t
}

func render(t testing.TB, table *Table, format string, unit spec.Unit) string {
	t.Helper()
	return string(written(t, func(b *bytes.Buffer) error { return table.Write(b, format, unit) }))
}

func TestTableText(t *testing.T) {
	assert.Equal(t, `name      width   y-15    area  angle  frets
             mm     mm     mm²    deg
--------------------------------------------
nut       42.80  -1.23  645.16  11.00     22
a "b", c          0.00    0.00             0

A note.
`, render(t, sample(), "text", spec.Millimetre))

	// 25.4 mm an inch, exactly (NIST): 645.16 mm² are one square inch.
	assert.Equal(t, `name      width    y-15   area  angle  frets
             in      in    in²    deg
--------------------------------------------
nut       1.685  -0.049  1.000  11.00     22
a "b", c          0.000  0.000             0

A note.
`, render(t, sample(), "text", spec.Inch))
}

func TestTableCSV(t *testing.T) {
	assert.Equal(t, `name,width_mm,y-15_mm,area_mm2,angle_deg,frets
nut,42.800,-1.235,645.160,11.000,22
"a ""b"", c",,0.000,0.000,,0
`, render(t, sample(), "csv", spec.Millimetre))
	assert.Equal(t, `name,width_in,y-15mm_in,area_in2,angle_deg,frets
nut,1.6850,-0.0486,1.0000,11.000,22
"a ""b"", c",,0.0000,0.0000,,0
`, render(t, sample(), "csv", spec.Inch))
}

func TestTableJSON(t *testing.T) {
	assert.Equal(t, `[
  {"name": "nut", "width_mm": 42.800, "y-15_mm": -1.235, "area_mm2": 645.160, "angle_deg": 11.000, "frets": 22},
  {"name": "a \"b\", c", "width_mm": null, "y-15_mm": 0.000, "area_mm2": 0.000, "angle_deg": null, "frets": 0}
]
`, render(t, sample(), "json", spec.Millimetre))
	assert.Equal(t, `[
  {"name": "nut", "width_in": 1.6850, "y-15mm_in": -0.0486, "area_in2": 1.0000, "angle_deg": 11.000, "frets": 22},
  {"name": "a \"b\", c", "width_in": null, "y-15mm_in": 0.0000, "area_in2": 0.0000, "angle_deg": null, "frets": 0}
]
`, render(t, sample(), "json", spec.Inch))
}

func TestTableWithoutRows(t *testing.T) {
	table := &Table{Columns: []Column{{Key: "name", Heading: "name"}, {Key: "x", Heading: "x", Kind: CountKind}}}
	assert.Equal(t, "[]\n", render(t, table, "json", spec.Millimetre))
	assert.Equal(t, "name,x\n", render(t, table, "csv", spec.Millimetre))
	assert.Equal(t, "name  x\n-------\n", render(t, table, "text", spec.Millimetre))
}

func TestTableErrors(t *testing.T) {
	table := sample()
	require.EqualError(t, table.Write(&bytes.Buffer{}, "xml", spec.Millimetre),
		`table format "xml" is unknown; allowed: text, csv, json`)
	require.ErrorIs(t, table.Write(&limitedWriter{5}, "csv", spec.Millimetre), errFull)
	for want, row := range map[string][]Cell{
		"row 3 of the table has 1 cells for 6 columns":                {Text("x")},
		"row 3 of the table: width is infinite":                       {Text("x"), Number(math.Inf(1)), {}, {}, {}, {}},
		"row 3 of the table: the cell for width is of the wrong kind": {Text("x"), Text("y"), {}, {}, {}, {}},
		"row 3 of the table: the cell for name is of the wrong kind":  {Number(1), {}, {}, {}, {}, {}},
		"row 3 of the table: the cell for frets is of the wrong kind": {{}, {}, {}, {}, {}, Text("")},
	} {
		table := sample()
		table.Add(row...)
		for _, format := range Formats() {
			var b bytes.Buffer
			require.EqualError(t, table.Write(&b, format, spec.Millimetre), want)
			require.Zero(t, b.Len())
		}
	}
}

// Wide and combining characters take the columns that a terminal gives them,
// and nothing in a name can break the line.
func TestTableTextWidths(t *testing.T) {
	table := &Table{Columns: []Column{{Key: "name", Heading: "name"}, {Key: "x", Heading: "x", Kind: CountKind}}}
	for _, name := range []string{"Wu\u0308rger", "鴨鴨", "a\nb\x1b[2J", "\xff"} {
		table.Add(Text(name), Number(1))
	}
	assert.Equal(t, "name     x\n----------\nWu\u0308rger   1\n鴨鴨     1\na b [2J  1\n\uFFFD        1\n",
		render(t, table, "text", spec.Millimetre))
}

// Any table comes back from csv and json, and is valid UTF-8.
func TestTableRoundTrip(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		table := &Table{Columns: []Column{
			{Key: "text", Heading: "text"},
			{Key: "length", Heading: "length", Kind: LengthKind},
		}}
		var texts []string
		var lengths []float64
		for range rapid.IntRange(0, 5).Draw(t, "rows") {
			text := rapid.OneOf(rapid.String(), rapid.SampledFrom([]string{"\xff\xfe", `"`, ",", " a", "<&>"})).Draw(t, "text")
			length := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Just(math.NaN())).Draw(t, "length")
			texts, lengths = append(texts, strings.ToValidUTF8(text, "\uFFFD")), append(lengths, length)
			table.Add(Text(text), Number(length))
		}
		unit := rapid.SampledFrom([]spec.Unit{spec.Millimetre, spec.Inch}).Draw(t, "unit")
		key := "length_" + unit.String()
		half := 0.0005000001
		if unit == spec.Inch {
			half /= 10
		}

		var b bytes.Buffer
		require.NoError(t, table.Write(&b, "json", unit))
		require.True(t, utf8.Valid(b.Bytes()))
		var objects []map[string]any
		require.NoError(t, json.Unmarshal(b.Bytes(), &objects))
		require.Len(t, objects, len(texts))
		for i, o := range objects {
			require.Len(t, o, 2)
			require.Equal(t, texts[i], o["text"])
			if math.IsNaN(lengths[i]) {
				require.Nil(t, o[key])
			} else {
				require.InDelta(t, unit.Of(lengths[i]), o[key], half)
			}
		}

		b.Reset()
		require.NoError(t, table.Write(&b, "csv", unit))
		require.True(t, utf8.Valid(b.Bytes()))
		records, err := csv.NewReader(&b).ReadAll()
		require.NoError(t, err)
		require.Len(t, records, len(texts)+1)
		require.Equal(t, []string{"text", key}, records[0])
		for i, r := range records[1:] {
			// The reader makes a CR LF inside a field LF.
			unified := strings.NewReplacer("\r\n", "\n", "\r", "").Replace
			require.Equal(t, unified(texts[i]), unified(r[0]))
			require.Equal(t, math.IsNaN(lengths[i]), r[1] == "")
		}

		b.Reset()
		require.NoError(t, table.Write(&b, "text", unit))
		require.True(t, utf8.Valid(b.Bytes()))
		require.Equal(t, len(texts)+3, bytes.Count(b.Bytes(), []byte("\n")))
	})
}

// TestTableTowards checks that a limit is rounded to its safe side in every
// format, and that a number that fits is left alone.
func TestTableTowards(t *testing.T) {
	table := &Table{Columns: []Column{
		{Key: "down", Heading: "down", Kind: LengthKind, Towards: -1},
		{Key: "up", Heading: "up", Kind: LengthKind, Towards: 1},
		{Key: "nearest", Heading: "nearest", Kind: LengthKind},
	}}
	table.Add(Number(1.2399), Number(1.2301), Number(1.2399))
	table.Add(Number(-1.2301), Number(-1.2399), Number(-1.2399))
	table.Add(Number(0.1+0.2), Number(0.3), Number(0.3))
	for format, want := range map[string][]string{
		"text": {"1.23 1.24 1.24", "-1.24 -1.23 -1.24", "0.30 0.30 0.30"},
		"csv":  {"1.239,1.231,1.240", "-1.231,-1.239,-1.240", "0.300,0.300,0.300"},
	} {
		var b strings.Builder
		require.NoError(t, table.Write(&b, format, spec.Millimetre))
		text := strings.Join(strings.Fields(strings.ReplaceAll(b.String(), "\n", " ")), " ")
		for _, w := range want {
			assert.Contains(t, text, w, format)
		}
	}
}
