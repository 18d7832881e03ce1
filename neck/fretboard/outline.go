package fretboard

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// Outline returns the board seen from above, counter-clockwise, with chords
// within e of a curved end: from its bass corner at the nut along the bass
// edge. What of it the binding takes is in it.
func (b *Board) Outline(e float64) []mesh.Vec2 {
	sb, st, eb, et := b.s.BoardCorners()
	half := b.n.BoardHalfWidth
	out := []mesh.Vec2{{X: sb, Y: -half(sb)}, {X: eb, Y: -half(eb)}}
	if !b.s.PlainEnd() {
		lo, hi := -half(eb), half(et)
		for _, y := range b.endPlaces(math.Max(-lo, hi), e) {
			if y > lo+1e-6 && y < hi-1e-6 {
				out = append(out, mesh.Vec2{X: b.s.BoardEndAt(y), Y: y})
			}
		}
	}
	return append(out, mesh.Vec2{X: et, Y: half(et)}, mesh.Vec2{X: st, Y: half(st)})
}

// Area returns the area of the board seen from above, in mm².
func (b *Board) Area() float64 {
	sum := 0.0
	loop := b.Outline(0.001)
	for i, p := range loop {
		sum += p.Cross(loop[(i+1)%len(loop)])
	}
	return sum / 2
}

// EdgeThickness returns the board's thickness at its edge at x.
func (b *Board) EdgeThickness(x float64) float64 { return b.top(x, b.n.BoardHalfWidth(x)) }

// Drop returns how far the edge of the board lies below the crown at x: what
// comes off a level blank there to make the radius.
func (b *Board) Drop(x float64) float64 { return b.n.BoardCrown(x) - b.EdgeThickness(x) }

// ThinnestEdge returns the least thickness of the edge, and where it is.
func (b *Board) ThinnestEdge() (thick, x float64) {
	thick = math.Inf(1)
	from, to := b.n.BoardExtent()
	const steps = 200
	for i := range steps + 1 {
		at := numeric.Lerp(from, to, float64(i)/steps)
		if v := b.EdgeThickness(at); v < thick {
			thick, x = v, at
		}
	}
	return thick, x
}
