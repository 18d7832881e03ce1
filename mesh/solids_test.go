package mesh

import (
	"math"
	"math/rand/v2"
)

// solidTetrahedron has the volume 1/6.
func solidTetrahedron() *Mesh {
	return &Mesh{
		Vertices: []Vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		Faces:    []Face{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {2, 0, 3}},
	}
}

// solidBox has 12 faces.
func solidBox(lo, hi Vec) *Mesh {
	return &Mesh{
		Vertices: []Vec{
			{lo.X, lo.Y, lo.Z}, {hi.X, lo.Y, lo.Z}, {hi.X, hi.Y, lo.Z}, {lo.X, hi.Y, lo.Z},
			{lo.X, lo.Y, hi.Z}, {hi.X, lo.Y, hi.Z}, {hi.X, hi.Y, hi.Z}, {lo.X, hi.Y, hi.Z},
		},
		Faces: []Face{
			{0, 2, 1}, {0, 3, 2}, {4, 5, 6}, {4, 6, 7},
			{0, 1, 5}, {0, 5, 4}, {1, 2, 6}, {1, 6, 5},
			{2, 3, 7}, {2, 7, 6}, {3, 0, 4}, {3, 4, 7},
		},
	}
}

// inverted turns the faces of m round.
func inverted(m *Mesh) *Mesh {
	for i, f := range m.Faces {
		m.Faces[i] = Face{f[0], f[2], f[1]}
	}
	return m
}

// solidTorus has n x k quads around a tube of radius r at distance big from the
// z axis.
func solidTorus(big, r float64, n, k int) *Mesh {
	m := &Mesh{}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j := range k {
			t, d := math.Sincos(2 * math.Pi * float64(j) / float64(k))
			m.Vertices = append(m.Vertices, Vec{(big + r*d) * c, (big + r*d) * s, r * t})
		}
	}
	at := func(i, j int) uint32 { return uint32(i%n*k + j%k) }
	for i := range n {
		for j := range k {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Faces = append(m.Faces, Face{a, b, c}, Face{a, c, d})
		}
	}
	return m
}

// solidSphere divides an octahedron of the given radius: 8 4^depth faces.
func solidSphere(centre Vec, radius float64, depth int) *Mesh {
	m := &Mesh{
		Vertices: []Vec{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}},
		Faces:    []Face{{0, 2, 4}, {2, 1, 4}, {1, 3, 4}, {3, 0, 4}, {2, 0, 5}, {1, 2, 5}, {3, 1, 5}, {0, 3, 5}},
	}
	for range depth {
		middle := map[[2]uint32]uint32{}
		half := func(a, b uint32) uint32 {
			key := [2]uint32{min(a, b), max(a, b)}
			if _, ok := middle[key]; !ok {
				v := m.Vertices[a].Add(m.Vertices[b])
				m.Vertices = append(m.Vertices, v.Scale(1/v.Norm()))
				middle[key] = uint32(len(m.Vertices) - 1)
			}
			return middle[key]
		}
		var faces []Face
		for _, f := range m.Faces {
			a, b, c := half(f[0], f[1]), half(f[1], f[2]), half(f[2], f[0])
			faces = append(faces, Face{f[0], a, c}, Face{a, f[1], b}, Face{c, b, f[2]}, Face{a, b, c})
		}
		m.Faces = faces
	}
	for i, v := range m.Vertices {
		m.Vertices[i] = centre.Add(v.Scale(radius))
	}
	return m
}

// solidBar is a long bar, curved below and flat above, with fine flat ends of
// many collinear points: 2 n k faces and the ends.
func solidBar(n, k int) *Mesh {
	m := &Mesh{}
	for i := range n {
		x := 600 * float64(i) / float64(n-1)
		for j := range k {
			// Half the points go across the flat top, half around the back.
			var y, z float64
			if t := 2 * float64(j) / float64(k); t < 1 {
				y = -21 + 42*t
			} else {
				s, c := math.Sincos(math.Pi * (t - 1))
				y, z = 21*c, -15*s
			}
			m.Vertices = append(m.Vertices, Vec{x, y * (1 + x/3000), z}.Round())
		}
	}
	at := func(i, j int) uint32 { return uint32(i*k + j%k) }
	for i := range n - 1 {
		for j := range k {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Faces = append(m.Faces, Face{a, b, c}, Face{a, c, d})
		}
	}
	for _, i := range []int{0, n - 1} {
		var loop []Vec2
		for j := range k {
			loop = append(loop, m.Vertices[at(i, j)].drop(0))
		}
		triangles, err := Triangulate(loop)
		if err != nil {
			panic(err)
		}
		for _, f := range triangles {
			if i == 0 {
				f[1], f[2] = f[2], f[1]
			}
			m.Faces = append(m.Faces, Face{at(i, f[0]), at(i, f[1]), at(i, f[2])})
		}
	}
	return m
}

// randomRotation returns a rotation, from a unit quaternion.
func randomRotation(r *rand.Rand) func(v Vec) Vec {
	w, u := r.NormFloat64(), Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
	k := 1 / math.Sqrt(w*w+u.Dot(u))
	w, u = k*w, u.Scale(k)
	return func(v Vec) Vec {
		t := u.Cross(v).Scale(2)
		return v.Add(t.Scale(w)).Add(u.Cross(t))
	}
}

func (m *Mesh) apply(f func(v Vec) Vec) *Mesh {
	for i, v := range m.Vertices {
		m.Vertices[i] = f(v)
	}
	return m
}
