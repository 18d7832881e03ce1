package mesh

import "math"

// The predicates of this file return the exact sign of a determinant of
// float64 coordinates, in three stages: a float64 evaluation with the static
// error bound of J. R. Shewchuk, "Adaptive Precision Floating-Point Arithmetic
// and Fast Robust Geometric Predicates", Discrete & Computational Geometry 18
// (1997) 305-363; expansion arithmetic, short where the coordinate differences
// are free of rounding, as between float32 values of similar size; and integers
// of any length for numbers too large or small for that.
//
// Coordinates must be finite and smaller than coordinateLimit.

// coordinateLimit bounds the coordinates of the predicates so that no product
// overflows.
const coordinateLimit = 1e60

// Error bounds of the float64 evaluations, Shewchuk's ccwerrboundA,
// o3derrboundA and iccerrboundA with half an ulp of one as unit.
const (
	halfUlp       = 0x1p-53
	orient2dBound = (3 + 16*halfUlp) * halfUlp
	orient3dBound = (7 + 56*halfUlp) * halfUlp
	inCircleBound = (10 + 96*halfUlp) * halfUlp
)

// filterFloor is the size below which a determinant may have lost digits to
// underflow, so that the float64 evaluation decides nothing.
const filterFloor = 1e-200

// Differences within these limits make products of four that neither overflow
// nor underflow, down to their last bit.
const (
	smallestExpansion = 0x1p-150
	largestExpansion  = 0x1p+200
)

// exactDiff returns a - b, and whether that is exact and within the range of
// the expansions.
func exactDiff(a, b float64) (float64, bool) {
	d, err := twoDiff(a, b)
	m := math.Abs(d)
	return d, err == 0 && (m == 0 || m >= smallestExpansion && m <= largestExpansion)
}

// orient2d returns 1, 0 or -1 as a, b, c turn left, lie on a line, or turn
// right.
func orient2d(a, b, c Vec2) int {
	left := (a.X - c.X) * (b.Y - c.Y)
	right := (a.Y - c.Y) * (b.X - c.X)
	det := left - right
	bound := max(orient2dBound*(math.Abs(left)+math.Abs(right)), filterFloor)
	if det > bound {
		return 1
	}
	if det < -bound {
		return -1
	}
	return orient2dExact(a, b, c)
}

func orient2dExact(a, b, c Vec2) int {
	ax, ok1 := exactDiff(a.X, c.X)
	ay, ok2 := exactDiff(a.Y, c.Y)
	bx, ok3 := exactDiff(b.X, c.X)
	by, ok4 := exactDiff(b.Y, c.Y)
	if ok1 && ok2 && ok3 && ok4 {
		var h [4]float64
		return expansionSign(crossExpansion(&h, ax, ay, bx, by))
	}
	return orient2dWhole(a, b, c)
}

// orient2dWhole is orient2d without differences: the determinant of the points
// with a column of ones.
func orient2dWhole(a, b, c Vec2) int {
	if !expandable(a.X, a.Y, b.X, b.Y, c.X, c.Y) {
		return orient2dBig(a, b, c)
	}
	var ab, bc, ca [4]float64
	var s [8]float64
	var r [12]float64
	return expansionSign(sumExpansions(r[:],
		sumExpansions(s[:],
			crossExpansion(&ab, a.X, a.Y, b.X, b.Y),
			crossExpansion(&bc, b.X, b.Y, c.X, c.Y)),
		crossExpansion(&ca, c.X, c.Y, a.X, a.Y)))
}

// orient3d returns 1, 0 or -1 as d lies on the side of the plane a, b, c from
// which these three are seen counter-clockwise, in the plane, or on the other
// side: the sign of (b-a) x (c-a) . (d-a).
func orient3d(a, b, c, d Vec) int {
	adx, ady, adz := a.X-d.X, a.Y-d.Y, a.Z-d.Z
	bdx, bdy, bdz := b.X-d.X, b.Y-d.Y, b.Z-d.Z
	cdx, cdy, cdz := c.X-d.X, c.Y-d.Y, c.Z-d.Z

	bc1, bc2 := bdx*cdy, cdx*bdy
	ca1, ca2 := cdx*ady, adx*cdy
	ab1, ab2 := adx*bdy, bdx*ady
	det := adz*(bc1-bc2) + bdz*(ca1-ca2) + cdz*(ab1-ab2)
	permanent := (math.Abs(bc1)+math.Abs(bc2))*math.Abs(adz) +
		(math.Abs(ca1)+math.Abs(ca2))*math.Abs(bdz) +
		(math.Abs(ab1)+math.Abs(ab2))*math.Abs(cdz)
	bound := max(orient3dBound*permanent, filterFloor)
	if det > bound {
		return -1
	}
	if det < -bound {
		return 1
	}
	// Flat faces square to an axis: a difference is zero only between equals.
	if adz == 0 && bdz == 0 && cdz == 0 ||
		adx == 0 && bdx == 0 && cdx == 0 ||
		ady == 0 && bdy == 0 && cdy == 0 {
		return 0
	}
	return orient3dExact(a, b, c, d)
}

