package mesh

// FlipNeedles returns a closed mesh without triangles whose smallest altitude is
// below 0.0001, as far as they can go: each gives its longest edge to the
// triangle across, between whose halves its third corner then stands. The
// surface moves by less than that altitude. Corners stay as they are, and so
// does a mesh without needles, which is returned itself.
func (m *Mesh) FlipNeedles() *Mesh {
	var needles []int
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		if altitude(a, b, c, Vec{}) < leastAltitude {
			needles = append(needles, i)
		}
	}
	if len(needles) == 0 {
		return m
	}
	if few := m.flipFew(needles); few != nil {
		return few
	}
	p, err := newPatchwork(m)
	if err != nil {
		return m
	}
	for i := range p.f {
		a, b, c := p.corners(int32(i))
		n := b.Sub(a).Cross(c.Sub(a))
		p.ref = append(p.ref, n.Scale(1/max(n.Norm(), 1e-300)))
	}
	all := uint32(len(p.v))
	p.clean(all, all)
	return p.mesh()
}

// mostFew is how many needles are looked after one by one: for more it is quicker
// to know every side's neighbour first.
const mostFew = 12

// flipFew returns a mesh in which each of a few needles has given its longest edge
// to the triangle across, or nil where one cannot.
func (m *Mesh) flipFew(needles []int) *Mesh {
	if len(needles) > mostFew {
		return nil
	}
	out := &Mesh{Vertices: m.Vertices, Faces: append([]Face(nil), m.Faces...)}
	for _, i := range needles {
		if a, b, c := out.Triangle(i); altitude(a, b, c, Vec{}) < leastAltitude && !out.flip(i) {
			return nil
		}
	}
	return out
}

// flip gives the longest edge of a face to the face across it, and reports
// whether both come out sound, facing as the one across did.
func (m *Mesh) flip(needle int) bool {
	f := m.Faces[needle]
	for range 2 { // until its first side is the longest
		if m.side(f[0], f[1]) < max(m.side(f[1], f[2]), m.side(f[2], f[0])) {
			f = Face{f[1], f[2], f[0]}
		}
	}
	from, to, third := f[0], f[1], f[2]
	across, over := -1, uint32(0)
	for i, g := range m.Faces {
		for k := range 3 {
			if g[k] == to && g[(k+1)%3] == from {
				across, over = i, g[(k+2)%3]
			}
		}
	}
	if across < 0 || over == third {
		return false
	}
	for _, g := range m.Faces {
		if g.has(third) && g.has(over) {
			return false // they are neighbours already
		}
	}
	facing := func(g Face) Vec {
		a, b, c := m.Vertices[g[0]], m.Vertices[g[1]], m.Vertices[g[2]]
		return b.Sub(a).Cross(c.Sub(a))
	}
	old := facing(m.Faces[across])
	halves := [2]Face{{from, over, third}, {over, to, third}}
	for _, h := range halves {
		n := facing(h)
		if altitude(m.Vertices[h[0]], m.Vertices[h[1]], m.Vertices[h[2]], Vec{}) < leastAltitude || n.Dot(old) < 0.99*n.Norm()*old.Norm() {
			return false
		}
	}
	m.Faces[needle], m.Faces[across] = halves[0], halves[1]
	return true
}

// side returns the square of the distance between two vertices.
func (m *Mesh) side(i, j uint32) float64 {
	d := m.Vertices[i].Sub(m.Vertices[j])
	return d.Dot(d)
}

// has reports whether a vertex is a corner of the face.
func (f Face) has(v uint32) bool { return f[0] == v || f[1] == v || f[2] == v }
