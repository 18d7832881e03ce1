package render

import (
	"math"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// checkBar draws a bar of known length in the lower right corner, and returns
// the width that it takes. Drawings to scale are worth as much as the printer's
// settings.
func (s *carveSheet) checkBar() float64 {
	bar := drawing.ScaleBar{Length: 60, Divided: 6, Width: vg.Length(60 * s.k), UnitName: "mm"}
	if s.u == spec.Inch {
		const long = 2 * spec.MillimetresPerInch
		bar = drawing.ScaleBar{Length: 2, Divided: 4, Width: vg.Length(long * s.k), UnitName: "in"}
	}
	const tail = 7 // the unit after the last figure
	wide := float64(bar.Width) / s.k
	x := s.w - carveEdge - tail - wide
	t := drawing.Text{Scale: 0.95}
	bar.Draw(s.pg, s.at(x, s.h-carveEdge), t)
	t.Color = quietColor
	line := "Print at 100 %, then measure this bar:"
	s.text(x, s.h-carveEdge-2*s.lineHeight(t)-2.2, line, t)
	return tail + math.Max(wide, s.textWidth(line, t)) + 6
}

// remarks sets verdict, refusals and notes at the foot of the page, beside the
// check bar, and returns where they begin.
func (s *carveSheet) remarks() float64 {
	p := s.p
	var lines []string
	for _, r := range p.In(s.u).Refusals() {
		lines = append(lines, "! "+strings.ToUpper(r[:1])+r[1:]+".")
	}
	if v := p.In(s.u).Verdict(); v != "" {
		lines = append(lines, "Bit of "+p.Round.Bit.OfRadius(s.u)+": "+v+".")
	}
	lines = append(lines, p.In(s.u).NoteLines()...)
	width := s.w - 2*carveEdge - s.checkBar()
	const least = 11 // the check bar's height
	for _, scale := range []float64{1, 0.9, 0.8} {
		t := drawing.Text{Scale: scale}
		var set []string
		for _, l := range lines {
			set = append(set, s.wrap(l, width, t)...)
		}
		tall := float64(len(set)) * s.lineHeight(t)
		if tall > 32 && scale > 0.8 {
			continue
		}
		y := s.h - carveEdge - tall
		begin := math.Min(y, s.h-carveEdge-least)
		for _, l := range set {
			t.Color = nil
			if strings.HasPrefix(l, "! ") {
				t.Color = routerColor
			}
			s.text(carveEdge, y, l, t)
			y += s.lineHeight(t)
		}
		return begin
	}
	return s.h - carveEdge
}
