package jig

import (
	"math"
	"slices"

	"neckloft/neck"
	"neckloft/neck/numeric"
)

// hollow is the surface parallel to a neck's back at a distance: all points so
// far from the wood, and none nearer.
//
// What lies within the distance d of the wood is the union of balls. Cut by the
// plane of a station it is the union of the sections along x, each let out by
// what the ball has there, sqrt(d² - (x - station)²): a support function that is
// the greatest of theirs. Its point of a given normal is that of the section
// which decides.
type hollow struct {
	n *neck.Neck
	d float64
}

// point returns the point of the surface at the station x on a side, whose normal
// within the station's plane is dir.
func (h hollow) point(x float64, side neck.Side, dir neck.Direction) neck.YZ {
	at := func(t float64) (neck.Section, float64) {
		sin, cos := math.Sincos(t)
		to := numeric.Clamp(x+h.d*sin, h.n.Start(), h.n.Tip())
		if sin != 0 && to != x+h.d*sin { // at the end of the wood the ball is cut
			cos = math.Sqrt(math.Max(0, 1-(to-x)*(to-x)/(h.d*h.d)))
		}
		return h.n.Section(to), h.d * cos
	}
	t := 0.0
	if h.d > 0 {
		reach := func(t float64) float64 {
			s, r := at(t)
			return s.SupportAlong(side, dir) + r
		}
		const steps = 6
		_, t = numeric.ClimbWithin(reach, -math.Pi/2, math.Pi/2, steps, 1e-4)
	}
	s, r := at(t)
	p := s.PointAlong(side, dir)
	sin, cos := dir.Sincos()
	return neck.YZ{Y: p.Y + side.Sign()*r*cos, Z: p.Z - r*sin}
}

// rim returns the angle of the normal from which on the surface lies below the level
// z on a side, and y of the surface at that level. Where the surface lies below all
// along the wall, that stands upright from its foot.
func (h hollow) rim(x float64, side neck.Side, z float64) (phi, y float64) {
	at := func(phi float64) neck.YZ { return h.point(x, side, neck.AngleDirection(phi)) }
	const foot = 1e-6
	lo, hi := foot, math.Pi/2
	if p := at(lo); p.Z <= z {
		return lo, p.Y
	}
	for range 32 {
		if mid := (lo + hi) / 2; at(mid).Z > z {
			lo = mid
		} else {
			hi = mid
		}
	}
	// Where the surface has a straight piece across the level, which no normal
	// tells, both ends of it are known now.
	p, q := at(lo), at(hi)
	t := 0.0
	if p.Z > q.Z {
		t = (p.Z - z) / (p.Z - q.Z)
	}
	return hi, numeric.Lerp(p.Y, q.Y, t)
}

// shares returns how the normals between the rim at the level z and the deepest
// point are to be shared out at the stations given, so that no chord is farther
// than e from the surface: numbers from 0 at the rim to 1.
func (h hollow) shares(xs []float64, z, e float64) []float64 {
	type probe struct {
		x    float64
		side neck.Side
		rim  float64
	}
	var probes []probe
	for _, x := range xs {
		for _, side := range h.n.Sides() {
			rim, _ := h.rim(x, side, z)
			probes = append(probes, probe{x, side, rim})
		}
	}
	point := func(p probe, w float64) neck.YZ {
		return h.point(p.x, p.side, neck.AngleDirection(numeric.Lerp(p.rim, math.Pi/2, w)))
	}
	// The point farthest from a chord is that whose normal is square to it.
	fits := func(a, b float64) bool {
		for _, p := range probes {
			q, r := point(p, a), point(p, b)
			dy, dz := math.Abs(q.Y-r.Y), math.Abs(q.Z-r.Z)
			if math.Hypot(dy, dz) < alike {
				continue
			}
			phi := numeric.Clamp(math.Atan2(dy, dz), numeric.Lerp(p.rim, math.Pi/2, a), numeric.Lerp(p.rim, math.Pi/2, b))
			m := h.point(p.x, p.side, neck.AngleDirection(phi))
			sin, cos := math.Sincos(phi)
			if (m.Y-q.Y)*p.side.Sign()*cos-(m.Z-q.Z)*sin > e {
				return false
			}
		}
		return true
	}
	out := []float64{0}
	var split func(a, b float64, deep int)
	split = func(a, b float64, deep int) {
		if deep < 14 && !fits(a, b) {
			split(a, (a+b)/2, deep+1)
			split((a+b)/2, b, deep+1)
			return
		}
		out = append(out, b)
	}
	split(0, 1, 0)
	return out
}

// chain returns the surface at a station from the level z on the side of greater y
// over the deepest point to the other, at the normals shared out. Above the foot
// of a wall it stands upright.
func (h hollow) chain(x, z float64, shares []float64) []neck.YZ {
	var out []neck.YZ
	for _, side := range []neck.Side{neck.PlusY, neck.MinusY} {
		rim, y := h.rim(x, side, z)
		var half []neck.YZ
		for _, w := range shares {
			half = append(half, h.point(x, side, neck.AngleDirection(numeric.Lerp(rim, math.Pi/2, w))))
		}
		half = append([]neck.YZ{{Y: y, Z: z}}, half...)
		if side == neck.MinusY {
			slices.Reverse(half)
		}
		out = append(out, half...)
	}
	return out
}
