package render

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
)

// crowded is the number of marks of a section beyond which a figure stands beside
// its mark or not at all.
const crowded = 16

// drawCell draws a section with its upper left corner at (left, top).
func (s *readingSheet) drawCell(p *drawing.Page, c *readingCell, left, top vg.Length) {
	p.DrawText(drawing.Pt(left, top), c.title, titleText)
	p.DrawText(drawing.Pt(left+p.TextWidth(c.title, titleText)+p.Em*0.8, top-p.Em*0.08), c.sub, factText)
	p.Stroke(drawing.Pt(left, top-s.head+p.Em*0.35), drawing.Pt(left+s.cell, top-s.head+p.Em*0.35), drawing.Line{Color: fretColor})

	f := drawing.Frame{Origin: drawing.Pt(left+s.cell/2, top-s.head-p.Em*0.6-s.scale*vg.Length(s.up)), Scale: s.scale}
	s.drawSection(p, c, f)
	for _, m := range c.marks {
		s.drawMark(p, m, f)
	}
	// Figures keep off the middle line too: one on it could belong to any.
	w := p.Em * 0.1
	p.Reserve(drawing.Rect(f.X(0)-w, f.Y(s.up*0.5), f.X(0)+w, f.Y(-c.n.Section(c.x).Depth)))
	s.drawFigures(p, c, f)

	y := top - s.high + s.captionHeight*vg.Length(s.most) + p.Em*0.4
	for _, line := range c.captions {
		t := labelText
		t.AlignY, t.Color = 1, line.ink
		p.DrawText(drawing.Pt(left, y), p.Shorten(line.text, s.cell, t), t)
		y -= s.captionHeight
	}
}

// drawSection draws wood and board with the sides named.
func (s *readingSheet) drawSection(p *drawing.Page, c *readingCell, f drawing.Frame) {
	wood := onPage(f, woodOutline(c.n, c.x))
	p.Polygon(wood, woodFill)
	if b := onPage(f, boardOutline(c.n, c.x)); b != nil {
		p.Polygon(b, boardFill)
	}
	sec := c.n.Section(c.x)
	p.Outline(wood, drawing.Line{Color: quietColor})
	p.Polyline(onPage(f, backOutline(&sec)), drawing.Line{Width: 0.12})
	p.Stroke(f.At(0, s.up*0.5), f.At(0, -sec.Depth-1), centreLine)

	side := figureText
	side.Color = quietColor
	side.AlignX, side.AlignY = 1, 0.5
	gap := 0.03 * s.half
	p.TryText(c.n.SideName(neck.MinusY), side, drawing.Pt(f.X(-sec.HalfWidth-gap), f.Y(s.up*0.5)))
	side.AlignX = 0
	p.TryText(c.n.SideName(neck.PlusY), side, drawing.Pt(f.X(sec.HalfWidth+gap), f.Y(s.up*0.5)))
}

// drawMark draws the bar of a mark and keeps figures off it.
func (s *readingSheet) drawMark(p *drawing.Page, m mark, f drawing.Frame) {
	tip := s.tip(m)
	a, b := f.At(m.foot.Y, m.foot.Z), f.At(tip.Y, tip.Z)
	bar := drawing.Line{Width: 0.22, Color: m.ink}
	if m.crossed {
		bar.Dash = drawing.HiddenDash
	}
	p.Stroke(a, b, bar)
	if m.crossed {
		strike(p, b, m.ink)
	} else {
		p.Dot(b, p.Em*0.17, m.ink)
	}
	r := p.Em * 0.12
	p.Reserve(drawing.Rect(min(a.X, b.X)-r, min(a.Y, b.Y)-r, max(a.X, b.X)+r, max(a.Y, b.Y)+r))
}

// drawFigures draws the figures of a section's marks where there is room.
func (s *readingSheet) drawFigures(p *drawing.Page, c *readingCell, f drawing.Frame) {
	var placed []vg.Rectangle
	for _, m := range c.marks {
		if m.label == "" {
			continue
		}
		sin, cos := math.Sincos(m.phi)
		t := figureText
		t.Color = m.ink
		// The box's corner nearest to the surface stands at a place outside it.
		t.AlignX, t.AlignY = 0.5-0.5*m.side.Sign()*cos, 0.5+0.5*sin
		places := s.figurePlaces(p, m, f, len(c.marks) > crowded)
		clear := slices.IndexFunc(places, func(at vg.Point) bool {
			// Room to either side, or two figures read as one.
			box := p.TextBox(at, m.label, t)
			box.Min.X -= p.Em * 0.3
			box.Max.X += p.Em * 0.3
			for _, q := range placed {
				if box.Min.X < q.Max.X && q.Min.X < box.Max.X && box.Min.Y < q.Max.Y && q.Min.Y < box.Max.Y {
					return false
				}
			}
			return p.Free(p.TextBox(at, m.label, t))
		})
		if clear < 0 {
			s.silent++
			continue
		}
		p.DrawText(places[clear], m.label, t)
		placed = append(placed, p.TextBox(places[clear], m.label, t))
	}
}

// figurePlaces returns where the figure of a mark may stand, the best place
// first: outside the bar, square to the surface; beside the bar's end; inside,
// past the bar's foot. In a crowd only near the bar's end, for farther off nobody
// could tell whose it is.
func (s *readingSheet) figurePlaces(p *drawing.Page, m mark, f drawing.Frame, crowd bool) []vg.Point {
	sin, cos := math.Sincos(m.phi)
	out := drawing.Pt(vg.Length(m.side.Sign()*cos), -vg.Length(sin)) // square to the surface
	along := drawing.Pt(vg.Length(m.side.Sign()*sin), vg.Length(cos))
	foot := f.At(m.foot.Y, m.foot.Z)
	end := vg.Length(math.Max(0, s.long(m))) * s.scale
	at := func(far, aside vg.Length) vg.Point {
		return drawing.Pt(foot.X+far*out.X+aside*along.X, foot.Y+far*out.Y+aside*along.Y)
	}
	var places []vg.Point
	outside := []float64{0.4, 0.9, 1.5, 2.1}
	if crowd {
		outside = outside[:2]
	}
	for _, more := range outside {
		places = append(places, at(end+p.Em*vg.Length(more), 0))
	}
	if crowd {
		return places
	}
	for _, aside := range []float64{1.3, -1.3} {
		places = append(places, at(end+p.Em*0.5, p.Em*vg.Length(aside)))
	}
	start := vg.Length(math.Max(0, -s.long(m))) * s.scale
	for _, less := range []float64{0.5, 1.2} {
		places = append(places, at(-start-p.Em*vg.Length(less+0.9), 0))
	}
	return places
}

// strike draws the cross at the end of the bar of a reading that was left out.
func strike(p *drawing.Page, at vg.Point, ink color.Color) {
	d := p.Em * 0.28
	p.Stroke(drawing.Pt(at.X-d, at.Y-d), drawing.Pt(at.X+d, at.Y+d), drawing.Line{Width: 0.14, Color: ink})
	p.Stroke(drawing.Pt(at.X-d, at.Y+d), drawing.Pt(at.X+d, at.Y-d), drawing.Line{Width: 0.14, Color: ink})
}
