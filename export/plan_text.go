package export

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// reportWidth is the width of a report's lines.
const reportWidth = 98

// WritePlanText writes the carving plan for the terminal: the steps with their
// settings and cautions, then the tables that go with them.
func WritePlanText(w io.Writer, p *carve.Plan, unit spec.Unit) error {
	var b bytes.Buffer
	says := p.In(unit)
	fmt.Fprintf(&b, "Carving plan: %s\n", oneLine(p.Neck.Spec().Name))
	for _, r := range says.Refusals() {
		paragraph(&b, "! ", strings.ToUpper(r[:1])+r[1:]+".")
	}
	for i, step := range says.Steps() {
		fmt.Fprintf(&b, "\n%d. %s\n", i+1, step.Title)
		if step.Refused != "" {
			paragraph(&b, "   ! ", "Refused: "+step.Refused+".")
			continue
		}
		for _, l := range step.Do {
			paragraph(&b, "   ", l)
		}
		for _, l := range step.Ticks {
			paragraph(&b, "   [ ] ", l)
		}
		for _, l := range step.Cautions {
			paragraph(&b, "   Caution: ", l)
		}
	}
	if v := says.Verdict(); v != "" {
		fmt.Fprintf(&b, "\nThe bit\n")
		paragraph(&b, "   ", strings.ToUpper(v[:1])+v[1:]+".")
	}
	if len(p.Notes) > 0 {
		fmt.Fprintf(&b, "\nNotes\n")
		for _, l := range says.NoteLines() {
			paragraph(&b, "   ", l)
		}
	}
	type part struct {
		title string
		table *Table
	}
	parts := []part{{"Stations", PlanBenchTable(p)}}
	if !p.Refuses(carve.StageRound) {
		parts = append(parts, part{"Stops", PlanStopTable(p)})
	}
	if !p.Refuses(carve.StageFlats) {
		parts = append(parts, part{"Flats", PlanPencilTable(p)})
	}
	parts = append(parts, part{"Stages", PlanBenchStageTable(p)})
	for _, part := range parts {
		fmt.Fprintf(&b, "\n%s\n\n", part.title)
		if err := part.table.Write(&b, "text", unit); err != nil {
			return err
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// WriteRecord writes the only row of a table as text, a line a column: a row
// of many columns is wider than a terminal. Blank cells are left out.
func WriteRecord(w io.Writer, t *Table, unit spec.Unit) error {
	if err := t.check(); err != nil {
		return err
	}
	if len(t.Rows) != 1 {
		return fmt.Errorf("a record is one row, not %d", len(t.Rows))
	}
	wide := 0
	for _, c := range t.Columns {
		wide = max(wide, len(c.heading()))
	}
	var b bytes.Buffer
	for i, cell := range t.Rows[0] {
		c := &t.Columns[i]
		text := oneLine(cell.text)
		if cell.number && cell.filled {
			text = strings.TrimSpace(c.number(cell.value, unit, 2) + " " + c.unit(unit))
		}
		if text == "" {
			continue
		}
		paragraph(&b, fmt.Sprintf("%-*s  ", wide, c.heading()), text)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// paragraph writes a text in lines, the first after the lead and the others
// indented as far.
func paragraph(b *bytes.Buffer, lead, text string) {
	b.WriteString(Paragraph(lead, oneLine(text), reportWidth))
}
