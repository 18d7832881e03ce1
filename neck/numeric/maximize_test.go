package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestMaximize holds the search against maxima in closed form: smooth, with a
// kink, flat to the third order, and at an end.
func TestMaximize(t *testing.T) {
	for _, c := range []struct {
		name  string
		f     func(float64) float64
		a, b  float64
		at, v float64
	}{
		{"parabola", func(x float64) float64 { return 3 - (x-0.7)*(x-0.7) }, 0, 2, 0.7, 3},
		{"kink", func(x float64) float64 { return -math.Abs(x - 0.7) }, 0, 2, 0.7, 0},
		{"flat top", func(x float64) float64 { return -math.Pow(x-0.7, 4) }, 0, 2, 0.7, 0},
		{"sine", math.Sin, 0, 3, math.Pi / 2, 1},
		{"rising", func(x float64) float64 { return x }, 0, 3, 3, 3},
		{"falling", func(x float64) float64 { return -x }, 0, 3, 0, 0},
		{"the higher of two", func(x float64) float64 { return math.Sin(x) + x/10 }, 0, 10, 2*math.Pi + math.Acos(-0.1), math.Sqrt(0.99) + (2*math.Pi+math.Acos(-0.1))/10},
	} {
		calls := 0
		v, at := Maximize(func(x float64) float64 { calls++; return c.f(x) }, c.a, c.b, 10)
		assert.InDelta(t, c.v, v, 1e-9, c.name)
		// A smooth top is level to the last bit over the root of the precision.
		assert.InDelta(t, c.at, at, 1e-3, c.name)
		if c.name != "flat top" {
			assert.InDelta(t, c.at, at, 1e-7, c.name)
		}
		assert.LessOrEqual(t, calls, 11+50, c.name)
	}
}
