package render

import (
	"gonum.org/v1/plot/vg"

	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// barsWide is the room of the check bars, in mm.
const barsWide = 68.0

// checkBars draws a bar of known length along each direction of the paper in
// the lower right corner, between two levels: printers err differently in each.
// Drawings to scale are worth as much as the printer's settings.
func (s *carveSheet) checkBars(top, foot float64) {
	step, unit := 10.0, "mm"
	across, up := 5, 4
	if s.u == spec.Inch {
		step, unit = spec.MillimetresPerInch/2, "in"
		across, up = 4, 3
	}
	t := drawing.Text{Scale: viewText}
	const thick = 1.2
	label := s.lineHeight(t)
	right := s.w - carveEdge
	y := foot - label - thick - 1
	x := right - float64(across)*step
	up = max(1, min(up, int((y-top-thick)/step)))
	name := func(k int) string {
		v := float64(k) * step
		if s.u == spec.Inch {
			v = spec.Inch.Of(v)
		}
		return spec.Number(v, 1) + " " + unit
	}
	for i := range across {
		s.bar(area{x + float64(i)*step, y, step, thick}, i%2 == 0)
	}
	for i := range up {
		s.bar(area{right - thick, y - thick - float64(i+1)*step, thick, step}, i%2 == 0)
	}
	t.AlignX = 1
	s.text(right, y+thick+0.6, name(across), t)
	s.text(right-thick-1, y-thick-float64(up)*step, name(up), t)
	words := s.wrap("Print at 100 %, then measure both bars.", float64(across)*step-thick-3-s.textWidth(name(up), t), t)
	t.AlignX, t.Color = 0, quietColor
	s.lines(x, y-float64(len(words))*label-1, words, t)
}

// bar draws one block of a check bar.
func (s *carveSheet) bar(a area, dark bool) {
	c := s.pg.Paper
	if dark {
		c = s.pg.Ink
	}
	p, q := s.at(a.x, a.y), s.at(a.x+a.w, a.y+a.h)
	r := drawing.Rect(p.X, p.Y, q.X, q.Y)
	s.pg.Fill(r.Path(), c)
	s.pg.Outline([]vg.Point{r.Min, drawing.Pt(r.Max.X, r.Min.Y), r.Max, drawing.Pt(r.Min.X, r.Max.Y)}, drawing.Line{Width: 0.04})
}
