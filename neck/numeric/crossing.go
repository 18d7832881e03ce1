package numeric

import "math"

// Crossing returns where f, of opposite signs at a and b, passes zero: regula
// falsi in the Illinois variant, with the values at the ends given.
func Crossing(f func(float64) float64, a, b, fa, fb float64) float64 {
	for range 60 {
		if math.Abs(b-a) <= 1e-14 || fb == 0 {
			break
		}
		c := b - fb*(b-a)/(fb-fa)
		fc := f(c)
		if math.Abs(fc) < 1e-13 {
			return c
		}
		if (fc > 0) != (fb > 0) {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = c, fc
	}
	return b
}
