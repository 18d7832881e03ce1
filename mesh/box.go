package mesh

import "math"

// box is an axis-aligned box that encloses what it bounds: its corners are
// rounded outward.
type box struct{ lo, hi [3]float32 }

// emptyBox is the box of nothing.
func emptyBox() box {
	inf := float32(math.Inf(1))
	return box{lo: [3]float32{inf, inf, inf}, hi: [3]float32{-inf, -inf, -inf}}
}

// triangleBox returns the box of a triangle.
func triangleBox(a, b, c Vec) box {
	return box{
		lo: [3]float32{
			roundDown(lower(a.X, lower(b.X, c.X))),
			roundDown(lower(a.Y, lower(b.Y, c.Y))),
			roundDown(lower(a.Z, lower(b.Z, c.Z))),
		},
		hi: [3]float32{
			roundUp(higher(a.X, higher(b.X, c.X))),
			roundUp(higher(a.Y, higher(b.Y, c.Y))),
			roundUp(higher(a.Z, higher(b.Z, c.Z))),
		},
	}
}

// lower and higher are min and max for numbers that are numbers, in which a browser's
// engine takes several times as long.
func lower[F float32 | float64](a, b F) F {
	if b < a {
		return b
	}
	return a
}

func higher[F float32 | float64](a, b F) F {
	if b > a {
		return b
	}
	return a
}

func roundDown(x float64) float32 {
	f := float32(x)
	if float64(f) > x {
		f = math.Nextafter32(f, float32(math.Inf(-1)))
	}
	return f
}

func roundUp(x float64) float32 {
	f := float32(x)
	if float64(f) < x {
		f = math.Nextafter32(f, float32(math.Inf(1)))
	}
	return f
}

// join returns the box around both.
func (b *box) join(o *box) box {
	return box{
		lo: [3]float32{lower(b.lo[0], o.lo[0]), lower(b.lo[1], o.lo[1]), lower(b.lo[2], o.lo[2])},
		hi: [3]float32{higher(b.hi[0], o.hi[0]), higher(b.hi[1], o.hi[1]), higher(b.hi[2], o.hi[2])},
	}
}

// meets reports whether the boxes have a point in common.
func (b *box) meets(o *box) bool {
	return b.lo[0] <= o.hi[0] && o.lo[0] <= b.hi[0] &&
		b.lo[1] <= o.hi[1] && o.lo[1] <= b.hi[1] &&
		b.lo[2] <= o.hi[2] && o.lo[2] <= b.hi[2]
}

// halfArea returns half the surface of the box.
func (b *box) halfArea() float32 {
	x, y, z := b.hi[0]-b.lo[0], b.hi[1]-b.lo[1], b.hi[2]-b.lo[2]
	return x*y + y*z + z*x
}

// distance2 returns the squared distance from p to the box, 0 inside.
func (b *box) distance2(p Vec) float64 {
	x := max(float64(b.lo[0])-p.X, 0, p.X-float64(b.hi[0]))
	y := max(float64(b.lo[1])-p.Y, 0, p.Y-float64(b.hi[1]))
	z := max(float64(b.lo[2])-p.Z, 0, p.Z-float64(b.hi[2]))
	return x*x + y*y + z*z
}
