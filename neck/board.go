package neck

import (
	"math"
)

// BoardRadius returns the radius of the board's playing surface at x, or 0
// for a flat board, as the spec's surface says: see spec.BoardRadius.
func (n *Neck) BoardRadius(x float64) float64 { return n.spec.BoardRadius(x) }

// BoardHalfWidth returns half the board's width at x, its binding included.
func (n *Neck) BoardHalfWidth(x float64) float64 { return n.Taper(x) / 2 }

// BoardExtent returns the least and the greatest x of the board: 0 and BoardEnd,
// unless an end leans or bends, or the board goes on before the nut.
func (n *Neck) BoardExtent() (from, to float64) { return n.boardFrom, n.boardTo }

// BoardCrown returns z of the board's top on the centreline at x.
func (n *Neck) BoardCrown(x float64) float64 {
	return n.spec.Board.Thickness - n.spec.FallAwayAt(x)
}

// BoardTop returns z of the board's top at (x, y), scallops and slots left aside.
func (n *Neck) BoardTop(x, y float64) float64 {
	t := n.BoardCrown(x)
	r := n.BoardRadius(x)
	if r == 0 {
		return t
	}
	return t - y*y/(r+math.Sqrt(r*r-y*y))
}

// BoardArea returns the area of the board's section at x in mm², as if nothing
// were cut into it: the rectangle of its full thickness less the circular
// segments at the edges.
func (n *Neck) BoardArea(x float64) float64 {
	a := n.BoardHalfWidth(x)
	t := n.BoardCrown(x)
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
