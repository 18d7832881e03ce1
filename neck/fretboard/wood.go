package fretboard

import (
	"math"

	"neckloft/neck"
)

// WoodVolume returns the volume of a neck's wood in mm³: that of [neck.Neck.WoodVolume]
// less the holes of the pins that hold the board while it is glued on, which only the
// board knows the places of. Where there is no room for pins there are no holes.
func WoodVolume(n *neck.Neck) float64 {
	v := n.WoodVolume()
	if n.Spec().Pins == nil {
		return v
	}
	b := New(n)
	pins, err := b.Pins()
	if err != nil {
		return v
	}
	for _, p := range pins {
		v -= math.Pi / 4 * b.s.Pins.Diameter * b.s.Pins.Diameter * p.InWood
	}
	return v
}
