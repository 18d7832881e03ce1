package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestBorder finds the ends of a disc from its middle, and stays within.
func TestBorder(t *testing.T) {
	inside := func(x float64) bool { return x*x <= 2 }
	for _, out := range []float64{-5, 5} {
		at := Border(0, out, inside)
		assert.True(t, inside(at))
		assert.InDelta(t, math.Copysign(math.Sqrt2, out), at, 1e-14)
	}
	assert.InDelta(t, 3, Border(1, 3, func(float64) bool { return true }), 1e-14, "all of the way is inside")
	assert.Equal(t, 1.0, Border(1, 3, func(float64) bool { return false }), "none of it is")
}
