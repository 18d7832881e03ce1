package spec

import (
	"math"
	"neckloft/neck/numeric"
)

// Surfaces of a board: how the radius of its crown runs along it.
const (
	// SurfaceCompound has its radius run straight from RadiusNut to RadiusEnd.
	// With two equal radii it is a cylinder, else a cone; the cone's point is
	// not where the strings would meet, so that the board is not straight under
	// the outer ones.
	SurfaceCompound = "compound"

	// SurfaceConical is the cone whose point is where the strings would meet:
	// straight under every string. The end's radius follows.
	SurfaceConical = "conical"

	// SurfaceEvenEdge has the radius grow so that the edges are as thick at the
	// end as at the nut. It is no cone.
	SurfaceEvenEdge = "even edge"
)

// Ends of a board across the neck.
const (
	EndSquare = "square" // to the centreline
	EndFret   = "fret"   // along the last fret
)

// What is even between strings.
const (
	EqualCentres = "centres"
	EqualGaps    = "gaps"
)

// Floors of a fret slot.
const (
	SlotCrown = "crown" // follows the crown: as deep all across
	SlotFlat  = "flat"  // straight from edge to edge: deepest in the middle
)

// Spacing is the distance of the outer strings from each other, centre to
// centre, across the neck at the nut and at the bridge. They lie even to both
// sides of the centreline. Equal is EqualCentres, EqualGaps or "".
type Spacing struct {
	Nut, Bridge float64
	Strings     int // 0 for those of Strings
	Equal       string
}

// Nut is how the board and the nut meet. Slot is the depth of the nut's slot in
// the board, 0 where the board ends at the nut; Before is what of the board
// stands before that slot. ZeroFret is the distance of the nut from a zero fret
// at x = 0; 0 is none.
type Nut struct {
	Thickness float64
	Slot      float64
	Before    float64
	ZeroFret  float64
}

// Slots are the fret slots. Depth is that at the board's edge, whatever the
// Floor, which is SlotCrown, SlotFlat or "". Short is how far they stop before
// the edge, Overhang how much of the wire stands over at either end.
type Slots struct {
	Kerf, Depth float64
	Floor       string
	Short       float64
	Overhang    float64
}

// Flat reports whether the floor is straight from edge to edge.
func (t *Slots) Flat() bool { return t.Floor == SlotFlat }

// PartialFret is a fret that goes from one distance from the centreline to
// another: negative on the bass side.
type PartialFret struct {
	At       Place
	From, To float64
}

// Binding is let into the board's edges: Width across, Depth below the top at
// the edge, 0 for the whole edge. End says whether it goes across the board's end
// too, past the last fret.
type Binding struct {
	Width, Depth float64
	End          bool
}

// FallAway is a slope of the board's top: Drop at the board's end, nothing
// before From.
type FallAway struct {
	From Place
	Drop float64
}

// Scallop are hollows between the frets after fret From, Depth deep in the
// middle, that leave Land of the top on either side of a fret.
type Scallop struct {
	From  int
	Depth float64
	Land  float64
}

// EndRadiusFollows reports whether the radius at the end follows from that at
// the nut and the surface.
func (b *Board) EndRadiusFollows() bool {
	return b.Surface == SurfaceConical || b.Surface == SurfaceEvenEdge
}

// BoardRadius returns the radius of the board's crown at x, 0 for a flat board.
//
// Conical is R = Rn [1 + x (Sf - Sn)/(D Sn)], the strings being Sn apart at the
// nut and Sf at the bridge, D from it (R. M. Mottola, on conical fingerboards,
// liutaiomottola.com).
func (s *Spec) BoardRadius(x float64) float64 {
	b := s.Board
	switch {
	case b.RadiusNut == 0:
		return 0
	case b.Surface == SurfaceConical && s.Spacing != nil:
		return s.StringCone(x)
	case b.Surface == SurfaceEvenEdge:
		nut, a := s.Width.Nut/2, s.halfWidth(x)
		drop := b.RadiusNut - math.Sqrt(b.RadiusNut*b.RadiusNut-nut*nut)
		return (a*a + drop*drop) / (2 * drop)
	}
	return numeric.Lerp(b.RadiusNut, b.RadiusEnd, x/s.BoardEnd())
}

// StringCone returns the radius at x of the cone that the strings lie along, from
// the board's radius at the nut. The spec must have a spacing.
func (s *Spec) StringCone(x float64) float64 {
	g := s.Spacing
	return s.Board.RadiusNut * (1 + x*(g.Bridge-g.Nut)/(s.StringLength()*g.Nut))
}

// halfWidth returns half the width of the board at x, carried on beyond its
// ends.
func (s *Spec) halfWidth(x float64) float64 {
	return numeric.Lerp(s.Width.Nut, s.Width.End, x/s.BoardEnd()) / 2
}

// BeforeNut returns how far the board reaches before x = 0 on the centreline.
func (s *Spec) BeforeNut() float64 {
	n := s.Nut
	if n == nil {
		return 0
	}
	if n.Slot == 0 {
		return n.ZeroFret
	}
	return n.ZeroFret + n.Thickness + n.Before
}

// NutFront returns x of the nut's front face on the centreline: 0, or before
// it where there is a zero fret.
func (s *Spec) NutFront() float64 {
	if s.Nut == nil {
		return 0
	}
	return -s.Nut.ZeroFret
}

// FallAwayAt returns how far the board's top lies below its crown's line at x.
func (s *Spec) FallAwayAt(x float64) float64 {
	f := s.FallAway
	if f == nil {
		return 0
	}
	from := s.X(f.From)
	return f.Drop * math.Max(0, (x-from)/(s.BoardEnd()-from))
}
