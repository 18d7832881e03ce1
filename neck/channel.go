package neck

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Channel is what is routed into the wood from one face: a channel of the spec,
// or the access pocket at its end.
//
// It has a frame of its own: t along its axis from its beginning, u across,
// with y, and v down from the plane that it is routed from.
// Its section square to the axis is a slot with vertical sides and a flat or a
// round floor, and the channel is all of its sections together.
type Channel struct {
	Name   string       // "rod channel", "bass bar", "pocket of bass bar"
	Key    string       // in the spec
	Spec   spec.Channel // of a pocket, that of its channel
	Pocket bool

	// From and To are the extent in x of what is taken out of the wood.
	From, To float64

	group               int // the same for a channel and its pocket
	plain               bool
	x0, x1              float64 // ends of a plain channel
	origin              mesh.Vec
	along, across, down mesh.Vec
	half                float64 // half its width
	round               bool
	floor               floorLine
	above               float64 // how far a tilted one reaches over its plane
}

// Channels returns every channel and pocket, in the order of the spec, each
// pocket after its channel.
func (n *Neck) Channels() []*Channel { return n.channels }

// layChannels fixes the channels in space.
func (n *Neck) layChannels() {
	specs, keys := n.spec.AllChannels()
	for i, s := range specs {
		c := n.layChannel(s, keys[i], i)
		n.channels = append(n.channels, c)
		if s.Pocket.At != spec.PocketNone {
			n.channels = append(n.channels, n.layPocket(c))
		}
	}
	for _, c := range n.channels {
		c.extent(n)
	}
}

// layChannel lays out a channel of the glue plane.
func (n *Neck) layChannel(s spec.Channel, key string, group int) *Channel {
	c := &Channel{Name: s.Name, Key: key, Spec: s, group: group, half: s.Width / 2, round: s.Floor == spec.FloorRound}
	marks := []float64{n.start, 0, n.boardEnd, n.end, n.tip}
	c.x0, c.x1 = snap(n.spec.X(s.From), marks...), snap(n.spec.X(s.To), marks...)
	c.plain = s.Offset == 0 && s.Angle == 0 && s.Curve == spec.CurveStraight && s.Depth == s.DepthEnd &&
		c.x0 >= math.Max(n.start, -n.shelf()) && c.x1 <= n.tip
	sin, cos := math.Sincos(n.Y(s.Angle))
	c.origin = mesh.Vec{X: c.x0, Y: n.Y(s.Offset)}
	c.along, c.across, c.down = mesh.Vec{X: cos, Y: sin}, mesh.Vec{X: -sin, Y: cos}, mesh.Vec{Z: -1}
	c.floor = newFloorLine(&s, (c.x1-c.x0)/cos)
	return c
}

// shelf returns the length before the nut that is level with the glue plane.
func (n *Neck) shelf() float64 {
	if n.spec.Headstock != nil {
		return n.head.shelf
	}
	return 0
}

// layPocket lays out the pocket of a channel, from the channel's end outward:
// on the face of an angled headstock where it reaches that far, or else on the
// glue plane.
func (n *Neck) layPocket(of *Channel) *Channel {
	p := of.Spec.Pocket
	c := &Channel{Name: "pocket of " + of.Name, Key: of.Key, Spec: of.Spec, Pocket: true, group: of.group, half: p.Width / 2}
	flat := spec.Channel{Depth: p.Depth, DepthEnd: p.Depth}
	c.floor = newFloorLine(&flat, p.Length)
	c.down = of.down
	c.origin, c.along = of.at(of.floor.length), of.along
	h := n.spec.Headstock
	if p.At == spec.PocketNut {
		c.origin, c.along = of.at(0), of.along.Scale(-1)
		if far := c.origin.X + p.Length*c.along.X; h != nil && h.Angle > 0 && far < -n.head.shelf {
			c.tilt(h.Angle, n.head.shelf)
			c.above += n.faceVeneer() // through it too
		}
	}
	c.across = c.down.Cross(c.along)
	return c
}

// tilt lays a pocket into the plane of the face of a headstock of an angle: its axis
// stays over that of its channel, and it begins where a line square to the face
// meets the channel's end on the glue plane.
func (c *Channel) tilt(angle, shelf float64) {
	sin, cos := math.Sincos(angle)
	up := mesh.Vec{X: -sin, Z: cos}
	c.down = up.Scale(-1)
	in := c.along.Sub(up.Scale(c.along.Dot(up)))
	c.along = in.Scale(1 / in.Norm())
	onFace := mesh.Vec{X: -shelf}
	c.origin = c.origin.Sub(up.Scale(c.origin.Sub(onFace).Dot(up)))
	c.above = cutterAbove
}

// lofted returns the channel that the loft of the neck holds, the first plain
// one; the others are cut out of it. It is nil where there is none.
func (n *Neck) lofted() *Channel {
	for _, c := range n.channels {
		if c.plain {
			return c
		}
	}
	return nil
}

// at returns the point of the axis at t, in the plane that is routed from.
func (c *Channel) at(t float64) mesh.Vec { return c.origin.Add(c.along.Scale(t)) }

// tilted reports whether it is routed from another plane than the glue plane.
func (c *Channel) tilted() bool { return c.above > 0 }

// OnFace reports whether it is a pocket in the face of an angled headstock.
func (c *Channel) OnFace() bool { return c.tilted() }

