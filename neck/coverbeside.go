package neck

import (
	"math"
	"sort"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// A headstock's outline is cut square to the face. So the wall that it leaves is
// the same at any depth under the face, and the distance of a channel from it is
// that of the channel, seen square to the face, from the outline.

// besideRange returns the stations of a channel that may lie beside the outline's
// wall, false where none does.
func (n *Neck) besideRange(c *Channel) (from, to float64, ok bool) {
	if n.head.edge == nil || !(c.From < c.To) {
		return 0, 0, false
	}
	to = math.Min(c.To, math.Min(0, -n.head.shelf+n.headLow*n.head.sin))
	return c.From, to, c.From < to
}

// seen returns the corners of a channel's section at x as they are seen square to
// the headstock's face.
func (n *Neck) seen(c *Channel, x float64) []mesh.Vec2 {
	const chords = 12
	line := n.ChannelOutline(c, x, chords)
	out := make([]mesh.Vec2, len(line))
	for i, p := range line {
		out[i].X, _ = n.head.frame(x, p.Z)
		out[i].Y = p.Y
	}
	return out
}

// sliceBeside returns the distance of a channel's section at x from the wall that
// the outline leaves, and false off the headstock.
func (n *Neck) sliceBeside(c *Channel, x float64) (float64, bool) {
	if from, to, ok := n.besideRange(c); !ok || x < from || x > to {
		return 0, false
	}
	line := n.seen(c, x)
	if len(line) < 3 {
		return 0, false
	}
	d, _ := n.head.edge.DistanceTo(around2(line))
	return d, true
}

// leastBeside is the least of sliceBeside over a channel, and where: of all of it
// at once, which is convex below the top of the wood.
func (n *Neck) leastBeside(c *Channel) (cover, x float64, ok bool) {
	from, to, ok := n.besideRange(c)
	if !ok {
		return 0, 0, false
	}
	xs := []float64{from + coverNudge, to - coverNudge}
	for _, p := range c.corners() {
		xs = append(xs, p.X-coverNudge, p.X+coverNudge)
	}
	const steps = 32
	for i := range steps {
		xs = append(xs, numeric.Lerp(from, to, (float64(i)+0.5)/steps))
	}
	var all []mesh.Vec2
	for _, x := range xs {
		if x >= from && x <= to {
			all = append(all, n.seen(c, x)...)
		}
	}
	if len(all) < 3 {
		return 0, 0, false
	}
	d, at := n.head.edge.DistanceTo(around2(all))
	return d, numeric.Clamp(n.HeadX(at.X), c.From, c.To), true
}

// around2 returns the convex hull of points, counter-clockwise: Andrew's two
// chains over the points in order.
func around2(points []mesh.Vec2) []mesh.Vec2 {
	sort.Slice(points, func(i, j int) bool {
		a, b := points[i], points[j]
		return a.X < b.X || a.X == b.X && a.Y < b.Y
	})
	var out []mesh.Vec2
	chain := func(p mesh.Vec2, least int) {
		for k := len(out); k > least && out[k-1].Sub(out[k-2]).Cross(p.Sub(out[k-1])) <= 0; k = len(out) {
			out = out[:k-1]
		}
		out = append(out, p)
	}
	for _, p := range points {
		chain(p, 1)
	}
	lower := len(out)
	for i := len(points) - 2; i >= 0; i-- {
		chain(points[i], lower)
	}
	return out[:len(out)-1]
}
