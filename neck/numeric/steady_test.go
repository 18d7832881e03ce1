package numeric

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestSteady prints halves that are off by the last bits either way.
func TestSteady(t *testing.T) {
	for _, v := range []float64{21.9125, 1.0005, 0.0625, 433.4195, 12.34565} {
		for _, decimals := range []int{3, 4} {
			text := func(v float64) string { return strconv.FormatFloat(Steady(v), 'f', decimals, 64) }
			low, high := v, v
			for range 40 {
				low, high = math.Nextafter(low, -1), math.Nextafter(high, 1e3)
				for _, sign := range []float64{1, -1} {
					assert.Equal(t, text(sign*v), text(sign*low))
					assert.Equal(t, text(sign*v), text(sign*high))
				}
			}
		}
		assert.InDelta(t, v+3e-9, Steady(v+3.4e-9), 1e-12)
	}
	assert.True(t, math.IsNaN(Steady(math.NaN())))
	assert.True(t, math.IsInf(Steady(math.Inf(-1)), -1))
}
