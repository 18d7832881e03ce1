package neck

import (
	"math"
	"sort"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// channelSlice is a channel's section at a station: convex, and open to above.
//
// Of a channel of the glue plane it is known by its floor, from one u to
// another. A straight line across a slanted channel meets it at different t, so
// that its floor may slope there. Of a tilted pocket it is a polygon.
type channelSlice struct {
	c       *Channel
	t       float64 // of the axis at the station
	u0, u1  float64
	polygon []YZ
}

// slice returns the channel's section at x, and false where it has none.
func (c *Channel) slice(x float64) (channelSlice, bool) {
	s := channelSlice{c: c, u0: -c.half, u1: c.half}
	if c.plain {
		return s, x >= c.x0 && x <= c.x1
	}
	if c.tilted() {
		s.polygon = c.sliceBox(x)
		return s, len(s.polygon) > 2
	}
	s.t = (x - c.origin.X) / c.along.X
	if tan := s.tan(); tan != 0 {
		a, b := -s.t/tan, (c.floor.length-s.t)/tan
		s.u0, s.u1 = math.Max(s.u0, math.Min(a, b)), math.Min(s.u1, math.Max(a, b))
		return s, s.u0 < s.u1
	}
	const slack = 1e-12 // of the rounding of t
	return s, s.t >= -slack && s.t <= c.floor.length+slack
}

// through is slice of the channel as if it ran on at both ends.
func (c *Channel) through(x float64) channelSlice {
	if c.tilted() {
		return channelSlice{c: c, polygon: c.sliceBox(x)}
	}
	return channelSlice{c: c, u0: -c.half, u1: c.half, t: (x - c.origin.X) / c.along.X}
}

// tan returns by how much t grows with u along the section: that of the angle
// in the top view, to the other side where the axis runs towards the headstock.
func (s *channelSlice) tan() float64 { return -s.c.across.X / s.c.along.X }

// place returns the point of the floor at u, a flat floor's or the line that
// the middle of a round one follows.
func (s *channelSlice) place(u float64) YZ {
	c := s.c
	t := s.t + u*s.tan()
	p := YZ{Y: c.origin.Y + t*c.along.Y + u*c.across.Y, Z: -c.floor.at(t)}
	if c.round {
		p.Z -= math.Sqrt(max(0, c.half*c.half-u*u)) - c.half
	}
	return p
}

// support returns how far the section reaches in the direction d on one side:
// its support function, to hold against that of the wood's Section.
//
// A flat floor reaches farthest at a corner, or, where it is bent and slanted,
// all but there. A round one is a half circle that is stretched to the side and
// sheared by the slope of the line that it follows.
func (s *channelSlice) support(side Side, d Direction) float64 {
	c := s.c
	if c.plain {
		if c.round {
			return c.half + (c.floor.first-c.half)*d.sin
		}
		return c.half*d.cos + c.floor.first*d.sin
	}
	cos := side.Sign() * d.cos
	reach := func(p YZ) float64 { return p.Y*cos - p.Z*d.sin }
	if c.tilted() {
		best := math.Inf(-1)
		for _, p := range s.polygon {
			best = max(best, reach(p))
		}
		return best
	}
	if c.round {
		r := newRoundSlice(s)
		return r.reach(cos, d.sin)
	}
	return max(reach(s.place(s.u0)), reach(s.place(s.u1)))
}

// sectionDistance returns the distance of the place u, v from the section of
// that depth, square to the axis: negative inside.
func (c *Channel) sectionDistance(u, v, depth float64) float64 {
	u = math.Abs(u)
	if c.round {
		// Points within half a width of the middle line, which ends above the
		// floor.
		return math.Hypot(u, max(0, v-(depth-c.half))) - c.half
	}
	du, dv := u-c.half, v-depth
	if du <= 0 && dv <= 0 {
		return max(du, dv)
	}
	return math.Hypot(max(du, 0), max(dv, 0))
}

// Distance returns the distance in space from the channel to a point of the
// wood, negative inside it.
//
// The channel is the union of its sections square to the axis, so that the
// nearest of them gives it. Where the floor slopes by m that section lies within
// m times the distance from the point's own.
func (c *Channel) Distance(p mesh.Vec) float64 {
	t, u, v := c.local(p)
	beyond := math.Max(0, math.Max(-t, t-c.floor.length))
	if c.plain {
		beyond = math.Max(0, math.Max(c.x0-p.X, p.X-c.x1))
	}
	at := numeric.Clamp(t, 0, c.floor.length)
	own := c.sectionDistance(u, v, c.floor.at(at))
	if own <= 0 {
		if beyond > 0 {
			return beyond
		}
		return own
	}
	least := math.Hypot(beyond, own)
	if c.floor.level() {
		return least
	}
	if c.floor.steepest() < 0.5 {
		return math.Min(least, c.nearestSection(t, u, v))
	}
	reach := 1.01*own*c.floor.steepest() + 1e-9
	lo, hi := math.Max(0, at-reach), math.Min(c.floor.length, at+reach)
	best, _ := numeric.Peak(func(k float64) float64 {
		return -math.Hypot(k-t, math.Max(0, c.sectionDistance(u, v, c.floor.at(k))))
	}, lo, at, hi)
	return math.Min(least, -best)
}

// nearestSection returns the distance from the place t, u, v outside the channel
// to the nearest of its sections.
//
// Of the section at k it is the root of (k-t)² + d². The least is where
// k = t - d d', which gives each k from the one before: it comes nearer by the
// square of the floor's slope each time.
func (c *Channel) nearestSection(t, u, v float64) float64 {
	least := math.Inf(1)
	k := numeric.Clamp(t, 0, c.floor.length)
	for range 20 {
		d, pull := c.sectionPull(u, v, c.floor.at(k))
		least = min(least, math.Hypot(k-t, d))
		next := numeric.Clamp(t+pull*c.floor.slope(k), 0, c.floor.length)
		if math.Abs(next-k) < 1e-7 {
			break
		}
		k = next
	}
	return least
}

// sectionPull returns sectionDistance, 0 inside, and that times by how much it
// falls with the section's depth.
func (c *Channel) sectionPull(u, v, depth float64) (d, pull float64) {
	d = max(0, c.sectionDistance(u, v, depth))
	w := max(0, v-depth)
	if c.round {
		if w = max(0, v-(depth-c.half)); w > 0 {
			w *= d / (d + c.half)
		}
	}
	return d, w
}

// SectionDistance returns the distance from the channel's section at x to a
// point of that station's plane below the glue plane, negative inside, and
// false where the channel is not.
func (c *Channel) SectionDistance(x float64, q YZ) (float64, bool) {
	if s, ok := c.sliceIn(x); ok {
		return s.distance(q), true
	}
	return 0, false
}

// sliceIn is slice where the channel takes wood.
func (c *Channel) sliceIn(x float64) (channelSlice, bool) {
	if x < c.From || x > c.To {
		return channelSlice{}, false
	}
	return c.slice(x)
}

// ChannelSupport returns how far the channels at x reach in the direction phi
// below the horizontal on one side, the farthest of them, and false where there
// is none.
func (n *Neck) ChannelSupport(x float64, side Side, phi float64) (float64, bool) {
	reach, any := math.Inf(-1), false
	for _, c := range n.channels {
		if s, ok := c.sliceIn(x); ok {
			reach, any = math.Max(reach, s.support(side, AngleDirection(phi))), true
		}
	}
	return reach, any
}

// sliceBox returns the polygon in which the station x cuts a level pocket of
// any frame.
func (c *Channel) sliceBox(x float64) []YZ {
	var corners [8]mesh.Vec
	for i := range corners {
		t, u, v := 0.0, -c.half, -c.above
		if i&1 != 0 {
			t = c.floor.length
		}
		if i&2 != 0 {
			u = c.half
		}
		if i&4 != 0 {
			v = c.floor.first
		}
		corners[i] = c.at(t).Add(c.across.Scale(u)).Add(c.down.Scale(v))
	}
	var out []YZ
	for i := range corners {
		for _, bit := range []int{1, 2, 4} {
			p, q := corners[i], corners[i|bit]
			if i&bit != 0 || (p.X < x) == (q.X < x) {
				continue
			}
			k := (x - p.X) / (q.X - p.X)
			out = append(out, YZ{numeric.Lerp(p.Y, q.Y, k), numeric.Lerp(p.Z, q.Z, k)})
		}
	}
	return around(out)
}

// around sorts the corners of a convex polygon counter-clockwise.
func around(points []YZ) []YZ {
	var m YZ
	for _, p := range points {
		m.Y += p.Y / float64(len(points))
		m.Z += p.Z / float64(len(points))
	}
	sort.Slice(points, func(i, j int) bool {
		return math.Atan2(points[i].Z-m.Z, points[i].Y-m.Y) < math.Atan2(points[j].Z-m.Z, points[j].Y-m.Y)
	})
	return points
}
