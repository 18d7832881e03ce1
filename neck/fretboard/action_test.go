package fretboard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// strung gives a spec strings.
func strung(s *spec.Spec) {
	s.Spacing = &spec.Spacing{Nut: 35.5, Bridge: 52.5}
	s.Strings = &spec.Strings{HeightNut: 1.6, Height12: 3, FretHeight: 1.1, Set: []spec.String{
		{Pitch: "E4", Gauge: 0.25}, {Pitch: "B3", Gauge: 0.35}, {Pitch: "G3", Gauge: 0.45},
	}}
}

// On a flat board without relief the clearance goes up along a straight line
// from the nut, halfway to the bridge it is the height less half of the string
// and the fret.
func TestClearanceOnAFlatBoard(t *testing.T) {
	b := made(t, strung)
	lines, err := b.Strings()
	require.NoError(t, err)
	for i := range lines {
		for k := range b.Frets {
			f := &b.Frets[k]
			// Undersides of all strings lie alike: the mean gauge is 0.35.
			want := 1.6 + (3-1.6)*f.X/324 - 0.35/2 - 1.1
			assert.InDelta(t, want, b.Clearance(&lines[i], f), 1e-9)
			assert.InDelta(t, (43+14*f.X/b.s.BoardEnd()-35.5-17*f.X/648)/2, b.EdgeDistance(&lines[0], f), 1e-9)
		}
	}
	assert.InDelta(t, 26.25, lines[0].At(1).Y, 1e-12)
	assert.InDelta(t, 648, lines[0].At(1).X, 1e-12)
}

// Relief adds to the clearance between nut and joint, nothing at fret 12 where
// the height is measured as it is strung.
func TestClearanceWithRelief(t *testing.T) {
	flat := made(t, strung)
	joint := spec.AtX(400)
	bowed := made(t, func(s *spec.Spec) { strung(s); s.Strings.Relief, s.Strings.Joint = 0.3, &joint })
	raised := made(t, func(s *spec.Spec) { strung(s); s.Strings.BassHigher = 0.6 })
	line := func(b *Board, i int) *String {
		l, err := b.Strings()
		require.NoError(t, err)
		return &l[i]
	}
	assert.InDelta(t, 0.3, bowed.Hollow(200), 1e-12)
	for k := range flat.Frets {
		f := &flat.Frets[k]
		share := f.X / 648
		u := math.Min(1, f.X/400)
		more := 4*0.3*u*(1-u) - 2*share*4*0.3*(324.0/400)*(1-324.0/400)
		assert.InDelta(t, more, bowed.Clearance(line(bowed, 1), f)-flat.Clearance(line(flat, 1), f), 1e-9, f.Label)
		for i, by := range []float64{-0.3, 0, 0.3} {
			assert.InDelta(t, 2*share*by, raised.Clearance(line(raised, i), f)-flat.Clearance(line(flat, i), f), 1e-9)
		}
	}
}

// With two scales each string crosses each fret where the two lines do, and the
// outer ones at the rule's own places.
func TestStringsOverLeaningFrets(t *testing.T) {
	b := made(t, func(s *spec.Spec) { strung(s); twoScales(s) })
	lines, err := b.Strings()
	require.NoError(t, err)
	for k := range b.Frets {
		f := &b.Frets[k]
		for i := range lines {
			p := lines[i].At(lines[i].Over(f))
			assert.InDelta(t, f.At(p.Y), p.X, 1e-9)
		}
		assert.InDelta(t, b.s.Stopped(f.Number), lines[0].Over(f), 1e-12)
		assert.InDelta(t, b.s.Stopped(f.Number), lines[2].Over(f), 1e-12)
		assert.False(t, math.IsNaN(b.Clearance(&lines[1], f)))
	}
	assert.InDelta(t, 647.7, lines[0].Bridge.Sub(lines[0].Nut).Norm(), 1e-9)
	assert.InDelta(t, 685.8, lines[2].Bridge.Sub(lines[2].Nut).Norm(), 1e-9)
	_, err = made(t, nil).Strings()
	assert.ErrorIs(t, err, ErrNoStrings)
}

// On a zero fret every string lies with its underside on the crown, whatever
// height_nut says, and rises from there to its height halfway.
func TestStringsLieOnAZeroFret(t *testing.T) {
	for _, height := range []float64{0, 1.6, 5} {
		b := made(t, func(s *spec.Spec) {
			strung(s)
			s.Nut = &spec.Nut{Thickness: 4, ZeroFret: 4}
			s.Strings.HeightNut = height
		})
		lines, err := b.Strings()
		require.NoError(t, err)
		require.Equal(t, "zero fret", b.Frets[0].Label)
		for i := range lines {
			assert.InDelta(t, 0, b.Clearance(&lines[i], &b.Frets[0]), 1e-12)
			for k := range b.Frets {
				f := &b.Frets[k]
				assert.InDelta(t, (3-0.35/2-1.1)*f.X/324, b.Clearance(&lines[i], f), 1e-9, f.Label)
			}
		}
		assert.InDelta(t, b.s.Board.Thickness+1.1+0.35/2, b.s.StringLine(0), 1e-12)
	}
}
