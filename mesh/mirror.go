package mesh

import "slices"

// MirroredY returns the mesh in a mirror at y = 0, its faces turned round so
// that they still look outward.
func (m *Mesh) MirroredY() *Mesh {
	out := &Mesh{Vertices: make([]Vec, len(m.Vertices)), Faces: slices.Clone(m.Faces)}
	for i, v := range m.Vertices {
		out.Vertices[i] = Vec{v.X, 0 - v.Y, v.Z} // no minus sign before 0
	}
	out.TurnFaces()
	return out
}

// TurnFaces turns every face of the mesh round, so that it looks to its other
// side.
func (m *Mesh) TurnFaces() {
	for i, f := range m.Faces {
		m.Faces[i] = Face{f[0], f[2], f[1]}
	}
}
