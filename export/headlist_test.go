package export

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestListOfHeadTakesAPage lays the lists of the holes of all headstocks on both
// papers: each on a page of its own, in millimetres and in inches.
func TestListOfHeadTakesAPage(t *testing.T) {
	lists := 0
	for _, n := range allNecks(t) {
		if n.Spec().Headstock == nil {
			continue
		}
		sheets, err := HeadSheets(n)
		require.NoError(t, err)
		for _, s := range sheets[1:] {
			require.True(t, strings.Contains(s.Title, "headstock, list"))
			for _, paper := range Papers() {
				grids, count, err := tilings([]Sheet{s}, paper)
				require.NoError(t, err)
				assert.Equal(t, 1, count, "%s, %s", paper.Name, s.Title)
				assert.LessOrEqual(t, math.Max(s.Width-grids[0].width, s.Height-grids[0].height), 1e-9)
			}
			lists++
		}
	}
	assert.Greater(t, lists, 10)
}
