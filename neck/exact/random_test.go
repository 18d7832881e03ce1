package exact_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/fretboard"
	"neckloft/neck/necktest"
)

// TestRandom builds random necks: volumes within a hundred thousandth of the
// integrals, surfaces as close as promised. Few are refused. Without DRAWN=all it takes
// wood or board, in turn.
func TestRandom(t *testing.T) {
	built, no, necks := 0, 0, 0
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := necktest.Buildable(t)
		parts := []neck.Part{neck.PartWood, neck.PartBoard}
		if necks++; !drawn.All() {
			parts = parts[necks%2 : necks%2+1]
		}
		for _, part := range parts {
			m, err := exact.Build(n, part)
			if refused(err) {
				no++
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			built++
			if off := m[0].Volume()/volume(n, part) - 1; math.Abs(off) > 1e-5 {
				t.Fatalf("%v: the volume is off by %g of itself", part, off)
			}
			if m[0].Miss > exact.Promised {
				t.Fatalf("%v: a miss of %g mm", part, m[0].Miss)
			}
		}
	})
	assert.LessOrEqual(t, no, 1+built/15, "refused, of %d", built)
}

// volume returns that of a part by integrals of the neck and its board, which know
// nothing of patches.
func volume(n *neck.Neck, part neck.Part) float64 {
	if part == neck.PartBoard {
		return fretboard.New(n).Volume()
	}
	return fretboard.WoodVolume(n)
}

// refused reports whether a neck has what a solid cannot hold.
func refused(err error) bool {
	var no *exact.Unsupported
	var sharp *exact.TooSharp
	var uncut *exact.Uncut
	return errors.As(err, &no) || errors.As(err, &sharp) || errors.As(err, &uncut)
}
