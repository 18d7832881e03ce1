package neck

import (
	"math"
	"sort"

	"neckloft/neck/numeric"
)

// The least cover is found by branch and bound. A gap in a section's plane is the
// least, over all normals, of a difference of support functions, each of them
// smooth along a piece of the wood: between two stations it is no less than a
// parabola through the gaps at both, bent as much as the worst of them may be. A
// stretch whose parabola stays over the best found holds nothing less.
const (
	coverMiss  = 1e-6 // mm by which the least may be missed
	coverMoves = 1e-9 // by how much another place must be less
	coverCell  = 1e-3 // the shortest stretch that is divided
	mostCell   = 8.0  // the longest that is not
	coverNudge = 1e-7 // from a channel's very end, where it may have no section
)

// descent looks for the least of what is worth at a place, given a gap there and
// a bound of what it may be between two places.
type descent struct {
	gap   func(x float64) float64
	worth func(x, gap float64) float64
	low   func(a, gapA, b, gapB float64) float64
	cell  float64

	best, at float64
}

// look returns the gap at a place, and takes what it is worth.
func (q *descent) look(x float64) float64 {
	g := q.gap(x)
	if v := q.worth(x, g); v < q.best-coverMoves {
		q.best, q.at = v, x
	}
	return g
}

// between looks between two places that have been looked at.
func (q *descent) between(a, gapA, b, gapB float64) {
	if b-a < q.cell || q.low(a, gapA, b, gapB) >= q.best-coverMiss {
		return
	}
	m := (a + b) / 2
	g := q.look(m)
	if gapA < gapB {
		q.between(a, gapA, m, g)
		q.between(m, g, b, gapB)
		return
	}
	q.between(m, g, b, gapB)
	q.between(a, gapA, m, g)
}

// parabolaLow returns the least of the parabola from a to b over a length h that
// bends upward by bend.
func parabolaLow(a, b, bend, h float64) float64 {
	sag := bend * h * h
	if math.Abs(a-b) >= sag/2 {
		return math.Min(a, b)
	}
	return (a+b)/2 - sag/8 - (a-b)*(a-b)/(2*sag)
}

// fromSlice returns the distance in space from a channel's section at x to the
// back, or in the section's plane where it cuts through; where that is not less
// than a limit, the limit or more. A point of the back at another station is at
// least the gap there away across, and as far along as the station lies off.
func (n *Neck) fromSlice(s *channelSlice, x, limit float64) float64 {
	own := n.Section(x)
	gap := s.gap(&own)
	if gap <= 0 {
		return gap
	}
	var p *woodPiece
	q := descent{
		best: math.Min(gap, limit),
		cell: coverCell,
		gap: func(at float64) float64 {
			wood := n.sectionIn(p, at)
			return s.gap(&wood)
		},
		worth: func(at, gap float64) float64 { return math.Hypot(at-x, math.Max(0, gap)) },
	}
	q.low = func(a, gapA, b, gapB float64) float64 {
		off := math.Max(0, math.Max(a-x, x-b))
		if off >= q.best {
			return off
		}
		sag := p.bend * (b - a) * (b - a) / 8
		gapA, gapB = gapA-sag, gapB-sag
		if gapA <= 0 || gapB <= 0 {
			return off
		}
		return toLine(a-x, gapA, b-x, gapB)
	}
	pieces := n.woodPieces()
	i := sort.Search(len(pieces)-1, func(i int) bool { return pieces[i].to >= x })
	q.pieces(n, pieces[i:], &p, x, gap, 1)
	q.pieces(n, pieces[:i+1], &p, x, gap, -1)
	return q.best
}

