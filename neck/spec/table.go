package spec

import (
	"slices"
	"strings"
)

// A Table is a table of a spec, its keys and the tables in it.
type Table struct {
	Name   string // "" for the top of the file
	Rows   Rows
	Fields []Field
	Tables []*Table

	Title string // on the live page
	Help  string // on the live page, in full sentences
	Item  string // what one of a list is called

	needed string // what is missing without it; "" where it may be left out
	wanted string // what is wanted where something else stands in its place
	empty  string // what is wrong with a list without a row

	aside bool // no part of the neck, and of its hash

	prepare func(has func(key string) bool, row any) // a row before its keys are read
	none    func(s *Spec)                            // gives a spec what it has without the list
}

// Rows are where a table stands in its parent: the Spec for a table of the
// file, a row of the outer table for one in another.
type Rows struct {
	List     bool // several, written in double square brackets
	Optional bool // none or one

	All func(parent any) []any // pointers to the rows that are there
	Add func(parent any) any   // the row to read a table into, new where it is not always there
}

// Always are the rows of a table that every spec has.
func Always[P, R any](at func(*P) *R) Rows {
	return Rows{
		All: func(parent any) []any { return []any{at(parent.(*P))} },
		Add: func(parent any) any { return at(parent.(*P)) },
	}
}

// Maybe are the rows of a table that a spec may lack.
func Maybe[P, R any](at func(*P) **R) Rows {
	return Rows{
		Optional: true,
		All: func(parent any) []any {
			if p := *at(parent.(*P)); p != nil {
				return []any{p}
			}
			return nil
		},
		Add: func(parent any) any {
			p := at(parent.(*P))
			*p = new(R)
			return *p
		},
	}
}

// Several are the rows of a list of tables.
func Several[P, R any](at func(*P) *[]R) Rows {
	return Rows{
		List: true,
		All: func(parent any) []any {
			list := *at(parent.(*P))
			rows := make([]any, len(list))
			for i := range list {
				rows[i] = &list[i]
			}
			return rows
		},
		Add: func(parent any) any {
			list := at(parent.(*P))
			*list = append(*list, *new(R))
			return &(*list)[len(*list)-1]
		},
	}
}

// Path is the key path of row i of a table in at, counted from 0.
func (t *Table) Path(at string, i int) string {
	at = joinKey(at, t.Name)
	if t.Rows.List {
		at = indexKey(at, i+1)
	}
	return at
}

// keys lists the keys that the table may have, in the order of the starter.
func (t *Table) keys() []string {
	keys := t.fieldKeys()
	for _, inner := range t.Tables {
		keys = append(keys, inner.Name)
	}
	return keys
}

// fieldKeys is keys without the tables in it.
func (t *Table) fieldKeys() []string {
	var keys []string
	for _, f := range t.Fields {
		if f.Kind == KindStation {
			keys = append(keys, "fret", "x")
		} else {
			keys = append(keys, f.Key)
		}
	}
	return keys
}

// setDefaults gives a row, and the tables that it always has, what they have
// without any key.
func (t *Table) setDefaults(row any) {
	for i := range t.Fields {
		t.Fields[i].setDefault(row)
	}
	for _, inner := range t.Tables {
		if !inner.Rows.List && !inner.Rows.Optional {
			inner.setDefaults(inner.Rows.Add(row))
		}
	}
}

// field returns the field of that key, or nil.
func (t *Table) field(key string) *Field {
	for i := range t.Fields {
		if t.Fields[i].Key == key {
			return &t.Fields[i]
		}
	}
	return nil
}

// A Schema is every key of a spec.
type Schema struct{ Top *Table }

// Keys returns the keys of a spec.
func Keys() Schema { return program }

// Walk calls visit for every table, the outer one first, with its path: "" for
// the top, "rod", "strings.set".
func (k Schema) Walk(visit func(path string, t *Table)) { walk("", k.Top, visit) }

func walk(path string, t *Table, visit func(string, *Table)) {
	visit(path, t)
	for _, inner := range t.Tables {
		walk(joinKey(path, inner.Name), inner, visit)
	}
}

// Table returns the table with that path, or nil.
func (k Schema) Table(path string) *Table {
	var found *Table
	k.Walk(func(at string, t *Table) {
		if at == path {
			found = t
		}
	})
	return found
}

// Field returns the key with that path, such as "rod.depth" or
// "depth[2].total", or nil. The numbers of list entries do not matter.
func (k Schema) Field(path string) *Field {
	path = unnumbered(path)
	at, key := enclosingKey(path), path
	if at != "" {
		key = path[len(at)+1:]
	}
	if t := k.Table(at); t != nil {
		return t.field(key)
	}
	return nil
}

// unnumbered takes the numbers of list entries out of a key path.
func unnumbered(path string) string {
	for {
		i, j := strings.IndexByte(path, '['), strings.IndexByte(path, ']')
		if i < 0 || j < i {
			return path
		}
		path = path[:i] + path[j+1:]
	}
}

// With returns a copy of the schema in which a table, named by its path, has
// one key more. The schema stays as it is.
func (k Schema) With(path string, f Field) Schema {
	var copied func(at string, t *Table) *Table
	copied = func(at string, t *Table) *Table {
		c := *t
		c.Fields, c.Tables = slices.Clone(t.Fields), slices.Clone(t.Tables)
		for i, inner := range c.Tables {
			c.Tables[i] = copied(joinKey(at, inner.Name), inner)
		}
		if at == path {
			c.Fields = append(c.Fields, f)
		}
		return &c
	}
	return Schema{copied("", k.Top)}
}

// WithTable is With for a table of the file.
func (k Schema) WithTable(t *Table) Schema {
	top := *k.Top
	top.Tables = append(slices.Clone(top.Tables), t)
	return Schema{&top}
}
