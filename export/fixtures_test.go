package export

import (
	"bytes"
	"math"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

// tetrahedron returns the corner of the unit cube at the origin: volume 1/6.
func tetrahedron() *mesh.Mesh {
	return &mesh.Mesh{
		Vertices: []mesh.Vec{{X: 0, Y: 0, Z: 0}, {X: 1, Y: 0, Z: 0}, {X: 0, Y: 1, Z: 0}, {X: 0, Y: 0, Z: 1}},
		Faces:    []mesh.Face{{0, 2, 1}, {0, 1, 3}, {1, 2, 3}, {0, 3, 2}},
	}
}

// box returns a box with two opposite corners.
func box(low, high mesh.Vec) *mesh.Mesh {
	m := &mesh.Mesh{Faces: []mesh.Face{
		{0, 3, 1}, {0, 2, 3}, // down
		{4, 5, 7}, {4, 7, 6}, // up
		{0, 1, 5}, {0, 5, 4}, // front
		{2, 6, 7}, {2, 7, 3}, // back
		{0, 4, 6}, {0, 6, 2}, // left
		{1, 3, 7}, {1, 7, 5}, // right
	}}
	pick := func(high float64, low float64, bit int) float64 {
		if bit != 0 {
			return high
		}
		return low
	}
	for i := range 8 {
		m.Vertices = append(m.Vertices, mesh.Vec{
			X: pick(high.X, low.X, i&1), Y: pick(high.Y, low.Y, i&2), Z: pick(high.Z, low.Z, i&4),
		}.Round())
	}
	return m
}

// sphere returns a sphere around c with 2 slices (stacks - 1) triangles.
func sphere(c mesh.Vec, radius float64, stacks, slices int) *mesh.Mesh {
	m := &mesh.Mesh{}
	add := func(theta, phi float64) {
		d := mesh.Vec{X: math.Sin(theta) * math.Cos(phi), Y: math.Sin(theta) * math.Sin(phi), Z: math.Cos(theta)}
		m.Vertices = append(m.Vertices, c.Add(d.Scale(radius)).Round())
	}
	add(0, 0)
	for i := 1; i < stacks; i++ {
		for j := range slices {
			add(math.Pi*float64(i)/float64(stacks), 2*math.Pi*float64(j)/float64(slices))
		}
	}
	add(math.Pi, 0)
	at := func(i, j int) uint32 { return uint32(1 + (i-1)*slices + j%slices) }
	last := uint32(len(m.Vertices) - 1)
	for j := range slices {
		m.Faces = append(m.Faces, mesh.Face{0, at(1, j), at(1, j+1)})
		for i := 1; i < stacks-1; i++ {
			m.Faces = append(m.Faces,
				mesh.Face{at(i, j), at(i+1, j), at(i+1, j+1)},
				mesh.Face{at(i, j), at(i+1, j+1), at(i, j+1)})
		}
		m.Faces = append(m.Faces, mesh.Face{last, at(stacks-1, j+1), at(stacks-1, j)})
	}
	return m
}

// bigSphere has 200 000 triangles.
func bigSphere() *mesh.Mesh { return sphere(mesh.Vec{}, 100, 251, 400) }

// volume returns the volume by the divergence theorem.
func volume(m *mesh.Mesh) float64 {
	sum := 0.0
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		sum += a.Dot(b.Cross(c)) / 6
	}
	return sum
}

// triangles returns the corners of all faces.
func triangles(m *mesh.Mesh) [][3]mesh.Vec {
	out := make([][3]mesh.Vec, len(m.Faces))
	for i := range m.Faces {
		out[i][0], out[i][1], out[i][2] = m.Triangle(i)
	}
	return out
}

// requireClosed checks that each edge is shared by exactly two triangles, in
// opposite directions.
func requireClosed(t *testing.T, m *mesh.Mesh) {
	t.Helper()
	count := map[[2]uint32]int{}
	for _, f := range m.Faces {
		for i := range f {
			count[[2]uint32{f[i], f[(i+1)%3]}]++
		}
	}
	for e, n := range count {
		require.Equal(t, 1, n, "edge %v", e)
		require.Equal(t, 1, count[[2]uint32{e[1], e[0]}], "edge %v backwards", e)
	}
}

// open returns a box with one triangle missing, which no exporter may write.
func open() *mesh.Mesh {
	m := box(mesh.Vec{}, mesh.Vec{X: 1, Y: 2, Z: 3})
	m.Faces = m.Faces[:len(m.Faces)-1]
	return m
}

// written returns what write writes.
func written(t testing.TB, write func(*bytes.Buffer) error) []byte {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, write(&b))
	return b.Bytes()
}

func sorted(s []string) []string {
	sort.Strings(s)
	return s
}
