package brep

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

// Same is how close points are to be one vertex, in mm.
const Same = 1e-6

// Vertex is a corner of a solid.
type Vertex struct{ At mesh.Vec }

// Edge is a piece of a curve from one vertex to another, or a whole closed
// curve where both are one.
type Edge struct {
	From, To *Vertex
	Curve    Curve
	T0, T1   float64 // the parameters of both, T0 < T1
}

// Point returns the point of the edge at a fraction of its parameter.
func (e *Edge) Point(f float64) mesh.Vec { return e.Curve.Point(e.T0 + f*(e.T1-e.T0)) }

// Use is an edge as a loop runs along it.
type Use struct {
	Edge *Edge
	Back bool // from To to From
}

// Ends returns the vertices that the loop passes, in its order.
func (u Use) Ends() (from, to *Vertex) {
	if u.Back {
		return u.Edge.To, u.Edge.From
	}
	return u.Edge.From, u.Edge.To
}

// Point returns the point at a fraction of the way along the loop's direction.
func (u Use) Point(f float64) mesh.Vec {
	if u.Back {
		f = 1 - f
	}
	return u.Edge.Point(f)
}

// Loop is a closed chain of edges.
type Loop []Use

// Face is a part of a surface. Its loops run counter-clockwise about its outward
// normal, that of holes clockwise; the first is the outer one.
type Face struct {
	Name    string
	Surface Surface
	Turned  bool // the outward normal is against the surface's
	Loops   []Loop
}

// Outward returns the outward normal at parameters of the surface.
func (f *Face) Outward(u, v float64) mesh.Vec {
	n := Normal(f.Surface, u, v)
	if f.Turned {
		return n.Scale(-1)
	}
	return n
}

// Solid is a closed shell of faces.
type Solid struct {
	Name  string
	Faces []*Face
}

// Builder makes a solid, face by face. Points within Same of each other become
// one vertex, and straight edges between the same vertices one edge. The first
// error stays until Solid returns it.
type Builder struct {
	solid    Solid
	vertices []*Vertex
	lines    map[[2]*Vertex]*Edge
	err      error
}

// Vertex returns the vertex at a point.
func (b *Builder) Vertex(p mesh.Vec) *Vertex {
	for _, v := range b.vertices {
		if d := v.At.Sub(p); math.Abs(d.X) < Same && math.Abs(d.Y) < Same && math.Abs(d.Z) < Same {
			return v
		}
	}
	v := &Vertex{p}
	b.vertices = append(b.vertices, v)
	return v
}

// Line returns the straight edge between two points.
func (b *Builder) Line(p, q mesh.Vec) *Edge {
	from, to := b.Vertex(p), b.Vertex(q)
	if e := b.lines[[2]*Vertex{from, to}]; e != nil {
		return e
	}
	if e := b.lines[[2]*Vertex{to, from}]; e != nil {
		return e
	}
	d := to.At.Sub(from.At)
	length := d.Norm()
	if length < Same {
		b.fail(fmt.Errorf("an edge at (%.4f, %.4f, %.4f) has no length", p.X, p.Y, p.Z))
		length = 1
	}
	e := &Edge{from, to, Line{from.At, d.Scale(1 / length)}, 0, length}
	if b.lines == nil {
		b.lines = map[[2]*Vertex]*Edge{}
	}
	b.lines[[2]*Vertex{from, to}] = e
	return e
}

// Edge returns a new edge along a curve between two parameters, t0 < t1.
func (b *Builder) Edge(c Curve, t0, t1 float64) *Edge {
	if s, ok := c.(*Spline); ok {
		c = s.Between(t0, t1) // its points bound the edge
	}
	return &Edge{b.Vertex(c.Point(t0)), b.Vertex(c.Point(t1)), c, t0, t1}
}

// Face adds a face. The edges of each loop come in their order, the outer loop
// first; which way they run is found here.
func (b *Builder) Face(name string, s Surface, turned bool, loops ...[]*Edge) {
	f := &Face{Name: name, Surface: s, Turned: turned}
	for i, edges := range loops {
		l, err := chain(edges)
		if err != nil {
			b.fail(fmt.Errorf("face %q: %w", name, err))
			return
		}
		if area := loopArea(s, l); (area > 0) != (turned != (i == 0)) {
			l = l.reversed()
		}
		f.Loops = append(f.Loops, l)
	}
	b.solid.Faces = append(b.solid.Faces, f)
}

func (b *Builder) fail(err error) {
	if b.err == nil {
		b.err = err
	}
}

// Solid returns what was built, after Check.
func (b *Builder) Solid(name string) (*Solid, error) {
	if b.err != nil {
		return nil, b.err
	}
	out := b.solid
	out.Name = name
	return &out, out.Check()
}

// chain turns edges in their order into a loop.
func chain(edges []*Edge) (Loop, error) {
	if len(edges) == 0 {
		return nil, fmt.Errorf("a loop has no edges")
	}
	l := make(Loop, len(edges))
	at := edges[0].From
	if next := edges[1%len(edges)]; len(edges) > 1 && edges[0].To != next.From && edges[0].To != next.To {
		at = edges[0].To
	}
	for i, e := range edges {
		switch at {
		case e.From:
			l[i], at = Use{e, false}, e.To
		case e.To:
			l[i], at = Use{e, true}, e.From
		default:
			return nil, fmt.Errorf("edge %d of a loop begins at (%.4f, %.4f, %.4f), off the end of the one before it at (%.4f, %.4f, %.4f)",
				i+1, e.From.At.X, e.From.At.Y, e.From.At.Z, at.At.X, at.At.Y, at.At.Z)
		}
	}
	if from, _ := l[0].Ends(); at != from {
		return nil, fmt.Errorf("a loop of %d edges is open at (%.4f, %.4f, %.4f)", len(edges), at.At.X, at.At.Y, at.At.Z)
	}
	return l, nil
}

// reversed returns the loop the other way round.
func (l Loop) reversed() Loop {
	out := make(Loop, len(l))
	for i, u := range l {
		out[len(l)-1-i] = Use{u.Edge, !u.Back}
	}
	return out
}

// loopSteps is how many chords of an edge stand for it where a loop's direction
// is sought.
const loopSteps = 8

// loopArea returns about the area that a loop encloses in the parameters of a
// surface: positive where it runs counter-clockwise.
func loopArea(s Surface, l Loop) float64 {
	u, v := s.Middle()
	sum := 0.0
	var first, last [2]float64
	for i, use := range l {
		for k := range loopSteps {
			u, v = s.Place(use.Point(float64(k)/loopSteps), u, v)
			if i == 0 && k == 0 {
				first = [2]float64{u, v}
			} else {
				sum += last[0]*v - u*last[1]
			}
			last = [2]float64{u, v}
		}
	}
	return (sum + last[0]*first[1] - first[0]*last[1]) / 2
}
