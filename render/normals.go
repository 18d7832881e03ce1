package render

import (
	"math"

	"neckloft/mesh"
)

// cornerNormals returns a unit normal for each corner of each face: the mean of
// the normals of the faces around the vertex that are within the crease angle,
// in radians, of the corner's own face, each weighted by its angle there.
func cornerNormals(m *mesh.Mesh, crease float64) [][3]mesh.Vec {
	type corner struct {
		face  int32
		angle float32
	}
	faces := make([]mesh.Vec, len(m.Faces))
	start := make([]int32, len(m.Vertices)+1)
	for i, f := range m.Faces {
		a, b, c := m.Triangle(i)
		faces[i] = unit(b.Sub(a).Cross(c.Sub(a)))
		for _, v := range f {
			start[v+1]++
		}
	}
	for i := range m.Vertices {
		start[i+1] += start[i]
	}
	corners := make([]corner, start[len(m.Vertices)])
	next := append([]int32(nil), start...)
	for i, f := range m.Faces {
		for k, v := range f {
			p := m.Vertices[v]
			a := m.Vertices[f[(k+1)%3]].Sub(p)
			b := m.Vertices[f[(k+2)%3]].Sub(p)
			corners[next[v]] = corner{int32(i), float32(math.Atan2(a.Cross(b).Norm(), a.Dot(b)))}
			next[v]++
		}
	}
	least := math.Cos(crease)
	out := make([][3]mesh.Vec, len(m.Faces))
	for i, f := range m.Faces {
		for k, v := range f {
			var sum mesh.Vec
			for _, c := range corners[start[v]:start[v+1]] {
				if n := faces[c.face]; n.Dot(faces[i]) >= least {
					sum = sum.Add(n.Scale(float64(c.angle)))
				}
			}
			if out[i][k] = unit(sum); out[i][k] == (mesh.Vec{}) {
				out[i][k] = faces[i]
			}
		}
	}
	return out
}

// unit returns v with length 1, or the zero vector for one without a direction.
func unit(v mesh.Vec) mesh.Vec {
	n := v.Norm()
	if n == 0 || math.IsNaN(n) {
		return mesh.Vec{}
	}
	return v.Scale(1 / n)
}
