package exact

import (
	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
)

// A headstock with an outline is cut from a plain block that is wider all along: where
// the way from the neck ends, whose width is that of the outline, this stands out to
// both sides.

// layStepRims makes the rims of the block at its far end and where the way from the
// neck meets it.
func (w *wood) layStepRims() {
	half := w.n.ExactHeadHalf()
	near := &w.rims[1]
	last := func(side neck.Side) *brep.Edge { return near.edges[side][len(near.edges[side])-1] }
	middle := last(neck.PlusY).To.At.Y
	ring := func(x float64, inner func(side neck.Side) []*brep.Edge) rim {
		out := rim{x: x}
		depth := w.n.Depth(x)
		for _, side := range sides {
			out.top[side] = mesh.Vec{X: x, Y: side.Sign() * half}
			low := mesh.Vec{X: x, Y: side.Sign() * half, Z: -depth}
			out.edges[side] = []*brep.Edge{w.b.Line(out.top[side], low)}
			if inner == nil {
				out.edges[side] = append(out.edges[side], w.b.Line(low, mesh.Vec{X: x, Y: middle, Z: -depth}))
				continue
			}
			e := inner(side)
			out.edges[side] = append(append(out.edges[side], w.b.Line(low, e[0].From.At)), e...)
		}
		return out
	}
	w.rims[0] = ring(w.parts[0].From, nil)
	step := ring(near.x, func(side neck.Side) []*brep.Edge { return []*brep.Edge{last(side)} })
	w.step = &step
}

// layStep makes the faces between the block's end and the rim of the way from the
// neck, which look to the body.
func (w *wood) layStep(near *rim) {
	for _, side := range sides {
		inner := near.edges[side]
		loop := append([]*brep.Edge{w.parts[0].top[side][1].Edge}, inner[:len(inner)-1]...)
		loop = append(loop, w.step.edges[side][1], w.step.edges[side][0])
		w.b.Face("headstock, end of its block", brep.NewPlane(near.top[side], mesh.Vec{X: 1}), false, loop)
	}
}
