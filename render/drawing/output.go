package drawing

import (
	"image"
	"image/color"
	"image/draw"
	"io"
	"sync"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"git.sr.ht/~sbinet/gg"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgpdf"
	"gonum.org/v1/plot/vg/vgsvg"
)

// pixelsPerInch makes a point of the page one pixel of a picture.
const pixelsPerInch = 72

// NewPicture returns a page that is a picture of w by h pixels with plain text
// of size em; one unit of length on it is one pixel. The picture is img.
func NewPicture(w, h int, em vg.Length, ink, paper color.Color) (p *Page, img image.Image) {
	// A canvas that makes its own image makes two of them, and a large sheet
	// should not.
	rgba := image.NewRGBA(image.Rect(0, 0, w, h))
	pen := gg.NewContextForRGBA(rgba)
	pen.SetLineCapButt()
	pen.InvertY()
	c := vgimg.NewWith(vgimg.UseImageWithContext(rgba, pen), vgimg.UseDPI(pixelsPerInch))
	draw.Draw(rgba, rgba.Rect, image.NewUniform(paper), image.Point{}, draw.Src)
	p = NewPage(&picture{Canvas: c, pen: pen, glyphs: map[glyphKey]*glyph{}}, em)
	p.Ink, p.Paper = ink, paper
	return p, rgba
}

// NewSVG returns a page of w by h and a function that writes it as SVG with
// its fonts embedded.
func NewSVG(w, h, em vg.Length, ink, paper color.Color) (*Page, io.WriterTo) {
	c := vgsvg.NewWith(vgsvg.UseWH(w, h), vgsvg.EmbedFonts(true))
	return onPaper(c, em, ink, paper), svgWriter{c}
}

// NewPDF returns a page of w by h and a function that writes it as PDF with
// its fonts embedded. The same drawing gives the same bytes.
func NewPDF(w, h, em vg.Length, ink, paper color.Color) (*Page, io.WriterTo) {
	undatePDF()
	c := vgpdf.New(w, h)
	p := onPaper(c, em, ink, paper)
	p.encode = windows1252
	return p, c
}

// undatePDF takes the clock and the order of maps out of PDF files. The canvas
// does not hand out its document, so it is done for all of them.
var undatePDF = sync.OnceFunc(func() {
	day := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	fpdf.SetDefaultCreationDate(day)
	fpdf.SetDefaultModificationDate(day)
	fpdf.SetDefaultCatalogSort(true)
})

// onPaper returns a page on c that begins with a background.
func onPaper(c vg.CanvasSizer, em vg.Length, ink, paper color.Color) *Page {
	p := NewPage(steady{c}, em)
	p.Ink, p.Paper = ink, paper
	p.Fill(Rect(0, 0, p.Width, p.Height).Path(), paper)
	return p
}
