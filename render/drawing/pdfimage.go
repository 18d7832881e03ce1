package drawing

import (
	"image"
	"image/draw"

	"gonum.org/v1/plot/vg"
)

// forPDF returns a picture and the rectangle it fills as the PDF canvas needs
// them.
//
// The canvas's y axis is turned over and its pictures with it, so they go in
// upside down. And the writer of the file puts pictures in the order of their
// widths but leaves that of equally wide ones to chance: each is widened by
// empty columns until no other picture of the page is as wide.
func (p *Page) forPDF(r vg.Rectangle, img image.Image) (vg.Rectangle, image.Image) {
	b := img.Bounds()
	w := b.Dx()
	for p.widths[w] {
		w++
	}
	if p.widths == nil {
		p.widths = make(map[int]bool)
	}
	p.widths[w] = true
	out := image.NewNRGBA(image.Rect(0, 0, w, b.Dy()))
	for y := range b.Dy() {
		row := image.Rect(0, b.Dy()-1-y, b.Dx(), b.Dy()-y)
		draw.Draw(out, row, img, image.Pt(b.Min.X, b.Min.Y+y), draw.Src)
	}
	r.Max.X += (r.Max.X - r.Min.X) * vg.Length(w-b.Dx()) / vg.Length(b.Dx())
	return r, out
}
