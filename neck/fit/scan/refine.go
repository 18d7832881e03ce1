package scan

import (
	"math"

	"neckloft/mesh"
)

// longEdge is the longest edge in mm that a scan keeps. The search for the flat
// and the sides looks at corners in stretches of twice that, and a mesh that is
// no scan but a model may have none between the ends of a flat.
const longEdge = 3.0

// mostRefined bounds the triangles of a refined scan, or twice its own: a mesh that
// would have more is no neck. mostSpan bounds its size in mm: of what is larger the
// units are wrong, which is said elsewhere.
const (
	mostRefined = 1_000_000
	mostSpan    = 5000
)

// refined returns the same surface with no edge longer than longEdge: edges are
// halved, and the triangles beside them with them, until none is. A mesh that has
// none, or would have too many triangles, comes back as it is.
func refined(m *mesh.Mesh) *mesh.Mesh {
	if lo, hi := m.Bounds(); !(hi.Sub(lo).Norm() < mostSpan) {
		return m
	}
	most := max(mostRefined, 2*len(m.Faces))
	// No triangle whose edges are that short is larger than the one with equal ones.
	if m.Area() > float64(most)*longEdge*longEdge*math.Sqrt(3)/4 {
		return m
	}
	out := &mesh.Mesh{Vertices: m.Vertices, Faces: m.Faces}
	fine := make([]bool, len(m.Faces)) // triangles without a long edge, which stay
	halved := 0                        // edges in the last round, about half as many as in the next
	for range 12 {
		next := halving{vertices: out.Vertices[:len(out.Vertices):len(out.Vertices)], middles: make(map[[2]uint32]uint32, 2*halved)}
		next.faces = make([]mesh.Face, 0, len(out.Faces)+2*halved)
		next.fine = make([]bool, 0, len(out.Faces)+2*halved)
		for i, f := range out.Faces {
			if fine[i] {
				next.keep(f)
				continue
			}
			next.halve(f)
		}
		if len(next.faces) > most {
			return m
		}
		if halved = len(next.middles); halved == 0 {
			break
		}
		out, fine = &mesh.Mesh{Vertices: next.vertices, Faces: next.faces}, next.fine
	}
	return out
}

// halving is a mesh whose long edges are being halved.
type halving struct {
	vertices []mesh.Vec
	faces    []mesh.Face
	fine     []bool
	middles  map[[2]uint32]uint32 // of the edges that are halved
}

// keep adds a triangle that stays.
func (h *halving) keep(f mesh.Face) { h.faces, h.fine = append(h.faces, f), append(h.fine, true) }

// add adds triangles that may have long edges.
func (h *halving) add(fs ...mesh.Face) {
	h.faces = append(h.faces, fs...)
	for range fs {
		h.fine = append(h.fine, false)
	}
}

// middle returns the middle of an edge, and false for one that is short.
func (h *halving) middle(a, b uint32) (uint32, bool) {
	p, q := h.vertices[a], h.vertices[b]
	if d := q.Sub(p).Norm(); !(d > longEdge) || math.IsInf(d, 1) {
		return 0, false
	}
	key := [2]uint32{min(a, b), max(a, b)}
	k, ok := h.middles[key]
	if !ok {
		k = uint32(len(h.vertices))
		h.middles[key] = k
		h.vertices = append(h.vertices, p.Add(q).Scale(0.5))
	}
	return k, true
}

// halve adds a triangle, divided at the middles of those of its edges that have
// one.
func (h *halving) halve(f mesh.Face) {
	var mid [3]uint32
	var has [3]bool
	count := 0
	for i := range 3 {
		if mid[i], has[i] = h.middle(f[i], f[(i+1)%3]); has[i] {
			count++
		}
	}
	switch count {
	case 0:
		h.keep(f)
		return
	case 3:
		h.add(mesh.Face{f[0], mid[0], mid[2]}, mesh.Face{mid[0], f[1], mid[1]}, mesh.Face{mid[2], mid[1], f[2]}, mid)
		return
	}
	// Turned so that the first edge is halved, and with two the second too.
	k := 0
	for !has[k] || count == 2 && !has[(k+1)%3] {
		k++
	}
	a, b, c, ab, bc := f[k], f[(k+1)%3], f[(k+2)%3], mid[k], mid[(k+1)%3]
	if count == 1 {
		h.add(mesh.Face{a, ab, c}, mesh.Face{ab, b, c})
		return
	}
	h.add(mesh.Face{ab, b, bc}, mesh.Face{a, ab, bc}, mesh.Face{a, bc, c})
}
