package neck

import (
	"math"
	"neckloft/neck/numeric"
)

// Section is the wood's cross-section at one station: flat on top, with a
// straight wall on each side and the back's curve between the walls.
//
// In the playing length the curve is a quarter superellipse on each side of
// the apex. Toward the heel and the headstock it is blended, at equal normal
// directions, into a rectangle with rounded corners. The section is convex
// everywhere.
type Section struct {
	X         float64 // station
	HalfWidth float64 // half the width at the top; with an outline, of the loft it is cut from
	Depth     float64 // from the glue plane down to the deepest point
	Top       float64 // height of the top: 0 at the board, below 0 on a headstock's face
	Apex      float64 // y of the deepest line, where the section is a pure profile

	hang   float64    // height that the profile hangs from
	wall   float64    // height of the straight side below hang
	curve  [2]Quarter // the profile's quarter on each side
	blend  float64    // 0 for the pure profile, 1 for the rectangle
	corner float64    // radius of the rectangle's corners
	middle float64    // y halfway between the edges
	trim   *trim      // what an outline cuts, nil for none
	ledge  *ledge     // what of a leaning shelf stands over Top, nil for none
	lean   leaned     // of the block of a heel with a cap
}

// setProfile sets the fullness of both sides; the other fields come first.
func (s *Section) setProfile(minus, plus float64) {
	b := s.Depth + s.hang - s.wall
	off := s.Apex - s.middle
	if most := 0.9 * s.HalfWidth; s.blend == 1 {
		off = numeric.Clamp(off, -most, most) // of a lopsided headstock's block, which has no apex
	}
	s.curve[MinusY] = newLame(s.HalfWidth+off, b, minus)
	s.curve[PlusY] = newLame(s.HalfWidth-off, b, plus)
}

// Fullness returns the superellipse exponent of one side's profile.
func (s *Section) Fullness(side Side) float64 { return s.curve[side].n }

// Quarter returns one side's profile as a quarter superellipse: its half-axes
// across and down, its exponent, and the depth of its foot, where the wall
// ends, below the glue plane.
func (s *Section) Quarter(side Side) (across, down, exponent, foot float64) {
	c := &s.curve[side]
	return c.a, c.b, c.n, s.wall - s.hang
}

// Blend returns how far the section has left the profile: 0 where it is the
// pure profile, 1 where it is the full block of heel or headstock.
func (s *Section) Blend() float64 { return s.blend }

// CurveStart returns z where the straight wall ends and the curve begins.
func (s *Section) CurveStart() float64 {
	if s.lean.ok {
		return s.hang - s.wall
	}
	return numeric.Lerp(s.hang-s.wall, s.corner-s.Depth, s.blend)
}

// Flat returns the extent in y of the level bottom between the two curves,
// which has no length where the section is a pure profile.
func (s *Section) Flat() (from, to float64) {
	c := numeric.Lerp(s.Apex, s.middle, s.blend)
	f := s.blend * (s.HalfWidth - s.corner)
	if s.lean.ok {
		f = s.blend * s.lean.centre
	}
	return c - f, c + f
}

// Direction is the outward normal of the back's curve: cos across and sin
// down, and u = ln tan of its angle below the horizontal.
type Direction struct{ u, cos, sin float64 }

// level and plumb are the ends of the curve: a normal straight out, at the
// wall, and a normal straight down, at the apex.
var (
	level = Direction{math.Inf(-1), 1, 0}
	plumb = Direction{math.Inf(1), 0, 1}
)

// DirectionOf returns the direction with ln tan = u.
func DirectionOf(u float64) Direction {
	switch {
	case math.IsInf(u, -1):
		return level
	case math.IsInf(u, 1):
		return plumb
	case u > 0:
		e := numeric.Exp(-u)
		sin := 1 / math.Sqrt(1+e*e)
		return Direction{u, e * sin, sin}
	}
	e := numeric.Exp(u)
	cos := 1 / math.Sqrt(1+e*e)
	return Direction{u, cos, e * cos}
}

// AngleDirection returns the direction at the angle phi, 0 to π/2, below the
// horizontal.
func AngleDirection(phi float64) Direction {
	switch {
	case phi <= 0:
		return level
	case phi >= math.Pi/2:
		return plumb
	}
	sin, cos := math.Sincos(phi)
	return Direction{numeric.Log(sin / cos), cos, sin}
}

// Sincos returns the sine and the cosine of the direction's angle.
func (d Direction) Sincos() (sin, cos float64) { return d.sin, d.cos }

