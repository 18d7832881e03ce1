package readings

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

const csvHeader = "kind,station,y_mm,value_mm\n"

// goodCSV and goodTOML hold the same readings.
const goodCSV = `# taken on a warm day
kind,station,y_mm,value_mm,sigma_mm,note
scale,,,636,,
frets,,,22,,
end,,,465.5,,
board,,,5.6,,
wall,,,1.2,,
total,1,,20.6,,first
total,12,,22.4,0.05,
width,nut,,42.8,,
girth,x=120,,66.5,,
point,5,-14,9.8,,
point,5,0,15.6,,
`

const goodTOML = `units = "mm"
scale = 636
frets = 22
end = 465.5
board = 5.6
wall = 1.2
[[total]]
fret = 1
value = 20.6
note = "first"
[[total]]
fret = 12
value = 22.4
sigma = 0.05
[[width]]
fret = 0
value = 42.8
[[girth]]
x = 120
value = 66.5
[[contour]]
fret = 5
points = [[-14, 9.8],
  [0, 15.6]]
`

// goodReadings are what both say, as a builder reads them.
func goodReadings() []Reading {
	fret := spec.AtFret
	return []Reading{
		{Kind: BoardAt, Value: 5.6, Sigma: 0.1},
		{Kind: WallAt, Value: 1.2, Sigma: 0.2},
		{Kind: Total, At: fret(1), Placed: true, Value: 20.6, Sigma: 0.1, Note: "first"},
		{Kind: Total, At: fret(12), Placed: true, Value: 22.4, Sigma: 0.05},
		{Kind: Width, At: fret(0), Placed: true, Value: 42.8, Sigma: 0.15},
		{Kind: Girth, At: spec.AtX(120), Placed: true, Value: 66.5, Sigma: 0.5},
		{Kind: Point, At: fret(5), Placed: true, Y: -14, Value: 9.8, Sigma: 0.2},
		{Kind: Point, At: fret(5), Placed: true, Y: 0, Value: 15.6, Sigma: 0.2},
	}
}

// TestRead checks the forms in which the same readings may come.
func TestRead(t *testing.T) {
	lines := func(sep string) string { return strings.ReplaceAll(goodCSV, "\n", sep) }
	for name, c := range map[string]struct{ file, text string }{
		"csv":                       {"r.csv", goodCSV},
		"toml":                      {"r.toml", goodTOML},
		"csv without an ending":     {"-", goodCSV},
		"toml without an ending":    {"-", goodTOML},
		"lines as Windows ends":     {"r.csv", lines("\r\n")},
		"lines as old spreadsheets": {"r.csv", lines("\r")},
		"toml of Windows":           {"r.toml", strings.ReplaceAll(goodTOML, "\n", "\r\n")},
		"byte order mark":           {"r.csv", "\ufeff" + goodCSV},
		"toml, byte order mark":     {"r.toml", "\ufeff" + goodTOML},
		"semicolons":                {"r.csv", strings.ReplaceAll(goodCSV, ",", ";")},
		"tabs":                      {"r.txt", strings.ReplaceAll(goodCSV, ",", "\t")},
		"blanks and blank lines":    {"r.csv", "\n" + strings.ReplaceAll(goodCSV, ",", " , ") + "\n,,,,,\n\n"},
		"no line end at the end":    {"r.csv", strings.TrimSpace(goodCSV)},
		"upper case":                {"r.csv", strings.NewReplacer("kind,station", "Kind,Station", "total", "Total").Replace(goodCSV)},
		"units in the fields":       {"r.csv", strings.NewReplacer(",20.6,", ",20.6 mm,", ",66.5,", ",66.5mm,").Replace(goodCSV)},
		"stations in words":         {"r.csv", strings.NewReplacer("total,1,", "total,fret 1,", "nut", "0").Replace(goodCSV)},
	} {
		s, err := Read(strings.NewReader(c.text), c.file)
		if !assert.NoError(t, err, name) {
			continue
		}
		assert.Equal(t, 636.0, s.Scale, name)
		assert.Equal(t, 22, s.Frets, name)
		assert.Equal(t, 465.5, s.BoardEnd, name)
		assert.Equal(t, spec.Millimetre, s.Units, name)
		for i := range s.Readings {
			assert.Positive(t, s.Readings[i].Line, name)
			s.Readings[i].Line = 0
		}
		assert.Equal(t, goodReadings(), s.Readings, name)
	}
}

