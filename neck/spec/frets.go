package spec

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Temperament says where the frets lie: so many equal Steps to the octave, 0
// for twelve, or Ratios, the pitches of one round of frets over the open
// string's, of which the last repeats.
type Temperament struct {
	Steps  int
	Ratios string
}

// octaveSteps is the number of steps to the octave of a spec that names none.
const octaveSteps = 12

// equal returns the number of equal steps to the octave.
func (t *Temperament) equal() int {
	if t == nil || t.Steps == 0 {
		return octaveSteps
	}
	return t.Steps
}

// ParseRatios reads a list of ratios, such as "9/8 5/4 4/3 3/2 2/1": fractions
// or decimal numbers above 1, rising.
func ParseRatios(text string) ([]float64, error) {
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == '\t' })
	if len(fields) == 0 {
		return nil, errors.New(`there is no ratio; allowed: fractions such as "9/8 5/4 4/3 3/2 2/1", rising, the last of which repeats`)
	}
	out := make([]float64, len(fields))
	last := 1.0
	for i, f := range fields {
		above, below, fraction := strings.Cut(f, "/")
		v, err := parseNumber(above)
		if err == nil && fraction {
			var d float64
			if d, err = parseNumber(below); err == nil {
				v /= d
			}
		}
		switch {
		case err != nil || math.IsInf(v, 0) || math.IsNaN(v):
			return nil, fmt.Errorf("%s is not a ratio; allowed: fractions such as 9/8, or decimal numbers such as 1.125", quote(f))
		case v < last*1.001 || v > 64:
			return nil, fmt.Errorf("the ratio %s does not lie above %s, the one before it; allowed: rising ratios from 1 to 64, a thousandth or more apart", quote(f), strconv.FormatFloat(last, 'f', -1, 64))
		}
		out[i], last = v, v
	}
	return out, nil
}

// ratios returns the spec's list of ratios, nil where the steps are equal.
func (s *Spec) ratios() []float64 {
	if s.Temperament == nil || s.Temperament.Ratios == "" {
		return nil
	}
	r, err := ParseRatios(s.Temperament.Ratios)
	if err != nil {
		return nil // Validate has said so
	}
	return r
}

// Stopped returns what share of the string's length lies between the nut and
// fret n: 1 - 2^(-n/12) in twelve equal steps. A fret between two of a list
// of ratios lies by its share of the interval in pitch.
func (s *Spec) Stopped(n float64) float64 {
	if r := s.ratios(); r != nil && !math.IsInf(n, 1) {
		return 1 - 1/pitchOver(r, n)
	}
	return 1 - math.Exp2(-n/float64(s.Temperament.equal()))
}

// pitchOver returns the pitch of fret n over the open string's in a round of
// ratios.
func pitchOver(r []float64, n float64) float64 {
	m := float64(len(r))
	round := math.Floor(n / m)
	at := n - round*m
	i := math.Floor(at)
	part := at - i
	of := func(i int) float64 {
		if i == 0 {
			return 1
		}
		return r[i-1]
	}
	v := of(int(i))
	if part > 0 {
		v *= math.Pow(of(int(i)+1)/v, part)
	}
	return v * math.Pow(r[len(r)-1], round)
}

// fretAtShare is the inverse of Stopped, for a share below 1.
func (s *Spec) fretAtShare(share float64) float64 {
	r := s.ratios()
	if r == nil {
		return -float64(s.Temperament.equal()) * math.Log2(1-share)
	}
	pitch := -math.Log(1 - share)
	period := math.Log(r[len(r)-1])
	round := math.Floor(pitch / period)
	rest := pitch - round*period
	below, n := 0.0, round*float64(len(r))
	for i, v := range r {
		above := math.Log(v)
		if rest <= above || i == len(r)-1 {
			return n + float64(i) + (rest-below)/(above-below)
		}
		below = above
	}
	return n
}

// Multiscale reports whether the outer strings differ in length.
func (s *Spec) Multiscale() bool {
	return s.Scale.Treble != 0 && s.Scale.Treble != s.Scale.Length && s.Spacing != nil
}

// runs returns how far the two outer strings go along the neck, from their nut
// to their bridge ends: a little less than they are long, where they spread.
func (s *Spec) runs() (bass, treble float64) {
	out := (s.Spacing.Bridge - s.Spacing.Nut) / 2
	run := func(l float64) float64 { return math.Sqrt(l*l - out*out) }
	return run(s.Scale.Length), run(s.Scale.Treble)
}

// StringLength returns the string length along the centreline, from the front
// of the nut to the bridge: the scale length, or with two scales the mean of
// the outer strings' runs along the neck.
func (s *Spec) StringLength() float64 {
	if !s.Multiscale() {
		return s.Scale.Length
	}
	bass, treble := s.runs()
	return (bass + treble) / 2
}

// OuterSpread returns half the distance across the neck between the outer
// strings where a fret stops the given share of them.
func (g *Spacing) OuterSpread(share float64) float64 {
	return (g.Nut + share*(g.Bridge-g.Nut)) / 2
}

// FretSlope returns how much fret n leans: the line of the fret is x = FretX(n)
// + slope y, straight from its place on the bass string to that on the treble
// one. It is 0 for one scale and for the square fret; it is positive where the
// treble end lies nearer the body.
//
// On each outer string fret n stands at F = N + (1 - 2^(-n/12)) (B - N) between
// its nut end N and its bridge end B: the definition of the temperament.
func (s *Spec) FretSlope(n float64) float64 {
	if !s.Multiscale() {
		return 0
	}
	bass, treble := s.runs()
	at := s.Stopped(n)
	return (s.Stopped(s.Scale.SquareFret) - at) * (bass - treble) / (2 * s.Spacing.OuterSpread(at))
}

// Skew returns by how much the ends of the outer strings at fret n differ,
// along the strings, from a line square to them at the square fret: 0 for the
// square fret itself, positive where the treble end lies nearer the body. The
// nut is fret 0, and +Inf the bridge.
func (s *Spec) Skew(n float64) float64 {
	if !s.Multiscale() {
		return 0
	}
	return (s.Stopped(s.Scale.SquareFret) - s.Stopped(n)) * (s.Scale.Length - s.Scale.Treble)
}
