package neck

import (
	"math"

	"neckloft/neck/numeric"
)

// leaned is the block of a heel with a cap: its sides are straight from the foot
// of the wall, lean inward at one angle, and end in the arc of a corner at the
// level bottom. The set is convex; its normals along the side are all one.
type leaned struct {
	ok     bool
	side   Direction // the side's normal: as far below the horizontal as the side leans
	centre float64   // y of the corner's centre, without its sign
}

// setLean makes the section's block that of a heel with a cap, whose sides lean
// by an angle. HalfWidth, Depth, wall and corner come first.
func (s *Section) setLean(angle float64) {
	d := AngleDirection(angle)
	s.lean = leaned{
		ok: true, side: d,
		centre: s.HalfWidth - (s.Depth-s.corner-s.wall)*d.sin/d.cos - s.corner/d.cos,
	}
}

// block returns the point of the block's side and corner where the outward
// normal has the given direction; at that of a leaning side, its lower end.
func (s *Section) block(sign float64, d Direction) YZ {
	if !s.lean.ok {
		return YZ{
			s.middle + sign*(s.HalfWidth-s.corner+s.corner*d.cos),
			s.corner - s.Depth - s.corner*d.sin,
		}
	}
	if d.u < s.lean.side.u {
		return YZ{sign * s.HalfWidth, -s.wall}
	}
	return YZ{sign * (s.lean.centre + s.corner*d.cos), s.corner - s.Depth - s.corner*d.sin}
}

// leaningSide returns the ends of the straight part of one side's curve, upper
// end first, and false where the section has none.
func (s *Section) leaningSide(side Side) (upper, lower YZ, ok bool) {
	if !s.lean.ok || s.blend == 0 {
		return YZ{}, YZ{}, false
	}
	lower = s.PointAlong(side, s.lean.side)
	whole := s.block(side.Sign(), s.lean.side)
	foot := YZ{side.Sign() * s.HalfWidth, -s.wall}
	upper = YZ{lower.Y + s.blend*(foot.Y-whole.Y), lower.Z + s.blend*(foot.Z-whole.Z)}
	return upper, lower, true
}

// onLeaningSide returns z of the straight part of one side, moved outward by d,
// at the distance |y| from the centreline, and false off it.
func (s *Section) onLeaningSide(side Side, y, d float64) (z float64, ok bool) {
	a, b, ok := s.leaningSide(side)
	if !ok {
		return 0, false
	}
	a, b = s.moved(side, a, d), s.moved(side, b, d)
	sign := side.Sign()
	if ya, yb := sign*a.Y, sign*b.Y; sign*y <= ya && sign*y >= yb && ya > yb {
		return numeric.Lerp(a.Z, b.Z, (ya-sign*y)/(ya-yb)), true
	}
	return 0, false
}

// moved returns a point of a leaning side moved by d along its normal.
func (s *Section) moved(side Side, p YZ, d float64) YZ {
	return YZ{p.Y + side.Sign()*d*s.lean.side.cos, p.Z - d*s.lean.side.sin}
}

// acrossLeaningSide is onLeaningSide the other way round: y at the level z.
func (s *Section) acrossLeaningSide(side Side, z, d float64) (y float64, ok bool) {
	a, b, ok := s.leaningSide(side)
	if !ok {
		return 0, false
	}
	a, b = s.moved(side, a, d), s.moved(side, b, d)
	if z <= a.Z && z >= b.Z && a.Z > b.Z {
		return numeric.Lerp(a.Y, b.Y, (a.Z-z)/(a.Z-b.Z)), true
	}
	return 0, false
}

// blockGirth returns the length of half of the block's outline below the top.
func (s *Section) blockGirth() float64 {
	if !s.lean.ok {
		return s.Top + s.Depth - s.corner + s.corner*math.Pi/2 + s.HalfWidth - s.corner
	}
	l := &s.lean
	end := s.block(1, l.side)
	run := math.Hypot(s.HalfWidth-end.Y, s.wall+end.Z)
	return s.Top + s.wall + run + s.corner*(math.Pi/2-math.Atan2(l.side.sin, l.side.cos)) + l.centre
}

// sweepLeaned is sweepQuarter for a block with leaning sides: the corner's arc
// has the normals past that of the side, so that each half of the curve is taken
// in two where that normal lies in it, and the straight side by itself.
func (s *Section) sweepLeaned(side Side, flat, start float64, visit func(u, v, da float64)) {
	c := &s.curve[side]
	w1 := math.Sqrt(math.Sqrt(math.Exp2(-c.invN)))
	y, z := c.unit(s.lean.side.u)
	splits := [2]float64{w1, w1} // of the upper half and of the lower
	if y > z {
		splits[0] = math.Min(w1, math.Sqrt(math.Sqrt(z)))
	} else {
		splits[1] = math.Min(w1, math.Sqrt(math.Sqrt(y)))
	}
	for half, upper := range []bool{true, false} {
		for _, piece := range [][2]float64{{0, splits[half]}, {splits[half], w1}} {
			for i, x := range numeric.Unit.X {
				if wide := piece[1] - piece[0]; wide > 0 {
					s.sweepNode(side, flat, start, upper, piece[0]+wide*x, wide, numeric.Unit.W[i], visit)
				}
			}
		}
	}
	a, b, ok := s.leaningSide(side)
	if !ok {
		return
	}
	u0, v0 := side.Sign()*a.Y-flat, start-a.Z
	u1, v1 := side.Sign()*b.Y-flat, start-b.Z
	for i, x := range alongRule.X {
		visit(numeric.Lerp(u0, u1, x), numeric.Lerp(v0, v1, x), alongRule.W[i]*0.5*(u0*v1-u1*v0))
	}
}
