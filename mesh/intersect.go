package mesh

import "math"

// The tests of this file decide exactly, from orientation predicates alone,
// whether triangles touch. The triangles must not be degenerate.

// facesCollide reports whether faces f and g, of which neither has a repeated
// index, have more in common than the corners they share: shared corners are
// those with the same index. Faces with a common edge collide when they are
// folded onto each other, faces with a common corner when they meet anywhere
// else, others when they touch at all, and equal faces always.
func facesCollide(vertices []Vec, f, g Face) bool {
	shared, i, j := 0, 0, 0 // i and j: the last shared corner
	sumI, sumJ := 0, 0
	for k, v := range f {
		for l, w := range g {
			if v == w {
				shared, i, j = shared+1, k, l
				sumI, sumJ = sumI+k, sumJ+l
			}
		}
	}
	switch shared {
	case 0:
		return trianglesTouch(
			vertices[f[0]], vertices[f[1]], vertices[f[2]],
			vertices[g[0]], vertices[g[1]], vertices[g[2]])
	case 1:
		return cornersTouch(vertices[f[i]],
			vertices[f[(i+1)%3]], vertices[f[(i+2)%3]],
			vertices[g[(j+1)%3]], vertices[g[(j+2)%3]])
	case 2:
		c, d := 3-sumI, 3-sumJ // the corners not shared
		return folded(vertices[f[(c+1)%3]], vertices[f[(c+2)%3]], vertices[f[c]], vertices[g[d]])
	}
	return true
}

// folded reports whether the triangles a b c and a b d lie in one plane on the
// same side of a b.
func folded(a, b, c, d Vec) bool {
	if orient3d(a, b, c, d) != 0 {
		return false
	}
	k := flatAxis(a, b, c)
	p, q := a.drop(k), b.drop(k)
	return orient2d(p, q, c.drop(k)) == orient2d(p, q, d.drop(k))
}

// cornersTouch reports whether the triangles v a b and v c d meet outside v. If
// they do, some point of a b is in v c d or one of c d in v a b: go from v
// along the common part until it ends.
func cornersTouch(v, a, b, c, d Vec) bool {
	sc, sd := orient3d(v, a, b, c), orient3d(v, a, b, d)
	if sc*sd > 0 {
		return false
	}
	if sc == 0 && sd == 0 {
		k := flatAxis(v, a, b)
		return wedgesMeet(v.drop(k), a.drop(k), b.drop(k), c.drop(k), d.drop(k))
	}
	sa, sb := orient3d(v, c, d, a), orient3d(v, c, d, b)
	if sa*sb > 0 {
		return false
	}
	return segmentTouches(a, b, sa, sb, v, c, d) || segmentTouches(c, d, sc, sd, v, a, b)
}

// wedgesMeet reports whether the angles a v b and c v d, each less than a
// straight angle, have more than v in common.
func wedgesMeet(v, a, b, c, d Vec2) bool {
	if orient2d(v, a, b) < 0 {
		a, b = b, a
	}
	if orient2d(v, c, d) < 0 {
		c, d = d, c
	}
	in := func(p, a, b Vec2) bool { return orient2d(v, a, p) >= 0 && orient2d(v, p, b) >= 0 }
	return in(c, a, b) || in(d, a, b) || in(a, c, d) || in(b, c, d)
}

// trianglesTouch reports whether the triangles a b c and d e f have a point in
// common. If they do, an edge of one has one in common with the other.
func trianglesTouch(a, b, c, d, e, f Vec) bool {
	sd, se, sf := orient3d(a, b, c, d), orient3d(a, b, c, e), orient3d(a, b, c, f)
	if sd == se && se == sf {
		if sd != 0 {
			return false
		}
		k := flatAxis(a, b, c)
		return flatTrianglesTouch(
			[3]Vec2{a.drop(k), b.drop(k), c.drop(k)},
			[3]Vec2{d.drop(k), e.drop(k), f.drop(k)})
	}
	sa, sb, sc := orient3d(d, e, f, a), orient3d(d, e, f, b), orient3d(d, e, f, c)
	if sa == sb && sb == sc {
		return false // not zero: the planes differ
	}
	return segmentTouches(a, b, sa, sb, d, e, f) ||
		segmentTouches(b, c, sb, sc, d, e, f) ||
		segmentTouches(c, a, sc, sa, d, e, f) ||
		segmentTouches(d, e, sd, se, a, b, c) ||
		segmentTouches(e, f, se, sf, a, b, c) ||
		segmentTouches(f, d, sf, sd, a, b, c)
}

