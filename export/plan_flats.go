package export

import (
	"fmt"
	"math"
	"strings"

	"neckloft/neck"
	"neckloft/neck/carve"
)

// flatRow is a flat at a station.
type flatRow struct {
	st *carve.Station
	f  *carve.Flat
}

func flatRows(p *carve.Plan) []flatRow {
	var rows []flatRow
	if p.Refuses(carve.StageFlats) {
		return nil
	}
	for i := range p.Stations {
		st := &p.Stations[i]
		for j := range st.Flats {
			rows = append(rows, flatRow{st, &st.Flats[j]})
		}
	}
	return rows
}

// PlanFlatTable returns the flats at every station with both pencil lines of
// each: the face that a line is drawn on, and the side of the centreline that
// it lies on, which need not be its flat's.
func PlanFlatTable(p *carve.Plan) *Table {
	type row = flatRow
	n := p.Neck
	return tableOf([]field[row]{
		words("station", func(r row) string { return r.st.Label }),
		length("x", func(r row) float64 { return r.st.X }),
		count("pair", func(r row) int { return r.f.Pair }),
		words("side", func(r row) string { return n.SideName(r.f.Side) }),
		number("angle", "deg", func(r row) float64 { return r.f.Angle * perDegree }),
		words("back_line_on", func(r row) string { return r.f.Back.On }),
		words("back_line_side", func(r row) string { return n.SideName(r.f.Back.Half) }),
		length("back_line_from_centre", func(r row) float64 { return math.Abs(r.f.Back.Y) }),
		length("back_line_depth", func(r row) float64 { return -r.f.Back.Z }),
		length("back_line_along", func(r row) float64 { return r.f.Back.Along }),
		words("board_line_on", func(r row) string { return r.f.Board.On }),
		words("board_line_side", func(r row) string { return n.SideName(r.f.Board.Half) }),
		length("board_line_from_centre", func(r row) float64 { return math.Abs(r.f.Board.Y) }),
		length("board_line_depth", func(r row) float64 { return -r.f.Board.Z }),
		length("board_line_along", func(r row) float64 { return r.f.Board.Along }),
		length("width", func(r row) float64 { return r.f.Width }),
		length("final_width", func(r row) float64 { return r.f.Final }),
	}, flatRows(p))
}

// PlanLineTable returns the pencil lines of the flats along the neck, point by
// point. Where the face changes there are two rows, one with either face.
func PlanLineTable(p *carve.Plan) *Table {
	type row struct {
		l *carve.Line
		q neck.XYZ
	}
	var rows []row
	if !p.Refuses(carve.StageFlats) {
		lines := p.Flats.Lines
		for i := range lines {
			for _, q := range lines[i].Points {
				rows = append(rows, row{&lines[i], q})
			}
		}
	}
	return tableOf([]field[row]{
		count("pair", func(r row) int { return r.l.Pair }),
		words("side", func(r row) string { return p.Neck.SideName(r.l.Side) }),
		words("edge", func(r row) string {
			if r.l.Back {
				return "back"
			}
			return "board"
		}),
		words("on", func(r row) string { return r.l.On }),
		words("line_side", func(r row) string { return p.Neck.SideName(r.l.Half) }),
		length("x", func(r row) float64 { return r.q.X }),
		length("y", func(r row) float64 { return r.q.Y }),
		length("z", func(r row) float64 { return r.q.Z }),
	}, rows)
}

// pencilEdge is an edge of a flat that has a column of the pencil lines.
type pencilEdge struct {
	pair int
	side neck.Side
	back bool
	on   string // "" where it changes
}

// column names the flat's name, and the face that the line is drawn on, or
// which of the two it is where that changes.
func (e pencilEdge) column(n *neck.Neck) Column {
	which := "board"
	if e.back {
		which = "back"
	}
	c := Column{Key: fmt.Sprintf("pair_%d_%s_%s_line", e.pair, n.SideName(e.side), which), Kind: LengthKind}
	c.Heading = carve.FlatName(n, e.pair, e.side) + " " + e.on
	if e.on == "" {
		c.Heading = carve.FlatName(n, e.pair, e.side) + map[bool]string{true: "c", false: "s"}[e.back]
	}
	return c
}

// pencilRemarks is what the note below the pencil lines has to explain.
type pencilRemarks struct{ changing, over, partner bool }

// cells returns the line of an edge and the flat's width at a station.
func (e pencilEdge) cells(n *neck.Neck, st *carve.Station, seen *pencilRemarks) (line, wide Cell) {
	for i := range st.Flats {
		f := &st.Flats[i]
		if f.Pair != e.pair || f.Side != e.side {
			continue
		}
		words := f.Beside(n, e.back, e.on)
		line, wide = Number(f.Edge(e.back).Figure()).Beside(words), Number(f.Width)
		seen.changing = seen.changing || e.on == ""
		seen.over = seen.over || words == "treble" || words == "bass" || strings.HasPrefix(words, "back ")
		seen.partner = seen.partner || f.OnPartner(e.back)
	}
	return line, wide
}

// PlanPencilTable returns the pencil lines as a carver draws them: for each
// pair and side the distance of the line on the back from the centreline, and
// of the line on the side from the glue plane; a line on an earlier flat is
// measured along it from its edge towards the board. Where a column's face
// changes along the neck, or a line lies over the centreline, that stands beside
// the figure.
func PlanPencilTable(p *carve.Plan) *Table {
	t := &Table{Columns: []Column{{Key: "station", Heading: "station"}}}
	var edges []pencilEdge
	for pair := 1; pair <= p.Flats.Pairs; pair++ {
		for _, side := range p.Neck.Sides() {
			for _, back := range []bool{true, false} {
				e := pencilEdge{pair, side, back, p.FlatFace(pair, side, back)}
				edges = append(edges, e)
				t.Columns = append(t.Columns, e.column(p.Neck))
			}
			t.Columns = append(t.Columns,
				Column{Key: fmt.Sprintf("pair_%d_%s_width", pair, p.Neck.SideName(side)), Heading: carve.FlatName(p.Neck, pair, side) + " wide", Kind: LengthKind})
		}
	}
	t.Columns = append(t.Columns, Column{Key: "remaining", Heading: "remaining", Kind: LengthKind})
	var seen pencilRemarks
	for i := range p.Stations {
		st := &p.Stations[i]
		cells := []Cell{Text(st.Label)}
		for _, e := range edges {
			line, wide := e.cells(p.Neck, st, &seen)
			cells = append(cells, line)
			if !e.back {
				cells = append(cells, wide)
			}
		}
		t.Add(append(cells, Number(st.FlatsRemaining))...)
	}
	t.Note = noteText(seen.note())
	return t
}

func (s pencilRemarks) note() string {
	note := "Pencil lines by pair and side (B bass, T treble) and the face each is drawn on. back: from the " +
		"centreline. side: from the glue plane. flat: along that flat from its edge towards the board. " +
		"remaining: most wood over the finished neck when all are cut."
	if s.changing {
		note += " c: the flat's line nearer the centreline; s: nearer the side; its face changes along the neck and stands beside the figure."
	}
	if s.over {
		note += " treble, bass beside a figure: the line lies there, over the centreline."
	}
	if s.partner {
		note += " A line on the bass flat of its own pair is drawn when that one is cut."
	}
	return note
}
