package spec

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// section is a table of the spec while it is being read. Its readers do
// nothing where the table is missing.
type section struct {
	d     *decoder
	at    string
	table *tomlTable
}

// problem reports a problem with key name of the section.
func (s section) problem(name, format string, args ...any) {
	s.d.add(s.d.spec.Problem(joinKey(s.at, name), format, args...))
}

func (s section) missing(name, what string) {
	s.problem(name, "missing; %s is required", what)
}

func (s section) has(name string) bool { return s.table.entries[name] != nil }

// get returns the value of a key or nil, and reports a missing one that is
// needed.
func (s section) get(name, needed string) *tomlValue {
	v := s.table.entries[name]
	if v == nil && needed != "" {
		s.missing(name, needed)
	}
	return v
}

// wrongType reports a value that is not what is wanted.
func (s section) wrongType(name string, v *tomlValue, wanted string) {
	s.problem(name, "%s stands here; %s is wanted", v.describe(), wanted)
}

// checkKeys reports every key that is not allowed.
func (s section) checkKeys(allowed []string) {
	for _, name := range s.table.names {
		if !slices.Contains(allowed, name) {
			if len(s.d.problems) >= maxProblems {
				s.d.dropped++ // spares the search for near words
				continue
			}
			s.problem(name, "unknown key%s; allowed: %s", s.guess(name, allowed), strings.Join(allowed, ", "))
		}
	}
}

// guess says what an unknown key was probably meant to be.
func (s section) guess(name string, allowed []string) string {
	place := ""
	s.d.keys.Walk(func(path string, t *Table) {
		switch {
		case place != "":
		case path == "":
			// A table is more likely a key of the same name.
			if slices.Contains(t.fieldKeys(), name) {
				place = fmt.Sprintf(" (%s belongs at the top of the file, before the first table)", name)
			}
		case s.at == "" && name != "fret" && name != "x" && slices.Contains(t.keys(), name):
			place = fmt.Sprintf(" (%s belongs in the table [%s])", name, path)
		}
	})
	if place != "" {
		return place
	}
	if word := nearest(name, allowed); word != "" {
		return fmt.Sprintf(" (is %s meant?)", word)
	}
	return ""
}

// section returns a table that stands once. Its table is nil where the file has
// none, which is reported if it is needed.
func (s section) section(t *Table) section {
	out := section{d: s.d, at: joinKey(s.at, t.Name)}
	v := s.table.entries[t.Name]
	switch {
	case v == nil:
		if t.needed != "" {
			s.missing(t.Name, t.needed)
		}
	case v.kind == unstable.ArrayTable:
		s.problem(t.Name, "double square brackets; this table stands once and is written [%s]", out.at)
	case v.table == nil:
		s.wrongType(t.Name, v, fmt.Sprintf("the table [%s]", out.at))
	default:
		out.table = v.table
		out.checkKeys(t.keys())
	}
	return out
}

// list returns the tables of a list.
func (s section) list(t *Table) []section {
	v := s.get(t.Name, t.needed)
	if v == nil {
		return nil
	}
	path := unnumbered(joinKey(s.at, t.Name))
	wanted := t.wanted
	if wanted == "" {
		wanted = fmt.Sprintf("one or more tables [[%s]]", path)
	}
	switch {
	case v.kind == unstable.Table && t.wanted == "":
		s.problem(t.Name, "single square brackets; each is written [[%s]], in double square brackets, since there can be several", path)
		return nil
	case v.tables == nil || v.mixed:
		s.wrongType(t.Name, v, wanted)
		return nil
	}
	out := make([]section, len(v.tables))
	for i, table := range v.tables {
		out[i] = section{s.d, t.Path(s.at, i), table}
		out[i].checkKeys(t.keys())
	}
	return out
}

// finite returns the number that v holds, or reports why there is none.
func (s section) finite(name string, v *tomlValue, wanted string) (float64, bool) {
	var x float64
	var err error
	switch v.kind {
	case unstable.Integer:
		var n int64
		n, err = strconv.ParseInt(v.text, 0, 64)
		x = float64(n)
	case unstable.Float:
		x, err = strconv.ParseFloat(strings.ReplaceAll(v.text, "_", ""), 64)
	case unstable.String:
		s.wrongType(name, v, wanted+" without quotes")
		return 0, false
	default:
		s.wrongType(name, v, wanted)
		return 0, false
	}
	if err != nil {
		s.problem(name, "the number %s is too large", shorten(v.text))
		return 0, false
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		s.problem(name, "%s stands here; a finite number is wanted", v.text)
		return 0, false
	}
	return x, true
}

// number reads a plain number, if it is there.
func (s section) number(name string, dst *float64, needed string) {
	if v := s.get(name, needed); v != nil {
		if x, ok := s.finite(name, v, "a number"); ok {
			*dst = x
		}
	}
}

// angle reads an angle in degrees, if it is there.
func (s section) angle(name string, dst *float64, needed string) {
	if v := s.get(name, needed); v != nil {
		if x, ok := s.finite(name, v, "an angle in degrees"); ok {
			*dst = radians(x)
		}
	}
}

