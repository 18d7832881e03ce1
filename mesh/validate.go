package mesh

import (
	"fmt"
	"math"
	"sync"
)

// Validate returns nil if the mesh, its coordinates rounded to float32 as in a
// file, bounds a solid that any reader will take the same way: closed,
// 2-manifold, facing outward, without degenerate faces and without
// self-intersection. Otherwise it returns a *Defect, the first fault by kind,
// in the order of the kinds, and within a kind by index.
//
// Vertices that no face uses must have good coordinates and are otherwise
// ignored. A shell inside an odd number of others bounds a cavity and must face
// inward.
//
// The decisions are exact. Most of the time goes into the search for
// self-intersections, which grows as n log n for the usual mesh.
func (m *Mesh) Validate() error {
	if len(m.Faces) == 0 {
		return &Defect{Kind: EmptyMesh, Message: "empty mesh: it has no faces"}
	}
	v := &validator{mesh: &Mesh{Faces: m.Faces}}
	if d := v.badIndex(len(m.Vertices)); d != nil {
		return d
	}
	if d := v.badCoordinate(m.Vertices); d != nil {
		return d
	}
	for _, check := range []func() *Defect{
		v.repeatedIndex,
		v.coincidentVertex,
		v.degenerateFace,
		v.badEdge,
		v.badVertex,
		v.selfIntersection,
		v.badShell,
	} {
		if d := check(); d != nil {
			return d
		}
	}
	return nil
}

// validator holds what the checks of one mesh hand on to each other.
type validator struct {
	mesh  *Mesh // rounded
	edges *edgeTable
	twin  []int32 // the other side of each side's edge
	tree  *bvh
	plate bool // free of self-intersections, and of shells within shells, as plates are
}

func (v *validator) badIndex(vertices int) *Defect {
	for i, f := range v.mesh.Faces {
		for _, k := range f {
			if int64(k) >= int64(vertices) {
				return &Defect{
					Kind:    BadIndex,
					Faces:   []int{i},
					Message: fmt.Sprintf("%s: face %d names vertex %d of %d", BadIndex, i, k, vertices),
				}
			}
		}
	}
	return nil
}

// badCoordinate fills in the rounded vertices.
func (v *validator) badCoordinate(vertices []Vec) *Defect {
	v.mesh.Vertices = make([]Vec, len(vertices))
	for i, p := range vertices {
		r := p.Round()
		if !(math.Abs(r.X) <= math.MaxFloat32 && math.Abs(r.Y) <= math.MaxFloat32 && math.Abs(r.Z) <= math.MaxFloat32) {
			return &Defect{
				Kind:    BadCoordinate,
				Where:   p,
				Message: fmt.Sprintf("%s: vertex %d is (%g, %g, %g), which a float32 file cannot hold", BadCoordinate, i, p.X, p.Y, p.Z),
			}
		}
		v.mesh.Vertices[i] = r
	}
	return nil
}

func (v *validator) repeatedIndex() *Defect {
	for i, f := range v.mesh.Faces {
		if f[0] == f[1] || f[1] == f[2] || f[2] == f[0] {
			return newDefect(RepeatedIndex, v.mesh.Vertices[f[0]], []int{i}, "face %d has the corners %d, %d and %d", i, f[0], f[1], f[2])
		}
	}
	return nil
}

// coincidentVertex looks up every vertex in use in a hash table with open
// addressing.
func (v *validator) coincidentVertex() *Defect {
	vertices := v.mesh.Vertices
	used := make([]bool, len(vertices))
	for _, f := range v.mesh.Faces {
		used[f[0]], used[f[1]], used[f[2]] = true, true, true
	}
	bits := 4
	for 1<<bits < 2*len(vertices) {
		bits++
	}
	table := make([]int32, 1<<bits) // 1 + index, 0 when free
	mask := uint64(len(table) - 1)
	for i, p := range vertices {
		if !used[i] {
			continue
		}
		// Adding zero turns -0 into +0.
		h := uint64(math.Float32bits(float32(p.X + 0)))
		h = h*0x9e3779b97f4a7c15 ^ uint64(math.Float32bits(float32(p.Y+0)))
		h = h*0x9e3779b97f4a7c15 ^ uint64(math.Float32bits(float32(p.Z+0)))
		h = h * 0x9e3779b97f4a7c15 >> (64 - bits)
		for ; table[h] != 0; h = (h + 1) & mask {
			if j := table[h] - 1; vertices[j] == p {
				return newDefect(CoincidentVertex, p, nil, "vertices %d and %d are the same point in float32", j, i)
			}
		}
		table[h] = int32(i + 1)
	}
	return nil
}

