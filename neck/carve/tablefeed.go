package carve

import (
	"fmt"
	"neckloft/neck"
)

// TableFeed is which way the neck is pushed with one of its sides on the bit.
type TableFeed struct {
	Side  neck.Side
	Leads NeckEnd // the end of the neck that goes first, at whose stop the pass begins

	// Towards is the sign of the way that the neck moves in x, nut to body.
	Towards float64
}

// feed returns which way to push the neck. The bit turns counterclockwise seen
// from above the table, with the neck's glue face up and its nut to the left.
// Its edge meets the side of lower y, which is on the bit's far side then, moving
// towards the nut, and the neck is pushed against that: body end first. Fed with
// the other side on the bit everything is turned round.
//
// Feeding against the cutter's rotation is in any router's manual.
func feed(side neck.Side) TableFeed {
	if side == neck.MinusY {
		return TableFeed{Side: side, Leads: BodyEnd, Towards: 1}
	}
	return TableFeed{Side: side, Leads: NutEnd, Towards: -1}
}

// FeedWords says which way to push the neck, and as seen from where.
func FeedWords(n *neck.Neck, t TableFeed) string {
	return fmt.Sprintf("%s side on the bit: push the neck %s first (seen from above the table, the back of the neck down, the bit turns counterclockwise; with the neck between you and the bit that is from right to left)",
		n.SideName(t.Side), t.Leads)
}
