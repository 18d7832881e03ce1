package drawing

import (
	"image"
	"image/draw"

	"gonum.org/v1/plot/vg"
)

// distinct returns the picture and the rectangle it fills, widened by empty
// columns until no other picture of the page is as wide. The writer of PDF
// files puts pictures in the order of their widths and leaves the order of
// equally wide ones to chance.
func (p *Page) distinct(r vg.Rectangle, img image.Image) (vg.Rectangle, image.Image) {
	b := img.Bounds()
	w := b.Dx()
	for p.widths[w] {
		w++
	}
	if p.widths == nil {
		p.widths = make(map[int]bool)
	}
	p.widths[w] = true
	if w == b.Dx() {
		return r, img
	}
	wide := image.NewNRGBA(image.Rect(0, 0, w, b.Dy()))
	draw.Draw(wide, image.Rect(0, 0, b.Dx(), b.Dy()), img, b.Min, draw.Src)
	r.Max.X += (r.Max.X - r.Min.X) * vg.Length(w-b.Dx()) / vg.Length(b.Dx())
	return r, wide
}
