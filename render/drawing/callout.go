package drawing

import (
	"fmt"
	"image/color"

	"gonum.org/v1/plot/vg"
)

// Callout is a label of a few lines that speaks of a point of the drawing
// above it.
type Callout struct {
	Tip   vg.Point    // the point it speaks of
	From  vg.Length   // level at which its leader begins, at the tip's x
	Lines []string    // the first names the place and stands out
	Color color.Color // of the leader; nil is Ink
}

// Row is a row of callouts under a drawing, laid out but not yet drawn. What
// does not fit into the first line of labels goes into further ones, without
// leaders.
type Row struct {
	text    Text
	strips  []strip
	leader  vg.Length // room for the leaders' slant
	Height  vg.Length // of all that the row covers
	Dropped int       // callouts for which there was no room
	left    vg.Length
}

// strip is one line of labels.
type strip struct {
	items   []Callout
	centres []vg.Length
	height  vg.Length
	leaders bool
}

// maxStrips bounds the height of a row.
const maxStrips = 4

// LayRow lays callouts, in ascending order of their tips' x, between left and
// right.
func (p *Page) LayRow(items []Callout, left, right vg.Length, t Text) Row {
	r := Row{text: t, leader: p.Em * 1.1, left: left}
	lineHeight := p.TextHeight(t) * lineSpacing
	gap := p.Em * 0.9
	for rest := items; len(rest) > 0; {
		if len(r.strips) == maxStrips {
			r.Dropped = len(rest)
			break
		}
		// Take turns if one line is too short, so that each line spans the
		// drawing.
		fit, left2 := rest, []Callout(nil)
		var s strip
		for every := 1; ; every++ {
			fit, left2 = nil, nil
			for i, c := range rest {
				if i%every == 0 {
					fit = append(fit, c)
				} else {
					left2 = append(left2, c)
				}
			}
			var want, widths []vg.Length
			lines := 0
			for _, c := range fit {
				want = append(want, c.Tip.X)
				widths = append(widths, p.calloutWidth(c, t))
				lines = max(lines, len(c.Lines))
			}
			centres, ok := Spread(want, widths, gap, left, right)
			if ok {
				s = strip{items: fit, centres: centres, height: lineHeight * vg.Length(lines), leaders: len(r.strips) == 0}
				break
			}
			if len(fit) == 1 {
				break
			}
		}
		if s.items == nil {
			r.Dropped = len(rest)
			break
		}
		r.strips = append(r.strips, s)
		r.Height += s.height + p.Em*0.5
		rest = left2
	}
	if len(items) > 0 {
		r.Height += r.leader
	}
	if r.Dropped > 0 {
		r.Height += lineHeight
	}
	return r
}

func (p *Page) calloutWidth(c Callout, t Text) vg.Length {
	w := vg.Length(0)
	for i, s := range c.Lines {
		w = max(w, p.TextWidth(s, calloutText(t, i)))
	}
	return w
}

// calloutText returns how line i of a callout is set.
func calloutText(t Text, i int) Text {
	if i == 0 {
		t.Weight = Medium
	}
	t.AlignX, t.AlignY = 0.5, 1
	return t
}

// Lead sets the level at which the leaders begin.
func (r *Row) Lead(from vg.Length) {
	for _, s := range r.strips {
		for i := range s.items {
			s.items[i].From = from
		}
	}
}

// DrawRow draws a row with its top at y.
func (p *Page) DrawRow(r Row, y vg.Length) {
	top := y - r.leader
	for _, s := range r.strips {
		for i, c := range s.items {
			x := s.centres[i]
			if s.leaders {
				l := Line{Color: c.Color}
				p.Polyline([]vg.Point{Pt(c.Tip.X, c.From), Pt(c.Tip.X, y), Pt(x, top+p.Em*0.25)}, l)
			}
			at := Pt(x, top)
			for k, text := range c.Lines {
				t := calloutText(r.text, k)
				p.DrawText(at, text, t)
				at.Y -= p.TextHeight(r.text) * lineSpacing
			}
		}
		top -= s.height + p.Em*0.5
	}
	if r.Dropped > 0 {
		t := r.text
		t.AlignX, t.AlignY = 0, 1
		p.DrawText(Pt(r.left, top), fmt.Sprintf("%d more without room for a label", r.Dropped), t)
	}
}
