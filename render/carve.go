package render

import (
	"fmt"
	"image"
	"image/color"
	"io"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// WritePlanPDF writes the carving plan on two pages for the wall of the shop:
// drawings to scale, and steps with boxes to tick, cautions and tables. The
// same plan gives the same bytes.
func WritePlanPDF(w io.Writer, p *carve.Plan, paper export.Paper) error {
	paper = paper.Landscape() // a neck is long
	const perMM = 72 / spec.MillimetresPerInch
	pages := drawing.NewPages(vg.Length(paper.Width*perMM), vg.Length(paper.Height*perMM))
	for i := range 2 {
		pg := pages.Next(carveText*perMM, inkColor, color.White)
		newCarveSheet(p, pg, paper, perMM).draw(i)
	}
	_, err := pages.WriteTo(w)
	return err
}

// WritePlanPNG writes the first page of the carving plan, the drawings, as a
// picture.
func WritePlanPNG(w io.Writer, p *carve.Plan, paper export.Paper) error {
	img, _ := planPicture(p, paper.Landscape(), 0, 1800)
	return WritePNG(w, indexed(img))
}

// planPicture draws a page of the plan as a picture of the given width in
// pixels.
func planPicture(p *carve.Plan, paper export.Paper, page, width int) (image.Image, *drawing.Page) {
	k := float64(width) / paper.Width
	pg, img := drawing.NewPicture(width, int(paper.Height*k), vg.Length(carveText*k), inkColor, color.White)
	newCarveSheet(p, pg, paper, k).draw(page)
	return img, pg
}

// carveText is the size of plain text on a plan's pages, in mm.
const carveText = 2.7

// carveEdge is the margin that common printers need, in mm, with some for a
// pin.
const carveEdge = 10.0

// carveSheet is a page of the carving plan in the making. Its coordinates are
// mm from the page's upper left corner, y down.
type carveSheet struct {
	p    *carve.Plan
	u    spec.Unit
	pg   *drawing.Page
	w, h float64
	k    float64 // units of the page to a mm
}

func newCarveSheet(p *carve.Plan, pg *drawing.Page, paper export.Paper, k float64) *carveSheet {
	return &carveSheet{p: p, u: p.Options.Unit, pg: pg, w: paper.Width, h: paper.Height, k: k}
}

// at returns a place on the page.
func (s *carveSheet) at(x, y float64) vg.Point {
	return drawing.Pt(vg.Length(x*s.k), vg.Length((s.h-y)*s.k))
}

// text sets a line with its top left corner, or as align says, at (x, y).
func (s *carveSheet) text(x, y float64, line string, t drawing.Text) {
	t.AlignY = 1
	s.pg.DrawText(s.at(x, y), line, t)
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

// draw draws a page, counted from 0.
func (s *carveSheet) draw(page int) {
	sp := s.p.Neck.Spec()
	title := drawing.Text{Weight: drawing.Medium, Scale: 1.75}
	name := s.pg.Shorten("Carving plan: "+sp.Name, vg.Length((s.w-2*carveEdge)*0.6*s.k), title)
	s.text(carveEdge, carveEdge, name, title)
	quiet := drawing.Text{Scale: 0.95, Color: quietColor, AlignX: 1}
	unit := "millimetres"
	if s.u == spec.Inch {
		unit = "inches"
	}
	s.text(s.w-carveEdge, carveEdge+1.2, fmt.Sprintf("page %d of 2 · lengths in %s · x from the nut towards the body", page+1, unit), quiet)
	top := carveEdge + s.lineHeight(title) + 1
	if st := s.p.BreaksCover(); st != nil {
		top = s.refusal(top, st)
	}
	if page == 0 {
		s.drawings(top)
		return
	}
	s.words(top)
}

// refusal sets across the page that the plan is none to cut by, and why, and
// returns where it ends.
func (s *carveSheet) refusal(y float64, st *carve.Stage) float64 {
	t := drawing.Text{Weight: drawing.Medium, Scale: 1.3, Color: color.White}
	const pad = 1.6
	width := s.w - 2*carveEdge
	lines := s.wrap(fmt.Sprintf("REFUSED. Do not cut by this sheet. %s: %s.", strings.ToUpper(st.Kind.String()[:1])+st.Kind.String()[1:], s.p.In(s.u).Why(st.Kind)), width-2*pad, t)
	tall := float64(len(lines))*s.lineHeight(t) + 2*pad
	s.pg.Fill(drawing.Rect(s.at(carveEdge, y).X, s.at(0, y).Y, s.at(s.w-carveEdge, y).X, s.at(0, y+tall).Y).Path(), routerColor)
	for i, l := range lines {
		s.text(carveEdge+pad, y+pad+float64(i)*s.lineHeight(t), l, t)
	}
	return y + tall + 1.5
}
