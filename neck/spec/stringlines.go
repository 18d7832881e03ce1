package spec

import "math"

// StringCount returns the number of strings: those that are listed, or what the
// spacing says, or 6.
func (s *Spec) StringCount() int {
	switch {
	case s.Strings != nil && len(s.Strings.Set) > 0:
		return len(s.Strings.Set)
	case s.Spacing != nil && s.Spacing.Strings != 0:
		return s.Spacing.Strings
	}
	return 6
}

// StringPlaces returns how far from the centreline the strings lie where the
// outer ones are spread apart, centre to centre: from the treble side to the
// bass side, evenly by their centres or by the gaps between them.
func (s *Spec) StringPlaces(spread float64) []float64 {
	k := s.StringCount()
	out := make([]float64, k)
	gauge := func(i int) float64 {
		if s.Spacing == nil || s.Spacing.Equal != EqualGaps {
			return 0
		}
		return s.Strings.Set[i].Gauge
	}
	// From one centre to the next: half of either string, and the gap.
	wire := 0.0
	for i := 1; i < k; i++ {
		wire += (gauge(i-1) + gauge(i)) / 2
	}
	y := spread / 2
	for i := range out {
		if i > 0 {
			y -= (gauge(i-1)+gauge(i))/2 + (spread-wire)/float64(k-1)
		}
		out[i] = y
	}
	return out
}

// OwnLength returns the length of string i of the set, counted from 0 on the
// treble side: the scale length, or with two scales its own.
func (s *Spec) OwnLength(i int) float64 {
	if !s.Multiscale() {
		return s.Scale.Length
	}
	nut, bridge := s.StringPlaces(s.Spacing.Nut)[i], s.StringPlaces(s.Spacing.Bridge)[i]
	// From the line of the nut to that of the bridge, which is fret infinity.
	return math.Hypot(s.StringLength()+s.FretSlope(math.Inf(1))*bridge-s.FretSlope(0)*nut, bridge-nut)
}

// DefaultFretHeight is the height of a fret's crown over the board, in mm:
// common practice, no published source.
const DefaultFretHeight = 1.0

// FretHeight returns the height of the frets' crowns over the board.
func (s *Spec) FretHeight() float64 {
	if s.Strings == nil || s.Strings.FretHeight == 0 {
		return DefaultFretHeight
	}
	return s.Strings.FretHeight
}
