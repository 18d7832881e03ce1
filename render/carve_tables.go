package render

import (
	"math"
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

// tablePages sets the tables: the stations, the flats, and stages and bits, each
// on pages of their own, so that a page is found by what it is for.
func (s *carveSheet) tablePages(room area) []planBody {
	p := s.p
	groups := [][]grid{{s.grid("Stations", export.PlanBenchTable(p))}}
	if !p.Refuses(carve.StageFlats) {
		groups = append(groups, []grid{s.flatGrid()})
	}
	last := []grid{s.grid("Stages", export.PlanBenchStageTable(p))}
	// No bit helps where the stage itself is refused.
	if !p.Refuses(carve.StageRound) || !p.Round.Possible() {
		title := "Common bits on this neck"
		if len(p.Options.Owned) > 0 {
			title = "Your bits on this neck"
		}
		if g := s.grid(title, export.PlanBenchBitTable(p)); len(g.rows) > 0 {
			last = append(last, g)
		}
	}
	groups = append(groups, last)
	var out []planBody
	for _, g := range groups {
		out = append(out, s.gridPages(g, room)...)
	}
	return out
}

// flatGrid is the table of the flats' pencil lines.
func (s *carveSheet) flatGrid() grid {
	g := s.grid("Flats: pencil lines", export.PlanPencilTable(s.p))
	g.beside = true
	return g
}

// gridPages sets tables on as few pages as they need, and there as large as they
// fit.
func (s *carveSheet) gridPages(grids []grid, room area) []planBody {
	var fit []grid
	for _, g := range grids {
		fit = append(fit, s.narrowed(g, room.w)...)
	}
	var pages [][]grid
	var now []grid
	for len(fit) > 0 {
		g := fit[0]
		if s.gridsHeight(append(now[:len(now):len(now)], g), room.w, leastText) <= room.h {
			now, fit = append(now, g), fit[1:]
			continue
		}
		if len(now) > 0 {
			pages, now = append(pages, now), nil
			continue
		}
		first, rest := s.broken(g, room)
		pages, fit = append(pages, []grid{first}), append([]grid{rest}, fit[1:]...)
	}
	if len(now) > 0 {
		pages = append(pages, now)
	}
	var out []planBody
	for _, page := range pages {
		out = append(out, func(s *carveSheet, top, foot float64) {
			scale := s.gridScale(page, room.w, foot-top)
			rows := 0
			for _, g := range page {
				rows += len(g.rows)
			}
			spare := foot - top - s.gridsHeight(page, room.w, scale)
			lead := math.Max(0, math.Min(mostLead, spare/float64(max(1, rows))))
			s.setGrids(page, room.x, top, room.w, scale, lead)
		})
	}
	return out
}

// mostLead is the most room that is put between the rows of a table, in mm.
const mostLead = 2.6

// gridScale returns the largest text at which tables fit, up to a little over
// plain.
func (s *carveSheet) gridScale(grids []grid, width, tall float64) float64 {
	scale := leastText
	for _, k := range []float64{0.85, 0.9, 0.95, 1, 1.05, 1.1, 1.15, 1.2, 1.3} {
		if s.gridsHeight(grids, width, k) <= tall && s.gridsFit(grids, width, k) {
			scale = k
		}
	}
	return scale
}

// broken breaks a table that is too long for a page in two, the first part with
// half of its rows or as many as fit.
func (s *carveSheet) broken(g grid, room area) (first, rest grid) {
	one := g
	one.rows = g.rows[:1]
	bare := s.gridsHeight([]grid{one}, room.w, leastText)
	most := max(1, 1+int((room.h-bare)/s.lineHeight(drawing.Text{Scale: leastText})))
	pages := (len(g.rows) + most - 1) / most
	k := min(most, (len(g.rows)+pages-1)/max(1, pages))
	first, rest = g, g
	first.rows, rest.rows = g.rows[:k], g.rows[k:]
	rest.title = strings.TrimSuffix(g.title, ", continued") + ", continued"
	return first, rest
}

// narrowed breaks a table that is too wide for a page into tables of some of its
// columns, each with the first.
func (s *carveSheet) narrowed(g grid, width float64) []grid {
	if s.gridsFit([]grid{g}, width, leastText) {
		return []grid{g}
	}
	need := s.columns(g, leastText)
	var out []grid
	for from := 1; from < len(need); {
		total, to := need[0]+columnRoom, from
		for to < len(need) && (to == from || total+need[to]+columnRoom <= width) {
			total += need[to] + columnRoom
			to++
		}
		part := g
		part.heads, part.rows = cutColumns(g.heads, from, to), cutColumns(g.rows, from, to)
		if from > 1 {
			part.title = g.title + ", continued"
		}
		if to < len(need) {
			part.note = ""
		}
		out = append(out, part)
		from = to
	}
	return out
}

// cutColumns returns the first column and those from one to another.
func cutColumns(rows [][]string, from, to int) [][]string {
	var out [][]string
	for _, r := range rows {
		out = append(out, append([]string{r[0]}, r[from:to]...))
	}
	return out
}
