package mesh

import (
	"fmt"
	"slices"
)

// Extrude returns the solid that a region of the plane z = 0 sweeps on its way
// from z = bottom to z = top: a plate with the region's outline. Coordinates
// are rounded to float32 first, as everywhere in a mesh, and neighbouring
// points that fall on one place by that become one.
//
// It is an error if top is not above bottom in float32, or if the rounded loops
// touch or cross themselves or each other, or do not nest.
func Extrude(r Region, bottom, top float64) (*Mesh, error) {
	lo, hi := Vec{Z: bottom}.Settle().Z, Vec{Z: top}.Settle().Z
	if !(hi > lo) {
		return nil, fmt.Errorf("a plate from z = %g to %g has no thickness", bottom, top)
	}
	var loops [][]Vec2
	n := 0
	for i, loop := range r.Loops() {
		loop = roundLoop(loop)
		// Left of the loop is the region: counter-clockwise outside,
		// clockwise around a hole.
		if (Area2(loop) < 0) == (i == 0) {
			slices.Reverse(loop)
		}
		loops = append(loops, loop)
		n += len(loop)
	}
	triangles, err := Triangulate(loops[0], loops[1:]...)
	if err != nil {
		return nil, fmt.Errorf("extruding a plate: %w", err)
	}
	m := &Mesh{
		Vertices: make([]Vec, 0, 2*n),
		Faces:    make([]Face, 0, 2*len(triangles)+2*n),
	}
	for _, z := range [2]float64{lo, hi} {
		for _, loop := range loops {
			for _, p := range loop {
				m.Vertices = append(m.Vertices, Vec{p.X, p.Y, z})
			}
		}
	}
	up := uint32(n)
	for _, t := range triangles {
		a, b, c := uint32(t[0]), uint32(t[1]), uint32(t[2])
		m.Faces = append(m.Faces, Face{a, c, b}, Face{up + a, up + b, up + c})
	}
	first := uint32(0)
	for _, loop := range loops {
		for i := range loop {
			a := first + uint32(i)
			b := first + uint32((i+1)%len(loop))
			m.Faces = append(m.Faces, Face{a, b, up + b}, Face{a, up + b, up + a})
		}
		first += uint32(len(loop))
	}
	return m, nil
}

// roundLoop returns a loop in float32 coordinates, without points that repeat
// the one before.
func roundLoop(loop []Vec2) []Vec2 {
	out := make([]Vec2, 0, len(loop))
	for _, p := range loop {
		q := Vec{X: p.X, Y: p.Y}.Settle()
		v := Vec2{q.X, q.Y}
		if len(out) == 0 || v != out[len(out)-1] {
			out = append(out, v)
		}
	}
	for len(out) > 1 && out[0] == out[len(out)-1] {
		out = out[:len(out)-1]
	}
	return out
}
