package brep

import (
	"math"
	"slices"

	"neckloft/mesh"
)

// beside is how far the points of a lattice keep from loops.
const beside = 0.4

// lattice returns the points of a lattice inside loops, an outer one and its
// holes, and not close to any, row by row. Those of every second row stand between
// those of the others, so that no four lie on one circle.
func lattice(loops [][]mesh.Vec2) []mesh.Vec2 {
	lo, hi := mesh.LoopBounds(loops[0])
	first := math.Ceil(lo.Y)
	rows := int(math.Floor(hi.Y)-first) + 1
	if rows <= 0 || rows > 1e5 {
		return nil
	}
	crossings := make([][]float64, rows)
	type place struct{ x, row int }
	close := map[place]bool{}
	for _, l := range loops {
		for i, a := range l {
			b := l[(i+1)%len(l)]
			for y := math.Ceil(math.Min(a.Y, b.Y)); y <= math.Max(a.Y, b.Y); y++ {
				// The half-open rule: an end counts for the side above it.
				if r := int(y - first); r >= 0 && r < rows && (a.Y > y) != (b.Y > y) {
					crossings[r] = append(crossings[r], a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
				}
			}
			for y := math.Ceil(math.Min(a.Y, b.Y) - beside); y <= math.Max(a.Y, b.Y)+beside; y++ {
				s := shift(y)
				for x := math.Ceil(math.Min(a.X, b.X) - beside - s); x+s <= math.Max(a.X, b.X)+beside; x++ {
					if near2(mesh.Vec2{X: x + s, Y: y}, a, b) < beside {
						close[place{int(x), int(y - first)}] = true
					}
				}
			}
		}
	}
	var out []mesh.Vec2
	for r, at := range crossings {
		slices.Sort(at)
		y := first + float64(r)
		s := shift(y)
		for i := 0; i+1 < len(at); i += 2 {
			for x := math.Ceil(at[i] - s); x+s < at[i+1]; x++ {
				if !close[place{int(x), r}] {
					out = append(out, mesh.Vec2{X: x + s, Y: y})
				}
			}
		}
	}
	return out
}

// shift returns by how much a row is shifted.
func shift(y float64) float64 { return math.Mod(math.Abs(y), 2) / 2 }

// near2 returns the distance of a point from a segment.
func near2(p, a, b mesh.Vec2) float64 {
	d := b.Sub(a)
	k := 0.0
	if l := d.Dot(d); l > 0 {
		k = math.Min(math.Max(p.Sub(a).Dot(d)/l, 0), 1)
	}
	r := p.Sub(a.Add(d.Scale(k)))
	return math.Hypot(r.X, r.Y)
}
