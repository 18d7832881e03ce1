package export

import (
	"fmt"
	"io"
	"math"
	"slices"

	"neckloft/mesh"
)

// tileOverlap is how much two neighbouring pages show of each other, in mm.
const tileOverlap = 14

// WriteSheetPDF writes sheets at full size, each over as many landscape pages
// as it takes. Neighbouring pages overlap, and both show the line on which to
// cut one of them and two register marks, which must meet.
func WriteSheetPDF(w io.Writer, title string, sheets []Sheet, paper Paper) error {
	grids, count, err := tilings(sheets, paper)
	if err != nil {
		return err
	}
	p := newPages(title, paper, count)
	p.tiles(grids)
	return p.write(w)
}

// tilings lays sheets out on landscape pages, and counts these.
func tilings(sheets []Sheet, paper Paper) (grids []tiling, count int, err error) {
	width, height := contentSize(paper, true)
	p := newPages("", paper, 0) // to measure notes by
	for _, s := range sheets {
		note := p.setNote(s.Note, width)
		g := newTiling(s, width, height-note.room())
		g.note = note
		g.settle(p)
		count += g.columns * g.rows
		grids = append(grids, g)
	}
	if count > maxPages {
		return nil, 0, fmt.Errorf("at full size this takes %d pages of %s paper; allowed: %d", count, paper.Name, maxPages)
	}
	return grids, count, nil
}

// tiles draws all pages of the tilings.
func (p *pages) tiles(grids []tiling) {
	for _, g := range grids {
		for row := range g.rows {
			for column := range g.columns {
				p.tile(g, column, row)
			}
		}
	}
}

// tiling cuts a sheet into pages. Row 0 is at the top.
type tiling struct {
	sheet         Sheet
	columns, rows int
	width, height float64   // of a page's content
	corner        mesh.Vec2 // of the first page's content on the sheet, lower left
	note          sheetNote
}

func newTiling(s Sheet, width, height float64) tiling {
	pages := func(length, page float64) int {
		return max(1, int(math.Ceil((length-tileOverlap-1e-9)/(page-tileOverlap))))
	}
	t := tiling{sheet: s, width: width, height: height}
	t.columns, t.rows = pages(s.Width, width), pages(s.Height, height)
	// What room is left over is shared by both ends.
	spare := func(n int, page, length float64) float64 {
		return (float64(n)*(page-tileOverlap) + tileOverlap - length) / 2
	}
	t.corner = mesh.Vec2{
		X: -spare(t.columns, width, s.Width),
		Y: s.Height + spare(t.rows, height, s.Height) - height,
	}
	return t
}

// origin returns the lower left corner of a page's content on the sheet.
func (t tiling) origin(column, row int) mesh.Vec2 {
	return mesh.Vec2{
		X: t.corner.X + float64(column)*(t.width-tileOverlap),
		Y: t.corner.Y - float64(row)*(t.height-tileOverlap),
	}
}

// tile draws one page of a tiling.
func (p *pages) tile(t tiling, column, row int) {
	heading := t.sheet.Title + ", full size"
	if t.columns*t.rows > 1 {
		heading += fmt.Sprintf(": sheet %d of %d", row*t.columns+column+1, t.columns*t.rows)
	}
	p.add(true, heading)
	t.note.write(p)
	p.h = t.height
	o := t.origin(column, row)
	at := func(v mesh.Vec2) (x, y float64) { return p.x + v.X - o.X, p.y + p.h - (v.Y - o.Y) }
	p.pdf.ClipRect(p.x, p.y, p.w, p.h, false)
	lines := func() {
		for _, m := range t.sheet.Marks {
			p.line(m, at)
		}
	}
	// Holes are shaded, and lines over them must be seen.
	over := slices.ContainsFunc(t.sheet.Cuts, func(c SheetCut) bool { return len(c.Region.Holes) > 0 })
	if !over {
		lines()
	}
	for _, c := range t.sheet.Cuts {
		p.cut(c.Region, at)
	}
	if over {
		lines()
	}
	p.labels(t, column, row, at)
	p.pdf.ClipEnd()

	// The seams, by the name of the pages that they join.
	half := float64(tileOverlap) / 2
	if column > 0 {
		p.seam(p.x+half, p.y, 0, p.h, seamName(t, column-1, row, column, row))
	}
	if column+1 < t.columns {
		p.seam(p.x+p.w-half, p.y, 0, p.h, seamName(t, column, row, column+1, row))
	}
	if row > 0 {
		p.seam(p.x, p.y+half, p.w, 0, seamName(t, column, row-1, column, row))
	}
	if row+1 < t.rows {
		p.seam(p.x, p.y+p.h-half, p.w, 0, seamName(t, column, row, column, row+1))
	}
}

func seamName(t tiling, c0, r0, c1, r1 int) string {
	return fmt.Sprintf("%d|%d", r0*t.columns+c0+1, r1*t.columns+c1+1)
}

// seam draws the line from (x, y) to (x+dx, y+dy) on which one of two pages is
// cut, with a register mark near either end.
func (p *pages) seam(x, y, dx, dy float64, name string) {
	p.pen(0.1)
	p.pdf.SetDrawColor(120, 120, 120)
	p.pdf.SetDashPattern([]float64{1, 2}, 0)
	p.pdf.Line(x, y, x+dx, y+dy)
	p.pen(0.15)
	p.black()
	for _, t := range []float64{0.12, 0.88} {
		cx, cy := x+t*dx, y+t*dy
		const arm, radius = 4.5, 2.5
		p.pdf.Line(cx-arm, cy, cx+arm, cy)
		p.pdf.Line(cx, cy-arm, cx, cy+arm)
		p.pdf.Circle(cx, cy, radius, "D")
		p.text(cx+1, cy-arm-0.8, 1.8, 0, name)
	}
}
