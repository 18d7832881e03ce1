package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// BoardOn is a neck with its board glued on, which lies on the board's crown:
// on the bench itself, or on what is under it. All heights count from the
// bench, or with Under 0 from the board's face. Lengths are in mm.
//
// The board is as thick on the centreline at its end as at the nut, whatever
// its radii, so that the line of its crown is parallel to the glue plane. Its
// edges stand off the bench by as much as the face is rounded there.
type BoardOn struct {
	Neck  *neck.Neck
	Under float64 // height of what lies between the crown and the bench, such as frets or a strip; 0 = nothing
	Screw float64 // how far the screw that holds the bearing stands past it
}

// Plane returns the plane that heights count from, as the others are given: by
// its depth below the glue plane, and so below 0.
func (o BoardOn) Plane() Plane { return Plane{Nut: -o.crown()} }

// crown returns how high the glue plane lies over the bench.
func (o BoardOn) crown() float64 { return o.Neck.Spec().Board.Thickness + o.Under }

// BoardEdge is the board at one station.
type BoardEdge struct {
	X     float64
	Width float64 // of the board, which the neck has too, and on whose edges the bearing runs
	Edge  float64 // height of its edge, from the glue plane to the face
	Gap   float64 // between the face at the edge and the plane of the crown: what holds the neck level there
}

// Edge returns the board at x, which is held to its length.
func (o BoardOn) Edge(x float64) BoardEdge {
	n := o.Neck
	x = math.Max(0, math.Min(n.BoardEnd(), x))
	half := n.BoardHalfWidth(x)
	edge := n.BoardTop(x, half)
	return BoardEdge{X: x, Width: 2 * half, Edge: edge, Gap: n.Spec().Board.Thickness - edge}
}

// Thickness returns the thickness that the workpiece has at x when its back is
// flat, board included: what a caliper reads there, and the height of the flat
// over the board's face.
func (o BoardOn) Thickness(flat Taper, x float64) float64 {
	return flat.Depth(x) + o.Neck.Spec().Board.Thickness
}

// BoardHeight is a height of a bit as it counts from the board's face or from
// the bench, and where the bearing then runs. The bearing hangs from the arc's
// end towards the bench.
type BoardHeight struct {
	X       float64
	ArcEnd  float64 // over the bench
	Crown   float64 // of the arc
	Foot    float64 // of the bearing, its end at the bench's side
	Tip     float64 // of the screw that holds it; below 0 it would reach into the bench
	OnSide  float64 // how much of the bearing runs on the neck's side
	OnBoard float64 // and on the board's edge
	Nothing float64 // and on nothing
}

// Raise returns how much higher the neck has to lie for the screw to clear the
// bench, 0 if it does.
func (h BoardHeight) Raise() float64 { return math.Max(0, -h.Tip) }

// FromGlue returns what a height over the glue plane, towards the back, is over
// the bench at x, for a bit whose axis stands square to the bench.
func (o BoardOn) FromGlue(x, height float64, b Bit) BoardHeight {
	h := BoardHeight{X: x, ArcEnd: height + o.crown()}
	h.Crown, h.Foot = h.ArcEnd+b.Radius, h.ArcEnd-b.BearingHeight
	h.Tip = h.Foot - o.Screw
	// Over the glue plane the bearing covers the heights from foot to height.
	foot, edge := height-b.BearingHeight, o.Edge(x).Edge
	h.OnSide = math.Max(0, height-math.Max(0, foot))
	h.OnBoard = math.Max(0, math.Min(0, height)-math.Max(-edge, foot))
	h.Nothing = b.BearingHeight - h.OnSide - h.OnBoard
	return h
}

// FromBack is FromGlue for a height that counts from the flat back towards the
// glue plane, square to the back: what a router that stands on the back, or a
// table that the back lies on, is set to.
func (o BoardOn) FromBack(flat Taper, x, height float64, b Bit) BoardHeight {
	return o.FromGlue(x, BackPlane(flat).depth(x, height), b)
}

// DeepestOnBoard returns the least height of the arc's end over the bench at
// which the bit keeps the allowance, the router on rails parallel to the bench,
// rounded to the side of the shallower cut, and what decides it, whose Height is
// that height before rounding.
func (o BoardOn) DeepestOnBoard(w Tapered, b Bit, allowance float64, u spec.Unit) (height float64, d Deepest) {
	// Seen from a plane over all of the wood the cut gets deeper as the arc's end
	// goes away from it. Which plane that is does not matter.
	d = DeepestHeight(w, Plane{}, b, allowance)
	d.Height = o.crown() - d.Height
	return roundUp(u, d.Height), d
}

// BenchFoul is a bearing whose foot or screw would reach into the bench.
type BenchFoul struct {
	X     float64
	Raise float64 // how much higher the neck has to lie
}

func (r BenchFoul) words(f phrase) string {
	return fmt.Sprintf("at %s the bearing and its screw reach %s into the bench: raise the neck by that much on a strip narrower than it, or let the side that is cut overhang",
		f.at(r.X), f.least(r.Raise))
}

// OnBench follows the bearing along the stretch with the arc's end at the given
// height over the bench, and says what is wrong with it: a bearing that loses
// its guide, or reaches into the bench. The guide is the board's edge and the
// neck's side.
func (o BoardOn) OnBench(w Tapered, b Bit, height float64) (along []BoardHeight, wrong []Reason) {
	xs := w.way(math.Inf(-1), math.Inf(1))
	worst := BenchFoul{}
	need := leastHold(b)
	lost := LostOnBoard{From: math.Inf(-1)}
	for _, x := range xs {
		h := o.FromGlue(x, height-o.crown(), b)
		along = append(along, h)
		if v := h.Raise(); v > worst.Raise+1e-9 {
			worst = BenchFoul{X: x, Raise: v}
		}
		// Up from the bench: the bearing holds from where it has the board's
		// lower corner, which is higher than the crown by the gap.
		lost.From = math.Max(lost.From, o.crown()-o.Edge(x).Edge+need)
		if has := h.OnSide + h.OnBoard; has < need-1e-9 && need-has > lost.Missing {
			lost.X, lost.Has, lost.Missing = x, has, need-has
		}
	}
	if lost.Missing > 0 {
		wrong = append(wrong, lost)
	}
	if worst.Raise > 0 {
		wrong = append(wrong, worst)
	}
	return along, wrong
}

// LostOnBoard says that a bearing has too little of the board's edge to run on.
type LostOnBoard struct {
	X            float64
	Has, Missing float64
	From         float64 // the height over the bench from which it holds
}

func (r LostOnBoard) words(f phrase) string {
	return fmt.Sprintf("at %s the bearing has %s of the board's edge to run on and needs %s more; it holds from a height of %s over the bench",
		f.at(r.X), f.most(r.Has), f.least(r.Missing), f.least(r.From))
}

// Steady returns what holds the neck level on its crown: the gaps under the
// board's edges at the nut and at the board's end, which strips of that height
// fill. They are 0 for a flat board.
func (o BoardOn) Steady() (nut, end BoardEdge) { return o.Edge(0), o.Edge(o.Neck.BoardEnd()) }
