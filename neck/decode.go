package neck

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// What a spec has where its file says nothing. The starter spec states the
// same values in its comments.
const (
	defaultName         = "neck"
	defaultPastLastFret = 8.0
	defaultWall         = 1.0
	defaultShape        = "C"
	defaultShelf        = 5.0
	defaultCove         = 15.0
	defaultHeadCorner   = 2.0
	defaultHeelCorner   = 3.0
	defaultCover        = 3.0
	defaultSpecies      = "sugar maple"
)

// specKeys lists the keys of each table of a spec, "" being the top of the
// file, in the order of the starter.
var specKeys = []struct {
	table string
	keys  []string
}{
	{"", []string{"name", "units", "scale", "width", "board", "depth", "profile", "wall", "rod", "volute", "headstock", "heel", "blank", "limits", "wood"}},
	{"scale", []string{"length", "frets"}},
	{"width", []string{"nut", "end", "past_last_fret"}},
	{"board", []string{"thickness", "radius_nut", "radius_end"}},
	{"depth", []string{"fret", "x", "total"}},
	{"profile", []string{"fret", "x", "shape", "bass", "treble", "apex"}},
	{"wall", []string{"height"}},
	{"rod", []string{"width", "depth", "from", "to", "floor"}},
	{"volute", []string{"rise", "centre", "length"}},
	{"headstock", []string{"angle", "thickness", "length", "width", "shelf", "step", "cove", "corner"}},
	{"heel", []string{"start", "full", "total", "width", "end", "corner"}},
	{"blank", []string{"thickness", "width", "length"}},
	{"limits", []string{"cover"}},
	{"wood", []string{"species", "density", "modulus"}},
}

func keysOf(table string) []string {
	for _, t := range specKeys {
		if t.table == table {
			return t.keys
		}
	}
	return nil
}

// decoder turns a TOML document into a Spec and collects what is wrong.
type decoder struct {
	spec     *Spec
	problems Problems
	dropped  int // problems beyond maxProblems
}

// section is a table of the spec while it is being read. Its readers do
// nothing where the table is missing.
type section struct {
	d     *decoder
	at    string
	table *tomlTable
}

