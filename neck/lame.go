package neck

import (
	"math"
	"neckloft/neck/numeric"
)

// Quarter is a quarter of the superellipse (Lamé curve)
//
//	(y/a)^n + (z/b)^n = 1,  y, z >= 0,  n > 1,
//
// traced by the direction of its normal. With the normal at angle φ from the
// y axis, u = ln tan φ runs from -Inf at (a, 0) to +Inf at (0, b), and
//
//	z/b : y/a = q = ((b/a) tan φ)^(1/(n-1)),
//
// which follows from the gradient (n/a (y/a)^(n-1), n/b (z/b)^(n-1)). The
// normal's angle serves better than the usual parameter: where two convex
// curves are blended point by point at equal angles, the result is convex and
// keeps the normal, and its support function is the blend of theirs
// (Minkowski combination of convex sets).
type Quarter struct {
	a, b, n float64
	invN    float64 // 1/n
	k       float64 // 1/(n-1)
	logBA   float64 // ln(b/a)
}

func newLame(a, b, n float64) Quarter {
	return Quarter{a: a, b: b, n: n, invN: 1 / n, k: 1 / (n - 1), logBA: numeric.Log(b / a)}
}

// unit returns y/a and z/b where the normal has ln tan φ = u.
func (c *Quarter) unit(u float64) (y, z float64) {
	lq := (u + c.logBA) * c.k
	if c.n == 2 {
		// The ellipse needs one exponential instead of three functions.
		if lq <= 0 {
			q := numeric.Exp(lq)
			y = 1 / math.Sqrt(1+q*q)
			return y, y * q
		}
		q := numeric.Exp(-lq)
		z = 1 / math.Sqrt(1+q*q)
		return z * q, z
	}
	if lq <= 0 {
		y = numeric.Exp(-numeric.Log(1+numeric.Exp(c.n*lq)) * c.invN)
		return y, y * numeric.Exp(lq)
	}
	z = numeric.Exp(-numeric.Log(1+numeric.Exp(-c.n*lq)) * c.invN)
	return z * numeric.Exp(-lq), z
}

// normalAt returns ln tan φ of the normal where z/b : y/a = q.
func (c *Quarter) normalAt(logQ float64) float64 {
	return logQ*(c.n-1) - c.logBA
}

// area returns the area between the quarter curve and the axes,
// a b Γ(1+1/n)² / Γ(1+2/n), the superellipse's area over four.
func (c *Quarter) area() float64 {
	g1, _ := math.Lgamma(1 + c.invN)
	g2, _ := math.Lgamma(1 + 2*c.invN)
	return c.a * c.b * math.Exp(2*g1-g2)
}

// length returns the length of the quarter curve.
//
// It is integrated in two halves, split where y/a = z/b, each over the
// coordinate v in which the curve is a graph of bounded slope. v is written as
// w⁴, or w² for a full curve, which smooths the endpoint where the curve is
// only n times differentiable, so that Gauss's rule converges for a fullness
// near 1 too.
func (c *Quarter) length() float64 {
	power := 4.0
	if c.n >= 2 {
		power = 2
	}
	half := math.Exp2(-c.invN) // y/a = z/b here
	w1 := math.Pow(half, 1/power)
	sum := 0.0
	for i, x := range numeric.Unit.X {
		w := w1 * x
		v := w * w
		if power == 4 {
			v *= v
		}
		dv := power * v / w * w1 * numeric.Unit.W[i]
		// The other coordinate is (1-v^n)^(1/n); this is its slope in v.
		vn := numeric.Pow(v, c.n)
		slope := vn / v * numeric.Pow(1-vn, c.invN-1)
		sum += dv * (math.Hypot(c.b, c.a*slope) + math.Hypot(c.a, c.b*slope))
	}
	return sum
}