// TestReadInches checks that a file in inches gives millimetres, by the inch of
// 25.4 mm (NIST).
func TestReadInches(t *testing.T) {
	for file, text := range map[string]string{
		"r.csv":  "kind,station,y_in,value_in,sigma_in\nscale,,,25,\npoint,x=4,-0.5,0.25,0.01\ntotal,x=101.6mm,,1in,\n",
		"r.toml": "units = \"in\"\nscale = 25\n[[point]]\nx = 4\ny = -0.5\nvalue = 0.25\nsigma = 0.01\n[[total]]\nx = 4\nvalue = 1\n",
	} {
		s, err := Read(strings.NewReader(text), file)
		require.NoError(t, err, file)
		assert.Equal(t, spec.Inch, s.Units)
		assert.InDelta(t, 635, s.Scale, 1e-9)
		require.Len(t, s.Readings, 2)
		p := s.Readings[0]
		assert.InDelta(t, 101.6, p.At.X, 1e-9)
		assert.InDelta(t, -12.7, p.Y, 1e-9)
		assert.InDelta(t, 6.35, p.Value, 1e-9)
		assert.InDelta(t, 0.254, p.Sigma, 1e-9)
		assert.InDelta(t, 101.6, s.Readings[1].At.X, 1e-9)
		assert.InDelta(t, 25.4, s.Readings[1].Value, 1e-9)
		assert.InDelta(t, 0.1, s.Readings[1].Sigma, 1e-9, "the usual one, which is in mm")
	}
}

// TestReadLines checks the lines that readings are said to stand on.
func TestReadLines(t *testing.T) {
	s, err := Read(strings.NewReader(goodTOML), "r.toml")
	require.NoError(t, err)
	var lines []int
	for _, r := range s.Readings {
		lines = append(lines, r.Line)
	}
	assert.Equal(t, []int{5, 6, 7, 11, 15, 18, 23, 24}, lines)
	s, err = Read(strings.NewReader(goodCSV), "r.csv")
	require.NoError(t, err)
	assert.Equal(t, 6, s.Readings[0].Line)
	assert.Equal(t, 13, s.Readings[7].Line)
}

