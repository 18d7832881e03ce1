package render

import "neckloft/neck"

// CutLines are the lines of a section, for drawings made elsewhere.
type CutLines struct {
	Wood  []neck.YZ // closed, the rod channel cut
	Board []neck.YZ // closed; nil off the board

	// Cover is the shortest line, in the section's plane, from the channel to
	// the back; nil where there is no channel.
	Cover []neck.YZ
}

// Cut returns the lines of the section at x.
func Cut(n *neck.Neck, x float64) CutLines {
	c := CutLines{Wood: woodOutline(n, x), Board: boardOutline(n, x)}
	if a, b, ok := nearestCover(n, x); ok {
		c.Cover = []neck.YZ{a, b}
	}
	return c
}
