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
	out := &mesh.Mesh{Vertices: m.Vertices, Faces: m.Faces}
	for range 12 {
		middles := make(map[[2]uint32]uint32)
		vertices := out.Vertices[:len(out.Vertices):len(out.Vertices)]
		middle := func(a, b uint32) (uint32, bool) {
			p, q := vertices[a], vertices[b]
			if d := q.Sub(p).Norm(); !(d > longEdge) || math.IsInf(d, 1) {
				return 0, false
			}
			key := [2]uint32{min(a, b), max(a, b)}
			k, ok := middles[key]
			if !ok {
				k = uint32(len(vertices))
				middles[key] = k
				vertices = append(vertices, p.Add(q).Scale(0.5))
			}
			return k, true
		}
		var faces []mesh.Face
		for _, f := range out.Faces {
			faces = halved(faces, f, middle)
		}
		if len(faces) > max(mostRefined, 2*len(m.Faces)) {
			return m
		}
		if len(middles) == 0 {
			break
		}
		out = &mesh.Mesh{Vertices: vertices, Faces: faces}
	}
	return out
}

// halved adds a triangle, divided at the middles of those of its edges that have
// one.
func halved(faces []mesh.Face, f mesh.Face, middle func(a, b uint32) (uint32, bool)) []mesh.Face {
	var mid [3]uint32
	var has [3]bool
	count := 0
	for i := range 3 {
		if mid[i], has[i] = middle(f[i], f[(i+1)%3]); has[i] {
			count++
		}
	}
	switch count {
	case 0:
		return append(faces, f)
	case 3:
		return append(faces, mesh.Face{f[0], mid[0], mid[2]}, mesh.Face{mid[0], f[1], mid[1]}, mesh.Face{mid[2], mid[1], f[2]}, mid)
	}
	// Turned so that the first edge is halved, and with two the second too.
	k := 0
	for !has[k] || count == 2 && !has[(k+1)%3] {
		k++
	}
	a, b, c, ab, bc := f[k], f[(k+1)%3], f[(k+2)%3], mid[k], mid[(k+1)%3]
	if count == 1 {
		return append(faces, mesh.Face{a, ab, c}, mesh.Face{ab, b, c})
	}
	return append(faces, mesh.Face{ab, b, bc}, mesh.Face{a, ab, bc}, mesh.Face{a, bc, c})
}