// TestBadCSV checks what is said of each way to get a csv file wrong: every
// sentence has the line, the value and what is allowed, and there are no
// others.
//
// Long, since it is one table of cases.
func TestBadCSV(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string // what each error says, in order
	}{
		"empty":         {"", []string{"r.csv: this is empty; wanted: a header such as kind,station"}},
		"blank":         {"\n  \n\t\n", []string{"r.csv: this is empty"}},
		"comments only": {"# nothing yet\n", []string{"r.csv: this is empty"}},
		"header only":   {csvHeader, []string{"r.csv: there is not one reading"}},
		"facts only":    {csvHeader + "scale,,,636\n", []string{"r.csv: there is not one reading"}},
		"no header":     {"total,1,,20.6\n", []string{`r.csv:1: the first line, which begins with "total", is no header; wanted: a header such as`}},
		"another file":  {"<html>\n", []string{`r.csv:1: the first line, which begins with "<html>", is no header`}},
		"ragged": {csvHeader + "total,1,20.6\n\ntotal,12,,22.4,\n", []string{
			"r.csv:2: this line has 3 fields, the header has 4; a field left blank still has its comma",
			"r.csv:4: this line has 5 fields, the header has 4; is there a comma in a number?"}},
		"decimal comma":             {csvHeader + "total,1,,20,6\n", []string{"r.csv:2: this line has 5 fields, the header has 4; is there a comma in a number? The decimal point is a dot"}},
		"decimal comma, semicolons": {"kind;station;value_mm\ntotal;1;20,6\n", []string{`r.csv:2: the value "20,6" is not a number; allowed: a plain decimal number, with a dot as the decimal point`}},
		"no unit":                   {"kind,station,y,value\ntotal,1,,20\n", []string{`r.csv:1: the column "y" does not say its unit; allowed: y_mm or y_in`}},
		"another unit":              {"kind,station,value_cm\ntotal,1,2\n", []string{`r.csv:1: the column "value_cm" has an unknown unit; allowed: value_mm or value_in`}},
		"mixed units":               {"kind,station,y_in,value_mm\ntotal,1,,20\n", []string{`r.csv:1: the header mixes units: "y_in" and "value_mm"; allowed: one unit in a file`}},
		"mixed units in the lines":  {csvHeader + "total,1,,20.6mm\ntotal,5,,0.81in\n", []string{`r.csv:3: the value "0.81in" is not in the unit of the file, mm`}},
		"unknown column":            {"kind,station,value_mm,colour\ntotal,1,20,red\n", []string{`r.csv:1: the column "colour" is unknown; allowed: kind, station, y_mm`}},
		"unit on a word":            {"kind_mm,station,value_mm\ntotal,1,20\n", []string{`r.csv:1: the column "kind_mm" is unknown`}},
		"a column twice":            {"kind,value_mm,value_mm\ntotal,1,20\n", []string{`r.csv:1: the header has the column "value" twice`}},
		"no value column":           {"kind,station,y_mm\ntotal,1,20\n", []string{"r.csv:1: the header has no column for the value; wanted: a header such as"}},
		"no kind column":            {"station,value_mm\n1,20\n", []string{"r.csv:1: the header has no column for the kind"}},
		"unknown kind":              {csvHeader + "totl,1,,20\n", []string{`r.csv:2: the kind "totl" is unknown; allowed: total, centre, wood, width, point, girth, board, wall, radius, head, scale, frets, end`}},
		"no numbers": {csvHeader + "total,1,,NaN\ntotal,2,,-Inf\ntotal,3,,1e999\ntotal,4,,0x14\ntotal,5,,1_0\ntotal,6,,\ntotal,7,,thick\n", []string{
			`r.csv:2: the value "NaN" is not a number; allowed: a plain decimal number`,
			`r.csv:3: the value "-Inf" is not a number`,
			`r.csv:4: the value "1e999" is not a number`,
			`r.csv:5: the value "0x14" is not a number`,
			`r.csv:6: the value "1_0" is not a number`,
			`r.csv:7: the value is blank; allowed: a plain decimal number`,
			`r.csv:8: the value "thick" is not a number`}},
		"not sensible": {csvHeader + "total,1,,-20\ntotal,2,,0\ntotal,3,,2060\npoint,4,-5,-3\npoint,4,500,3\nboard,,,99\n", []string{
			"r.csv:2: the total thickness is -20 mm; allowed: more than 0",
			"r.csv:3: the total thickness is 0 mm; allowed: more than 0",
			"r.csv:4: the total thickness is 2060 mm, which is not sensible; allowed: up to 200 mm (is the unit of the file right?)",
			"r.csv:5: the contour point has the depth -3 mm; it is counted down from the glue plane, so leave the minus sign out",
			"r.csv:6: the point lies 500 mm from the centreline",
			"r.csv:7: the board thickness is 99 mm"}},
		"stations": {csvHeader + "total,,,20\ntotal,heel,,20\ntotal,-1,,20\ntotal,61,,20\ntotal,x=9999,,20\ntotal,nan,,20\n", []string{
			`r.csv:2: a reading of kind "total" needs its station: a fret such as 5, or x=120`,
			`r.csv:3: station "heel" is not understood; allowed: a fret`,
			`r.csv:4: station "-1" is a negative fret`,
			"r.csv:5: there is no fret 61; allowed: up to 60",
			"r.csv:6: the station lies 9999 mm from the nut",
			`r.csv:7: station "nan" is not understood`}},
		"points": {csvHeader + "point,1,,8\ntotal,1,5,20\npoint,1,left,8\n", []string{
			"r.csv:2: a contour point needs its distance y from the centreline, negative on the bass side (of a left-handed neck on the treble side)",
			`r.csv:3: a reading of kind "total" has no y; leave it blank`,
			`r.csv:4: the y "left" is not a number`}},
		"deviations": {"kind,station,value_mm,sigma_mm\ntotal,1,20,0\ntotal,2,20,-1\ntotal,3,20,99\n", []string{
			"r.csv:2: the standard deviation is 0; no measurement is exact",
			"r.csv:3: the standard deviation of -1 mm is not sensible",
			"r.csv:4: the standard deviation of 99 mm is not sensible; allowed: more than 0, up to 50 mm"}},
		"facts": {csvHeader + "scale,,,636\nscale,,,640\nfrets,,,22.5\nend,,,5\nfrets,,,many\n", []string{
			`r.csv:3: "scale" was given already, on line 2`,
			"r.csv:4: the number of frets is 22.5; allowed: a whole number from 0 to 60",
			`r.csv:5: "end" is 5 mm, which is not sensible; allowed: 10 mm to 3000 mm`,
			`r.csv:6: the number of frets "many" is not a number`}},
		"open quotes":  {csvHeader + "total,1,,\"20\n", []string{"r.csv:2: this is not csv: "}},
		"stray quotes": {csvHeader + "total,1\",,20\n", []string{"r.csv:2: this is not csv: "}},
		"latin-1":      {csvHeader + "total,1,,20\ntotal,2,,20\xfc\n", []string{"r.csv:3: this is not text in UTF-8"}},
		"utf-16":       {"\xff\xfek\x00i\x00n\x00d\x00", []string{"r.csv: this is not text in UTF-8, but UTF-16 or no text at all"}},
		"binary":       {"\x00\x01\x02", []string{"r.csv: this is not text in UTF-8"}},
		"old lines":    {"kind,station,value_mm\rtotal,1,20\rtotal,99,20\r", []string{"r.csv:3: there is no fret 99"}},
		"byte order":   {"\ufeff" + csvHeader + "total,99,,20\n", []string{"r.csv:2: there is no fret 99"}},
		"semicolons":   {"kind;station;value_mm\r\ntotal;1;20\r\ntotal;99;20\r\n", []string{"r.csv:3: there is no fret 99"}},
	} {
		checkBad(t, name, "r.csv", c.text, c.want)
	}
}

