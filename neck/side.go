package neck

import (
	"neckloft/mesh"
	"neckloft/neck/spec"
)

// Side is one side of the neck, as y has it. Which of them is the bass side
// follows from the hand that the neck is for: Neck.Bass, Neck.SideName.
type Side int

const (
	MinusY Side = iota // y below 0: the bass side of a right-handed neck
	PlusY              // y above 0: its treble side
)

// Sign returns the sign of y: -1 or +1.
func (s Side) Sign() float64 {
	if s == MinusY {
		return -1
	}
	return 1
}

// Other returns the opposite side.
func (s Side) Other() Side { return PlusY - s }

// SidesOf returns the bass side and the treble side of a neck for the hand, in
// this order: the order of everything that is done or told side by side, so that
// the work on a neck and on its mirror is the same.
func SidesOf(h spec.Hand) [2]Side {
	if h == spec.LeftHand {
		return [2]Side{PlusY, MinusY}
	}
	return [2]Side{MinusY, PlusY}
}

// SideNameOf returns the name of a side of a neck for the hand: "bass" or
// "treble".
func SideNameOf(h spec.Hand, s Side) string {
	if s == SidesOf(h)[0] {
		return "bass"
	}
	return "treble"
}

// Sides is SidesOf the neck's hand.
func (n *Neck) Sides() [2]Side { return SidesOf(n.spec.Hand) }

// Bass returns the side of the lowest string, and Treble that of the highest.
func (n *Neck) Bass() Side   { return n.Sides()[0] }
func (n *Neck) Treble() Side { return n.Sides()[1] }

// SideName is SideNameOf the neck's hand.
func (n *Neck) SideName(s Side) string { return SideNameOf(n.spec.Hand, s) }

// SideLetter returns the letter of a side: "B" or "T".
func (n *Neck) SideLetter(s Side) string {
	if s == n.Bass() {
		return "B"
	}
	return "T"
}

// Y turns a distance that the spec counts from the bass side (-) to the treble
// side (+) into y, and y into such a distance.
func (n *Neck) Y(d float64) float64 { return n.spec.Hand.Sign() * d }

// Profile returns the section's shape at x as a spec gives it, by bass and
// treble and with the apex negative towards the bass side. The place is x.
func (n *Neck) Profile(x float64) spec.ProfileStation {
	s := n.Section(x)
	return spec.ProfileStation{At: spec.AtX(x), Bass: s.Fullness(n.Bass()), Treble: s.Fullness(n.Treble()), Apex: n.Y(s.Apex)}
}

// Mirrored returns the same neck for the other hand.
func (n *Neck) Mirrored() (*Neck, error) { return build(n.spec.Mirrored()) }

// mirroredSolid returns a solid as the mirror of that of the same neck for the
// other hand, so that the two are alike vertex for vertex.
func (n *Neck) mirroredSolid(part Part, tolerance float64, by mesh.Cutting) (*mesh.Mesh, error) {
	other, err := n.Mirrored()
	if err != nil {
		return nil, err
	}
	m, err := other.solid(part, tolerance, by)
	if err != nil {
		return nil, err
	}
	return m.MirroredY(), nil
}
