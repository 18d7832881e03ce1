package render

import (
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// Text of the head, of the bar of a refused plan and of the cautions.
var (
	planTitle   = drawing.Text{Weight: drawing.Medium, Scale: 1.6}
	planQuiet   = drawing.Text{Color: quietColor}
	refusalText = drawing.Text{Weight: drawing.Medium, Scale: 1.1}
)

func (s *carveSheet) headHeight() float64 { return s.lineHeight(planTitle) }

// head sets the name of the plan, which page of it this is, and the unit.
func (s *carveSheet) head(top float64, page string) {
	unit := "millimetres"
	if s.u == spec.Inch {
		unit = "inches"
	}
	t := planQuiet
	t.AlignX = 1
	right := page + " · lengths in " + unit + " · x from the nut towards the body"
	s.text(s.w-carveEdge, top+s.lineHeight(planTitle)-s.lineHeight(t), right, t)
	room := s.w - 2*carveEdge - s.textWidth(right, t) - 4
	s.text(carveEdge, top, s.pg.Shorten("Carving plan: "+s.p.Neck.Spec().Name, vg.Length(room*s.k), planTitle), planTitle)
}

// refusalPad is the border around the words of a refusal, in mm.
const refusalPad = 1.6

// refusalLines says that the plan is none to cut by, and why.
func (s *carveSheet) refusalLines() []string {
	kind := s.p.BreaksCover().Kind
	return s.wrap(fmt.Sprintf("REFUSED. Do not cut by this sheet. %s: %s.", capital(kind.String()), s.p.In(s.u).Why(kind)),
		s.w-2*carveEdge-2*refusalPad, refusalText)
}

func (s *carveSheet) refusalHeight() float64 {
	return float64(len(s.refusalLines()))*s.lineHeight(refusalText) + 2*refusalPad
}

// refusal sets it across the page.
func (s *carveSheet) refusal(top, foot float64) {
	a, b := s.at(carveEdge, top), s.at(s.w-carveEdge, foot)
	s.pg.Fill(drawing.Rect(a.X, a.Y, b.X, b.Y).Path(), routerColor)
	t := refusalText
	t.Color = s.pg.Paper
	s.lines(carveEdge+refusalPad, top+refusalPad, s.refusalLines(), t)
}

// capital returns a phrase with its first letter large.
func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// allCautions returns the cautions of all steps, each once.
func (s *carveSheet) allCautions() []string {
	var out []string
	for _, step := range s.p.In(s.u).Steps() {
		for _, c := range step.Cautions {
			if !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// cautionLines returns the cautions as they stand at the foot of each page: in
// full, or the first clause of each.
func (s *carveSheet) cautionLines(full bool) ([]string, drawing.Text) {
	t := drawing.Text{Color: routerColor}
	all := s.allCautions()
	text := "Cautions. " + strings.Join(all, " ")
	if !full {
		t.Scale = leastText
		var short []string
		for _, c := range all {
			first, _, _ := strings.Cut(strings.TrimSuffix(c, "."), ";")
			first, _, _ = strings.Cut(first, ":")
			short = append(short, first+".")
		}
		text = "Cautions, in full on page 1. " + strings.Join(short, " ")
	}
	return s.wrap(text, s.w-2*carveEdge, t), t
}

// cautionGap is the room over the cautions for the line that sets them off.
const cautionGap = 1.2

func (s *carveSheet) cautionHeight(full bool) float64 {
	lines, t := s.cautionLines(full)
	return cautionGap + float64(len(lines))*s.lineHeight(t)
}

// cautions sets the cautions at the foot of the page.
func (s *carveSheet) cautions(top float64, full bool) {
	lines, t := s.cautionLines(full)
	s.pg.Stroke(s.at(carveEdge, top), s.at(s.w-carveEdge, top), drawing.Line{Width: 0.05, Color: routerColor})
	s.lines(carveEdge, top+cautionGap, lines, t)
}