// pieces looks along pieces of the wood from x, where the gap is given, as far
// as the best found lets anything be nearer: on, or back.
func (q *descent) pieces(n *Neck, list []*woodPiece, p **woodPiece, x, gap, sign float64) {
	for i := range list {
		*p = list[i]
		if sign < 0 {
			*p = list[len(list)-1-i]
		}
		n.measure(*p)
		from, to := (*p).from, (*p).to
		if sign < 0 {
			from, to = to, from
		}
		if sign*(from-x) >= q.best {
			return
		}
		a, gapA := from, 0.0
		if sign*(x-from) >= 0 {
			a, gapA = x, gap
			if (*p).tenon && x <= n.end {
				gapA = q.look(x)
			}
		} else {
			gapA = q.look(a)
		}
		// Farther off than the best there is nothing nearer.
		b := x + sign*math.Min(sign*(to-x), q.best)
		if sign*(b-a) <= 0 {
			continue
		}
		gapB := q.look(b)
		if sign > 0 {
			q.between(a, gapA, b, gapB)
		} else {
			q.between(b, gapB, a, gapA)
		}
	}
}

// toLine returns the distance of the origin from the straight line between two
// points.
func toLine(y1, z1, y2, z2 float64) float64 {
	dy, dz := y2-y1, z2-z1
	k := 0.0
	if l := dy*dy + dz*dz; l > 0 {
		k = numeric.Clamp(-(y1*dy+z1*dz)/l, 0, 1)
	}
	return math.Hypot(y1+k*dy, z1+k*dz)
}

// inWood returns a channel's section at x as far as it lies below the wood's
// top, which matters to a pocket that leans: its ends stand out of the face.
func (n *Neck) inWood(s *channelSlice, x float64) *channelSlice {
	if s.c.tilted() {
		if kept := below(s.polygon, n.Top(x)); len(kept) > 2 {
			s.polygon = kept
		}
	}
	return s
}

// leastCover finds the least cover of a channel over the back, and where.
func (n *Neck) leastCover(c *Channel) (cover, x float64) {
	q := coverSearch{n: n, c: c, descent: descent{best: math.Inf(1), at: c.From}}
	from, to := q.middle()
	q.ends(c.From, from)
	q.ends(to, c.To)
	if from < to {
		q.along(from, to)
	}
	q.settle(from, to)
	return q.best, q.at
}

// coverSearch is the search for the least cover of one channel, by the stations
// of its sections.
type coverSearch struct {
	descent
	n *Neck
	c *Channel
}

// slice returns the channel's section at a station held to its ends, false where
// there is none, or none in the wood.
func (q *coverSearch) slice(x float64) (*channelSlice, float64, bool) {
	c := q.c
	nudge := 0.0
	if !c.plain {
		nudge = math.Min(coverNudge, (c.To-c.From)/2)
	}
	x = numeric.Clamp(x, c.From+nudge, c.To-nudge)
	s, ok := c.slice(x)
	if !ok || x > q.n.end && q.n.besideTenon(&s, x) {
		return nil, x, false
	}
	return q.n.inWood(&s, x), x, true
}

// take looks at the section at a station, in space.
func (q *coverSearch) take(x float64) float64 {
	s, at, ok := q.slice(x)
	if !ok {
		return math.Inf(1)
	}
	v := q.n.fromSlice(s, at, q.best)
	if v < q.best-coverMoves {
		q.best, q.at = v, at
	}
	return v
}

// middle returns the stretch of the stations that cross the channel from side to
// side. Before and past it they meet its slanted ends.
func (q *coverSearch) middle() (from, to float64) {
	c := q.c
	if c.plain {
		return c.From, c.To
	}
	ends := [2][2]float64{{math.Inf(1), math.Inf(-1)}, {math.Inf(1), math.Inf(-1)}}
	for i, p := range c.corners() {
		e := &ends[i/4]
		e[0], e[1] = math.Min(e[0], p.X), math.Max(e[1], p.X)
	}
	if ends[0][0] > ends[1][0] {
		ends[0], ends[1] = ends[1], ends[0]
	}
	from, to = math.Max(c.From, ends[0][1]), math.Min(c.To, ends[1][0])
	if from > to {
		from = numeric.Clamp(from, c.From, c.To)
		return from, from
	}
	return from, to
}

