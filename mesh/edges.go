package mesh

// edgeTable lists the sides of all faces, those of one edge together. Side
// 3 i + k runs from corner k of face i to the next corner.
type edgeTable struct {
	faces []Face
	sides []int32 // by lower end, higher end, then number
}

// newEdgeTable sorts the sides in time linear in the mesh.
func newEdgeTable(m *Mesh) *edgeTable {
	t := &edgeTable{faces: m.Faces}
	n := 3 * len(m.Faces)
	byHigh, all := make([]int32, n), make([]int32, n)
	for s := range all {
		all[s] = int32(s)
	}
	start := make([]int32, len(m.Vertices)+1)
	sort := func(dst, src []int32, key func(s int32) uint32) {
		clear(start)
		for _, s := range src {
			start[key(s)+1]++
		}
		for i := 1; i < len(start); i++ {
			start[i] += start[i-1]
		}
		for _, s := range src {
			k := key(s)
			dst[start[k]] = s
			start[k]++
		}
	}
	sort(byHigh, all, func(s int32) uint32 { return max(t.org(s), t.dest(s)) })
	sort(all, byHigh, func(s int32) uint32 { return min(t.org(s), t.dest(s)) })
	t.sides = all
	return t
}

func (t *edgeTable) org(s int32) uint32 { return t.faces[s/3][s%3] }

func (t *edgeTable) dest(s int32) uint32 { return t.faces[s/3][(s+1)%3] }

// prev returns the side of the same face that ends where s starts.
func (t *edgeTable) prev(s int32) int32 { return s - s%3 + (s+2)%3 }

// edges yields the sides of each edge in turn.
func (t *edgeTable) edges(yield func(sides []int32) bool) {
	same := func(r, s int32) bool {
		return t.org(r) == t.dest(s) && t.dest(r) == t.org(s) || t.org(r) == t.org(s) && t.dest(r) == t.dest(s)
	}
	for i := 0; i < len(t.sides); {
		j := i + 1
		for j < len(t.sides) && same(t.sides[i], t.sides[j]) {
			j++
		}
		if !yield(t.sides[i:j]) {
			return
		}
		i = j
	}
}

// shells numbers the parts of the surface that edges hold together, in the
// order of their first faces, and returns the number of each face and how many
// there are.
func (t *edgeTable) shells() (of []int32, count int) {
	of = make([]int32, len(t.faces)) // first the parents of a union-find forest
	for i := range of {
		of[i] = int32(i)
	}
	root := func(i int32) int32 {
		for of[i] != i {
			of[i] = of[of[i]]
			i = of[i]
		}
		return i
	}
	for sides := range t.edges {
		for _, s := range sides[1:] {
			a, b := root(sides[0]/3), root(s/3)
			of[max(a, b)] = min(a, b)
		}
	}
	// A root is the lowest face of its shell, so it is numbered before the rest.
	for i := range of {
		if r := of[i]; int(r) == i {
			of[i] = int32(count)
			count++
		} else {
			of[i] = of[r]
		}
	}
	return of, count
}
