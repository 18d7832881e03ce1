package brep

import (
	"maps"

	"neckloft/mesh"
)

// skin is a closed mesh of faces, which knows what it is made of.
type skin struct {
	mesh.Mesh
	faces  []*Face
	tag    []int // by triangle, its face
	corner map[*Vertex]uint32
	chords map[[2]uint32]rimPoint // a piece of an edge, by both ends, that begins at a point
}

// adopt notes which faces have which edges, and returns these in their order.
func (n *net) adopt(faces []*Face) []*Edge {
	owners := map[*Edge][]*Face{}
	var order []*Edge
	for _, f := range faces {
		for _, l := range f.Loops {
			for _, u := range l {
				if owners[u.Edge] == nil {
					order = append(order, u.Edge)
				}
				owners[u.Edge] = append(owners[u.Edge], f)
			}
		}
	}
	maps.Copy(n.owners, owners)
	return order
}

// skin tessellates faces, which close a solid or several.
func (n *net) skin(faces []*Face) (*skin, error) {
	order := n.adopt(faces)
	s := &skin{faces: faces, corner: map[*Vertex]uint32{}, chords: map[[2]uint32]rimPoint{}}
	add := func(p mesh.Vec) uint32 {
		s.Vertices = append(s.Vertices, p)
		return uint32(len(s.Vertices) - 1)
	}
	vertex := func(v *Vertex) uint32 {
		i, ok := s.corner[v]
		if !ok {
			i = add(v.At)
			s.corner[v] = i
		}
		return i
	}
	first := map[*Edge]uint32{} // of the points within
	for _, e := range order {
		t := n.sample(e, n.owners[e])
		last, to := vertex(e.From), vertex(e.To)
		first[e] = uint32(len(s.Vertices))
		for k := range len(t) - 1 {
			next := to
			if k+2 < len(t) {
				next = add(e.Curve.Point(t[k+1]))
			}
			s.chords[[2]uint32{last, next}] = rimPoint{e, k}
			last = next
		}
	}
	for i, f := range faces {
		t, err := n.facet(f)
		if err != nil {
			return nil, err
		}
		var at []uint32
		for _, r := range t.rim {
			switch r.k {
			case 0:
				at = append(at, s.corner[r.edge.From])
			case len(n.samples[r.edge]) - 1:
				at = append(at, s.corner[r.edge.To])
			default:
				at = append(at, first[r.edge]+uint32(r.k-1))
			}
		}
		for _, p := range t.inner {
			at = append(at, add(p))
		}
		for _, c := range t.triangles {
			s.Faces = append(s.Faces, mesh.Face{at[c[0]], at[c[1]], at[c[2]]})
			s.tag = append(s.tag, i)
		}
	}
	return s, nil
}

// chord returns the edge that a piece of the mesh's edges belongs to, with the
// number of the chord, and whether it runs against it; false for those within
// faces.
func (s *skin) chord(ends [2]uint32) (of rimPoint, back, ok bool) {
	if of, ok = s.chords[ends]; ok {
		return of, false, true
	}
	of, ok = s.chords[[2]uint32{ends[1], ends[0]}]
	return of, true, ok
}
