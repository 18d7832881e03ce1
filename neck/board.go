package neck

import (
	"math"
	"neckloft/neck/numeric"
)

// BoardRadius returns the radius of the board's playing surface at x, or 0
// for a flat board. It runs straight from nut to end: a conical surface where
// the two differ.
func (n *Neck) BoardRadius(x float64) float64 {
	b := n.spec.Board
	return numeric.Lerp(b.RadiusNut, b.RadiusEnd, x/n.boardEnd)
}

// BoardHalfWidth returns half the board's width at x.
func (n *Neck) BoardHalfWidth(x float64) float64 { return n.Taper(x) / 2 }

// BoardTop returns z of the board's top at (x, y).
func (n *Neck) BoardTop(x, y float64) float64 {
	t := n.spec.Board.Thickness
	r := n.BoardRadius(x)
	if r == 0 {
		return t
	}
	return t - y*y/(r+math.Sqrt(r*r-y*y))
}

// BoardArea returns the area of the board's section at x in mm²: the
// rectangle of its full thickness less the circular segments at the edges.
func (n *Neck) BoardArea(x float64) float64 {
	a := n.BoardHalfWidth(x)
	t := n.spec.Board.Thickness
	r := n.BoardRadius(x)
	if r == 0 {
		return 2 * a * t
	}
	half := math.Asin(a / r)
	// Area of the segment between the arc and its chord, and the sagitta.
	segment := r * r * (half - math.Sin(half)*math.Cos(half))
	sagitta := a * a / (r + math.Sqrt(r*r-a*a))
	return 2*a*(t-sagitta) + segment
}