// TestBadTOML is TestBadCSV for TOML.
func TestBadTOML(t *testing.T) {
	const mm = "units = \"mm\"\n"
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"empty":           {"", []string{"r.toml: this is empty; wanted: units, and a table such as [[total]]"}},
		"comments only":   {"# nothing yet\n", []string{"r.toml: this is empty"}},
		"facts only":      {mm + "scale = 636\n", []string{"r.toml: there is not one reading"}},
		"no units":        {"scale = 636\n", []string{`r.toml: the file does not say its unit; wanted at the top: units = "mm" or units = "in"`}},
		"another unit":    {"scale = 636\nunits = \"cm\"\n", []string{`r.toml:2: the units are "cm"; allowed: "mm" or "in"`}},
		"units, a number": {"units = 1\n", []string{`r.toml:1: the units are "1"`}},
		"units in a table": {mm + "[[total]]\nfret = 1\nvalue = 20\nunits = \"in\"\n", []string{
			`r.toml:5: the key "units" is unknown; allowed: fret, x, value, sigma, note`}},
		"mixed units":               {mm + "[[total]]\nfret = 1\nvalue = \"0.8in\"\n", []string{`r.toml:4: value: "0.8in" is not in the unit of the file, mm; allowed: one unit in a file`}},
		"a fret in quotes":          {mm + "[[total]]\nfret = \"1\"\nvalue = 20\n", []string{"r.toml:2: a reading of kind \"total\" needs its station", "r.toml:3: fret is a plain number, without quotes or a unit"}},
		"a millimetre in fractions": {mm + "[[total]]\nfret = 1\nvalue = \"20 1/2\"\n", []string{`r.toml:4: value: length "20 1/2" has no unit`}},
		"decimal comma":             {mm + "[[total]]\nfret = 1\nvalue = 20,6\n", []string{"r.toml:4: not valid TOML: "}},
		"syntax":                    {mm + "[[total]\nfret = 1\n", []string{"r.toml:2: not valid TOML: "}},
		"a key twice":               {mm + "scale = 636\nscale = 640\n", []string{"r.toml:3: not valid TOML: key scale is already defined"}},
		"unknown key": {mm + "colour = 5\n[[total]]\nfret = 1\nvalue = 20\ny = 3\n", []string{
			`r.toml:2: the key "colour" is unknown; allowed: units, name, scale, frets, end, board, wall`,
			`r.toml:6: the key "y" is unknown; allowed: fret, x, value, sigma, note`}},
		"unknown table":     {mm + "[[totl]]\nfret = 1\nvalue = 20\n", []string{"r.toml:2: the table [[totl]] is unknown; allowed: [[total]], [[centre]], [[wood]]"}},
		"odd table name":    {mm + "[[\"a\\nb\"]]\n", []string{`r.toml:2: the table [["a\nb"]] is unknown`}},
		"single brackets":   {mm + "[total]\nfret = 1\nvalue = 20\n", []string{"r.toml:2: the table [total] stands in single brackets; every reading is written as [[total]]"}},
		"tables in a line":  {mm + "total = [{fret = 1, value = 20}]\n", []string{`r.toml:2: readings of kind "total" are written as tables of their own, under [[total]]`}},
		"a value, no table": {mm + "total = 20\n", []string{`r.toml:2: readings of kind "total" are written as tables`}},
		"no numbers": {mm + "[[total]]\nfret = 1\nvalue = nan\n[[total]]\nfret = inf\nvalue = 20\n[[total]]\nfret = 2\nvalue = 0x14\n[[total]]\nfret = 1979-05-27\nvalue = 3\n", []string{
			`r.toml:4: value: "nan" is not a number`,
			`r.toml:6: fret: "inf" is not a number`,
			`r.toml:10: value: "0x14" is not a number`,
			"r.toml:11: a reading of kind \"total\" needs its station",
			"r.toml:12: fret is a plain number"}},
		"not sensible": {mm + "board = 99\n[[total]]\nfret = 1\nvalue = -4\n[[total]]\nfret = -1\nvalue = 4\n[[total]]\nx = 9999\nvalue = 4\n", []string{
			"r.toml:2: the board thickness is 99 mm",
			"r.toml:3: the total thickness is -4 mm; allowed: more than 0",
			"r.toml:7: fret -1 is negative; give a station before the nut as x",
			"r.toml:9: the station lies 9999 mm from the nut"}},
		"contours": {mm + "[[contour]]\nfret = 1\n[[contour]]\nfret = 1\npoints = []\n[[contour]]\nfret = 1\npoints = [[1, 2], [3]]\n[[contour]]\nfret = 1\npoints = [\n[1, 2],\n[2, nan]]\n[[contour]]\npoints = [[1, 2]]\n[[contour]]\nfret = 1\npoints = [\n[1, 2],\n[2, 900]]\n", []string{
			"r.toml:2: [[contour]] has no points",
			"r.toml:6: points is empty; points is a list of pairs [y, depth], such as",
			"r.toml:9: points is a list of pairs [y, depth]",
			`r.toml:14: points: "nan" is not a number`,
			`r.toml:16: a reading of kind "point" needs its station`,
			"r.toml:21: the contour point is 900 mm, which is not sensible"}},
		"left out": {mm + "[[total]]\nfret = 1\n[[point]]\nfret = 1\nvalue = 3\n[[total]]\nfret = 1\nx = 3\nvalue = 20\n[[total]]\nfret = 2\nvalue = 2\nsigma = 0\n", []string{
			"r.toml:2: [[total]] has no value",
			"r.toml:4: [[point]] has no y, its distance from the centreline",
			"r.toml:7: [[total]] has both fret and x; allowed: one of them",
			"r.toml:14: the standard deviation is 0"}},
		"latin-1": {mm + "name = \"\xfc\"\n", []string{"r.toml:2: this is not text in UTF-8"}},
		"Windows": {"\ufeffunits = \"mm\"\r\n[[total]]\r\nfret = 99\r\nvalue = 20\r\n", []string{"r.toml:2: there is no fret 99"}},
	} {
		checkBad(t, name, "r.toml", c.text, c.want)
	}
}

