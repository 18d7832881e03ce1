package exact

import (
	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
)

// layPart makes the faces of part i that look down and to the sides.
func (w *wood) layPart(i int) {
	p := &w.parts[i]
	if p.kind == partBlock {
		w.layBlock(i)
		return
	}
	a, b := &w.rims[i], &w.rims[i+1]
	m, q := neck.MinusY, neck.PlusY
	var lower [2]*brep.Edge // of the curves
	if p.kind == partTurn {
		for _, side := range sides {
			lower[side] = w.b.Edge(p.backs[side].Column(true), p.From, p.To)
		}
		end := func(edges []*brep.Edge) *brep.Edge { return edges[len(edges)-1] }
		w.b.Face("back, level, into the "+w.name(p), p.bottom(), true,
			[]*brep.Edge{lower[m], end(b.edges[m]), end(b.edges[q]), lower[q], end(a.edges[q]), end(a.edges[m])})
	} else {
		lower[m] = w.b.Edge(p.backs[m].Column(true), p.From, p.To)
		lower[q] = lower[m]
	}
	for _, side := range sides {
		var upper []*brep.Edge
		for _, e := range p.top[side] {
			upper = append(upper, e.Edge)
		}
		first, last := a.edges[side], b.edges[side]
		if p.wall {
			foot := w.foot(p, side)
			loop := append(append([]*brep.Edge{}, upper...), last[0], foot, first[0])
			if p.kind == partPlain {
				w.b.Face(w.sideName("wall", p, side), wallPlane(first[0].From.At, last[0].From.At, side), false, loop)
			} else {
				w.b.Face(w.sideName("wall", p, side), p.upright(side), side == m, loop)
			}
			upper, first, last = []*brep.Edge{foot}, first[1:], last[1:]
		}
		if p.kind == partTurn {
			first, last = first[:len(first)-1], last[:len(last)-1]
		}
		loop := append(append([]*brep.Edge{}, upper...), last...)
		loop = append(append(loop, lower[side]), backwards(first)...)
		w.b.Face(w.sideName("back", p, side), p.backs[side], side == m, loop)
	}
}

// foot returns the edge between a wall and the curve.
func (w *wood) foot(p *part, side neck.Side) *brep.Edge {
	c := p.backs[side].Column(false)
	if p.kind == partPlain {
		return w.b.Line(c.Point(p.From), c.Point(p.To))
	}
	return w.b.Edge(c, p.From, p.To)
}

// name names the end of the neck that a part belongs to.
func (w *wood) name(p *part) string {
	if p.Kind == neck.StretchIntoHead || p.Kind == neck.StretchHead {
		return "headstock"
	}
	return "heel"
}

// sideName names a face of a side.
func (w *wood) sideName(name string, p *part, side neck.Side) string {
	name += ", " + w.n.SideName(side) + " side"
	switch p.kind {
	case partLeave:
		return name + ", leaving for the " + w.name(p)
	case partTurn:
		return name + ", into the " + w.name(p)
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
	s := &w.parts[i]
	a, b := &w.rims[i], &w.rims[i+1]
	if w.step != nil && i == 0 {
		w.layStep(b)
		b = w.step
	}
	name := w.name(s)
	last := len(a.edges[0]) - 1 // half of the bottom, as one edge or two
	var bottom [2]*brep.Edge    // the lines along its edges
	for _, side := range sides {
		upper := s.top[side][0].Edge
		for k := range last {
			p, q := a.edges[side][k], b.edges[side][k]
			lower := w.b.Line(lowerEnd(p), lowerEnd(q))
			surface := brep.Surface(nil)
			along := lower.Curve.(brep.Line).Direction
			if c, ok := p.Curve.(brep.Circle); ok {
				surface = brep.Swept{Circle: c, Direction: along}
			} else {
				d := lowerEnd(p).Sub(upperEnd(p))
				surface = brep.NewPlane(lowerEnd(p), along.Cross(d).Scale(side.Sign()))
			}
			w.b.Face(name+", "+w.n.SideName(side)+" side", surface, false, []*brep.Edge{upper, q, lower, p})
			upper = lower
		}
		bottom[side] = upper
	}
	m, p := neck.MinusY, neck.PlusY
	along := bottom[m].Curve.(brep.Line).Direction
	loop := append([]*brep.Edge{bottom[m]}, b.edges[m][last:]...)
	loop = append(append(loop, backwards(b.edges[p][last:])...), bottom[p], a.edges[p][last], a.edges[m][last])
	w.b.Face(name+", back", brep.NewPlane(bottom[m].From.At, along.Cross(mesh.Vec{Y: 1}).Scale(-1)), false,
		append([][]*brep.Edge{loop}, w.loops[name+", back"]...)...)
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
	end := min(i, 1)
	if c := w.slot; c != nil && c.open[end] {
		loop = append(append(loop, w.b.Line(r.top[p], c.lip(end, p))), c.down(end)...)
		loop = append(loop, w.b.Line(c.lip(end, m), r.top[m]))
	} else {
		loop = append(loop, w.b.Line(r.top[p], r.top[m]))
	}
	w.b.Face(name, brep.NewPlane(r.top[m], normal), false, loop)
}