// PointAlong returns the point of the back's curve where its outward normal has the
// given direction.
func (s *Section) PointAlong(side Side, d Direction) YZ {
	c := &s.curve[side]
	sign := side.Sign()
	if s.blend == 1 {
		return s.block(sign, d)
	}
	y, z := c.unit(d.u)
	p := YZ{s.Apex + sign*c.a*y, s.hang - s.wall - c.b*z}
	if s.blend == 0 {
		return p
	}
	q := s.block(sign, d)
	return YZ{numeric.Lerp(p.Y, q.Y, s.blend), numeric.Lerp(p.Z, q.Z, s.blend)}
}

// Point returns the point of the back's curve whose outward normal points phi
// radians below the horizontal, on the given side: phi = 0 is the foot of the
// wall and phi = π/2 the deepest point.
func (s *Section) Point(side Side, phi float64) YZ {
	return s.PointAlong(side, AngleDirection(phi))
}

// Support returns how far the section reaches in the direction phi below the
// horizontal on the given side: the support function of the convex section,
// the largest value of (y, z)·n. Two parallel straightedges that touch the back
// in that direction touch it there.
func (s *Section) Support(side Side, phi float64) float64 {
	return s.SupportAlong(side, AngleDirection(phi))
}

func (s *Section) SupportAlong(side Side, d Direction) float64 {
	p := s.PointAlong(side, d)
	return side.Sign()*p.Y*d.cos - p.Z*d.sin
}

// Edge returns the top corner of the section on the given side, where the wall
// meets the glue plane or the headstock's face.
func (s *Section) Edge(side Side) YZ {
	return YZ{s.middle + side.Sign()*s.HalfWidth, s.EdgeTop(side)}
}

// DepthAt returns the wood's depth below the glue plane at the distance y from
// the centreline, and false outside the section.
func (s *Section) DepthAt(y float64) (float64, bool) {
	if s.trim != nil {
		return s.cutDepth(y)
	}
	return s.loftDepth(y)
}

// loftDepth is DepthAt of the section that an outline has not yet cut.
func (s *Section) loftDepth(y float64) (float64, bool) {
	if math.IsNaN(y) || math.Abs(y-s.middle) > s.HalfWidth*(1+1e-12) {
		return 0, false
	}
	side := MinusY
	if f0, f1 := s.Flat(); y >= f0 && y <= f1 {
		return s.Depth, true
	} else if y > f1 {
		side = PlusY
	}
	c := &s.curve[side]
	if s.blend == 0 {
		t := math.Min(1, math.Abs(y-s.Apex)/c.a)
		return s.wall - s.hang + c.b*numeric.Pow(1-numeric.Pow(t, c.n), c.invN), true
	}
	if z, ok := s.onLeaningSide(side, y, 0); ok {
		return -z, true
	}
	// |y| falls as u rises. Beyond |u| = 2000 every coordinate has reached its
	// limit in float64 for any fullness that a spec may ask for.
	lo, hi := -2000.0, 2000.0
	for range 80 {
		u := (lo + hi) / 2
		if side.Sign()*s.PointAlong(side, DirectionOf(u)).Y > side.Sign()*y {
			lo = u
		} else {
			hi = u
		}
	}
	return -s.PointAlong(side, DirectionOf((lo+hi)/2)).Z, true
}

// Girth returns the length of the back from edge to edge, walls included.
//
// The length of a Minkowski combination of convex curves is the combination of
// their lengths, so the blend needs no integral of its own.
func (s *Section) Girth() float64 {
	if s.trim != nil {
		return s.cutGirth() + s.ledgeWall()
	}
	sum := 0.0
	for _, side := range []Side{MinusY, PlusY} {
		c := &s.curve[side]
		profile := s.Top - s.hang + s.wall
		if s.blend < 1 {
			profile += c.length()
		}
		sum += numeric.Lerp(profile, s.blockGirth(), s.blend)
	}
	return sum + s.ledgeWall()
}

// Area returns the area of the bare wood section, the rod channel not
// subtracted, in mm².
//
// A blended quarter is a Minkowski combination of the superellipse's quarter
// and the corner's, a quarter of a disc. By Steiner's formula for the sum of a
// convex set and a disc its area is (1-t)² A + t (1-t) r L + t² π r²/4, with
// the area A and the length L of the superellipse's quarter.
func (s *Section) Area() float64 {
	if s.trim != nil {
		return s.cutMoments().Area + s.ledgeMoments().Area
	}
	start := s.CurveStart()
	f0, f1 := s.Flat()
	area := 2*s.HalfWidth*(s.Top-start) + (f1-f0)*(start+s.Depth) + s.ledgeMoments().Area
	t := s.blend
	for _, side := range []Side{MinusY, PlusY} {
		c := &s.curve[side]
		switch {
		case t == 0:
			area += c.area()
			continue
		case s.lean.ok:
			flat := f0
			if side == PlusY {
				flat = f1
			}
			s.sweepQuarter(side, side.Sign()*flat, start, func(_, _, da float64) { area += da })
			continue
		}
		area += (1-t)*(1-t)*c.area() + t*(1-t)*s.corner*c.length() + t*t*math.Pi*s.corner*s.corner/4
	}
	return area
}

