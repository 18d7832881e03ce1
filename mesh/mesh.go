package mesh

import "math"

// Vec is a point or a direction in space.
type Vec struct{ X, Y, Z float64 }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Scale returns k v.
func (v Vec) Scale(k float64) Vec { return Vec{k * v.X, k * v.Y, k * v.Z} }

// Dot returns the scalar product of v and w. Here and in Cross each product is
// rounded before it is added, so that all processors agree on the last bit.
func (v Vec) Dot(w Vec) float64 {
	return float64(v.X*w.X) + float64(v.Y*w.Y) + float64(v.Z*w.Z)
}

// Cross returns the vector product of v and w.
func (v Vec) Cross(w Vec) Vec {
	return Vec{
		float64(v.Y*w.Z) - float64(v.Z*w.Y),
		float64(v.Z*w.X) - float64(v.X*w.Z),
		float64(v.X*w.Y) - float64(v.Y*w.X),
	}
}

// Norm returns the length of v.
func (v Vec) Norm() float64 { return math.Sqrt(v.Dot(v)) }

// Round returns v with each coordinate rounded to the nearest float32, the
// precision of the STL format.
func (v Vec) Round() Vec {
	// 0 takes the sign of a 0, so that a mesh and its mirror have the same zeros.
	return Vec{float64(float32(v.X)) + 0, float64(float32(v.Y)) + 0, float64(float32(v.Z)) + 0}
}

// Settle returns a computed point rounded as by Round, after it is rounded to a
// grid of 1e-9. A coordinate that ought to lie halfway between two numbers of
// float32, as a half of a round width does, then goes the same way on processors
// that differ in its last bit.
func (v Vec) Settle() Vec { return v.Steady().Round() }

// Steady returns a computed point rounded to a grid of 1e-9, on which processors
// that differ in its last bit agree: for corners of cutters, which are not rounded
// to float32.
func (v Vec) Steady() Vec {
	const grid = 1 << 30
	return Vec{math.Round(v.X*grid) / grid, math.Round(v.Y*grid) / grid, math.Round(v.Z*grid) / grid}
}

// Face is a triangle: three indices into a mesh's vertices, counter-clockwise
// seen from outside the solid.
type Face [3]uint32

// Mesh is an indexed triangle mesh.
type Mesh struct {
	Vertices []Vec
	Faces    []Face
}

// Triangle returns the corners of face i.
func (m *Mesh) Triangle(i int) (a, b, c Vec) {
	f := m.Faces[i]
	return m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
}
