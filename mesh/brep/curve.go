package brep

import (
	"math"

	"neckloft/mesh"
)

// Curve is a curve in space with a parameter.
type Curve interface {
	// Point returns the point at t.
	Point(t float64) mesh.Vec
}

// Line is the straight line through Origin along Direction, which has length 1;
// t is the distance from Origin.
type Line struct{ Origin, Direction mesh.Vec }

// Point returns the point at t.
func (l Line) Point(t float64) mesh.Vec { return l.Origin.Add(l.Direction.Scale(t)) }

// Circle is the circle about Centre, in the plane square to Axis; t is the angle
// from Ref, counter-clockwise about Axis. Axis and Ref have length 1 and are
// square to each other.
type Circle struct {
	Centre, Axis, Ref mesh.Vec
	Radius            float64
}

// Point returns the point at t.
func (c Circle) Point(t float64) mesh.Vec {
	sin, cos := math.Sincos(t)
	return c.Centre.Add(c.Ref.Scale(c.Radius * cos)).Add(c.Axis.Cross(c.Ref).Scale(c.Radius * sin))
}

// Spline is a cubic B-spline.
type Spline struct {
	Basis  *Basis
	Points []mesh.Vec
}

// Point returns the point at t.
func (s *Spline) Point(t float64) mesh.Vec {
	first, w := s.Basis.Weights(t)
	return combine(s.Points[first:first+4], w)
}

// combine returns the sum of four points by their weights.
func combine(p []mesh.Vec, w [4]float64) mesh.Vec {
	var out mesh.Vec
	for i, k := range w {
		out.X += float64(k * p[i].X)
		out.Y += float64(k * p[i].Y)
		out.Z += float64(k * p[i].Z)
	}
	return out
}
