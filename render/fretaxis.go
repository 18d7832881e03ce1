package render

import (
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
)

// fretOrder returns the frets from the one whose number matters most to the
// least: the nut, the octaves, then those that fretboards mark, which is
// common practice, no published source.
func fretOrder(frets int) []int {
	rank := func(f int) int {
		switch f % 12 {
		case 0:
			return 0
		case 5, 7:
			return 1
		case 3, 9:
			return 2
		case 1:
			return 3
		}
		return 4
	}
	order := make([]int, 0, frets+1)
	for r := range 5 {
		for f := range frets + 1 {
			if rank(f) == r {
				order = append(order, f)
			}
		}
	}
	return order
}

// fretAxisHeight returns the room that a fret axis takes below its line.
func fretAxisHeight(p *drawing.Page) vg.Length {
	return p.Em*0.25 + p.TextHeight(figureText)
}

// drawFretAxis draws a line at y with a tick at every fret, or where one would be
// on a neck without, and, under it, the
// numbers that fit.
func drawFretAxis(p *drawing.Page, n *neck.Neck, f drawing.Frame, y vg.Length) {
	s := n.Spec()
	axis := drawing.Line{Color: quietColor}
	p.Stroke(drawing.Pt(f.X(0), y), drawing.Pt(f.X(n.BoardEnd()), y), axis)
	for i := range s.LastNamed() + 1 {
		x := f.X(s.FretX(float64(i)))
		tick := p.Em * 0.3
		if i%12 == 0 {
			tick = p.Em * 0.5
		}
		p.Stroke(drawing.Pt(x, y), drawing.Pt(x, y+tick), axis)
	}
	t := figureText
	t.AlignX, t.AlignY = 0.5, 1
	gap := p.Em * 0.12
	for _, i := range fretOrder(s.LastNamed()) {
		label := strconv.Itoa(i)
		if i == 0 {
			label = "nut"
		}
		at := drawing.Pt(f.X(s.FretX(float64(i))), y-p.Em*0.2)
		box := p.TextBox(at, label, t)
		box.Min.X -= gap
		box.Max.X += gap
		if p.Free(box) {
			p.DrawText(at, label, t)
		}
	}
}
