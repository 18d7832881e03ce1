package readings

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"neckloft/neck/spec"
)

// Kind is what a reading measures.
type Kind int

const (
	Total    Kind = iota // thickness at the deepest point, board included: what wide caliper jaws read
	Centre               // thickness on the centreline, board included
	Wood                 // thickness at the deepest point, without the board
	Width                // across, at the board's edges
	Point                // depth below the glue plane at the distance Y from the centreline
	Girth                // around the back from board edge to board edge
	BoardAt              // thickness of the board on its centreline
	WallAt               // straight side below the glue plane
	RadiusAt             // radius of the board's playing surface
	Head                 // thickness square to the headstock's face, on the centreline
)

// kinds holds the name of each kind in a file, and what is taken as the
// standard deviation of a reading of it that gives none, in mm. The deviations
// are common practice, no published source: a caliper over a curved back, a
// steel rule at an edge, a traced contour, a strip of paper.
var kinds = [...]struct {
	name  string
	sigma float64
	what  string
	most  float64 // largest sensible value, mm
}{
	Total:    {"total", 0.10, "total thickness", 200},
	Centre:   {"centre", 0.10, "total on the centreline", 200},
	Wood:     {"wood", 0.10, "wood depth", 200},
	Width:    {"width", 0.15, "width", 300},
	Point:    {"point", 0.20, "contour point", 200},
	Girth:    {"girth", 0.50, "girth", 1000},
	BoardAt:  {"board", 0.10, "board thickness", 50},
	WallAt:   {"wall", 0.20, "wall height", 50},
	RadiusAt: {"radius", 10, "board radius", 100000},
	Head:     {"head", 0.10, "thickness of the headstock", 100},
}

// String returns the kind's name in a file.
func (k Kind) String() string { return kinds[k].name }

// What returns the kind in words.
func (k Kind) What() string { return kinds[k].what }

// Sigma returns the standard deviation in mm that a reading of this kind is
// taken to have where it gives none.
func (k Kind) Sigma() float64 { return kinds[k].sigma }

// Placed reports whether a reading of this kind is one at a station.
func (k Kind) Placed() bool { return k != BoardAt && k != WallAt }

// Reading is one measurement. Lengths are in mm.
type Reading struct {
	Kind   Kind
	At     spec.Place
	Placed bool    // At was given
	Y      float64 // of a Point, as a station has it: negative on the bass side, positive there on a left-handed neck
	Value  float64
	Sigma  float64 // standard deviation
	Note   string
	Line   int // in the file, from 1
}

// Set is what a file of readings holds.
type Set struct {
	File  string
	Units spec.Unit

	// Facts about the neck, zero where the file has none.
	Name     string
	Scale    float64 // scale length, mm
	Frets    int
	Fretless bool    // it is known to have no frets
	BoardEnd float64 // nut to the board's end, mm

	Readings []Reading // in the order of the file

	Lines map[string]int // of the facts
}

// Problem returns an error about a line of the file.
func (s *Set) Problem(line int, format string, args ...any) spec.Problem {
	return spec.Problem{File: s.File, Line: line, Message: fmt.Sprintf(format, args...)}
}

// Count returns how many readings are of a kind.
func (s *Set) Count(k Kind) int {
	n := 0
	for _, r := range s.Readings {
		if r.Kind == k {
			n++
		}
	}
	return n
}

// Label names a reading in words: "total at fret 5", "point at fret 5, y -12
// mm".
func (s *Set) Label(r Reading) string {
	text := r.Kind.String()
	if r.Placed {
		text += " at " + PlaceLabel(r.At, s.Units)
	}
	if r.Kind == Point {
		y := s.Units.Format(r.Y)
		if strings.HasPrefix(y, "-0 ") {
			y = y[1:]
		}
		text += ", y " + y
	}
	return text
}

// PlaceLabel names a place: "nut", "fret 5", "x=120".
func PlaceLabel(p spec.Place, unit spec.Unit) string {
	return (&spec.Spec{Units: unit}).Label(p)
}

