package render

import (
	"math"

	"github.com/fogleman/fauxgl"
)

// reach counts the open pixels of an exposure by rectangles, to tell the
// triangles that the further passes need: most lie where every pixel is done.
type reach struct {
	w, h  int
	count []int32 // of the open pixels above and before a pixel's corner
}

func newReach(w, h int, open []int32) *reach {
	r := &reach{w, h, make([]int32, (w+1)*(h+1))}
	next := 0
	for y := range h {
		row := int32(0)
		for x := range w {
			if next < len(open) && int(open[next]) == y*w+x {
				row++
				next++
			}
			r.count[(y+1)*(w+1)+x+1] = r.count[y*(w+1)+x+1] + row
		}
	}
	return r
}

// any reports whether there is an open pixel from one corner to another, both
// counted.
func (r *reach) any(x0, y0, x1, y1 float64) bool {
	clamp := func(v float64, n int) int { return int(max(0, min(float64(n), v))) }
	a, b := clamp(math.Floor(x0), r.w), clamp(math.Floor(x1)+1, r.w)
	c, d := clamp(math.Floor(y0), r.h), clamp(math.Floor(y1)+1, r.h)
	at := func(x, y int) int32 { return r.count[y*(r.w+1)+x] }
	return at(b, d)-at(a, d)-at(b, c)+at(a, c) > 0
}

// of returns the triangles that look this way and whose box on the picture, a
// little widened for the offsets of the passes, has an open pixel. The matrix is
// that of the camera.
func (r *reach) of(triangles []*fauxgl.Triangle, m fauxgl.Matrix) []*fauxgl.Triangle {
	const more = 2
	screen := fauxgl.Screen(r.w, r.h)
	place := func(v *fauxgl.Vertex) fauxgl.Vector {
		p := m.MulPositionW(v.Position)
		return screen.MulPosition(p.DivScalar(p.W).Vector())
	}
	var out []*fauxgl.Triangle
	for _, t := range triangles {
		p, q, s := place(&t.V1), place(&t.V2), place(&t.V3)
		// On the picture y runs down, so that a face that is seen runs clockwise.
		ax, ay, bx, by := q.X-p.X, q.Y-p.Y, s.X-p.X, s.Y-p.Y
		if turn := ay*bx - ax*by; turn < -1e-9*math.Hypot(ax, ay)*math.Hypot(bx, by) {
			continue // of nearly 0, drawing decides
		}
		lo, hi := p.Min(q).Min(s), p.Max(q).Max(s)
		if r.any(lo.X-more, lo.Y-more, hi.X+more, hi.Y+more) {
			out = append(out, t)
		}
	}
	return out
}
