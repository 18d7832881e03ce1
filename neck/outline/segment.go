package outline

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// Kind says what a Segment is.
type Kind int

const (
	Line  Kind = iota // straight from P[0] to P[3]
	Arc               // C + U cos θ + V sin θ from θ = From to θ = To
	Cubic             // Bézier curve with the control points P
)

// Segment is a piece of a path. An arc is that of an ellipse given by its
// centre and two conjugate half-diameters, which an affine map turns into the
// same again; those of a circle are square to each other and equally long.
type Segment struct {
	Kind     Kind
	P        [4]mesh.Vec2
	C, U, V  mesh.Vec2
	From, To float64
}

// NewLine returns the straight piece from a to b.
func NewLine(a, b mesh.Vec2) Segment {
	return Segment{Kind: Line, P: [4]mesh.Vec2{a, {}, {}, b}}
}

// NewCubic returns a Bézier curve.
func NewCubic(a, b, c, d mesh.Vec2) Segment {
	return Segment{Kind: Cubic, P: [4]mesh.Vec2{a, b, c, d}}
}

// NewQuadratic returns a quadratic Bézier curve, raised to a cubic, which is
// the same curve.
func NewQuadratic(a, b, c mesh.Vec2) Segment {
	third := func(p, q mesh.Vec2) mesh.Vec2 { return p.Scale(1. / 3).Add(q.Scale(2. / 3)) }
	return NewCubic(a, third(a, b), third(c, b), c)
}

// NewArc returns the arc of the circle of radius r about c from one angle to
// another, in radians from X towards Y.
func NewArc(c mesh.Vec2, r, from, to float64) Segment {
	return Segment{Kind: Arc, C: c, U: mesh.Vec2{X: r}, V: mesh.Vec2{Y: r}, From: from, To: to}
}

// At returns the point of the piece at t, from 0 at its start to 1 at its end.
func (s Segment) At(t float64) mesh.Vec2 {
	switch s.Kind {
	case Arc:
		sin, cos := math.Sincos(numeric.Lerp(s.From, s.To, t))
		return s.C.Add(s.U.Scale(cos)).Add(s.V.Scale(sin))
	case Cubic:
		r := 1 - t
		p := s.P[0].Scale(r * r * r).Add(s.P[1].Scale(3 * r * r * t))
		return p.Add(s.P[2].Scale(3 * r * t * t)).Add(s.P[3].Scale(t * t * t))
	}
	return s.P[0].Scale(1 - t).Add(s.P[3].Scale(t))
}

// Start and End return the ends of the piece.
func (s Segment) Start() mesh.Vec2 { return s.At(0) }
func (s Segment) End() mesh.Vec2   { return s.At(1) }

// slope returns the derivative of At.
func (s Segment) slope(t float64) mesh.Vec2 {
	switch s.Kind {
	case Arc:
		sin, cos := math.Sincos(numeric.Lerp(s.From, s.To, t))
		return s.V.Scale(cos).Sub(s.U.Scale(sin)).Scale(s.To - s.From)
	case Cubic:
		r := 1 - t
		d := s.P[1].Sub(s.P[0]).Scale(3 * r * r).Add(s.P[2].Sub(s.P[1]).Scale(6 * r * t))
		return d.Add(s.P[3].Sub(s.P[2]).Scale(3 * t * t))
	}
	return s.P[3].Sub(s.P[0])
}

// Reversed returns the piece run the other way round.
func (s Segment) Reversed() Segment {
	s.From, s.To = s.To, s.From
	s.P[0], s.P[1], s.P[2], s.P[3] = s.P[3], s.P[2], s.P[1], s.P[0]
	return s
}

// Map returns the piece under an affine map.
func (s Segment) Map(m Affine) Segment {
	for i := range s.P {
		s.P[i] = m.Apply(s.P[i])
	}
	s.C, s.U, s.V = m.Apply(s.C), m.turn(s.U), m.turn(s.V)
	return s
}

// Between returns the part of the piece from t = a to t = b.
func (s Segment) Between(a, b float64) Segment {
	switch s.Kind {
	case Arc:
		s.From, s.To = numeric.Lerp(s.From, s.To, a), numeric.Lerp(s.From, s.To, b)
		return s
	case Cubic:
		// Hermite's form: the ends and a third of the slopes there.
		k := (b - a) / 3
		p, q := s.At(a), s.At(b)
		return NewCubic(p, p.Add(s.slope(a).Scale(k)), q.Sub(s.slope(b).Scale(k)), q)
	}
	return NewLine(s.At(a), s.At(b))
}

// Steps returns into how many chords the piece is cut so that none is farther
// than e from it.
//
// The distance of a chord over a step h of the parameter is at most h²/8 of the
// greatest second derivative (Taylor).
func (s Segment) Steps(e float64) int {
	bend := 0.0
	switch s.Kind {
	case Arc:
		d := s.To - s.From
		bend = math.Max(s.U.Norm(), s.V.Norm()) * d * d
	case Cubic:
		for i := range 2 {
			bend = math.Max(bend, 6*s.P[i].Sub(s.P[i+1].Scale(2)).Add(s.P[i+2]).Norm())
		}
	}
	return max(1, int(math.Ceil(math.Sqrt(bend/(8*e)))))
}

// Sweep returns twice the area that the line from the origin to the piece's
// point sweeps, counter-clockwise positive: over a closed path these add up to
// twice its area (Green's theorem).
func (s Segment) Sweep() float64 {
	if s.Kind == Arc {
		radius := func(a float64) mesh.Vec2 {
			sin, cos := math.Sincos(a)
			return s.U.Scale(cos).Add(s.V.Scale(sin))
		}
		return s.C.Cross(radius(s.To).Sub(radius(s.From))) + s.U.Cross(s.V)*(s.To-s.From)
	}
	if s.Kind == Line {
		return s.P[0].Cross(s.P[3])
	}
	// A polynomial of degree 5, which the rule integrates exactly.
	return sweepRule.Integrate(func(t float64) float64 { return s.At(t).Cross(s.slope(t)) }, 0, 1)
}

var sweepRule = numeric.NewRule(4)

// Affine is the map of (X, Y) to (A X + C Y + E, B X + D Y + F), with the
// letters of SVG's matrix.
type Affine struct{ A, B, C, D, E, F float64 }

// Apply returns the image of a point.
func (m Affine) Apply(p mesh.Vec2) mesh.Vec2 {
	return m.turn(p).Add(mesh.Vec2{X: m.E, Y: m.F})
}

// turn returns the image of a direction.
func (m Affine) turn(p mesh.Vec2) mesh.Vec2 {
	return mesh.Vec2{X: m.A*p.X + m.C*p.Y, Y: m.B*p.X + m.D*p.Y}
}

// After returns the map that does o first and then m.
func (m Affine) After(o Affine) Affine {
	u, v, e := m.turn(mesh.Vec2{X: o.A, Y: o.B}), m.turn(mesh.Vec2{X: o.C, Y: o.D}), m.Apply(mesh.Vec2{X: o.E, Y: o.F})
	return Affine{u.X, u.Y, v.X, v.Y, e.X, e.Y}
}

// Scaled, Turned and Moved return maps: to k times the size, by an angle from X
// towards Y, and by a distance.
func Scaled(kx, ky float64) Affine { return Affine{A: kx, D: ky} }
func Moved(x, y float64) Affine    { return Affine{1, 0, 0, 1, x, y} }
func Turned(angle float64) Affine {
	sin, cos := math.Sincos(angle)
	return Affine{cos, sin, -sin, cos, 0, 0}
}
