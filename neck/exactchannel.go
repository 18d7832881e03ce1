package neck

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck/outline"
	"neckloft/neck/spec"
)

// exactJoin is by how much a pocket reaches into its channel, in mm, so that they
// meet: less than a file promises.
const exactJoin = 0.004

// ChannelCutters returns what the channels and pockets take from the wood as exact
// solids, but for those that skip tells to leave.
func (n *Neck) ChannelCutters(skip func(*Channel) bool) ([]*brep.Solid, error) {
	var out []*brep.Solid
	for _, c := range n.channels {
		if skip(c) || c.From >= c.To {
			continue
		}
		s, err := n.exactChannel(c)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// exactChannel returns a channel as a closed solid that stands out of the plane that
// it is sunk from.
func (n *Neck) exactChannel(c *Channel) (*brep.Solid, error) {
	l := &cutterLoft{n: n, c: c, part: PartWood, join: exactJoin}
	from, to := l.ends()
	if p := n.pocketOf(c); p != nil && p.half > c.half && !p.tilted() && p.floor.first > c.deepestEnd() {
		// It ends in the pocket, which holds it: the other way round they would touch.
		into := math.Min(1, p.floor.length/2)
		if c.Spec.Pocket.At == spec.PocketNut {
			from -= into
		} else {
			to += into
		}
	}
	if of := n.channelOf(c); of != nil {
		depth := of.floor.at(0)
		if c.Spec.Pocket.At != spec.PocketNut {
			depth = of.floor.at(of.floor.length)
		}
		switch {
		case c.half > of.half && !c.tilted() && c.floor.first > of.deepestEnd():
			from = 0
		case c.half < of.half && c.floor.first < depth-0.5*of.floor.steepest()-0.1 && !of.round:
			from = -math.Min(0.5, of.floor.length/2)
		}
	}
	up := cutterAbove
	if c.Pocket {
		up = pocketAbove + n.faceVeneer()
	}
	x := exactSlot{c: c, from: from, to: to, up: up, frame: brep.Frame{Origin: c.origin, X: c.along, Y: c.down, Z: c.across}}
	if !c.round {
		return brep.Prism(c.Name, x.frame, x.profile(), -c.half, c.half)
	}
	return x.round()
}

// pocketOf returns the pocket of a channel, and channelOf the channel of a pocket: nil
// where there is none.
func (n *Neck) pocketOf(c *Channel) *Channel {
	for _, p := range n.channels {
		if p.Pocket && !c.Pocket && p.group == c.group {
			return p
		}
	}
	return nil
}

func (n *Neck) channelOf(p *Channel) *Channel {
	for _, c := range n.channels {
		if p.Pocket && !c.Pocket && p.group == c.group {
			return c
		}
	}
	return nil
}

// deepestEnd returns the greatest depth of a channel within 1 mm of its ends and as
// far beyond.
func (c *Channel) deepestEnd() float64 {
	x := exactSlot{c: c}
	deep := 0.0
	for _, t := range []float64{-1, 0, 1, c.floor.length - 1, c.floor.length, c.floor.length + 1} {
		deep = math.Max(deep, x.depth(t))
	}
	return deep
}

// exactSlot builds the solid of a channel, in its frame: along it, down and across.
type exactSlot struct {
	c        *Channel
	from, to float64
	up       float64 // how high its top stands
	frame    brep.Frame
}

// depth returns the depth of the floor at t, in its own law beyond the channel's ends
// too: a bend there might lie in the plane of the wood's end.
func (x *exactSlot) depth(t float64) float64 {
	f := &x.c.floor
	if f.radius > 0 {
		return f.z + math.Sqrt(math.Max(0, f.radius*f.radius-(t-f.t)*(t-f.t)))
	}
	s := t / f.length
	return f.first + (f.last-f.first)*s + 4*f.bulge*s*(1-s)
}

// floor returns the course of the floor from end to end: straight, an arc or a
// parabola.
func (x *exactSlot) floor() []outline.Segment {
	f := &x.c.floor
	p := func(t float64) mesh.Vec2 { return mesh.Vec2{X: t, Y: x.depth(t)} }
	a, b := x.from, x.to
	switch {
	case f.bulge == 0:
		return []outline.Segment{outline.NewLine(p(a), p(b))}
	case f.radius > 0:
		angle := func(t float64) float64 { return math.Atan2(x.depth(t)-f.z, t-f.t) }
		return []outline.Segment{outline.NewArc(mesh.Vec2{X: f.t, Y: f.z}, f.radius, angle(a), angle(b))}
	}
	k := (b - a) / 2
	rise := (f.last-f.first)/f.length + 4*f.bulge*(1-2*a/f.length)/f.length
	return []outline.Segment{outline.NewQuadratic(p(a), p(a).Add(mesh.Vec2{X: k, Y: k * rise}), p(b))}
}

// profile returns the outline of a channel with a flat floor, seen from the side.
func (x *exactSlot) profile() []outline.Segment {
	line := x.floor()
	first, last := line[0].Start(), line[len(line)-1].End()
	a, b := mesh.Vec2{X: first.X, Y: -x.up}, mesh.Vec2{X: last.X, Y: -x.up}
	return append(line, outline.NewLine(last, b), outline.NewLine(b, a), outline.NewLine(a, first))
}

// round returns a channel with a round floor: half circles along the course of the
// floor, between upright walls.
func (x *exactSlot) round() (*brep.Solid, error) {
	c, f := x.c, x.frame
	var b brep.Builder
	r := c.half
	line := x.floor()
	// Of each place along the floor: its half circle, and the feet of the walls.
	circle := func(p mesh.Vec2) brep.Circle {
		return brep.Circle{Centre: f.At(p.X, p.Y-r, 0), Axis: f.X, Ref: f.Y, Radius: r}
	}
	foot := func(p mesh.Vec2, side float64) mesh.Vec { return f.At(p.X, p.Y-r, side*r) }
	ends := [2]mesh.Vec2{line[0].Start(), line[len(line)-1].End()}
	var feet [2][]*brep.Edge // of the walls, by side
	arcs := []*brep.Edge{b.Edge(circle(ends[0]), -math.Pi/2, math.Pi/2)}
	for _, s := range line {
		arc := b.Edge(circle(s.End()), -math.Pi/2, math.Pi/2)
		last := arcs[len(arcs)-1]
		var surface brep.Surface
		var pair [2]*brep.Edge
		if s.Kind == outline.Line {
			for i, side := range []float64{-1, 1} {
				pair[i] = b.Line(foot(s.Start(), side), foot(s.End(), side))
			}
			d := s.End().Sub(s.Start())
			surface = brep.Swept{Circle: circle(s.Start()), Direction: f.At(d.X, d.Y, 0).Sub(f.Origin).Scale(1 / d.Norm())}
		} else {
			patch, err := bentFloor(f, s, r)
			if err != nil {
				return nil, err
			}
			from, to := patch.U.Ends()
			for i, v := range []float64{-math.Pi / 2, math.Pi / 2} {
				pair[i] = b.Edge(patch.Along(v), from, to)
			}
			surface = patch
		}
		turned := outwardTurned(surface, f.Y)
		b.Face(c.Name+", floor", surface, turned, []*brep.Edge{last, pair[1], arc, pair[0]})
		for i := range feet {
			feet[i] = append(feet[i], pair[i])
		}
		arcs = append(arcs, arc)
	}
	lip := func(end int, side float64) mesh.Vec { return f.At(ends[end].X, -x.up, side*r) }
	for i, side := range []float64{-1, 1} {
		loop := append([]*brep.Edge{b.Line(lip(0, side), foot(ends[0], side))}, feet[i]...)
		loop = append(loop, b.Line(foot(ends[1], side), lip(1, side)), b.Line(lip(1, side), lip(0, side)))
		b.Face(c.Name+", wall", brep.NewPlane(lip(0, side), f.Z.Scale(side)), false, loop)
	}
	for end, arc := range []*brep.Edge{arcs[0], arcs[len(arcs)-1]} {
		b.Face(c.Name+", end", brep.NewPlane(lip(end, 1), f.X.Scale(float64(2*end-1))), false, []*brep.Edge{
			arc, b.Line(foot(ends[end], 1), lip(end, 1)), b.Line(lip(end, 1), lip(end, -1)), b.Line(lip(end, -1), foot(ends[end], -1))})
	}
	b.Face(c.Name+", top", brep.NewPlane(lip(0, 1), f.Y.Scale(-1)), false, []*brep.Edge{
		b.Line(lip(0, -1), lip(1, -1)), b.Line(lip(1, -1), lip(1, 1)), b.Line(lip(1, 1), lip(0, 1)), b.Line(lip(0, 1), lip(0, -1))})
	return b.Solid(c.Name)
}

// outwardTurned reports whether a surface's normal in the middle looks against a
// direction.
func outwardTurned(s brep.Surface, outward mesh.Vec) bool {
	u, v := s.Middle()
	return brep.Normal(s, u, v).Dot(outward) < 0
}

// bentOver is by how much of an angle the floor of a bent round channel goes on beyond
// the feet of its walls, so that what crosses it there finds it.
const bentOver = 0.3

// bentFit is how closely the floor of a bent round channel is fitted, in mm.
const bentFit = 2e-7

// bentFloor returns the round floor over a bent piece of its course. A point is that
// of the course moved by that of the half circle: so are the points of the patch.
func bentFloor(f brep.Frame, s outline.Segment, r float64) (*brep.Patch, error) {
	fit := func(at func(t float64) mesh.Vec2, from, to float64) (*brep.Fitted, error) {
		law := brep.Law{From: from, To: to, Longest: (to - from) / 8, Shortest: (to - from) / 1e4, At: func(t float64) []float64 {
			p := at(t)
			return []float64{p.X, p.Y}
		}}
		return law.Fit(bentFit)
	}
	course, err := fit(s.At, 0, 1)
	if err != nil {
		return nil, err
	}
	half, err := fit(func(t float64) mesh.Vec2 {
		sin, cos := math.Sincos(t)
		return mesh.Vec2{X: r * sin, Y: r * (cos - 1)}
	}, -math.Pi/2-bentOver, math.Pi/2+bentOver)
	if err != nil {
		return nil, err
	}
	p := &brep.Patch{U: course.Basis, V: half.Basis}
	for i := range course.Points[0] {
		var row []mesh.Vec
		for j := range half.Points[0] {
			row = append(row, f.At(course.Points[0][i], course.Points[1][i]+half.Points[1][j], half.Points[0][j]))
		}
		p.Points = append(p.Points, row)
	}
	return p, nil
}
