package export

import (
	"strings"

	"neckloft/neck/spec"
)

// Printed is a table as paper has it: the same columns, names and figures as in
// text, its cells ready to be set.
type Printed struct {
	Heads [][]string // lines of the headings, from top to bottom
	Rows  [][]string // words beside a figure stand after a blank; "–" for no value
	Note  string
}

// coarse are the decimals of figures that are in their own unit, on paper.
var coarse = map[string]int{"g": 0, "%": 0, "min": 0}

// Print returns the table for paper, with lengths in the given unit.
func (t *Table) Print(unit spec.Unit) Printed {
	p := Printed{Note: t.Note}
	heads := [][]string{make([]string, len(t.Columns)), make([]string, len(t.Columns))}
	two := false
	for i := range t.Columns {
		c := &t.Columns[i]
		words := strings.Fields(c.heading())
		if u := c.Unit; u != "" || c.Kind == VolumeKind {
			u = c.unit(unit)
			words = append(words, strings.Replace(u, "3", "³", 1))
		}
		heads[1][i] = words[0]
		if len(words) > 1 {
			heads[0][i], heads[1][i], two = words[0], strings.Join(words[1:], " "), true
		}
	}
	if !two {
		heads = heads[1:]
	}
	p.Heads = heads
	for _, row := range t.Rows {
		var cells []string
		for i, cell := range row {
			cells = append(cells, t.Columns[i].print(cell, unit))
		}
		p.Rows = append(p.Rows, cells)
	}
	return p
}

// print returns a cell for paper.
func (c *Column) print(cell Cell, unit spec.Unit) string {
	switch {
	case !cell.filled:
		return "–"
	case !cell.number:
		return oneLine(cell.text)
	}
	decimals := 2
	if d, ok := coarse[c.Unit]; ok {
		decimals = d
	}
	if c.Kind == VolumeKind {
		decimals = 1
	}
	return strings.TrimSpace(c.number(cell.value, unit, decimals) + " " + oneLine(cell.beside))
}
