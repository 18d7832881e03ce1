package exact

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// slot is a channel's edges. The ends count along the neck.
type slot struct {
	lips   [2]*brep.Edge // along the sides
	rims   [2]*brep.Edge // across the ends, in the glue plane
	floors [2]*brep.Edge // across the ends, of the floor
	posts  [2][2]*brep.Edge
	open   [2]bool // it runs out at the end
}

// laidChannel returns the channel whose faces are laid at once: the first that is
// straight along the centreline and as deep all along, with its ends in the glue
// plane or in a square end. It is nil where there is none.
func (w *wood) laidChannel() *neck.Channel {
	if w.n.ShapedEnd() {
		return nil
	}
	h := w.n.Spec().Headstock
	for _, c := range w.n.Channels() {
		if c.Even() && (h == nil || c.From > 0.01-h.Shelf) {
			return c
		}
	}
	return nil
}

// layChannel makes the faces of a channel. It returns nil where there is none.
func (w *wood) layChannel(c *neck.Channel) *slot {
	if c == nil {
		return nil
	}
	half, depth := c.Width()/2, c.DepthAlong(0)
	round := c.Spec.Floor == spec.FloorRound
	foot := depth // of the walls
	if round {
		foot = depth - half
	}
	ends := [2]float64{c.From, c.To}
	corner := func(end int, side neck.Side, down float64) mesh.Vec {
		return mesh.Vec{X: ends[end], Y: side.Sign() * half, Z: -down}
	}
	m, p := neck.MinusY, neck.PlusY
	out := &slot{open: [2]bool{c.From <= w.n.Start()+brep.Same, c.To >= w.n.End()-brep.Same}}
	var feet [2]*brep.Edge // along the channel
	for _, side := range sides {
		out.lips[side] = w.b.Line(corner(0, side, 0), corner(1, side, 0))
		feet[side] = out.lips[side]
		if foot > brep.Same {
			for end := range ends {
				out.posts[end][side] = w.b.Line(corner(end, side, 0), corner(end, side, foot))
			}
			feet[side] = w.b.Line(corner(0, side, foot), corner(1, side, foot))
			w.b.Face(c.Name+", wall", brep.NewPlane(corner(0, side, 0), mesh.Vec{Y: -side.Sign()}), false,
				[]*brep.Edge{out.lips[side], out.posts[1][side], feet[side], out.posts[0][side]})
		}
	}
	circle := func(end int) brep.Circle {
		return brep.Circle{Centre: mesh.Vec{X: ends[end], Z: -foot}, Axis: mesh.Vec{X: 1}, Ref: mesh.Vec{Z: -1}, Radius: half}
	}
	for end := range ends {
		if round {
			out.floors[end] = w.b.Edge(circle(end), -math.Pi/2, math.Pi/2)
		} else {
			out.floors[end] = w.b.Line(corner(end, m, foot), corner(end, p, foot))
		}
		if out.open[end] {
			continue
		}
		out.rims[end] = w.b.Line(corner(end, m, 0), corner(end, p, 0))
		loop := append([]*brep.Edge{out.rims[end]}, out.down(end)...)
		w.b.Face(c.Name+", end", brep.NewPlane(corner(end, m, 0), mesh.Vec{X: float64(1 - 2*end)}), false, loop)
	}
	loop := []*brep.Edge{feet[m], out.floors[1], feet[p], out.floors[0]}
	if round {
		w.b.Face(c.Name+", floor", brep.Swept{Circle: circle(0), Direction: mesh.Vec{X: 1}}, true, loop)
	} else {
		w.b.Face(c.Name+", floor", brep.NewPlane(corner(0, m, foot), mesh.Vec{Z: 1}), false, loop)
	}
	return out
}

// down returns the edges of an end from the lip of the plus side around the
// floor to the other lip.
func (s *slot) down(end int) []*brep.Edge {
	if s.posts[end][0] == nil {
		return []*brep.Edge{s.floors[end]}
	}
	return []*brep.Edge{s.posts[end][neck.PlusY], s.floors[end], s.posts[end][neck.MinusY]}
}

// lip returns the end of a lip.
func (s *slot) lip(end int, side neck.Side) mesh.Vec {
	if end == 0 {
		return s.lips[side].From.At
	}
	return s.lips[side].To.At
}

// layGlue makes the faces of the glue plane between edges along its sides: with
// the channel cut into it, in two where that runs out at both ends.
func (w *wood) layGlue(along [2][]*brep.Edge, c *slot) {
	m, p := neck.MinusY, neck.PlusY
	corner := func(end int, side neck.Side) mesh.Vec {
		if end == 0 {
			return along[side][0].From.At
		}
		return along[side][len(along[side])-1].To.At
	}
	face := func(loops ...[]*brep.Edge) {
		// A hole lies in the one of two faces that is on its side.
		for _, hole := range w.loops[faceGlue] {
			if c == nil || !(c.open[0] && c.open[1]) || hole[0].Point(0.5).Y*loops[0][0].From.At.Y > 0 {
				loops = append(loops, hole)
			}
		}
		w.b.Face(zoneNames[zoneGlue], brep.NewPlane(mesh.Vec{}, mesh.Vec{Z: 1}), false, loops...)
	}
	// across goes over an end, around a channel that runs out there.
	across := func(end int) []*brep.Edge {
		if c == nil || !c.open[end] {
			return []*brep.Edge{w.b.Line(corner(end, m), corner(end, p))}
		}
		return []*brep.Edge{w.b.Line(corner(end, m), c.lip(end, m)), c.lips[m], c.rims[1-end], c.lips[p], w.b.Line(c.lip(end, p), corner(end, p))}
	}
	if c != nil && c.open[0] && c.open[1] {
		for _, side := range sides {
			loop := append(append([]*brep.Edge{}, along[side]...), w.b.Line(corner(1, side), c.lip(1, side)), c.lips[side], w.b.Line(c.lip(0, side), corner(0, side)))
			face(loop)
		}
		return
	}
	loop := append(append([]*brep.Edge{}, along[m]...), across(1)...)
	loop = append(append(loop, backwards(along[p])...), backwards(across(0))...)
	if c != nil && !c.open[0] && !c.open[1] {
		face(loop, []*brep.Edge{c.lips[m], c.rims[1], c.lips[p], c.rims[0]})
		return
	}
	face(loop)
}
