package spec

import "math"

// Breaks of a headstock: where its shelf ends, where the nut leans.
const (
	BreakNut    = "nut"    // along the nut
	BreakSquare = "square" // to the centreline
)

// shelfFoot is how far inside of the neck's edge, in mm, the face of an angled
// headstock meets a shelf that leans: there both would end in one point.
const shelfFoot = 0.5

// ShelfLeans reports whether the headstock's shelf ends along a nut that leans.
func (s *Spec) ShelfLeans() bool {
	if s.Headstock == nil || s.Headstock.Break == BreakSquare {
		return false
	}
	k := s.FretSlope(0)
	return k != 0 && !math.IsNaN(k) && !math.IsInf(k, 0)
}

// ShelfEndAt returns x where the headstock's shelf ends, y from the centreline:
// as far before the nut's line, square to it, as the spec says. The spec must
// have a headstock.
func (s *Spec) ShelfEndAt(y float64) float64 {
	h := s.Headstock
	if !s.ShelfLeans() {
		return -h.Shelf
	}
	k := s.FretSlope(0)
	return k*y - h.Shelf*math.Hypot(1, k)
}

// shelfCorner returns how far before x = 0 the shelf ends at its near edge, or at
// its far one.
func (s *Spec) shelfCorner(far bool) float64 {
	side := math.Copysign(1, s.FretSlope(0))
	if far {
		side = -side
	}
	return -s.corner(side, s.ShelfEndAt(0), s.ShelfEndAt)
}

// Break returns how far before x = 0 the headstock's own law begins: the plane of
// an angled face meets the glue plane there, square to the centreline, and the
// cove of a stepped one begins. Where the shelf leans that is its near end; the
// rest of it stands over the face.
func (s *Spec) Break() float64 {
	h := s.Headstock
	switch {
	case !s.ShelfLeans():
		return h.Shelf
	case h.Angle > 0:
		return s.shelfCorner(false) + shelfFoot*math.Abs(s.FretSlope(0))
	}
	return s.shelfCorner(false)
}

// ShelfReach returns how far before x = 0 the shelf reaches, at its far end where
// it leans. The outline of a headstock counts from there on.
func (s *Spec) ShelfReach() float64 {
	if !s.ShelfLeans() {
		return s.Headstock.Shelf
	}
	return s.shelfCorner(true)
}

// ShelfReachU returns ShelfReach along the face.
func (s *Spec) ShelfReachU() float64 {
	if !s.ShelfLeans() {
		return s.Headstock.Shelf
	}
	near := s.Break()
	return near + (s.ShelfReach()-near)/math.Cos(s.Headstock.Angle)
}

// FaceBegins returns u along the face where the shelf ends on the centreline.
func (s *Spec) FaceBegins() float64 {
	if !s.ShelfLeans() {
		return s.Headstock.Shelf
	}
	near := s.Break()
	return near + (-s.ShelfEndAt(0)-near)/math.Cos(s.Headstock.Angle)
}