func checkBad(t *testing.T, name, file, text string, want []string) {
	t.Helper()
	s, err := Read(strings.NewReader(text), file)
	assert.Nil(t, s, name)
	var problems spec.Problems
	if !assert.ErrorAs(t, err, &problems, name) {
		return
	}
	if !assert.Len(t, problems, len(want), "%s:\n%v", name, err) {
		return
	}
	for i, p := range problems {
		assert.Contains(t, p.Error(), want[i], name)
		assert.True(t, strings.HasPrefix(p.Error(), want[i]), "%s: %s", name, p)
	}
}

// TestGigantic checks files with more in them than a bench ever gives: a whole
// that is too large, too many lines, and errors without end.
func TestGigantic(t *testing.T) {
	checkBad(t, "large", "r.csv", csvHeader+strings.Repeat("# ....................\n", maxFileSize/20),
		[]string{"r.csv: this is larger than 4 MiB, which no file of readings is; a scan goes to --scan as STL"})

	var csv, toml strings.Builder
	csv.WriteString(csvHeader)
	toml.WriteString("units = \"mm\"\n[[contour]]\nfret = 1\npoints = [\n")
	for i := range maxReadings + 100 {
		fmt.Fprintf(&csv, "total,x=%g,,20\n", float64(i)/50)
		fmt.Fprintf(&toml, "[%g, 10],\n", float64(i)/100)
	}
	toml.WriteString("]\n")
	checkBad(t, "many", "r.csv", csv.String(), []string{fmt.Sprintf("r.csv:%d: there are more than 5000 readings", maxReadings+2)})
	checkBad(t, "many", "r.toml", toml.String(), []string{fmt.Sprintf("r.toml:%d: there are more than 5000 readings", maxReadings+5)})

	for file, text := range map[string]string{
		"r.csv":  csvHeader + strings.Repeat("total,1,,thick\n", 10000),
		"r.toml": "units = \"mm\"\n" + strings.Repeat("[[total]]\nfret = 1\nvalue = nan\n", 10000),
	} {
		_, err := Read(strings.NewReader(text), file)
		var problems spec.Problems
		require.ErrorAs(t, err, &problems)
		assert.Len(t, problems, MaxProblems, "no more than a builder reads")
	}
}

