package mesh

import "math"

// Region is an area of a plane: what lies inside the outer loop and outside
// the holes. Loops are closed, without the first point repeated at the end, and
// may run either way round.
type Region struct {
	Outer []Vec2
	Holes [][]Vec2
}

// Loops returns the outer loop and the holes, in this order.
func (r Region) Loops() [][]Vec2 {
	return append([][]Vec2{r.Outer}, r.Holes...)
}

// Area returns the area of the outer loop less that of the holes.
func (r Region) Area() float64 {
	area := math.Abs(Area2(r.Outer))
	for _, h := range r.Holes {
		area -= math.Abs(Area2(h))
	}
	return area / 2
}

// Bounds returns the corners of the smallest upright rectangle around the
// outer loop.
func (r Region) Bounds() (lo, hi Vec2) { return LoopBounds(r.Outer) }

// Map returns the region with every point moved by f.
func (r Region) Map(f func(Vec2) Vec2) Region {
	out := Region{Outer: mapLoop(r.Outer, f)}
	for _, h := range r.Holes {
		out.Holes = append(out.Holes, mapLoop(h, f))
	}
	return out
}

// Translate returns the region moved by d.
func (r Region) Translate(d Vec2) Region {
	return r.Map(func(v Vec2) Vec2 { return v.Add(d) })
}

// Turn returns the region turned a quarter counter-clockwise about the origin.
func (r Region) Turn() Region {
	return r.Map(func(v Vec2) Vec2 { return Vec2{-v.Y, v.X} })
}

// LoopBounds returns the corners of the smallest upright rectangle around the
// points.
func LoopBounds(points []Vec2) (lo, hi Vec2) {
	lo = Vec2{math.Inf(1), math.Inf(1)}
	hi = lo.Scale(-1)
	for _, p := range points {
		lo = Vec2{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
		hi = Vec2{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	return lo, hi
}

func mapLoop(loop []Vec2, f func(Vec2) Vec2) []Vec2 {
	out := make([]Vec2, len(loop))
	for i, p := range loop {
		out[i] = f(p)
	}
	return out
}
