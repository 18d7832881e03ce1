package spec

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// AtFret returns the station at fret n, which may be fractional.
func AtFret(n float64) Place { return Place{Fret: n, ByFret: true} }

// AtX returns the station x millimetres from the front face of the nut.
func AtX(x float64) Place { return Place{X: x} }

// X returns the distance of place p from the front face of the nut, in
// millimetres.
func (s *Spec) X(p Place) float64 {
	if p.ByFret {
		return s.FretX(p.Fret)
	}
	return p.X
}

// FretX returns the distance in millimetres from the nut to fret n, which may
// be fractional, on the centreline: L (1 - 2^(-n/12)) for scale length L, the
// spacing of twelve equal semitones to the octave, or as the temperament says.
func (s *Spec) FretX(n float64) float64 {
	return s.StringLength() * s.Stopped(n)
}

// FretAt returns the fractional fret number at x millimetres from the nut, the
// inverse of FretX. It is negative before the nut, and +Inf at the saddle and
// beyond, where no fret can be.
func (s *Spec) FretAt(x float64) float64 {
	share := x / s.StringLength()
	if share >= 1 {
		return math.Inf(1)
	}
	return s.fretAtShare(share)
}

// BoardEnd returns the distance in millimetres from the nut to the end of the
// fretboard: the board's length, or the last fret and what the board has beyond
// it.
func (s *Spec) BoardEnd() float64 {
	if s.Board.Length > 0 {
		return s.Board.Length
	}
	return s.FretX(float64(s.Scale.Frets)) + s.Width.PastLastFret
}

// SetBoardEnd puts the board's end so far from the nut, by the board's length
// where it has one or no frets, or else by what it has beyond the last fret.
func (s *Spec) SetBoardEnd(x float64) {
	if s.Board.Length > 0 || s.Scale.Frets == 0 {
		s.Board.Length = x
		return
	}
	s.Width.PastLastFret = x - s.FretX(float64(s.Scale.Frets))
}

// LastNamed returns the number of the last fret that stations are named by. A
// neck without frets has its stations named by where frets would be, as far as
// its board reaches: up to the octave's 24.
func (s *Spec) LastNamed() int {
	if s.Scale.Frets > 0 {
		return s.Scale.Frets
	}
	const most = 24
	return int(max(0, min(most, math.Floor(s.FretAt(s.BoardEnd())+1e-9))))
}

// ParsePlace reads a station from a command line. A bare number is a fret
// ("5", "12.5"), and "nut" is the nut; "x=120", "x=120mm", "x=4.7in" and
// "x=4-3/4in" are distances from the nut, in unit where they name none, and so
// is a fraction of an inch alone, "4-3/4in", which no fret is. Other lengths
// want their "x=": "3,5mm" would be fret 3 and 5 mm. A distance may be negative,
// which lies in the headstock; a fret may not.
func ParsePlace(text string, unit Unit) (Place, error) {
	t := strings.TrimSpace(text)
	if t == "nut" {
		return AtFret(0), nil
	}
	if rest, ok := strings.CutPrefix(t, "x"); ok {
		rest, ok = strings.CutPrefix(strings.TrimSpace(rest), "=")
		if ok {
			x, err := ParseLength(rest, unit)
			if err != nil {
				return Place{}, fmt.Errorf("station %s: %w", quote(text), err)
			}
			return AtX(x), nil
		}
	}
	n, err := parseNumber(t)
	if err != nil {
		if mm, err := ParseLength(t, Millimetre); err == nil && strings.Contains(t, "/") {
			return AtX(mm), nil
		}
		return Place{}, fmt.Errorf("station %s is not understood; allowed: a fret such as 5 or 12.5, or a distance from the nut such as x=120, x=120mm, x=4.7in or x=4-3/4in", quote(text))
	}
	if n < 0 {
		return Place{}, fmt.Errorf("station %s is a negative fret; give a station before the nut as a distance, such as x=-12", quote(text))
	}
	return AtFret(n), nil
}

