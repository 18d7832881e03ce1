package export

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"neckloft/neck"
)

// reportWidth is the width of a report's lines.
const reportWidth = 98

// WritePlanText writes the carving plan for the terminal: the steps with their
// settings and cautions, then the tables that go with them.
func WritePlanText(w io.Writer, p *neck.Plan, unit neck.Unit) error {
	var b bytes.Buffer
	s := p.Neck.Spec()
	fmt.Fprintf(&b, "Carving plan: %s\n", oneLine(s.Name))
	for _, r := range p.Refusals {
		paragraph(&b, "! ", strings.ToUpper(r[:1])+r[1:]+".")
	}
	for i, step := range p.Steps(unit) {
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
	if v := p.Round.Verdict; v != "" {
		fmt.Fprintf(&b, "\nThe bit\n")
		paragraph(&b, "   ", strings.ToUpper(v[:1])+v[1:]+".")
	}
	if len(p.Notes) > 0 {
		fmt.Fprintf(&b, "\nNotes\n")
		for _, l := range p.Notes {
			paragraph(&b, "   ", l)
		}
	}
	type part struct {
		title string
		table *Table
	}
	parts := []part{{"Stations", PlanBenchTable(p)}}
	if p.Stage(neck.StageRound).Refused == "" {
		parts = append(parts, part{"Stops", PlanStopTable(p)})
	}
	if p.Stage(neck.StageFlats).Refused == "" {
		parts = append(parts, part{"Flats", PlanPencilTable(p)})
	}
	parts = append(parts, part{"Stages", PlanStageTable(p)})
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
func WriteRecord(w io.Writer, t *Table, unit neck.Unit) error {
	if err := t.check(); err != nil {
		return err
	}
	if len(t.Rows) != 1 {
		return fmt.Errorf("a record is one row, not %d", len(t.Rows))
	}
	wide := 0
	for _, c := range t.Columns {
		wide = max(wide, len(c.Heading))
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
		paragraph(&b, fmt.Sprintf("%-*s  ", wide, c.Heading), text)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// PlanPencilTable returns the pencil lines as a carver draws them: for each
// pair and side the distance of the line on the back from the centreline, and
// of the line on the side from the glue plane; a line on an earlier flat is
// measured along it from its edge toward the board.
func PlanPencilTable(p *neck.Plan) *Table {
	t := &Table{Columns: []Column{{Key: "station", Heading: "station"}}}
	type spot struct {
		pair int
		side neck.Side
	}
	var spots []spot
	for pair := 1; pair <= p.Facets.Pairs; pair++ {
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			spots = append(spots, spot{pair, side})
			letter := "B"
			if side == neck.Treble {
				letter = "T"
			}
			name := func(back bool) string {
				return fmt.Sprintf("%d%s %s", pair, letter, p.FacetFace(pair, side, back))
			}
			t.Columns = append(t.Columns,
				Column{Key: fmt.Sprintf("pair_%d_%s_back_line", pair, side), Heading: name(true), Kind: LengthKind},
				Column{Key: fmt.Sprintf("pair_%d_%s_board_line", pair, side), Heading: name(false), Kind: LengthKind},
				Column{Key: fmt.Sprintf("pair_%d_%s_width", pair, side), Heading: fmt.Sprintf("%d%s wide", pair, letter), Kind: LengthKind})
		}
	}
	t.Columns = append(t.Columns, Column{Key: "left", Heading: "left", Kind: LengthKind})
	for i := range p.Stations {
		st := &p.Stations[i]
		cells := []Cell{Text(st.Label)}
		for _, s := range spots {
			row := []Cell{{}, {}, {}}
			for j := range st.Flats {
				f := &st.Flats[j]
				if f.Pair == s.pair && f.Side == s.side {
					row = []Cell{pencil(f.BackOn, f.Back, f.BackAlong), pencil(f.BoardOn, f.Board, f.BoardAlong), Number(f.Width)}
				}
			}
			cells = append(cells, row...)
		}
		t.Add(append(cells, Number(st.FlatsLeft))...)
	}
	t.Note = "Pencil lines by pair and side (B bass, T treble) and the face each is drawn on. back: from the\n" +
		"centreline. side: from the glue plane. flat: along that flat from its edge toward the board.\n" +
		"left: most wood over the target when all are cut."
	return t
}

func pencil(on string, q neck.YZ, along float64) Cell {
	switch on {
	case "back":
		return Number(max(q.Y, -q.Y))
	case "side":
		return Number(-q.Z)
	}
	return Number(along)
}

// paragraph writes a text broken into lines, the first after the lead and the
// others indented as far.
func paragraph(b *bytes.Buffer, lead, text string) {
	indent := strings.Repeat(" ", len(lead))
	line := lead
	empty := true
	for word := range strings.FieldsSeq(oneLine(text)) {
		if !empty && len(line)+1+len(word) > reportWidth {
			b.WriteString(line + "\n")
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	b.WriteString(line + "\n")
}
