package brep

import "neckloft/mesh"

// MirroredY returns the solid mirrored in the plane y = 0.
func (s *Solid) MirroredY() *Solid {
	m := &mirror{vertices: map[*Vertex]*Vertex{}, edges: map[*Edge]*Edge{}, surfaces: map[Surface]Surface{}}
	out := &Solid{Name: s.Name}
	for _, f := range s.Faces {
		g := &Face{Name: f.Name, Turned: f.Turned}
		var plane bool
		if _, plane = f.Surface.(Plane); !plane {
			g.Turned = !f.Turned // the mirrored parameters turn the other way
		}
		g.Surface = m.surface(f.Surface)
		for _, l := range f.Loops {
			var loop Loop
			for _, u := range l {
				loop = append(loop, Use{m.edge(u.Edge), u.Back})
			}
			g.Loops = append(g.Loops, loop.reversed())
		}
		out.Faces = append(out.Faces, g)
	}
	return out
}

// mirror mirrors each thing once.
type mirror struct {
	vertices map[*Vertex]*Vertex
	edges    map[*Edge]*Edge
	surfaces map[Surface]Surface
}

func mirrored(v mesh.Vec) mesh.Vec {
	v.Y = -v.Y
	return v
}

func (m *mirror) vertex(v *Vertex) *Vertex {
	out := m.vertices[v]
	if out == nil {
		out = &Vertex{mirrored(v.At)}
		m.vertices[v] = out
	}
	return out
}

func (m *mirror) edge(e *Edge) *Edge {
	out := m.edges[e]
	if out == nil {
		out = &Edge{m.vertex(e.From), m.vertex(e.To), m.curve(e.Curve), e.T0, e.T1}
		m.edges[e] = out
	}
	return out
}

func (m *mirror) curve(c Curve) Curve {
	switch c := c.(type) {
	case Line:
		return Line{mirrored(c.Origin), mirrored(c.Direction)}
	case Circle:
		return mirroredCircle(c)
	case *Spline:
		return &Spline{c.Basis, mirroredAll(c.Points)}
	}
	return c
}

// mirroredCircle keeps the parameter: the axis points the other way for it.
func mirroredCircle(c Circle) Circle {
	return Circle{mirrored(c.Centre), mirrored(c.Axis).Scale(-1), mirrored(c.Ref), c.Radius}
}

func mirroredAll(points []mesh.Vec) []mesh.Vec {
	out := make([]mesh.Vec, len(points))
	for i, p := range points {
		out[i] = mirrored(p)
	}
	return out
}

func (m *mirror) surface(s Surface) Surface {
	if out, ok := m.surfaces[s]; ok {
		return out
	}
	var out Surface
	switch s := s.(type) {
	case Plane:
		out = Plane{mirrored(s.Origin), mirrored(s.Normal), mirrored(s.Ref)}
	case Swept:
		out = Swept{mirroredCircle(s.Circle), mirrored(s.Direction)}
	case *Patch:
		p := &Patch{U: s.U, V: s.V}
		for _, row := range s.Points {
			p.Points = append(p.Points, mirroredAll(row))
		}
		out = p
	}
	m.surfaces[s] = out
	return out
}
