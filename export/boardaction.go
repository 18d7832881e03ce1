package export

import (
	"fmt"
	"strconv"
	"strings"

	"neckloft/neck/fretboard"
)

// ActionTable returns the clearance of each string at rest over each fret, and
// the distance of the outer strings from the board's edges.
func ActionTable(b *fretboard.Board) (*Table, error) {
	lines, err := b.Strings()
	if err != nil {
		return nil, err
	}
	t := &Table{Columns: []Column{textColumn("fret"), lengthColumn("x")}}
	for i := range lines {
		t.Columns = append(t.Columns, lengthColumn("string_"+strconv.Itoa(i+1)))
	}
	t.Columns = append(t.Columns, lengthColumn("treble_edge"), lengthColumn("bass_edge"))
	var touch []string // fret by fret
	for i := range b.Frets {
		f := &b.Frets[i]
		row := []Cell{Text(f.Label), Number(f.X)}
		var under []string
		for k := range lines {
			gap := b.Clearance(&lines[k], f)
			row = append(row, Number(gap))
			if gap <= 0 && f.X > 0 { // on a zero fret they lie
				under = append(under, strconv.Itoa(k+1))
			}
		}
		if len(under) > 0 {
			touch = append(touch, strings.Join(under, ", ")+" at "+fretWord(f.Label))
		}
		row = append(row, Number(b.EdgeDistance(&lines[0], f)), Number(b.EdgeDistance(&lines[len(lines)-1], f)))
		t.Add(row...)
	}
	s := b.Neck().Spec()
	u := s.PrintUnit()
	note := fmt.Sprintf("string 1 is on the treble side. Under each string: from the fret's crown, %s over the board, to the string at rest, with %s of relief. "+
		"edges: from the outer strings' middles to the board's edge. What of it a string needs is yours to judge.", u.Format(s.FretHeight()), u.Format(s.Strings.Relief))
	if len(touch) > 0 {
		note += " Strings that touch a fret: " + strings.Join(touch, "; ") + "."
	}
	t.Note = strings.Join(InLines(note, 88), "\n")
	return t, nil
}

// NutSheet returns the nut at full size as seen from above, with a slot as wide
// as each string and a line through its middle, to mark the slots by.
func NutSheet(b *fretboard.Board) (Sheet, error) {
	lines, err := b.Strings()
	if err != nil {
		return Sheet{}, err
	}
	return nutSheet(b, lines), nil
}
