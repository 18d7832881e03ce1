package mesh

// upright reports whether the mesh, whose edges are sound, is proved to be free
// of self-intersections as a set of plates: all of its corners lie in two planes
// z = lo and z = hi, its faces in these planes look outward, and the others
// stand between them in pairs, each a rectangle. What collides in it would
// collide in the outline of its upper side, which is therefore all there is to
// look at:
//
// the faces in one plane, by the rule for sheets; two upright faces, since they
// stand on two pieces of the outline or are the halves of one rectangle; and an
// upright face and one in a plane, since they could meet in the outline alone.
// No plate lies inside another.
func upright(m *Mesh, twin []int32) bool {
	lo, hi := m.Bounds()
	p := plates{mesh: m, twin: twin, lo: lo.Z, hi: hi.Z}
	for f := range m.Faces {
		if !p.fits(int32(f)) {
			return false
		}
	}
	return p.outline.simple(make([]int32, len(m.Vertices)))
}

// plates is a mesh that seems to be a set of plates.
type plates struct {
	mesh    *Mesh
	twin    []int32
	lo, hi  float64
	outline outline // of the upper side
}

// raised returns how many corners of a face lie in the upper plane, and whether
// the others lie in the lower one.
func (p *plates) raised(f int32) (n int, ok bool) {
	for _, v := range p.mesh.Faces[f] {
		switch p.mesh.Vertices[v].Z {
		case p.hi:
			n++
		case p.lo:
		default:
			return 0, false
		}
	}
	return n, true
}

// fits looks at one face, and adds the pieces of the outline along it.
func (p *plates) fits(f int32) bool {
	n, ok := p.raised(f)
	if !ok {
		return false
	}
	a, b, c := p.mesh.Triangle(int(f))
	switch n {
	case 0:
		return orient2d(a.drop(2), b.drop(2), c.drop(2)) < 0
	case 3:
		for s := 3 * f; s < 3*f+3; s++ {
			if n, _ := p.raised(p.twin[s] / 3); n != 3 {
				v, w := p.corner(s), p.corner(nextSide(s))
				p.outline.add(v, w, p.mesh.Vertices[v].drop(2), p.mesh.Vertices[w].drop(2))
			}
		}
		return orient2d(a.drop(2), b.drop(2), c.drop(2)) > 0
	}
	return p.stands(f, n)
}

func (p *plates) corner(s int32) uint32 { return p.mesh.Faces[s/3][s%3] }

// stands reports whether a face with one or two corners raised is upright, has a
// face of the plane beside its level side, and across its diagonal the other
// half of a rectangle.
func (p *plates) stands(f int32, raised int) bool {
	at := func(s int32) Vec { return p.mesh.Vertices[p.corner(s)] }
	level := 3 * f
	for s := 3*f + 1; s < 3*f+3; s++ {
		if at(s).Z == at(nextSide(s)).Z {
			level = s
		}
	}
	beside, ok := p.raised(p.twin[level] / 3)
	if !ok || beside != 3*(raised-1) {
		return false
	}
	next, prev := nextSide(level), prevSide(level)
	alone := at(prev)
	diagonal, far := next, at(next)
	if far.X == alone.X && far.Y == alone.Y {
		diagonal, far = prev, at(level)
	} else if near := at(level); near.X != alone.X || near.Y != alone.Y {
		return false
	}
	apex := at(prevSide(p.twin[diagonal]))
	return apex.Z == alone.Z && apex.X == far.X && apex.Y == far.Y
}
