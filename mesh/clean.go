package mesh

import "math"

const (
	// leastEdge is the length below which an edge that a cut made is drawn
	// together, where that moves no face by more than leastAltitude.
	leastEdge = 5e-4
	// leastAltitude is the height below which a triangle that a cut made gives
	// its longest edge to its neighbour, and an edge is drawn together in any
	// case.
	leastAltitude = 1e-4
)

// cleaner mends the faces that a cut made: corners that float32 has brought
// together or turned over, edges too short, and needles.
type cleaner struct {
	*patchwork
	// Corners below fixed are the base's and stay; those below sharp are the
	// cutter's and give way to no crossing.
	fixed, sharp uint32
	touched      bool
	lastTurned   int32 // see relink
}

// clean mends the faces of the last replace.
func (p *patchwork) clean(fixed, sharp uint32) {
	c := &cleaner{patchwork: p, fixed: fixed, sharp: sharp}
	for range 12 {
		c.touched = false
		for i := p.first; i < len(p.f); i++ {
			if !p.dead[i] {
				c.mend(int32(i))
			}
		}
		if !c.touched {
			return
		}
	}
}

// normalOf returns the normal that a face ought to have.
func (c *cleaner) normalOf(f int32) Vec {
	if int(f) >= c.first {
		return c.ref[int(f)-c.first]
	}
	a, b, d := c.corners(f)
	n := b.Sub(a).Cross(d.Sub(a))
	if k := n.Norm(); k > 0 {
		return n.Scale(1 / k)
	}
	return n
}

// altitude returns the smallest altitude of a triangle, negative if it faces
// away from n.
func altitude(a, b, c, n Vec) float64 {
	u, v, w := b.Sub(a), c.Sub(b), a.Sub(c)
	longest := max(u.Norm(), v.Norm(), w.Norm())
	if longest == 0 {
		return 0
	}
	m := u.Cross(v)
	h := m.Norm() / longest
	if m.Dot(n) < 0 {
		return -h
	}
	return h
}

// mend looks after one face.
func (c *cleaner) mend(f int32) {
	shortest, longest := 3*f, 3*f
	length := func(s int32) float64 {
		d := c.v[c.dest(s)].Sub(c.v[c.org(s)])
		return d.Dot(d)
	}
	for s := 3*f + 1; s < 3*f+3; s++ {
		if length(s) < length(shortest) {
			shortest = s
		}
		if length(s) > length(longest) {
			longest = s
		}
	}
	if length(shortest) < leastEdge*leastEdge && c.collapse(shortest) {
		c.touched = true
		return
	}
	a, b, d := c.corners(f)
	if altitude(a, b, d, c.normalOf(f)) < leastAltitude && c.flip(longest) {
		c.touched = true
	}
}

// rank orders corners by how firmly they stay.
func (c *cleaner) rank(v uint32) int {
	switch {
	case v < c.fixed:
		return 0
	case v < c.sharp:
		return 1
	}
	return 2
}

// collapse draws the edge of a side together, to the end that stays more
// firmly, if that turns no face over and leaves the surface whole.
func (c *cleaner) collapse(s int32) bool {
	t := c.twin[s]
	rs, rt := c.rank(c.org(s)), c.rank(c.org(t))
	if rs < rt {
		s, t, rs, rt = t, s, rt, rs
	}
	if rs == 0 {
		return false
	}
	return c.collapseTo(s) || rs == rt && c.collapseTo(t)
}

// collapseTo moves the start of a side to its end. Many cases, one for each reason
// not to.
func (c *cleaner) collapseTo(s int32) bool {
	u, w := c.org(s), c.dest(s)
	edge := c.v[w].Sub(c.v[u])
	long := edge.Norm() > leastAltitude
	ring := c.ring(s)
	if len(ring) < 3 || len(ring) > 1000 {
		return false
	}
	// The ends may have no neighbours in common but the two across the edge.
	if c.commonNeighbours(s, ring) != 2 {
		return false
	}
	for _, r := range ring {
		f := r / 3
		if f == s/3 || f == c.twin[s]/3 {
			continue
		}
		n := c.normalOf(f)
		if long && math.Abs(n.Dot(edge)) > leastAltitude {
			return false
		}
		before := altitude(c.v[u], c.v[c.dest(r)], c.v[c.apex(r)], n)
		after := altitude(c.v[w], c.v[c.dest(r)], c.v[c.apex(r)], n)
		if after <= 0 || after < leastAltitude && after < before {
			return false
		}
		if after >= leastAltitude && !c.upright(w, r, n) {
			return false
		}
	}
	c.unite(s, ring)
	return true
}

