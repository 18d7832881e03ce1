package export

import (
	"bytes"
	"fmt"
	"io"
	"strings"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// reportWidth is the width of a report's lines.
const reportWidth = 98

// WritePlanText writes the carving plan for the terminal: the steps with their
// settings and cautions, then the tables that go with them.
func WritePlanText(w io.Writer, p *carve.Plan, unit spec.Unit) error {
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
	if p.Stage(carve.StageRound).Refused == "" {
		parts = append(parts, part{"Stops", PlanStopTable(p)})
	}
	if p.Stage(carve.StageFlats).Refused == "" {
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

// PlanPencilTable returns the pencil lines as a carver draws them: for each
// pair and side the distance of the line on the back from the centreline, and
// of the line on the side from the glue plane; a line on an earlier flat is
// measured along it from its edge towards the board. Where a column's face
// changes along the neck, or a line lies over the centreline, that stands beside
// the figure.
func PlanPencilTable(p *carve.Plan) *Table {
	t := &Table{Columns: []Column{{Key: "station", Heading: "station"}}}
	type edge struct {
		pair int
		side neck.Side
		back bool
		on   string // "" where it changes
	}
	var edges []edge
	changing, over, partner := false, false, false
	for pair := 1; pair <= p.Flats.Pairs; pair++ {
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			flat := carve.FlatName(pair, side)
			for _, back := range []bool{true, false} {
				e := edge{pair, side, back, p.FlatFace(pair, side, back)}
				edges = append(edges, e)
				key, heading := fmt.Sprintf("pair_%d_%s_board_line", pair, side), flat+" "+e.on
				if back {
					key = fmt.Sprintf("pair_%d_%s_back_line", pair, side)
				}
				if e.on == "" {
					heading = flat + map[bool]string{true: "c", false: "s"}[back]
				}
				t.Columns = append(t.Columns, Column{Key: key, Heading: heading, Kind: LengthKind})
			}
			t.Columns = append(t.Columns,
				Column{Key: fmt.Sprintf("pair_%d_%s_width", pair, side), Heading: flat + " wide", Kind: LengthKind})
		}
	}
	t.Columns = append(t.Columns, Column{Key: "left", Heading: "left", Kind: LengthKind})
	for i := range p.Stations {
		st := &p.Stations[i]
		cells := []Cell{Text(st.Label)}
		for _, e := range edges {
			var line, wide Cell
			for j := range st.Flats {
				f := &st.Flats[j]
				if f.Pair != e.pair || f.Side != e.side {
					continue
				}
				words := f.Beside(e.back, e.on)
				line, wide = Number(f.Edge(e.back).Figure()).Beside(words), Number(f.Width)
				changing = changing || e.on == ""
				over = over || words == "treble" || words == "bass" || strings.HasPrefix(words, "back ")
				partner = partner || f.OnPartner(e.back)
			}
			cells = append(cells, line)
			if !e.back {
				cells = append(cells, wide)
			}
		}
		t.Add(append(cells, Number(st.FlatsLeft))...)
	}
	t.Note = "Pencil lines by pair and side (B bass, T treble) and the face each is drawn on. back: from the\n" +
		"centreline. side: from the glue plane. flat: along that flat from its edge towards the board.\n" +
		"left: most wood over the target when all are cut."
	if changing {
		t.Note += "\nc: the flat's line nearer the centreline; s: nearer the side; its face changes along the neck and\n" +
			"stands beside the figure."
	}
	if over {
		t.Note += "\ntreble, bass beside a figure: the line lies there, over the centreline, and not on its flat's side."
	}
	if partner {
		t.Note += "\nA line on the bass flat of its own pair is drawn when that one is cut."
	}
	return t
}

// paragraph writes a text in lines, the first after the lead and the others
// indented as far.
func paragraph(b *bytes.Buffer, lead, text string) {
	b.WriteString(Paragraph(lead, oneLine(text), reportWidth))
}
