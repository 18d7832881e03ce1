package export

import (
	"fmt"
	"io"
	"math"
	"strings"

	"neckloft/neck/spec"
)

// Cell is a cell of a table. The zero Cell is blank.
type Cell struct {
	text   string
	value  float64
	filled bool
	number bool
	beside string // words beside a number, in text only
}

// Beside returns the cell, a number, with words that stand beside it in text.
func (c Cell) Beside(words string) Cell {
	c.beside = words
	return c
}

// Text returns a cell with words. Empty text is a blank cell in text and csv
// and an empty string in json. Bytes that are no UTF-8 become the replacement
// character.
func Text(s string) Cell { return Cell{text: strings.ToValidUTF8(s, "\uFFFD"), filled: true} }

// Number returns a cell with a number: a length in mm, an area in mm² or what
// the column says. NaN is a blank cell: empty in csv, null in json.
func Number(v float64) Cell { return Cell{value: v, filled: !math.IsNaN(v), number: true} }

// Table is a table that can be printed as text, csv or json, in millimetres or
// inches.
type Table struct {
	Columns []Column
	Rows    [][]Cell

	// Note stands below the table in text only. It ends without a newline.
	Note string
}

// Add appends a row.
func (t *Table) Add(cells ...Cell) { t.Rows = append(t.Rows, cells) }

// Formats returns the formats that Write knows.
func Formats() []string { return []string{"text", "csv", "json"} }

// Write writes the table in a format, "text", "csv" or "json", with lengths
// and areas in the given unit.
//
// Numbers carry 3 decimals in csv and json and 2 in text; in inches, one more.
// An unknown format, a row that does not fit the columns, or an infinite number
// is an error, and nothing is written.
func (t *Table) Write(w io.Writer, format string, unit spec.Unit) error {
	if err := t.check(); err != nil {
		return err
	}
	var out []byte
	switch format {
	case "text":
		out = t.text(unit)
	case "csv":
		out = t.csv(unit)
	case "json":
		out = t.json(unit)
	default:
		return fmt.Errorf("table format %q is unknown; allowed: %s", format, strings.Join(Formats(), ", "))
	}
	_, err := w.Write(out)
	return err
}

// check finds rows that do not fit the columns.
func (t *Table) check() error {
	for i, row := range t.Rows {
		if len(row) != len(t.Columns) {
			return fmt.Errorf("row %d of the table has %d cells for %d columns", i+1, len(row), len(t.Columns))
		}
		for j, c := range row {
			column := &t.Columns[j]
			switch {
			case !c.filled:
			case c.number != (column.Kind != TextKind):
				return fmt.Errorf("row %d of the table: the cell for %s is of the wrong kind", i+1, column.Key)
			case math.IsInf(c.value, 0):
				return fmt.Errorf("row %d of the table: %s is infinite", i+1, column.Key)
			}
		}
	}
	return nil
}