// TestReadFile checks files that are not there or are none.
func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	_, err := ReadFile(filepath.Join(dir, "none.csv"))
	assert.ErrorContains(t, err, "none.csv: there is no such file")
	_, err = ReadFile(dir)
	assert.ErrorContains(t, err, "this is a folder; readings are a file")
	path := filepath.Join(dir, "r.csv")
	require.NoError(t, os.WriteFile(path, []byte(goodCSV), 0o666))
	s, err := ReadFile(path)
	require.NoError(t, err)
	assert.Len(t, s.Readings, 8)
	assert.Equal(t, path, s.File)
}

// FuzzRead checks that no file makes the reader panic, that what it lets pass
// is finite and sensible, and that what it refuses it refuses in sentences of
// one line.
func FuzzRead(f *testing.F) {
	f.Add([]byte(goodCSV))
	f.Add([]byte(goodTOML))
	f.Add([]byte("kind;station;y_in;value_in;sigma_in;note\r\npoint;x=4;-0.5;0.25;0.01;\"a\nb\"\r\n"))
	f.Add([]byte("kind\tvalue_mm\rboard\t5\r"))
	f.Add([]byte("units = \"in\"\n[[point]]\nx = 4\ny = -5e-1\nvalue = 0.2_5\n[total]\n[[\"a\\nb\".c]]\n"))
	f.Add([]byte("total = [{fret = 1}]\nunits = 'mm'\n[[contour]]\npoints = [[1, [2]], [3, 4]]\n"))
	f.Add([]byte("\xff\xfek\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, file := range []string{"r.csv", "r.toml", "-"} {
			s, err := Read(strings.NewReader(string(data)), file)
			if err != nil {
				var problems spec.Problems
				require.ErrorAs(t, err, &problems)
				assert.LessOrEqual(t, len(problems), MaxProblems)
				for _, p := range problems {
					assert.NotContains(t, p.Error(), "\n")
					assert.NotEmpty(t, p.Message)
					assert.GreaterOrEqual(t, p.Line, 0)
				}
				continue
			}
			require.NotEmpty(t, s.Readings)
			assert.False(t, math.IsNaN(s.Scale) || s.Scale < 0 || s.Scale > 3000 || s.BoardEnd > 3000)
			for _, r := range s.Readings {
				assert.True(t, r.Value >= 0 && r.Value <= kinds[r.Kind].most, "%+v", r)
				assert.True(t, math.Abs(r.Y) <= 150, "%+v", r)
				assert.True(t, r.Sigma > 0 && !math.IsInf(r.Sigma, 0), "%+v", r)
				assert.Equal(t, r.Placed || !r.Kind.Placed(), true)
				assert.Positive(t, r.Line)
			}
			_ = s.Distinct(spec.Demo().X)
		}
	})
}

