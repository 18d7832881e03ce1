package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// curveSamples is how many points of a curve are kept.
const curveSamples = 32

// curve is one side of the target's section at a station, as a cutter coming
// from that side sees it. The section is a pure profile, as it is all along a
// plan's stretch.
type curve struct {
	s    *neck.Section
	side neck.Side
	kept [curveSamples + 1]curvePoint // at equal steps of the parameter

	// The parameter where the curve at the distance edgeAllowance enters the wood.
	edgeAllowance, edge float64
}

// curvePoint is a point of a curve: y across towards the curve's own side, the
// depth below the glue plane, and the outward normal.
type curvePoint struct{ y, depth, cos, sin float64 }

// off returns the point at the distance allowance from the curve.
func (q curvePoint) off(allowance float64) (y, depth float64) {
	return q.y + allowance*q.cos, q.depth + allowance*q.sin
}

// newCurve returns a curve that is ready to be kept clear by allowance.
func newCurve(s *neck.Section, side neck.Side, allowance float64) curve {
	c := curve{s: s, side: side, edgeAllowance: allowance}
	c.kept[0], c.kept[curveSamples] = c.point(0), c.point(1)
	for i, l := range keptLegs {
		c.kept[i+1] = c.along(l)
	}
	c.edge = c.where(s.HalfWidth, allowance)
	return c
}

// enters returns the parameter where the curve at the distance allowance enters
// the wood.
func (c *curve) enters(allowance float64) float64 {
	switch allowance {
	case 0:
		return 0
	case c.edgeAllowance:
		return c.edge
	}
	return c.where(c.s.HalfWidth, allowance)
}

// curves returns both sides of a section.
func curves(s *neck.Section, allowance float64) [2]curve {
	return [2]curve{newCurve(s, neck.MinusY, allowance), newCurve(s, neck.PlusY, allowance)}
}

// point returns a point of the curve, t from 0 at the wall to 1 at the apex.
//
// It runs by the superellipse's own parameter, which spreads over both of its
// ends whatever the fullness.
func (c *curve) point(t float64) curvePoint {
	s := c.s
	a, b, _, foot := s.Quarter(c.side)
	apex := c.side.Sign() * s.Apex
	switch {
	case t <= 0:
		return curvePoint{apex + a, foot, 1, 0}
	case t >= 1:
		return curvePoint{apex, foot + b, 0, 1}
	}
	return c.along(legsOf(t))
}

// legs are the cosine and the sine of the parameter, and their logarithms.
type legs struct{ cos, sin, logCos, logSin float64 }

func legsOf(t float64) legs {
	st, ct := math.Sincos(t * math.Pi / 2)
	return legs{ct, st, numeric.Log(ct), numeric.Log(st)}
}

// keptLegs are those of the points between the ends that every curve keeps.
var keptLegs = func() (l [curveSamples - 1]legs) {
	for i := range l {
		l[i] = legsOf(float64(i+1) / curveSamples)
	}
	return l
}()

// along returns the point of the curve whose parameter has the legs.
func (c *curve) along(l legs) curvePoint {
	s := c.s
	a, b, n, foot := s.Quarter(c.side)
	ct, st := l.cos, l.sin
	// y/a = ct^(2/n) and z/b = st^(2/n), and the gradient ((y/a)^(n-1)/a,
	// (z/b)^(n-1)/b) is the normal.
	yy, zz := ct, st
	if n != 2 {
		e := 2 / n
		yy, zz = numeric.Exp(e*l.logCos), numeric.Exp(e*l.logSin)
	}
	ny, nz := b*ct*ct/yy, a*st*st/zz
	k := 1 / math.Sqrt(ny*ny+nz*nz)
	return curvePoint{c.side.Sign()*s.Apex + a*yy, foot + b*zz, ny * k, nz * k}
}

// where returns the parameter at which the offset curve has come in to y; it
// comes in all the way from wall to apex.
func (c *curve) where(y, allowance float64) float64 {
	over := func(q curvePoint) float64 { v, _ := q.off(allowance); return v - y }
	if over(c.kept[0]) <= 0 {
		return 0
	}
	if over(c.kept[curveSamples]) >= 0 {
		return 1
	}
	i := 1
	for over(c.kept[i]) > 0 {
		i++
	}
	return numeric.Crossing(func(t float64) float64 { return over(c.point(t)) },
		float64(i-1)/curveSamples, float64(i)/curveSamples, over(c.kept[i-1]), over(c.kept[i]))
}

