package exact_test

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/fretboard"
	"neckloft/neck/necktest"
)

// TestRandom builds random necks: volumes within a hundred thousandth of the
// sections' integrals, surfaces as close as promised.
func TestRandom(t *testing.T) {
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := necktest.Buildable(t)
		for _, part := range []neck.Part{neck.PartWood, neck.PartBoard} {
			m, err := exact.Build(n, part)
			if refused(err) {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			if off := m[0].Volume()/volume(n, part) - 1; math.Abs(off) > 1e-5 {
				t.Fatalf("%v: the volume is off by %g of itself", part, off)
			}
			if m[0].Miss > exact.Promised {
				t.Fatalf("%v: a miss of %g mm", part, m[0].Miss)
			}
		}
	})
}

// volume returns that of a part by integrals of the neck and its board, which know
// nothing of patches.
func volume(n *neck.Neck, part neck.Part) float64 {
	b := fretboard.New(n)
	if part == neck.PartBoard {
		return b.Volume()
	}
	v := n.WoodVolume()
	if pins, err := b.Pins(); err == nil {
		for _, p := range pins {
			d := n.Spec().Pins.Diameter
			v -= math.Pi / 4 * d * d * p.InWood
		}
	}
	return v
}

// refused reports whether a neck has what a solid cannot hold.
func refused(err error) bool {
	var no *exact.Unsupported
	var sharp *exact.TooSharp
	return errors.As(err, &no) || errors.As(err, &sharp)
}