// unite moves the start of a side to its end, which takes the two faces at the side
// out. The sides of the ring leave the start.
func (c *cleaner) unite(s int32, ring []int32) {
	w := c.dest(s)
	for _, r := range ring {
		f := r / 3
		c.f[f][r%3] = w
		if f != s/3 && f != c.twin[s]/3 {
			c.box[f] = triangleBox(c.corners(f))
		}
	}
	t := c.twin[s]
	for _, e := range [2]int32{s, t} {
		a, b := c.twin[nextSide(e)], c.twin[prevSide(e)]
		c.twin[a], c.twin[b] = b, a
		c.dead[e/3] = true
	}
}

// commonNeighbours counts the corners next to both ends of a side, from whose start
// the sides of the ring leave.
func (c *cleaner) commonNeighbours(s int32, ring []int32) int {
	count := 0
	for t := c.twin[s]; ; {
		for _, r := range ring {
			if c.dest(t) == c.dest(r) {
				count++
			}
		}
		if t = c.twin[prevSide(t)]; t == c.twin[s] {
			return count
		}
	}
}

// upright reports whether the face of side r, its start moved to w, keeps
// within a small turn of the normal n.
func (c *cleaner) upright(w uint32, r int32, n Vec) bool {
	a, b, d := c.v[w], c.v[c.dest(r)], c.v[c.apex(r)]
	m := b.Sub(a).Cross(d.Sub(a))
	return m.Dot(n) > 0.7*m.Norm()
}

// ring lists the sides that leave the start of s, itself first.
func (c *cleaner) ring(s int32) []int32 {
	var out []int32
	for t := s; ; {
		out = append(out, t)
		if t = c.twin[prevSide(t)]; t == s || len(out) > 1000 {
			return out
		}
	}
}

// flip gives the edge of side s, the longest of a needle, to the face across:
// the needle's third corner, which all but lies on the edge, comes to stand
// between the two faces that were one.
func (c *cleaner) flip(s int32) bool {
	t := c.twin[s]
	f, g := s/3, t/3
	a, b, d, e := c.org(s), c.dest(s), c.apex(s), c.apex(t)
	if d == e {
		return false
	}
	for _, r := range c.ring(prevSide(s)) {
		if c.dest(r) == e {
			return false
		}
	}
	n := c.normalOf(g)
	old := min(altitude(c.v[a], c.v[b], c.v[d], c.normalOf(f)), altitude(c.v[b], c.v[a], c.v[e], n))
	one := altitude(c.v[a], c.v[e], c.v[d], n)
	two := altitude(c.v[e], c.v[b], c.v[d], n)
	if min(one, two) <= 0 || min(one, two) <= old || int(g) < c.first && old > 0 {
		return false
	}
	c.relink(s, n)
	return true
}

// relink turns the edge of side s within its two faces. The face of s looks along n
// afterwards, and that of its twin is lastTurned.
func (c *cleaner) relink(s int32, n Vec) {
	t := c.twin[s]
	f, g := s/3, t/3
	a, b, d, e := c.org(s), c.dest(s), c.apex(s), c.apex(t)
	// f becomes a e d, g becomes e b d.
	ae, eb := c.twin[nextSide(t)], c.twin[prevSide(t)]
	bd, da := c.twin[nextSide(s)], c.twin[prevSide(s)]
	c.f[f], c.f[g] = Face{a, e, d}, Face{e, b, d}
	link := func(x, y int32) { c.twin[x], c.twin[y] = y, x }
	link(3*f, ae)
	link(3*f+1, 3*g+2)
	link(3*f+2, da)
	link(3*g, eb)
	link(3*g+1, bd)
	c.ref[int(f)-c.first] = n
	for _, i := range [2]int32{f, g} {
		c.box[i] = triangleBox(c.corners(i))
	}
	c.lastTurned = g
}