// ends looks at an end of the channel: at one station, or at many where it is
// slanted and the sections shrink to a corner.
func (q *coverSearch) ends(a, b float64) {
	if b-a < coverNudge {
		q.take(a)
		return
	}
	steps := int(numeric.Clamp(math.Ceil((b-a)/0.25), 8, 200))
	for i := range steps + 1 {
		q.take(numeric.Lerp(a, b, float64(i)/float64(steps)))
	}
}

// settle follows the best found, in space, to the bottom of its valley.
func (q *coverSearch) settle(from, to float64) {
	if q.still() || q.best <= 0 {
		return
	}
	step, a, b, at := mostCell, from, to, q.at
	switch {
	case at < from:
		step, a, b = (from-q.c.From)/8, q.c.From, from
	case at > to:
		step, a, b = (q.c.To-to)/8, to, q.c.To
	}
	numeric.Peak(func(x float64) float64 {
		s, x, ok := q.slice(x)
		if !ok {
			return math.Inf(-1)
		}
		v := q.n.fromSlice(s, x, math.Inf(1))
		if v < q.best-coverMoves {
			q.best, q.at = v, x
		}
		return -v
	}, math.Max(a, at-step), at, math.Min(b, at+step))
}

// along looks along the stations that cross the channel.
//
// Where the channel is the same all along, and straight, the nearest point of
// the back lies in the plane of the section that it is nearest to. Else the gap
// in the plane is at most the distance in space over the cosine of the wood's
// slope, which leaves few sections to be looked at in space.
func (q *coverSearch) along(from, to float64) {
	c, still := q.c, q.still()
	for _, p := range q.n.woodPieces() {
		a, b := math.Max(from, p.from), math.Min(to, p.to)
		if a >= b {
			continue
		}
		if p.tenon {
			q.ends(a, b)
			continue
		}
		q.n.measure(p)
		bend, cos := p.bend+c.bend(), 1.0
		q.cell = coverCell
		if !still {
			cos = 1 / math.Hypot(1, p.slope)
			q.cell = numeric.Clamp(math.Sqrt(8e-5/bend), 0.25, mostCell)
		}
		q.gap = func(x float64) float64 {
			s, at, ok := q.slice(x)
			if !ok {
				return math.Inf(1)
			}
			wood := q.n.sectionIn(p, at)
			return s.gap(&wood)
		}
		q.worth = func(x, gap float64) float64 {
			if still || gap <= 0 {
				return gap
			}
			if gap*cos < q.best {
				q.take(x)
			}
			return math.Inf(1)
		}
		q.low = func(a, gapA, b, gapB float64) float64 {
			l := parabolaLow(gapA, gapB, bend, b-a)
			if l > 0 {
				l *= cos
			}
			return l
		}
		q.between(a, q.look(a), b, q.look(b))
	}
	if still {
		q.bottom(from, to)
	}
}

// still reports whether the channel's sections are the same all along it.
func (q *coverSearch) still() bool {
	c := q.c
	return c.plain || !c.tilted() && c.along.Y == 0 && c.floor.level()
}

// bottom follows the best found in the plane of a section to the bottom.
func (q *coverSearch) bottom(from, to float64) {
	const step = 0.5
	if at := q.at; at > from && at < to {
		numeric.Peak(func(x float64) float64 {
			s, at, ok := q.slice(x)
			if !ok {
				return math.Inf(-1)
			}
			wood := q.n.Section(at)
			g := s.gap(&wood)
			if g < q.best-coverMoves {
				q.best, q.at = g, at
			}
			return -g
		}, math.Max(from, at-step), at, math.Min(to, at+step))
	}
}

// bend returns the greatest curvature of the channel's floor along the neck.
func (c *Channel) bend() float64 {
	return c.floor.bend() / (c.along.X * c.along.X)
}
