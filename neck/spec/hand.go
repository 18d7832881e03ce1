package spec

// Hand says which way round a neck is strung. A spec names sides by their
// strings, bass and treble, whatever the hand.
type Hand int

const (
	RightHand Hand = iota // the bass side at negative y
	LeftHand              // the bass side at positive y: the same neck in a mirror
)

// String returns the word that a spec file has for the hand.
func (h Hand) String() string {
	if h == LeftHand {
		return "left"
	}
	return "right"
}

// Sign returns the sign of y on the treble side: 1, or -1 for a left-handed
// neck. A distance that a spec counts from the bass side (-) to the treble side
// (+) is y by this factor, and the other way round.
func (h Hand) Sign() float64 {
	if h == LeftHand {
		return -1
	}
	return 1
}

// Other returns the other hand.
func (h Hand) Other() Hand { return LeftHand - h }

// Mirrored returns the spec of the same neck for the other hand.
func (s *Spec) Mirrored() *Spec {
	out := *s
	out.Hand = s.Hand.Other()
	return &out
}
