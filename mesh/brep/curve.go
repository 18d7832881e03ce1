package brep

import (
	"math"

	"neckloft/mesh"
)

// Curve is a curve in space with a parameter.
type Curve interface {
	// Point returns the point at t.
	Point(t float64) mesh.Vec

	// Slope returns the derivative at t.
	Slope(t float64) mesh.Vec
}

// Line is the straight line through Origin along Direction, which has length 1;
// t is the distance from Origin.
type Line struct{ Origin, Direction mesh.Vec }

// Point returns the point at t.
func (l Line) Point(t float64) mesh.Vec { return l.Origin.Add(l.Direction.Scale(t)) }

// Slope returns the direction.
func (l Line) Slope(float64) mesh.Vec { return l.Direction }

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

// Slope returns the derivative at t.
func (c Circle) Slope(t float64) mesh.Vec {
	sin, cos := math.Sincos(t)
	return c.Ref.Scale(-c.Radius * sin).Add(c.Axis.Cross(c.Ref).Scale(c.Radius * cos))
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

// Slope returns the derivative at t.
func (s *Spline) Slope(t float64) mesh.Vec {
	first, _, d := s.Basis.Slopes(t)
	return combine(s.Points[first:first+4], d)
}

// leastSpan is the least part of a spline that is a span of its own.
const leastSpan = 1e-9

// Between returns the part of the spline from t0 to t1 as a spline of its own.
func (s *Spline) Between(t0, t1 float64) *Spline {
	if a, b := s.Basis.Ends(); t0 == a && t1 == b {
		return s
	}
	knots := []float64{t0, t0, t0, t0}
	apart := float64(leastSpan * (t1 - t0)) // what an end cuts off a span may be too short to go on from
	for _, k := range s.Basis.Knots {
		if k > t0+apart && k < t1-apart {
			knots = append(knots, k)
		}
	}
	out := &Spline{Basis: &Basis{append(knots, t1, t1, t1, t1)}}
	for i := range out.Basis.Size() {
		k := out.Basis.Knots[i+1 : i+4]
		// Any span that the point counts over has it: the longest most exactly.
		j := i
		for l := i + 1; l <= i+degree; l++ {
			if out.Basis.Knots[l+1]-out.Basis.Knots[l] > out.Basis.Knots[j+1]-out.Basis.Knots[j] {
				j = l
			}
		}
		at := (out.Basis.Knots[j] + out.Basis.Knots[j+1]) / 2
		out.Points = append(out.Points, s.blossom(s.Basis.span(at), k[0], k[1], k[2]))
	}
	return out
}

// blossom returns the value of the polar form of a span at three places: of a
// spline over other knots, the points are those at three knots in a row (L.
// Ramshaw, Blossoms are polar forms; from memory).
func (s *Spline) blossom(span int, at ...float64) mesh.Vec {
	var p [4]mesh.Vec
	copy(p[:], s.Points[span-degree:span+1])
	for r, t := range at {
		for j := degree; j > r; j-- {
			i := span - degree + j
			lo, hi := s.Basis.Knots[i], s.Basis.Knots[i+degree-r]
			k := (t - lo) / (hi - lo)
			p[j] = p[j-1].Scale(1 - k).Add(p[j].Scale(k))
		}
	}
	return p[degree]
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
