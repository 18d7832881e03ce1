package brep

import (
	"math"
	"slices"

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

// Between returns the part of the spline from t0 to t1 as a spline of its own.
func (s *Spline) Between(t0, t1 float64) *Spline {
	if a, b := s.Basis.Ends(); t0 == a && t1 == b {
		return s
	}
	return s.over(t0, t1, 1)
}

// over is Between, with spans cut in two, the longest first, until there are so many:
// the same curve.
func (s *Spline) over(t0, t1 float64, least int) *Spline {
	knots := []float64{t0, t0, t0, t0}
	for _, k := range s.Basis.Knots {
		if k > t0 && k < t1 {
			knots = append(knots, k)
		}
	}
	out := &Spline{Basis: &Basis{append(knots, t1, t1, t1, t1)}}
	for spans := out.Basis.Spans(); len(spans) <= least; spans = out.Basis.Spans() {
		longest := 0
		for i := range len(spans) - 1 {
			if spans[i+1]-spans[i] > spans[longest+1]-spans[longest]+1e-9 {
				longest = i
			}
		}
		out.Basis.Knots = append(out.Basis.Knots, (spans[longest]+spans[longest+1])/2)
		slices.Sort(out.Basis.Knots)
	}
	for i := range out.Basis.Size() {
		k := out.Basis.Knots[i+1 : i+4]
		// Any span that the point counts over has it.
		j := i
		for out.Basis.Knots[j+1] == out.Basis.Knots[j] {
			j++
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
