package neck

import (
	"math"
	"neckloft/neck/numeric"
	"sort"
)

// MomentsBetween returns the moments of the bare wood section between two lines
// y = from and y = to that are square to the glue plane, the rod channel not
// subtracted: what one strip of a laminated neck has.
//
// It is Moments cut in pieces: rectangles in closed form, and under each curve
// the integrals over y of the height and its powers, along the same two halves
// of the curve as there.
func (s *Section) MomentsBetween(from, to float64) Moments {
	from, to = math.Max(from, s.Edge(MinusY).Y), math.Min(to, s.Edge(PlusY).Y)
	switch {
	case !(from < to):
		return Moments{}
	case s.trim != nil:
		return s.cutBetween(from, to).Plus(1, s.ledgeBetween(from, to))
	}
	start := s.CurveStart()
	f0, f1 := s.Flat()
	m := rectangle(from, start, to, s.Top).Plus(1, s.ledgeBetween(from, to))
	if a, b := math.Max(from, f0), math.Min(to, f1); a < b {
		m = m.Plus(1, rectangle(a, -s.Depth, b, start))
	}
	if b := math.Min(to, f0); from < b {
		m = m.Plus(1, s.quarterBetween(MinusY, f0-b, f0-from).placed(f0, -1, start, -1))
	}
	if a := math.Max(from, f1); a < to {
		m = m.Plus(1, s.quarterBetween(PlusY, a-f1, to-f1).placed(f1, 1, start, -1))
	}
	return m
}

// quarterBetween returns the moments of the area under one side's curve whose
// distance u outward from the foot of the flat lies between from and to. It is
// about the corner of that foot and the level where the curve starts, with u
// outward and v down.
func (s *Section) quarterBetween(side Side, from, to float64) Moments {
	if s.blend > 0 {
		return s.blendedBetween(side, from, to)
	}
	c := &s.curve[side]
	var q Moments
	add := func(u, v, du float64) { q = q.Plus(du, column(u, v)) }
	half := math.Exp2(-c.invN) // y/a = z/b here
	a, b := from/c.a, math.Min(to/c.a, 1)
	other := func(t float64) float64 { return math.Pow(math.Max(0, 1-math.Pow(t, c.n)), c.invN) }
	// In either half of the curve the coordinate in which it is a graph of
	// bounded slope is w⁴, as in sweepQuarter.
	root := func(t float64) float64 { return math.Sqrt(math.Sqrt(t)) }
	if a < half {
		lo, hi := root(a), root(math.Min(b, half))
		for i, x := range stripRule.X {
			w := lo + (hi-lo)*x
			t := w * w * w * w
			add(c.a*t, c.b*other(t), c.a*4*w*w*w*(hi-lo)*stripRule.W[i])
		}
	}
	if b > half {
		lo, hi := root(other(b)), root(other(math.Max(a, half)))
		for i, x := range stripRule.X {
			w := lo + (hi-lo)*x
			t := w * w * w * w
			tn := math.Pow(t, c.n)
			slope := tn / t * math.Pow(1-tn, c.invN-1)
			add(c.a*other(t), c.b*t, c.a*slope*4*w*w*w*(hi-lo)*stripRule.W[i])
		}
	}
	return q
}

// stripRule integrates under a piece of a curve, and panelRule under a panel of
// a blended one.
var (
	stripRule = numeric.NewRule(32)
	panelRule = numeric.NewRule(8)
)

// column returns the moments of an upright column of height v at u, for each
// unit of its width.
func column(u, v float64) Moments {
	return Moments{Area: v, SY: u * v, SZ: v * v / 2, SYY: u * u * v, SZZ: v * v * v / 3, SYZ: u * v * v / 2}
}

