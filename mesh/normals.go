package mesh

import "math"

// CreaseAngle is the angle in radians between faces above which the edge between
// them is shown sharp. Chords of the smallest rounding in a mesh of a neck stay
// well below it.
const CreaseAngle = 32 * math.Pi / 180

// CornerNormals returns a unit normal for each corner of each face: the mean of
// the normals of the faces around the vertex that are within the crease angle,
// in radians, of the corner's own face, each weighted by its angle there.
func (m *Mesh) CornerNormals(crease float64) [][3]Vec {
	type corner struct {
		face  int32
		angle float32
	}
	faces := make([]Vec, len(m.Faces))
	start := make([]int32, len(m.Vertices)+1)
	for i, f := range m.Faces {
		a, b, c := m.Triangle(i)
		faces[i] = b.Sub(a).Cross(c.Sub(a)).Unit()
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
	out := make([][3]Vec, len(m.Faces))
	for i, f := range m.Faces {
		for k, v := range f {
			var sum Vec
			for _, c := range corners[start[v]:start[v+1]] {
				if n := faces[c.face]; n.Dot(faces[i]) >= least {
					sum = sum.Add(n.Scale(float64(c.angle)))
				}
			}
			if out[i][k] = sum.Unit(); out[i][k] == (Vec{}) {
				out[i][k] = faces[i]
			}
		}
	}
	return out
}

// Unit returns v with length 1, or the zero vector for one without a direction.
func (v Vec) Unit() Vec {
	n := v.Norm()
	if n == 0 || math.IsNaN(n) {
		return Vec{}
	}
	return v.Scale(1 / n)
}

// Across returns two directions square to that of v and to each other; v, the first and
// the second are right-handed. It is any such pair, but always the same.
func (v Vec) Across() (first, second Vec) {
	along, other := v.Unit(), Vec{X: 1}
	if math.Abs(along.X) > 0.6 {
		other = Vec{Y: 1}
	}
	first = along.Cross(other).Unit()
	return first, along.Cross(first)
}
