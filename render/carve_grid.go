package render

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/render/drawing"
)

// grid is a table to be set.
type grid struct {
	title, note string
	heads       [][]string // lines of the heading
	rows        [][]string
	beside      bool // words stand beside figures, "2.65 treble"
}

// split returns a cell's figure and the words beside it.
func (g grid) split(cell string) (figure, words string) {
	if !g.beside {
		return cell, ""
	}
	figure, words, _ = strings.Cut(cell, " ")
	return figure, words
}

// besides returns the room that the columns need for words beside their figures.
func (s *carveSheet) besides(g grid, t drawing.Text) []float64 {
	var out []float64
	for _, row := range g.rows {
		for i, c := range row {
			if i == len(out) {
				out = append(out, 0)
			}
			if _, words := g.split(c); i > 0 && words != "" {
				out[i] = math.Max(out[i], s.textWidth(" "+words, t))
			}
		}
	}
	return out
}

// gridGap is the room between two tables, in mm.
const gridGap = 2.4

// columnRoom is the least room that a column takes besides its words.
const columnRoom = 1.6

// noteGap is the room between a table and its note.
const noteGap = 0.5

func (s *carveSheet) gridsHeight(grids []grid, width, scale float64) float64 {
	cell := s.lineHeight(drawing.Text{Scale: scale})
	tall := -gridGap
	for _, g := range grids {
		tall += gridGap + s.lineHeight(drawing.Text{Scale: 1.1, Weight: drawing.Medium}) + 0.6
		tall += cell*float64(len(g.heads)+len(g.rows)) + 1.2
		if g.note != "" {
			tall += noteGap + cell*float64(len(s.wrap(g.note, width, drawing.Text{Scale: scale})))
		}
	}
	return tall
}

// columns returns the widths that the columns need.
func (s *carveSheet) columns(g grid, scale float64) []float64 {
	t := drawing.Text{Scale: scale}
	var need []float64
	beside := s.besides(g, t)
	for k, rows := range [][][]string{g.heads, g.rows} {
		for _, row := range rows {
			for i, c := range row {
				if i == len(need) {
					need = append(need, 0)
				}
				if k == 1 && i > 0 && beside[i] > 0 {
					figure, _ := g.split(c)
					need[i] = math.Max(need[i], s.textWidth(figure, t)+beside[i])
					continue
				}
				need[i] = math.Max(need[i], s.textWidth(c, t))
			}
		}
	}
	return need
}

func (s *carveSheet) gridsFit(grids []grid, width, scale float64) bool {
	for _, g := range grids {
		total := 0.0
		for _, w := range s.columns(g, scale) {
			total += w + columnRoom
		}
		if total > width {
			return false
		}
	}
	return true
}

// setGrids sets tables under each other, with so much more room between their
// rows than they need.
func (s *carveSheet) setGrids(grids []grid, x, y, width, scale, lead float64) {
	for _, g := range grids {
		title := drawing.Text{Scale: 1.1, Weight: drawing.Medium}
		s.text(x, y, g.title, title)
		y = s.setGrid(g, x, y+s.lineHeight(title)+0.6, width, scale, lead) + gridGap
	}
}

// setGrid sets a table without its title, and returns where it ends.
func (s *carveSheet) setGrid(g grid, x, y, width, scale, lead float64) float64 {
	t := drawing.Text{Scale: scale}
	head := drawing.Text{Scale: scale, Color: quietColor}
	cell := s.lineHeight(t)
	row := gridRow{need: s.columns(g, scale), beside: s.besides(g, t)}
	total := 0.0
	for _, w := range row.need {
		total += w
	}
	if k := len(row.need) - 1; k > 0 {
		row.gap = math.Min(9, (width-total)/float64(k))
	}
	end := x + total + row.gap*float64(len(row.need)-1)
	for _, cells := range g.heads {
		s.setRow(g, row, cells, x, y, head, false)
		y += cell
	}
	s.pg.Stroke(s.at(x, y+0.3), s.at(end, y+0.3), drawing.Line{Width: 0.06})
	y += 1.2
	for i, cells := range g.rows {
		if i%2 == 1 {
			s.pg.Polygon([]vg.Point{s.at(x-0.5, y-0.1), s.at(end+0.5, y-0.1), s.at(end+0.5, y+cell+lead-0.1), s.at(x-0.5, y+cell+lead-0.1)}, stripeColor)
		}
		s.setRow(g, row, cells, x, y+lead/2, t, true)
		y += cell + lead
	}
	if g.note != "" {
		y += noteGap
		for _, l := range s.wrap(g.note, width, t) {
			s.text(x, y, l, head)
			y += cell
		}
	}
	return y
}

// gridRow is what the rows of a table have in common: the widths of the columns,
// the room for words beside their figures, and the gap between two.
type gridRow struct {
	need, beside []float64
	gap          float64
}

// setRow sets a line of a table. The first column stands at the left and the
// others at the right; words beside figures only in the table's body.
func (s *carveSheet) setRow(g grid, row gridRow, cells []string, x, y float64, t drawing.Text, body bool) {
	right := x
	for i, c := range cells {
		if i == 0 {
			right += row.need[0]
			t.AlignX = 0
			s.text(x, y, c, t)
			continue
		}
		right += row.gap + row.need[i]
		t.AlignX = 1
		if room := row.beside[i]; room > 0 && body {
			figure, words := g.split(c)
			s.text(right-room, y, figure, t)
			t.AlignX = 0
			s.text(right-room, y, " "+words, t)
			continue
		}
		s.text(right, y, c, t)
	}
}
