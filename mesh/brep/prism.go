package brep

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/outline"
)

// Frame is a place in space with three directions of length 1, square to each
// other: right-handed or left-handed.
type Frame struct{ Origin, X, Y, Z mesh.Vec }

// World is the frame of space itself.
var World = Frame{X: mesh.Vec{X: 1}, Y: mesh.Vec{Y: 1}, Z: mesh.Vec{Z: 1}}

// At returns the point at x, y and z of the frame.
func (f Frame) At(x, y, z float64) mesh.Vec {
	return f.Origin.Add(f.turn(mesh.Vec2{X: x, Y: y})).Add(f.Z.Scale(z))
}

// turn returns a direction of the frame's plane in space.
func (f Frame) turn(d mesh.Vec2) mesh.Vec { return f.X.Scale(d.X).Add(f.Y.Scale(d.Y)) }

// Ruled returns the patch of straight lines between two splines of one basis,
// each by its points.
func Ruled(along *Basis, first, last []mesh.Vec) *Patch {
	v, _ := NewBasis(0, 1, nil)
	out := &Patch{U: along, V: v}
	for i, a := range first {
		b := last[i]
		var row []mesh.Vec
		for _, k := range v.Linear() {
			row = append(row, mesh.Vec{X: numeric.Lerp(a.X, b.X, k), Y: numeric.Lerp(a.Y, b.Y, k), Z: numeric.Lerp(a.Z, b.Z, k)})
		}
		out.Points = append(out.Points, row)
	}
	return out
}

// Prism returns the solid over a closed outline in the frame's plane, of lines,
// arcs of circles and Bézier curves end to end, between two heights. Lines become
// planes and arcs cylinders. Pieces shorter than Same are left out.
func Prism(name string, f Frame, path []outline.Segment, lo, hi float64) (*Solid, error) {
	p := prism{f: f, lo: lo, hi: hi}
	area := 0.0
	for _, s := range path {
		area += s.Sweep()
	}
	p.right = f.X.Cross(f.Y).Dot(f.Z) > 0
	// The outline runs counter-clockwise as seen from the frame's z.
	if area < 0 {
		back := make([]outline.Segment, 0, len(path))
		for i := range path {
			back = append(back, path[len(path)-1-i].Reversed())
		}
		path = back
	}
	for _, s := range path {
		if s.End().Sub(s.Start()).Norm() < 2*Same && s.At(0.5).Sub(s.Start()).Norm() < 2*Same {
			continue
		}
		p.segment(s)
	}
	if len(p.low) < 2 {
		return nil, fmt.Errorf("%s: an outline without area", name)
	}
	p.b.Face(name+", end", NewPlane(f.At(0, 0, lo), f.Z.Scale(-1)), false, p.low)
	p.b.Face(name+", end", NewPlane(f.At(0, 0, hi), f.Z), false, p.high)
	for i, s := range p.sides {
		q, r := p.low[i], p.high[i]
		p.b.Face(name, s.surface, s.turned, []*Edge{q, p.b.Line(q.To.At, r.To.At), r, p.b.Line(q.From.At, r.From.At)})
	}
	return p.b.Solid(name)
}

// prism builds a Prism.
type prism struct {
	b         Builder
	f         Frame
	lo, hi    float64
	right     bool // the frame is right-handed
	low, high []*Edge
	sides     []prismSide
}

type prismSide struct {
	surface Surface
	turned  bool
}

// segment adds the edges and the surface over a piece of the outline.
func (p *prism) segment(s outline.Segment) {
	at := func(q mesh.Vec2, z float64) mesh.Vec { return p.f.At(q.X, q.Y, z) }
	switch s.Kind {
	case outline.Line:
		d := s.End().Sub(s.Start())
		p.low = append(p.low, p.b.Line(at(s.Start(), p.lo), at(s.End(), p.lo)))
		p.high = append(p.high, p.b.Line(at(s.Start(), p.hi), at(s.End(), p.hi)))
		p.sides = append(p.sides, prismSide{NewPlane(at(s.Start(), p.lo), p.f.turn(mesh.Vec2{X: d.Y, Y: -d.X})), false})
	case outline.Arc:
		if u, v := s.U.Norm(), s.V.Norm(); math.Abs(u-v) > 1e-9*u || math.Abs(s.U.Dot(s.V)) > 1e-9*u*v {
			p.ellipse(s)
			return
		}
		p.arc(s)
	default:
		basis, _ := NewBasis(0, 1, nil)
		p.curve(basis, s.P[:], s)
	}
}

// arc adds an arc of a circle, in pieces of at most a third of a turn.
func (p *prism) arc(s outline.Segment) {
	k := int(math.Ceil(math.Abs(s.To-s.From) / (2*math.Pi/3 + 1e-9)))
	for i := range k {
		part := s.Between(float64(i)/float64(k), float64(i+1)/float64(k))
		half := math.Abs(part.To-part.From) / 2
		mid := part.At(0.5).Sub(s.C)
		left := (part.To > part.From) == (s.U.Cross(s.V) > 0) // counter-clockwise
		axis := p.f.Z
		if left != p.right {
			axis = axis.Scale(-1)
		}
		circle := func(z float64) Circle {
			return Circle{Centre: p.f.At(s.C.X, s.C.Y, z), Axis: axis, Ref: p.f.turn(mid.Scale(1 / mid.Norm())), Radius: mid.Norm()}
		}
		p.low = append(p.low, p.b.Edge(circle(p.lo), -half, half))
		p.high = append(p.high, p.b.Edge(circle(p.hi), -half, half))
		side := Swept{Circle: circle(p.lo), Direction: p.f.Z}
		// Outward is away from the centre where the outline turns left.
		outward := side.Circle.Ref
		if !left {
			outward = outward.Scale(-1)
		}
		p.sides = append(p.sides, prismSide{side, Normal(side, 0, 0).Dot(outward) < 0})
	}
}

// ellipse adds an arc of an ellipse as a spline within Same of it.
func (p *prism) ellipse(s outline.Segment) {
	l := Law{From: 0, To: 1, Longest: 0.25, Shortest: 1e-3, At: func(t float64) []float64 { q := s.At(t); return []float64{q.X, q.Y} }}
	fitted, err := l.Fit(Same)
	if err != nil {
		p.b.fail(err)
		return
	}
	var points []mesh.Vec2
	for i := range fitted.Points[0] {
		points = append(points, mesh.Vec2{X: fitted.Points[0][i], Y: fitted.Points[1][i]})
	}
	p.curve(fitted.Basis, points, s)
}

// curve adds a spline.
func (p *prism) curve(basis *Basis, points []mesh.Vec2, s outline.Segment) {
	var low, high []mesh.Vec
	for _, q := range points {
		low, high = append(low, p.f.At(q.X, q.Y, p.lo)), append(high, p.f.At(q.X, q.Y, p.hi))
	}
	side := Ruled(basis, low, high)
	from, to := basis.Ends()
	p.low = append(p.low, p.b.Edge(side.Column(false), from, to))
	p.high = append(p.high, p.b.Edge(side.Column(true), from, to))
	d := s.At(0.5 + 1e-4).Sub(s.At(0.5 - 1e-4))
	outward := p.f.turn(mesh.Vec2{X: d.Y, Y: -d.X})
	p.sides = append(p.sides, prismSide{side, Normal(side, (from+to)/2, 0.5).Dot(outward) < 0})
}