// blendedBetween is quarterBetween for a blended section. It goes along the
// curve by the logarithm t of the normal's slope, in which both the profile's
// point and the corner's are known with their derivatives:
//
//	d(y/a)/dt = -k (y/a) (z/b)^n   and   d cos φ/dt = -sin² φ cos φ.
//
// Each changes about a place of its own, over a length of its own, so that the
// panels double in length away from both. It is long because it is one integral.
func (s *Section) blendedBetween(side Side, from, to float64) Moments {
	c := &s.curve[side]
	f0, f1 := s.Flat()
	flat, start := f0, s.CurveStart()
	if side == PlusY {
		flat = f1
	}
	point := func(t float64) (u, v float64, d Direction) {
		d = DirectionOf(t)
		p := s.PointAlong(side, d)
		return side.Sign() * (p.Y - flat), start - p.Z, d
	}
	const far = 2000.0 // as in DepthAt
	where := func(u float64) float64 {
		lo, hi := -far, far
		for range 60 {
			mid := (lo + hi) / 2
			if at, _, _ := point(mid); at > u {
				lo = mid
			} else {
				hi = mid
			}
		}
		return (lo + hi) / 2
	}
	lo, hi := where(to), where(from)
	edges := []float64{lo, hi}
	bend := math.Inf(-1) // where a leaning side's corner begins
	if s.lean.ok {
		bend = s.lean.side.u
	}
	put := func(x float64) {
		if x > lo && x < hi {
			edges = append(edges, x)
		}
	}
	for _, p := range [][2]float64{{-c.logBA, 0.5 * (c.n - 1) * c.invN}, {0, 0.5}} {
		put(p[0])
		for h := p[1]; h < 2*far; h *= 2 {
			put(p[0] - h)
			put(p[0] + h)
		}
	}
	put(bend)
	sort.Float64s(edges)
	q := s.leaningBetween(side, flat, start, from, to)
	for i := 1; i < len(edges); i++ {
		step := edges[i] - edges[i-1]
		for j, x := range panelRule.X {
			t := edges[i-1] + step*x
			u, v, d := point(t)
			y, z := c.unit(t)
			corner := s.corner
			if t < bend {
				corner = 0 // the block's point stays at the foot of the wall
			}
			du := numeric.Lerp(c.a*c.k*y*math.Pow(z, c.n), corner*d.sin*d.sin*d.cos, s.blend)
			q = q.Plus(du*step*panelRule.W[j], column(u, v))
		}
	}
	return q
}

// leaningBetween is the part of blendedBetween that lies under the straight side
// of a block that leans.
func (s *Section) leaningBetween(side Side, flat, start, from, to float64) Moments {
	upper, lower, ok := s.leaningSide(side)
	if !ok {
		return Moments{}
	}
	u0, u1 := side.Sign()*(lower.Y-flat), side.Sign()*(upper.Y-flat)
	a, b := math.Max(from, u0), math.Min(to, u1)
	if !(a < b) {
		return Moments{}
	}
	var q Moments
	for i, x := range panelRule.X {
		u := numeric.Lerp(a, b, x)
		v := start - numeric.Lerp(lower.Z, upper.Z, (u-u0)/(u1-u0))
		q = q.Plus((b-a)*panelRule.W[i], column(u, v))
	}
	return q
}

// cutBetween is MomentsBetween for a section that an outline cuts, by lines
// across as cutMoments.
func (s *Section) cutBetween(from, to float64) Moments {
	var m Moments
	for _, l := range s.slices() {
		ys := between(l.ys, from, to)
		for i := 0; i+1 < len(ys); i += 2 {
			m = m.Plus(l.dz, strand(ys[i], ys[i+1], l.z))
		}
	}
	return m
}

// strand returns the moments of a line across from a to b at the height z, for each
// unit of its height.
func strand(a, b, z float64) Moments {
	w, y := b-a, (b*b-a*a)/2
	return Moments{Area: w, SY: y, SZ: w * z, SYY: (b*b*b - a*a*a) / 3, SZZ: w * z * z, SYZ: y * z}
}

// Level returns y of the section's two sides at the height z below its top,
// and false where it does not reach there.
func (s *Section) Level(z float64) (from, to float64, ok bool) {
	if !(z <= s.Top+1e-9 && z >= -s.Depth-1e-9) {
		return 0, 0, false
	}
	from, to = s.Edge(MinusY).Y, s.Edge(PlusY).Y
	if z < s.CurveStart() {
		from, to = s.across(MinusY, z), s.across(PlusY, z)
	}
	if s.trim == nil {
		return from, to, true
	}
	ys := between(s.trim.at(z), from, to)
	if len(ys) == 0 {
		return 0, 0, false
	}
	return ys[0], ys[len(ys)-1], true
}

// across returns y of one side's curve at the height z.
func (s *Section) across(side Side, z float64) float64 {
	if y, ok := s.acrossLeaningSide(side, z, 0); ok {
		return y
	}
	lo, hi := -2000.0, 2000.0 // as in loftDepth
	for range 80 {
		u := (lo + hi) / 2
		if s.PointAlong(side, DirectionOf(u)).Z > z {
			lo = u
		} else {
			hi = u
		}
	}
	return s.PointAlong(side, DirectionOf((lo+hi)/2)).Y
}

// clippedTo returns the part of a convex outline that lies between y = from and
// y = to, without points where there is none.
func clippedTo(outline []YZ, from, to float64) []YZ {
	return halfPlane(halfPlane(outline, 1, from), -1, -to)
}

// halfPlane returns the part of an outline where sign y is limit or more.
func halfPlane(outline []YZ, sign, limit float64) []YZ {
	var out []YZ
	for i, q := range outline {
		p := outline[(i+len(outline)-1)%len(outline)]
		a, b := sign*p.Y-limit, sign*q.Y-limit
		if (a < 0) != (b < 0) {
			t := a / (a - b)
			out = append(out, YZ{numeric.Lerp(p.Y, q.Y, t), numeric.Lerp(p.Z, q.Z, t)})
		}
		if b >= 0 {
			out = append(out, q)
		}
	}
	return out
}
