package mesh

import "math"

// A long flat with a short edge far from all other corners, such as the side of a board
// with slots in it, has no good triangulation: each short edge wants a corner beside
// it.

// deepest is how far the corner beside an edge stands off it at most, in parts of the
// edge's length.
const deepest = 1.0

// deepen gives the shortest edge of a sliver in a flat a corner of the flat's own
// beside it, and makes the flat Delaunay again around it.
func (c *polisher) deepen(f int32) bool {
	s := 3 * f
	for t := s + 1; t < 3*f+3; t++ {
		if c.length(t) < c.length(s) {
			s = t
		}
	}
	long := c.length(s)
	if long < 4*polishLow || c.added > 2*c.found {
		return false
	}
	a, b := c.v[c.org(s)], c.v[c.dest(s)]
	in := c.ref[f].Cross(b.Sub(a)) // as long as the edge
	for k := deepest; k*long > 2*polishLow; k /= 2 {
		at := Vec{
			float64((a.X+b.X)/2) + float64(k*in.X),
			float64((a.Y+b.Y)/2) + float64(k*in.Y),
			float64((a.Z+b.Z)/2) + float64(k*in.Z),
		}.Settle()
		if g := c.walk(f, at); g >= 0 && c.splitsInside(g, at) {
			c.insert(g, at)
			return true
		}
	}
	return false
}

// walk returns the face of a flat that a place in it lies on, from face f on; -1
// where the way leaves the flat.
func (c *polisher) walk(f int32, at Vec) int32 {
	n := c.ref[f]
	for range 100 {
		out := int32(-1)
		for s := 3 * f; s < 3*f+3; s++ {
			a, b := c.v[c.org(s)], c.v[c.dest(s)]
			if b.Sub(a).Cross(at.Sub(a)).Dot(n) < 0 {
				out = s
				break
			}
		}
		if out < 0 {
			return f
		}
		if !c.flatAcross(out) {
			return -1
		}
		f = c.twin[out] / 3
	}
	return -1
}

// splitsInside reports whether a place lies in the plane of a face, and off its edges.
func (c *polisher) splitsInside(f int32, at Vec) bool {
	p, q, r := c.corners(f)
	if leaves(p, q, r, at) || math.Abs(c.ref[f].Dot(at.Sub(p))) > flatGap {
		return false
	}
	for _, t := range [3][2]Vec{{p, q}, {q, r}, {r, p}} {
		m := t[1].Sub(t[0]).Cross(at.Sub(t[0]))
		if m.Dot(c.ref[f]) <= 0.99*m.Norm() || altitude(t[0], t[1], at, Vec{}) < leastAltitude {
			return false
		}
	}
	return true
}

// insert adds a corner within a face, which becomes three.
func (c *polisher) insert(f int32, at Vec) {
	c.added++
	v := uint32(len(c.v))
	c.v = append(c.v, at)
	t, twin := c.f[f], [3]int32{c.twin[3*f], c.twin[3*f+1], c.twin[3*f+2]}
	g := int32(len(c.f))
	faces := [3]int32{f, g, g + 1}
	for range 2 {
		c.f, c.dead, c.box = append(c.f, Face{}), append(c.dead, false), append(c.box, box{})
		c.twin, c.made = append(c.twin, 0, 0, 0), append(c.made, c.made[f])
		c.ref, c.off = append(c.ref, c.ref[f]), append(c.off, c.off[f])
	}
	link := func(s, t int32) { c.twin[s], c.twin[t] = t, s }
	for k, h := range faces {
		c.f[h] = Face{t[k], t[(k+1)%3], v}
		c.box[h] = triangleBox(c.corners(h))
		link(3*h, twin[k])
		link(3*h+1, 3*faces[(k+1)%3]+2)
	}
	c.turnFrom([]int32{3 * f, 3 * g, 3 * (g + 1), 3*f + 1, 3*g + 1, 3*(g+1) + 1}, func(f, g int32) {
		c.mix(f, g, 0)
	})
}
