package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// square returns the section at x of a wood that is squared to a depth, from the
// bass edge over the back to the treble edge.
func square(n *neck.Neck, x, depth float64) []neck.YZ {
	a := n.Width(x) / 2
	return []neck.YZ{{Y: -a, Z: 0}, {Y: -a, Z: -depth}, {Y: a, Z: -depth}, {Y: a, Z: 0}}
}

// Outline returns the section with the flat back at x, from the bass edge over
// the back to the treble edge.
func (w *Tapered) Outline(x float64) []neck.YZ { return square(w.Neck, x, w.Taper.Depth(x)) }

// finished returns the target's section at x in the same order.
func finished(n *neck.Neck, x float64) []neck.YZ {
	a := n.Width(x) / 2
	s := n.Section(x)
	minus, plus := curve{s: &s, side: neck.MinusY}, curve{s: &s, side: neck.PlusY}
	out := []neck.YZ{{Y: -a, Z: 0}}
	const m = 48
	for i := range m + 1 {
		q := minus.point(float64(i) / m)
		out = append(out, neck.YZ{Y: -q.y, Z: -q.depth})
	}
	for i := m; i >= 0; i-- {
		q := plus.point(float64(i) / m)
		out = append(out, neck.YZ{Y: q.y, Z: -q.depth})
	}
	return append(out, neck.YZ{Y: a, Z: 0})
}

// cover returns the least distance from the channels' sections at x to the
// surface of a stage whose sections are given, and false where there is no
// channel.
//
// It is measured in the section's plane and shortened for the slope of the
// surface along the neck, to the distance in space: for the finished back by
// the slope of that distance, for the others by the greatest slope of their
// surfaces, which errs to the safe side by less than a thousandth of it.
func (w *Tapered) cover(k StageKind, outline func(x float64) []neck.YZ, x float64) (float64, bool) {
	n := w.Neck
	least := math.Inf(1)
	for _, c := range n.Channels() {
		if x < c.From || x > c.To {
			continue
		}
		if k == StageFinal {
			least = math.Min(least, finalCover(n, c, x))
		} else {
			least = math.Min(least, w.coverOver(c, outline, x))
		}
	}
	return least, !math.IsInf(least, 1)
}

// coverOver is cover of one channel, for a stage before the last.
func (w *Tapered) coverOver(c *neck.Channel, outline func(x float64) []neck.YZ, x float64) float64 {
	least := math.Inf(1)
	line := outline(x)
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		// The channel is convex, so that the distance from it is a convex
		// function along a straight edge.
		d := func(t float64) float64 {
			far, ok := c.SectionDistance(x, neck.YZ{Y: numeric.Lerp(a.Y, b.Y, t), Z: numeric.Lerp(a.Z, b.Z, t)})
			if !ok {
				return math.Inf(1)
			}
			return far
		}
		least = math.Min(least, math.Min(d(0), d(1)))
		if math.Hypot(a.Y-b.Y, a.Z-b.Z) < 0.5 {
			continue
		}
		best, _ := numeric.Peak(func(t float64) float64 { return -d(t) }, 0, 0, 1)
		least = math.Min(least, -best)
	}
	k2, q := w.sideSlope(), w.Taper.Slope
	return least / math.Sqrt(1+k2*k2+q*q)
}

// finalCover returns the distance in space from the channel's section at x to
// the finished back: where the distance g in the plane changes evenly along the
// neck, g/√(1+g'²).
func finalCover(n *neck.Neck, c *neck.Channel, x float64) float64 {
	if !c.Even() { // its own section changes too
		d, _ := n.CoverOf(c, x)
		return d
	}
	const h = 0.5
	g0, g, g1 := n.Gap(c, x-h), n.Gap(c, x), n.Gap(c, x+h)
	return g / math.Hypot(1, (g1-g0)/(2*h))
}

// leastCover returns the least cover of a stage along the stretch, or, for the
// finished back, along the whole neck.
func (w *Tapered) leastCover(k StageKind, outline func(x float64) []neck.YZ) (cover, x float64, ok bool) {
	n := w.Neck
	if k == StageFinal {
		return n.LeastCover()
	}
	cover = math.Inf(1)
	for _, c := range n.Channels() {
		w.leastOver(c, outline, func(d, v float64) {
			if d < cover {
				cover, x, ok = d, v, true
			}
		})
	}
	if !ok {
		return 0, 0, false
	}
	return cover, x, true
}

// leastOver calls see with the cover of one channel at stations along the
// stretch, and about the least of them.
func (w *Tapered) leastOver(c *neck.Channel, outline func(x float64) []neck.YZ, see func(cover, x float64)) {
	from, to := math.Max(w.Stretch.From, c.From), math.Min(w.Stretch.To, c.To)
	if !(from <= to) {
		return
	}
	take := func(v float64) float64 {
		d := w.coverOver(c, outline, v)
		see(d, v)
		return -d
	}
	const steps = 16
	best, at := math.Inf(-1), 0
	for i := range steps + 1 {
		if v := take(numeric.Lerp(from, to, float64(i)/steps)); v > best {
			best, at = v, i
		}
	}
	if h := (to - from) / steps; h > 0 && at > 0 && at < steps {
		numeric.Peak(take, from+h*float64(at-1), from+h*float64(at), from+h*float64(at+1))
	}
}