// decodeSpec reads the spec that a document holds.
func decodeSpec(doc *tomlDocument) (*Spec, Problems) {
	d := &decoder{spec: &Spec{Name: defaultName, Source: doc.source}}
	for _, p := range doc.problems {
		d.add(p)
	}
	s := d.spec
	top := section{d, "", doc.root}
	top.checkKeys(keysOf(""))
	top.text("name", &s.Name)
	s.Units = top.units()

	if t := top.section("scale", "with the scale length and the number of frets"); t.table != nil {
		t.length("length", &s.Scale.Length, "the scale length")
		t.whole("frets", &s.Scale.Frets, "the number of frets")
	}
	if t := top.section("width", "with the width at the nut and at the board's end"); t.table != nil {
		s.Width.PastLastFret = defaultPastLastFret
		t.length("nut", &s.Width.Nut, "the width at the nut")
		t.length("end", &s.Width.End, "the width at the board's end")
		t.length("past_last_fret", &s.Width.PastLastFret, "")
	}
	if t := top.section("board", "with the fretboard's thickness"); t.table != nil {
		t.length("thickness", &s.Board.Thickness, "the board's thickness on the centreline")
		t.length("radius_nut", &s.Board.RadiusNut, "")
		s.Board.RadiusEnd = s.Board.RadiusNut
		if t.has("radius_end") && !t.has("radius_nut") {
			t.missing("radius_nut", "with radius_end, the radius at the nut")
		}
		t.length("radius_end", &s.Board.RadiusEnd, "")
	}
	for _, t := range top.list("depth", "with fret (or x) and total") {
		target := DepthTarget{At: t.stationPlace()}
		t.length("total", &target.Total, "the total thickness, board included,")
		s.Depth = append(s.Depth, target)
	}
	for _, t := range top.list("profile", "") {
		s.Profile = append(s.Profile, t.profile())
	}
	if !top.has("profile") {
		n, _ := ShapeFullness(defaultShape)
		s.Profile = []ProfileStation{{At: AtFret(1), Shape: defaultShape, Bass: n, Treble: n}}
	}
	s.Wall = defaultWall
	if t := top.section("wall", ""); t.table != nil {
		t.length("height", &s.Wall, "the height of the straight side")
	}
	if t := top.section("rod", ""); t.table != nil {
		r := &Rod{}
		t.length("width", &r.Width, "the width of the channel")
		t.length("depth", &r.Depth, "the depth of the channel below the glue plane")
		t.place("from", &r.From, "the place where the channel begins")
		t.place("to", &r.To, "the place where the channel ends")
		r.Floor = t.floor()
		s.Rod = r
	}
	if t := top.section("volute", ""); t.table != nil {
		v := &Volute{}
		t.length("rise", &v.Rise, "the wood it adds at its crest")
		t.place("centre", &v.Centre, "the place where its crest is")
		t.length("length", &v.Length, "its whole length along the neck")
		s.Volute = v
	}
	if t := top.section("headstock", ""); t.table != nil {
		h := &Headstock{Shelf: defaultShelf, Cove: defaultCove, Corner: defaultHeadCorner}
		t.angle("angle", &h.Angle)
		t.length("thickness", &h.Thickness, "its thickness, square to the face,")
		t.length("length", &h.Length, "its length along the face")
		t.length("width", &h.Width, "its width")
		t.length("shelf", &h.Shelf, "")
		t.length("step", &h.Step, "")
		t.length("cove", &h.Cove, "")
		t.length("corner", &h.Corner, "")
		s.Headstock = h
	}
	if t := top.section("heel", ""); t.table != nil {
		h := &Heel{Corner: defaultHeelCorner}
		t.place("start", &h.Start, "the place where the neck begins to leave its profile")
		t.place("full", &h.Full, "the place where it is the full block")
		t.length("total", &h.Total, "the thickness of the block, board included,")
		t.length("width", &h.Width, "the width of the block")
		t.place("end", &h.End, "the place where the wood ends")
		t.length("corner", &h.Corner, "")
		s.Heel = h
	}
	if t := top.section("blank", ""); t.table != nil {
		b := &Blank{}
		t.length("thickness", &b.Thickness, "the thickness of the blank")
		t.length("width", &b.Width, "the width of the blank")
		t.length("length", &b.Length, "the length of the blank")
		s.Blank = b
	}
	s.Limits.Cover = defaultCover
	if t := top.section("limits", ""); t.table != nil {
		t.length("cover", &s.Limits.Cover, "")
	}
	s.Wood.Species = defaultSpecies
	if t := top.section("wood", ""); t.table != nil {
		if t.has("density") && t.has("modulus") {
			s.Wood.Species = "" // unless named too
		}
		t.text("species", &s.Wood.Species)
		t.number("density", &s.Wood.Density, "")
		t.number("modulus", &s.Wood.Modulus, "")
	}
	d.problems.sort()
	if d.dropped > 0 {
		d.problems = append(d.problems, Problem{File: doc.source.File, Message: fmt.Sprintf("and %d more problems", d.dropped)})
	}
	return s, d.problems
}

