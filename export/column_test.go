package export

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/fit/progress"
	"neckloft/neck/fit/scan"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
)

func TestHeadingIsOfTheKey(t *testing.T) {
	for want, c := range map[string]Column{
		"came off":   lengthColumn("came_off"),
		"from nut":   numberColumn("from_nut", "mm"),
		"hand share": numberColumn("hand_share", "%"),
		"EI wood":    numberColumn("ei_wood", "N m²"),
		"apex":       lengthColumn("apex_y"),
		"diff":       lengthColumn("girth").diff(),
		"told":       {Key: "key", Heading: "told"},
	} {
		assert.Equal(t, want, c.heading())
	}
	assert.Equal(t, "hand_share_percent", numberColumn("hand_share", "%").Key)
	assert.Equal(t, "i_wood_mm4", numberColumn("i_wood", "mm⁴").Key)
	assert.Equal(t, "ei_diff_nm2", numberColumn("ei", newtonSquareMetres).diff().Key)
	assert.Equal(t, "width_diff", lengthColumn("width").diff().Key)
}

// TestTablesNameColumnsOnce checks of every table but those of the plan that no
// column has a heading of its own, and of all of them that no short heading is
// without a column.
func TestTablesNameColumnsOnce(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	stations, err := n.Stations([]spec.Place{spec.AtFret(5)})
	require.NoError(t, err)
	c := compared(t)
	tables := map[string]*Table{
		"stations":       StationTable(stations, spec.RightHand, false),
		"bench stations": StationTable(stations, spec.RightHand, true),
		"stiffness":      StiffnessTable(n, stations),
		"comparison":     ComparisonTable(c, false),
		"totals":         TotalsTable(c, false),
		"ranges":         FitRanges(fitOf()),
		"residuals":      FitResiduals(fitOf()),
		"scan":           ScanStations(&scan.Result{Result: fitOf()}),
		"progress":       ProgressTable(&progress.Progress{Neck: n, Cover: math.NaN()}, spec.Millimetre),
		"rescue":         RescueTable(&progress.Rescued{}),
		"history":        CarveHistory(nil),
		"sticks":         SticksTable(sticks.New(laminatedNeck(t)), false, spec.Millimetre),
		"strips":         StripTable(laminatedNeck(t), stations),
	}
	used := map[string]bool{}
	for name, table := range tables {
		seen := map[string]bool{}
		for i := range table.Columns {
			col := &table.Columns[i]
			if !strings.HasPrefix(col.Key, "depth_y") { // whose side follows from the hand
				assert.Empty(t, col.Heading, "%s: %s", name, col.Key)
			}
			heading := col.heading()
			used[heading] = true
			assert.NotEmpty(t, heading, name)
			key := col.key(spec.Millimetre)
			assert.False(t, seen[key], "%s: the key %s stands twice", name, key)
			seen[key] = true
			assert.NotContains(t, strings.Fields(heading), "left", name)
		}
	}
	for key, short := range shortHeadings {
		assert.True(t, used[short], "no table has the column %s", key)
	}
}
