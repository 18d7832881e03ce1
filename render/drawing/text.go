package drawing

import (
	"image/color"

	"gonum.org/v1/plot/vg"
)

// Text says how a piece of text is set.
type Text struct {
	Weight Weight
	Scale  float64     // size in units of the page's Em; 0 is 1
	Color  color.Color // nil is the page's Ink

	// AlignX and AlignY say which point of the text's box stands at the given
	// place: 0 is its left or bottom, 1 its right or top. The box reaches from
	// the foot of a descender to the top of an ascender.
	AlignX, AlignY float64

	// Halo, if not nil, is a colour to clear the ground behind the text with.
	Halo color.Color
}

// size returns the text's size on page p.
func (t Text) size(p *Page) vg.Length {
	if t.Scale == 0 {
		return p.Em
	}
	return p.Em * vg.Length(t.Scale)
}

// TextWidth returns the width of s.
func (p *Page) TextWidth(s string, t Text) vg.Length {
	return t.size(p) * vg.Length(textWidth(t.Weight, s))
}

// TextHeight returns the height of a line of text, from descender to ascender.
func (p *Page) TextHeight(t Text) vg.Length {
	return t.size(p) * (ascender + descender)
}

// TextBox returns the rectangle that s fills when it is set at the given place.
func (p *Page) TextBox(at vg.Point, s string, t Text) vg.Rectangle {
	w, h := p.TextWidth(s, t), p.TextHeight(t)
	lo := Pt(at.X-w*vg.Length(t.AlignX), at.Y-h*vg.Length(t.AlignY))
	return vg.Rectangle{Min: lo, Max: Pt(lo.X+w, lo.Y+h)}
}

// DrawText sets s at the given place, whatever is there, and returns the
// rectangle it fills.
func (p *Page) DrawText(at vg.Point, s string, t Text) vg.Rectangle {
	box := p.TextBox(at, s, t)
	if s == "" {
		return box
	}
	if t.Halo != nil {
		pad := p.Em / 6
		p.Fill(Rect(box.Min.X-pad, box.Min.Y, box.Max.X+pad, box.Max.Y).Path(), t.Halo)
	}
	p.SetColor(p.ink(t.Color))
	size := t.size(p)
	encoded := s
	if p.encode != nil {
		encoded = p.encode(s)
	}
	p.FillString(face(t.Weight, size), Pt(box.Min.X, box.Min.Y+size*descender), encoded)
	p.labels = append(p.labels, Label{Text: s, Box: box})
	return box
}

// TryText sets s at the first of the given places where its rectangle is free,
// and reports whether there was one.
func (p *Page) TryText(s string, t Text, places ...vg.Point) bool {
	for _, at := range places {
		if p.Free(p.TextBox(at, s, t)) {
			p.DrawText(at, s, t)
			return true
		}
	}
	return false
}

// Shorten returns s, or as much of it as fits the width w followed by an
// ellipsis.
func (p *Page) Shorten(s string, w vg.Length, t Text) string {
	if p.TextWidth(s, t) <= w {
		return s
	}
	runes := []rune(s)
	for len(runes) > 0 {
		runes = runes[:len(runes)-1]
		if cut := string(runes) + "…"; p.TextWidth(cut, t) <= w {
			return cut
		}
	}
	return ""
}

// ink returns c, or the page's Ink for nil.
func (p *Page) ink(c color.Color) color.Color {
	if c == nil {
		return p.Ink
	}
	return c
}
