package fretboard

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// boundEnd reports whether the binding goes across the board's end too.
func (b *Board) boundEnd() bool { return b.s.Binding != nil && b.s.Binding.End }

// InnerEnd returns x where the board's own wood ends, y from the centreline: the
// curve inside of the end at the distance of the binding, or the end itself where
// that is not bound. It is the least of what a disc of that radius reaches from
// places of the end.
func (b *Board) InnerEnd(y float64) float64 {
	if !b.boundEnd() {
		return b.s.BoardEndAt(y)
	}
	w := b.s.Binding.Width
	if b.s.PlainEnd() {
		return b.s.BoardEnd() - w
	}
	best, _ := numeric.Maximize(func(t float64) float64 {
		sin, cos := math.Sincos(t)
		return w*cos - b.s.BoardEndAt(y+w*sin)
	}, -math.Pi/2, math.Pi/2, 24)
	return -best
}

// EndAdds returns by how much the binding across the end makes the board longer on
// the centreline: what its blank is shorter. It is 0 where the end is not bound.
func (b *Board) EndAdds() float64 { return b.s.BoardEndAt(0) - b.InnerEnd(0) }

// endFloor returns the height of the floor of the binding's channel across the
// end: straight from the floor of one side's channel to the other's.
func (b *Board) endFloor() func(x, y float64) float64 {
	if b.s.Binding.Depth == 0 {
		return level(0)
	}
	_, _, eb, et := b.s.BoardCorners()
	a, c := -b.n.BoardHalfWidth(eb), b.n.BoardHalfWidth(et)
	lo, hi := b.bindingFloor(eb), b.bindingFloor(et)
	return func(_, y float64) float64 { return numeric.Lerp(lo, hi, (y-a)/(c-a)) }
}

// endBindingCut returns the channel of the binding across the end, nil where
// there is none.
func (b *Board) endBindingCut(e float64) *mesh.Mesh {
	if !b.boundEnd() {
		return nil
	}
	w := b.wide()
	ys := b.places(b.InnerEnd, w, e)
	_, to := b.n.BoardExtent()
	far := to
	for _, y := range ys {
		far = math.Max(far, b.s.BoardEndAt(y))
	}
	// Its floor must not be one with those of the sides.
	floor := level(-1.5 * air)
	if b.s.Binding.Depth > 0 {
		at := b.endFloor()
		floor = func(x, y float64) float64 { return at(x, y) - film(2*e) }
	}
	return trough(band(ys, b.InnerEnd, func(float64) float64 { return far + 2*air }), floor, b.over())
}

// endBindingVolume returns what the channel across the end takes, but for what
// those of the sides have taken.
func (b *Board) endBindingVolume() float64 {
	if !b.boundEnd() {
		return 0
	}
	in := b.boundWidth()
	_, _, eb, et := b.s.BoardCorners()
	floor := b.endFloor()
	const panels = 24
	lo, hi := in-b.n.BoardHalfWidth(eb), b.n.BoardHalfWidth(et)-in
	sum := 0.0
	for i := range panels {
		sum += acrossRule.Integrate(func(y float64) float64 {
			return alongRule.Integrate(func(x float64) float64 { return b.top(x, y) - floor(x, y) }, b.InnerEnd(y), b.s.BoardEndAt(y))
		}, numeric.Lerp(lo, hi, float64(i)/panels), numeric.Lerp(lo, hi, float64(i+1)/panels))
	}
	return sum
}

// WoodLength returns the length of the board's own wood on the centreline.
func (b *Board) WoodLength() float64 { return b.InnerEnd(0) - b.s.BoardStartAt(0) }

// BindingPlan returns the strips of the binding as seen from above, with chords
// within e, the corners where two meet in both; nothing without binding.
func (b *Board) BindingPlan(e float64) [][]mesh.Vec2 {
	if b.s.Binding == nil {
		return nil
	}
	in := b.boundWidth()
	sb, st, eb, et := b.s.BoardCorners()
	half := b.n.BoardHalfWidth
	strip := func(side, from, to float64) []mesh.Vec2 {
		at := func(x, by float64, end func(y float64) float64) mesh.Vec2 {
			y := side * (half(x) - by)
			return mesh.Vec2{X: x + end(y) - end(side*half(x)), Y: y}
		}
		return []mesh.Vec2{at(from, 0, b.s.BoardStartAt), at(to, 0, b.s.BoardEndAt), at(to, in, b.s.BoardEndAt), at(from, in, b.s.BoardStartAt)}
	}
	out := [][]mesh.Vec2{strip(-1, sb, eb), strip(1, st, et)}
	if !b.boundEnd() {
		return out
	}
	lo, hi := -half(eb), half(et)
	ys := []float64{lo}
	for _, y := range b.places(b.InnerEnd, b.wide(), e) {
		if y > lo && y < hi {
			ys = append(ys, y)
		}
	}
	ys = append(ys, hi)
	var across []mesh.Vec2
	for _, y := range ys {
		across = append(across, mesh.Vec2{X: b.InnerEnd(y), Y: y})
	}
	for i := range ys {
		y := ys[len(ys)-1-i]
		across = append(across, mesh.Vec2{X: b.s.BoardEndAt(y), Y: y})
	}
	return append(out, across)
}
