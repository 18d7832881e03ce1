package export

import (
	"strings"

	"neckloft/neck/fretboard"
)

// MarkerTable returns the list to drill and rout a board's markers by: places
// from the nut along the centreline and across it, sizes and depths, and what
// of the board is left under them. It ends with the side dots.
func MarkerTable(b *fretboard.Board) *Table {
	t := &Table{Columns: []Column{
		{Key: "fret", Kind: CountKind}, textColumn("marker"), lengthColumn("x"), lengthColumn("y"),
		lengthColumn("along"), lengthColumn("across"), lengthColumn("depth"), lengthColumn("under"), lengthColumn("below_top"),
	}}
	for _, p := range b.Pockets(sheetChord) {
		t.Add(Number(float64(p.Fret)), Text(p.Shape), Number(p.X), Number(p.Y), Number(p.Along), Number(p.Across), Number(p.Depth), Number(p.Under), Cell{})
	}
	for _, d := range b.SideDots() {
		t.Add(Number(float64(d.Fret)), Text("side dot"), Number(d.X), Number(d.Edge), Number(d.Diameter), Number(d.Diameter), Number(d.Depth), Cell{}, Number(d.Below))
	}
	t.Note = strings.Join(InLines("x, y: the middle, from the nut along the centreline and across, bass -, treble +; of a side dot the edge. "+
		"along, across: sizes, of a dot its diameter. under: board left under the pocket. below top: of a side dot's middle, at the edge.", 88), "\n")
	return t
}
