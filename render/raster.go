package render

import (
	"image"
	"image/color"
	"math"

	"neckloft/mesh"
)

// corner is a corner of a triangle that is drawn.
type corner struct {
	at, normal mesh.Vec
	kind       int     // the material
	value      float64 // what a map shows
}

// triangle is seen from the side from which its corners turn left.
type triangle [3]corner

// rgb is a colour, 0 to 1 each.
type rgb struct{ r, g, b float64 }

// scale returns the colour made darker or lighter.
func (c rgb) scale(k float64) rgb { return rgb{c.r * k, c.g * k, c.b * k} }

// nrgba returns the colour in whole numbers, opaque.
func (c rgb) nrgba() color.NRGBA {
	whole := func(v float64) uint8 { return uint8(255 * math.Max(0, math.Min(1, v))) }
	return color.NRGBA{R: whole(c.r), G: whole(c.g), B: whole(c.b), A: 255}
}

// shader gives a place of the surface its colour. kind is that of the whole
// triangle.
type shader interface {
	shade(at, normal mesh.Vec, kind int, value float64) rgb
}

// raster is a picture with the depth of each of its pixels: the greater, the
// nearer to the eye.
type raster struct {
	w, h  int
	img   *image.NRGBA
	depth []float64
}

func newRaster(w, h int) *raster {
	return &raster{w: w, h: h, img: image.NewNRGBA(image.Rect(0, 0, w, h)), depth: make([]float64, w*h)}
}

// clear makes the picture empty.
func (r *raster) clear() {
	clear(r.img.Pix)
	r.mask(math.Inf(-1))
}

// mask sets the depth of all pixels: what is farther is not drawn.
func (r *raster) mask(depth float64) {
	for i := range r.depth {
		r.depth[i] = depth
	}
}

// Corners are moved onto a grid of this many places a pixel. Whether a ray hits a
// triangle is then told in whole numbers: neighbours leave no gap between them and
// do not overlap, and every processor draws the same.
const subPixel = 1 << 12

// farOff is how many pixels off the picture a corner may lie. Products of two
// sides then fit into 64 bits. No view is drawn so much larger than its picture.
const farOff = 1 << 17

// seen is a corner on the picture.
type seen struct {
	x, y  int64   // in parts of a pixel, y down
	depth float64 // changes evenly along a line on the picture
	k     float64 // size of things there on the picture, over that at the target
	*corner
}

// see returns where a corner falls on the picture, or false if it lies behind the
// eye or far off the picture.
func (v *viewer) see(c *corner) (seen, bool) {
	e := v.camera.eye(c.at)
	s := seen{depth: e.Z, k: 1, corner: c}
	if d := v.camera.distance; d != 0 {
		if e.Z > 0.9*d {
			return s, false
		}
		s.k = d / (d - e.Z)
		s.depth = s.k
	}
	x, y := (s.k*e.X-v.lo.X)*v.sx, (v.hi.Y-s.k*e.Y)*v.sy
	if !(math.Abs(x) < farOff && math.Abs(y) < farOff) {
		return s, false
	}
	s.x, s.y = int64(math.Round(x*subPixel)), int64(math.Round(y*subPixel))
	return s, true
}

// viewer is a camera and the part of its picture plane that is drawn.
type viewer struct {
	camera camera
	lo, hi mesh.Vec2
	sx, sy float64 // pixels a millimetre
}

// rim is a side of a triangle on the picture. It is positive at places to its
// one hand, and changes by dx and dy from one pixel to the next.
type rim struct{ at0, dx, dy, least int64 }

// newRim returns the side from a to b as seen from the middle of the first pixel.
func newRim(a, b *seen) rim {
	dx, dy := b.x-a.x, b.y-a.y
	s := rim{
		at0: dx*(subPixel/2-a.y) - dy*(subPixel/2-a.x),
		dx:  -dy * subPixel, dy: dx * subPixel,
	}
	// A place on the side itself belongs to one of the two triangles there.
	if !(dy > 0 || dy == 0 && dx < 0) {
		s.least = 1
	}
	return s
}

// span narrows the pixels from x0 to x1 of row y to those on the side's good hand.
func (s *rim) span(y, x0, x1 int64) (int64, int64) {
	at := s.at0 + y*s.dy - s.least
	switch {
	case s.dx > 0:
		return max(x0, -floorDiv(at, s.dx)), x1
	case s.dx < 0:
		return x0, min(x1, floorDiv(at, -s.dx))
	case at < 0:
		return 0, -1
	}
	return x0, x1
}

// floorDiv is a/b rounded down, of a positive b.
func floorDiv(a, b int64) int64 {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// draw draws a triangle where nothing nearer is drawn yet.
func (r *raster) draw(v *viewer, t *triangle, look shader) {
	var c [3]seen
	for i := range c {
		ok := false
		if c[i], ok = v.see(&t[i]); !ok {
			return
		}
	}
	c[1], c[2] = c[2], c[1] // y is down
	area := (c[1].x-c[0].x)*(c[2].y-c[0].y) - (c[1].y-c[0].y)*(c[2].x-c[0].x)
	if area <= 0 {
		return // seen from within
	}
	sides := [3]rim{newRim(&c[1], &c[2]), newRim(&c[2], &c[0]), newRim(&c[0], &c[1])}
	y0 := max(0, floorDiv(min(c[0].y, c[1].y, c[2].y), subPixel))
	y1 := min(int64(r.h)-1, floorDiv(max(c[0].y, c[1].y, c[2].y), subPixel))
	left := max(0, floorDiv(min(c[0].x, c[1].x, c[2].x), subPixel))
	right := min(int64(r.w)-1, floorDiv(max(c[0].x, c[1].x, c[2].x), subPixel))
	share := 1 / float64(area)
	for y := y0; y <= y1; y++ {
		x0, x1 := left, right
		for i := range sides {
			x0, x1 = sides[i].span(y, x0, x1)
		}
		for x := x0; x <= x1; x++ {
			// Conversions keep processors from adding and multiplying in one
			// step, which would round otherwise.
			var b [3]float64
			depth := 0.0
			for i := range b {
				b[i] = float64(sides[i].at0+x*sides[i].dx+y*sides[i].dy) * share
				depth += float64(b[i] * c[i].depth)
			}
			at := int(y)*r.w + int(x)
			if depth < r.depth[at] {
				continue
			}
			r.depth[at] = depth
			q := blend(&c, b, look).nrgba()
			p := r.img.Pix[4*at : 4*at+4 : 4*at+4]
			p[0], p[1], p[2], p[3] = q.R, q.G, q.B, q.A
		}
	}
}

// blend returns the colour of the place that has shares b of the corners on the
// picture.
func blend(c *[3]seen, b [3]float64, look shader) rgb {
	sum := 0.0
	for i := range b {
		b[i] = float64(b[i] * c[i].k)
		sum += b[i]
	}
	var at, normal mesh.Vec
	value := 0.0
	for i := range b {
		w := b[i] / sum
		at = at.Add(c[i].at.Scale(w))
		normal = normal.Add(c[i].normal.Scale(w))
		value += float64(c[i].value * w)
	}
	return look.shade(at, normal.Unit(), c[0].kind, value)
}
