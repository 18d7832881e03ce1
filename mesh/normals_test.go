package mesh

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestNormalsOfCube keeps the edges of a cube sharp.
func TestNormalsOfCube(t *testing.T) {
	m := &Mesh{}
	for i := range 8 {
		m.Vertices = append(m.Vertices, Vec{X: float64(i & 1), Y: float64(i >> 1 & 1), Z: float64(i >> 2)})
	}
	for _, q := range [][4]uint32{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		m.Faces = append(m.Faces, Face{q[0], q[1], q[2]}, Face{q[0], q[2], q[3]})
	}
	for i, corners := range m.CornerNormals(CreaseAngle) {
		a, b, c := m.Triangle(i)
		n := b.Sub(a).Cross(c.Sub(a)).Unit()
		for _, k := range corners {
			assert.InDelta(t, 1, k.Dot(n), 1e-12)
		}
		// Outward from the cube's middle.
		assert.Positive(t, n.Dot(a.Sub(Vec{X: 0.5, Y: 0.5, Z: 0.5})))
	}
}

// TestNormalsOfSphere smooths a coarse sphere: normals point away from its
// centre.
func TestNormalsOfSphere(t *testing.T) {
	const rows, columns = 16, 32
	m := &Mesh{}
	for i := range rows + 1 {
		for j := range columns {
			a, b := math.Pi*float64(i)/rows, 2*math.Pi*float64(j)/columns
			m.Vertices = append(m.Vertices, Vec{X: math.Sin(a) * math.Cos(b), Y: math.Sin(a) * math.Sin(b), Z: math.Cos(a)})
		}
	}
	for i := 1; i < rows-1; i++ {
		for j := range columns {
			p, q := uint32(i*columns+j), uint32(i*columns+(j+1)%columns)
			m.Faces = append(m.Faces, Face{p, p + columns, q + columns}, Face{p, q + columns, q})
		}
	}
	normals := m.CornerNormals(CreaseAngle)
	for i, f := range m.Faces {
		for k, v := range f {
			p := m.Vertices[v]
			if math.Abs(p.Z) > 0.9 {
				continue // the open rims
			}
			assert.InDelta(t, 1, normals[i][k].Dot(p), 2e-3)
		}
	}
}
