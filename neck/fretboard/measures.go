package fretboard

import (
	"math"

	"neckloft/neck/numeric"
)

// WoodWidths returns the width of the board's own wood at the nut and at its end,
// without the binding: what to cut the blank to before it is bound.
func (b *Board) WoodWidths() (nut, end float64) {
	w := b.s.Width
	return w.Nut - 2*b.boundWidth(), w.End - 2*b.boundWidth()
}

// boundWidth returns what the binding adds to half the board's width, across the
// neck.
func (b *Board) boundWidth() float64 {
	g := b.s.Binding
	if g == nil {
		return 0
	}
	slope := (b.s.Width.End - b.s.Width.Nut) / 2 / b.s.BoardEnd()
	return g.Width * math.Hypot(1, slope)
}

// Straightness returns how far the board's top leaves the straight line under an
// outer string, from the nut to the last fret: positive for a hump, negative for
// a hollow, 0 on a cylinder whose strings run parallel to it and on the cone
// that the strings lie along. It is 0 too where the spec does not say where
// the strings lie.
func (b *Board) Straightness() float64 {
	if b.s.Spacing == nil {
		return 0
	}
	worst := 0.0
	for _, side := range []float64{-1, 1} {
		height := func(x float64) float64 {
			return b.top(x, side*b.s.Spacing.OuterSpread(x/b.s.StringLength())) + b.s.FallAwayAt(x)
		}
		end := b.s.FretX(float64(b.s.Scale.Frets))
		z0, z1 := height(0), height(end)
		const steps = 50
		for i := 1; i < steps; i++ {
			x := end * float64(i) / steps
			if d := height(x) - numeric.Lerp(z0, z1, x/end); math.Abs(d) > math.Abs(worst) {
				worst = d
			}
		}
	}
	return worst
}

// WidestLedge returns by how much the finished board is wider than the wood under
// it, on either side, and where it is most.
func (b *Board) WidestLedge() (gap, x float64) {
	end := math.Min(b.n.End(), b.s.BoardEnd())
	const steps = 200
	for i := range steps + 1 {
		at := end * float64(i) / steps
		if d := b.n.BoardHalfWidth(at) - b.n.Width(at)/2; d > gap {
			gap, x = d, at
		}
	}
	return gap, x
}
