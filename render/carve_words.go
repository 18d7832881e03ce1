package render

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/render/drawing"
)

// stepLine is a line of a step, ready to be set.
type stepLine struct {
	text   string
	t      drawing.Text
	indent float64
	box    bool // a box to tick stands before it
	gap    float64
	beside bool // on the line of the one before it
	head   bool // the title of a step, which does not stand alone at a foot
}

// column is the lines that stand under each other.
type column []stepLine

// columnGap is the room between two columns of words.
const columnGap = 8.0

// wordPages sets the steps in full, the verdict on the bit and the notes, in two
// columns and on as many pages as they need. Where one page has room to spare
// the words are larger.
func (s *carveSheet) wordPages(room area) []planBody {
	width := (room.w - columnGap) / 2
	var columns []column
	for _, scale := range []float64{1.2, 1.15, 1.1, 1.05, 1} {
		columns = s.columnsOf(s.wordLines(width, scale), room.h)
		if len(columns) <= 2 {
			columns = s.columnsOf(s.wordLines(width, scale), s.balanced(s.wordLines(width, scale), room.h))
			break
		}
	}
	var out []planBody
	for i := 0; i < len(columns); i += 2 {
		pair := columns[i:min(i+2, len(columns))]
		out = append(out, func(s *carveSheet, top, _ float64) {
			for k, c := range pair {
				s.setColumn(c, room.x+float64(k)*(width+columnGap), top)
			}
		})
	}
	return out
}

// balanced returns the least height at which lines take two columns.
func (s *carveSheet) balanced(lines []stepLine, most float64) float64 {
	for h := most / 2; h < most; h += 2 {
		if len(s.columnsOf(lines, h)) <= 2 {
			return h
		}
	}
	return most
}

// columnsOf breaks lines into columns of the given height.
func (s *carveSheet) columnsOf(lines []stepLine, tall float64) []column {
	var out []column
	var now column
	y := 0.0
	for i, l := range lines {
		if len(now) == 0 {
			l.gap = 0
		}
		need := l.gap + s.lineHeight(l.t)
		if l.beside {
			need = 0
		}
		keep := need
		for k := i + 1; l.head && k < len(lines) && k < i+3; k++ {
			keep += lines[k].gap + s.lineHeight(lines[k].t)
		}
		if len(now) > 0 && y+keep > tall && !l.beside {
			out, now, y = append(out, now), nil, 0
			need -= l.gap
			l.gap = 0
		}
		now, y = append(now, l), y+need
	}
	return append(out, now)
}

// setColumn sets a column with its top at y.
func (s *carveSheet) setColumn(lines column, x, top float64) {
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

// wordLines returns the steps, what is to be said of the bit, and the notes.
func (s *carveSheet) wordLines(width, scale float64) []stepLine {
	var out []stepLine
	add := func(text string, l stepLine) {
		for i, words := range s.wrap(text, width-l.indent, l.t) {
			line := l
			line.text = words
			if i > 0 {
				line.gap, line.box, line.head = 0, false, false
			}
			out = append(out, line)
		}
	}
	plain := drawing.Text{Scale: scale}
	warn := drawing.Text{Scale: scale, Color: routerColor}
	head := drawing.Text{Weight: drawing.Medium, Scale: scale * 1.15}
	const indent, gap = 5.5, 0.5
	title := func(text string, box bool) {
		add(text, stepLine{t: head, indent: indent, gap: 2.2 * scale, box: box, head: true})
	}
	// Nothing is ticked off a plan that is none to cut by.
	boxes := s.p.BreaksCover() == nil
	for i, step := range s.p.In(s.u).Steps() {
		title(strconv.Itoa(i+1)+". "+step.Title, boxes && step.Refused == "")
		if step.Refused != "" {
			add("Refused: "+step.Refused+".", stepLine{t: warn, indent: indent, gap: gap})
			continue
		}
		for _, l := range step.Do {
			add(l, stepLine{t: plain, indent: indent, gap: gap})
		}
		if columns := s.tickLines(step.Ticks, plain, 2*indent, width); columns != nil && boxes {
			out = append(out, columns...)
			continue
		}
		for _, l := range step.Ticks {
			add(l, stepLine{t: plain, indent: 2 * indent, gap: gap, box: boxes})
		}
	}
	if v := s.p.In(s.u).Verdict(); v != "" {
		title("The bit", false)
		add("Bit of "+s.p.Round.Bit.OfRadius(s.u)+": "+v+".", stepLine{t: plain, indent: indent, gap: gap})
	}
	for i, l := range s.p.In(s.u).NoteLines() {
		if i == 0 {
			title("Notes", false)
		}
		add(l, stepLine{t: plain, indent: indent, gap: gap})
	}
	return out
}

// tick draws a box to tick in a line of the given height.
func (s *carveSheet) tick(x, y, tall float64) {
	side := tall * 0.72
	y += (tall - side) / 2
	s.pg.Outline([]vg.Point{s.at(x, y), s.at(x+side, y), s.at(x+side, y+side), s.at(x, y+side)}, drawing.Line{Width: 0.09, Color: inkColor})
}
