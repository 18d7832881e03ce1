package brep

import (
	"math"

	"neckloft/mesh"
)

// exactly is how close a line or a circle is to the crossing of two surfaces to
// stand for it, in mm.
const exactly = 1e-7

// straight returns the straight edge along the chain, if it is such.
func (t *tracer) straight(first, last node) *Edge {
	d := last.at.Sub(first.at)
	length := d.Norm()
	if t.from == t.to || length < Same {
		return nil
	}
	const places = 8
	for k := 1; k < places; k++ {
		n, err := t.node(first, last, float64(k)/places)
		if err != nil || offChord(n.at, first.at, last.at) > exactly {
			return nil
		}
	}
	return &Edge{t.from, t.to, Line{first.at, d.Scale(1 / length)}, 0, length}
}

// circle returns the edge along the chain where a plane cuts a swept circle as
// the circle itself lies; first is the chain's first node.
func (t *tracer) circle(first node) *Edge {
	for i := range 2 {
		plane, ok := t.feet[i].face.Surface.(Plane)
		if !ok {
			continue
		}
		axis, centre, radius, ok := round(t.feet[1-i].face.Surface, plane)
		if !ok {
			continue
		}
		centre = centre.Steady()
		out := first.at.Sub(centre)
		if axis.Cross(out).Dot(first.dir) < 0 {
			axis = axis.Scale(-1)
		}
		c := Circle{Centre: centre, Axis: axis, Ref: out.Scale(1 / out.Norm()), Radius: radius}
		if c.Point(0).Sub(first.at).Norm() > Same/2 {
			continue
		}
		if t.from == nil {
			v := &Vertex{c.Point(0)}
			return &Edge{v, v, c, 0, 2 * math.Pi}
		}
		end := t.to.At.Sub(centre)
		angle := math.Atan2(end.Dot(axis.Cross(c.Ref)), end.Dot(c.Ref))
		if angle <= 0 || t.from == t.to {
			angle += 2 * math.Pi
		}
		if c.Point(angle).Sub(t.to.At).Norm() > Same/2 {
			continue
		}
		return &Edge{t.from, t.to, c, 0, angle}
	}
	return nil
}

// round returns the circle in which a plane cuts a surface, where it is one that
// the surface is made of.
func round(s Surface, p Plane) (axis, centre mesh.Vec, radius float64, ok bool) {
	w, ok := s.(Swept)
	if !ok || w.Circle.Axis.Cross(p.Normal).Norm() > 1e-12 {
		return axis, centre, 0, false
	}
	k := p.Origin.Sub(w.Circle.Centre).Dot(p.Normal) / w.Direction.Dot(p.Normal)
	return w.Circle.Axis, w.Circle.Centre.Add(w.Direction.Scale(k)), w.Circle.Radius, true
}

// ring returns the edge along a closed chain, with a vertex of its own.
func (t *tracer) ring() (*Edge, error) {
	length := t.along[len(t.along)-1]
	first, err := t.crossing(t.points[0], t.direction(0), t.reach)
	if err != nil {
		return nil, err
	}
	first.at = first.at.Steady()
	if e := t.circle(first); e != nil {
		return e, nil
	}
	t.from = &Vertex{first.at}
	t.to = t.from
	const quarters = 4
	nodes := []node{first}
	for k := 1; k <= quarters; k++ {
		a, b := nodes[len(nodes)-1], first
		if k < quarters {
			if b, err = t.crossing(t.point(length*float64(k)/quarters), t.direction(length*float64(k)/quarters), t.reach); err != nil {
				return nil, err
			}
		}
		b.s = length * float64(k) / quarters
		if nodes, err = t.grow(nodes, a, b, 0); err != nil {
			return nil, err
		}
	}
	return t.spline(nodes), nil
}
