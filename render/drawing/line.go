package drawing

import (
	"image/color"

	"gonum.org/v1/plot/vg"
)

// Line is a way of drawing a line.
type Line struct {
	Width float64     // in units of the page's Em; 0 is a hairline of Em/16
	Color color.Color // nil is the page's Ink
	Dash  []float64   // lengths of dashes and gaps in turn, in units of Em
}

// Line types of engineering drawing, after ISO 128: a long-dashed dotted line
// for axes and planes of symmetry, a dashed line for hidden edges.
var (
	ChainDash  = []float64{1.1, 0.3, 0.2, 0.3}
	HiddenDash = []float64{0.45, 0.3}
)

// set prepares the canvas to draw with l.
func (p *Page) set(l Line) {
	w := l.Width
	if w == 0 {
		w = 1.0 / 16
	}
	p.SetLineWidth(p.Em * vg.Length(w))
	var dash []vg.Length
	for _, d := range l.Dash {
		dash = append(dash, p.Em*vg.Length(d))
	}
	p.SetLineDash(dash, 0)
	p.SetColor(p.ink(l.Color))
}

// Stroke draws a straight line from a to b.
func (p *Page) Stroke(a, b vg.Point, l Line) { p.Polyline([]vg.Point{a, b}, l) }

// Polyline draws the open line through the points.
func (p *Page) Polyline(points []vg.Point, l Line) {
	if len(points) < 2 {
		return
	}
	p.set(l)
	p.Canvas.Stroke(path(points, false))
}

// Outline draws the closed line through the points.
func (p *Page) Outline(points []vg.Point, l Line) {
	if len(points) < 2 {
		return
	}
	p.set(l)
	p.Canvas.Stroke(path(points, true))
}

// Polygon fills the polygon through the points.
func (p *Page) Polygon(points []vg.Point, c color.Color) {
	if len(points) < 3 {
		return
	}
	p.Fill(path(points, true), c)
}

// Fill fills a path with the colour c.
func (p *Page) Fill(area vg.Path, c color.Color) {
	p.SetColor(p.ink(c))
	p.Canvas.Fill(area)
}

// Dot draws a filled disc of radius r.
func (p *Page) Dot(at vg.Point, r vg.Length, c color.Color) {
	var disc vg.Path
	// Four cubic arcs: canvases differ on a full-circle arc.
	const k = 0.5522847498
	k1 := r * k
	disc.Move(Pt(at.X+r, at.Y))
	disc.CubeTo(Pt(at.X+r, at.Y+k1), Pt(at.X+k1, at.Y+r), Pt(at.X, at.Y+r))
	disc.CubeTo(Pt(at.X-k1, at.Y+r), Pt(at.X-r, at.Y+k1), Pt(at.X-r, at.Y))
	disc.CubeTo(Pt(at.X-r, at.Y-k1), Pt(at.X-k1, at.Y-r), Pt(at.X, at.Y-r))
	disc.CubeTo(Pt(at.X+k1, at.Y-r), Pt(at.X+r, at.Y-k1), Pt(at.X+r, at.Y))
	disc.Close()
	p.Fill(disc, c)
}

// path returns the points as a path.
func path(points []vg.Point, closed bool) vg.Path {
	out := make(vg.Path, 0, len(points)+1)
	out.Move(points[0])
	for _, q := range points[1:] {
		out.Line(q)
	}
	if closed {
		out.Close()
	}
	return out
}
