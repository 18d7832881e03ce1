package neck

import "math"

// step is the C2 smooth step: 0 for t <= 0, 1 for t >= 1 and the quintic
// 6t⁵ - 15t⁴ + 10t³ between, whose first two derivatives vanish at both ends.
func step(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t >= 1:
		return 1
	}
	return t * t * t * (10 + t*(6*t-15))
}

// bump is a C2 bump: 1 at t = 0, 0 for |t| >= 1, (1 - t²)³ between.
func bump(t float64) float64 {
	if t <= -1 || t >= 1 {
		return 0
	}
	k := 1 - t*t
	return k * k * k
}

// ramp is the integral of step, a C3 rounding of max(0, t-½): 0 for t <= 0,
// t - ½ for t >= 1, and never below max(0, t-½).
func ramp(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t >= 1:
		return t - 0.5
	}
	t2 := t * t
	return t2 * t2 * (2.5 + t*(t-3))
}

// lerp returns a + t (b - a), exact at t = 0 and t = 1.
func lerp(a, b, t float64) float64 {
	return a*(1-t) + b*t
}

// clamp returns v held between lo and hi.
func clamp(v, lo, hi float64) float64 {
	return math.Max(lo, math.Min(hi, v))
}
