package spec

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
)

// WriteTOML writes the spec as TOML in its own unit, every value stated, in a
// fixed order. Read gives the same spec back; a length in inches that no
// decimal number gives exactly is off by its last bit.
//
// A value that is not a finite number is an error, since TOML for it would not
// be read back.
func (s *Spec) WriteTOML(w io.Writer) error {
	t := tomlWriter{unit: s.Units}
	t.spec(s)
	if t.bad {
		return errors.New("the spec has a value that is not a finite number, and cannot be written")
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

// Hash returns the SHA-256 of the spec as WriteTOML writes it, in hexadecimal.
// Two files that differ in comments, order or defaults left out have the same
// hash; the same neck in another unit has another one.
func (s *Spec) Hash() string {
	t := tomlWriter{unit: s.Units}
	t.spec(s)
	sum := sha256.Sum256([]byte(t.b.String()))
	return hex.EncodeToString(sum[:])
}

type tomlWriter struct {
	b    strings.Builder
	unit Unit
	bad  bool // a number was not finite
}

func (t *tomlWriter) spec(s *Spec) {
	t.line("name", TOMLText(s.Name))
	t.line("units", TOMLText(s.Units.String()))
	t.header("[scale]")
	t.length("length", s.Scale.Length)
	t.line("frets", strconv.Itoa(s.Scale.Frets))
	t.header("[width]")
	t.length("nut", s.Width.Nut)
	t.length("end", s.Width.End)
	t.length("past_last_fret", s.Width.PastLastFret)
	t.header("[board]")
	t.length("thickness", s.Board.Thickness)
	t.length("radius_nut", s.Board.RadiusNut)
	t.length("radius_end", s.Board.RadiusEnd)
	t.wood(s.Board.Wood)
	for _, d := range s.Depth {
		t.header("[[depth]]")
		t.line(t.place(d.At))
		t.length("total", d.Total)
	}
	for _, p := range s.Profile {
		t.header("[[profile]]")
		t.line(t.place(p.At))
		t.sides(p)
		t.length("apex", p.Apex)
	}
	t.header("[wall]")
	t.length("height", s.Wall)
	if r := s.Rod; r != nil {
		t.header("[rod]")
		t.length("width", r.Width)
		t.length("depth", r.Depth)
		t.inlinePlace("from", r.From)
		t.inlinePlace("to", r.To)
		t.line("floor", TOMLText(r.Floor.String()))
	}
	if v := s.Volute; v != nil {
		t.header("[volute]")
		t.length("rise", v.Rise)
		t.inlinePlace("centre", v.Centre)
		t.length("length", v.Length)
	}
	if h := s.Headstock; h != nil {
		t.header("[headstock]")
		t.line("angle", t.number(degrees(h.Angle), h.Angle, radians))
		t.length("thickness", h.Thickness)
		t.length("length", h.Length)
		t.length("width", h.Width)
		t.length("shelf", h.Shelf)
		if h.Angle == 0 || h.Step != 0 {
			t.length("step", h.Step)
		}
		if h.Angle == 0 || h.Cove != defaultCove {
			t.length("cove", h.Cove)
		}
		t.length("corner", h.Corner)
	}
	if h := s.Heel; h != nil {
		t.header("[heel]")
		t.inlinePlace("start", h.Start)
		t.inlinePlace("full", h.Full)
		t.length("total", h.Total)
		t.length("width", h.Width)
		t.inlinePlace("end", h.End)
		t.length("corner", h.Corner)
	}
	if b := s.Blank; b != nil {
		t.header("[blank]")
		t.length("thickness", b.Thickness)
		t.length("width", b.Width)
		t.length("length", b.Length)
	}
	t.header("[limits]")
	t.length("cover", s.Limits.Cover)
	t.header("[wood]")
	t.wood(s.Wood)
	if s.Strings != nil {
		t.strings(s.Strings)
	}
}

// wood writes what is given of a material.
func (t *tomlWriter) wood(w Wood) {
	if w.Species != "" {
		t.line("species", TOMLText(w.Species))
	}
	if w.Density != 0 {
		t.line("density", t.plain(w.Density))
	}
	if w.Modulus != 0 {
		t.line("modulus", t.plain(w.Modulus))
	}
}

// sides writes the shape of a profile station, by name where it has one and at
// most one side differs from it, since Read takes no more.
func (t *tomlWriter) sides(p ProfileStation) {
	n, named := ShapeFullness(p.Shape)
	named = named && (p.Bass == n || p.Treble == n)
	if named {
		t.line("shape", TOMLText(p.Shape))
	}
	if !named || p.Bass != n {
		t.line("bass", t.plain(p.Bass))
	}
	if !named || p.Treble != n {
		t.line("treble", t.plain(p.Treble))
	}
}

func (t *tomlWriter) header(text string)     { t.b.WriteString("\n" + text + "\n") }
func (t *tomlWriter) line(key, value string) { t.b.WriteString(key + " = " + value + "\n") }
func (t *tomlWriter) length(key string, mm float64) {
	t.line(key, t.number(t.unit.Of(mm), mm, t.unit.Millimetres))
}
func (t *tomlWriter) plain(v float64) string {
	return t.number(v, v, func(v float64) float64 { return v })
}

// place returns the key and the value of a place.
func (t *tomlWriter) place(p Place) (key, value string) {
	if p.ByFret {
		return "fret", t.plain(p.Fret)
	}
	return "x", t.number(t.unit.Of(p.X), p.X, t.unit.Millimetres)
}

func (t *tomlWriter) inlinePlace(key string, p Place) {
	inner, value := t.place(p)
	t.line(key, fmt.Sprintf("{ %s = %s }", inner, value))
}

// number prints v so that read(v) comes back to want. It takes the shortest
// text that does: 1.7 in and not the 1.7000000000000002 that a division by
// 25.4 leaves.
func (t *tomlWriter) number(v, want float64, read func(float64) float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		t.bad = true
		return "nan"
	}
	// The nearest value that can be read; want itself may fall between two.
	best := v
	for _, near := range []float64{math.Nextafter(v, math.Inf(-1)), math.Nextafter(v, math.Inf(1))} {
		if math.Abs(read(near)-want) < math.Abs(read(best)-want) {
			best = near
		}
	}
	for digits := 1; digits <= 17; digits++ {
		text := strconv.FormatFloat(best, 'e', digits-1, 64)
		if short, err := strconv.ParseFloat(text, 64); err == nil && read(short) == read(best) {
			return TOMLNumber(short)
		}
	}
	return TOMLNumber(best)
}
