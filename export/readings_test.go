package export

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/fit/progress"
	"neckloft/neck/fit/scan"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// tabled returns a table in a format.
func tabled(t *testing.T, table *Table, format string, unit spec.Unit) string {
	t.Helper()
	var b strings.Builder
	require.NoError(t, table.Write(&b, format, unit))
	return b.String()
}

func csvRows(t *testing.T, table *Table, unit spec.Unit) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(tabled(t, table, "csv", unit))).ReadAll()
	require.NoError(t, err)
	return rows
}

// fitOf is a result with one number and reading of each kind.
func fitOf() *fit.Result {
	nan := math.NaN()
	return &fit.Result{
		Spec: spec.Demo(),
		Ranges: []fit.Range{
			{Key: "depth[1].total", Value: 20.32, Low: 20.066, High: 20.574, Length: true, Source: "fitted"},
			{Key: "profile[1].bass", Value: 2.25, Low: 2, High: 2.5, Source: "fitted"},
			{Key: "scale.length", Value: 635, Low: nan, High: nan, Length: true, Source: "given"},
		},
		Residuals: []fit.Residual{
			{Reading: readings.Reading{Kind: readings.Total, Value: 20.828, Line: 7}, Label: "total at fret 1", Model: 20.32, Off: 0.508, Standard: 5, Dropped: true},
			{Reading: readings.Reading{Kind: readings.Point, Value: 2.54, Line: 9, Note: "rough"}, Label: "point at fret 1, y -20 mm", Model: nan, Off: -0.254, Standard: -1.25},
			{Reading: readings.Reading{Kind: readings.Total, Value: 22, Line: 10, Note: "cold"}, Label: "total at fret 12", Model: 23, Off: -1, Standard: -10, Dropped: true},
			{Reading: readings.Reading{Kind: readings.BoardAt, Value: 5.08}, Label: "board", Model: 5.08},
		},
	}
}

// TestFitRanges checks the table of numbers: lengths change with the unit,
// fullness does not, what was not fitted has no range.
func TestFitRanges(t *testing.T) {
	table := FitRanges(fitOf())
	assert.Equal(t, [][]string{
		{"key", "value_mm", "low_mm", "high_mm", "plain", "plain_low", "plain_high", "source"},
		{"depth[1].total", "20.320", "20.066", "20.574", "", "", "", "fitted"},
		{"profile[1].bass", "", "", "", "2.250", "2.000", "2.500", "fitted"},
		{"scale.length", "635.000", "", "", "", "", "", "given"},
	}, csvRows(t, table, spec.Millimetre))
	rows := csvRows(t, table, spec.Inch)
	assert.Equal(t, []string{"depth[1].total", "0.8000", "0.7900", "0.8100", "", "", "", "fitted"}, rows[1])
	assert.Equal(t, []string{"profile[1].bass", "", "", "", "2.250", "2.000", "2.500", "fitted"}, rows[2])
	assert.Contains(t, tabled(t, table, "text", spec.Millimetre), "depth[1].total    20.32  20.07  20.57                                fitted")
}

// TestFitResiduals checks the table of readings: what was left out is marked,
// and the builder's own note stays.
func TestFitResiduals(t *testing.T) {
	table := FitResiduals(fitOf())
	assert.Equal(t, [][]string{
		{"line", "reading", "read_mm", "fitted_mm", "off_mm", "deviations", "remark"},
		{"7", "total at fret 1", "20.828", "20.320", "0.508", "5.000", "left out"},
		{"9", "point at fret 1, y -20 mm", "2.540", "", "-0.254", "-1.250", "rough"},
		{"10", "total at fret 12", "22.000", "23.000", "-1.000", "-10.000", "left out; cold"},
		{"", "board", "5.080", "5.080", "0.000", "0.000", ""},
	}, csvRows(t, table, spec.Millimetre))
	assert.Equal(t, []string{"9", "point at fret 1, y -20 mm", "0.1000", "", "-0.0100", "-1.250", "rough"}, csvRows(t, table, spec.Inch)[2])
	var objects []map[string]any
	require.NoError(t, json.Unmarshal([]byte(tabled(t, table, "json", spec.Millimetre)), &objects))
	assert.Nil(t, objects[1]["fitted_mm"])
	assert.Nil(t, objects[3]["line"])
	assert.EqualValues(t, 7, objects[0]["line"])
}