// Contact says which part of the bit's arc touches the target first.
type Contact int

const (
	ContactNone     Contact = iota // none: it does not reach the wood
	ContactSide                    // its vertical end, at the neck's side
	ContactArc                     // somewhere between its ends
	ContactCrown                   // its level crown
	ContactBearing                 // none: the bearing must have something to run on
	ContactStraight                // none: the straight edge above the arc ends
)

// Tool reports whether the tool itself sets the limit, before the target does.
func (c Contact) Tool() bool { return c == ContactBearing || c == ContactStraight }

// String names the contact.
func (c Contact) String() string {
	return [...]string{"nothing", "the arc's lower end", "the middle of the arc", "the arc's crown", "nothing", "nothing"}[c]
}

// deepest returns how close to the glue plane the arc's end may come on one
// side at a station: the least depth of the arc's end below the glue plane at
// which no part of the cutter is nearer than allowance to the target.
//
// A point of the target (y, depth) on the near side of the arc's centre is
// clear of the cutter as long as the arc's end lies at least depth - above
// below the glue plane, so that the answer is the largest of those. Rough takes
// the kept points and the ends only and is a few hundredths of a millimetre too
// small.
func (c *curve) deepest(k *cutter, allowance float64, rough bool) (depth float64, touch Contact, y float64) {
	a := c.s.HalfWidth
	need := func(q curvePoint) float64 {
		y, d := q.off(allowance)
		v, _ := k.above(a - y)
		return d - v
	}
	// The curve counts where it is within the wood and short of the crown.
	crown := a - k.reach()
	best, at := math.Inf(-1), -1
	for i := range c.kept {
		v, _ := c.kept[i].off(allowance)
		if v > a {
			continue
		}
		if v < crown {
			break
		}
		if n := need(c.kept[i]); n > best {
			best, at = n, i
		}
	}
	f := func(t float64) float64 { return need(c.point(t)) }
	from := c.enters(allowance)
	to := c.where(crown, allowance)
	if rough {
		// A small bit is held at its crown, which lies between two points.
		return math.Max(best, math.Max(f(from), f(to))), ContactNone, 0
	}
	t := from
	best = f(from)
	if v := f(to); v > best {
		best, t = v, to
	}
	if at >= 0 && to > from {
		lo := math.Max(from, float64(at-1)/curveSamples)
		hi := math.Min(to, float64(at+1)/curveSamples)
		if v, u := numeric.Peak(f, lo, numeric.Clamp(float64(at)/curveSamples, lo, hi), hi); v > best {
			best, t = v, u
		}
	}
	y, _ = c.point(t).off(allowance)
	const end = 0.004
	touch = ContactArc
	switch {
	case to-t <= end*(to-from):
		touch = ContactCrown
	case t-from <= end*(to-from):
		touch = ContactSide
	}
	return best, touch, y
}

// distance returns the signed distance in the section's plane of a point of
// the curve's side from the target, positive outside: the largest distance from
// any tangent. The point's y counts towards the curve's own side.
func (c *curve) distance(y, depth float64) float64 {
	f := func(q curvePoint) float64 { return (y-q.y)*q.cos + (depth-q.depth)*q.sin }
	best, at := math.Inf(-1), 0
	for i := range c.kept {
		if v := f(c.kept[i]); v > best {
			best, at = v, i
		}
	}
	lo, hi := math.Max(0, float64(at-1)/curveSamples), math.Min(1, float64(at+1)/curveSamples)
	v, _ := numeric.Peak(func(t float64) float64 { return f(c.point(t)) }, lo, float64(at)/curveSamples, hi)
	return math.Max(best, v)
}

// distance returns the signed distance of q from the target whose sides are
// given. The normal through a point stays on the point's side of the apex.
func distance(cs *[2]curve, q neck.YZ) float64 {
	if q.Y < cs[neck.MinusY].s.Apex {
		return cs[neck.MinusY].distance(-q.Y, -q.Z)
	}
	return cs[neck.PlusY].distance(q.Y, -q.Z)
}
