package export

import (
	"encoding/json"
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// stationRows are two invented stations, the second with the longest values
// that a bass neck has.
func stationRows() []neck.Station {
	nan := math.NaN()
	return []neck.Station{
		{
			Label: "fret 1", X: 35.7, Width: 43.5, Total: 20.6, Wood: 15, Cover: nan, Area: 512.3456,
			Girth: 61.25, ApexY: -0.04, DepthAt: [7]float64{9.1, 12.2, 14.3, 14.99, 14.4, 12.5, nan}, Centre: 20.59,
		},
		{
			Label: "fret 12.5", X: -1864.123, Width: 156.2, Total: 122.4, Wood: 116.8, Cover: 104.05, Area: 10512.3456,
			Girth: 261.25, ApexY: -10.04, DepthAt: [7]float64{-100, -100, 114.3, 115, 114.4, 112.5, 101}, Centre: 121.4,
		},
	}
}

func TestStationTableKeys(t *testing.T) {
	header := func(unit spec.Unit) string {
		return strings.SplitN(render(t, StationTable(stationRows(), spec.RightHand, false), "csv", unit), "\n", 2)[0]
	}
	assert.Equal(t, "station,x_mm,width_mm,total_mm,wood_mm,cover_mm,area_mm2,girth_mm,apex_y_mm,"+
		"depth_y-15_mm,depth_y-10_mm,depth_y-5_mm,depth_y0_mm,depth_y+5_mm,depth_y+10_mm,depth_y+15_mm,centre_mm",
		header(spec.Millimetre))
	assert.Equal(t, "station,x_in,width_in,total_in,wood_in,cover_in,area_in2,girth_in,apex_y_in,"+
		"depth_y-15mm_in,depth_y-10mm_in,depth_y-5mm_in,depth_y0mm_in,depth_y+5mm_in,depth_y+10mm_in,depth_y+15mm_in,centre_in",
		header(spec.Inch))
}

func TestStationTableValues(t *testing.T) {
	lines := strings.Split(render(t, StationTable(stationRows(), spec.RightHand, false), "csv", spec.Millimetre), "\n")
	assert.Equal(t, "fret 1,35.700,43.500,20.600,15.000,,512.346,61.250,-0.040,"+
		"9.100,12.200,14.300,14.990,14.400,12.500,,20.590", lines[1])

	var objects []map[string]any
	require.NoError(t, json.Unmarshal([]byte(render(t, StationTable(stationRows(), spec.RightHand, false), "json", spec.Inch)), &objects))
	assert.Nil(t, objects[0]["cover_in"])
	assert.Equal(t, 1.4055, objects[0]["x_in"])     // 35.7 / 25.4
	assert.Equal(t, 0.7941, objects[0]["area_in2"]) // 512.3456 / 645.16
	assert.Equal(t, 0.4803, objects[0]["depth_y-10mm_in"])
}

// The narrow table fits the bench in both units.
func TestStationTableNarrow(t *testing.T) {
	for _, unit := range []spec.Unit{spec.Millimetre, spec.Inch} {
		text := render(t, StationTable(stationRows(), spec.RightHand, true), "text", unit)
		for line := range strings.Lines(text) {
			assert.LessOrEqual(t, utf8.RuneCountInString(strings.TrimSuffix(line, "\n")), 100)
		}
		t.Log("\n" + text)
	}
	lines := strings.Split(render(t, StationTable(stationRows()[:1], spec.RightHand, true), "text", spec.Millimetre), "\n")
	assert.Equal(t, []string{
		"station      x  width  total  on centre   wood  cover  girth   apex  bass 10  treble 10",
		"            mm     mm     mm         mm     mm     mm     mm     mm       mm         mm",
		"---------------------------------------------------------------------------------------",
		"fret 1   35.70  43.50  20.60      20.59  15.00         61.25  -0.04    12.20      12.50",
	}, lines[:4])
}

func TestStationTableWithoutRows(t *testing.T) {
	assert.Equal(t, "[]\n", render(t, StationTable(nil, spec.RightHand, false), "json", spec.Millimetre))
}

// Offsets are named by the side that they lie on.
func TestOffsetHeading(t *testing.T) {
	for y, want := range map[float64][2]string{-15: {"bass 15", "treble 15"}, 5: {"treble 5", "bass 5"}, 0: {"centre", "centre"}, 2.5: {"treble 2.5", "bass 2.5"}} {
		assert.Equal(t, want[0], offsetHeading(spec.RightHand, y))
		assert.Equal(t, want[1], offsetHeading(spec.LeftHand, y))
	}
}
