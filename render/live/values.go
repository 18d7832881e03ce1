package live

import (
	"math"
	"strconv"

	"neckloft/neck/spec"
)

// values returns what every control holds, by path. Lengths are in the spec's
// unit and angles in degrees; what is not given and has no default is absent.
// A table that a neck may lack is true where it is there.
func values(s *spec.Spec) map[string]any { return valuesOf(spec.Keys(), s) }

func valuesOf(keys spec.Schema, s *spec.Spec) map[string]any {
	v := valueMap{s: s, m: make(map[string]any)}
	v.table("", keys.Top, s)
	return v.m
}

type valueMap struct {
	s *spec.Spec
	m map[string]any
}

// table adds the values of the row at, and of the tables in it.
func (v valueMap) table(at string, t *spec.Table, row any) {
	for i := range t.Fields {
		f := &t.Fields[i]
		path := f.Key
		switch {
		case f.Kind == spec.KindStation:
			path = at
		case at != "":
			path = at + "." + f.Key
		}
		v.field(path, f, row)
	}
	for _, inner := range t.Tables {
		for i, r := range inner.Rows.All(row) {
			path := inner.Path(at, i)
			if inner.Rows.Optional {
				v.m[path] = true
			}
			v.table(path, inner, r)
		}
	}
}

// field adds one value.
func (v valueMap) field(path string, f *spec.Field, row any) {
	x := f.Value(row)
	if has := v.s.Source.Has(path); x == nil || !has && !(f.Given(row) && f.Works(row)) {
		return
	}
	switch x := x.(type) {
	case spec.Place:
		v.place(path, x)
	case float64:
		switch f.Kind {
		case spec.KindLength:
			x = v.s.Units.Of(x)
		case spec.KindAngle:
			x = x * 180 / math.Pi
		}
		v.m[path] = tidy(x)
	case string:
		// The buttons show a shape that both sides have.
		if p, ok := row.(*spec.ProfileStation); ok && f.Kind == spec.KindShape {
			if n, named := spec.ShapeFullness(x); !named || p.Bass != n || p.Treble != n {
				return
			}
		}
		if x != "" || !f.Blank {
			v.m[path] = x
		}
	case bool:
		v.m[path] = strconv.FormatBool(x)
	default:
		v.m[path] = x
	}
}

// entry is the path of entry i of a list, counted from 0 in the program and
// from 1 in paths.
func entry(list string, i int) string { return list + "[" + strconv.Itoa(i+1) + "]" }

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
