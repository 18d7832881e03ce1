package mesh

// findInside tells for the corners of the faces that may meet the other solid
// whether they lie within it. Corners that edges hold together agree but for
// the crossings between them; one corner of each such group is decided by its
// place outside the other's box, or by a ray.
func (c *cut) findInside(o int, boxes []box) error {
	own, other := c.side[o], c.side[1-o]
	group := newParities(len(own.v))
	for _, f := range c.faces[o] {
		for s := 3 * f; s < 3*f+3; s++ {
			odd := len(c.along(o, own.edge(s)))%2 == 1
			if !group.join(own.org(s), own.dest(s), odd) {
				return c.aligned(own.v[own.org(s)])
			}
		}
	}
	outside := func(v Vec) bool {
		b := triangleBox(v, v, v)
		return !meetsAny(&b, boxes)
	}
	decided := make([]int8, len(own.v)) // by root: 1 outside, 2 inside
	for _, v := range group.order {
		root, odd := group.root(v)
		if decided[root] == 0 && outside(own.v[v]) {
			decided[root] = place(odd)
		}
	}
	c.inside[o] = make([]bool, len(own.v))
	for _, v := range group.order {
		root, odd := group.root(v)
		if decided[root] == 0 {
			decided[root] = place(stepOf(o).within(other, own.v[v]) != odd)
		}
		c.inside[o][v] = (decided[root] == 2) != odd
	}
	return nil
}

// place is 2 for inside and 1 for outside.
func place(inside bool) int8 {
	if inside {
		return 2
	}
	return 1
}

// within reports whether a corner p of the second solid lies within the first,
// a patchwork: a ray upward crosses it an odd number of times.
func (s step) within(solid *patchwork, p Vec) bool {
	x, y, z := float32(p.X), float32(p.Y), float32(p.Z)
	in := false
	for i := range solid.box {
		b := &solid.box[i]
		if x < b.lo[0] || x > b.hi[0] || y < b.lo[1] || y > b.hi[1] || z > b.hi[2] || solid.dead[i] {
			continue
		}
		if q, r, t := solid.corners(int32(i)); s.columnCrosses(p, q, r, t) {
			in = !in
		}
	}
	return in
}

// parities is a union-find forest in which each member knows whether it agrees
// with its parent.
type parities struct {
	parent []uint32 // 1 + the parent, 0 for those that are no members
	odd    []bool   // against the parent
	order  []uint32 // members as they came
}

func newParities(room int) *parities {
	return &parities{parent: make([]uint32, room), odd: make([]bool, room)}
}

// root returns the root of v, which becomes a member, and whether v differs
// from it.
func (p *parities) root(v uint32) (root uint32, odd bool) {
	up := p.parent[v]
	if up == 0 {
		p.parent[v] = v + 1
		p.order = append(p.order, v)
		return v, false
	}
	if up == v+1 {
		return v, false
	}
	root, odd = p.root(up - 1)
	odd = odd != p.odd[v]
	p.parent[v], p.odd[v] = root+1, odd
	return root, odd
}

// join says that v and w agree, or differ if odd. It is false if that
// contradicts what is known.
func (p *parities) join(v, w uint32, odd bool) bool {
	a, oddV := p.root(v)
	b, oddW := p.root(w)
	differ := (oddV != oddW) != odd
	if a == b {
		return !differ
	}
	p.parent[max(a, b)], p.odd[max(a, b)] = min(a, b)+1, differ
	return true
}
