package drawing

import (
	"image/color"

	"gonum.org/v1/plot/vg"
)

// Page is a canvas of a known size that remembers where its labels are.
type Page struct {
	vg.Canvas
	Width, Height vg.Length

	// Em is the size of plain text; line weights, arrowheads and gaps follow
	// it.
	Em vg.Length

	// Ink is the colour of text and lines that name none, Paper that of the
	// background.
	Ink, Paper color.Color

	encode func(string) string // for the fonts of a PDF; nil is UTF-8, and no PDF
	widths map[int]bool        // of the pictures on the page, in pixels
	labels []Label
	taken  []vg.Rectangle
}

// Label is a piece of text on a page and the rectangle it fills.
type Label struct {
	Text string
	Box  vg.Rectangle
}

// NewPage returns a page on the canvas c with plain text of size em. The
// canvas should be fresh: what is already on it is not known to the page.
func NewPage(c vg.CanvasSizer, em vg.Length) *Page {
	w, h := c.Size()
	return &Page{Canvas: c, Width: w, Height: h, Em: em, Ink: color.Black, Paper: color.White}
}

// Labels returns the text on the page in the order it was drawn.
func (p *Page) Labels() []Label { return p.labels }

// Reserve keeps later labels that look for a free place off the rectangle r.
func (p *Page) Reserve(r vg.Rectangle) { p.taken = append(p.taken, r) }

// Free reports whether the rectangle r lies on the page and touches neither a
// label nor reserved ground.
func (p *Page) Free(r vg.Rectangle) bool {
	if r.Min.X < 0 || r.Min.Y < 0 || r.Max.X > p.Width || r.Max.Y > p.Height {
		return false
	}
	for _, l := range p.labels {
		if overlap(l.Box, r) {
			return false
		}
	}
	for _, t := range p.taken {
		if overlap(t, r) {
			return false
		}
	}
	return true
}

// overlap reports whether two rectangles share more than their borders.
func overlap(a, b vg.Rectangle) bool {
	return a.Min.X < b.Max.X && b.Min.X < a.Max.X && a.Min.Y < b.Max.Y && b.Min.Y < a.Max.Y
}

// Pt returns the point (x, y) of a page.
func Pt(x, y vg.Length) vg.Point { return vg.Point{X: x, Y: y} }

// Rect returns the rectangle between two opposite corners.
func Rect(x0, y0, x1, y1 vg.Length) vg.Rectangle {
	return vg.Rectangle{
		Min: vg.Point{X: min(x0, x1), Y: min(y0, y1)},
		Max: vg.Point{X: max(x0, x1), Y: max(y0, y1)},
	}
}
