package mesh

import (
	"fmt"
	"math"
	"slices"
)

// Builder assembles a mesh from shared vertices. Coordinates are rounded to
// float32 as they come in, so that what is validated is what a file holds.
type Builder struct {
	mesh Mesh
	err  error
}

// Grow makes room for so many more vertices and faces, which saves time where
// their number is about known. More may come.
func (b *Builder) Grow(vertices, faces int) {
	b.mesh.Vertices = slices.Grow(b.mesh.Vertices, vertices)
	b.mesh.Faces = slices.Grow(b.mesh.Faces, faces)
}

// Vertex adds a vertex and returns its index.
func (b *Builder) Vertex(p Vec) uint32 {
	b.mesh.Vertices = append(b.mesh.Vertices, p.Settle())
	return uint32(len(b.mesh.Vertices) - 1)
}

// At returns the position of a vertex.
func (b *Builder) At(i uint32) Vec { return b.mesh.Vertices[i] }

// Triangle adds a face, unless two of its corners are the same vertex.
func (b *Builder) Triangle(i, j, k uint32) {
	if i != j && j != k && k != i {
		b.mesh.Faces = append(b.mesh.Faces, Face{i, j, k})
	}
}

// Stitch joins two chains of equally many vertices by a strip of quads, each
// split along its shorter diagonal. Where neighbours in a chain are the same
// vertex the quad is a triangle, or nothing. The faces point to the left of
// both chains as seen from the side that a lies on, looking towards c.
//
// Precisely: the quad a[j], a[j+1], c[j+1], c[j] is counter-clockwise from
// outside.
func (b *Builder) Stitch(a, c []uint32) {
	b.stitch(a, c, math.Inf(1))
}

// StitchOut is Stitch for strips of a surface that bulges: where the diagonals of
// a quad pass each other by more than gap it is split along the outer one.
func (b *Builder) StitchOut(a, c []uint32, gap float64) {
	b.stitch(a, c, gap)
}

func (b *Builder) stitch(a, c []uint32, gap float64) {
	v := b.mesh.Vertices
	for j := 0; j+1 < len(a); j++ {
		p, q, r, s := a[j], a[j+1], c[j+1], c[j]
		d1, d2 := v[r].Sub(v[p]), v[s].Sub(v[q])
		first := d1.Dot(d1) <= d2.Dot(d2)
		if !math.IsInf(gap, 1) {
			// d1 × d2 looks out of the surface.
			out := d1.Cross(d2)
			if over := out.Dot(v[p].Sub(v[q])); math.Abs(over) > gap*out.Norm() {
				first = over > 0
			}
		}
		if first {
			b.Triangle(p, q, r)
			b.Triangle(p, r, s)
		} else {
			b.Triangle(p, q, s)
			b.Triangle(q, r, s)
		}
	}
}

// Fill closes a plane loop of vertices perpendicular to x. The loop may repeat
// a vertex next to itself. Counter-clockwise as seen from +x makes a face
// that points towards +x, clockwise one towards -x.
func (b *Builder) Fill(loop []uint32) {
	var ids []uint32
	for i, id := range loop {
		if id != loop[(i+1)%len(loop)] {
			ids = append(ids, id)
		}
	}
	if len(ids) < 3 {
		return
	}
	points := make([]Vec2, len(ids))
	area := 0.0
	for i, id := range ids {
		p := b.mesh.Vertices[id]
		points[i] = Vec2{p.Y, p.Z}
	}
	for i, p := range points {
		area += p.Cross(points[(i+1)%len(points)])
	}
	triangles, err := Triangulate(points)
	if err != nil && b.err == nil {
		b.err = fmt.Errorf("filling the face at x = %.3f: %w", b.mesh.Vertices[ids[0]].X, err)
	}
	for _, t := range triangles {
		if area < 0 {
			t[1], t[2] = t[2], t[1]
		}
		b.Triangle(ids[t[0]], ids[t[1]], ids[t[2]])
	}
}

// Mesh returns the mesh, without vertices that no face uses, or the first
// error that filling a face met.
func (b *Builder) Mesh() (*Mesh, error) {
	if b.err != nil {
		return nil, b.err
	}
	used := make([]uint32, len(b.mesh.Vertices))
	for _, f := range b.mesh.Faces {
		used[f[0]], used[f[1]], used[f[2]] = 1, 1, 1
	}
	m := &Mesh{Faces: b.mesh.Faces}
	for i, u := range used {
		if u == 1 {
			used[i] = uint32(len(m.Vertices))
			m.Vertices = append(m.Vertices, b.mesh.Vertices[i])
		}
	}
	for i, f := range m.Faces {
		m.Faces[i] = Face{used[f[0]], used[f[1]], used[f[2]]}
	}
	return m, nil
}
