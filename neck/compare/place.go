package compare

import "neckloft/neck"

// Along says what two necks have in the same place along them.
type Along string

// Ways to lay two necks beside each other.
const (
	AtNut  Along = "nut"  // the same distance from the nut
	AtFret Along = "fret" // the same fret, fractions of one included
	AtHeel Along = "heel" // the same distance from where the heel begins
)

// SamePlace returns the place along other, in mm from its nut, that stands for x
// along n. By frets a place before the nut is as far from it on both, and one past
// the last fret that both have is as far from that. Where one of the two has no
// heel, AtHeel is AtNut.
func SamePlace(along Along, n, other *neck.Neck, x float64) float64 {
	s, o := n.Spec(), other.Spec()
	switch along {
	case AtFret:
		last := float64(min(s.LastNamed(), o.LastNamed()))
		switch {
		case x <= 0:
			return x
		case x >= s.FretX(last):
			return x - s.FretX(last) + o.FretX(last)
		}
		return o.FretX(s.FretAt(x))
	case AtHeel:
		if s.Heel != nil && o.Heel != nil {
			return x - s.X(s.Heel.Start) + o.X(o.Heel.Start)
		}
	}
	return x
}