// TestReadFractions checks that a file in inches may hold what a rule shows.
func TestReadFractions(t *testing.T) {
	s, err := Read(strings.NewReader("kind,station,y_in,value_in\nscale,,,24 3/4in\nwidth,1,,1-3/4\npoint,x=4 1/2in,-1/2,0 5/8\n"), "r.csv")
	require.NoError(t, err)
	assert.InDelta(t, 24.75*25.4, s.Scale, 1e-9)
	assert.InDelta(t, 1.75*25.4, s.Readings[0].Value, 1e-9)
	p := s.Readings[1]
	assert.InDelta(t, 4.5*25.4, p.At.X, 1e-9)
	assert.InDelta(t, -12.7, p.Y, 1e-9)
	assert.InDelta(t, 0.625*25.4, p.Value, 1e-9)
	for _, text := range []string{
		"kind,station,value_mm\nwidth,1,1 3/4\n", "kind,station,value_mm\nwidth,1,1 3/4in\n",
		"kind,station,value_in\nwidth,1,1 3/0\n", "kind,station,value_in\nwidth,1,1/2mm\n",
	} {
		_, err := Read(strings.NewReader(text), "r.csv")
		assert.ErrorContains(t, err, "is not a number; allowed: a plain decimal number", text)
	}
}

// TestReadCentre checks both forms of a file.
func TestReadCentre(t *testing.T) {
	a := readingsOf(t, "centre,5,,20.5\ntotal,5,,22.5\n")
	b, err := Read(strings.NewReader("units = \"mm\"\n[[centre]]\nfret = 5\nvalue = 20.5\n[[total]]\nfret = 5\nvalue = 22.5\n"), "r.toml")
	require.NoError(t, err)
	for i := range a.Readings {
		a.Readings[i].Line, b.Readings[i].Line = 0, 0
	}
	assert.Equal(t, a.Readings, b.Readings)
	assert.Equal(t, Centre, a.Readings[0].Kind)
	assert.Equal(t, 0.1, a.Readings[0].Sigma)
	assert.Equal(t, "centre at fret 5", a.Label(a.Readings[0]))
	_, err = Read(strings.NewReader("kind,station,value_mm\ncentre,,20\n"), "r.csv")
	assert.ErrorContains(t, err, `a reading of kind "centre" needs its station`)
	_, err = Read(strings.NewReader("kind,station,value_mm\nmiddle,5,20\n"), "r.csv")
	assert.ErrorContains(t, err, `allowed: total, centre, wood, width,`)
}

// readingsOf reads a text of readings that must be right.
func readingsOf(t testing.TB, text string) *Set {
	t.Helper()
	set, err := Read(strings.NewReader(csvHeader+text), "r.csv")
	require.NoError(t, err)
	return set
}

