package numeric

import "math"

// Maximize returns the largest value of f on [a, b] and where it lies, to a
// billionth of the interval: the best of n+1 equal steps and the peak beside
// it.
func Maximize(f func(float64) float64, a, b float64, n int) (best, at float64) {
	return ClimbWithin(f, a, b, n, 1e-9*(b-a))
}

// Climb is maximize to a millionth of the steps, which for a smooth peak is as
// good as exact and takes fewer evaluations.
func Climb(f func(float64) float64, a, b float64, n int) (best, at float64) {
	return ClimbWithin(f, a, b, n, 1e-6*(b-a)/float64(n))
}

// ClimbWithin is Maximize to within tol of the place.
func ClimbWithin(f func(float64) float64, a, b float64, n int, tol float64) (best, at float64) {
	best = f(a)
	i := 0
	for j := 1; j <= n; j++ {
		if v := f(step(a, b, j, n)); v > best {
			best, i = v, j
		}
	}
	return PeakBeside(f, a, b, n, i, best, tol)
}

// ClimbAll is Climb from every step that is no less than its neighbours: for a
// function with several peaks, of which the highest need not be at the best of
// the steps.
func ClimbAll(f func(float64) float64, a, b float64, n int) (best, at float64) {
	values := make([]float64, n+1)
	for i := range values {
		values[i] = f(step(a, b, i, n))
	}
	best = math.Inf(-1)
	for i, v := range values {
		if i > 0 && values[i-1] > v || i < n && values[i+1] > v {
			continue
		}
		if v, x := PeakBeside(f, a, b, n, i, v, 1e-6*(b-a)/float64(n)); v > best {
			best, at = v, x
		}
	}
	return best, at
}

// PeakBeside is the second half of ClimbWithin, for a caller who has looked at
// the n+1 equal steps from a to b by quicker means: f is greatest, best, at step i.
func PeakBeside(f func(float64) float64, a, b float64, n, i int, best, tol float64) (float64, float64) {
	at := step(a, b, i, n)
	h := (b - a) / float64(n)
	lo, hi := max(a, a+h*float64(i-1)), min(b, a+h*float64(i+1))
	if v, x := peakWithin(f, lo, at, hi, tol); v > best {
		best, at = v, x
	}
	return best, at
}

// step returns the place of one of n equal steps from a to b.
func step(a, b float64, i, n int) float64 {
	if i == 0 {
		return a
	}
	return Lerp(a, b, float64(i)/float64(n))
}

// Peak is peakWithin to a millionth of the interval.
func Peak(f func(float64) float64, a, m, b float64) (best, at float64) {
	return peakWithin(f, a, m, b, 1e-6*(b-a))
}

// parabola returns how far from x the parabola through three points has its
// peak, as p/q with q >= 0.
func parabola(x, w, v, fx, fw, fv float64) (p, q float64) {
	r := (x - w) * (fx - fv)
	q = (x - v) * (fx - fw)
	p = (x-v)*q - (x-w)*r
	q = 2 * (q - r)
	if q > 0 {
		p = -p
	}
	return p, math.Abs(q)
}

// peakWithin returns the largest value of f on [a, b] near m, where f is greater
// than at both ends or m is one of them, and where it lies. It is Brent's
// method: parabolas through the best three points, and golden sections where
// they mislead (R. P. Brent, Algorithms for Minimization without Derivatives,
// 1973, chapter 5). It ends within tol of the place.
//
// It is long because it is that method's one loop, step for step.
func peakWithin(f func(float64) float64, a, m, b, tol float64) (best, at float64) {
	const gold = 0.3819660112501051
	if !(tol > 0) {
		return f(m), m
	}
	if m <= a || m >= b {
		m = a + gold*(b-a)
	}
	x, w, v := m, m, m
	fx := f(x)
	fw, fv := fx, fx
	var d, e float64
	for range 100 {
		mid := (a + b) / 2
		if math.Abs(x-mid) <= 2*tol-(b-a)/2 {
			break
		}
		golden := true
		if math.Abs(e) > tol {
			p, q := parabola(x, w, v, fx, fw, fv)
			last := e
			e = d
			if math.Abs(p) < math.Abs(q*last/2) && p > q*(a-x) && p < q*(b-x) {
				d = p / q
				if u := x + d; u-a < 2*tol || b-u < 2*tol {
					d = math.Copysign(tol, mid-x)
				}
				golden = false
			}
		}
		if golden {
			e = b - x
			if x >= mid {
				e = a - x
			}
			d = gold * e
		}
		u := x + d
		if math.Abs(d) < tol {
			u = x + math.Copysign(tol, d)
		}
		fu := f(u)
		if fu >= fx {
			if u >= x {
				a = x
			} else {
				b = x
			}
			v, fv, w, fw, x, fx = w, fw, x, fx, u, fu
			continue
		}
		if u < x {
			a = u
		} else {
			b = u
		}
		switch {
		case fu >= fw || w == x:
			v, fv, w, fw = w, fw, u, fu
		case fu >= fv || v == x || v == w:
			v, fv = u, fu
		}
	}
	return fx, x
}
