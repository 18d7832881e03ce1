package outline

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

// Vertex is a point of an outline that is given by its corners.
type Vertex struct {
	mesh.Vec2
	// Radius is that of the arc that leads here from the point before: positive
	// where it bulges out of the wood, negative where it is hollow, 0 for a
	// straight line. It is the shorter of the circle's two arcs.
	Radius float64
	Round  float64 // radius that rounds the corner between two straight lines, 0 for sharp
}

// A PointError is what is wrong with a point, counted from 0.
type PointError struct {
	Point int
	Fault
}

func (e *PointError) Error() string { return fmt.Sprintf("point %d: %s", e.Point+1, e.Fault.Error()) }

func pointFault(point int, format string, lengths ...float64) error {
	return &PointError{point, Fault{format, lengths}}
}

// FromPoints returns the open path through points, from the first to the last,
// in either direction around the wood. Its errors are of type *PointError.
func FromPoints(points []Vertex) (Path, error) {
	if len(points) < 3 {
		return Path{}, pointFault(len(points)-1, "an outline has three points or more")
	}
	turn := 0.0 // twice the area: the wood lies left of the path if positive
	for i, p := range points {
		turn += p.Cross(points[(i+1)%len(points)].Vec2)
	}
	out := Path{}
	at := points[0].Vec2
	for i := 1; i < len(points); i++ {
		p := points[i]
		d := p.Sub(points[i-1].Vec2)
		l := d.Norm()
		if l < 1e-6 {
			return Path{}, pointFault(i, "it lies on the point before")
		}
		if p.Radius != 0 {
			r := math.Abs(p.Radius)
			if r < l/2*(1-1e-9) {
				return Path{}, pointFault(i, "an arc of radius %s cannot span the %s from the point before; allowed: %s or more", r, l, l/2)
			}
			out.Segments = append(out.Segments, bulge(points[i-1].Vec2, p.Vec2, r, p.Radius*turn > 0))
			at = p.Vec2
			continue
		}
		end := p.Vec2
		var corner *Segment
		if p.Round > 0 {
			if i+1 == len(points) || points[i+1].Radius != 0 {
				return Path{}, pointFault(i, "only a corner between two straight lines can be rounded")
			}
			next := points[i+1].Sub(p.Vec2)
			a := math.Atan2(d.Cross(next), d.Dot(next)) // how far the path turns
			cut := p.Round * math.Tan(math.Abs(a)/2)
			room := end.Sub(at).Norm()
			if cut > room+1e-9 || cut > next.Norm()+1e-9 {
				return Path{}, pointFault(i, "a corner rounded by %s takes %s of both lines, and one is shorter", p.Round, cut)
			}
			end = end.Sub(d.Scale(cut / l))
			left := math.Copysign(p.Round, a)
			c := end.Add(mesh.Vec2{X: -d.Y, Y: d.X}.Scale(left / l))
			start := math.Atan2(end.Y-c.Y, end.X-c.X)
			s := NewArc(c, p.Round, start, start+a)
			corner = &s
		}
		if end.Sub(at).Norm() > 1e-9 {
			out.Segments = append(out.Segments, NewLine(at, end))
		}
		at = end
		if corner != nil {
			out.Segments = append(out.Segments, *corner)
			at = corner.End()
		}
	}
	return out, nil
}

// bulge returns the shorter arc of radius r from a to b. With out it lies to the
// right of the way there.
func bulge(a, b mesh.Vec2, r float64, right bool) Segment {
	d := b.Sub(a)
	l := d.Norm()
	left := mesh.Vec2{X: -d.Y, Y: d.X}.Scale(1 / l)
	h := math.Sqrt(math.Max(0, r*r-l*l/4))
	half := math.Asin(math.Min(1, l/2/r))
	middle := a.Add(b).Scale(0.5)
	if right {
		// The centre lies on the left, and the arc turns left about it.
		c := middle.Add(left.Scale(h))
		from := math.Atan2(a.Y-c.Y, a.X-c.X)
		return NewArc(c, r, from, from+2*half)
	}
	c := middle.Sub(left.Scale(h))
	from := math.Atan2(a.Y-c.Y, a.X-c.X)
	return NewArc(c, r, from, from-2*half)
}
