package spec

import "fmt"

// decoder turns a TOML document into a Spec and collects what is wrong.
type decoder struct {
	keys     Schema
	spec     *Spec
	problems Problems
	dropped  int // problems beyond maxProblems
}

// decode reads the spec that a document holds.
func (k Schema) decode(doc *tomlDocument) (*Spec, Problems) {
	d := &decoder{keys: k, spec: &Spec{Source: doc.source}}
	for _, p := range doc.problems {
		d.add(p)
	}
	k.Top.setDefaults(d.spec)
	top := section{d, "", doc.root}
	top.checkKeys(k.Top.keys())
	top.read(k.Top, d.spec)
	d.problems.sort()
	if d.dropped > 0 {
		d.problems = append(d.problems, Problem{File: doc.source.File, Message: fmt.Sprintf("and %d more problems", d.dropped)})
	}
	return d.spec, d.problems
}

func (d *decoder) add(p Problem) {
	if len(d.problems) >= maxProblems {
		d.dropped++
		return
	}
	d.problems = append(d.problems, p)
}

// read reads the keys of a table and the tables in it into a row.
func (s section) read(t *Table, row any) {
	if t.prepare != nil {
		t.prepare(s.has, row)
	}
	for i := range t.Fields {
		s.field(t, &t.Fields[i], row)
	}
	for _, inner := range t.Tables {
		switch {
		case inner.Rows.List:
			for _, one := range s.list(inner) {
				one.readNew(inner, row)
			}
			if !s.has(inner.Name) && inner.none != nil {
				inner.none(s.d.spec)
			}
		default:
			if one := s.section(inner); one.table != nil {
				one.readNew(inner, row)
			}
		}
	}
}

// readNew reads a table into a row of its own.
func (s section) readNew(t *Table, parent any) {
	row := t.Rows.Add(parent)
	if t.Rows.List || t.Rows.Optional {
		t.setDefaults(row)
	}
	s.read(t, row)
}

// field reads one key of a table, if it is there.
//
// Many cases, one for each kind of value.
func (s section) field(t *Table, f *Field, row any) {
	needed := ""
	if f.Required {
		needed = f.What
	}
	p := f.At(row)
	if f.Follows != "" {
		first := t.field(f.Follows)
		*p.(*float64) = *first.At(row).(*float64)
		if s.has(f.Key) && !s.has(first.Key) {
			s.missing(first.Key, "with "+f.Key+", "+first.What)
		}
	}
	switch f.Kind {
	case KindText, KindSpecies:
		s.text(f.Key, p.(*string), needed)
	case KindLength:
		s.length(f.Key, p.(*float64), needed)
	case KindAngle:
		s.angle(f.Key, p.(*float64), needed)
	case KindNumber:
		s.number(f.Key, p.(*float64), needed)
	case KindCount:
		s.whole(f.Key, p.(*int), needed)
	case KindBool:
		s.bool(f.Key, p.(*bool), needed)
	case KindChoice:
		s.choice(f, p.(Chosen), needed)
	case KindShape:
		s.shape(row.(*ProfileStation))
	case KindStation:
		*p.(*Place) = s.stationPlace()
	case KindPlace:
		switch dst := p.(type) {
		case *Place:
			s.place(f.Key, dst, needed)
		case **Place:
			if s.has(f.Key) {
				*dst = new(Place)
			}
			if s.has(f.Key) || needed != "" {
				var at Place
				s.place(f.Key, &at, needed)
				if *dst != nil {
					**dst = at
				}
			}
		}
	}
}
