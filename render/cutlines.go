package render

import (
	"image/color"

	"neckloft/neck"
)

// CutLines are the lines of a section, for drawings made elsewhere.
type CutLines struct {
	Wood  []neck.YZ // closed, the rod channel cut
	Board []neck.YZ // closed; nil off the board

	// Cover is the shortest line, in the section's plane, from the channel to
	// the back; nil where there is no channel.
	Cover []neck.YZ

	Strips []Strip             // of a laminated neck; nil for one of one piece
	Seams  [][2]neck.YZ        // between them
	Inlays []neck.InlayOutline // bars, strips and fillings in the channels
}

// Strip is a strip of a laminated neck in a section: closed, and the colour that
// its wood is drawn in.
type Strip struct {
	Closed []neck.YZ
	Fill   color.NRGBA
}

// Cut returns the lines of the section at x.
func Cut(n *neck.Neck, x float64) CutLines {
	c := CutLines{Wood: woodOutline(n, x), Board: boardOutline(n, x)}
	if a, b, ok := nearestCover(n, x); ok {
		c.Cover = []neck.YZ{a, b}
	}
	fills := newStrips(n.Spec()).fills
	for i, strip := range n.Strips(x, c.Wood) {
		c.Strips = append(c.Strips, Strip{strip, fills[i]})
	}
	c.Seams = seamLines(n, x)
	for _, k := range n.Channels() {
		c.Inlays = append(c.Inlays, n.InlayOutlines(k, x, backSteps)...)
	}
	return c
}
