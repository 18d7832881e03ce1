package mesh

// subdivision is a planar graph of straight edges between points, as directed
// edges in pairs: e and e^1 run opposite ways. The edges that leave a point
// are linked in a ring, counter-clockwise. It is the primal half of the
// quad-edge structure of L. Guibas and J. Stolfi, "Primitives for the
// Manipulation of General Subdivisions and the Computation of Voronoi
// Diagrams", ACM Transactions on Graphics 4 (1985) 74-123, whose names the
// methods keep.
type subdivision struct {
	points []Vec2 // in lexicographic order, all distinct
	origin []int32
	onext  []int32 // next edge around the origin, counter-clockwise
	oprev  []int32
	leave  []int32 // for each point, one edge that leaves it
}

func newSubdivision(points []Vec2) *subdivision {
	// Euler's formula bounds the edges at once by 3 n; merging deletes and
	// makes some more.
	room := 8 * len(points)
	return &subdivision{
		points: points,
		origin: make([]int32, 0, room),
		onext:  make([]int32, 0, room),
		oprev:  make([]int32, 0, room),
		leave:  make([]int32, len(points)),
	}
}

func (s *subdivision) org(e int32) int32   { return s.origin[e] }
func (s *subdivision) dest(e int32) int32  { return s.origin[e^1] }
func (s *subdivision) lnext(e int32) int32 { return s.oprev[e^1] }
func (s *subdivision) lprev(e int32) int32 { return s.onext[e] ^ 1 }
func (s *subdivision) rprev(e int32) int32 { return s.onext[e^1] }

// apex returns the third corner of the triangle left of e.
func (s *subdivision) apex(e int32) int32 { return s.dest(s.lnext(e)) }

func (s *subdivision) orient(a, b, c int32) int {
	return orient2d(s.points[a], s.points[b], s.points[c])
}

func (s *subdivision) inCircle(a, b, c, d int32) bool {
	return inCircle(s.points[a], s.points[b], s.points[c], s.points[d]) > 0
}

// add makes a loose edge from point a to point b.
func (s *subdivision) add(a, b int32) int32 {
	e := int32(len(s.origin))
	s.origin = append(s.origin, a, b)
	s.onext = append(s.onext, e, e^1)
	s.oprev = append(s.oprev, e, e^1)
	s.leave[a], s.leave[b] = e, e^1
	return e
}

// splice joins the rings of a and b where they are apart and parts them where
// they are one.
func (s *subdivision) splice(a, b int32) {
	c, d := s.onext[a], s.onext[b]
	s.onext[a], s.onext[b] = d, c
	s.oprev[d], s.oprev[c] = a, b
}

// connect adds the edge from the end of a to the start of b, with the same
// face on the left of all three.
func (s *subdivision) connect(a, b int32) int32 {
	e := s.add(s.dest(a), s.org(b))
	s.splice(e, s.lnext(a))
	s.splice(e^1, b)
	return e
}

// remove unlinks e, which must not be the last edge of either end.
func (s *subdivision) remove(e int32) {
	for _, e := range [2]int32{e, e ^ 1} {
		if s.leave[s.org(e)] == e {
			s.leave[s.org(e)] = s.onext[e]
		}
		s.splice(e, s.oprev[e])
	}
}

// swap turns e, the diagonal of a quadrilateral of two triangles, into the
// other diagonal.
func (s *subdivision) swap(e int32) {
	a, b := s.oprev[e], s.oprev[e^1]
	for _, e := range [2]int32{e, e ^ 1} {
		if s.leave[s.org(e)] == e {
			s.leave[s.org(e)] = s.onext[e]
		}
	}
	s.splice(e, a)
	s.splice(e^1, b)
	s.splice(e, s.lnext(a))
	s.splice(e^1, s.lnext(b))
	s.origin[e], s.origin[e^1] = s.dest(a), s.dest(b)
}

// delaunay triangulates the points lo <= i < hi, at least two, by divide and
// conquer (Guibas and Stolfi, section 9). It returns the edge of the convex
// hull that leaves the first point with the hull on its left, and the one that
// leaves the last point with the hull on its right. Points on a line give a
// path. It is long because it is one procedure of that paper, step for step.
func (s *subdivision) delaunay(lo, hi int32) (left, right int32) {
	switch hi - lo {
	case 2:
		a := s.add(lo, lo+1)
		return a, a ^ 1
	case 3:
		a, b := s.add(lo, lo+1), s.add(lo+1, lo+2)
		s.splice(a^1, b)
		switch s.orient(lo, lo+1, lo+2) {
		case 1:
			s.connect(b, a)
			return a, b ^ 1
		case -1:
			c := s.connect(b, a)
			return c ^ 1, c
		}
		return a, b ^ 1
	}
	mid := lo + (hi-lo)/2
	ldo, ldi := s.delaunay(lo, mid)
	rdi, rdo := s.delaunay(mid, hi)

	for {
		if s.orient(s.org(rdi), s.org(ldi), s.dest(ldi)) > 0 {
			ldi = s.lnext(ldi)
		} else if s.orient(s.org(ldi), s.dest(rdi), s.org(rdi)) > 0 {
			rdi = s.rprev(rdi)
		} else {
			break
		}
	}
	base := s.connect(rdi^1, ldi)
	if s.org(ldi) == s.org(ldo) {
		ldo = base ^ 1
	}
	if s.org(rdi) == s.org(rdo) {
		rdo = base
	}

	above := func(e int32) bool { return s.orient(s.dest(e), s.dest(base), s.org(base)) > 0 }
	for {
		l := s.onext[base^1]
		if above(l) {
			for next := s.onext[l]; s.inCircle(s.dest(base), s.org(base), s.dest(l), s.dest(next)); next = s.onext[l] {
				s.remove(l)
				l = next
			}
		}
		r := s.oprev[base]
		if above(r) {
			for next := s.oprev[r]; s.inCircle(s.dest(base), s.org(base), s.dest(r), s.dest(next)); next = s.oprev[r] {
				s.remove(r)
				r = next
			}
		}
		okL, okR := above(l), above(r)
		switch {
		case !okL && !okR:
			return ldo, rdo
		case !okL || okR && s.inCircle(s.dest(l), s.org(l), s.org(r), s.dest(r)):
			base = s.connect(r, base^1)
		default:
			base = s.connect(base^1, l^1)
		}
	}
}
