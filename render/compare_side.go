package render

import (
	"fmt"
	"image"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/render/drawing"
)

// sides is the side elevation of several necks over each other: the line of
// the back and the top of the board, depths drawn larger than lengths.
type sides struct {
	c           *compare.Comparison
	o           CompareOptions
	left, right vg.Length
	x0, x1      float64 // extent along the neck, mm
	top, foot   float64
	across      vg.Length // scale along the neck
	larger      float64   // scale of depths over that
	title       vg.Length
	rows        int // rows of fret marks
}

func newSides(c *compare.Comparison, o CompareOptions) *sides { return &sides{c: c, o: o} }

// fretted returns the necks whose frets are to be marked: the one with the
// most if all have their frets at the same places, or else every neck.
func fretted(c *compare.Comparison) []*neck.Neck {
	most := c.Necks[0]
	for _, n := range c.Necks[1:] {
		if n.Spec().Scale.Length != most.Spec().Scale.Length {
			return c.Necks
		}
		if n.Spec().Scale.Frets > most.Spec().Scale.Frets {
			most = n
		}
	}
	return []*neck.Neck{most}
}

// fretLines draws a faint line at every fret where all necks have the same.
func fretLines(p *drawing.Page, c *compare.Comparison, px func(float64) vg.Length, foot, top vg.Length) {
	necks := fretted(c)
	if len(necks) > 1 {
		return
	}
	s := necks[0].Spec()
	for i := range s.Scale.Frets + 1 {
		x := px(s.FretX(float64(i)))
		p.Stroke(drawing.Pt(x, foot), drawing.Pt(x, top), drawing.Line{Width: 0.04, Color: gridColor})
	}
}

// courseExtent is the stretch along the neck that side views and courses show,
// without headstocks: from before the nut to the end of the longest.
func courseExtent(c *compare.Comparison) (x0, x1 float64) {
	for _, n := range c.Necks {
		a, b := xExtent(n, true)
		x0, x1 = math.Min(x0, math.Max(a, -45)), math.Max(x1, b)
	}
	return x0, x1
}

func (s *sides) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	s.left, s.right = left+axisRoom(p), right
	s.x0, s.x1 = courseExtent(s.c)
	s.top, s.foot = 0, 0
	for _, n := range s.c.Necks {
		s.top = math.Max(s.top, n.Spec().Board.Thickness)
		_, deep := span(math.Max(s.x0, n.Start()), n.End(), n.Depth)
		s.foot = math.Min(s.foot, -deep)
	}
	s.across = (s.right - s.left) / vg.Length(s.x1-s.x0)
	// The largest round enlargement that keeps the panel low.
	s.larger = 1
	for _, k := range []float64{2, 3, 4, 5, 6} {
		if s.across*vg.Length(k*(s.top-s.foot)) <= (right-left)*0.24 {
			s.larger = k
		}
	}
	s.title = p.TextHeight(titleText) * 1.6
	s.rows = len(fretted(s.c))
	return s.title + s.across*vg.Length(s.larger*(s.top-s.foot)) + p.Em*0.6 + s.rowHeight(p)*vg.Length(s.rows)
}

// axisRoom is the room for the figures at the left of a course.
func axisRoom(p *drawing.Page) vg.Length { return p.TextWidth("0000", figureText) + p.Em*0.8 }

func (s *sides) rowHeight(p *drawing.Page) vg.Length {
	return fretAxisHeight(p) + p.Em*0.75
}

func (s *sides) shots() []shot { return nil }

func (s *sides) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	title := "Side view, the glue plane level"
	if s.larger != 1 {
		title += fmt.Sprintf(", depths drawn %g times too large", s.larger)
	}
	p.DrawText(drawing.Pt(s.left-axisRoom(p), y), title, titleText)
	y -= s.title
	k := s.across * vg.Length(s.larger)
	px := func(x float64) vg.Length { return s.left + s.across*vg.Length(x-s.x0) }
	pz := func(z float64) vg.Length { return y - k*vg.Length(s.top-z) }
	foot := pz(s.foot)

	fretLines(p, s.c, px, foot, y)
	p.Stroke(drawing.Pt(s.left, pz(0)), drawing.Pt(s.right, pz(0)), centreLine)
	t := figureText
	t.AlignX, t.AlignY, t.Color = 1, 0.5, quietColor
	step := drawing.Round((s.top - s.foot) / 4)
	for z := math.Ceil(s.foot/step) * step; z <= s.top; z += step {
		at := drawing.Pt(s.left-p.Em*0.4, pz(z))
		p.Stroke(drawing.Pt(s.left-p.Em*0.2, at.Y), drawing.Pt(s.left, at.Y), drawing.Line{Color: quietColor})
		p.TryText(strconv.FormatFloat(z, 'g', 6, 64), t, at)
	}
	for i := len(s.c.Necks) - 1; i >= 0; i-- {
		n := s.c.Necks[i]
		line := styleOf(i).line()
		a := math.Max(s.x0, n.Start())
		var back []vg.Point
		for _, x := range samples1(a, n.End(), 600) {
			back = append(back, drawing.Pt(px(x), pz(-n.Depth(x))))
		}
		back = append(back, drawing.Pt(px(n.End()), pz(0)))
		p.Polyline(back, line)
		line.Width *= 0.7
		b := n.Spec().Board.Thickness
		p.Polyline([]vg.Point{
			drawing.Pt(px(0), pz(0)), drawing.Pt(px(0), pz(b)),
			drawing.Pt(px(n.BoardEnd()), pz(b)), drawing.Pt(px(n.BoardEnd()), pz(0)),
		}, line)
	}
	level := foot - p.Em*1.0
	for i, n := range fretted(s.c) {
		name := figureText
		name.AlignX, name.AlignY = 1, 0.5
		if s.rows > 1 {
			p.DrawText(drawing.Pt(s.left-p.Em*0.4, level), compare.LetterOf(i), name)
		}
		drawFretAxis(p, n, drawing.Frame{Scale: s.across, Origin: drawing.Pt(px(0), 0)}, level)
		level -= s.rowHeight(p)
	}
}

// samples1 returns k+1 evenly spaced values from a to b.
func samples1(a, b float64, k int) []float64 {
	out := make([]float64, k+1)
	for i := range out {
		out[i] = a + (b-a)*float64(i)/float64(k)
	}
	return out
}
