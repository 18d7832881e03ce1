package export

import (
	"math"

	"neckloft/mesh"
)

// octantShift returns the least move that brings all objects together into the
// positive octant at the cost of no more rounding than any move must have.
//
// Where a moved coordinate is written as float32, the steps between the values
// it can take are those at its own size, and the largest coordinate has the
// widest. A move by a whole number of these steps adds no rounding of its own:
// what is rounded are only the digits that a coordinate had below its new step.
func octantShift(objects []Object) mesh.Vec {
	low := mesh.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)}
	high := low.Scale(-1)
	for _, o := range objects {
		for _, v := range o.Mesh.Vertices {
			low = mesh.Vec{X: min(low.X, v.X), Y: min(low.Y, v.Y), Z: min(low.Z, v.Z)}
			high = mesh.Vec{X: max(high.X, v.X), Y: max(high.Y, v.Y), Z: max(high.Z, v.Z)}
		}
	}
	return mesh.Vec{X: axisShift(low.X, high.X), Y: axisShift(low.Y, high.Y), Z: axisShift(low.Z, high.Z)}
}

// axisShift is octantShift on one axis, for coordinates from low to high.
func axisShift(low, high float64) float64 {
	if low >= 0 {
		return 0
	}
	top := float32(max(high-low, -low))
	step := float64(math.Nextafter32(top, float32(math.Inf(1)))) - float64(top)
	return math.Ceil(-low/step) * step
}

// moved returns m moved by shift and rounded to float32.
func moved(m *mesh.Mesh, shift mesh.Vec) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: make([]mesh.Vec, len(m.Vertices)), Faces: m.Faces}
	for i, v := range m.Vertices {
		out.Vertices[i] = v.Add(shift).Round()
	}
	return out
}