// TestFractionsInReadings checks that a length is read as a rule with inches
// shows it, in both forms of a file, and that a file is one by its own words.
func TestFractionsInReadings(t *testing.T) {
	plain := "kind,station,y_in,value_in,sigma_in\nscale,,,25.5,\ntotal,x=4.75,,0.8125,\npoint,5,-0.5,0.375,0.03125\n"
	want, err := Read(strings.NewReader(plain), "r.csv")
	require.NoError(t, err)
	for file, text := range map[string]string{
		"r.csv":  "kind,station,y_in,value_in,sigma_in\nscale,,,25 1/2,\ntotal,x=4-3/4,,13/16in,\npoint,5,-1/2,\"3/8\"\"\",1/32\n",
		"r.toml": "units = \"in\"\nscale = \"25-1/2\"\n[[total]]\nx = \"4 3/4\"\nvalue = \"13/16in\"\n[[point]]\nfret = 5\ny = \"-1/2\"\nvalue = '3/8\"'\nsigma = \"1/32\"\n",
		"c.toml": "units = \"in\"\nscale = 25.5\n[[total]]\nx = 4.75\nvalue = \"0.8125 in\"\n[[contour]]\nfret = 5\nsigma = \"1/32\"\npoints = [[\"-1/2\", \"3/8\"]]\n",
	} {
		got, err := Read(strings.NewReader(text), file)
		require.NoError(t, err, file)
		assert.InDelta(t, want.Scale, got.Scale, 1e-12, file)
		require.Len(t, got.Readings, len(want.Readings), file)
		for i, r := range want.Readings {
			q := got.Readings[i]
			r.Line, q.Line = 0, 0
			assert.Equal(t, r, q, file)
		}
		assert.True(t, Look([]byte(text)), file)
	}
	for _, text := range []string{"", "# nothing\n", "[scale]\nlength = 636\n", "a,b,c\n1,2,3\n", "kind,colour\n", "[total]\n"} {
		assert.False(t, Look([]byte(text)), text)
	}
	for _, text := range []string{"\ufeffKind;Station;Value_mm\n", "# mine\n\nkind\tvalue_in\n", " [[ contour ]]\n", plain} {
		assert.True(t, Look([]byte(text)), text)
	}
}

// A length in TOML may stand in quotes, as a fraction is read off a rule.
func TestReadTOMLLengthTexts(t *testing.T) {
	read := func(text string) (*Set, error) { return Read(strings.NewReader(text), "r.toml") }
	got, err := read(`units = "in"
scale = "25-1/8"
board = "7/32in"
[[total]]
fret = 1
value = "13/16\""
[[total]]
x = "10 1/2in"
value = "0.875"
sigma = "1/64"
[[contour]]
fret = 5
points = [["-9/16", "3/8in"], [0.5, "0.4"]]
`)
	require.NoError(t, err)
	want, err := read(`units = "in"
scale = 25.125
board = 0.21875
[[total]]
fret = 1
value = 0.8125
[[total]]
x = 10.5
value = 0.875
sigma = 0.015625
[[contour]]
fret = 5
points = [[-0.5625, 0.375], [0.5, 0.4]]
`)
	require.NoError(t, err)
	require.Equal(t, want, got)
	for text, say := range map[string]string{
		`value = "1/2"`:     `r.toml:4: value: length "1/2" has no unit, and bare numbers are millimetres here; a fraction of an inch is written 1/2in`,
		`value = "wide"`:    `r.toml:4: value: length "wide" is not understood`,
		`fret = "3"`:        `r.toml:4: fret is a plain number, without quotes or a unit`,
		`sigma = '1/64in'`:  `r.toml:4: sigma: "1/64in" is not in the unit of the file, mm; allowed: one unit in a file`,
		`sigma = "0.02 mm"`: "r.toml:2: [[total]] has no value",
	} {
		_, err := read("units = \"mm\"\n[[total]]\nx = 30\n" + text + "\n")
		require.ErrorContains(t, err, say, text)
	}
}