// local returns the place of a point in the channel's frame.
func (c *Channel) local(p mesh.Vec) (t, u, v float64) {
	q := p.Sub(c.origin)
	return q.Dot(c.along), q.Dot(c.across), q.Dot(c.down)
}

// Even reports whether the channel runs straight along the centreline with the
// same depth all along, as that of [rod] does.
func (c *Channel) Even() bool { return c.plain }

// Ends returns where along the neck the axis begins and ends in the wood.
func (c *Channel) Ends() (from, to float64) {
	a, b := c.at(0).X, c.at(c.floor.length).X
	if c.plain {
		a, b = c.x0, c.x1
	}
	return numeric.Clamp(math.Min(a, b), c.From, c.To), numeric.Clamp(math.Max(a, b), c.From, c.To)
}

// Length returns the length along the axis.
func (c *Channel) Length() float64 { return c.floor.length }

// Width returns the width across the axis.
func (c *Channel) Width() float64 { return 2 * c.half }

// DepthAlong returns the depth below the plane that is routed from, t mm along
// the axis.
func (c *Channel) DepthAlong(t float64) float64 { return c.floor.at(t) }

// SlopeAlong returns the slope of the floor there in radians, positive where it
// goes down on the way to the body.
func (c *Channel) SlopeAlong(t float64) float64 { return math.Atan(c.floor.slope(t)) }

// InWood returns between which places along the axis the channel lies in the wood:
// 0 and Length, unless it runs out through an end.
func (c *Channel) InWood() (from, to float64) {
	a, b := c.Ends()
	along := func(x float64) float64 { return numeric.Clamp((x-c.origin.X)/c.along.X, 0, c.floor.length) }
	from, to = along(a), along(b)
	return math.Min(from, to), math.Max(from, to)
}

// Deepest returns the greatest depth, and how far along the axis it lies.
func (c *Channel) Deepest() (depth, t float64) {
	return numeric.Maximize(c.floor.at, 0, c.floor.length, 24)
}

// DeepestInWood returns the greatest depth that it has in the wood, and its x.
func (c *Channel) DeepestInWood() (depth, x float64) {
	from, to := c.InWood()
	depth, t := numeric.Maximize(c.floor.at, from, to, 24)
	return depth, c.at(t).X
}

// Radius returns the radius of the floor along the channel, of a parabola that
// in its middle; +Inf for a straight floor.
func (c *Channel) Radius() float64 {
	switch c.floor.curve {
	case spec.CurveCircle:
		return c.floor.radius
	case spec.CurveParabola:
		return c.floor.length * c.floor.length / (8 * c.floor.bulge)
	}
	return math.Inf(1)
}

// Corners returns the corners of its outline in the top view, as x and y: those
// of a pocket on a headstock's face where they lie on the face.
func (c *Channel) Corners() [4]mesh.Vec2 {
	var out [4]mesh.Vec2
	for i, k := range [4][2]float64{{0, -1}, {1, -1}, {1, 1}, {0, 1}} {
		p := c.at(k[0] * c.floor.length).Add(c.across.Scale(k[1] * c.half))
		out[i] = mesh.Vec2{X: p.X, Y: p.Y}
	}
	return out
}

// Over reports whether a point lies over the channel's outline, or within slack
// beside it.
func (c *Channel) Over(p mesh.Vec, slack float64) bool {
	t, u, _ := c.local(p)
	return math.Abs(u) <= c.half+slack && t >= -slack && t <= c.floor.length+slack
}

// AxisY returns y of the axis at x.
func (c *Channel) AxisY(x float64) float64 {
	return c.origin.Y + (x-c.origin.X)*c.along.Y/c.along.X
}

// extent finds where along the neck the channel takes wood: it may run out
// through an end, or up through the face of a headstock.
func (c *Channel) extent(n *Neck) {
	if c.plain {
		c.From, c.To = c.x0, c.x1
		return
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range c.corners() {
		lo, hi = math.Min(lo, p.X), math.Max(hi, p.X)
	}
	lo, hi = math.Max(lo, n.start), math.Min(hi, n.tip)
	const step = 0.5
	cuts := func(x float64) bool { return c.takes(n, x) }
	for c.From = lo; c.From < hi && !cuts(c.From+1e-9); c.From += step {
	}
	if c.From > lo {
		c.From = numeric.Border(math.Min(c.From, hi), c.From-step, cuts)
	}
	for c.To = hi; c.To > c.From && !cuts(c.To-1e-9); c.To -= step {
	}
	if c.To < hi && c.To > c.From {
		c.To = numeric.Border(c.To, c.To+step, cuts)
	}
	c.To = math.Max(c.To, c.From)
}

// takes reports whether wood is taken at x.
func (c *Channel) takes(n *Neck, x float64) bool {
	s, ok := c.slice(x)
	if !ok {
		return false
	}
	return -s.support(PlusY, plumb) < n.TopAt(x, c.AxisY(x))
}

// corners returns the corners of the box that the channel's floor and lips lie
// in.
func (c *Channel) corners() []mesh.Vec {
	deep, _ := c.Deepest()
	var out []mesh.Vec
	for _, t := range []float64{0, c.floor.length} {
		for _, u := range []float64{-c.half, c.half} {
			for _, v := range []float64{0, deep} {
				out = append(out, c.at(t).Add(c.across.Scale(u)).Add(c.down.Scale(v)))
			}
		}
	}
	return out
}
