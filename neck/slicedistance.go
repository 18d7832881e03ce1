package neck

import (
	"math"

	"neckloft/neck/numeric"
)

// distance returns the distance from the section, carried on upward without
// end, to a point in its plane: negative inside.
func (s *channelSlice) distance(q YZ) float64 {
	c := s.c
	switch {
	case c.tilted():
		return distanceOver(s.polygon, q)
	case s.tan() == 0:
		return c.sectionDistance(q.Y-c.origin.Y, -q.Z, c.floor.at(s.t))
	case !c.round:
		return distanceOver([]YZ{s.place(s.u0), s.place(s.u1)}, q)
	}
	r := newRoundSlice(s)
	gap := func(a float64) float64 {
		sin, cos := math.Sincos(a)
		return q.Y*cos - q.Z*sin - r.reach(cos, sin)
	}
	// From a point outside a convex section the supporting lines beyond which
	// it lies have normals without a gap between them, and one peak.
	if best, _ := numeric.Climb(gap, 0, math.Pi, 16); best > 0 {
		return best
	}
	best, _ := numeric.Climb(gap, 0, math.Pi, 48)
	return best
}

// distanceOver returns the distance from a convex polygon, whose corners go
// round counter-clockwise, to a point: negative inside. The polygon is carried
// on upward without end. Of two corners it is the strip above the line between
// them.
func distanceOver(polygon []YZ, q YZ) float64 {
	if len(polygon) == 0 {
		return math.Inf(1)
	}
	left, right := polygon[0], polygon[0]
	beyond, least := math.Inf(-1), math.Inf(1)
	for i, p := range polygon {
		if p.Y < left.Y || p.Y == left.Y && p.Z < left.Z {
			left = p
		}
		if p.Y > right.Y || p.Y == right.Y && p.Z < right.Z {
			right = p
		}
		r := polygon[(i+1)%len(polygon)]
		dy, dz := r.Y-p.Y, r.Z-p.Z
		if dy <= 0 {
			continue // a wall, or above
		}
		y, z, l := q.Y-p.Y, q.Z-p.Z, dy*dy+dz*dz
		beyond = max(beyond, (y*dz-z*dy)/math.Sqrt(l))
		k := numeric.Clamp((y*dy+z*dz)/l, 0, 1)
		least = min(least, math.Hypot(y-k*dy, z-k*dz))
	}
	beyond = max(beyond, left.Y-q.Y, q.Y-right.Y)
	if beyond <= 0 {
		return beyond
	}
	for _, foot := range []YZ{left, right} {
		least = min(least, math.Hypot(q.Y-foot.Y, max(0, foot.Z-q.Z)))
	}
	return least
}

// roundSlice is the section of a channel with a round floor: a half circle that
// is stretched to the side and sheared by the slope of the line that it follows.
type roundSlice struct {
	*channelSlice
	a, b  YZ      // the ends of the floor
	y, dz float64 // by how much y grows with u, and the depth of the line
}

func newRoundSlice(s *channelSlice) roundSlice {
	c, tan := s.c, s.tan()
	return roundSlice{s, s.place(s.u0), s.place(s.u1), c.across.Y + tan*c.along.Y, c.floor.slope(s.t) * tan}
}

// reach returns how far the section reaches in a direction that does not point
// up: cos to the side, sin down.
func (r *roundSlice) reach(cos, sin float64) float64 {
	to := func(p YZ) float64 { return p.Y*cos - p.Z*sin }
	best := max(to(r.a), to(r.b))
	lean := cos*r.y + sin*r.dz
	u := numeric.Clamp(r.c.half*lean/math.Hypot(lean, sin), r.u0, r.u1)
	return max(best, to(r.place(u)))
}
