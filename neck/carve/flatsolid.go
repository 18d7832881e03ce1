package carve

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck"
)

// solidStep is the distance of the sections that [Flats.Solid] goes through, in mm.
const solidStep = 4.0

// Solid returns the neck as the first pairs of flats leave it, with its sides square,
// between the ends of the stretch that the plan works on. Sections in steps of 4 mm are
// joined straight, corner to corner: it is to be looked at.
func (f *Flats) Solid(pairs int) (*mesh.Mesh, error) {
	st := f.wood.Stretch
	k := max(2, int(math.Ceil((st.To-st.From)/solidStep)))
	order := f.order()
	var b mesh.Builder
	var first, last []uint32
	for i := range k + 1 {
		x := st.From + (st.To-st.From)*float64(i)/float64(k)
		ring := f.ring(&b, x, pairs, order)
		if i == 0 {
			first = ring
		} else {
			b.Stitch(last, ring)
		}
		last = ring
	}
	front := slices.Clone(first[:len(first)-1])
	slices.Reverse(front)
	b.Fill(front)
	b.Fill(last[:len(last)-1])
	return b.Mesh()
}

// order returns the faces of a section in order, all that there may be: from the side
// of lower y over the back to the other, and the top.
func (f *Flats) order() []int {
	normals := f.normals()
	of := func(side neck.Side) []int {
		var pairs []int
		for i := range f.Pairs {
			pairs = append(pairs, i)
		}
		slices.SortFunc(pairs, func(a, b int) int {
			if normals[side][a] < normals[side][b] {
				return -1
			}
			return 1
		})
		for i := range pairs {
			pairs[i] = flatFace(pairs[i], side)
		}
		return pairs
	}
	plus := of(neck.PlusY)
	slices.Reverse(plus)
	out := append([]int{faceMinusY}, of(neck.MinusY)...)
	out = append(append(out, faceBack), plus...)
	return append(out, facePlusY, faceTop)
}

// ring makes a vertex for each face of the section at x after so many pairs, where it begins, and closes
// the ring. A face that the section has not is a point, where the next one begins.
func (f *Flats) ring(b *mesh.Builder, x float64, pairs int, order []int) []uint32 {
	g := f.polygons(x)[pairs-1]
	made := map[int]uint32{}
	for i, p := range g.at {
		made[g.face[i]] = b.Vertex(mesh.Vec{X: x, Y: p.Y, Z: p.Z})
	}
	out := make([]uint32, len(order)+1)
	next := made[g.face[0]]
	for i := len(order) - 1; i >= 0; i-- {
		if id, ok := made[order[i]]; ok {
			next = id
		}
		out[i] = next
	}
	out[len(order)] = out[0]
	return out
}
