package render

import (
	"image"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/render/drawing"
)

// readingGrid is the body of a page of readings: its sections in columns.
type readingGrid struct{ s *readingSheet }

func (g *readingGrid) shots() []shot { return nil }

func (g *readingGrid) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	s := g.s
	s.edge, s.gap = left, whole(p.Em*1.4)
	s.columns = readingColumns(len(s.cells), p.Width)
	s.cell = (right - left - s.gap*vg.Length(s.columns-1)) / vg.Length(s.columns)
	s.measure()
	label := 3.4 * p.Em
	s.scale = (s.cell - 2*label) / vg.Length(2*s.widest())
	s.captionHeight = p.TextHeight(labelText) * leading
	s.head = p.TextHeight(titleText)*1.3 + p.Em*0.6
	room := p.Em * 1.4 // below the lowest bar, for its figure
	if s.labelled() {
		room = p.Em * 3.4
	}
	s.high = whole(s.head + s.scale*vg.Length(s.up+s.deep) + p.Em*0.6 + room + s.captionHeight*vg.Length(s.most) + p.Em*0.4)
	rows := (len(s.cells) + s.columns - 1) / s.columns
	return (s.high + s.gap) * vg.Length(rows)
}

func (g *readingGrid) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	s := g.s
	for i := range s.cells {
		col, row := i%s.columns, i/s.columns
		s.drawCell(p, &s.cells[i], s.edge+(s.cell+s.gap)*vg.Length(col), y-(s.high+s.gap)*vg.Length(row))
	}
}

// readingColumns is the number of columns for so many sections.
func readingColumns(cells int, width vg.Length) int {
	columns := 3
	switch {
	case cells <= 1:
		columns = 1
	case cells <= 8:
		columns = 2
	}
	if width < 900 {
		columns = min(columns, 2)
	}
	return columns
}

// measure finds what the sections and marks need, in mm, and how much longer
// than they are bars are drawn.
func (s *readingSheet) measure() {
	far := 0.0
	s.half, s.up, s.deep = 1, 0, 0
	for _, c := range s.cells {
		sec := c.n.Section(c.x)
		s.half = math.Max(s.half, sec.HalfWidth)
		if c.x >= 0 && c.x <= c.n.BoardEnd() {
			s.half = math.Max(s.half, c.n.BoardHalfWidth(c.x))
		}
		s.up = math.Max(s.up, c.n.Total(c.x)-sec.Depth)
		s.deep = math.Max(s.deep, sec.Depth)
		s.most = max(s.most, len(c.captions))
		for _, m := range c.marks {
			if !m.crossed {
				far = math.Max(far, math.Abs(m.off))
			}
			s.half = math.Max(s.half, math.Min(math.Abs(m.at.Y), 1.5*sec.HalfWidth))
			s.deep = math.Max(s.deep, math.Min(-m.at.Z, 1.5*sec.Depth))
		}
	}
	// The longest bar is to be about as long as a quarter of the half width.
	s.magnify = 1
	if far > 0 {
		s.magnify = math.Min(50, math.Max(1, drawing.Round(0.28*s.half/far)))
	}
}

// widest returns the greatest half width with the bars, and makes room for the
// bars below.
func (s *readingSheet) widest() float64 {
	wide := s.half
	for _, c := range s.cells {
		for _, m := range c.marks {
			tip := s.tip(m)
			wide, s.deep = math.Max(wide, math.Abs(tip.Y)), math.Max(s.deep, -tip.Z)
		}
	}
	return wide
}

// labelled reports whether any mark has a figure.
func (s *readingSheet) labelled() bool {
	for _, c := range s.cells {
		for _, m := range c.marks {
			if m.label != "" {
				return true
			}
		}
	}
	return false
}
