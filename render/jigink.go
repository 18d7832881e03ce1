package render

import (
	"math"

	"neckloft/mesh"
)

// Lines of a picture of a jig: as wide as this share of the picture, where faces meet
// at more than an angle.
const (
	jigLine   = 1.0 / 900
	jigCrease = 25 * math.Pi / 180
)

// sharpEdges returns the edges of a mesh at which faces meet at more than an angle in
// radians, in the order of the faces.
func sharpEdges(m *mesh.Mesh, angle float64) [][2]mesh.Vec {
	normal := func(f int) mesh.Vec {
		a, b, c := m.Triangle(f)
		return b.Sub(a).Cross(c.Sub(a)).Unit()
	}
	cos := math.Cos(angle)
	first := map[[2]uint32]int{}
	var out [][2]mesh.Vec
	for i, f := range m.Faces {
		for k := range f {
			a, b := f[k], f[(k+1)%3]
			other, met := first[[2]uint32{b, a}]
			if !met {
				first[[2]uint32{a, b}] = i
				continue
			}
			if normal(i).Dot(normal(other)) < cos {
				out = append(out, [2]mesh.Vec{m.Vertices[a], m.Vertices[b]})
			}
		}
	}
	return out
}

// draw appends lines so many mm wide to what a scene shows.
func (s *scene) draw(lines [][2]mesh.Vec, wide float64) {
	all := &mesh.Mesh{}
	for _, l := range lines {
		if l[1].Sub(l[0]).Norm() > 1e-6 {
			all.Append(mesh.Rod(l[0], l[1], wide/2, 4, 0))
		}
	}
	if len(all.Faces) > 0 {
		s.board = append(s.board, s.triangles(all, func(int) int { return ink })...)
	}
}
