package fretboard

import (
	"fmt"
	"sort"
)

// Stick is a straight length of fret wire and the frets that are cut from it.
type Stick struct {
	Frets []Fret
	Used  float64 // of its length, saw cuts included
}

// wireCut is what a cut of the wire takes, in mm: that of end nippers is
// nothing, that of a fine saw less than this.
const wireCut = 0.5

// Wire returns how the frets are cut from straight lengths of wire: each fret,
// the longest first, from the first length that has room for it.
func (b *Board) Wire(length float64) ([]Stick, error) {
	frets := append([]Fret(nil), b.Frets...)
	sort.SliceStable(frets, func(i, j int) bool { return b.WireLength(&frets[i]) > b.WireLength(&frets[j]) })
	if len(frets) == 0 {
		return nil, nil
	}
	if long := b.WireLength(&frets[0]); long > length {
		return nil, fmt.Errorf("fret %s takes %s of wire; allowed: lengths of wire no shorter than that", frets[0].Label, b.s.Units.Rounded(long))
	}
	var sticks []Stick
	for _, f := range frets {
		need := b.WireLength(&f)
		i := 0
		for i < len(sticks) && sticks[i].Used+wireCut+need > length {
			i++
		}
		if i == len(sticks) {
			sticks = append(sticks, Stick{Used: -wireCut})
		}
		sticks[i].Frets = append(sticks[i].Frets, f)
		sticks[i].Used += wireCut + need
	}
	return sticks, nil
}

// WireTotal returns the length of wire for all the frets together.
func (b *Board) WireTotal() float64 {
	sum := 0.0
	for i := range b.Frets {
		sum += b.WireLength(&b.Frets[i])
	}
	return sum
}
