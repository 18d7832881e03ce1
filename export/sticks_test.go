package export

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
)

// laminatedNeck is the demo neck of three strips with a scarf joint.
func laminatedNeck(t testing.TB) *neck.Neck {
	t.Helper()
	s := spec.Demo()
	s.Source = nil
	s.Blank.Thickness = 21
	s.Scarf = &spec.Scarf{}
	s.Laminations = []spec.Lamination{
		{Width: 40, WidthEnd: 40}, {Width: 5, WidthEnd: 8, Wood: spec.Wood{Species: "black walnut"}, Grain: spec.GrainQuarter}, {Width: 40, WidthEnd: 40},
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestSticksTable: the rows are the pieces, in both units, and the text has what
// is to be done with them.
func TestSticksTable(t *testing.T) {
	l := sticks.New(laminatedNeck(t))
	rows := tableRowsIn(t, SticksTable(l, false, spec.Millimetre), spec.Millimetre)
	require.Len(t, rows, len(l.Pieces))
	assert.Equal(t, "stick", rows[1]["use"])
	assert.Equal(t, "lamination 2", rows[1]["name"])
	assert.Equal(t, "black walnut", rows[1]["wood"])
	assert.Equal(t, "quarter sawn", rows[1]["grain"])
	assert.Equal(t, strconv.FormatFloat(l.Length, 'f', 3, 64), rows[1]["length_mm"])
	assert.Equal(t, "23.000", rows[1]["rough_thickness_mm"])
	assert.Equal(t, "", rows[1]["ramp_deg"])
	shaft := rows[len(rows)-2]
	assert.Equal(t, []string{"piece", "shaft", "as laminated", "11.000"}, []string{shaft["use"], shaft["name"], shaft["wood"], shaft["ramp_deg"]})
	assert.Equal(t, strconv.FormatFloat(l.Halves.ShaftShort/25.4, 'f', 4, 64), tableRowsIn(t, SticksTable(l, false, spec.Inch), spec.Inch)[len(rows)-2]["short_side_in"])

	var b bytes.Buffer
	require.NoError(t, SticksTable(l, true, spec.Millimetre).Write(&b, "text", spec.Millimetre))
	text := b.String()
	assert.Contains(t, text, "\nOrder of work\n 1. Plane the 3 strips")
	assert.Contains(t, text, "scarf: in the headstock, a ramp of 11°")
	for _, line := range strings.Split(text, "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 150, line)
	}
}

// TestStripTable: a row a strip, whose weights and stiffnesses add up.
func TestStripTable(t *testing.T) {
	n := laminatedNeck(t)
	stations, err := n.Stations([]spec.Place{spec.AtFret(1), spec.AtFret(9)})
	require.NoError(t, err)
	rows := tableRowsIn(t, StripTable(n, stations), spec.Millimetre)
	require.Len(t, rows, 6)
	for i := range 2 {
		sum := map[string]float64{}
		for _, r := range rows[3*i : 3*i+3] {
			for _, key := range []string{"ei_nm2", "share_percent", "area_mm2", "weight_g_per_m"} {
				v, err := strconv.ParseFloat(r[key], 64)
				require.NoError(t, err, "%s in %v", key, r)
				sum[key] += v
			}
		}
		k := bending.StiffnessAt(n, stations[i].X)
		assert.InDelta(t, k.EIWood*1e-6, sum["ei_nm2"], 0.002)
		assert.InDelta(t, 100, sum["share_percent"], 0.002)
		assert.InDelta(t, k.Wood.Area, sum["area_mm2"], 0.01)
		assert.Greater(t, sum["weight_g_per_m"], k.Wood.Area*0.55)
	}
	assert.Equal(t, "2", rows[4]["lamination"])
}
