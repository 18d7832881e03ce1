package numeric

// Step is the C2 smooth step: 0 for t <= 0, 1 for t >= 1 and the quintic
// 6t⁵ - 15t⁴ + 10t³ between, whose first two derivatives vanish at both ends.
func Step(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t >= 1:
		return 1
	}
	return t * t * t * (10 + t*(6*t-15))
}

// Bump is a C2 bump: 1 at t = 0, 0 for |t| >= 1, (1 - t²)³ between.
func Bump(t float64) float64 {
	if t <= -1 || t >= 1 {
		return 0
	}
	k := 1 - t*t
	return k * k * k
}

// Ramp is the integral of step, a C3 rounding of max(0, t-½): 0 for t <= 0,
// t - ½ for t >= 1, and never below max(0, t-½).
func Ramp(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t >= 1:
		return t - 0.5
	}
	t2 := t * t
	return t2 * t2 * (2.5 + t*(t-3))
}

// Lerp returns a + t (b - a), exact at t = 0 and t = 1.
func Lerp(a, b, t float64) float64 {
	return a*(1-t) + b*t
}

// Clamp returns v held between lo and hi.
func Clamp(v, lo, hi float64) float64 {
	return max(lo, min(hi, v))
}
