package export

import (
	"fmt"
	"math"
	"strings"

	"neckloft/neck/fretboard"
)

// usualClamps is the distance of clamps on a caul, in mm: common practice, no
// published source.
const usualClamps = 60.0

// GlueTable returns what to mark and drill to glue a board on: its centreline at
// both ends, the pins, the clamps on the caul. The order of work stands under it.
func GlueTable(b *fretboard.Board) (*Table, error) {
	n := b.Neck()
	s := n.Spec()
	pins, err := b.Pins()
	if err != nil {
		return nil, err
	}
	t := &Table{Columns: []Column{textColumn("mark"), lengthColumn("x"), lengthColumn("y"), lengthColumn("diameter"), lengthColumn("in_board"), lengthColumn("in_wood")}}
	mark := func(name string, x, y float64) { t.Add(Text(name), Number(x), Number(y), Cell{}, Cell{}, Cell{}) }
	mark("centreline, nut", s.BoardStartAt(0), 0)
	mark("centreline, end", s.BoardEndAt(0), 0)
	for i, p := range pins {
		t.Add(Text(fmt.Sprintf("pin %d, after %s", i+1, pinWord(b, p))), Number(p.X), Number(p.Y), Number(s.Pins.Diameter), Number(p.InBoard), Number(p.InWood))
	}
	spacing, over := usualClamps, 0.0
	if p := s.Pins; p != nil {
		over = p.Overhang
		if p.ClampSpacing > 0 {
			spacing = p.ClampSpacing
		}
	}
	end := math.Min(n.End(), s.BoardEnd())
	count := max(2, int(math.Ceil((end-spacing/2)/spacing))+1)
	for i := range count {
		mark(fmt.Sprintf("clamp %d", i+1), spacing/4+(end-spacing/2)*float64(i)/float64(count-1), 0)
	}
	t.Note = strings.Join(InLines(glueWords(b, len(pins), over), 88), "\n")
	return t, nil
}

// pinWord names what lies before a pin.
func pinWord(b *fretboard.Board, p fretboard.Pin) string {
	if len(b.Frets) == 0 && p.After != "nut" {
		return "the place of " + fretWord(p.After)
	}
	return fretWord(p.After)
}

// fretWord names a fret of a label.
func fretWord(label string) string {
	switch label {
	case "nut", "zero fret":
		return "the " + label
	}
	return "fret " + label
}

// glueWords tells the order of work, and what is trimmed.
func glueWords(b *fretboard.Board, pins int, over float64) string {
	s := b.Neck().Spec()
	u := s.PrintUnit()
	words := "x, y: from the nut along the centreline and across, bass -, treble +. Order of work: true both faces; mark the centreline on wood and board at both ends; "
	if pins > 0 {
		words += "drill the pins' holes in the board from below and in the wood, no deeper than the table says; try it dry on its pins; "
	} else {
		words += "try it dry, centreline on centreline; "
	}
	words += "keep glue out of every channel; press it down through a caul that follows the crown, from the middle outward; "
	if over > 0 {
		words += fmt.Sprintf("when it is dry, trim %s off either side, down to the wood.", u.Format(over))
	} else {
		words += "when it is dry, trim the sides flush with the wood."
	}
	if gap, x := b.WidestLedge(); gap > 0.05 {
		words += fmt.Sprintf(" The board stands over the wood by up to %s on either side, at x = %s.", u.Rounded(gap), u.Rounded(x))
	}
	return words
}
