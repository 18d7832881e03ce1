package mesh

// findInside tells for the corners of the faces that may meet the other solid
// whether they lie within it. Corners that edges hold together agree but for
// the crossings between them; one corner of each such group is decided by its
// place outside the other's box, or by a ray.
func (c *cut) findInside(o int, boxes []box) error {
	own, other := c.side[o], c.side[1-o]
	group := newParities(4 * len(c.faces[o]))
	for _, f := range c.faces[o] {
		for s := 3 * f; s < 3*f+3; s++ {
			odd := len(c.on[o][own.edge(s)])%2 == 1
			if !group.join(own.org(s), own.dest(s), odd) {
				return c.aligned(own.v[own.org(s)])
			}
		}
	}
	outside := func(v Vec) bool {
		b := triangleBox(v, v, v)
		for i := range boxes {
			if boxes[i].meets(&b) {
				return false
			}
		}
		return true
	}
	decided := map[uint32]bool{} // by root: whether the root is inside
	for _, v := range group.order {
		root, odd := group.root(v)
		if _, ok := decided[root]; !ok && outside(own.v[v]) {
			decided[root] = odd
		}
	}
	c.inside[o] = make(map[uint32]bool, len(group.order))
	for _, v := range group.order {
		root, odd := group.root(v)
		in, ok := decided[root]
		if !ok {
			in = stepOf(o).within(other, own.v[v]) != odd
			decided[root] = in
		}
		c.inside[o][v] = in != odd
	}
	return nil
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
	parent map[uint32]uint32
	odd    map[uint32]bool // against the parent
	order  []uint32        // members as they came
}

func newParities(room int) *parities {
	return &parities{parent: make(map[uint32]uint32, room), odd: make(map[uint32]bool, room)}
}

// root returns the root of v and whether v differs from it.
func (p *parities) root(v uint32) (root uint32, odd bool) {
	up, ok := p.parent[v]
	if !ok {
		p.parent[v] = v
		p.order = append(p.order, v)
		return v, false
	}
	if up == v {
		return v, false
	}
	root, odd = p.root(up)
	odd = odd != p.odd[v]
	p.parent[v], p.odd[v] = root, odd
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
	p.parent[max(a, b)], p.odd[max(a, b)] = min(a, b), differ
	return true
}
