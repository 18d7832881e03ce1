package mesh

import "math"

// Rod returns a closed prism from one point to another, with flat ends: its corners
// lie at a radius about the line between the points, as many as it has sides, the
// first turned by a part of the angle from one to the next.
func Rod(from, to Vec, radius float64, sides int, turned float64) *Mesh {
	u, v := to.Sub(from).Across()
	out := &Mesh{}
	for _, end := range []Vec{from, to} {
		for k := range sides {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + turned) / float64(sides))
			out.Vertices = append(out.Vertices, end.Add(u.Scale(radius*cos)).Add(v.Scale(radius*sin)))
		}
	}
	count := uint32(sides)
	for k := range count {
		a, b := k, (k+1)%count
		out.Faces = append(out.Faces, Face{a, b, b + count}, Face{a, b + count, a + count})
		if k > 0 && k+1 < count {
			out.Faces = append(out.Faces, Face{0, k + 1, k}, Face{count, count + k, count + k + 1})
		}
	}
	return out
}
