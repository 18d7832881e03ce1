package brep

import "neckloft/mesh"

// MirroredY returns the solid mirrored in the plane y = 0.
func (s *Solid) MirroredY() *Solid {
	return s.carried(newCarrier(mirrored, mirrored, true))
}

// Moved returns the solid moved by a vector, in mm.
func (s *Solid) Moved(by mesh.Vec) *Solid {
	same := func(v mesh.Vec) mesh.Vec { return v }
	return s.carried(newCarrier(func(v mesh.Vec) mesh.Vec { return v.Add(by) }, same, false))
}

// carried returns the solid with everything carried to its new place.
func (s *Solid) carried(m *carrier) *Solid {
	out := &Solid{Name: s.Name}
	for _, f := range s.Faces {
		g := &Face{Name: f.Name, Turned: f.Turned}
		if _, plane := f.Surface.(Plane); !plane && m.flips {
			g.Turned = !f.Turned // the mirrored parameters turn the other way
		}
		g.Surface = m.surface(f.Surface)
		for _, l := range f.Loops {
			var loop Loop
			for _, u := range l {
				loop = append(loop, Use{m.edge(u.Edge), u.Back})
			}
			if m.flips {
				loop = loop.reversed()
			}
			g.Loops = append(g.Loops, loop)
		}
		out.Faces = append(out.Faces, g)
	}
	return out
}

// carrier carries each thing to its new place once: points by at, directions by turn.
// It flips where what turned left turns right then.
type carrier struct {
	at, turn func(mesh.Vec) mesh.Vec
	flips    bool

	vertices map[*Vertex]*Vertex
	edges    map[*Edge]*Edge
	surfaces map[Surface]Surface
}

func newCarrier(at, turn func(mesh.Vec) mesh.Vec, flips bool) *carrier {
	return &carrier{at, turn, flips, map[*Vertex]*Vertex{}, map[*Edge]*Edge{}, map[Surface]Surface{}}
}

func mirrored(v mesh.Vec) mesh.Vec {
	v.Y = -v.Y
	return v
}

func (m *carrier) vertex(v *Vertex) *Vertex {
	out := m.vertices[v]
	if out == nil {
		out = &Vertex{m.at(v.At)}
		m.vertices[v] = out
	}
	return out
}

func (m *carrier) edge(e *Edge) *Edge {
	out := m.edges[e]
	if out == nil {
		out = &Edge{m.vertex(e.From), m.vertex(e.To), m.curve(e.Curve), e.T0, e.T1}
		m.edges[e] = out
	}
	return out
}

func (m *carrier) curve(c Curve) Curve {
	switch c := c.(type) {
	case Line:
		return Line{m.at(c.Origin), m.turn(c.Direction)}
	case Circle:
		return m.circle(c)
	case *Spline:
		return &Spline{c.Basis, m.points(c.Points)}
	}
	return c
}

// circle keeps the parameter: the axis of a mirrored one points the other way for it.
func (m *carrier) circle(c Circle) Circle {
	axis := m.turn(c.Axis)
	if m.flips {
		axis = axis.Scale(-1)
	}
	return Circle{m.at(c.Centre), axis, m.turn(c.Ref), c.Radius}
}

func (m *carrier) points(points []mesh.Vec) []mesh.Vec {
	out := make([]mesh.Vec, len(points))
	for i, p := range points {
		out[i] = m.at(p)
	}
	return out
}

func (m *carrier) surface(s Surface) Surface {
	if out, ok := m.surfaces[s]; ok {
		return out
	}
	var out Surface
	switch s := s.(type) {
	case Plane:
		out = Plane{m.at(s.Origin), m.turn(s.Normal), m.turn(s.Ref)}
	case Swept:
		out = Swept{m.circle(s.Circle), m.turn(s.Direction)}
	case *Patch:
		p := &Patch{U: s.U, V: s.V}
		for _, row := range s.Points {
			p.Points = append(p.Points, m.points(row))
		}
		out = p
	}
	m.surfaces[s] = out
	return out
}
