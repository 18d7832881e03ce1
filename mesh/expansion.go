package mesh

import "math"

// The functions of this file do exact arithmetic on expansions: sums of
// float64 that do not overlap, smallest magnitude first, whose sign is the
// sign of the last component. They follow J. R. Shewchuk, "Adaptive Precision
// Floating-Point Arithmetic and Fast Robust Geometric Predicates", Discrete &
// Computational Geometry 18 (1997) 305-363, and are exact as long as nothing
// overflows or underflows.

// twoSum returns the rounded sum of a and b and its rounding error
// (Shewchuk, theorem 7).
func twoSum(a, b float64) (sum, err float64) {
	sum = a + b
	bv := sum - a
	av := sum - bv
	return sum, (a - av) + (b - bv)
}

// fastTwoSum is twoSum for |a| >= |b| (Shewchuk, theorem 6).
func fastTwoSum(a, b float64) (sum, err float64) {
	sum = a + b
	return sum, b - (sum - a)
}

// twoDiff returns the rounded difference of a and b and its rounding error.
func twoDiff(a, b float64) (diff, err float64) {
	diff = a - b
	bv := a - diff
	av := diff + bv
	return diff, (a - av) + (bv - b)
}

// twoProduct returns the rounded product of a and b and its rounding error.
// The conversion keeps the compiler from fusing the product away.
func twoProduct(a, b float64) (prod, err float64) {
	prod = float64(a * b)
	return prod, math.FMA(a, b, -prod)
}

// crossExpansion sets h to a d - b c and returns it without its zeros, at most
// four components.
func crossExpansion(h *[4]float64, a, b, c, d float64) []float64 {
	p1, p0 := twoProduct(a, d)
	q1, q0 := twoProduct(b, c)

	// p1 + p0 - q1 - q0, Shewchuk's Two_Two_Diff.
	var i, j, k, x0, x1, x2, x3 float64
	i, x0 = twoDiff(p0, q0)
	j, k = twoSum(p1, i)
	i, x1 = twoDiff(k, q1)
	x3, x2 = twoSum(j, i)

	n := 0
	for _, x := range [4]float64{x0, x1, x2, x3} {
		if x != 0 {
			h[n] = x
			n++
		}
	}
	return h[:n]
}

// scaleExpansion writes b e to h, which must have room for 2 len(e)
// components, and returns it without its zeros (Shewchuk, theorem 19).
func scaleExpansion(h, e []float64, b float64) []float64 {
	if len(e) == 0 || b == 0 {
		return h[:0]
	}
	n := 0
	q, low := twoProduct(e[0], b)
	if low != 0 {
		h[n] = low
		n++
	}
	for _, x := range e[1:] {
		p1, p0 := twoProduct(x, b)
		s, low := twoSum(q, p0)
		if low != 0 {
			h[n] = low
			n++
		}
		q, low = fastTwoSum(p1, s)
		if low != 0 {
			h[n] = low
			n++
		}
	}
	if q != 0 {
		h[n] = q
		n++
	}
	return h[:n]
}

// sumExpansions writes e + f to h, which must have room for len(e) + len(f)
// components and overlap neither, and returns it without its zeros (Shewchuk,
// theorem 13).
func sumExpansions(h, e, f []float64) []float64 {
	i, j, n := 0, 0, 0
	next := func() float64 {
		if j == len(f) || i < len(e) && math.Abs(e[i]) < math.Abs(f[j]) {
			i++
			return e[i-1]
		}
		j++
		return f[j-1]
	}
	if len(e)+len(f) == 0 {
		return h[:0]
	}
	q := next()
	for i+j < len(e)+len(f) {
		var low float64
		q, low = twoSum(q, next())
		if low != 0 {
			h[n] = low
			n++
		}
	}
	if q != 0 {
		h[n] = q
		n++
	}
	return h[:n]
}

// expansionSign returns the sign of an expansion without zeros.
func expansionSign(e []float64) int {
	switch {
	case len(e) == 0:
		return 0
	case e[len(e)-1] > 0:
		return 1
	}
	return -1
}
