package render

import (
	"image"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/render/drawing"
)

// elevation is a view of the neck along an axis, x to the right, to scale. The
// picture of the solid and the lines drawn over it share its frame.
type elevation struct {
	camera    camera
	withBoard bool
	x0, x1    float64 // extent along the neck
	v0, v1    float64 // extent up the page

	frame  drawing.Frame // Origin.Y is set when it is drawn
	pixelX vg.Length     // left edge of the picture
	w, h   int           // size of the picture
}

// margin is the number of empty pixels around a picture of the solid.
const margin = 1

// fit scales the elevation to reach from left to right, or to the given
// height if that is less.
func (e *elevation) fit(left, right, height vg.Length) {
	scale := min((right-left)/vg.Length(e.x1-e.x0), height/vg.Length(e.v1-e.v0))
	// Centred where it does not fill the width.
	spare := right - left - scale*vg.Length(e.x1-e.x0)
	e.frame = drawing.Frame{Scale: scale, Origin: drawing.Pt(left+spare/2-scale*vg.Length(e.x0), 0)}
	e.pixelX = vg.Length(math.Floor(float64(e.frame.X(e.x0)))) - margin
	e.w = int(whole(e.frame.X(e.x1)-e.pixelX)) + margin
	e.h = int(whole(scale*vg.Length(e.v1-e.v0))) + 2*margin
}

// shot returns the picture of the solid that belongs to the elevation.
func (e *elevation) shot() shot {
	k := float64(e.frame.Scale)
	lo := mesh.Vec2{X: float64(e.pixelX-e.frame.Origin.X) / k}
	hi := mesh.Vec2{X: lo.X + float64(e.w)/k, Y: e.v1 + margin/k}
	lo.Y = hi.Y - float64(e.h)/k
	return shot{camera: e.camera, lo: lo, hi: hi, w: e.w, h: e.h, withBoard: e.withBoard}
}

// draw lays the picture down with its top at y.
func (e *elevation) draw(p *drawing.Page, y vg.Length, img *image.NRGBA) {
	e.frame.Origin.Y = y - margin - e.frame.Scale*vg.Length(e.v1)
	r := drawing.Rect(e.pixelX, y-vg.Length(e.h), e.pixelX+vg.Length(e.w), y)
	if img != nil {
		p.Image(r, img)
	}
}

// xExtent returns the extent of wood and board along the neck.
func xExtent(n *neck.Neck, withBoard bool) (x0, x1 float64) {
	x0, x1 = n.Start(), n.Tip()
	if withBoard {
		from, to := n.BoardExtent()
		x0, x1 = math.Min(x0, from), math.Max(x1, to)
	}
	return x0, x1
}

// outlineSteps is how finely outlines are sampled along the neck.
const outlineSteps = 400

// along returns the least and the greatest value of f along the wood.
func alongWood(n *neck.Neck, f func(x float64) float64) (lo, hi float64) {
	return span(n.Start(), n.End(), f)
}

// span returns the least and the greatest value of f between a and b.
func span(a, b float64, f func(x float64) float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for i := range outlineSteps + 1 {
		v := f(a + (b-a)*float64(i)/outlineSteps)
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	return lo, hi
}
