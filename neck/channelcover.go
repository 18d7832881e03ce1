package neck

import (
	"math"

	"neckloft/neck/numeric"
)

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
	if !ok || x > n.end && n.besideTenon(&s, x) {
		return 0, false
	}
	cover := n.fromSlice(n.inWood(&s, x), x, math.Inf(1))
	if side, ok := n.sliceBeside(c, x); ok {
		cover = math.Min(cover, side)
	}
	return cover, true
}

// besideTenon reports whether a channel's section lies in the air beside the
// tenon: it has come out through the shoulder.
func (n *Neck) besideTenon(s *channelSlice, x float64) bool {
	wood := n.tenonSection(x)
	return -s.support(MinusY, level) >= wood.SupportAlong(PlusY, level) ||
		-s.support(PlusY, level) >= wood.SupportAlong(MinusY, level)
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

// ChannelCover is the least distance of one channel from the back, or from the
// side of a headstock with an outline, and where along the neck it lies.
type ChannelCover struct {
	Channel  *Channel
	Cover, X float64
	Beside   bool // from the headstock's side
}

// Covers returns the cover of every channel and pocket, in the order of
// Channels.
func (n *Neck) Covers() []ChannelCover {
	n.coverOnce.Do(func() {
		n.covers = make([]ChannelCover, len(n.channels))
		numeric.EachAtOnce(len(n.channels), func(i int) {
			c := n.channels[i]
			cover, x := n.leastCover(c)
			k := ChannelCover{Channel: c, Cover: cover, X: x}
			if side, at, ok := n.leastBeside(c); ok && side < cover {
				k.Cover, k.X, k.Beside = side, at, true
			}
			n.covers[i] = k
		})
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
