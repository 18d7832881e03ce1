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

// Bracketed returns where f, of opposite signs at a and b, passes zero, or jumps
// over it, to within tol. The values at the ends are given.
//
// It is Chandrupatla's method (T. R. Chandrupatla, Advances in Engineering Software
// 28, 1997): an inverse parabola through the last three points where it can be
// trusted, and half of the way elsewhere.
func Bracketed(f func(float64) float64, a, b, fa, fb, tol float64) float64 {
	c, fc := a, fa
	t := 0.5
	for range 200 {
		x := a + t*(b-a)
		fx := f(x)
		// Zero lies between a, the newest, and b; c is the one before.
		if (fx > 0) == (fa > 0) {
			c, fc = a, fa
		} else {
			c, b, fc, fb = b, a, fb, fa
		}
		a, fa = x, fx
		if fa == 0 {
			return a
		}
		near := tol / math.Abs(b-a)
		if near > 1 {
			break
		}
		t = 0.5
		xi, phi := (a-b)/(c-b), (fa-fb)/(fc-fb)
		if phi*phi < xi && (1-phi)*(1-phi) < 1-xi {
			t = fa/(fb-fa)*fc/(fb-fc) + (c-a)/(b-a)*fa/(fc-fa)*fb/(fc-fb)
		}
		t = Clamp(t, near/2, 1-near/2)
	}
	if math.Abs(fa) < math.Abs(fb) {
		return a
	}
	return b
}