// sweepQuarter cuts the area between one side's blended curve, the level
// z = start and the line |y| = flat (side's own sign) into slim triangles from
// the corner of the two lines to the curve. It calls visit with the distances
// u from the line and v from the level of the curve's point, and the
// triangle's area da, each a node of a Gauss rule.
//
// Parametrised like lame.length, by w⁴ in either half of the curve. There the
// profile's point is known in closed form, its normal with it, and the corner
// contributes the arc with the same normals.
func (s *Section) sweepQuarter(side Side, flat, start float64, visit func(u, v, da float64)) {
	if s.lean.ok {
		s.sweepLeaned(side, flat, start, visit)
		return
	}
	w1 := math.Sqrt(math.Sqrt(math.Exp2(-s.curve[side].invN)))
	for i, x := range numeric.Unit.X {
		for _, upper := range []bool{true, false} {
			s.sweepNode(side, flat, start, upper, w1*x, w1, numeric.Unit.W[i], visit)
		}
	}
}

// sweepNode visits one node of the rule: v = w⁴ is z/b near the wall, in the
// upper half, and y/a near the apex, in the lower. The node has its weight in a
// rule over a span of w.
func (s *Section) sweepNode(side Side, flat, start float64, upper bool, w, span, weight float64, visit func(u, v, da float64)) {
	c := &s.curve[side]
	v := w * w * w * w
	dv := 4 * w * w * w * span * weight
	vn := numeric.Pow(v, c.n)
	other := numeric.Pow(1-vn, c.invN)
	slope := vn / v * numeric.Pow(1-vn, c.invN-1)
	logQ := numeric.Log(v / other)
	lq, dy, dz := logQ, c.a*slope, c.b
	if !upper {
		lq, dy, dz = -logQ, c.a, c.b*slope
	}
	d := DirectionOf(c.normalAt(lq))
	p := s.PointAlong(side, d)
	corner := s.corner
	if s.lean.ok && d.u < s.lean.side.u {
		corner = 0 // the block's point stays at the foot of the wall
	}
	// dφ = d(tan φ) cos² φ with tan φ = (a/b) q^(n-1), so
	// dφ = sin φ cos φ (n-1) d ln q, and ln q = ln v - ln(1-v^n)/n.
	dphi := d.sin * d.cos * (c.n - 1) * (1/v + vn/v/(1-vn))
	dy = numeric.Lerp(dy, corner*dphi*d.sin, s.blend)
	dz = numeric.Lerp(dz, corner*dphi*d.cos, s.blend)
	py, pz := side.Sign()*p.Y-flat, start-p.Z
	visit(py, pz, dv*0.5*(py*dz+pz*dy))
}

// Distance returns the signed distance in the section's plane from the point
// (y, z), which must lie below the top, to the back of the wood, walls
// included: positive outside the wood, negative inside.
//
// For a convex set with support function h it is the largest p·n - h(n) over
// the outward normals n.
func (s *Section) Distance(p YZ) float64 {
	d, _, _ := s.Nearest(p)
	return d
}

// Nearest returns the signed distance as Distance does, with the side and the
// direction (radians below the horizontal) of the outward normal through p.
func (s *Section) Nearest(p YZ) (dist float64, side Side, phi float64) {
	dist = math.Inf(-1)
	for _, sd := range []Side{MinusY, PlusY} {
		gap := func(d Direction) float64 {
			return sd.Sign()*p.Y*d.cos - p.Z*d.sin - s.SupportAlong(sd, d)
		}
		best, at := overQuarter(gap, 1e-9) // a leaning side peaks at a kink
		if best > dist {
			dist, side, phi = best, sd, at
		}
	}
	return dist, side, phi
}

// overQuarter returns the largest value over the normals of one side, and that
// normal's angle below the horizontal to within tol. It is numeric's Maximize,
// with the normals of the equal steps at hand.
func overQuarter(f func(Direction) float64, tol float64) (best, phi float64) {
	i, best := 0, math.Inf(-1)
	for j := range quarterSteps {
		if v := f(quarterSteps[j]); v > best {
			best, i = v, j
		}
	}
	return numeric.PeakBeside(func(a float64) float64 { return f(AngleDirection(a)) }, 0, math.Pi/2, len(quarterSteps)-1, i, best, tol)
}

// quarterSteps are normals at equal steps from the wall to the deepest point.
var quarterSteps = func() (out [25]Direction) {
	for i := range out {
		out[i] = AngleDirection(numeric.Lerp(0, math.Pi/2, float64(i)/float64(len(out)-1)))
	}
	return out
}()
