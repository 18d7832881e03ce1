package export

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/gauge"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Sizes of a slotting sheet, in mm.
const (
	sheetChord = 0.005 // of a curved end
	slotTick   = 3.0   // that a slot's line goes on over the board's edge
	labelRow   = 4.2   // between rows of labels
)

// BoardSheet returns the board at full size as seen from above: its outline, a
// line through the middle of every slot, with its place from the nut, and what
// else is cut into it.
func BoardSheet(b *fretboard.Board) Sheet {
	n := b.Neck()
	s := n.Spec()
	t := gauge.Sheet{Name: "board", Outline: b.Outline(sheetChord)}
	t.Note = "Seen from above, " + n.SideName(neck.PlusY) + " side up. Full: outline, middles of the slots, nut, markers, pins (drilled from below). Dashed: centreline, binding, strings, side dots. " +
		"On the treble side the frets' numbers, on the bass side their places from the nut on the centreline, in " + unitWord(s.PrintUnit()) + "."
	from, to := n.BoardExtent()
	line := func(name string, dashed bool, points ...mesh.Vec2) {
		t.Marks = append(t.Marks, gauge.Mark{Name: name, Points: points, Dashed: dashed})
	}
	line("centreline", true, mesh.Vec2{X: from - 2*slotTick}, mesh.Vec2{X: to + 2*slotTick})
	for i := range b.Frets {
		f := &b.Frets[i]
		over := slotTick
		if f.Partial || s.Slots != nil && s.Slots.Short > 0 {
			over = 0
		}
		y0, y1 := f.From-over, f.To+over
		line("fret "+f.Label, false, mesh.Vec2{X: f.At(y0), Y: y0}, mesh.Vec2{X: f.At(y1), Y: y1})
	}
	boardEnds(b, line)
	if s.Spacing != nil {
		for _, side := range []float64{-1, 1} {
			nut, end := s.Spacing.OuterSpread(0), to
			over := func(x float64) float64 { return side * s.Spacing.OuterSpread(x/s.StringLength()) }
			for range 20 { // to the board's end under it
				end = s.BoardEndAt(over(end))
			}
			line("string", true, mesh.Vec2{X: s.FretSlope(0) * side * nut, Y: side * nut}, mesh.Vec2{X: end, Y: over(end)})
		}
	}
	markerMarks(b, line)
	pinMarks(b, line)
	labelFrets(b, &t)
	if s.Hand == spec.LeftHand {
		reflect(&t)
	}
	return fullSizeSheet(t, s.Name)
}

// reflect turns a sheet that was drawn from the bass side up into that of a
// left-handed neck.
func reflect(t *gauge.Sheet) {
	for i := range t.Outline {
		t.Outline[i].Y = -t.Outline[i].Y
	}
	slices.Reverse(t.Outline) // counter-clockwise again
	for _, m := range t.Marks {
		for i := range m.Points {
			m.Points[i].Y = -m.Points[i].Y
		}
	}
	for i := range t.Labels {
		t.Labels[i].At.Y = -t.Labels[i].At.Y
	}
}

// boardEnds draws the nut and the binding.
func boardEnds(b *fretboard.Board, line func(name string, dashed bool, points ...mesh.Vec2)) {
	n := b.Neck()
	s := n.Spec()
	k := s.FretSlope(0)
	across := func(name string, x float64) {
		half := n.BoardHalfWidth(x)
		line(name, false, mesh.Vec2{X: x - k*half, Y: -half}, mesh.Vec2{X: x + k*half, Y: half})
	}
	across("nut", s.NutFront()*math.Hypot(1, k))
	if nut := s.Nut; nut != nil && nut.Slot > 0 && nut.Before > 0 {
		across("nut's back", (s.NutFront()-nut.Thickness)*math.Hypot(1, k))
	}
	if s.Binding == nil {
		return
	}
	wood, end := b.WoodWidths()
	at := func(x float64) float64 { return (wood + (end-wood)*x/s.BoardEnd()) / 2 }
	sb, st, eb, et := s.BoardCorners()
	if b.EndAdds() == 0 {
		line("binding", true, mesh.Vec2{X: sb, Y: -at(sb)}, mesh.Vec2{X: eb, Y: -at(eb)})
		line("binding", true, mesh.Vec2{X: st, Y: at(st)}, mesh.Vec2{X: et, Y: at(et)})
		return
	}
	// Around, along the inner edge of the strip across the end.
	around := []mesh.Vec2{{X: sb, Y: -at(sb)}}
	const steps = 120
	for i := range steps + 1 {
		y := numeric.Lerp(-at(eb), at(et), float64(i)/steps)
		around = append(around, mesh.Vec2{X: b.InnerEnd(y), Y: y})
	}
	line("binding", true, gauge.Simplify(append(around, mesh.Vec2{X: st, Y: at(st)}))...)
}

