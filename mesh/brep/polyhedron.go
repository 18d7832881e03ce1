package brep

import "neckloft/mesh"

// Polyhedron returns the solid with plane faces between points. All faces run the
// same way round, as seen from outside.
func Polyhedron(name string, points []mesh.Vec, faces ...[]int) (*Solid, error) {
	normals := make([]mesh.Vec, len(faces))
	volume := 0.0
	for i, f := range faces {
		// Newell's sum: twice the area along the normal.
		p := points[f[0]]
		for k := range f {
			a, b := points[f[k]].Sub(p), points[f[(k+1)%len(f)]].Sub(p)
			normals[i] = normals[i].Add(a.Cross(b))
		}
		volume += p.Dot(normals[i])
	}
	var b Builder
	for i, f := range faces {
		n := normals[i]
		if volume < 0 {
			n = n.Scale(-1)
		}
		var edges []*Edge
		for k := range f {
			edges = append(edges, b.Line(points[f[k]], points[f[(k+1)%len(f)]]))
		}
		b.Face(name, NewPlane(points[f[0]], n), false, edges)
	}
	return b.Solid(name)
}

// Prismoid returns the solid between two polygons of equally many corners.
func Prismoid(name string, first, second []mesh.Vec) (*Solid, error) {
	k := len(first)
	low, high := make([]int, k), make([]int, k)
	var faces [][]int
	for i := range k {
		low[k-1-i], high[i] = i, k+i
		j := (i + 1) % k
		faces = append(faces, []int{i, j, k + j, k + i})
	}
	points := append(append([]mesh.Vec(nil), first...), second...)
	return Polyhedron(name, points, append(faces, low, high)...)
}
