package neck

import (
	"math"
	"neckloft/neck/numeric"
)

// offset returns the point of the parallel curve at the distance d outside the
// back, where its outward normal, which is the back's, has the direction dir.
//
// The section is convex, so that its outer parallel curves have neither loops
// nor cusps: the point of a V becomes an arc of radius d.
func (s *Section) offset(side Side, dir Direction, d float64) YZ {
	p := s.PointAlong(side, dir)
	return YZ{p.Y + side.Sign()*d*dir.cos, p.Z - d*dir.sin}
}

// Offset returns the point of the parallel curve at the distance d outside the
// back's curve whose outward normal points phi radians below the horizontal.
func (s *Section) Offset(side Side, phi, d float64) YZ {
	return s.offset(side, AngleDirection(phi), d)
}

// Parallel returns points of the parallel curve at the distance d, on one side,
// from the foot of the wall to the deepest point, with no point of the curve
// farther than e from the chords between them.
//
// The point farthest from a chord is the one whose normal is square to it, and
// there the chord is split in two.
func (s *Section) Parallel(side Side, d, e float64) []YZ {
	first, last := s.offset(side, level, d), s.offset(side, plumb, d)
	out := []YZ{first}
	var split func(a, b Direction, p, q YZ, deep int)
	split = func(a, b Direction, p, q YZ, deep int) {
		dy, dz := math.Abs(p.Y-q.Y), math.Abs(p.Z-q.Z)
		if dy > 0 && dz > 0 && deep < 40 {
			dir := DirectionOf(numeric.Log(dy / dz))
			m := s.offset(side, dir, d)
			off := math.Abs(side.Sign()*(m.Y-p.Y)*dir.cos - (m.Z-p.Z)*dir.sin)
			if off > e && dir.u > a.u && dir.u < b.u {
				split(a, dir, p, m, deep+1)
				split(dir, b, m, q, deep+1)
				return
			}
		}
		out = append(out, q)
	}
	split(level, plumb, first, last, 0)
	return out
}

// Bottom returns z of the parallel curve at the distance d, at y, which must
// lie between its walls.
func (s *Section) Bottom(y, d float64) float64 {
	f0, f1 := s.Flat()
	side := MinusY
	switch {
	case y >= f0 && y <= f1:
		return -s.Depth - d
	case y > f1:
		side = PlusY
	}
	if z, ok := s.onLeaningSide(side, y, d); ok {
		return z
	}
	// As in DepthAt: |y| falls as u rises.
	lo, hi := -2000.0, 2000.0
	for range 80 {
		u := (lo + hi) / 2
		if side.Sign()*s.offset(side, DirectionOf(u), d).Y > side.Sign()*y {
			lo = u
		} else {
			hi = u
		}
	}
	return s.offset(side, DirectionOf((lo+hi)/2), d).Z
}

// Across returns y of the parallel curve at the distance d where it crosses the
// level z on the given side.
func (s *Section) Across(side Side, z, d float64) float64 {
	if y, ok := s.acrossLeaningSide(side, z, d); ok {
		return y
	}
	// z falls as u rises.
	lo, hi := -2000.0, 2000.0
	for range 80 {
		u := (lo + hi) / 2
		if s.offset(side, DirectionOf(u), d).Z > z {
			lo = u
		} else {
			hi = u
		}
	}
	return s.offset(side, DirectionOf((lo+hi)/2), d).Y
}
