package export

// Letters of the note of a tiled sheet, in mm: the height of its capitals, the
// distance of its rows, and the least distance that can still be read.
const (
	noteCapital = 1.9
	noteLine    = 3.3
	noteTight   = 2.9
)

// noteLeft is where the room beside the words on the check bars begins, in mm from
// the left end of the content.
const noteLeft = 192.0

// sheetNote is the note of a tiled sheet as it is set on each of its pages.
type sheetNote struct {
	rows   []string
	line   float64 // distance of the rows, mm
	across bool    // over the check bars, as wide as the page
}

// setNote sets a paragraph for pages with content so wide: beside the check
// bars, with its rows nearer to each other where it takes that, or else over
// them, where it takes room off the content.
func (p *pages) setNote(text string, width float64) sheetNote {
	n := sheetNote{rows: p.wrap(noteCapital, width-noteLeft, text), line: noteLine}
	fits := func() bool { return n.first()+float64(len(n.rows)-1)*n.line+noteDescent <= pageFoot }
	if !fits() {
		n.line = noteTight
	}
	if !fits() {
		n = sheetNote{rows: p.wrap(noteCapital, width, text), line: noteLine, across: true}
	}
	return n
}

// noteDescent is how far letters of a note reach below their base line, in mm.
const noteDescent = 0.3 * noteCapital

// first returns how far the first base line is below the content where the note
// stands beside the bars.
func (n sheetNote) first() float64 {
	if n.line == noteTight {
		return 4
	}
	return 5.5
}

// room returns how much lower than a page's content a sheet's has to be for its
// note, in mm.
func (n sheetNote) room() float64 {
	if !n.across {
		return 0
	}
	return float64(len(n.rows))*n.line + 1
}

// write sets the note on a page whose content has its full height.
func (n sheetNote) write(p *pages) {
	x, y := p.x+noteLeft, p.y+p.h+n.first()
	if n.across {
		x, y = p.x, p.y+p.h-n.room()+1+noteCapital
	}
	for _, row := range n.rows {
		p.text(x, y, noteCapital, 0, row)
		y += n.line
	}
}
