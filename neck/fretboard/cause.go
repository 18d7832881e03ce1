package fretboard

import "neckloft/neck"

// Cut reports whether a neck's spec says what is cut into the board, or has frets
// other than in twelve equal steps square to the centreline.
func Cut(n *neck.Neck) bool {
	s := n.Spec()
	return s.Slots != nil || s.Nut != nil || s.Binding != nil || s.Scallop != nil || s.SideDots != nil || s.Pins != nil || len(s.Markers) > 0 || s.FallAway != nil ||
		len(s.Partial) > 0 || s.Temperament != nil || s.Multiscale() || !s.PlainEnd()
}
