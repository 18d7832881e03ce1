package spec

import (
	"fmt"
	"math"
	"neckloft/neck/numeric"
	"regexp"
	"strconv"
)

// Strings is the set of strings and how high it lies. Heights are those of the
// strings' centres above the board's top on the centreline, the mean of the
// set. The set runs from the treble side to the bass side.
type Strings struct {
	HeightNut  float64 // at the nut
	Height12   float64 // at fret 12, halfway along the strings
	FretHeight float64 // of the frets' crowns over the board; 0 for DefaultFretHeight
	BassHigher float64 // by how much the bass outer string lies higher at fret 12 than the treble one
	Relief     float64 // the hollow of the strung board in its middle, by its builder
	Joint      *Place  // where the body takes over; nil for the heel's full block
	NutEdge    float64 // from the board's edge to the centre of the outer strings at the nut; 0 = DefaultNutEdge
	Set        []String
}

// DefaultNutEdge is the distance of the outer strings' centres from the board's
// edge at the nut: common practice, no published source.
const DefaultNutEdge = 3.5

// NutY returns how far from the centreline, towards the treble side, the centre
// of string i lies at the nut, counted from 0 on the treble side: as [spacing]
// has it, or even between the edges.
func (s *Spec) NutY(i int) float64 {
	if len(s.Strings.Set) < 2 {
		return 0
	}
	if s.Spacing != nil {
		return s.StringPlaces(s.Spacing.Nut)[i]
	}
	edge := s.Strings.NutEdge
	if edge == 0 {
		edge = DefaultNutEdge
	}
	return s.StringPlaces(s.Width.Nut - 2*edge)[i]
}

// Spread returns by how much string i runs outward towards the treble side, a mm
// along the neck from the nut to the bridge: 0 where no [spacing] tells it.
func (s *Spec) Spread(i int) float64 {
	if s.Spacing == nil || len(s.Strings.Set) < 2 {
		return 0
	}
	return (s.StringPlaces(s.Spacing.Bridge)[i] - s.StringPlaces(s.Spacing.Nut)[i]) / s.StringLength()
}

// String is one string, at rest and in tune: its pitch with its mass or what
// that follows from, or its tension outright.
type String struct {
	Pitch       string  // such as "E2" or "F#3", or ""
	Frequency   float64 // Hz, given in place of a pitch; 0 where not given
	Gauge       float64 // diameter over all, mm
	Core        float64 // diameter of a wound string's core, mm; 0 for a plain string
	Density     float64 // of a plain string or a core, kg/m³; 0 is steel
	WrapDensity float64 // of the winding, kg/m³; 0 is steel
	Mass        float64 // per length, g/m, in place of what the gauge gives; 0 where not given
	Tension     float64 // N, in place of all the rest; 0 where not given
}

// SteelDensity is the density of music wire in kg/m³: 0.283 lb/in³, as the
// piano technicians' list archive uses it.
const SteelDensity = 0.283 * 0.45359237 / (0.0254 * 0.0254 * 0.0254)

// ConcertPitch is the frequency of A4 in Hz (ISO 16:1975).
const ConcertPitch = 440.0

var pitchForm = regexp.MustCompile(`^([A-Ga-g])([#b♯♭]?)(-?\d)$`)

// PitchFrequency returns the frequency in Hz of a pitch in equal temperament:
// a letter, # or b, and the octave, which begins at C; A4 is ConcertPitch.
func PitchFrequency(pitch string) (float64, error) {
	m := pitchForm.FindStringSubmatch(pitch)
	if m == nil {
		return 0, fmt.Errorf(`%s is not a pitch; allowed: a letter with # or b and the octave, such as "E2", "F#3" or "Bb4"`, quote(pitch))
	}
	semitone := map[byte]int{'C': -9, 'D': -7, 'E': -5, 'F': -4, 'G': -2, 'A': 0, 'B': 2}[m[1][0]&^0x20]
	switch m[2] {
	case "#", "♯":
		semitone++
	case "b", "♭":
		semitone--
	}
	octave, _ := strconv.Atoi(m[3]) // one digit
	return ConcertPitch * math.Exp2(float64(semitone)/12+float64(octave-4)), nil
}

// Hertz returns the string's frequency, and false where it is not known.
func (s String) Hertz() (float64, bool) {
	if s.Frequency != 0 {
		return s.Frequency, true
	}
	f, err := PitchFrequency(s.Pitch)
	return f, err == nil
}

// MassPerLength returns the string's mass per length in kg/m, and false where
// it does not follow from what is given.
//
// A plain string is a cylinder. The winding of a wound one is round wire laid
// turn by turn, (gauge - core)/2 thick, at the mean diameter (gauge + core)/2:
// π² ρ (gauge² - core²)/16, which is π/4 of the full ring.
func (s String) MassPerLength() (float64, bool) {
	const perSquareMetre = 1e-6 // from mm²
	density, wrap := s.Density, s.WrapDensity
	if density == 0 {
		density = SteelDensity
	}
	if wrap == 0 {
		wrap = SteelDensity
	}
	switch {
	case s.Mass != 0:
		return s.Mass / 1000, true
	case s.Gauge == 0:
		return 0, false
	case s.Core == 0:
		return density * math.Pi / 4 * s.Gauge * s.Gauge * perSquareMetre, true
	}
	return (density*math.Pi/4*s.Core*s.Core +
		wrap*math.Pi*math.Pi/16*(s.Gauge*s.Gauge-s.Core*s.Core)) * perSquareMetre, true
}

// Newtons returns the string's tension in N on a scale of the given length in
// mm, and false where it does not follow from what is given. It is the given
// tension, or μ (2 L f)² with mass per length μ and frequency f: the law of the
// ideal string, in engineering units T = UW (2 L F)² / 386.4 ("String Tension
// 101", studylib.net). The saddle's compensation is neglected.
func (s String) Newtons(scale float64) (float64, bool) {
	if s.Tension != 0 {
		return s.Tension, true
	}
	mass, ok := s.MassPerLength()
	f, known := s.Hertz()
	if !ok || !known {
		return 0, false
	}
	v := 2 * scale / 1000 * f
	return mass * v * v, true
}

// Tension returns the tension of all the strings together, in N.
func (s *Spec) Tension() float64 {
	if s.Strings == nil {
		return 0
	}
	sum := 0.0
	for i, str := range s.Strings.Set {
		t, _ := str.Newtons(s.OwnLength(i)) // Validate has seen to it
		sum += t
	}
	return sum
}

// StringLine returns z of the strings at x: straight from nut to saddle.
func (s *Spec) StringLine(x float64) float64 {
	g := s.Strings
	return s.Board.Thickness + numeric.Lerp(s.NutHeight(), g.Height12, x/(s.StringLength()/2))
}
