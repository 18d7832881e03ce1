package neck

import (
	"math"
	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// gap returns the distance in a section's plane between a channel's section and
// the back: negative where the channel cuts through. Both are convex and the
// channel lies inside, so that it is the least difference of their support
// functions.
func (s *channelSlice) gap(wood *Section) float64 {
	least := math.Inf(1)
	for _, side := range []Side{MinusY, PlusY} {
		best, _ := overQuarter(func(d Direction) float64 { return s.support(side, d) - wood.SupportAlong(side, d) }, 1e-7)
		least = math.Min(least, -best)
	}
	return least
}

// Gap returns the distance in the section's plane between the channel, taken to
// run through at both ends, and the back's surface at x: negative where the
// channel cuts through.
func (n *Neck) Gap(c *Channel, x float64) float64 {
	wood, s := n.Section(x), c.through(x)
	return s.gap(&wood)
}

// Cover returns the least distance from the sections of all channels at x to
// the back of the wood, measured in space and not only in the plane of the
// section, and false where there is no channel at x. It is negative where one
// cuts through.
func (n *Neck) Cover(x float64) (float64, bool) {
	cover, _, ok := n.CoverBy(x)
	return cover, ok
}

// CoverBy is Cover with the channel that it is the cover of.
func (n *Neck) CoverBy(x float64) (cover float64, by *Channel, ok bool) {
	for _, c := range n.channels {
		if d, in := n.CoverOf(c, x); in && (by == nil || d < cover) {
			cover, by = d, c
		}
	}
	return cover, by, by != nil
}

// CoverOf is Cover of one channel alone.
func (n *Neck) CoverOf(c *Channel, x float64) (float64, bool) {
	s, ok := c.sliceIn(x)
	if !ok {
		return 0, false
	}
	if x > n.end && n.besideTenon(&s, x) {
		return 0, false
	}
	d, _ := n.sliceCover(&s, x, x, 12)
	if d > 0 && (c.tilted() || x < -n.shelf()) {
		d = n.coverUnderFace(&s, x, d)
	}
	return d, true
}

// besideTenon reports whether a channel's section lies in the air beside the
// tenon: it has come out through the shoulder.
func (n *Neck) besideTenon(s *channelSlice, x float64) bool {
	wood := n.tenonSection(x)
	return -s.support(MinusY, level) >= wood.SupportAlong(PlusY, level) ||
		-s.support(PlusY, level) >= wood.SupportAlong(MinusY, level)
}

// coverUnderFace is sliceCover of a channel's section at x in the headstock, which
// by the supports alone has at least the cover given: its wood ends at the face,
// where the supports carry sides and channel on above it.
func (n *Neck) coverUnderFace(s *channelSlice, x, least float64) float64 {
	from := s.distance
	if s.c.tilted() {
		from = s.outside
	}
	to := func(at float64) float64 {
		return n.fromBack(at, func(p YZ) float64 { return math.Hypot(at-x, math.Max(0, from(p))) }, true)
	}
	reach := math.Max(to(x), least)
	best, _ := numeric.ClimbAll(func(at float64) float64 { return -to(at) }, math.Max(n.start, x-reach), math.Min(n.tip, x+reach), 16)
	return math.Max(least, math.Min(reach, -best))
}

// outside returns the distance of a point from the polygon of a tilted channel.
func (s *channelSlice) outside(p YZ) float64 {
	least := math.Inf(1)
	for i, q := range s.polygon {
		r := s.polygon[(i+1)%len(s.polygon)]
		dy, dz := r.Y-q.Y, r.Z-q.Z
		k := 0.0
		if l := dy*dy + dz*dz; l > 0 {
			k = numeric.Clamp(((p.Y-q.Y)*dy+(p.Z-q.Z)*dz)/l, 0, 1)
		}
		least = math.Min(least, math.Hypot(p.Y-q.Y-k*dy, p.Z-q.Z-k*dz))
	}
	return least
}

// Of names a channel where the neck has more than one thing to be covered:
// " of the bass bar". It is "" where there is no doubt.
func (n *Neck) Of(c *Channel) string {
	if len(n.channels) < 2 || c == nil {
		return ""
	}
	return " of " + c.Name
}

// CoverName names the channel that has the least cover at x, or anywhere if
// there is none at x: "rod channel" for that of [rod].
func (n *Neck) CoverName(x float64) string {
	// At the corner of a slanted channel, which a section just misses.
	if least, ok := n.LeastCoverBy(); ok && math.Abs(least.X-x) < 1e-6 {
		return least.Channel.Name
	}
	if _, c, ok := n.CoverBy(x); ok {
		return c.Name
	}
	if len(n.channels) == 1 {
		return n.channels[0].Name
	}
	return "channels"
}

// ChannelCover is the least distance of one channel from the back, and where
// along the neck it lies.
type ChannelCover struct {
	Channel  *Channel
	Cover, X float64
}

// Covers returns the cover of every channel and pocket, in the order of
// Channels.
func (n *Neck) Covers() []ChannelCover {
	n.coverOnce.Do(func() {
		for _, c := range n.channels {
			cover, x := n.leastCover(c)
			// The search may pass over a valley: no station's cover may be less
			// than the least.
			const stations = 12
			for i := range stations {
				at := numeric.Lerp(c.From, c.To, float64(i)/(stations-1))
				if d, ok := n.CoverOf(c, at); ok && d < cover-1e-4 {
					cover, x = d, at
				}
			}
			n.covers = append(n.covers, ChannelCover{c, cover, x})
		}
	})
	return n.covers
}

// LeastCover returns the least distance from all channels to the back, and
// where along the neck it lies; false where there is no channel.
func (n *Neck) LeastCover() (cover, x float64, ok bool) {
	least, ok := n.LeastCoverBy()
	return least.Cover, least.X, ok
}

// LeastCoverBy is LeastCover with the channel that it is the cover of.
func (n *Neck) LeastCoverBy() (ChannelCover, bool) {
	var least ChannelCover
	for i, c := range n.Covers() {
		if i == 0 || c.Cover < least.Cover {
			least = c
		}
	}
	return least, len(n.channels) > 0
}

// leastCover finds the least cover of a channel.
func (n *Neck) leastCover(c *Channel) (cover, x float64) {
	steps := int(numeric.Clamp(math.Ceil((c.To-c.From)/3), 12, 400))
	if c.plain {
		s := channelSlice{c: c}
		return n.sliceCover(&s, c.From, c.To, steps)
	}
	steps = max(12, steps/2)
	// At the ends first, for how far beyond them the nearest wood may lie.
	reach := math.Max(0, math.Min(n.toChannel(c, c.From), n.toChannel(c, c.To)))
	cover = math.Inf(1)
	for _, part := range []struct {
		from, to float64
		steps    int
	}{
		{math.Max(n.start, c.From-reach), c.From, 8}, {c.From, c.To, steps}, {c.To, math.Min(n.tip, c.To+reach), 8},
	} {
		if part.from > part.to {
			continue
		}
		best, at := numeric.ClimbAll(func(x float64) float64 { return -n.toChannel(c, x) }, part.from, part.to, part.steps)
		if -best < cover {
			cover, x = -best, numeric.Clamp(at, c.From, c.To)
		}
	}
	if cover > 0 {
		return cover, x
	}
	// Cut through: how far, in the plane of a section.
	best, at := numeric.Climb(func(x float64) float64 { return -n.Gap(c, x) }, c.From, c.To, steps)
	return math.Min(0, -best), at
}

// sliceCover returns the least distance from a channel's section, that fills the
// stretch between from and to, to the back, and where it lies. A point of the
// back at x' is at least the section's gap away across, and as far along as x'
// lies outside the stretch.
func (n *Neck) sliceCover(s *channelSlice, from, to float64, steps int) (float64, float64) {
	distance := func(x float64) float64 {
		wood := n.Section(x)
		g := s.gap(&wood)
		out := math.Max(0, math.Max(from-x, x-to))
		if g < 0 {
			// Cut through: the depth of it, where it belongs to the stretch.
			return g + out
		}
		return math.Hypot(out, g)
	}
	reach := math.Max(0, math.Min(distance(from), distance(to)))
	lo := math.Max(n.start, from-reach)
	hi := math.Min(n.tip, to+reach)
	near := func(x float64) float64 { return -distance(x) }
	best, at := numeric.Climb(near, lo, hi, steps)
	if from < to {
		// Another valley, or one so narrow at an end that the steps pass over it.
		const less = 1e-7
		for _, part := range [][2]float64{{lo, from}, {from, to}, {to, hi}} {
			if v, x := numeric.ClimbAll(near, part[0], part[1], max(8, steps/4)); part[0] < part[1] && v > best+less {
				best, at = v, x
			}
		}
	}
	return -best, numeric.Clamp(at, from, to)
}

// toChannel returns the least distance in space from the back at x to a
// channel: negative where a point of it lies inside.
func (n *Neck) toChannel(c *Channel, x float64) float64 {
	return n.fromBack(x, func(p YZ) float64 { return c.Distance(mesh.Vec{X: x, Y: p.Y, Z: p.Z}) }, c.tilted())
}

// fromBack returns the least of what is measured from the back at x. To a
// channel that leans, a wall is not nearest at its upper end.
func (n *Neck) fromBack(x float64, to func(YZ) float64, leans bool) float64 {
	s := n.Section(x)
	least := math.Inf(1)
	for _, side := range []Side{MinusY, PlusY} {
		// Evenly along a superellipse of any fullness, whose normal turns by
		// n-1 times the logarithm of its slope's; and by angle, for corners.
		q := &s.curve[side]
		middle := math.Log(q.a / q.b)
		best, _ := numeric.ClimbAll(func(v float64) float64 {
			return -to(s.PointAlong(side, DirectionOf(middle+(q.n-1)*v)))
		}, -6, 6, 24)
		if s.blend > 0 {
			more, _ := numeric.ClimbAll(func(a float64) float64 { return -to(s.PointAlong(side, AngleDirection(a))) }, 0, math.Pi/2, 16)
			best = math.Max(best, more)
		}
		if a, b, ok := s.leaningSide(side); ok {
			// All of it has one normal.
			best, _ := numeric.ClimbAll(func(k float64) float64 {
				return -to(YZ{numeric.Lerp(a.Y, b.Y, k), numeric.Lerp(a.Z, b.Z, k)})
			}, 0, 1, 8)
			least = math.Min(least, -best)
		}
		// A wall is nearest to an open channel at its upper end.
		least = math.Min(least, math.Min(-best, to(s.Edge(side))))
		if leans {
			edge := s.Edge(side)
			best, _ := numeric.ClimbAll(func(z float64) float64 { return -to(YZ{edge.Y, z}) }, math.Min(s.CurveStart(), edge.Z), edge.Z, 8)
			least = math.Min(least, -best)
		}
		least = math.Min(least, to(s.PointAlong(side, plumb)))
	}
	if f0, f1 := s.Flat(); f1 > f0 {
		best, _ := numeric.Climb(func(y float64) float64 { return -to(YZ{y, -s.Depth}) }, f0, f1, 8)
		least = math.Min(least, -best)
	}
	return least
}
