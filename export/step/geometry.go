package step

import (
	"fmt"

	"neckloft/mesh/brep"
)

// solid adds a solid and returns it.
func (f *file) solid(s *brep.Solid) (ref, error) {
	w := &solidWriter{file: f, vertices: map[*brep.Vertex]ref{}, edges: map[*brep.Edge]refs{}, curves: map[brep.Curve]ref{}, surfaces: map[brep.Surface]ref{}, plan: newPlan(s)}
	var faces refs
	for _, face := range s.Faces {
		r, err := w.face(face)
		if err != nil {
			return 0, err
		}
		faces = append(faces, r)
	}
	shell := f.add("CLOSED_SHELL('',%v)", faces)
	return f.add("MANIFOLD_SOLID_BREP(%s,%v)", quoted(s.Name), shell), nil
}

// solidWriter adds what a solid is made of, each thing once.
type solidWriter struct {
	*file
	*plan
	vertices map[*brep.Vertex]ref
	edges    map[*brep.Edge]refs // the pieces of each
	curves   map[brep.Curve]ref
	surfaces map[brep.Surface]ref
}

// face adds a face.
func (w *solidWriter) face(f *brep.Face) (ref, error) {
	var bounds refs
	for i, l := range f.Loops {
		var uses refs
		for _, u := range l {
			pieces, err := w.edge(u.Edge)
			if err != nil {
				return 0, err
			}
			for k := range pieces {
				e := pieces[k]
				if u.Back {
					e = pieces[len(pieces)-1-k]
				}
				uses = append(uses, w.add("ORIENTED_EDGE('',*,*,%v,%s)", e, truth(!u.Back)))
			}
		}
		kind := "FACE_OUTER_BOUND"
		if i > 0 {
			kind = "FACE_BOUND"
		}
		bounds = append(bounds, w.add("%s('',%v,.T.)", kind, w.add("EDGE_LOOP('',%v)", uses)))
	}
	s, err := w.surface(f.Surface)
	if err != nil {
		return 0, err
	}
	return w.add("ADVANCED_FACE(%s,%v,%v,%s)", quoted(f.Name), bounds, s, truth(f.Turned == w.swapped[f.Surface])), nil
}

// truth writes a boolean.
func truth(b bool) string {
	if b {
		return ".T."
	}
	return ".F."
}

// edge adds an edge, in pieces where it has many spans.
func (w *solidWriter) edge(e *brep.Edge) (refs, error) {
	if r, ok := w.edges[e]; ok {
		return r, nil
	}
	var out refs
	cuts := w.pieces(e)
	from := w.vertex(e.From)
	for i := range len(cuts) - 1 {
		curve, to := e.Curve, ref(0)
		if s, ok := curve.(*brep.Spline); ok {
			curve = s.Between(cuts[i], cuts[i+1])
		}
		if i+2 < len(cuts) {
			to = w.add("VERTEX_POINT('',%v)", w.point(e.Curve.Point(cuts[i+1])))
		} else {
			to = w.vertex(e.To)
		}
		c, err := w.curve(curve)
		if err != nil {
			return nil, err
		}
		out = append(out, w.add("EDGE_CURVE('',%v,%v,%v,.T.)", from, to, c))
		from = to
	}
	w.edges[e] = out
	return out, nil
}

// vertex adds a vertex.
func (w *solidWriter) vertex(v *brep.Vertex) ref {
	r, ok := w.vertices[v]
	if !ok {
		r = w.add("VERTEX_POINT('',%v)", w.point(v.At))
		w.vertices[v] = r
	}
	return r
}

// curve adds a curve.
func (w *solidWriter) curve(c brep.Curve) (ref, error) {
	if r, ok := w.curves[c]; ok {
		return r, nil
	}
	var r ref
	switch c := c.(type) {
	case brep.Line:
		r = w.add("LINE('',%v,%v)", w.point(c.Origin), w.add("VECTOR('',%v,1.)", w.direction(c.Direction)))
	case brep.Circle:
		r = w.circle(c)
	case *brep.Spline:
		var points refs
		for _, p := range c.Points {
			points = append(points, w.point(p))
		}
		times, at := knots(c.Basis)
		r = w.add("B_SPLINE_CURVE_WITH_KNOTS('',3,%v,.UNSPECIFIED.,.F.,.F.,%s,%s,.UNSPECIFIED.)", points, times, at)
	default:
		return 0, fmt.Errorf("a curve of the kind %T has no entity in a STEP file", c)
	}
	w.curves[c] = r
	return r, nil
}

func (f *file) circle(c brep.Circle) ref {
	return f.add("CIRCLE('',%v,%s)", f.axes(c.Centre, c.Axis, c.Ref), real(c.Radius))
}

// knots writes how often the knots of a basis count and where they lie.
func knots(b *brep.Basis) (times, at string) {
	spans := b.Spans()
	counts := make([]int, len(spans))
	i := 0
	for _, k := range b.Knots {
		if k != spans[i] {
			i++
		}
		counts[i]++
	}
	return ints(counts), reals(spans)
}

// surface adds a surface.
func (w *solidWriter) surface(s brep.Surface) (ref, error) {
	if r, ok := w.surfaces[s]; ok {
		return r, nil
	}
	var r ref
	given := s
	switch s := s.(type) {
	case brep.Plane:
		r = w.add("PLANE('',%v)", w.axes(s.Origin, s.Normal, s.Ref))
	case brep.Swept:
		c := s.Circle
		if s.Round() {
			r = w.add("CYLINDRICAL_SURFACE('',%v,%s)", w.axes(c.Centre, c.Axis, c.Ref), real(c.Radius))
		} else {
			r = w.add("SURFACE_OF_LINEAR_EXTRUSION('',%v,%v)", w.circle(c), w.add("VECTOR('',%v,1.)", w.direction(s.Direction)))
		}
	case *brep.Patch:
		if w.swapped[given] {
			s = s.Swapped()
		}
		var rows []refs
		for _, row := range s.Points {
			var points refs
			for _, p := range row {
				points = append(points, w.point(p))
			}
			rows = append(rows, points)
		}
		ut, uk := knots(s.U)
		vt, vk := knots(s.V)
		text := make([]byte, 0, 8*len(rows)*len(rows[0]))
		for i, row := range rows {
			if i > 0 {
				text = append(text, ',')
			}
			text = append(text, row.String()...)
		}
		r = w.add("B_SPLINE_SURFACE_WITH_KNOTS('',3,3,(%s),.UNSPECIFIED.,.F.,.F.,.F.,%s,%s,%s,%s,.UNSPECIFIED.)", text, ut, vt, uk, vk)
	default:
		return 0, fmt.Errorf("a surface of the kind %T has no entity in a STEP file", s)
	}
	w.surfaces[given] = r
	return r, nil
}