// markerMarks draws the pockets of the markers, with crosses to drill by, and
// where side dots lie along the edge.
func markerMarks(b *fretboard.Board, line func(name string, dashed bool, points ...mesh.Vec2)) {
	const arm = 2.0
	for _, p := range b.Pockets(sheetChord) {
		line("marker", false, append(p.Outline[:len(p.Outline):len(p.Outline)], p.Outline[0])...)
		reach := math.Min(arm, p.Along/2)
		line("marker", false, mesh.Vec2{X: p.X - reach, Y: p.Y}, mesh.Vec2{X: p.X + reach, Y: p.Y})
		line("marker", false, mesh.Vec2{X: p.X, Y: p.Y - reach}, mesh.Vec2{X: p.X, Y: p.Y + reach})
	}
	for _, d := range b.SideDots() {
		line("side dot", false, mesh.Vec2{X: d.X, Y: d.Edge}, mesh.Vec2{X: d.X, Y: d.Edge + d.Side*slotTick})
		line("side dot", true, mesh.Vec2{X: d.X - d.Diameter/2, Y: d.Edge}, mesh.Vec2{X: d.X - d.Diameter/2, Y: d.Edge - d.Side*d.Depth},
			mesh.Vec2{X: d.X + d.Diameter/2, Y: d.Edge - d.Side*d.Depth}, mesh.Vec2{X: d.X + d.Diameter/2, Y: d.Edge})
	}
}

// pinMarks draws circles and crosses where the pins are drilled from below.
func pinMarks(b *fretboard.Board, line func(name string, dashed bool, points ...mesh.Vec2)) {
	pins, err := b.Pins()
	if err != nil || len(pins) == 0 {
		return // the table of glueing on says why
	}
	half := b.Neck().Spec().Pins.Diameter / 2
	r := half + 1.2
	for _, p := range pins {
		line("pin", false, mesh.Vec2{X: p.X - r, Y: p.Y - r}, mesh.Vec2{X: p.X + r, Y: p.Y + r})
		line("pin", false, mesh.Vec2{X: p.X - r, Y: p.Y + r}, mesh.Vec2{X: p.X + r, Y: p.Y - r})
		const steps = 48
		var around []mesh.Vec2
		for i := range steps + 1 {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / steps)
			around = append(around, mesh.Vec2{X: p.X + half*cos, Y: p.Y + half*sin})
		}
		line("pin", false, around...)
	}
}

// labelFrets writes the frets' numbers over the board and their places under it,
// each in the first row that has room for it.
func labelFrets(b *fretboard.Board, t *gauge.Sheet) {
	n := b.Neck()
	s := n.Spec()
	u := s.PrintUnit()
	widest := math.Max(n.BoardHalfWidth(0), n.BoardHalfWidth(n.BoardEnd())) + slotTick
	ends := map[bool][]float64{} // of the last label in each row of either side
	write := func(treble bool, x float64, text string) {
		half := letterWidth*fullSizeText*float64(len(text))/2 + 0.7
		row := 0
		for ; row < len(ends[treble]) && ends[treble][row] > x-half; row++ {
		}
		if row == len(ends[treble]) {
			ends[treble] = append(ends[treble], 0)
		}
		ends[treble][row] = x + half
		y := widest + labelRow*(float64(row)+0.8)
		if !treble {
			y = -y
		}
		t.Labels = append(t.Labels, gauge.Label{At: mesh.Vec2{X: x, Y: y}, Text: text})
	}
	for i := range b.Frets {
		f := &b.Frets[i]
		write(true, f.At(f.EdgeTreble), f.Label)
		write(false, f.At(f.EdgeBass), placeText(u, f.X))
	}
	k := s.FretSlope(0)
	write(true, s.NutFront()*math.Hypot(1, k)+k*n.BoardHalfWidth(0), "nut")
}

// unitWord names a unit in a sentence.
func unitWord(u spec.Unit) string {
	if u == spec.Inch {
		return "inches"
	}
	return "mm"
}

// placeText prints a place without its unit.
func placeText(u spec.Unit, x float64) string {
	decimals := 2
	if u == spec.Inch {
		decimals = 3
	}
	return strconv.FormatFloat(numeric.Steady(u.Of(x)), 'f', decimals, 64)
}

// SlotTemplate says how a slotting template is made.
type SlotTemplate struct {
	Pin       float64 // diameter of the pin in the mitre box, in mm
	Width     float64 // of the strip
	Depth     float64 // of the notches
	Thickness float64
	Longest   float64 // of a piece; 0 for one piece
}

