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

// dowelled returns a solid with holes for dowels in an end that lies in the plane
// of the station x. Into is 1 where the wood goes on towards the body, or -1.
func dowelled(m *mesh.Mesh, x, into float64, at []neck.YZ, diameter float64) (*mesh.Mesh, error) {
	var cutters []*mesh.Mesh
	for i, c := range at {
		const sides = 32
		// The corners lie outside of the circle, so that the flats touch it.
		r := diameter / 2 / math.Cos(math.Pi/sides)
		loop := make([]mesh.Vec2, sides)
		for k := range loop {
			sin, cos := math.Sincos(2 * math.Pi * (float64(k) + 0.37) / sides)
			loop[k] = mesh.Vec2{X: c.Y + r*cos, Y: c.Z + r*sin}
		}
		cut, err := mesh.Extrude(mesh.Region{Outer: loop}, -1-0.05*float64(i), dowelDeep+0.05*float64(i))
		if err != nil {
			return nil, err
		}
		for k, v := range cut.Vertices {
			cut.Vertices[k] = mesh.Vec{X: x + into*v.Z, Y: v.X, Z: v.Y}
		}
		if into < 0 {
			for k, f := range cut.Faces {
				cut.Faces[k] = mesh.Face{f[0], f[2], f[1]}
			}
		}
		cutters = append(cutters, cut)
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
