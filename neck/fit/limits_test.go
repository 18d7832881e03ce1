package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"neckloft/neck/spec"
)

// The limits of a fitted number are those of its key, so that no fit gives a
// spec that is refused, and where they are narrower they say so here.
func TestLimitsAreTheSpecs(t *testing.T) {
	inf := math.Inf(1)
	for key, lo := range map[string]float64{
		"width.nut": 0, "width.end": 0, "board.thickness": 0, "depth[3].total": 0, "profile[2].treble": 0, "wall.height": 0,
	} {
		f := spec.Keys().Field(key)
		least, most := limits(key, lo, inf)
		assert.Equal(t, [2]float64{f.Min, f.Max}, [2]float64{least, most}, key)
		least, most = limits(key, f.Min+1, f.Max-1)
		assert.Equal(t, [2]float64{f.Min + 1, f.Max - 1}, [2]float64{least, most}, key)
		least, most = limits(key, f.Min-1, f.Max+1)
		assert.Equal(t, [2]float64{f.Min, f.Max}, [2]float64{least, most}, key)
	}
	bass, treble := spec.Keys().Field("profile.bass"), spec.Keys().Field("profile.treble")
	assert.Equal(t, [2]float64{bass.Min, bass.Max}, [2]float64{treble.Min, treble.Max}, "one limit serves both sides")
	p := bounded("wall.height", 0, mostWall, Param{weak: 5})
	assert.Equal(t, []any{"wall.height", true, 0.0, 15.0, 5.0}, []any{p.Key, p.Length, p.Lo, p.Hi, p.weak})
	p = bounded("width.nut", leastWidth, inf, Param{})
	assert.Equal(t, []any{5.0, 300.0}, []any{p.Lo, p.Hi})
}
