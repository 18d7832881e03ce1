// Package meshtest has solids, and checks of solids, for the tests of the
// packages that make meshes.
package meshtest

import (
	"math"
	"math/rand/v2"

	"neckloft/mesh"
)

// Box returns a box square to the axes.
func Box(lo, hi mesh.Vec) *mesh.Mesh {
	return extrude([]mesh.Vec2{{X: lo.X, Y: lo.Y}, {X: hi.X, Y: lo.Y}, {X: hi.X, Y: hi.Y}, {X: lo.X, Y: hi.Y}}, lo.Z, hi.Z)
}

// Bar returns a bar of n sides along z, its corners at distance r from the axis.
func Bar(n int, r, lo, hi float64) *mesh.Mesh {
	return extrude(polygon(n, r), lo, hi)
}

// BarArea returns the area of the section of a Bar.
func BarArea(n int, r float64) float64 {
	return float64(n) / 2 * r * r * math.Sin(2*math.Pi/float64(n))
}

func polygon(n int, r float64) []mesh.Vec2 {
	loop := make([]mesh.Vec2, n)
	for i := range loop {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.3) / float64(n))
		loop[i] = mesh.Vec2{X: r * c, Y: r * s}
	}
	return loop
}

func extrude(loop []mesh.Vec2, lo, hi float64) *mesh.Mesh {
	m, err := mesh.Extrude(mesh.Region{Outer: loop}, lo, hi)
	if err != nil {
		panic(err) // the shapes of this file have none
	}
	return m
}

// Ball returns a polyhedron of rings and slices about the origin, its corners
// at distance r.
func Ball(r float64, rings, slices int) *mesh.Mesh {
	m := &mesh.Mesh{Vertices: []mesh.Vec{{Z: r}, {Z: -r}}}
	at := func(i, j int) uint32 { return uint32(2 + i*slices + j%slices) }
	for i := range rings {
		s, c := math.Sincos(math.Pi * float64(i+1) / float64(rings+1))
		for j := range slices {
			t, d := math.Sincos(2 * math.Pi * (float64(j) + 0.4) / float64(slices))
			m.Vertices = append(m.Vertices, mesh.Vec{X: r * s * d, Y: r * s * t, Z: r * c})
		}
	}
	for j := range slices {
		m.Faces = append(m.Faces, mesh.Face{0, at(0, j), at(0, j+1)}, mesh.Face{1, at(rings-1, j+1), at(rings-1, j)})
		for i := range rings - 1 {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Faces = append(m.Faces, mesh.Face{a, b, c}, mesh.Face{a, c, d})
		}
	}
	m.RoundFloat32()
	return m
}

// Torus returns n by k quads around a tube of radius r at distance big from the
// z axis.
func Torus(big, r float64, n, k int) *mesh.Mesh {
	m := &mesh.Mesh{}
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * float64(i) / float64(n))
		for j := range k {
			t, d := math.Sincos(2 * math.Pi * float64(j) / float64(k))
			m.Vertices = append(m.Vertices, mesh.Vec{X: (big + r*d) * c, Y: (big + r*d) * s, Z: r * t})
		}
	}
	at := func(i, j int) uint32 { return uint32(i%n*k + j%k) }
	for i := range n {
		for j := range k {
			a, b, c, d := at(i, j), at(i+1, j), at(i+1, j+1), at(i, j+1)
			m.Faces = append(m.Faces, mesh.Face{a, b, c}, mesh.Face{a, c, d})
		}
	}
	m.RoundFloat32()
	return m
}

// Moved returns m moved by d.
func Moved(m *mesh.Mesh, x, y, z float64) *mesh.Mesh {
	m.Translate(mesh.Vec{X: x, Y: y, Z: z})
	return m
}

// Turned returns m turned about the origin, as r has it: a rotation drawn from
// all alike.
func Turned(r *rand.Rand, m *mesh.Mesh) *mesh.Mesh {
	w, u := r.NormFloat64(), mesh.Vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}
	k := 1 / math.Sqrt(w*w+u.Dot(u))
	w, u = k*w, u.Scale(k)
	for i, v := range m.Vertices {
		t := u.Cross(v).Scale(2)
		m.Vertices[i] = v.Add(t.Scale(w)).Add(u.Cross(t))
	}
	return m
}
