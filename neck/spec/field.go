package spec

import "strconv"

// Kind says what a key of a spec holds.
type Kind int

// The kinds, each with the type of pointer that Field.At returns for it.
const (
	KindText    Kind = iota // *string
	KindLength              // *float64 in mm; in a file a number in its unit, or a text such as "1-5/8in"
	KindAngle               // *float64 in radians; in a file degrees
	KindNumber              // *float64
	KindCount               // *int
	KindBool                // *bool
	KindChoice              // Chosen: one of a few words
	KindSpecies             // *string: a name of the table of woods, or any other wood's
	KindShape               // *string in a ProfileStation: a named shape, which sets both sides
	KindPlace               // *Place or, where it may be left out, **Place: { fret = 12 } or { x = 25 }
	KindStation             // *Place that a table gives by a key of its own, fret or x
)

// A Field is a key of a spec, told once: from it the key is read, its value
// checked, a slip in its name answered, written back, commented on in the
// starter, given a control on the live page and its limits in a fit. Limits,
// spans and defaults are in millimetres and radians.
type Field struct {
	Key  string
	Kind Kind

	Label string // of its control
	Help  string // one sentence, without a capital or a full stop
	What  string // what it is in a message, such as "the width at the nut"

	Required bool
	Blank    bool    // 0, "" or nil stands for a key left out
	Default  any     // float64, int, bool, or string for a text or choice; nil for the zero value
	Absent   string  // what a key left out stands for, where no Default says it
	Follows  string  // the key of the same table whose value it has when left out
	Min, Max float64 // both 0 for a value without limits of its own
	Zero     string  // what 0 stands for, where it lies outside the limits
	Unit     string  // of a plain number, such as "MPa", or what a count counts
	Choices  []string

	From, To float64 // what a slider reaches over; both 0 for all that is allowed
	Step     float64 // of the slider; 0 for 0.1

	Only    func(row any) bool // where the key has an effect; nil for everywhere
	Implied func(row any) bool // where other keys of the row say it already, so that it is not written

	// At returns the pointer to the value in a row of the table, which is what
	// the table's Rows give.
	At func(row any) any
}

// in makes a Field's At from the place of the value in a row of type R.
func in[R, V any](at func(*R) *V) func(any) any {
	return func(row any) any { return at(row.(*R)) }
}

// Chosen is the value of a choice, as the number of its word from 0; less than 0
// where it may be left out and is.
type Chosen interface {
	Get() int
	Set(int)
}

type chosen[E ~int] struct{ p *E }

func (c chosen[E]) Get() int  { return int(*c.p) }
func (c chosen[E]) Set(n int) { *c.p = E(n) }

// OneOf returns the choice that a number in the order of its words holds.
func OneOf[E ~int](p *E) Chosen { return chosen[E]{p} }

// pick is in for a choice.
func pick[R any, E ~int](at func(*R) *E) func(any) any {
	return func(row any) any { return OneOf(at(row.(*R))) }
}

// Value returns what a row holds: a float64, int, bool, string or Place, a
// choice as its word, and nil for a place that is not given.
func (f *Field) Value(row any) any {
	switch p := f.At(row).(type) {
	case *float64:
		return *p
	case *int:
		return *p
	case *bool:
		return *p
	case *string:
		return *p
	case *Place:
		return *p
	case **Place:
		if *p != nil {
			return **p
		}
	case Chosen:
		if n := p.Get(); n >= 0 || !f.Blank {
			return f.word(n)
		}
	}
	return nil
}

// Given reports whether a row holds a value, rather than the zero that a key
// left out has.
func (f *Field) Given(row any) bool {
	if !f.Blank {
		return true
	}
	switch v := f.Value(row).(type) {
	case float64:
		return v != 0
	case int:
		return v != 0
	case bool:
		return v
	case string:
		return v != ""
	case nil:
		return false
	}
	return true
}

// Works reports whether the key has an effect in a row.
func (f *Field) Works(row any) bool { return f.Only == nil || f.Only(row) }

// Words returns what a choice, a species or a shape can be called.
func (f *Field) Words() []string {
	switch f.Kind {
	case KindSpecies:
		return speciesNames()
	case KindShape:
		return shapeNames()
	}
	return append([]string(nil), f.Choices...)
}

// word returns the word of a choice, the first for one that has none.
func (f *Field) word(n int) string {
	if n < 0 || n >= len(f.Choices) {
		n = 0
	}
	return f.Choices[n]
}

// setDefault gives a row what it has without the key.
func (f *Field) setDefault(row any) {
	if f.Default == nil {
		return
	}
	switch p := f.At(row).(type) {
	case *float64:
		*p = f.Default.(float64)
	case *int:
		*p = f.Default.(int)
	case *bool:
		*p = f.Default.(bool)
	case *string:
		*p = f.Default.(string)
	case Chosen:
		for i, word := range f.Choices {
			if word == f.Default {
				p.Set(i)
			}
		}
	}
}

// number prints a number of the field for a message or comment, lengths by mm.
func (f *Field) number(v float64, mm func(float64) string) string {
	switch {
	case f.Kind == KindLength:
		return mm(v)
	case f.Kind == KindAngle:
		return plainAngle(v)
	case f.Kind == KindCount || f.Unit == "":
		return plain(v)
	}
	return plain(v) + " " + f.Unit
}

// limited reports whether values have limits.
func (f *Field) limited() bool { return f.Min != 0 || f.Max != 0 }

// orList prints words as "mm" or "in".
func orList(words []string) string {
	text := ""
	for i, w := range words {
		switch {
		case i == 0:
		case i == len(words)-1:
			text += " or "
		default:
			text += ", "
		}
		text += strconv.Quote(w)
	}
	return text
}
