package neck

import (
	"math"
	"neckloft/neck/numeric"
)

// Moments are the area of a plane region of a section and its first and second
// moments about the axes y = 0 and z = 0 (the centreline and the glue plane).
// Moments of regions add, and those of a hole subtract.
type Moments struct {
	Area     float64 // ∫ dA, mm²
	SY, SZ   float64 // ∫ y dA and ∫ z dA, mm³
	SYY, SZZ float64 // ∫ y² dA and ∫ z² dA, mm⁴
	SYZ      float64 // ∫ y z dA, mm⁴
}

// Plus returns m + k o: o added for k = 1, cut out for k = -1, and weighted by
// its modulus for a transformed section.
func (m Moments) Plus(k float64, o Moments) Moments {
	return Moments{
		Area: m.Area + k*o.Area,
		SY:   m.SY + k*o.SY, SZ: m.SZ + k*o.SZ,
		SYY: m.SYY + k*o.SYY, SZZ: m.SZZ + k*o.SZZ, SYZ: m.SYZ + k*o.SYZ,
	}
}

// Centroid returns the centre of the region's area, where its neutral axis
// passes in bending without axial force.
func (m Moments) Centroid() YZ { return YZ{m.SY / m.Area, m.SZ / m.Area} }

// Bending returns the second moment of area, in mm⁴, about the line through
// the centroid across the neck: ∫ (z - zc)² dA, by the parallel axis theorem.
// It measures the stiffness against the pull of the strings.
func (m Moments) Bending() float64 { return m.SZZ - m.SZ*m.SZ/m.Area }

// Sideways returns the second moment of area, in mm⁴, about the line through
// the centroid square to the glue plane: ∫ (y - yc)² dA.
func (m Moments) Sideways() float64 { return m.SYY - m.SY*m.SY/m.Area }

// Product returns the product of inertia, in mm⁴, about the same two lines:
// ∫ (y - yc)(z - zc) dA. It is 0 where the two sides are alike.
func (m Moments) Product() float64 { return m.SYZ - m.SY*m.SZ/m.Area }

// rectangle returns the moments of the rectangle between two corners.
func rectangle(y0, z0, y1, z1 float64) Moments {
	dy, dz := y1-y0, z1-z0
	a := dy * dz
	y, z := (y0+y1)/2, (z0+z1)/2
	return Moments{
		Area: a,
		SY:   a * y, SZ: a * z,
		SYY: a * (y*y + dy*dy/12), SZZ: a * (z*z + dz*dz/12), SYZ: a * y * z,
	}
}

// Moments returns the moments of the bare wood section, the rod channel not
// subtracted.
//
// The rectangle down to the start of the curve and the one between the two
// curves are taken in closed form, and so is each curve's quarter where it is a
// pure profile. A blended quarter is cut into slim triangles from a corner: by
// Euler's theorem on homogeneous functions, u^p v^q integrates over a triangle
// from the origin to the piece of curve at (u, v) to u^p v^q 2 da / (p+q+2), da
// being the triangle's area.
func (s *Section) Moments() Moments {
	if s.trim != nil {
		return s.cutMoments().Plus(1, s.ledgeMoments())
	}
	start := s.CurveStart()
	f0, f1 := s.Flat()
	m := rectangle(s.middle-s.HalfWidth, start, s.middle+s.HalfWidth, s.Top)
	m = m.Plus(1, rectangle(f0, -s.Depth, f1, start)).Plus(1, s.ledgeMoments())
	for _, side := range []Side{MinusY, PlusY} {
		sign := side.Sign()
		flat := f0
		if side == PlusY {
			flat = f1
		}
		if s.blend == 0 {
			m = m.Plus(1, s.curve[side].moments().placed(flat, sign, start, -1))
			continue
		}
		var q Moments // about the corner, u outward and v down
		s.sweepQuarter(side, sign*flat, start, func(u, v, da float64) {
			q.Area += da
			q.SY += u * da * 2 / 3
			q.SZ += v * da * 2 / 3
			q.SYY += u * u * da / 2
			q.SZZ += v * v * da / 2
			q.SYZ += u * v * da / 2
		})
		m = m.Plus(1, q.placed(flat, sign, start, -1))
	}
	return m
}

// moments returns the moments of the area between the quarter curve and the
// axes, about those. By Dirichlet's integral
//
//	∫∫ y^p z^q dA = a^(p+1) b^(q+1) / n² · Γ(α) Γ(β) / Γ(α+β+1)
//
// with α = (p+1)/n and β = (q+1)/n (Whittaker and Watson, A Course of Modern
// Analysis, 12.5; from memory, and checked by the tests).
func (c *Quarter) moments() Moments {
	var g [4]float64 // ln Γ(k/n)
	for k := 1; k <= 3; k++ {
		g[k], _ = math.Lgamma(float64(k) * c.invN)
	}
	a, b := c.a*c.invN, c.b*c.invN
	first, _ := math.Lgamma(1 + 3*c.invN)
	second, _ := math.Lgamma(1 + 4*c.invN)
	f := a * b * math.Exp(g[1]+g[2]-first)
	ff := a * b * math.Exp(g[1]+g[3]-second)
	return Moments{
		Area: c.area(),
		SY:   c.a * f, SZ: c.b * f,
		SYY: c.a * c.a * ff, SZZ: c.b * c.b * ff,
		SYZ: c.a * c.b * a * b * math.Exp(2*g[2]-second),
	}
}

// placed returns the moments of a region given about a corner, with its axes
// turned by the signs, after the corner is put at (y, z).
func (m Moments) placed(y, signY, z, signZ float64) Moments {
	sy, sz := signY*m.SY, signZ*m.SZ
	return Moments{
		Area: m.Area,
		SY:   sy + m.Area*y, SZ: sz + m.Area*z,
		SYY: m.SYY + 2*y*sy + y*y*m.Area,
		SZZ: m.SZZ + 2*z*sz + z*z*m.Area,
		SYZ: signY*signZ*m.SYZ + y*sz + z*sy + y*z*m.Area,
	}
}

// WoodMoments returns the moments of the wood at x, the channels cut out
// where there are any. What is glued into them is told by Inlays; a rod counts
// for nothing.
func (n *Neck) WoodMoments(x float64) Moments {
	s := n.Section(x)
	m := s.Moments()
	return m.Plus(-1, n.removed(x))
}

// BoardMoments returns the moments of the fretboard at x, without fret slots,
// inlays or binding, and false where there is no board.
func (n *Neck) BoardMoments(x float64) (Moments, bool) {
	if x < 0 || x > n.boardEnd {
		return Moments{}, false
	}
	a := n.BoardHalfWidth(x)
	var m Moments
	for i, t := range numeric.Unit.X {
		// The two halves are alike.
		y := a * t
		h := n.BoardTop(x, y)
		dy := 2 * a * numeric.Unit.W[i]
		m.Area += dy * h
		m.SZ += dy * h * h / 2
		m.SYY += dy * h * y * y
		m.SZZ += dy * h * h * h / 3
	}
	return m, true
}
