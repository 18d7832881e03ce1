package mesh

import "math"

const (
	// tidyEdge is the length below which an edge is drawn together, and
	// tidyAltitude the height below which a triangle gives its longest edge to its
	// neighbour, where that moves no face by more than leastAltitude.
	tidyEdge     = 2e-3
	tidyAltitude = 2e-3

	// flatGap is how far apart the diagonals of two faces pass each other at most
	// for the two to count as flat: what float32 leaves of a tilted plane.
	flatGap = 2e-5

	// tidyBetter is by how much the smallest angle of two flat faces must grow for
	// their diagonal to be turned, as a part of it. Rounding grows nothing by that.
	tidyBetter = 1e-6
)

// tidy gives the surface better faces. Short edges are drawn together and needles
// turned where next to nothing moves, and flat parts become Delaunay
// triangulations of their corners. Sharp edges stay where they are.
func (p *patchwork) tidy() {
	c := &cleaner{patchwork: p}
	p.first, p.ref = 0, make([]Vec, len(p.f))
	for i := range p.f {
		if p.ref[i] = p.look[i]; p.dead[i] || p.ref[i] != (Vec{}) {
			continue
		}
		a, b, d := p.corners(int32(i))
		n := b.Sub(a).Cross(d.Sub(a))
		p.ref[i] = n.Scale(1 / max(n.Norm(), 1e-300))
	}
	for range 4 {
		c.touched = false
		for i := range p.f {
			if !p.dead[i] {
				c.tidyFace(int32(i))
			}
		}
		if !c.touched {
			break
		}
	}
	c.turnFlat()
}

// tidyFace looks after one face that is short or low.
func (c *cleaner) tidyFace(f int32) {
	a, b, d := c.corners(f)
	u, v, w := b.Sub(a), d.Sub(b), a.Sub(d)
	uu, vv, ww := u.Dot(u), v.Dot(v), w.Dot(w)
	longest := max(uu, vv, ww)
	m := u.Cross(v)
	// The altitude is at most the shortest side.
	if m.Dot(m) >= tidyAltitude*tidyAltitude*longest {
		return
	}
	side := func(k float64) int32 {
		switch k {
		case uu:
			return 3 * f
		case vv:
			return 3*f + 1
		}
		return 3*f + 2
	}
	if short := min(uu, vv, ww); short < tidyEdge*tidyEdge && c.collapse(side(short)) {
		c.touched = true
		return
	}
	if s := side(longest); c.gap(s) <= leastAltitude && c.turn(s, c.lowest) {
		c.touched = true
	}
}

// gap returns how far apart the edge of a side and the line that joins the corners
// across it pass each other: by so much turning the edge moves the surface.
func (c *cleaner) gap(s int32) float64 {
	a, b := c.v[c.org(s)], c.v[c.dest(s)]
	d, e := c.v[c.apex(s)], c.v[c.apex(c.twin[s])]
	n := b.Sub(a).Cross(e.Sub(d))
	if k := n.Norm(); k > 0 {
		return math.Abs(n.Dot(d.Sub(a))) / k
	}
	return math.Inf(1)
}

// lowest judges a triangle by its smallest altitude, negative if it faces away
// from n.
func (c *cleaner) lowest(u, v, w uint32, n Vec) float64 {
	return altitude(c.v[u], c.v[v], c.v[w], n)
}

// narrowest judges a triangle by the sine of its smallest angle, negative if it
// faces away from n.
func (c *cleaner) narrowest(i, j, k uint32, n Vec) float64 {
	u, v, w := c.v[j].Sub(c.v[i]), c.v[k].Sub(c.v[j]), c.v[i].Sub(c.v[k])
	a, b, d := u.Norm(), v.Norm(), w.Norm()
	m := u.Cross(v)
	// The smallest angle lies between the two longer sides.
	sine := m.Norm() * min(a, b, d) / max(a*b*d, 1e-300)
	if m.Dot(n) < 0 {
		return -sine
	}
	return sine
}

// turn turns the edge of a side within its two faces if the worse of the two is
// better for it, and reports whether it did.
func (c *cleaner) turn(s int32, worth func(i, j, k uint32, n Vec) float64) bool {
	t := c.twin[s]
	f, g := s/3, t/3
	a, b, d, e := c.org(s), c.dest(s), c.apex(s), c.apex(t)
	if d == e {
		return false
	}
	n := c.ref[f]
	if area := func(i, j, k uint32) float64 { return c.v[j].Sub(c.v[i]).Cross(c.v[k].Sub(c.v[i])).Norm() }; area(b, a, e) > area(a, b, d) {
		n = c.ref[g]
	}
	old := min(worth(a, b, d, n), worth(b, a, e, n))
	if min(worth(a, e, d, n), worth(e, b, d, n)) <= max(old, 0)*(1+tidyBetter) {
		return false
	}
	// Neither may lean, nor the two corners be neighbours already.
	for _, r := range [2]Face{{a, e, d}, {e, b, d}} {
		m := c.v[r[1]].Sub(c.v[r[0]]).Cross(c.v[r[2]].Sub(c.v[r[0]]))
		if m.Dot(n) < 0.99*m.Norm() {
			return false
		}
	}
	for _, r := range c.ring(prevSide(s)) {
		if c.dest(r) == e {
			return false
		}
	}
	c.relink(s, n)
	return true
}

// turnFlat turns edges between flat faces until the smallest angles are as large as
// they can be: each part that is flat is then a Delaunay triangulation.
func (c *cleaner) turnFlat() {
	queue := make([]int32, 0, len(c.f))
	for s := range c.twin {
		if t := c.twin[s]; !c.dead[s/3] && int32(s) < t && c.flatAcross(int32(s)) {
			queue = append(queue, int32(s))
		}
	}
	c.turnFrom(queue, nil)
}

// turnFrom is turnFlat for the edges of some sides and those around them. Where it
// is given, turned is told of the two faces of each edge that was turned.
func (c *cleaner) turnFrom(queue []int32, turned func(f, g int32)) {
	for budget := 20 * len(queue); len(queue) > 0 && budget > 0; budget-- {
		s := queue[len(queue)-1]
		queue = queue[:len(queue)-1]
		if !c.flatAcross(s) || !c.turn(s, c.narrowest) {
			continue
		}
		// The four edges around may have become the wrong ones.
		f, g := s/3, c.lastTurned
		if turned != nil {
			turned(f, g)
		}
		for _, r := range [2]int32{f, g} {
			for k := range int32(3) {
				if t := 3*r + k; c.twin[t]/3 != f && c.twin[t]/3 != g && c.flatAcross(t) {
					queue = append(queue, t)
				}
			}
		}
	}
}

// flatAcross reports whether the two faces at an edge lie in one plane.
func (c *cleaner) flatAcross(s int32) bool {
	n, m := c.ref[s/3], c.ref[c.twin[s]/3]
	if n == m { // of one region, which was plane
		return c.gap(s) <= flatWithin
	}
	return n.Dot(m) > 1-1e-6 && c.gap(s) <= flatGap
}
