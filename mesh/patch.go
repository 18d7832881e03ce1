package mesh

import "fmt"

// patchwork is a closed mesh whose faces can be taken out and replaced. A face
// keeps its number as long as it lives, and new ones come last.
type patchwork struct {
	v    []Vec
	f    []Face
	twin []int32 // of side 3 i + k, the other side of its edge
	dead []bool  // by face
	box  []box   // by face
	made []bool  // by face: a cutter made it
	look []Vec   // by face, its region's normal when a cut made it; else zero
	// ref holds, for faces from first on, the normal that their region had
	// before its points were rounded.
	first int
	ref   []Vec
}

// newPatchwork copies a mesh, rounded to float32.
func newPatchwork(m *Mesh) (*patchwork, error) {
	v := make([]Vec, len(m.Vertices))
	for i := range v {
		v[i] = m.Vertices[i].Round()
	}
	return newPatchworkAt(m, v)
}

// newPatchworkAt copies a mesh, its vertices at the places given.
func newPatchworkAt(m *Mesh, v []Vec) (*patchwork, error) {
	p := &patchwork{
		v:    v,
		f:    append([]Face(nil), m.Faces...),
		twin: make([]int32, 3*len(m.Faces)),
		dead: make([]bool, len(m.Faces)),
		box:  make([]box, len(m.Faces)),
		made: make([]bool, len(m.Faces)),
		look: make([]Vec, len(m.Faces)),
	}
	for i, f := range m.Faces {
		if int(max(f[0], f[1], f[2])) >= len(m.Vertices) {
			return nil, fmt.Errorf("face %d names a vertex that is not there", i)
		}
		p.box[i] = triangleBox(p.corners(int32(i)))
	}
	table := newEdgeTable(m)
	for sides := range table.edges {
		if len(sides) != 2 || table.org(sides[0]) == table.org(sides[1]) {
			a, b := table.org(sides[0]), table.dest(sides[0])
			return nil, fmt.Errorf("the mesh is not closed at the edge of vertices %d and %d", a, b)
		}
		p.twin[sides[0]], p.twin[sides[1]] = sides[1], sides[0]
	}
	return p, nil
}

func (p *patchwork) corners(f int32) (a, b, c Vec) {
	t := p.f[f]
	return p.v[t[0]], p.v[t[1]], p.v[t[2]]
}

func (p *patchwork) org(s int32) uint32  { return p.f[s/3][s%3] }
func (p *patchwork) dest(s int32) uint32 { return p.f[s/3][(s+1)%3] }
func (p *patchwork) apex(s int32) uint32 { return p.f[s/3][(s+2)%3] }

// edge returns the number of the edge of a side: the lower of its two sides.
func (p *patchwork) edge(s int32) int32 { return min(s, p.twin[s]) }

func nextSide(s int32) int32 { return s - s%3 + (s+1)%3 }
func prevSide(s int32) int32 { return s - s%3 + (s+2)%3 }

// bounds returns the box around all faces that live.
func (p *patchwork) bounds() box {
	b := emptyBox()
	for i := range p.box {
		if !p.dead[i] {
			b = b.join(&p.box[i])
		}
	}
	return b
}

// replace takes out faces and adds others in their place, with the normals of
// their regions, and which of them a cutter makes. The edges left open by the one must be those of the other.
func (p *patchwork) replace(out []int32, in []Face, ref []Vec, made []bool) error {
	first := int32(len(p.f))
	open := make(map[uint64]int32, 3*len(in)+len(out))
	key := func(a, b uint32) uint64 { return uint64(a)<<32 | uint64(b) }
	for _, f := range out {
		p.dead[f] = true
	}
	left := 0
	for _, f := range out {
		for s := 3 * f; s < 3*f+3; s++ {
			if t := p.twin[s]; !p.dead[t/3] {
				open[key(p.org(t), p.dest(t))] = t
				left++
			}
		}
	}
	for i, f := range in {
		for k := range 3 {
			at := key(f[k], f[(k+1)%3])
			if _, twice := open[at]; twice {
				return p.tornEdge(f[k], f[(k+1)%3])
			}
			open[at] = 3*(first+int32(i)) + int32(k)
		}
	}
	if len(open) != left+3*len(in) {
		return fmt.Errorf("the cut runs twice along one edge")
	}
	p.f = append(p.f, in...)
	p.dead = append(p.dead, make([]bool, len(in))...)
	p.twin = append(p.twin, make([]int32, 3*len(in))...)
	p.made, p.look = append(p.made, made...), append(p.look, ref...)
	p.first, p.ref = int(first), ref
	for i := first; int(i) < len(p.f); i++ {
		p.box = append(p.box, triangleBox(p.corners(i)))
		for s := 3 * i; s < 3*i+3; s++ {
			t, ok := open[key(p.dest(s), p.org(s))]
			if !ok {
				return p.tornEdge(p.org(s), p.dest(s))
			}
			p.twin[s], p.twin[t] = t, s
			if t/3 < first {
				left--
			}
		}
	}
	if left != 0 {
		return fmt.Errorf("the cut leaves %d edges open", left)
	}
	return nil
}

func (p *patchwork) tornEdge(a, b uint32) error {
	v := p.v[a].Add(p.v[b]).Scale(0.5)
	return fmt.Errorf("the cut does not close near (%.3f, %.3f, %.3f)", v.X, v.Y, v.Z)
}

// mesh returns the faces that live, in the order of their numbers, and the
// vertices that they use, in theirs.
func (p *patchwork) mesh() *Mesh {
	m := &Mesh{}
	used := make([]uint32, len(p.v))
	for i, f := range p.f {
		if !p.dead[i] {
			m.Faces = append(m.Faces, f)
			used[f[0]], used[f[1]], used[f[2]] = 1, 1, 1
		}
	}
	for i, u := range used {
		if u == 1 {
			used[i] = uint32(len(m.Vertices))
			m.Vertices = append(m.Vertices, p.v[i])
		}
	}
	for i, f := range m.Faces {
		m.Faces[i] = Face{used[f[0]], used[f[1]], used[f[2]]}
	}
	return m
}

// count returns the number of faces that live.
func (p *patchwork) count() int {
	n := 0
	for _, dead := range p.dead {
		if !dead {
			n++
		}
	}
	return n
}
