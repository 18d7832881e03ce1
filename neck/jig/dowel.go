package jig

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
)

// dowelDeep is how deep the hole for a dowel goes into either part, in mm, and
// dowelWall the least wall about it: common practice, no published source.
const (
	dowelDeep = 12.0
	dowelWall = 2.5
)

// rodSides is the number of sides of what a drill takes out.
const rodSides = 48

// rod returns what a drill of a radius takes out from one point to another. Its
// sides touch the circle, and its corners lie outside of it.
func rod(from, to mesh.Vec, r float64) *mesh.Mesh {
	// Turned a little, so that no corner lies in a plane of the part.
	return mesh.Rod(from, to, r/math.Cos(math.Pi/rodSides), rodSides, 0.29)
}

// dowelled returns a solid with holes for dowels in an end that lies in the plane
// of the station x. Into is 1 where the wood goes on towards the body, or -1.
func dowelled(m *mesh.Mesh, x, into float64, at []neck.YZ, diameter float64) (*mesh.Mesh, error) {
	var cutters []*mesh.Mesh
	for i, c := range at {
		more := 0.05 * float64(i) // no two end in one plane
		cutters = append(cutters, rod(mesh.Vec{X: x - into*(1+more), Y: c.Y, Z: c.Z}, mesh.Vec{X: x + into*(dowelDeep+more), Y: c.Y, Z: c.Z}, diameter/2))
	}
	out, err := mesh.Subtract(m, cutters...)
	if err != nil {
		return nil, fmt.Errorf("drilling for dowels: %w", err)
	}
	return out, nil
}

// parted returns where something that goes from one place to another is parted
// into equal pieces of at most the longest.
func parted(from, to, longest float64) []float64 {
	k := max(1, int(math.Ceil((to-from)/longest-1e-9)))
	out := make([]float64, k+1)
	for i := range out {
		out[i] = from + (to-from)*float64(i)/float64(k)
	}
	return out
}