// ParseLength reads a length from a command line and returns it in
// millimetres: "25mm", "1in", or a bare number in unit def. Inches may end in
// their mark, 0.5", and be a whole number and a fraction as bits and rules are
// sold by it: "1/2in", "1 1/2in", "1-1/2in". A fraction without a unit is one
// of inches only where bare numbers are inches.
func ParseLength(text string, def Unit) (float64, error) {
	t := strings.TrimSpace(text)
	unit, marked := def, false
	for _, u := range []struct {
		mark string
		unit Unit
	}{{"mm", Millimetre}, {"in", Inch}, {"\"", Inch}, {"\u2033", Inch}} {
		if rest, ok := strings.CutSuffix(t, u.mark); ok {
			t, unit, marked = strings.TrimSpace(rest), u.unit, true
			break
		}
	}
	v, err := parseNumber(t)
	if err != nil {
		f, ok := parseFraction(t)
		switch {
		case ok && unit == Inch:
			v, err = f, nil
		case ok && !marked:
			return 0, fmt.Errorf("length %s has no unit, and bare numbers are millimetres here; a fraction of an inch is written %sin", quote(text), t)
		case ok:
			return 0, fmt.Errorf("length %s is a fraction of a millimetre; allowed: a decimal number, such as 0.5mm, or a fraction of an inch, such as 1-1/2in", quote(text))
		}
	}
	if err == nil {
		v = unit.Millimetres(v)
		if math.IsInf(v, 0) {
			err = errNotNumber
		}
	}
	if err != nil {
		plain := "millimetres"
		if def == Inch {
			plain = "inches"
		}
		return 0, fmt.Errorf("length %s is not understood; allowed: a plain number of %s, or one with its unit, such as 25mm, 1in or 1-1/2in", quote(text), plain)
	}
	return v, nil
}

// parseFraction reads a fraction as a rule shows it, with a whole number before
// it or without: "1/2", "1 1/2", "1-1/2", and with a minus sign before all of
// it.
func parseFraction(text string) (float64, bool) {
	rest, negative := strings.CutPrefix(text, "-")
	part := strings.FieldsFunc(rest, func(r rune) bool { return r == ' ' })
	if len(part) == 1 {
		part = strings.Split(rest, "-")
	}
	if len(part) == 0 || len(part) > 2 {
		return 0, false
	}
	above, below, ok := strings.Cut(part[len(part)-1], "/")
	a, e1 := strconv.ParseUint(above, 10, 16)
	b, e2 := strconv.ParseUint(below, 10, 16)
	if !ok || e1 != nil || e2 != nil || b == 0 {
		return 0, false
	}
	v := float64(a) / float64(b)
	if len(part) == 2 {
		whole, err := strconv.ParseUint(part[0], 10, 16)
		if err != nil || a >= b {
			return 0, false // 1-3/2 is a slip
		}
		v += float64(whole)
	}
	if negative {
		v = -v
	}
	return v, true
}

var errNotNumber = errors.New("not a finite decimal number")

// parseNumber reads a finite decimal number. Unlike strconv it takes no "inf",
// "nan", hexadecimal or digit separators, which are slips in a shop.
func parseNumber(text string) (float64, error) {
	if text == "" || strings.Trim(text, "0123456789+-.eE") != "" {
		return 0, errNotNumber
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, errNotNumber
	}
	return v, nil
}

// quote prints what a user wrote in quotes, on one line and cut short if it is
// long.
func quote(text string) string { return strconv.Quote(shorten(text)) }

// shorten cuts a long text.
func shorten(text string) string {
	const most = 60
	n := 0
	for i := range text {
		if n == most {
			return text[:i] + "..."
		}
		n++
	}
	return text
}

// ShortLabel is Label without a unit, for the small room of a gauge, which is
// in the spec's unit throughout.
func (s *Spec) ShortLabel(p Place) string { return shortLabel(s.Units, p) }

func shortLabel(u Unit, p Place) string {
	switch {
	case p.ByFret && p.Fret == 0:
		return "nut"
	case p.ByFret:
		return "fret " + strconv.FormatFloat(p.Fret, 'f', -1, 64)
	}
	x := math.Round(u.Of(p.X)*1e4) / 1e4
	return "x=" + strconv.FormatFloat(x+0, 'f', -1, 64) // + 0: no minus sign before 0
}

// Label returns the name of a place: "nut", "fret 5", "x=120mm" or "x=4.75in".
// A distance says its unit, that of the spec, since a table may be in the other
// one; ParsePlace reads every label but that of a fret, of which it wants the
// number alone.
func (s *Spec) Label(p Place) string { return LabelIn(s.Units, p) }

// LabelIn is Label in the given unit.
func LabelIn(u Unit, p Place) string {
	if p.ByFret {
		return shortLabel(u, p)
	}
	return shortLabel(u, p) + u.String()
}

// FretPlaces returns the nut and every fret as places, or where frets would be on
// a neck without.
func (s *Spec) FretPlaces() []Place {
	ps := make([]Place, s.LastNamed()+1)
	for i := range ps {
		ps[i] = Place{Fret: float64(i), ByFret: true}
	}
	return ps
}
