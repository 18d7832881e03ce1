package neck

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// roundSteps returns into how many chords half a circle of that radius is
// divided to keep them within e.
func roundSteps(radius, e float64) int {
	return max(4, int(math.Ceil(math.Pi/(2*math.Acos(1-math.Min(e/radius, 0.5))))))
}

// slotOutline returns the section of a slot on the centreline from the treble
// lip down, across the floor and up to the bass lip, a round floor in k chords.
func slotOutline(half, depth float64, round bool, k int) []YZ {
	if !round {
		return []YZ{{half, 0}, {half, -depth}, {-half, -depth}, {-half, 0}}
	}
	out := []YZ{{half, 0}}
	for i := range k + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(k))
		out = append(out, YZ{half * cos, -(depth - half) - half*sin})
	}
	return append(out, YZ{-half, 0})
}

// ChannelOutline returns the section of a channel at x, as far as it lies in
// the wood, from the treble lip down, across the floor and up to the bass lip:
// a round floor in k chords. It is nil where the channel is not.
func (n *Neck) ChannelOutline(c *Channel, x float64, k int) []YZ {
	s, ok := c.sliceIn(x)
	if !ok {
		return nil
	}
	if c.plain {
		return slotOutline(c.half, c.floor.first, c.round, k)
	}
	polygon := s.polygon
	if !c.tilted() {
		polygon = s.slot(k)
	}
	return lipped(below(polygon, n.TopAt(x, c.AxisY(x))))
}

// slot returns the section of a channel of the glue plane, from the treble lip
// to the bass lip.
func (s *channelSlice) slot(k int) []YZ {
	if !s.c.round {
		k = 1
	}
	var out []YZ
	for i := range k + 1 {
		// Evenly by angle, as a round floor asks for.
		u := numeric.Lerp(s.u0, s.u1, (1-math.Cos(math.Pi*float64(i)/float64(k)))/2)
		out = append(out, s.place(u))
	}
	if out[0].Y < out[k].Y {
		slices.Reverse(out)
	}
	return append(append([]YZ{{out[0].Y, 0}}, out...), YZ{out[k].Y, 0})
}

// below returns the part of a convex polygon that lies below a level.
func below(polygon []YZ, level float64) []YZ {
	var out []YZ
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		if p.Z <= level {
			out = append(out, p)
		}
		if (p.Z < level) != (q.Z < level) && p.Z != level && q.Z != level {
			k := (level - p.Z) / (q.Z - p.Z)
			out = append(out, YZ{numeric.Lerp(p.Y, q.Y, k), level})
		}
	}
	return out
}

// lipped turns a convex polygon so that it begins at the treble end of its upper
// side and goes down from there.
func lipped(polygon []YZ) []YZ {
	if len(polygon) < 3 {
		return nil
	}
	area := 0.0
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		area += p.Y*q.Z - q.Y*p.Z
	}
	if area > 0 {
		slices.Reverse(polygon)
	}
	first := 0
	for i, p := range polygon {
		if q := polygon[first]; p.Z > q.Z+1e-9 || p.Z > q.Z-1e-9 && p.Y > q.Y {
			first = i
		}
	}
	return append(slices.Clone(polygon[first:]), polygon[:first]...)
}

// Outline returns the channel's outline in the top view, as far as it lies in
// the wood: x and y, from the bass side where it begins.
func (c *Channel) Outline() []mesh.Vec2 {
	corners := c.Corners()
	out := corners[:]
	if c.plain {
		return out
	}
	for _, cut := range []struct{ at, sign float64 }{{c.From, 1}, {c.To, -1}} {
		var kept []mesh.Vec2
		for i, p := range out {
			q := out[(i+1)%len(out)]
			in, next := cut.sign*(p.X-cut.at) >= 0, cut.sign*(q.X-cut.at) >= 0
			if in {
				kept = append(kept, p)
			}
			if in != next {
				kept = append(kept, mesh.Vec2{X: cut.at, Y: numeric.Lerp(p.Y, q.Y, (cut.at-p.X)/(q.X-p.X))})
			}
		}
		out = kept
	}
	return out
}