// flatTrianglesTouch reports whether two triangles of the plane have a point
// in common: if not, the line of a side parts them.
func flatTrianglesTouch(s, t [3]Vec2) bool {
	for _, p := range [2]*[3]Vec2{&s, &t} {
		if orient2d(p[0], p[1], p[2]) < 0 {
			p[1], p[2] = p[2], p[1]
		}
	}
	parts := func(p, q *[3]Vec2) bool {
		for i := range p {
			a, b := p[i], p[(i+1)%3]
			if orient2d(a, b, q[0]) < 0 && orient2d(a, b, q[1]) < 0 && orient2d(a, b, q[2]) < 0 {
				return true
			}
		}
		return false
	}
	return !parts(&s, &t) && !parts(&t, &s)
}

// segmentTouches reports whether the segment p q and the triangle a b c have a
// point in common; sp and sq are the sides of the triangle's plane on which p
// and q lie.
func segmentTouches(p, q Vec, sp, sq int, a, b, c Vec) bool {
	switch {
	case sp*sq > 0:
		return false
	case sp == 0 && sq == 0:
		k := flatAxis(a, b, c)
		t := [3]Vec2{a.drop(k), b.drop(k), c.drop(k)}
		return flatSegmentTouches(p.drop(k), q.drop(k), t)
	case sp == 0:
		k := flatAxis(a, b, c)
		return inTriangle(p.drop(k), [3]Vec2{a.drop(k), b.drop(k), c.drop(k)})
	case sq == 0:
		k := flatAxis(a, b, c)
		return inTriangle(q.drop(k), [3]Vec2{a.drop(k), b.drop(k), c.drop(k)})
	}
	s := orient3d(p, q, a, b)
	t := orient3d(p, q, b, c)
	if s*t < 0 {
		return false
	}
	u := orient3d(p, q, c, a)
	return s*u >= 0 && t*u >= 0
}

// flatSegmentTouches reports whether the segment p q and the triangle have a
// point in common.
func flatSegmentTouches(p, q Vec2, t [3]Vec2) bool {
	if inTriangle(p, t) || inTriangle(q, t) {
		return true
	}
	for i := range t {
		// Both ends are outside, so that the segment, if it touches, runs
		// through a side or along it and out again.
		a, b := t[i], t[(i+1)%3]
		if orient2d(a, b, p)*orient2d(a, b, q) <= 0 && orient2d(p, q, a)*orient2d(p, q, b) <= 0 &&
			rangesMeet(p.X, q.X, a.X, b.X) && rangesMeet(p.Y, q.Y, a.Y, b.Y) {
			return true
		}
	}
	return false
}

// rangesMeet reports whether the intervals between a and b, and between c and
// d, have a number in common.
func rangesMeet(a, b, c, d float64) bool {
	return min(a, b) <= max(c, d) && min(c, d) <= max(a, b)
}

// inTriangle reports whether p lies in the triangle or on its sides.
func inTriangle(p Vec2, t [3]Vec2) bool {
	r, s, u := orient2d(t[0], t[1], p), orient2d(t[1], t[2], p), orient2d(t[2], t[0], p)
	return r >= 0 && s >= 0 && u >= 0 || r <= 0 && s <= 0 && u <= 0
}

// drop projects v along an axis: 0 gives (y, z), 1 (z, x) and 2 (x, y).
func (v Vec) drop(axis int) Vec2 {
	switch axis {
	case 0:
		return Vec2{v.Y, v.Z}
	case 1:
		return Vec2{v.Z, v.X}
	}
	return Vec2{v.X, v.Y}
}

// flatAxis returns the axis along which the triangle a b c is best seen, or -1
// if it is degenerate.
func flatAxis(a, b, c Vec) int {
	n := b.Sub(a).Cross(c.Sub(a))
	x, y, z := math.Abs(n.X), math.Abs(n.Y), math.Abs(n.Z)
	axis := 2
	if x >= y && x >= z {
		axis = 0
	} else if y >= z {
		axis = 1
	}
	for range 3 {
		if orient2d(a.drop(axis), b.drop(axis), c.drop(axis)) != 0 {
			return axis
		}
		axis = (axis + 1) % 3
	}
	return -1
}
