package drawing

import (
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"
)

// Arrowheads are slender: three times as long as wide (ISO 129-1 asks for 15
// to 90 degrees between the flanks; this is 19).
const (
	arrowLength = 0.55 // in units of Em
	arrowWidth  = arrowLength / 3
)

// Arrow draws a filled arrowhead with its tip at tip, coming from the
// direction of from.
func (p *Page) Arrow(tip, from vg.Point, c color.Color) {
	dx, dy := float64(from.X-tip.X), float64(from.Y-tip.Y)
	n := math.Hypot(dx, dy)
	if n == 0 {
		return
	}
	ux, uy := vg.Length(dx/n), vg.Length(dy/n)
	l, w := p.Em*arrowLength, p.Em*arrowWidth/2
	base := Pt(tip.X+ux*l, tip.Y+uy*l)
	p.Polygon([]vg.Point{
		tip,
		Pt(base.X-uy*w, base.Y+ux*w),
		Pt(base.X+uy*w, base.Y-ux*w),
	}, c)
}

// HeadsFit reports whether the arrowheads of a dimension line of the given
// length stand inside it.
func (p *Page) HeadsFit(length vg.Length) bool { return length >= 2.6*arrowLength*p.Em }

// Span draws a dimension line from a to b with an arrowhead at either end. If
// the two heads would meet they stand outside and point inward, with short
// tails.
func (p *Page) Span(a, b vg.Point, l Line) {
	dx, dy := float64(b.X-a.X), float64(b.Y-a.Y)
	n := math.Hypot(dx, dy)
	if n == 0 {
		return
	}
	head := float64(p.Em) * arrowLength
	if p.HeadsFit(vg.Length(n)) {
		// The heads cover the ends: the line itself stops inside them, or its
		// square end would blunt the tips.
		t := vg.Length(0.6 * head / n)
		d := Pt(vg.Length(dx)*t, vg.Length(dy)*t)
		p.Stroke(a.Add(d), b.Sub(d), l)
		p.Arrow(a, b, l.Color)
		p.Arrow(b, a, l.Color)
		return
	}
	tail := Pt(vg.Length(dx/n*1.9*head), vg.Length(dy/n*1.9*head))
	inset := tail.Scale(0.3)
	p.Stroke(a, b, l)
	p.Stroke(a.Sub(inset), a.Sub(tail), l)
	p.Stroke(b.Add(inset), b.Add(tail), l)
	p.Arrow(a, a.Sub(tail), l.Color)
	p.Arrow(b, b.Add(tail), l.Color)
}

// FitsSpan reports whether Horizontal sets text in a line of the given length,
// and not beside it.
func (p *Page) FitsSpan(text string, length vg.Length, t Text) bool {
	return p.TextWidth(text, t)+p.Em*(2*arrowLength+0.8) <= length
}

// Horizontal draws the dimension of the distance from x0 to x1 on the level y,
// with extension lines from the levels y0 and y1 of the points it measures. The
// text stands in the line if there is room, or else beside it, clear of other
// labels; it reports false, and draws no text, where there is no free place.
func (p *Page) Horizontal(x0, x1, y0, y1, y vg.Length, text string, t Text, l Line) bool {
	if x1 < x0 {
		x0, x1, y0, y1 = x1, x0, y1, y0
	}
	p.extend(Pt(x0, y0), Pt(x0, y), l)
	p.extend(Pt(x1, y1), Pt(x1, y), l)
	p.Span(Pt(x0, y), Pt(x1, y), l)
	t.AlignY = 0.5
	if p.FitsSpan(text, x1-x0, t) {
		t.AlignX, t.Halo = 0.5, p.Paper
		return p.TryText(text, t, Pt((x0+x1)/2, y))
	}
	gap := p.Em * 0.4
	if !p.HeadsFit(x1 - x0) {
		gap += 1.9 * arrowLength * p.Em
	}
	t.AlignX = 0
	if p.TryText(text, t, Pt(x1+gap, y)) {
		return true
	}
	t.AlignX = 1
	return p.TryText(text, t, Pt(x0-gap, y))
}

// Vertical draws the dimension of the distance from y0 to y1 at x, with
// extension lines from x0 and x1, and its lines of text beside it: on the left
// for side < 0, on the right otherwise.
func (p *Page) Vertical(y0, y1, x0, x1, x vg.Length, lines []string, side int, t Text, l Line) bool {
	p.extend(Pt(x0, y0), Pt(x, y0), l)
	p.extend(Pt(x1, y1), Pt(x, y1), l)
	p.Span(Pt(x, y0), Pt(x, y1), l)
	gap := p.Em * 0.4
	at := Pt(x+gap, (y0+y1)/2)
	t.AlignX = 0
	if side < 0 {
		at.X, t.AlignX = x-gap, 1
	}
	ok := true
	h := p.TextHeight(t) * lineSpacing
	at.Y += h * vg.Length(len(lines)-1) / 2
	t.AlignY = 0.5
	for _, s := range lines {
		ok = p.TryText(s, t, at) && ok
		at.Y -= h
	}
	return ok
}

// lineSpacing is the distance between lines of text in units of their height.
const lineSpacing = 1.12

// extend draws an extension line: it begins a little off the measured point
// and ends a little beyond the dimension line.
func (p *Page) extend(from, to vg.Point, l Line) {
	dx, dy := float64(to.X-from.X), float64(to.Y-from.Y)
	n := math.Hypot(dx, dy)
	off, beyond := float64(p.Em)*0.25, float64(p.Em)*0.3
	if n <= off {
		return
	}
	u := Pt(vg.Length(dx/n), vg.Length(dy/n))
	l.Width = 0
	p.Stroke(from.Add(u.Scale(vg.Length(off))), to.Add(u.Scale(vg.Length(beyond))), l)
}
