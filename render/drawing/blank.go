package drawing

import (
	"image"
	"image/color"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// NewBlank returns a page of w by h that draws nothing: for measuring text,
// and for finding out where labels would go.
func NewBlank(w, h, em vg.Length) *Page { return NewPage(blank{w, h}, em) }

// blank is a canvas that forgets what is drawn on it.
type blank struct{ w, h vg.Length }

func (b blank) Size() (x, y vg.Length)                   { return b.w, b.h }
func (blank) SetLineWidth(vg.Length)                     {}
func (blank) SetLineDash([]vg.Length, vg.Length)         {}
func (blank) SetColor(color.Color)                       {}
func (blank) Rotate(float64)                             {}
func (blank) Translate(vg.Point)                         {}
func (blank) Scale(x, y float64)                         {}
func (blank) Push()                                      {}
func (blank) Pop()                                       {}
func (blank) Stroke(vg.Path)                             {}
func (blank) Fill(vg.Path)                               {}
func (blank) FillString(font.Face, vg.Point, string)     {}
func (blank) DrawImage(rect vg.Rectangle, _ image.Image) {}
