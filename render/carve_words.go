package render

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/render/drawing"
)

// words lays out the second page: the steps with their boxes and cautions on
// the left, the tables on the right.
func (s *carveSheet) words(top float64) {
	const gutter = 6
	left := (s.w - 2*carveEdge) * 0.43
	s.steps(carveEdge, top, left, s.h-carveEdge)
	s.tables(carveEdge+left+gutter, top, s.w-2*carveEdge-left-gutter, s.h-carveEdge)
}

// stepLine is a line of a step, ready to be set.
type stepLine struct {
	text   string
	t      drawing.Text
	indent float64
	box    bool // a box to tick stands before it
	gap    float64
	beside bool // on the line of the one before it
}

// steps sets the steps as large as fits.
func (s *carveSheet) steps(x, top, width, foot float64) {
	var lines []stepLine
	for _, scale := range []float64{1, 0.94, 0.88, 0.82, 0.76, 0.7, 0.64, 0.58} {
		lines = s.stepLines(width, scale)
		tall := 0.0
		for _, l := range lines {
			if !l.beside {
				tall += l.gap + s.lineHeight(l.t)
			}
		}
		if top+tall <= foot {
			break
		}
	}
	y, next := top, top
	for _, l := range lines {
		if !l.beside {
			y = next + l.gap
		}
		if l.box {
			s.tick(x+l.indent-s.lineHeight(l.t), y, s.lineHeight(l.t))
		}
		s.text(x+l.indent, y, l.text, l.t)
		next = y + s.lineHeight(l.t)
	}
}

// tickLines sets short things to tick in columns where they are many.
func (s *carveSheet) tickLines(ticks []string, t drawing.Text, indent, width float64) []stepLine {
	const few = 5
	widest := 0.0
	for _, l := range ticks {
		widest = math.Max(widest, s.textWidth(l, t))
	}
	step := widest + s.lineHeight(t) + 3
	columns := int((width - indent + 3) / step)
	if len(ticks) <= few || columns < 2 {
		return nil
	}
	var out []stepLine
	for i, l := range ticks {
		line := stepLine{text: l, t: t, box: true, gap: 0.25}
		line.indent = indent + step*float64(i%columns)
		line.beside = i%columns > 0
		out = append(out, line)
	}
	return out
}

func (s *carveSheet) stepLines(width, scale float64) []stepLine {
	var out []stepLine
	add := func(text string, t drawing.Text, indent, gap float64, box bool) {
		for i, l := range s.wrap(text, width-indent, t) {
			line := stepLine{text: l, t: t, indent: indent}
			if i == 0 {
				line.gap, line.box = gap, box
			}
			out = append(out, line)
		}
	}
	plain := drawing.Text{Scale: scale}
	warn := drawing.Text{Scale: scale * 0.94, Color: routerColor}
	head := drawing.Text{Weight: drawing.Medium, Scale: scale * 1.15}
	const indent = 4.2
	// Nothing is ticked off a plan that is none to cut by.
	boxes := s.p.BreaksCover() == nil
	for i, step := range s.p.In(s.u).Steps() {
		gap := 1.5 * scale
		if i == 0 {
			gap = 0
		}
		add(strconv.Itoa(i+1)+". "+step.Title, head, indent+0.4, gap, boxes && step.Refused == "")
		if step.Refused != "" {
			add("Refused: "+step.Refused+".", warn, indent, 0.3, false)
			continue
		}
		for _, l := range step.Do {
			add(l, plain, indent, 0.25, false)
		}
		if columns := s.tickLines(step.Ticks, plain, indent+4.2, width); columns != nil && boxes {
			out = append(out, columns...)
		} else {
			for _, l := range step.Ticks {
				add(l, plain, indent+4.2, 0.25, boxes)
			}
		}
		add("Caution. "+strings.Join(step.Cautions, " "), warn, indent, 0.25, false)
		if len(step.Cautions) == 0 {
			out = out[:len(out)-1]
		}
	}
	return out
}

// tick draws a box to tick in a line of the given height.
func (s *carveSheet) tick(x, y, tall float64) {
	side := tall * 0.72
	y += tall * 0.12
	s.pg.Outline([]vg.Point{s.at(x, y), s.at(x+side, y), s.at(x+side, y+side), s.at(x, y+side)}, drawing.Line{Width: 0.08})
}
