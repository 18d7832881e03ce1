package drawing

import (
	"image/color"
	"io"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgpdf"
)

// Pages is a PDF of several pages of one size, with its fonts embedded. The
// same drawing gives the same bytes.
type Pages struct {
	canvas *vgpdf.Canvas
	begun  bool
}

// NewPages returns a PDF without a page, for pages of w by h.
func NewPages(w, h vg.Length) *Pages {
	undatePDF()
	return &Pages{canvas: vgpdf.New(w, h)}
}

// Next begins a page with plain text of size em. The page before it is done.
func (p *Pages) Next(em vg.Length, ink, paper color.Color) *Page {
	if p.begun {
		p.canvas.NextPage() // the canvas comes with its first
	}
	p.begun = true
	page := onPaper(p.canvas, em, ink, paper)
	page.encode = windows1252
	return page
}

// WriteTo writes the PDF.
func (p *Pages) WriteTo(w io.Writer) (int64, error) { return p.canvas.WriteTo(w) }
