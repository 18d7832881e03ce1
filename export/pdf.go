package export

import (
	"fmt"
	"io"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/goregular"

	"neckloft/mesh"
)

// Layout of a full-size page, in mm. Few printers print nearer than 6 mm to the
// edge of the paper: common practice, no published source.
const (
	pageMargin = 10.0
	pageHead   = 8.0  // for the title, at the top
	pageFoot   = 25.0 // for the check bars, at the bottom
)

// Lengths of the check bars of every full-size page, in mm.
const (
	checkBarMM   = 100.0
	checkBarInch = 4 * 25.4
)

// pages is a PDF of full-size pages.
type pages struct {
	pdf   *fpdf.Fpdf
	paper Paper
	title string
	count int // of all pages
	// Corner of the content, in mm from the upper left corner of the page, and
	// its size.
	x, y, w, h float64
}

// newPages begins a PDF. The same content gives the same bytes.
func newPages(title string, paper Paper, count int) *pages {
	pdf := fpdf.NewCustom(&fpdf.InitType{
		OrientationStr: "P", UnitStr: "mm",
		Size: fpdf.SizeType{Wd: paper.Width, Ht: paper.Height},
	})
	day := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	pdf.SetCreationDate(day)
	pdf.SetModificationDate(day)
	pdf.SetCatalogSort(true)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetMargins(0, 0, 0)
	pdf.SetCreator(application, true)
	pdf.SetTitle(title, true)
	pdf.AddUTF8FontFromBytes("go", "", goregular.TTF)
	pdf.SetLineJoinStyle("round")
	return &pages{pdf: pdf, paper: paper, title: title, count: count}
}

// contentSize returns the room for content on a page.
func contentSize(p Paper, landscape bool) (w, h float64) {
	w, h = p.Width, p.Height
	if landscape {
		w, h = h, w
	}
	return w - 2*pageMargin, h - 2*pageMargin - pageHead - pageFoot
}

// add begins a page with its heading and check bars.
func (p *pages) add(landscape bool, heading string) {
	orientation := "P"
	if landscape {
		orientation = "L"
	}
	p.pdf.AddPageFormat(orientation, fpdf.SizeType{Wd: p.paper.Width, Ht: p.paper.Height})
	p.x, p.y = pageMargin, pageMargin+pageHead
	p.w, p.h = contentSize(p.paper, landscape)
	p.black()
	p.text(p.x, pageMargin+3.5, 3, 0, heading)
	p.text(p.x+p.w, pageMargin+3.5, 3, 1, fmt.Sprintf("page %d of %d", p.pdf.PageNo(), p.count))
	p.checkBars(p.x, p.y+p.h+7)
}

// checkBars draws the bars across the page with the words that belong to them,
// and those up the page, since printers err differently in either direction.
func (p *pages) checkBars(x, y float64) {
	p.bar(x, y, checkBarMM, false)
	p.bar(x, y+8, checkBarInch, false)
	width, _ := p.pdf.GetPageSize()
	p.bar(sideBar, p.y+sideBarTop, checkBarInch, true)
	p.bar(width-sideBar, p.y+sideBarTop, checkBarMM, true)
	left := x + checkBarInch + 16
	for i, line := range []string{
		"Print at 100 % (\"actual size\"), without \"fit to page\".",
		"Measure all four bars with a steel rule, across",
		"and up the page, before you use anything on it. If",
		"one is not true, print again; do not correct by eye.",
	} {
		p.text(left, y-1+4*float64(i), 2.2, 0, line)
	}
	p.text(x, y+15.5, 1.9, 0, p.title)
}

// Where the bars up the page stand, in mm: so far from the side edges, and so
// far below the top of the content. Their ticks stay 6 mm off the edge.
const (
	sideBar    = 7.5
	sideBarTop = 4.0
)

// bar draws a check bar of the given length in mm that begins at (x, y) and
// goes across the page, or down it, with its length in words at the end.
func (p *pages) bar(x, y, length float64, down bool) {
	parts, name := 10, "100 mm"
	if length == checkBarInch {
		parts, name = 4, "4 in"
	}
	p.pen(0.2)
	stroke := func(along0, off0, along1, off1 float64) {
		if down {
			p.pdf.Line(x+off0, y+along0, x+off1, y+along1)
			return
		}
		p.pdf.Line(x+along0, y+off0, x+along1, y+off1)
	}
	stroke(0, 0, length, 0)
	for i := range parts + 1 {
		tick := 1.2
		if i == 0 || i == parts {
			tick = 3
		}
		at := length * float64(i) / float64(parts)
		stroke(at, -tick/2, at, tick/2)
	}
	const height, gap = 2.2, 2.5
	if !down {
		p.text(x+length+gap, y+height/2, height, 0, name)
		return
	}
	x, y = x+height/2, y+length+gap
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(90, x, y)
	p.text(x, y, height, 1, name)
	p.pdf.TransformEnd()
}

func (p *pages) black() {
	p.pdf.SetDrawColor(0, 0, 0)
	p.pdf.SetTextColor(0, 0, 0)
}

// pen sets a solid line of the given width in mm.
func (p *pages) pen(width float64) {
	p.pdf.SetLineWidth(width)
	p.pdf.SetDashPattern(nil, 0)
}

// text writes a line with capitals of the given height, on the base line y. Of
// its length the share align lies left of x.
func (p *pages) text(x, y, height, align float64, text string) {
	p.pdf.Text(x-align*p.textWidth(height, text), y, text)
}

// textWidth returns the width of a line with capitals of the given height, and
// leaves that size set.
func (p *pages) textWidth(height float64, text string) float64 {
	const capitals = 0.723 // of the Go font's size
	p.pdf.SetFont("go", "", 1)
	p.pdf.SetFontUnitSize(height / capitals)
	return p.pdf.GetStringWidth(text)
}

// wrap sets a text in lines of the given height that are no wider than width.
func (p *pages) wrap(height, width float64, text string) []string {
	return WrapWords(text, func(line string) bool { return p.textWidth(height, line) <= width })
}

// place is a point of a drawing on the page, the drawing's y being up.
type place func(v mesh.Vec2) (x, y float64)

// cut draws the outline of a region, and its holes in grey.
func (p *pages) cut(r mesh.Region, at place) {
	p.pen(0.15)
	p.black()
	p.pdf.SetFillColor(200, 200, 200)
	for i, loop := range r.Loops() {
		points := make([]fpdf.PointType, len(loop))
		for k, v := range loop {
			points[k].X, points[k].Y = at(v)
		}
		style := "D"
		if i > 0 {
			style = "DF"
		}
		p.pdf.Polygon(points, style)
	}
}

// line draws a mark.
func (p *pages) line(l SheetLine, at place) {
	if len(l.Points) < 2 {
		return
	}
	p.pen(0.12)
	p.pdf.SetDrawColor(0, 60, 160)
	if l.Dashed {
		p.pdf.SetDashPattern([]float64{3, 1}, 0)
	}
	for i, v := range l.Points {
		x, y := at(v)
		if i == 0 {
			p.pdf.MoveTo(x, y)
		} else {
			p.pdf.LineTo(x, y)
		}
	}
	p.pdf.DrawPath("D")
	p.pen(0.12)
	p.black()
}

// write ends the document.
func (p *pages) write(w io.Writer) error {
	if err := p.pdf.Output(w); err != nil {
		return fmt.Errorf("PDF: %w", err)
	}
	return nil
}
