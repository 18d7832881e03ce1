package fretboard

import "neckloft/mesh"

// trough returns the closed solid between a floor and a level top over a grid of
// points seen from above. The rows run the same way, and a step to the next row
// lies a quarter turn clockwise of a step along a row.
func trough(rows [][]mesh.Vec2, floor func(x, y float64) float64, top float64) *mesh.Mesh {
	m := &mesh.Mesh{}
	k := len(rows[0])
	for _, row := range rows {
		for _, p := range row {
			m.Vertices = append(m.Vertices, mesh.Vec{X: p.X, Y: p.Y, Z: floor(p.X, p.Y)}.Settle())
		}
	}
	up := uint32(len(m.Vertices))
	for i := range up {
		v := m.Vertices[i]
		v.Z = top
		m.Vertices = append(m.Vertices, v.Settle())
	}
	at := func(i, j int) uint32 { return uint32(i*k + j) }
	for i := range len(rows) - 1 {
		for j := range k - 1 {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Faces = append(m.Faces,
				mesh.Face{a, c, b}, mesh.Face{a, d, c},
				mesh.Face{up + a, up + b, up + c}, mesh.Face{up + a, up + c, up + d})
		}
	}
	wall := func(a, b uint32) { // counter-clockwise seen from above
		m.Faces = append(m.Faces, mesh.Face{a, b, up + b}, mesh.Face{a, up + b, up + a})
	}
	last := len(rows) - 1
	for i := range last {
		wall(at(i, 0), at(i+1, 0))
		wall(at(i+1, k-1), at(i, k-1))
	}
	for j := range k - 1 {
		wall(at(last, j), at(last, j+1))
		wall(at(0, j+1), at(0, j))
	}
	return m
}
