package brep

import (
	"math"

	"neckloft/mesh"
)

// Ring is a circle of a turned solid: its place along the axis, and its radius.
type Ring struct{ At, Radius float64 }

// Turned returns the solid turned about the axis through origin along dir, whose
// length is 1: cylinders between rings of one radius, level shoulders between those
// of one place, and discs at both ends. Places rise; each cylinder is two halves.
func Turned(name string, origin, dir mesh.Vec, rings ...Ring) (*Solid, error) {
	var b Builder
	ref := NewPlane(origin, dir).Ref
	at := func(r Ring) mesh.Vec { return origin.Add(dir.Scale(r.At)) }
	circle := func(r Ring, half int) Circle {
		return Circle{Centre: at(r), Axis: dir, Ref: ref.Scale(float64(1 - 2*half)), Radius: r.Radius}
	}
	loops := make([][]*Edge, len(rings))
	for i, r := range rings {
		for half := range 2 {
			loops[i] = append(loops[i], b.Edge(circle(r, half), -math.Pi/2, math.Pi/2))
		}
	}
	last := len(rings) - 1
	b.Face(name+", floor", NewPlane(at(rings[0]), dir.Scale(-1)), false, loops[0])
	b.Face(name+", floor", NewPlane(at(rings[last]), dir), false, loops[last])
	for i := range last {
		p, q := rings[i], rings[i+1]
		switch {
		case p.At != q.At:
			for half := range 2 {
				low, high := loops[i][half], loops[i+1][half]
				b.Face(name, Swept{Circle: circle(p, half), Direction: dir}, false,
					[]*Edge{low, b.Line(low.To.At, high.To.At), high, b.Line(low.From.At, high.From.At)})
			}
		case p.Radius > q.Radius:
			b.Face(name+", shoulder", NewPlane(at(p), dir), false, loops[i], loops[i+1])
		default:
			b.Face(name+", shoulder", NewPlane(at(p), dir.Scale(-1)), false, loops[i+1], loops[i])
		}
	}
	return b.Solid(name)
}
