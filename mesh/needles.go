package mesh

// FlipNeedles returns a closed mesh without triangles whose smallest altitude is
// below 0.0001, as far as they can go: each gives its longest edge to the
// triangle across, between whose halves its third corner then stands. The
// surface moves by less than that altitude. Corners stay as they are, and so
// does a mesh without needles, which is returned itself.
func (m *Mesh) FlipNeedles() *Mesh {
	needle := false
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		needle = needle || altitude(a, b, c, Vec{}) < leastAltitude
	}
	if !needle {
		return m
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
