package drawing

import (
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"
)

// Round returns the largest of 1, 2 and 5 times a power of ten that is not
// greater than v, which must be positive.
func Round(v float64) float64 {
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{10, 5, 2} {
		// A hair of slack: 0.1 · 10 must count as 1.
		if k*p <= v*(1+1e-9) {
			return k * p
		}
	}
	return p
}

// ScaleBar is a ruler of a round length. Its blocks alternate so that it can
// be read without a lens.
type ScaleBar struct {
	Length   float64   // of the whole bar, in Unit
	Divided  int       // number of blocks
	Width    vg.Length // of the whole bar on the page
	UnitName string
}

// NewScaleBar returns the longest bar of a round length whose labels and
// blocks fit in the width w, for a drawing in which the unit of the given name
// is scale long.
func NewScaleBar(w, scale vg.Length, unitName string) ScaleBar {
	l := Round(float64(w / scale))
	// A bar of 2 splits into four halves, 1 and 5 into fifths.
	divided := 5
	if lead := l / math.Pow(10, math.Floor(math.Log10(l)+1e-9)); lead > 1.5 && lead < 3 {
		divided = 4
	}
	return ScaleBar{Length: l, Divided: divided, Width: scale * vg.Length(l), UnitName: unitName}
}

// Box returns the ground that the bar and its figures cover when its left end
// stands at the given place.
func (b ScaleBar) Box(p *Page, at vg.Point, t Text) vg.Rectangle {
	zero := p.TextWidth("0", t) / 2
	last := p.TextWidth(b.last(), t)
	figure := p.TextWidth(format(b.Length), t) / 2
	return Rect(at.X-zero, at.Y, at.X+b.Width-figure+last, at.Y+p.Em*0.35+p.Em*0.2+p.TextHeight(t))
}

// last is the figure at the bar's end, with the unit.
func (b ScaleBar) last() string { return format(b.Length) + " " + b.UnitName }

// Draw draws the bar with its left end at the given place and the figures above
// it.
func (b ScaleBar) Draw(p *Page, at vg.Point, t Text) {
	h := p.Em * 0.35
	step := b.Width / vg.Length(b.Divided)
	for i := range b.Divided {
		x := at.X + step*vg.Length(i)
		c := p.Paper
		if i%2 == 0 {
			c = p.Ink
		}
		p.Fill(Rect(x, at.Y, x+step, at.Y+h).Path(), c)
	}
	frame := Rect(at.X, at.Y, at.X+b.Width, at.Y+h)
	p.Outline([]vg.Point{frame.Min, Pt(frame.Max.X, frame.Min.Y), frame.Max, Pt(frame.Min.X, frame.Max.Y)}, Line{})
	y := at.Y + h + p.Em*0.2
	t.AlignX, t.AlignY = 0.5, 0
	p.DrawText(Pt(at.X, y), "0", t)
	t.AlignX = 0
	p.DrawText(Pt(at.X+b.Width-p.TextWidth(format(b.Length), t)/2, y), b.last(), t)
}

// format prints a round number.
func format(v float64) string { return strconv.FormatFloat(v, 'g', 12, 64) }
