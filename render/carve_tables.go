package render

import (
	"fmt"
	"strings"

	"neckloft/export"
	"neckloft/neck/carve"
	"neckloft/render/drawing"
)

// grid lays a table of the plan out as paper has it.
func (s *carveSheet) grid(title string, t *export.Table) grid {
	p := t.Print(s.u)
	return grid{title: title, note: strings.Join(strings.Fields(p.Note), " "), heads: p.Heads, rows: p.Rows}
}

// thinned is grid with one row in so many, the first and the last among them.
func (s *carveSheet) thinned(title string, t *export.Table, every int) grid {
	g := s.grid(title, t)
	if every == 1 {
		return g
	}
	var rows [][]string
	for i, row := range g.rows {
		if i%every == 0 || i == len(g.rows)-1 {
			rows = append(rows, row)
		}
	}
	g.rows = rows
	g.note = fmt.Sprintf("One station in %d; the csv table has all. ", every) + g.note
	return g
}

// flatGrid is the table of the flats' pencil lines.
func (s *carveSheet) flatGrid(every int) grid {
	g := s.thinned("Flats: pencil lines", export.PlanPencilTable(s.p), every)
	g.beside = true
	return g
}

// tables sets the tables one under the other; rows are thinned out evenly
// where there are too many for the page.
func (s *carveSheet) tables(x, top, width, foot float64) {
	all := []func(every int) grid{func(every int) grid { return s.thinned("Stations", export.PlanBenchTable(s.p), every) }}
	if !s.p.Refuses(carve.StageFlats) {
		all = append(all, s.flatGrid)
	}
	fixed := []grid{s.grid("Stages", export.PlanBenchStageTable(s.p))}
	const easy = 0.72 // text smaller than this is for columns that need it
	for every := 1; ; every++ {
		var grids []grid
		for _, f := range all {
			grids = append(grids, f(every))
		}
		grids = append(grids, fixed...)
		for _, scale := range []float64{0.9, 0.84, 0.78, 0.72, 0.66, 0.6} {
			if scale < easy && s.gridsFit(grids, width, easy) {
				break // wide enough, only too long
			}
			if top+s.gridsHeight(grids, width, scale) <= foot && s.gridsFit(grids, width, scale) {
				s.setGrids(grids, x, top, width, scale)
				return
			}
		}
		if every > 200 { // one row of each is left
			s.setGrids(grids, x, top, width, 0.6)
			return
		}
	}
}

// bitTable sets the comparison of bits between the levels top and
// foot, if there is room for it.
func (s *carveSheet) bitTable(top, foot float64) {
	p := s.p
	if p.Refuses(carve.StageRound) && p.Round.Possible() {
		return // no bit helps where the stage itself is refused
	}
	title, they := "Common bits on this neck", "The common bits"
	if len(p.Options.Owned) > 0 {
		title, they = "Your bits on this neck", "Your bits"
	}
	g := s.grid(title, export.PlanBenchBitTable(p))
	if len(g.rows) == 0 || s.bitHalves(g, top, foot) {
		return
	}
	// No room for the table.
	t := drawing.Text{Color: quietColor}
	lines := s.wrap(they+" are compared by neckloft plan --bits, and in plan.json.", s.w-2*carveEdge, t)
	if top+float64(len(lines))*s.lineHeight(t) > foot {
		return
	}
	for i, l := range lines {
		s.text(carveEdge, top+float64(i)*s.lineHeight(t), l, t)
	}
}

// fewBits are rows that are not worth halving.
const fewBits = 4

// bitHalves sets the comparison in two halves side by side, the note under both,
// and reports whether there is room for it.
func (s *carveSheet) bitHalves(g grid, top, foot float64) bool {
	const gutter = 10
	width := s.w - 2*carveEdge
	half := (len(g.rows) + 1) / 2
	if len(g.rows) <= fewBits {
		half = len(g.rows)
	}
	left, right := g, g
	left.rows, right.rows = g.rows[:half], g.rows[half:]
	left.note, right.note = "", ""
	right.title = ""
	column := (width - gutter) / 2
	for _, scale := range []float64{1, 0.9, 0.8, 0.72, 0.66} {
		t := drawing.Text{Scale: scale, Color: quietColor}
		note := s.wrap(g.note, width, t)
		tall := s.gridsHeight([]grid{left}, column, scale) + noteGap
		if top+tall+s.lineHeight(t)*float64(len(note)) > foot || !s.gridsFit([]grid{left, right}, column, scale) {
			continue
		}
		s.setGrids([]grid{left}, carveEdge, top, column, scale)
		if len(right.rows) > 0 {
			s.setGrids([]grid{right}, carveEdge+column+gutter, top, column, scale)
		}
		y := top + tall
		for _, l := range note {
			s.text(carveEdge, y, l, t)
			y += s.lineHeight(t)
		}
		return true
	}
	return false
}
