package numeric

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// TestBracketed holds the search against zeros that are known by how the
// functions are made: odd powers, arcs and exponentials through a drawn place, with
// a jump or without.
func TestBracketed(t *testing.T) {
	shapes := []func(float64) float64{
		func(v float64) float64 { return v },
		func(v float64) float64 { return v * v * v },
		math.Atan,
		func(v float64) float64 { return math.Expm1(5 * v) },
		func(v float64) float64 { return math.Copysign(math.Sqrt(math.Abs(v)), v) },
		func(v float64) float64 { return math.Copysign(1+v*v, v) }, // jumps over it
		func(v float64) float64 { return v - 0.3*math.Sin(3*v) },
	}
	drawn.Check(t, func(t *rapid.T) {
		f := rapid.SampledFrom(shapes).Draw(t, "shape")
		zero := rapid.Float64Range(-3, 3).Draw(t, "zero")
		a := zero - rapid.Float64Range(0.01, 20).Draw(t, "before")
		b := zero + rapid.Float64Range(0.01, 20).Draw(t, "after")
		sign := rapid.SampledFrom([]float64{1, -1}).Draw(t, "sign")
		g := func(x float64) float64 { return sign * f(x-zero) }
		assert.InDelta(t, zero, Bracketed(g, a, b, g(a), g(b), 1e-10), 1e-10)
		assert.InDelta(t, zero, Bracketed(g, b, a, g(b), g(a), 1e-10), 1e-10)
	})
}

// TestBracketedIsQuick: a smooth function takes a fraction of the 44 calls that
// halving takes.
func TestBracketedIsQuick(t *testing.T) {
	for zero := 0.1; zero < 10; zero += 0.37 {
		calls := 0
		f := func(x float64) float64 { calls++; return math.Atan(x-zero) + 0.02*(x-zero) }
		Bracketed(f, 0, 10, f(0), f(10), 1e-12)
		assert.LessOrEqual(t, calls, 16, "zero at %g", zero)
	}
}

// TestBracketedStops: it ends when the zero is known well enough, also where the
// function jumps, and tells the better of the two places that are left.
func TestBracketedStops(t *testing.T) {
	for _, f := range []func(float64) float64{
		func(v float64) float64 { return math.Copysign(1+v*v, v) },
		func(v float64) float64 { return math.Atan(3*v) + 0.1*v },
		func(v float64) float64 { return math.Expm1(v / 3) },
	} {
		for zero := 0.13; zero < 10; zero += 0.41 {
			calls, least := 0, math.Inf(1)
			g := func(x float64) float64 {
				calls++
				v := f(x - zero)
				least = math.Min(least, math.Abs(v))
				return v
			}
			at := Bracketed(g, 0, 10, g(0), g(10), 0.01)
			assert.InDelta(t, zero, at, 0.01)
			assert.LessOrEqual(t, calls, 18, "zero at %g", zero)
			assert.Equal(t, least, math.Abs(f(at-zero)), "zero at %g", zero)
		}
	}
}
