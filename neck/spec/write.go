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
func (s *Spec) WriteTOML(w io.Writer) error { return program.WriteTOML(s, w) }

// WriteTOML is the method of Spec with other keys.
func (k Schema) WriteTOML(s *Spec, w io.Writer) error {
	t := tomlWriter{unit: s.Units}
	t.table("", k.Top, s)
	if t.bad {
		return errors.New("the spec has a value that is not a finite number, and cannot be written")
	}
	_, err := io.WriteString(w, t.b.String())
	return err
}

// Hash returns the SHA-256 of the spec as WriteTOML writes it, in hexadecimal,
// without its tools: it names the neck, whoever's shop makes it. Two files that differ in comments, order or defaults left out have the same
// hash; the same neck in another unit has another one.
func (s *Spec) Hash() string {
	t := tomlWriter{unit: s.Units, bare: true}
	t.table("", program.Top, s)
	if h := s.Headstock; h != nil {
		t.b.WriteString(h.Drawing.text)
	}
	sum := sha256.Sum256([]byte(t.b.String()))
	return hex.EncodeToString(sum[:])
}

type tomlWriter struct {
	b    strings.Builder
	unit Unit
	bare bool // without what is no part of the neck
	bad  bool // a number was not finite
}

// table writes the keys of a row and the tables in it.
func (t *tomlWriter) table(path string, table *Table, row any) {
	for i := range table.Fields {
		t.field(&table.Fields[i], row)
	}
	for _, inner := range table.Tables {
		if t.bare && inner.aside {
			continue
		}
		at := joinKey(path, inner.Name)
		for _, r := range inner.Rows.All(row) {
			if inner.Rows.List {
				t.header("[[" + at + "]]")
			} else {
				t.header("[" + at + "]")
			}
			t.table(at, inner, r)
		}
	}
}

// field writes a key, unless that says nothing.
func (t *tomlWriter) field(f *Field, row any) {
	v := f.Value(row)
	if v == nil || !f.Given(row) || f.Implied != nil && f.Implied(row) || !f.Works(row) && v == f.Default {
		return
	}
	switch f.Kind {
	case KindLength:
		t.length(f.Key, v.(float64))
	case KindAngle:
		t.line(f.Key, t.number(degrees(v.(float64)), v.(float64), radians))
	case KindNumber:
		t.line(f.Key, t.plain(v.(float64)))
	case KindCount:
		t.line(f.Key, strconv.Itoa(v.(int)))
	case KindBool:
		t.line(f.Key, strconv.FormatBool(v.(bool)))
	case KindText, KindChoice, KindSpecies, KindShape:
		t.line(f.Key, TOMLText(v.(string)))
	case KindPlace:
		t.inlinePlace(f.Key, v.(Place))
	case KindStation:
		t.line(t.place(v.(Place)))
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