// length reads a length, if it is there: a number in the file's unit, or a text
// that may name its own, such as "1-5/8in".
func (s section) length(name string, dst *float64, needed string) {
	v := s.get(name, needed)
	if v == nil {
		return
	}
	unit := s.d.spec.Units
	wanted := "a number (a length in " + unit.String() + ")"
	if v.kind == unstable.String {
		mm, err := ParseLength(v.text, unit)
		switch {
		case err == nil:
			*dst = mm
		case strings.Contains(v.text, "/"):
			s.problem(name, "%v", err) // a fraction, and what is wrong with it
		default:
			s.wrongType(name, v, wanted+`, or one with its unit in double quotes, such as "25.4mm" or "1-5/8in",`)
		}
		return
	}
	x, ok := s.finite(name, v, wanted)
	if !ok {
		return
	}
	if mm := unit.Millimetres(x); math.IsInf(mm, 0) {
		s.problem(name, "the number %s is too large", shorten(v.text))
	} else {
		*dst = mm
	}
}

// whole reads a whole number.
func (s section) whole(name string, dst *int, needed string) {
	v := s.get(name, needed)
	if v == nil {
		return
	}
	x, ok := s.finite(name, v, "a whole number")
	switch {
	case !ok:
	case x != math.Trunc(x):
		s.problem(name, "%s is not a whole number", shorten(v.text))
	case math.Abs(x) > 1e6:
		s.problem(name, "the number %s is too large", shorten(v.text))
	default:
		*dst = int(x)
	}
}

// text reads a string, if it is there.
func (s section) text(name string, dst *string, needed string) {
	v := s.get(name, needed)
	if v == nil {
		return
	}
	if v.kind != unstable.String {
		s.wrongType(name, v, "text in double quotes")
		return
	}
	*dst = v.text
}

// bool reads true or false, if it is there.
func (s section) bool(name string, dst *bool, needed string) {
	v := s.get(name, needed)
	if v == nil {
		return
	}
	if v.kind != unstable.Bool {
		s.wrongType(name, v, "true or false, without quotes,")
		return
	}
	*dst = v.text == "true"
}

// choice reads one of a few words, if it is there.
func (s section) choice(f *Field, dst Chosen, needed string) {
	if !s.has(f.Key) && needed == "" {
		return
	}
	text := f.word(dst.Get())
	s.text(f.Key, &text, needed)
	if i := slices.Index(f.Choices, text); i >= 0 {
		dst.Set(i)
		return
	}
	s.problem(f.Key, "%s is not %s; allowed: %s", quote(text), f.What, orList(f.Choices))
}

// String returns the word that a spec file has for the floor.
func (f Floor) String() string {
	if f == FloorRound {
		return "round"
	}
	return "flat"
}

// place reads a station that is a value, such as { x = 6 }.
func (s section) place(name string, dst *Place, needed string) {
	v := s.get(name, needed)
	if v == nil {
		return
	}
	if v.table == nil {
		s.wrongType(name, v, "a place such as { fret = 12 } or { x = 25 }")
		return
	}
	inner := section{s.d, joinKey(s.at, name), v.table}
	inner.checkKeys([]string{"fret", "x"})
	*dst = inner.stationPlace()
}

// stationPlace reads the keys fret and x of a table, one of which it must have.
func (s section) stationPlace() Place {
	fret, x := s.has("fret"), s.has("x")
	var p Place
	switch {
	case fret && x:
		s.d.add(s.d.spec.Problem(s.at, "both fret and x are given; give one of them"))
	case fret:
		p.ByFret = true
		s.number("fret", &p.Fret, "")
	case x:
		s.length("x", &p.X, "")
	default:
		s.d.add(s.d.spec.Problem(s.at, "no place is given; fret or x is required"))
	}
	return p
}

// shape reads the shape of a [[profile]]. It sets both sides; a side given
// beside it goes before the shape.
func (s section) shape(p *ProfileStation) {
	shape, bass, treble := s.has("shape"), s.has("bass"), s.has("treble")
	switch {
	case shape && bass && treble:
		s.d.add(s.d.spec.Problem(s.at, "shape, bass and treble are all given; give the shape, or both sides, or the shape and the one side that differs"))
	case !shape && !bass && !treble:
		s.d.add(s.d.spec.Problem(s.at, "no section shape is given; shape, or both bass and treble, is required"))
	case !shape && !bass:
		s.missing("bass", "the fullness of the bass side, or a shape,")
	case !shape && !treble:
		s.missing("treble", "the fullness of the treble side, or a shape,")
	}
	if !shape {
		return
	}
	var name string
	s.text("shape", &name, "")
	if found, ok := findShape(name); ok {
		p.Shape, p.Bass, p.Treble = found.Name, found.Fullness, found.Fullness
	} else if s.table.entries["shape"].kind == unstable.String {
		guess := ""
		if word := nearest(name, shapeNames()); word != "" && len(name) > 1 {
			guess = fmt.Sprintf(" (is %s meant?)", word)
		}
		s.problem("shape", "%s is not a shape%s; allowed: %s, or bass and treble with a number each", quote(name), guess, strings.Join(shapeNames(), ", "))
	}
}

// radians converts from degrees.
func radians(deg float64) float64 { return deg * (math.Pi / 180) }

// degrees converts from radians.
func degrees(rad float64) float64 { return rad / (math.Pi / 180) }
