package mesh

import "math"

// A long flat with a short edge far from all other corners, such as the side of a board
// with slots in it, has no good triangulation: each short edge wants a corner beside
// it.

// deepen gives the shortest edge of a sliver in a flat a corner of the flat's own
// beside it, or one on the far border of a strip, and makes the flat Delaunay again
// around it.
func (c *polisher) deepen(f int32) bool {
	s := 3 * f
	for t := s + 1; t < 3*f+3; t++ {
		if c.length(t) < c.length(s) {
			s = t
		}
	}
	long := c.length(s)
	if long < polishLow || c.added > 2*c.found {
		return false
	}
	a, b := c.v[c.org(s)], c.v[c.dest(s)]
	in := c.ref[f].Cross(b.Sub(a)) // as long as the edge
	beside := func(k float64) Vec {
		return Vec{
			float64((a.X+b.X)/2) + float64(k*in.X),
			float64((a.Y+b.Y)/2) + float64(k*in.Y),
			float64((a.Z+b.Z)/2) + float64(k*in.Z),
		}.Settle()
	}
	border := int32(-1)
	for k := 1.0; k*long > polishLow; k /= 2 {
		at := beside(k)
		g, out := c.walk(f, at)
		if g >= 0 && c.splitsInside(g, at) && c.roomAround(g, at, in.Scale(1/long), b.Sub(a).Scale(1/long)) {
			c.insert(g, at)
			return true
		}
		if border < 0 {
			border = out
		}
	}
	return border >= 0 && long >= 4*polishLow && c.insertOn(border, beside(0))
}

// roomAround reports whether a flat goes on around a place in it for as far as a sliver
// is high. The two directions span the flat.
func (c *polisher) roomAround(f int32, at, x, y Vec) bool {
	for _, k := range [8][2]float64{{1, 0}, {0, 1}, {-1, 0}, {0, -1}, {0.7, 0.7}, {-0.7, 0.7}, {0.7, -0.7}, {-0.7, -0.7}} {
		if g, _ := c.walk(f, at.Add(x.Scale(polishLow*k[0])).Add(y.Scale(polishLow*k[1]))); g < 0 {
			return false
		}
	}
	return true
}

// walk returns the face of a flat that a place in it lies on, from face f on, or else
// the side by which the way leaves the flat; -1 for the other.
func (c *polisher) walk(f int32, at Vec) (in, border int32) {
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
			return f, -1
		}
		if !c.flatAcross(out) {
			return -1, out
		}
		f = c.twin[out] / 3
	}
	return -1, -1
}

// splitsInside reports whether a place lies in the plane of a face, and off its edges.
func (c *polisher) splitsInside(f int32, at Vec) bool {
	p, q, r := c.corners(f)
	if leaves(p, q, r, at) || math.Abs(c.ref[f].Dot(at.Sub(p))) > leastAltitude {
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
	v := c.addCorner(at)
	t, twin := c.f[f], [3]int32{c.twin[3*f], c.twin[3*f+1], c.twin[3*f+2]}
	faces := [3]int32{f, c.addFace(f), c.addFace(f)}
	for k, h := range faces {
		c.f[h] = Face{t[k], t[(k+1)%3], v}
		c.join(3*h, twin[k])
		c.join(3*h+1, 3*faces[(k+1)%3]+2)
	}
	c.flatten(faces[:])
}

// insertOn adds a corner on a side, next to a place, where that leaves both faces at
// it in their planes: each becomes two.
func (c *polisher) insertOn(s int32, near Vec) bool {
	t := c.twin[s]
	a, b := c.v[c.org(s)], c.v[c.dest(s)]
	along := b.Sub(a)
	at := onEdge(a, b, near.Sub(a).Dot(along)/along.Dot(along))
	if min(at.Sub(a).Norm(), at.Sub(b).Norm()) < 4*polishLow || at.Sub(near).Norm() < polishLow {
		return false
	}
	for _, f := range [2]int32{s / 3, t / 3} {
		if p, q, r := c.corners(f); leaves(p, q, r, at) || math.Abs(c.ref[f].Dot(at.Sub(a))) > leastAltitude {
			return false
		}
	}
	f, g := s/3, t/3
	from, to, d, e := c.org(s), c.dest(s), c.apex(s), c.apex(t)
	fromD, fromE, toD, toE := c.twin[prevSide(s)], c.twin[nextSide(t)], c.twin[nextSide(s)], c.twin[prevSide(t)]
	v, h, k := c.addCorner(at), c.addFace(f), c.addFace(g)
	// f keeps the start of s, and g its end.
	c.f[f], c.f[h] = Face{from, v, d}, Face{v, to, d}
	c.f[g], c.f[k] = Face{to, v, e}, Face{v, from, e}
	c.join(3*f, 3*k)
	c.join(3*h, 3*g)
	c.join(3*f+1, 3*h+2)
	c.join(3*g+1, 3*k+2)
	c.join(3*f+2, fromD)
	c.join(3*h+1, toD)
	c.join(3*g+2, toE)
	c.join(3*k+1, fromE)
	c.flatten([]int32{f, g, h, k})
	return true
}

func (c *polisher) addCorner(at Vec) uint32 {
	c.added++
	c.v = append(c.v, at)
	return uint32(len(c.v) - 1)
}

// addFace adds a face that is to be a part of another.
func (c *polisher) addFace(of int32) int32 {
	c.f, c.dead, c.box = append(c.f, Face{}), append(c.dead, false), append(c.box, box{})
	c.twin, c.made = append(c.twin, 0, 0, 0), append(c.made, c.made[of])
	c.ref, c.off = append(c.ref, c.ref[of]), append(c.off, c.off[of])
	return int32(len(c.f) - 1)
}

func (c *polisher) join(s, t int32) { c.twin[s], c.twin[t] = t, s }

// flatten makes flats Delaunay around some new faces.
func (c *polisher) flatten(faces []int32) {
	var queue []int32
	for _, f := range faces {
		c.box[f] = triangleBox(c.corners(f))
		queue = append(queue, 3*f, 3*f+1, 3*f+2)
	}
	c.turnFrom(queue, func(f, g int32) { c.mix(f, g, 0) })
}
