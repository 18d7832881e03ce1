package mesh

// Topology counts the parts of a mesh.
type Topology struct {
	Vertices int // those that faces use
	Edges    int
	Faces    int
	Boundary int // edges of one face only: 0 in a closed mesh
	Shells   []Shell
}

// Shell is a part of the surface that edges hold together.
type Shell struct {
	FirstFace int // lowest index of its faces
	Vertices  int
	Edges     int
	Faces     int
	Boundary  int
}

// Euler returns the Euler characteristic V - E + F.
func (s Shell) Euler() int { return s.Vertices - s.Edges + s.Faces }

// Genus returns the number of handles of a closed orientable shell, from
// V - E + F = 2 - 2 g: 0 for a sphere, 1 for a torus. It is -1 for a shell with
// a boundary.
func (s Shell) Genus() int {
	if s.Boundary > 0 {
		return -1
	}
	return (2 - s.Euler()) / 2
}

// Euler returns the Euler characteristic of all shells together.
func (t Topology) Euler() int {
	sum := 0
	for _, s := range t.Shells {
		sum += s.Euler()
	}
	return sum
}

// Genus returns the number of handles of all shells together, or -1 if one of
// them has a boundary.
func (t Topology) Genus() int {
	sum := 0
	for _, s := range t.Shells {
		g := s.Genus()
		if g < 0 {
			return -1
		}
		sum += g
	}
	return sum
}

// Topology counts vertices, edges, faces and shells. Indices must be in range.
// A vertex where shells touch counts in each of them.
func (m *Mesh) Topology() Topology {
	edges := newEdgeTable(m)
	of, count := edges.shells()
	t := Topology{Faces: len(m.Faces), Shells: make([]Shell, count)}
	for i, k := range of {
		s := &t.Shells[k]
		if s.Faces == 0 {
			s.FirstFace = i
		}
		s.Faces++
	}
	for sides := range edges.edges {
		s := &t.Shells[of[sides[0]/3]]
		t.Edges++
		s.Edges++
		if len(sides) == 1 {
			t.Boundary++
			s.Boundary++
		}
	}

	// Faces in the order of their shells, to count each vertex once a shell.
	start := make([]int, count+1)
	for k, s := range t.Shells {
		start[k+1] = start[k] + s.Faces
	}
	order := make([]int32, len(m.Faces))
	for i, k := range of {
		order[start[k]] = int32(i)
		start[k]++
	}
	seen := make([]int32, len(m.Vertices)) // 1 + the last shell that used it
	for _, i := range order {
		k := of[i]
		for _, v := range m.Faces[i] {
			if seen[v] == 0 {
				t.Vertices++
			}
			if seen[v] != k+1 {
				seen[v] = k + 1
				t.Shells[k].Vertices++
			}
		}
	}
	return t
}
