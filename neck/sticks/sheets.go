package sticks

import (
	"math"

	"neckloft/neck/numeric"
)

// sheets lists the veneers of the headstock, as large as they have to be: as wide
// as the headstock is anywhere, and as long as its face, or for the back as far
// as the nut, since it is drawn out on the way there; with what is trimmed at
// both ends. The spec does not say of what wood they are.
func (l *List) sheets() {
	n := l.Neck
	h := n.Spec().Headstock
	if h == nil {
		return
	}
	far, _ := numeric.Maximize(l.reach, n.Start(), 0, 400)
	tip := n.HeadU(n.Start())
	add := func(name string, thickness, from float64) {
		if thickness == 0 {
			return
		}
		w := roundUp(n.Spec(), 2*far)
		l.Pieces = append(l.Pieces, Piece{Use: Sheet, Name: name, Count: 1, Length: tip - from + 2*l.Saw.Trim, Short: math.NaN(), Ramp: math.NaN(),
			Width: w, NarrowWidth: w, Thickness: thickness, RoughWidth: math.NaN(), RoughThickness: math.NaN()})
	}
	add("face veneer", h.FaceVeneer, n.Spec().Break()) // where the face begins on either side
	add("back veneer", h.BackVeneer, 0)
}
