package live

import (
	"math"
	"strconv"

	"neckloft/neck/spec"
)

// values returns what every control holds, by path. Lengths are in the spec's
// unit and angles in degrees; what is not given and has no default is absent.
func values(s *spec.Spec) map[string]any {
	v := valueMap{s: s, m: make(map[string]any)}
	v.m["name"] = s.Name
	v.m["units"] = s.Units.String()
	v.length("scale.length", s.Scale.Length)
	v.m["scale.frets"] = s.Scale.Frets
	v.length("width.nut", s.Width.Nut)
	v.length("width.end", s.Width.End)
	v.length("width.past_last_fret", s.Width.PastLastFret)
	v.length("board.thickness", s.Board.Thickness)
	v.length("board.radius_nut", s.Board.RadiusNut)
	v.length("board.radius_end", s.Board.RadiusEnd)
	v.wood("board", s.Board.Wood)
	for i, d := range s.Depth {
		at := entry("depth", i)
		v.place(at, d.At)
		v.length(at+".total", d.Total)
	}
	for i, p := range s.Profile {
		at := entry("profile", i)
		v.place(at, p.At)
		if n, ok := spec.ShapeFullness(p.Shape); ok && p.Bass == n && p.Treble == n {
			v.m[at+".shape"] = p.Shape
		}
		v.number(at+".bass", p.Bass)
		v.number(at+".treble", p.Treble)
		v.length(at+".apex", p.Apex)
	}
	v.length("wall.height", s.Wall)
	if r := s.Rod; r != nil {
		v.m["rod"] = true
		v.length("rod.width", r.Width)
		v.length("rod.depth", r.Depth)
		v.place("rod.from", r.From)
		v.place("rod.to", r.To)
		v.m["rod.floor"] = r.Floor.String()
	}
	if u := s.Volute; u != nil {
		v.m["volute"] = true
		v.length("volute.rise", u.Rise)
		v.place("volute.centre", u.Centre)
		v.length("volute.length", u.Length)
	}
	if h := s.Headstock; h != nil {
		v.m["headstock"] = true
		v.number("headstock.angle", h.Angle*180/math.Pi)
		v.length("headstock.thickness", h.Thickness)
		v.length("headstock.length", h.Length)
		v.length("headstock.width", h.Width)
		v.length("headstock.shelf", h.Shelf)
		v.given("headstock.step", h.Step, true)
		if h.Angle == 0 || s.Source.Has("headstock.cove") {
			v.length("headstock.cove", h.Cove)
		}
		v.length("headstock.corner", h.Corner)
	}
	if h := s.Heel; h != nil {
		v.m["heel"] = true
		v.place("heel.start", h.Start)
		v.place("heel.full", h.Full)
		v.length("heel.total", h.Total)
		v.length("heel.width", h.Width)
		v.place("heel.end", h.End)
		v.length("heel.corner", h.Corner)
	}
	if b := s.Blank; b != nil {
		v.m["blank"] = true
		v.length("blank.thickness", b.Thickness)
		v.length("blank.width", b.Width)
		v.length("blank.length", b.Length)
	}
	v.length("limits.cover", s.Limits.Cover)
	v.wood("wood", s.Wood)
	if g := s.Strings; g != nil {
		v.strings(g)
	}
	return v.m
}

type valueMap struct {
	s *spec.Spec
	m map[string]any
}

// entry is the path of entry i of a list, counted from 0 in the program and
// from 1 in paths.
func entry(list string, i int) string { return list + "[" + strconv.Itoa(i+1) + "]" }

func (v valueMap) number(key string, x float64) { v.m[key] = tidy(x) }

func (v valueMap) length(key string, mm float64) { v.m[key] = tidy(v.s.Units.Of(mm)) }

// given sets a number that is 0 where the file has none.
func (v valueMap) given(key string, x float64, isLength bool) {
	switch {
	case x == 0 && !v.s.Source.Has(key):
	case isLength:
		v.length(key, x)
	default:
		v.number(key, x)
	}
}

func (v valueMap) wood(table string, w spec.Wood) {
	if w.Species != "" {
		v.m[table+".species"] = w.Species
	}
	v.given(table+".density", w.Density, false)
	v.given(table+".modulus", w.Modulus, false)
}

func (v valueMap) strings(g *spec.Strings) {
	v.m["strings"] = true
	v.length("strings.height_nut", g.HeightNut)
	v.length("strings.height_12", g.Height12)
	if g.Joint != nil {
		v.place("strings.joint", *g.Joint)
	}
	for i, s := range g.Set {
		at := entry("strings.set", i)
		if s.Pitch != "" {
			v.m[at+".pitch"] = s.Pitch
		}
		v.given(at+".frequency", s.Frequency, false)
		v.given(at+".gauge", s.Gauge, true)
		v.given(at+".core", s.Core, true)
		v.given(at+".density", s.Density, false)
		v.given(at+".wrap_density", s.WrapDensity, false)
		v.given(at+".mass", s.Mass, false)
		v.given(at+".tension", s.Tension, false)
	}
}

// placeValue is a place with its equivalent in the other way to give it.
type placeValue struct {
	By   string   `json:"by"` // "fret" or "x"
	Fret *float64 `json:"fret"`
	X    float64  `json:"x"` // in the spec's unit
	MM   float64  `json:"mm"`
}

func (v valueMap) place(key string, p spec.Place) {
	out := placeValue{By: "x", MM: v.s.X(p)}
	fret := v.s.FretAt(out.MM)
	if p.ByFret {
		out.By, fret = "fret", p.Fret
	}
	if math.IsInf(out.MM, 0) || math.IsNaN(out.MM) {
		out.MM = 0
	}
	out.X = tidy(v.s.Units.Of(out.MM))
	if !math.IsInf(fret, 0) && !math.IsNaN(fret) && fret >= 0 {
		f := tidy(fret)
		out.Fret = &f
	}
	v.m[key] = out
}

// tidy rounds a number to what a control can show, so that a value that went
// through another unit and back reads as it was written.
func tidy(x float64) float64 {
	short, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 12, 64), 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0
	}
	return short
}
