package mesh

import "slices"

// joinRoom is how far the box around two solids stands off them, in mm.
const joinRoom = 10.0

// Join returns two solids that overlap as one, as a mesh that passes Validate:
// what is left of a box around both when each is taken out is all that lies
// outside of them, and its inner side is theirs.
//
// What Subtract asks of its cutters holds of both: they enter each other at an
// angle and share no plane. As Subtract's base a is taken to be valid. An error is
// a *CutError.
func Join(a, b *Mesh) (*Mesh, error) { return usual.Join(a, b) }

// Join is [Join] by this cutting.
func (by Cutting) Join(a, b *Mesh) (*Mesh, error) {
	lo, hi := a.Bounds()
	lo2, hi2 := b.Bounds()
	room := Vec{joinRoom, joinRoom, joinRoom}
	lo = Vec{min(lo.X, lo2.X), min(lo.Y, lo2.Y), min(lo.Z, lo2.Z)}.Sub(room)
	hi = Vec{max(hi.X, hi2.X), max(hi.Y, hi2.Y), max(hi.Z, hi2.Z)}.Add(room)
	around, err := Extrude(Region{Outer: []Vec2{{lo.X, lo.Y}, {hi.X, lo.Y}, {hi.X, hi.Y}, {lo.X, hi.Y}}}, lo.Z, hi.Z)
	if err != nil {
		return nil, err
	}
	// The first lies within the box and clear of it: without it the box has its faces
	// besides, turned.
	without := &Mesh{Vertices: slices.Clone(a.Vertices), Faces: slices.Clone(a.Faces)}
	without.TurnFaces()
	around.Append(without)
	valid := 0
	if by.Unseen {
		valid = 1
	}
	rest, err := by.subtract(around, []*Mesh{b}, valid)
	if err != nil {
		return nil, err
	}
	out := &Mesh{}
	index := make(map[uint32]uint32)
	for _, f := range rest.Faces {
		v := rest.Vertices[f[0]]
		// No solid comes within half the room of the box's faces.
		if v.X < lo.X+joinRoom/2 || v.X > hi.X-joinRoom/2 || v.Y < lo.Y+joinRoom/2 || v.Y > hi.Y-joinRoom/2 || v.Z < lo.Z+joinRoom/2 || v.Z > hi.Z-joinRoom/2 {
			continue
		}
		var g Face
		for i, k := range f {
			n, seen := index[k]
			if !seen {
				n = uint32(len(out.Vertices))
				index[k] = n
				out.Vertices = append(out.Vertices, rest.Vertices[k])
			}
			g[2-i] = n
		}
		out.Faces = append(out.Faces, g)
	}
	return out, nil
}