func (v *validator) degenerateFace() *Defect {
	for i, f := range v.mesh.Faces {
		a, b, c := v.mesh.Triangle(i)
		if flatAxis(a, b, c) < 0 {
			return newDefect(DegenerateFace, a.Add(b).Add(c).Scale(1/3.0), []int{i},
				"the corners %d, %d and %d of face %d lie on one line in float32", f[0], f[1], f[2], i)
		}
	}
	return nil
}

// badEdge fills in the edges and twins.
func (v *validator) badEdge() *Defect {
	v.edges = newEdgeTable(v.mesh)
	v.twin = make([]int32, 3*len(v.mesh.Faces))
	var first [3][]int32
	var count [3]int
	for sides := range v.edges.edges {
		var kind DefectKind
		switch {
		case len(sides) == 1:
			kind = OpenEdge
		case len(sides) > 2:
			kind = NonManifoldEdge
		case v.edges.org(sides[0]) == v.edges.org(sides[1]):
			kind = BadOrientation
		default:
			v.twin[sides[0]], v.twin[sides[1]] = sides[1], sides[0]
			continue
		}
		if count[kind-OpenEdge] == 0 {
			first[kind-OpenEdge] = sides
		}
		count[kind-OpenEdge]++
	}
	for k, sides := range first {
		if sides == nil {
			continue
		}
		a, b := v.edges.org(sides[0]), v.edges.dest(sides[0])
		faces := make([]int, len(sides))
		for i, s := range sides {
			faces[i] = int(s / 3)
		}
		format := [3]string{
			"the edge of vertices %d and %d has %d face only (edges like it: %d)",
			"the edge of vertices %d and %d has %d faces (edges like it: %d)",
			"the edge of vertices %d and %d has %d faces that run along it the same way (edges like it: %d)",
		}[k]
		where := v.mesh.Vertices[a].Add(v.mesh.Vertices[b]).Scale(0.5)
		return newDefect(OpenEdge+DefectKind(k), where, faces, format, a, b, len(sides), count[k])
	}
	return nil
}

// badVertex walks around each vertex, which must meet all its faces.
func (v *validator) badVertex() *Defect {
	left := make([]int32, len(v.mesh.Vertices)) // faces not yet met
	leave := make([]int32, len(v.mesh.Vertices))
	for i, f := range v.mesh.Faces {
		for k, c := range f {
			left[c]++
			leave[c] = int32(3*i + k)
		}
	}
	for c := range left {
		if left[c] == 0 {
			continue
		}
		for s := leave[c]; ; {
			left[c]--
			if s = v.twin[v.edges.prev(s)]; s == leave[c] {
				break
			}
		}
		if left[c] > 0 {
			var faces []int
			for i, f := range v.mesh.Faces {
				if f[0] == uint32(c) || f[1] == uint32(c) || f[2] == uint32(c) {
					faces = append(faces, i)
				}
			}
			return newDefect(NonManifoldVertex, v.mesh.Vertices[c], faces, "the %d faces around vertex %d do not form one ring", len(faces), c)
		}
	}
	return nil
}

// selfIntersection fills in the tree, unless the mesh is a set of plates.
func (v *validator) selfIntersection() *Defect {
	if v.plate = upright(v.mesh, v.twin); v.plate {
		return nil
	}
	var sheets []int32
	var group sync.WaitGroup
	group.Go(func() { sheets = findSheets(v.mesh, v.twin) })
	v.tree = newBVH(v.mesh)
	group.Wait()
	i, j, found := selfIntersection(v.mesh, v.tree, sheets)
	if !found {
		return nil
	}
	return newDefect(SelfIntersection, meetingPoint(v.mesh, i, j), []int{i, j}, "faces %d and %d cross, touch or overlap", i, j)
}

func (v *validator) badShell() *Defect {
	of, count := v.edges.shells()
	sizes, firsts := make([]int, count), make([]int, count)
	for i, k := range of {
		if sizes[k] == 0 {
			firsts[k] = i
		}
		sizes[k]++
	}
	signs := volumeSigns(v.mesh, of, count)
	nest := nesting{mesh: v.mesh, tree: v.tree, shell: of, crossings: make([]int32, count)}
	for k, sign := range signs {
		p := v.mesh.Vertices[v.mesh.Faces[firsts[k]][0]]
		depth := 0
		if count > 1 && !v.plate {
			depth = nest.depth(p, int32(k))
		}
		switch {
		case depth%2 == 0 && sign <= 0:
			return newDefect(InwardShell, p, []int{firsts[k]}, "the shell of %d faces from face %d on faces inward", sizes[k], firsts[k])
		case depth%2 == 1 && sign >= 0:
			return newDefect(InwardShell, p, []int{firsts[k]}, "the shell of %d faces from face %d on lies inside another, as a cavity, and must face inward", sizes[k], firsts[k])
		}
	}
	return nil
}