func orient3dExact(a, b, c, d Vec) int {
	adx, ok1 := exactDiff(a.X, d.X)
	ady, ok2 := exactDiff(a.Y, d.Y)
	adz, ok3 := exactDiff(a.Z, d.Z)
	bdx, ok4 := exactDiff(b.X, d.X)
	bdy, ok5 := exactDiff(b.Y, d.Y)
	bdz, ok6 := exactDiff(b.Z, d.Z)
	cdx, ok7 := exactDiff(c.X, d.X)
	cdy, ok8 := exactDiff(c.Y, d.Y)
	cdz, ok9 := exactDiff(c.Z, d.Z)
	if !(ok1 && ok2 && ok3 && ok4 && ok5 && ok6 && ok7 && ok8 && ok9) {
		return orient3dWhole(a, b, c, d)
	}
	var m [4]float64
	var t1, t2, t3 [8]float64
	var s [16]float64
	var r [24]float64
	bc := scaleExpansion(t1[:], crossExpansion(&m, bdx, bdy, cdx, cdy), adz)
	ca := scaleExpansion(t2[:], crossExpansion(&m, cdx, cdy, adx, ady), bdz)
	ab := scaleExpansion(t3[:], crossExpansion(&m, adx, ady, bdx, bdy), cdz)
	return -expansionSign(sumExpansions(r[:], sumExpansions(s[:], bc, ca), ab))
}

// orient3dWhole is orient3d without differences: the determinant of the points
// with a column of ones (Shewchuk's orient3dexact).
func orient3dWhole(a, b, c, d Vec) int {
	if !expandable(a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.X, c.Y, c.Z, d.X, d.Y, d.Z) {
		return orient3dBig(a, b, c, d)
	}
	var sum [96]float64
	n := 0
	// Twice the areas of the projected triangles, times a height each.
	for _, t := range [4][4]*Vec{{&b, &c, &d, &a}, {&a, &d, &c, &b}, {&a, &b, &d, &c}, {&a, &c, &b, &d}} {
		p, q, r := t[0], t[1], t[2]
		var pq, qr, rp [4]float64
		var s [8]float64
		var area [12]float64
		var volume [24]float64
		var old [96]float64
		v := scaleExpansion(volume[:], sumExpansions(area[:],
			sumExpansions(s[:],
				crossExpansion(&pq, p.X, p.Y, q.X, q.Y),
				crossExpansion(&qr, q.X, q.Y, r.X, r.Y)),
			crossExpansion(&rp, r.X, r.Y, p.X, p.Y)), t[3].Z)
		copy(old[:], sum[:n])
		n = len(sumExpansions(sum[:], old[:n], v))
	}
	return -expansionSign(sum[:n])
}

// expandable reports whether the numbers are within the range of the
// expansions.
func expandable(values ...float64) bool {
	for _, v := range values {
		if m := math.Abs(v); m != 0 && (m < smallestExpansion || m > largestExpansion) {
			return false
		}
	}
	return true
}

// inCircle returns 1, 0 or -1 as d lies inside, on or outside the circle
// through a, b, c, which must turn left; the sign is reversed if they turn
// right.
func inCircle(a, b, c, d Vec2) int {
	adx, ady := a.X-d.X, a.Y-d.Y
	bdx, bdy := b.X-d.X, b.Y-d.Y
	cdx, cdy := c.X-d.X, c.Y-d.Y

	bc1, bc2 := bdx*cdy, cdx*bdy
	ca1, ca2 := cdx*ady, adx*cdy
	ab1, ab2 := adx*bdy, bdx*ady
	aLift := adx*adx + ady*ady
	bLift := bdx*bdx + bdy*bdy
	cLift := cdx*cdx + cdy*cdy
	det := aLift*(bc1-bc2) + bLift*(ca1-ca2) + cLift*(ab1-ab2)
	permanent := (math.Abs(bc1)+math.Abs(bc2))*aLift +
		(math.Abs(ca1)+math.Abs(ca2))*bLift +
		(math.Abs(ab1)+math.Abs(ab2))*cLift
	bound := max(inCircleBound*permanent, filterFloor)
	if det > bound {
		return 1
	}
	if det < -bound {
		return -1
	}
	return inCircleExact(a, b, c, d)
}

func inCircleExact(a, b, c, d Vec2) int {
	adx, ok1 := exactDiff(a.X, d.X)
	ady, ok2 := exactDiff(a.Y, d.Y)
	bdx, ok3 := exactDiff(b.X, d.X)
	bdy, ok4 := exactDiff(b.Y, d.Y)
	cdx, ok5 := exactDiff(c.X, d.X)
	cdy, ok6 := exactDiff(c.Y, d.Y)
	if !(ok1 && ok2 && ok3 && ok4 && ok5 && ok6) {
		return inCircleBig(a, b, c, d)
	}
	var m [4]float64
	var la, lb, lc [32]float64
	var s [64]float64
	var r [96]float64
	bc := liftExpansion(&la, crossExpansion(&m, bdx, bdy, cdx, cdy), adx, ady)
	ca := liftExpansion(&lb, crossExpansion(&m, cdx, cdy, adx, ady), bdx, bdy)
	ab := liftExpansion(&lc, crossExpansion(&m, adx, ady, bdx, bdy), cdx, cdy)
	return expansionSign(sumExpansions(r[:], sumExpansions(s[:], bc, ca), ab))
}

// liftExpansion sets h to (x^2 + y^2) e for an e of at most four components.
func liftExpansion(h *[32]float64, e []float64, x, y float64) []float64 {
	var t [8]float64
	var xx, yy [16]float64
	ex := scaleExpansion(xx[:], scaleExpansion(t[:], e, x), x)
	ey := scaleExpansion(yy[:], scaleExpansion(t[:], e, y), y)
	return sumExpansions(h[:], ex, ey)
}