// ChannelSide returns a channel as the side view shows it, x and z: from the
// wood's top down, along the floor with chords within e, and up.
func (n *Neck) ChannelSide(c *Channel, e float64) []mesh.Vec2 {
	point := func(t, v float64) mesh.Vec2 {
		p := c.at(t).Add(c.down.Scale(v))
		return mesh.Vec2{X: p.X, Y: p.Z}
	}
	from, to := 0.0, c.floor.length
	if !c.tilted() { // as far as its axis lies in the wood
		a, b := (c.From-c.origin.X)/c.along.X, (c.To-c.origin.X)/c.along.X
		from, to = math.Max(from, math.Min(a, b)), math.Min(to, math.Max(a, b))
	}
	// A wall begins where it comes out of the wood.
	rim := func(t float64) mesh.Vec2 {
		over := func(v float64) float64 {
			p := point(t, v)
			return p.Y - n.TopAt(p.X, c.AxisY(p.X))
		}
		foot := c.floor.at(t)
		a, b := over(0), over(foot)
		if a <= 0 || b >= 0 {
			return point(t, 0)
		}
		return point(t, numeric.Crossing(over, 0, foot, a, b))
	}
	out := []mesh.Vec2{rim(from)}
	for _, t := range c.floor.stations(from, to, e) {
		out = append(out, point(t, c.floor.at(t)))
	}
	return append(out, rim(to))
}

// InlayOutline is the section of what is glued into a channel: "bar", "strip"
// or "filling".
type InlayOutline struct {
	Name   string
	Closed []YZ
}

// InlayOutlines returns what is glued into a channel at x, a filling before the
// bar in it.
func (n *Neck) InlayOutlines(c *Channel, x float64, k int) []InlayOutline {
	s, ok := c.sliceIn(x)
	if !ok || c.Pocket {
		return nil
	}
	var out []InlayOutline
	switch c.Spec.Top {
	case spec.TopStrip:
		thick := c.StripAlong(s.t)
		upside := n.ChannelOutline(c, x, k)
		for i := range upside {
			upside[i].Z = -upside[i].Z
		}
		strip := below(upside, thick)
		for i := range strip {
			strip[i].Z = -strip[i].Z
		}
		out = append(out, InlayOutline{"strip", strip})
	case spec.TopFilled:
		out = append(out, InlayOutline{"filling", n.ChannelOutline(c, x, k)})
	}
	if b := c.Spec.Bar; b.Has() {
		y, w := c.at(s.t).Y, b.Width/2/c.along.X
		out = append(out, InlayOutline{"bar", []YZ{{y - w, -b.Below}, {y - w, -b.Below - b.Height}, {y + w, -b.Below - b.Height}, {y + w, -b.Below}}})
	}
	return out
}

// NearestCover returns the ends of the shortest line, in the plane of the
// section at x, from a channel to the back, and its length; false where the
// channel is not.
func (n *Neck) NearestCover(c *Channel, x float64) (channel, back YZ, gap float64, ok bool) {
	s, ok := c.sliceIn(x)
	if !ok {
		return channel, back, 0, false
	}
	wood := n.Section(x)
	gap = math.Inf(1)
	for _, side := range []Side{MinusY, PlusY} {
		best, at := overQuarter(func(d Direction) float64 { return s.support(side, d) - wood.SupportAlong(side, d) }, 1e-7)
		if -best < gap {
			gap, back = -best, wood.Point(side, at)
		}
	}
	line := n.ChannelOutline(c, x, 48)
	least := math.Inf(1)
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		dy, dz := b.Y-a.Y, b.Z-a.Z
		if dy == 0 && dz == 0 {
			continue
		}
		k := numeric.Clamp(((back.Y-a.Y)*dy+(back.Z-a.Z)*dz)/(dy*dy+dz*dz), 0, 1)
		p := YZ{a.Y + k*dy, a.Z + k*dz}
		if d := math.Hypot(p.Y-back.Y, p.Z-back.Z); d < least {
			least, channel = d, p
		}
	}
	return channel, back, gap, true
}
