package exact

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// layChannels makes the faces of the channels and returns the loops that they
// cut into the glue plane.
func (w *wood) layChannels() [][]*brep.Edge {
	var out [][]*brep.Edge
	for _, c := range w.n.Channels() {
		out = append(out, w.layChannel(c))
	}
	return out
}

// layChannel makes the faces of a channel that lies straight along the
// centreline, as deep all along.
func (w *wood) layChannel(c *neck.Channel) []*brep.Edge {
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
	var lips, feet [2]*brep.Edge // along the channel
	for _, side := range sides {
		lips[side] = w.b.Line(corner(0, side, 0), corner(1, side, 0))
		feet[side] = lips[side]
		if foot > brep.Same {
			feet[side] = w.b.Line(corner(0, side, foot), corner(1, side, foot))
			w.b.Face(c.Name+", wall", brep.NewPlane(corner(0, side, 0), mesh.Vec{Y: -side.Sign()}), false,
				[]*brep.Edge{lips[side], w.b.Line(corner(1, side, 0), corner(1, side, foot)), feet[side], w.b.Line(corner(0, side, 0), corner(0, side, foot))})
		}
	}
	var floors, rims [2]*brep.Edge
	var circle [2]brep.Circle
	for end := range ends {
		floors[end] = nil
		if round {
			circle[end] = brep.Circle{Centre: mesh.Vec{X: ends[end], Z: -foot}, Axis: mesh.Vec{X: 1}, Ref: mesh.Vec{Z: -1}, Radius: half}
			floors[end] = w.b.Edge(circle[end], -math.Pi/2, math.Pi/2)
		} else {
			floors[end] = w.b.Line(corner(end, m, foot), corner(end, p, foot))
		}
		rims[end] = w.b.Line(corner(end, m, 0), corner(end, p, 0))
		loop := []*brep.Edge{rims[end]}
		if foot > brep.Same {
			loop = append(loop, w.b.Line(corner(end, p, 0), corner(end, p, foot)), floors[end], w.b.Line(corner(end, m, 0), corner(end, m, foot)))
		} else {
			loop = append(loop, floors[end])
		}
		w.b.Face(c.Name+", end", brep.NewPlane(corner(end, m, 0), mesh.Vec{X: float64(1 - 2*end)}), false, loop)
	}
	loop := []*brep.Edge{feet[m], floors[1], feet[p], floors[0]}
	if round {
		w.b.Face(c.Name+", floor", brep.Swept{Circle: circle[0], Direction: mesh.Vec{X: 1}}, true, loop)
	} else {
		w.b.Face(c.Name+", floor", brep.NewPlane(corner(0, m, foot), mesh.Vec{Z: 1}), false, loop)
	}
	return []*brep.Edge{lips[m], rims[1], lips[p], rims[0]}
}