// DefaultSlotTemplate returns a strip for a pin of 2 mm: common practice, no
// published source.
func DefaultSlotTemplate() SlotTemplate {
	return SlotTemplate{Pin: 2, Width: 30, Depth: 5, Thickness: 3}
}

// stripLabel returns a piece's name in stencil letters in the middle of its
// strip, from x = start to stop and height tall, or nothing where it has no room.
func stripLabel(name string, start, stop, height float64) [][]mesh.Vec2 {
	const letters = 6.0
	openings, length := Stencil(name, letters)
	if length > stop-start-6 || letters > height-6 {
		return nil
	}
	move := mesh.Vec2{X: (start + stop - length) / 2, Y: (height - letters) / 2}
	for i := range openings {
		openings[i] = mesh.Region{Outer: openings[i]}.Translate(move).Outer
	}
	return openings
}

// notch is a notch of a slotting template and what it is for.
type notch struct {
	x    float64
	name string
}

// piece returns a strip from x = start to stop with notches along one edge.
func (o SlotTemplate) piece(notches []notch, start, stop float64) Piece {
	p := Piece{Name: notches[0].name + " to " + notches[len(notches)-1].name, Thick: o.Thickness}
	loop := []mesh.Vec2{{X: start, Y: 0}, {X: stop, Y: 0}, {X: stop, Y: o.Width}}
	for i := len(notches) - 1; i >= 0; i-- {
		x, r := notches[i].x, o.Pin/2
		loop = append(loop, mesh.Vec2{X: x + r, Y: o.Width})
		// A round floor, as the pin is.
		const steps = 16
		for j := range steps + 1 {
			sin, cos := math.Sincos(math.Pi * float64(j) / steps)
			loop = append(loop, mesh.Vec2{X: x + r*cos, Y: o.Width - o.Depth + r - r*sin})
		}
		loop = append(loop, mesh.Vec2{X: x - r, Y: o.Width})
		p.Marks = append(p.Marks, []mesh.Vec2{{X: x, Y: o.Width - o.Depth - 5}, {X: x, Y: o.Width - o.Depth - 1}})
	}
	p.Region.Outer = append(loop, mesh.Vec2{X: start, Y: o.Width})
	p.Region.Holes = stripLabel(p.Name, start, stop, o.Width-o.Depth)
	return p
}

// SlotTemplatePieces returns a strip that is stuck to the board's blank, with a
// notch at the nut and at each fret for a pin in the fence of a mitre box: the pin
// in a notch, the saw stands over that fret. It is an error where frets lean,
// since a box holds the saw square, and where notches run into each other.
func SlotTemplatePieces(b *fretboard.Board, o SlotTemplate) ([]Piece, error) {
	s := b.Neck().Spec()
	u := s.PrintUnit()
	if s.Multiscale() {
		return nil, fmt.Errorf("a notched template is for a mitre box, which saws square, and the frets of %s lean; allowed: one scale, or mark the slots by the sheet", s.Name)
	}
	if len(b.Frets) == 0 {
		return nil, fmt.Errorf("%s has no frets to cut slots for; allowed: a board with frets", s.Name)
	}
	notches := []notch{{0, "nut"}}
	for i := range b.Frets {
		if f := &b.Frets[i]; f.X > 0 {
			notches = append(notches, notch{f.X, f.Label})
		}
	}
	for i := range notches[1:] {
		if gap := notches[i+1].x - notches[i].x - o.Pin; gap < 1 {
			return nil, fmt.Errorf("notches for a pin of %s leave %s between frets %s and %s; allowed: 1 mm or more, by a thinner pin", u.Format(o.Pin), u.Rounded(gap), notches[i].name, notches[i+1].name)
		}
	}
	const end = 8.0
	last := len(notches) - 1
	longest := o.Longest
	if longest == 0 {
		longest = notches[last].x + 2*end
	}
	// A piece ends halfway to the next notch.
	stopAfter := func(k int) float64 {
		if k == last {
			return notches[last].x + end
		}
		return (notches[k].x + notches[k+1].x) / 2
	}
	var pieces []Piece
	for first, start := 0, -end; first <= last; {
		k := first
		for k < last && stopAfter(k+1) <= start+longest {
			k++
		}
		stop := stopAfter(k)
		if stop > start+longest {
			return nil, fmt.Errorf("a piece of %s cannot hold fret %s with half of the way to its neighbours; allowed: %s or more", u.Rounded(longest), notches[k].name, u.Format(math.Ceil(stop-start)))
		}
		p := o.piece(notches[first:k+1], start, stop)
		p.unit = u
		pieces = append(pieces, p)
		first, start = k+1, stop
	}
	return pieces, nil
}
