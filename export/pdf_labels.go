package export

import "neckloft/mesh"

// labelBox returns the rectangle that a label fills on its sheet.
func (p *pages) labelBox(l SheetText) (lo, hi mesh.Vec2) {
	half := mesh.Vec2{X: p.textWidth(l.Height, l.Text) / 2, Y: 0.7 * l.Height}
	return l.At.Sub(half), l.At.Add(half)
}

// shows reports whether a rectangle of the sheet lies whole on a page.
func (t tiling) shows(column, row int, lo, hi mesh.Vec2) bool {
	o := t.origin(column, row)
	return lo.X >= o.X && lo.Y >= o.Y && hi.X <= o.X+t.width && hi.Y <= o.Y+t.height
}

// whole reports whether a rectangle of the sheet lies whole on any page.
func (t tiling) whole(lo, hi mesh.Vec2) bool {
	for row := range t.rows {
		for column := range t.columns {
			if t.shows(column, row, lo, hi) {
				return true
			}
		}
	}
	return false
}

// cutLabels counts the labels of the sheet that are whole on no page.
func (t tiling) cutLabels(p *pages) (count int) {
	for _, l := range t.sheet.Texts {
		if !t.whole(p.labelBox(l)) {
			count++
		}
	}
	return count
}

// settle moves the pages along the sheet, as far as they have room to spare, to
// where the fewest labels are cut by all of them. Those shorter than the overlap
// never are.
func (t *tiling) settle(p *pages) {
	least := t.cutLabels(p)
	if least == 0 || t.columns == 1 {
		return
	}
	const step = 2.0 // mm
	best, middle := *t, t.corner.X
	for off := step; off <= -middle; off += step {
		for _, shift := range []float64{-off, off} {
			moved := *t
			moved.corner.X = middle + shift
			if count := moved.cutLabels(p); count < least {
				best, least = moved, count
			}
		}
	}
	*t = best
}

// labels draws the labels of a page. One that the page would cut is left to
// another that shows it whole.
func (p *pages) labels(t tiling, column, row int, at place) {
	for _, l := range t.sheet.Texts {
		if lo, hi := p.labelBox(l); !t.shows(column, row, lo, hi) && t.whole(lo, hi) {
			continue
		}
		x, y := at(l.At)
		p.text(x, y+l.Height/2, l.Height, 0.5, l.Text)
	}
}