// add appends a reading after judging it by itself.
func (s *Set) add(r Reading) error {
	k := kinds[r.Kind]
	switch {
	case r.Kind.Placed() && !r.Placed:
		return s.Problem(r.Line, "a reading of kind %q needs its station: a fret such as 5, or x=120", k.name)
	case r.Kind == Point && r.Value < 0:
		return s.Problem(r.Line, "the contour point has the depth %s; it is counted down from the glue plane, so leave the minus sign out", s.Units.Format(r.Value))
	case r.Kind != Point && r.Value <= 0:
		return s.Problem(r.Line, "the %s is %s; allowed: more than 0", k.what, s.Units.Format(r.Value))
	case r.Value > k.most:
		return s.Problem(r.Line, "the %s is %s, which is not sensible; allowed: up to %s (is the unit of the file right?)", k.what, s.Units.Format(r.Value), s.Units.Format(k.most))
	case math.Abs(r.Y) > 150:
		return s.Problem(r.Line, "the point lies %s from the centreline, which is not sensible; allowed: up to %s", s.Units.Format(math.Abs(r.Y)), s.Units.Format(150))
	case r.Sigma < 0 || r.Sigma > 50 && r.Kind != RadiusAt:
		return s.Problem(r.Line, "the standard deviation of %s is not sensible; allowed: more than 0, up to %s", s.Units.Format(r.Sigma), s.Units.Format(50))
	case r.Placed && r.At.ByFret && r.At.Fret > 60:
		return s.Problem(r.Line, "there is no fret %s; allowed: up to 60", strconv.FormatFloat(r.At.Fret, 'f', -1, 64))
	case r.Placed && !r.At.ByFret && math.Abs(r.At.X) > 2000:
		return s.Problem(r.Line, "the station lies %s from the nut, which is not sensible; allowed: up to %s", s.Units.Format(r.At.X), s.Units.Format(2000))
	}
	if r.Sigma == 0 {
		r.Sigma = k.sigma
	}
	s.Readings = append(s.Readings, r)
	if len(s.Readings) > maxReadings {
		return s.Problem(r.Line, "there are more than %d readings; a scan goes to --scan as STL", maxReadings)
	}
	return nil
}

// fact sets a fact about the neck.
func (s *Set) fact(name string, v float64, line int) error {
	if first, ok := s.Lines[name]; ok {
		return s.Problem(line, "%q was given already, on line %d", name, first)
	}
	if s.Lines == nil {
		s.Lines = make(map[string]int)
	}
	s.Lines[name] = line
	length := func(lo, hi float64) error {
		if v < lo || v > hi {
			return s.Problem(line, "%q is %s, which is not sensible; allowed: %s to %s (is the unit of the file right?)", name, s.Units.Format(v), s.Units.Format(lo), s.Units.Format(hi))
		}
		return nil
	}
	switch name {
	case "scale":
		s.Scale = v
		return length(50, 3000)
	case "end":
		s.BoardEnd = v
		return length(10, 3000)
	}
	s.Frets, s.Fretless = int(v), v == 0
	if v != math.Trunc(v) || v < 0 || v > 60 {
		return s.Problem(line, "the number of frets is %s; allowed: a whole number from 0 to 60", strconv.FormatFloat(v, 'f', -1, 64))
	}
	return nil
}

// isFact reports whether a name is that of a fact.
func isFact(name string) bool { return name == "scale" || name == "frets" || name == "end" }

// kindOf returns the kind of a name.
func kindOf(name string) (Kind, bool) {
	for k := range kinds {
		if kinds[k].name == name {
			return Kind(k), true
		}
	}
	return 0, false
}

// Distinct returns an error for every reading that repeats another: the same
// kind at the same place, where s.X tells what is the same. Two readings of
// one thing that differ cannot both be typed right, and two that agree count
// double.
func (s *Set) Distinct(x func(spec.Place) float64) error {
	type key struct {
		kind Kind
		x, y int64
	}
	const (
		grain = 0.01 // mm
		wall  = 1.0  // mm between the depths of two points on the wall, which share their y
	)
	seen := make(map[key]Reading)
	var problems spec.Problems
	for _, r := range s.Readings {
		if r.Line == 0 {
			continue // a scan's, whose points on the wall share their y
		}
		k := key{kind: r.Kind, x: math.MinInt64}
		if r.Placed {
			k.x = int64(math.Round(x(r.At) / grain))
		}
		if r.Kind == Point {
			k.y = int64(math.Round(r.Y / grain))
		}
		if first, ok := seen[k]; ok && (r.Kind != Point || math.Abs(first.Value-r.Value) < wall) {
			problems = append(problems, s.Problem(r.Line, "the reading %s repeats that of line %d; keep one, or their mean", s.Label(r), first.Line))
			if len(problems) == MaxProblems {
				break
			}
			continue
		}
		seen[k] = r
	}
	return problems.Err()
}

// Limits of a file of readings.
const (
	maxFileSize = 4 << 20
	maxReadings = 5000
	MaxProblems = 20
)
