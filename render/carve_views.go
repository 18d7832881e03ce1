package render

import (
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/render/drawing"
)

// Colours and lines of the plan: what the router does, what the pencil does,
// and what is only there to measure from.
var (
	routerColor = featureColor
	pencilColor = measureColor

	routerLine = drawing.Line{Width: 0.14, Color: routerColor}
	ridgeLine  = drawing.Line{Width: 0.07, Color: routerColor, Dash: drawing.HiddenDash}
	pencilLine = drawing.Line{Width: 0.11, Color: pencilColor}
	laterLine  = drawing.Line{Width: 0.07, Color: pencilColor, Dash: []float64{0.25, 0.22}}
	edgeLine   = drawing.Line{Width: 0.11, Color: inkColor}
	thinLine   = drawing.Line{Width: 0.05, Color: quietColor}
	axisLine   = drawing.Line{Width: 0.05, Color: quietColor, Dash: drawing.ChainDash}

	stripeColor = color.NRGBA{241, 240, 236, 255}
)

// lengthScales are the scales that a builder can measure on a drawing with a
// rule, from large to small.
var lengthScales = []float64{5, 4, 2, 1, 1 / 1.5, 1 / 2.0, 1 / 2.5, 1 / 3.0, 1 / 4.0, 1 / 5.0, 1 / 7.5, 1 / 10.0, 1 / 15.0, 1 / 20.0, 1 / 30.0, 1 / 50.0, 1 / 100.0}

// fitScale returns the largest scale at which size mm fit into room mm.
func fitScale(size, room float64) float64 {
	for _, k := range lengthScales {
		if size*k <= room {
			return k
		}
	}
	return lengthScales[len(lengthScales)-1]
}

// scaleName names a scale: "1:2.5", "2:1".
func scaleName(k float64) string {
	f := func(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
	if k >= 1 {
		return f(k) + ":1"
	}
	return "1:" + f(1/k)
}

// drawings lays out the page of drawings to scale: the back with the marks, the
// side with the taper, sections, and bars to check the printer by.
func (s *carveSheet) drawings(top, foot float64) {
	n := s.p.Neck
	x0, x1 := math.Min(n.Start(), 0), math.Max(n.End(), n.BoardEnd())
	views := func(s *carveSheet, scale float64) float64 {
		left := (s.w - (x1-x0)*scale) / 2
		originX := left - x0*scale
		y := s.backView(top, originX, scale)
		return s.sideView(y+2, originX, scale) + 2
	}
	// The largest scale that fits across and leaves room for the sections.
	const sections = 44
	scale := lengthScales[len(lengthScales)-1]
	for _, k := range lengthScales {
		if (x1-x0)*k <= s.w-2*carveEdge-4 && views(s.blank(), k) <= foot-sections {
			scale = k
			break
		}
	}
	s.checkBars(s.sectionViews(views(s, scale), foot), foot)
}

// blank returns a sheet like s that draws nothing, to measure with.
func (s *carveSheet) blank() *carveSheet {
	b := *s
	b.pg = drawing.NewBlank(s.pg.Width, s.pg.Height, s.pg.Em)
	b.pg.Ink, b.pg.Paper = s.pg.Ink, s.pg.Paper
	return &b
}

// frame maps the model with its origin at (x, y) mm on the page; v runs down.
func (s *carveSheet) frame(x, y, scale float64) drawing.Frame {
	return drawing.Frame{Origin: s.at(x, y), Scale: vg.Length(scale * s.k), FlipV: true}
}

// heading sets a title and what the view shows, in as many lines as that needs.
func (s *carveSheet) heading(y float64, title, rest string) float64 {
	return s.headingIn(y, s.w-2*carveEdge, title, rest)
}

func (s *carveSheet) headingIn(y, width float64, title, rest string) float64 {
	t := drawing.Text{Weight: drawing.Medium, Scale: 1.1}
	quiet := drawing.Text{Scale: viewText, Color: quietColor}
	indent := s.textWidth(title, t) + 2
	s.text(carveEdge, y, title, t)
	lines := s.wrap(rest, width-indent, quiet)
	end := s.lines(carveEdge+indent, y+s.lineHeight(t)-s.lineHeight(quiet)-0.2, lines, quiet)
	return math.Max(y+s.lineHeight(t), end) + 0.6
}
