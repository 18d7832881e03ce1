package drawing

import (
	"image"

	"gonum.org/v1/plot/vg"
	"image/draw"
	"math"
)

// Frame maps a plane of the model, in millimetres, to a page: the model's
// origin falls on Origin and a millimetre is Scale long. FlipV turns the
// model's second coordinate down the page.
type Frame struct {
	Origin vg.Point
	Scale  vg.Length
	FlipV  bool
}

// At returns the place of the model's point (u, v).
func (f Frame) At(u, v float64) vg.Point { return Pt(f.X(u), f.Y(v)) }

// X returns the page coordinate of the model's u.
func (f Frame) X(u float64) vg.Length { return f.Origin.X + f.Scale*vg.Length(u) }

// Y returns the page coordinate of the model's v.
func (f Frame) Y(v float64) vg.Length {
	if f.FlipV {
		v = -v
	}
	return f.Origin.Y + f.Scale*vg.Length(v)
}

// Image draws a picture into the rectangle r. On a canvas of pixels a picture
// of the rectangle's own size is laid down pixel for pixel, where the canvas's
// own way would filter it.
func (p *Page) Image(r vg.Rectangle, img image.Image) {
	c, ok := p.Canvas.(*picture)
	if !ok {
		if p.encode != nil {
			r, img = p.forPDF(r, img)
		}
		p.DrawImage(r, img)
		return
	}
	dst := c.Image()
	dpi := c.DPI()
	x := math.Round(r.Min.X.Dots(dpi))
	y := math.Round((p.Height - r.Max.Y).Dots(dpi))
	w := math.Round((r.Max.X - r.Min.X).Dots(dpi))
	h := math.Round((r.Max.Y - r.Min.Y).Dots(dpi))
	b := img.Bounds()
	if w != float64(b.Dx()) || h != float64(b.Dy()) {
		p.DrawImage(r, img)
		return
	}
	draw.Draw(dst, image.Rect(int(x), int(y), int(x+w), int(y+h)), img, b.Min, draw.Over)
}
