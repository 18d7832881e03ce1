package mesh

import "cmp"

// insert makes the segment from point a to point b an edge of the triangulation
// and returns it. fixed tells the edges that may not go (by e>>1). It fails,
// changing nothing, when the segment runs through a point or across a fixed
// edge: it then returns that point, or that edge, and -1 for the other.
//
// The edges across the segment are removed and each side of the gap, all of
// whose points are in sight of the segment, is filled by a Graham scan: G.
// Toussaint and D. Avis, "On a convex hull algorithm for polygons and its
// application to triangulation problems", Pattern Recognition 15 (1982) 23-29.
func (s *subdivision) insert(a, b int32, fixed func(e int32) bool) (edge, point, across int32, ok bool) {
	first := s.leave[a]
	crossing := int32(-1)
	for e := first; ; {
		p := s.dest(e)
		if p == b {
			return e, -1, -1, true
		}
		sideP := s.orient(a, b, p)
		if sideP == 0 && lexicographic(s.points[p], s.points[a]) == lexicographic(s.points[b], s.points[a]) {
			return -1, p, -1, false
		}
		next := s.onext[e]
		q := s.dest(next)
		if sideP < 0 && s.orient(a, b, q) > 0 && s.orient(a, p, q) > 0 {
			crossing = s.lnext(e)
			break
		}
		if e = next; e == first {
			return -1, -1, -1, false // points on one line have no triangles
		}
	}

	// Walk along the segment. The triangle left of crossing is the one behind.
	var gone []int32
	for e := crossing; ; {
		if fixed(e) {
			return -1, -1, e, false
		}
		gone = append(gone, e)
		e ^= 1
		r := s.apex(e)
		if r == b {
			break
		}
		switch s.orient(a, b, r) {
		case 0:
			return -1, r, -1, false
		case 1:
			e = s.lnext(e)
		default:
			e = s.lprev(e)
		}
	}
	behind := s.lnext(gone[0])              // ends in a
	ahead := s.lprev(gone[len(gone)-1] ^ 1) // starts in b
	for _, e := range gone {
		s.remove(e)
	}
	edge = s.connect(behind, ahead)
	s.fill(edge)
	s.fill(edge ^ 1)
	return edge, -1, -1, true
}

// fill triangulates the face left of base, whose every point sees base.
func (s *subdivision) fill(base int32) {
	var stack []int32
	for e := s.lnext(base); e != base; e = s.lnext(e) {
		stack = append(stack, e)
	}
	// stack[:n] is the chain scanned so far and e the edge that extends it.
	n := 0
	for _, e := range stack {
		for n > 0 && s.orient(s.org(stack[n-1]), s.org(e), s.dest(e)) > 0 {
			if n == 1 && s.lnext(e) == base {
				break // the last triangle
			}
			e = s.connect(e, stack[n-1]) ^ 1
			n--
		}
		stack[n] = e
		n++
	}
}

// lexicographic compares a and b by X, then by Y.
func lexicographic(a, b Vec2) int {
	if c := cmp.Compare(a.X, b.X); c != 0 {
		return c
	}
	return cmp.Compare(a.Y, b.Y)
}
