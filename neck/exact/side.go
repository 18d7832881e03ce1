package exact

import (
	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
)

// layStretch makes the faces of stretch i that look down and to the sides.
func (w *wood) layStretch(i int) {
	s := &w.stretches[i]
	if !s.free() {
		w.layBlock(i)
		return
	}
	a, b := &w.rims[i], &w.rims[i+1]
	middle := w.b.Edge(s.patches[0].Column(true), s.From, s.To)
	for _, side := range sides {
		var upper []*brep.Edge
		for _, e := range s.top[side] {
			upper = append(upper, e.Edge)
		}
		first, last := a.edges[side], b.edges[side]
		if s.Kind == neck.StretchPlain && len(first) > 1 {
			foot := w.b.Line(first[0].To.At, last[0].To.At)
			w.b.Face("wall", wallPlane(first[0].From.At, last[0].From.At, side), false,
				[]*brep.Edge{upper[0], last[0], foot, first[0]})
			upper, first, last = []*brep.Edge{foot}, first[1:], last[1:]
		}
		loop := append(append([]*brep.Edge{}, upper...), last...)
		loop = append(append(loop, middle), backwards(first)...)
		w.b.Face(w.backName(s, side), s.patches[side], side == neck.MinusY, loop)
	}
}

// backName names a side of the back.
func (w *wood) backName(s *stretch, side neck.Side) string {
	name := "back, " + w.n.SideName(side) + " side"
	switch s.Kind {
	case neck.StretchIntoHead:
		return name + ", into the headstock"
	case neck.StretchIntoHeel:
		return name + ", into the heel"
	}
	return name
}

// wallPlane returns the upright plane through two points of a side.
func wallPlane(p, q mesh.Vec, side neck.Side) brep.Plane {
	d := q.Sub(p)
	return brep.NewPlane(p, mesh.Vec{X: -d.Y, Y: d.X}.Scale(side.Sign()))
}

// layBlock makes the faces of a block, whose rims have as many edges each.
func (w *wood) layBlock(i int) {
	s := &w.stretches[i]
	a, b := &w.rims[i], &w.rims[i+1]
	name := "heel"
	if s.Kind == neck.StretchHead {
		name = "headstock"
	}
	var bottom [2]*brep.Edge // the lines along its edges
	for _, side := range sides {
		first, last := a.edges[side], b.edges[side]
		upper := s.top[side][0].Edge
		for k := range len(first) - 1 {
			lower := w.b.Line(lowerEnd(first[k]), lowerEnd(last[k]))
			surface := brep.Surface(nil)
			along := lower.Curve.(brep.Line).Direction
			if c, ok := first[k].Curve.(brep.Circle); ok {
				surface = brep.Swept{Circle: c, Direction: along}
			} else {
				d := lowerEnd(first[k]).Sub(upperEnd(first[k]))
				surface = brep.NewPlane(lowerEnd(first[k]), along.Cross(d).Scale(side.Sign()))
			}
			w.b.Face(name+", "+w.n.SideName(side)+" side", surface, false, []*brep.Edge{upper, last[k], lower, first[k]})
			upper = lower
		}
		bottom[side] = upper
	}
	m, p := neck.MinusY, neck.PlusY
	end := func(edges []*brep.Edge) *brep.Edge { return edges[len(edges)-1] }
	along := bottom[m].Curve.(brep.Line).Direction
	w.b.Face(name+", back", brep.NewPlane(bottom[m].From.At, along.Cross(mesh.Vec{Y: 1}).Scale(-1)), false,
		[]*brep.Edge{bottom[m], end(b.edges[m]), end(b.edges[p]), bottom[p], end(a.edges[p]), end(a.edges[m])})
}

// upperEnd and lowerEnd return the ends of an edge of a rim.
func upperEnd(e *brep.Edge) mesh.Vec {
	if e.From.At.Z > e.To.At.Z {
		return e.From.At
	}
	return e.To.At
}

func lowerEnd(e *brep.Edge) mesh.Vec {
	if e.From.At.Z > e.To.At.Z {
		return e.To.At
	}
	return e.From.At
}

// layEnd closes the wood at rim i, the first or the last.
func (w *wood) layEnd(i int) {
	r := &w.rims[i]
	normal := mesh.Vec{X: -1}
	name := "end at the headstock"
	if i > 0 {
		normal, name = mesh.Vec{X: 1}, "end at the body"
	}
	m, p := neck.MinusY, neck.PlusY
	loop := append(append([]*brep.Edge{}, r.edges[m]...), backwards(r.edges[p])...)
	loop = append(loop, w.b.Line(r.top[p], r.top[m]))
	w.b.Face(name, brep.NewPlane(r.top[m], normal), false, loop)
}