func (d *decoder) add(p Problem) {
	if len(d.problems) >= maxProblems {
		d.dropped++
		return
	}
	d.problems = append(d.problems, p)
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
		if !contains(allowed, name) {
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
	for _, t := range specKeys {
		if !contains(t.keys, name) {
			continue
		}
		if t.table == "" {
			if name != "name" && name != "units" {
				continue // a table, and more likely a key of the same name
			}
			return fmt.Sprintf(" (%s belongs at the top of the file, before the first table)", name)
		}
		if s.at == "" && name != "fret" && name != "x" {
			return fmt.Sprintf(" (%s belongs in the table [%s])", name, t.table)
		}
	}
	if word := nearest(name, allowed); word != "" {
		return fmt.Sprintf(" (is %s meant?)", word)
	}
	return ""
}

// section returns the table of that name. Its table is nil where the file has
// none, which is reported if needed says what the table is needed for.
func (s section) section(name, needed string) section {
	out := section{d: s.d, at: joinKey(s.at, name)}
	v := s.table.entries[name]
	switch {
	case v == nil:
		if needed != "" {
			s.missing(name, fmt.Sprintf("the table [%s] %s", name, needed))
		}
	case v.kind == unstable.ArrayTable:
		s.problem(name, "double square brackets; this table stands once and is written [%s]", name)
	case v.table == nil:
		s.wrongType(name, v, fmt.Sprintf("the table [%s]", name))
	default:
		out.table = v.table
		out.checkKeys(keysOf(name))
	}
	return out
}

// list returns the tables of a [[list]].
func (s section) list(name, needed string) []section {
	v := s.table.entries[name]
	if v == nil {
		if needed != "" {
			s.missing(name, fmt.Sprintf("at least one [[%s]] %s", name, needed))
		}
		return nil
	}
	switch {
	case v.kind == unstable.Table:
		s.problem(name, "single square brackets; each is written [[%s]], in double square brackets, since there can be several", name)
		return nil
	case v.tables == nil || v.mixed:
		s.wrongType(name, v, fmt.Sprintf("one or more tables [[%s]]", name))
		return nil
	}
	out := make([]section, len(v.tables))
	for i, t := range v.tables {
		out[i] = section{s.d, indexKey(joinKey(s.at, name), i+1), t}
		out[i].checkKeys(keysOf(name))
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
func (s section) angle(name string, dst *float64) {
	if v := s.get(name, ""); v != nil {
		if x, ok := s.finite(name, v, "an angle in degrees"); ok {
			*dst = radians(x)
		}
	}
}

// length reads a length in the file's unit, if it is there.
func (s section) length(name string, dst *float64, needed string) {
	v := s.get(name, needed)
	if v == nil {
		return
	}
	unit := s.d.spec.Units
	x, ok := s.finite(name, v, "a number (a length in "+unit.String()+")")
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
func (s section) text(name string, dst *string) {
	v := s.get(name, "")
	if v == nil {
		return
	}
	if v.kind != unstable.String {
		s.wrongType(name, v, "text in double quotes")
		return
	}
	*dst = v.text
}

func (s section) units() Unit {
	text := Millimetre.String()
	s.text("units", &text)
	for _, u := range []Unit{Millimetre, Inch} {
		if text == u.String() {
			return u
		}
	}
	s.problem("units", `%s is not a unit of the spec; allowed: "mm" or "in"`, quote(text))
	return Millimetre
}

func (s section) floor() Floor {
	text := FloorFlat.String()
	s.text("floor", &text)
	for _, f := range []Floor{FloorFlat, FloorRound} {
		if text == f.String() {
			return f
		}
	}
	s.problem("floor", `%s is not a shape of the channel's floor; allowed: "flat" or "round"`, quote(text))
	return FloorFlat
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

// profile reads a [[profile]]. A shape sets both sides; a side given beside it
// goes before the shape.
func (s section) profile() ProfileStation {
	p := ProfileStation{At: s.stationPlace()}
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
	if shape {
		var name string
		s.text("shape", &name)
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
	s.number("bass", &p.Bass, "")
	s.number("treble", &p.Treble, "")
	s.length("apex", &p.Apex, "")
	return p
}

// radians converts from degrees.
func radians(deg float64) float64 { return deg * (math.Pi / 180) }

// degrees converts from radians.
func degrees(rad float64) float64 { return rad / (math.Pi / 180) }

func contains(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}