// TestScanStations checks the table of slices.
func TestScanStations(t *testing.T) {
	r := &scan.Result{Result: fitOf(), Stations: []scan.Station{
		{At: spec.AtFret(1.5), Points: 31, RMS: 0.0508, Mean: -0.0254},
		{At: spec.AtX(120), Points: 0},
	}}
	assert.Equal(t, [][]string{
		{"station", "points", "mean_mm", "rms_mm"},
		{"fret 1.5", "31", "-0.025", "0.051"},
		{"x=120mm", "0", "0.000", "0.000"},
	}, csvRows(t, ScanStations(r), spec.Millimetre))
	assert.Equal(t, []string{"fret 1.5", "31", "-0.0010", "0.0020"}, csvRows(t, ScanStations(r), spec.Inch)[1])
}

// TestRescueTable checks the table of what is new in a spec.
func TestRescueTable(t *testing.T) {
	r := &progress.Rescued{Changes: []progress.Change{
		{Key: "depth[1].total", Old: 20.32, New: 20.066, Length: true},
		{Key: "profile[1].treble", Old: 2, New: 1.75},
	}}
	assert.Equal(t, [][]string{
		{"key", "old_mm", "new_mm", "plain_old", "plain_new"},
		{"depth[1].total", "20.320", "20.066", "", ""},
		{"profile[1].treble", "", "", "2.000", "1.750"},
	}, csvRows(t, RescueTable(r), spec.Millimetre))
	assert.Equal(t, []string{"depth[1].total", "0.8000", "0.7900", "", ""}, csvRows(t, RescueTable(r), spec.Inch)[1])
}

// TestProgressTable checks the rows and the summary against readings whose
// targets are known: totals and widths from the spec, a point over a section
// that is level there, so that what remains is the difference of the depths.
func TestProgressTable(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	s := n.Spec()
	one, twelve := spec.AtFret(1), spec.AtFret(12)
	x := s.FretX(12)
	sec := n.Section(x)
	f0, f1 := sec.Flat()
	apex := (f0 + f1) / 2
	set := &readings.Set{File: "r.csv", Readings: []readings.Reading{
		{Kind: readings.Total, At: one, Placed: true, Value: 20.35, Line: 2},
		{Kind: readings.Width, At: twelve, Placed: true, Value: n.Width(x) + 0.5, Line: 3},
		{Kind: readings.Girth, At: twelve, Placed: true, Value: sec.Girth() + 0.04, Line: 4},
		{Kind: readings.Point, At: twelve, Placed: true, Y: apex, Value: sec.Depth + 0.7, Line: 5},
		{Kind: readings.BoardAt, Value: 5.6, Line: 6},
	}}
	p, err := progress.Follow(n, set, 0.1)
	require.NoError(t, err)
	rows := csvRows(t, ProgressTable(p, spec.Millimetre), spec.Millimetre)
	require.Len(t, rows, 5)
	assert.Equal(t, []string{"fret 1", "total", "", "20.350", "20.600", "-0.250", "below", "the back"}, rows[1])
	assert.Equal(t, "0.500", rows[2][5])
	assert.Equal(t, "0.25 off each side", rows[2][7])
	assert.Equal(t, []string{"0.040", "on target", ""}, rows[3][5:])
	assert.Equal(t, []string{"0.700", "to come off", "off the back"}, rows[4][5:])
	text := tabled(t, ProgressTable(p, spec.Millimetre), "text", spec.Millimetre)
	for _, want := range []string{
		"4 readings: 1 on target, 2 to come off, 1 below.",
		"Least cover as carved, where it was read: 5.28 mm at fret 1", "the limit is 4 mm",
		"1 reading of board, wall or radius left aside", "On target is within 0.1 mm.",
	} {
		assert.Contains(t, text, want)
	}
	assert.Contains(t, ProgressSummary(p, spec.Inch), "0.208 in at fret 1")

	// The target has 5.534 mm at fret 1, as the table of stations says.
	target, _ := n.Cover(s.FretX(1))
	assert.InDelta(t, 5.534, target, 0.001)
	assert.InDelta(t, target-0.25, p.Cover, 0.002)
	for value, want := range map[float64]string{
		18.4: "Least cover as carved, where it was read: 3.33 mm at fret 1 (x = 35.7 mm), BELOW the limit of 4 mm.",
		14.2: "STOP: as read, the channel is cut through at fret 1",
	} {
		set.Readings[0].Value = value
		p, err := progress.Follow(n, set, 0.1)
		require.NoError(t, err)
		assert.Contains(t, ProgressSummary(p, spec.Millimetre), want)
	}
	set.Readings = set.Readings[1:2]
	p, err = progress.Follow(n, set, 0.1)
	require.NoError(t, err)
	assert.Contains(t, ProgressSummary(p, spec.Millimetre), "Cover over the rod channel: not told by these readings.")
}
