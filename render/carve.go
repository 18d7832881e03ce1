package render

import (
	"fmt"
	"image"
	"image/color"
	"io"

	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// perMM is points of a PDF to a millimetre.
const perMM = 72 / spec.MillimetresPerInch

// carveText is the size of plain text on a plan's pages, in mm: 10 points, to
// be read at arm's length.
const carveText = 10 / perMM

// Sizes of text in units of carveText.
const (
	dialText  = 1.6 // of the numbers to set, 16 points
	viewText  = 0.9 // of labels on drawings to scale
	leastText = 0.8 // of tables, and of anything: 8 points
)

// carveEdge is the margin that common printers need, in mm, with some for a
// pin.
const carveEdge = 10.0

// WritePlanPDF writes the carving plan for the wall of the shop. Page 1 has the
// order of work with the numbers to set; then come the steps in full, the
// drawings to scale, and the tables, on as many pages as they need. The same
// plan gives the same bytes.
func WritePlanPDF(w io.Writer, p *carve.Plan, paper export.Paper) error {
	b := newPlanBook(p, paper)
	pages := drawing.NewPages(vg.Length(b.paper.Width*perMM), vg.Length(b.paper.Height*perMM))
	for i := range b.pages {
		b.draw(i, pages.Next(carveText*perMM, inkColor, color.White), perMM)
	}
	_, err := pages.WriteTo(w)
	return err
}

// WritePlanPNG writes the first page of the carving plan as a picture.
func WritePlanPNG(w io.Writer, p *carve.Plan, paper export.Paper) error {
	return WritePlanPage(w, p, paper, 1)
}

// planPicture draws a page of the plan as a picture of the given width in
// pixels.
func planPicture(b *planBook, page, width int) (image.Image, *drawing.Page) {
	k := float64(width) / b.paper.Width
	pg, img := drawing.NewPicture(width, int(b.paper.Height*k), vg.Length(carveText*k), inkColor, color.White)
	b.draw(page, pg, k)
	return img, pg
}

// planBook is the pages of a plan.
type planBook struct {
	p     *carve.Plan
	paper export.Paper // as it lies
	pages []planBody
}

// planBody draws what a page holds between head and foot, from the level top to
// the level foot in mm.
type planBody func(s *carveSheet, top, foot float64)

// newPlanBook lays the pages of a plan out. A neck is long, and so is the page.
func newPlanBook(p *carve.Plan, paper export.Paper) *planBook {
	b := &planBook{p: p, paper: paper.Landscape()}
	b.pages = []planBody{(*carveSheet).cards}
	s := b.blank()
	// The pages after the first have the same head and foot, and so the same
	// room.
	var room area
	b.lay(1, s.pg, 1, func(_ *carveSheet, top, foot float64) {
		room = area{carveEdge, top, b.paper.Width - 2*carveEdge, foot - top}
	})
	b.pages = append(b.pages, s.wordPages(room)...)
	b.pages = append(b.pages, (*carveSheet).drawings)
	b.pages = append(b.pages, s.tablePages(room)...)
	return b
}

// blank returns a page of the plan, a unit to a mm, that draws nothing.
func (b *planBook) blank() *carveSheet {
	pg := drawing.NewBlank(vg.Length(b.paper.Width), vg.Length(b.paper.Height), carveText)
	pg.Ink, pg.Paper = inkColor, color.White
	return b.sheet(pg, 1)
}

func (b *planBook) sheet(pg *drawing.Page, k float64) *carveSheet {
	return &carveSheet{p: b.p, u: b.p.Options.Unit, pg: pg, w: b.paper.Width, h: b.paper.Height, k: k}
}

// draw draws a page, counted from 0, k units of it to a mm.
func (b *planBook) draw(page int, pg *drawing.Page, k float64) {
	b.lay(page, pg, k, b.pages[page])
}

// lay draws a page with the given body.
func (b *planBook) lay(page int, pg *drawing.Page, k float64, body planBody) {
	on := func(pg *drawing.Page) *carveSheet { return b.sheet(pg, k) }
	panels := []panel{&planPanel{on: on, tall: (*carveSheet).headHeight, paint: func(s *carveSheet, top, _ float64) {
		s.head(top, fmt.Sprintf("page %d of %d", page+1, len(b.pages)))
	}}}
	if b.p.BreaksCover() != nil {
		panels = append(panels, &planPanel{on: on, tall: (*carveSheet).refusalHeight, paint: (*carveSheet).refusal})
	}
	panels = append(panels, &planFill{planPanel{on: on, paint: body}},
		&planPanel{on: on, tall: func(s *carveSheet) float64 { return s.cautionHeight(page == 0) },
			paint: func(s *carveSheet, top, _ float64) { s.cautions(top, page == 0) }})
	sh := &sheet{em: pg.Em, edge: vg.Length(carveEdge * k), gap: vg.Length(2 * k)}
	sh.onPaper(panels, pg.Width, pg.Height)
	sh.draw(pg, nil)
}

// planPanel is a part of a page of the plan, laid out in mm.
type planPanel struct {
	on     func(pg *drawing.Page) *carveSheet
	tall   func(s *carveSheet) float64 // its height; nil = none of its own
	paint  planBody
	height vg.Length
}

func (p *planPanel) lay(pg *drawing.Page, _, _ vg.Length) vg.Length {
	if p.tall == nil {
		return 0
	}
	s := p.on(pg)
	p.height = vg.Length(p.tall(s) * s.k)
	return p.height
}

// planFill is the part of a page of the plan that fills it.
type planFill struct{ planPanel }

func (p *planFill) fill(room vg.Length) { p.height = room }

func (p *planPanel) shots() []shot { return nil }

func (p *planPanel) draw(pg *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	s := p.on(pg)
	top := float64(pg.Height-y) / s.k
	p.paint(s, top, top+float64(p.height)/s.k)
}

// area is a rectangle of a page, in mm from its upper left corner, y down.
type area struct{ x, y, w, h float64 }

// inset returns the area without a border.
func (a area) inset(d float64) area { return area{a.x + d, a.y + d, a.w - 2*d, a.h - 2*d} }

// carveSheet is a page of the carving plan in the making. Its coordinates are
// mm from the page's upper left corner, y down.
type carveSheet struct {
	p    *carve.Plan
	u    spec.Unit
	pg   *drawing.Page
	w, h float64
	k    float64 // units of the page to a mm
}

// at returns a place on the page.
func (s *carveSheet) at(x, y float64) vg.Point {
	return drawing.Pt(vg.Length(x*s.k), s.pg.Height-vg.Length(y*s.k))
}

// text sets a line with its top left corner, or as align says, at (x, y).
func (s *carveSheet) text(x, y float64, line string, t drawing.Text) {
	t.AlignY = 1
	s.pg.DrawText(s.at(x, y), line, t)
}

// lines sets lines of text under each other, and returns where they end.
func (s *carveSheet) lines(x, y float64, lines []string, t drawing.Text) float64 {
	for _, l := range lines {
		s.text(x, y, l, t)
		y += s.lineHeight(t)
	}
	return y
}

// lineHeight returns the height of a line of text in mm.
func (s *carveSheet) lineHeight(t drawing.Text) float64 {
	return float64(s.pg.TextHeight(t)) / s.k * 1.08
}

// textWidth returns the width of a line in mm.
func (s *carveSheet) textWidth(line string, t drawing.Text) float64 {
	return float64(s.pg.TextWidth(line, t)) / s.k
}

// wrap breaks a text into lines no wider than width, in mm.
func (s *carveSheet) wrap(text string, width float64, t drawing.Text) []string {
	return wrapped(s.pg, text, vg.Length(width*s.k), t)
}
