package bending

import (
	"math"
	"neckloft/neck"
)

// Bow is an estimate of how far the strings bend a neck with a slack rod, from
// the nut to the body joint.
//
// It takes the strings' tension times their height over the neutral axis as
// the bending moment and integrates moment over EI. It neglects the rod, creep
// and moisture, the give of joints and body, the frets, and that the moment
// grows as the neck bows. Two numbers enclose the truth as far as the model
// goes: the board as stiff as solid wood, and not counted at all.
type Bow struct {
	Joint   float64 // x of the body joint
	Tension float64 // of all strings, N

	Relief, At             float64 // greatest gap to a straightedge from nut to joint, and its x, mm
	ReliefWood, AtWoodOnly float64 // the same if the board added no stiffness

	line bent
}

// BowOf returns the bow under the spec's strings, and false where it gives none.
func BowOf(n *neck.Neck) (Bow, bool) {
	if n.Spec().Strings == nil {
		return Bow{}, false
	}
	b := Bow{Joint: Joint(n), Tension: n.Spec().Tension()}
	marks := marksBetween(n, 0, b.Joint)
	// Both lines ask for the same stations: look each up once.
	seen := make(map[float64]Stiffness)
	at := func(x float64) Stiffness {
		s, ok := seen[x]
		if !ok {
			s = StiffnessAt(n, x)
			seen[x] = s
		}
		return s
	}
	b.line = bend(marks, func(x float64) float64 {
		s := at(x)
		return b.Tension * (n.Spec().StringLine(x) - s.Neutral) / s.EI
	})
	wood := bend(marks, func(x float64) float64 {
		s := at(x)
		return b.Tension * (n.Spec().StringLine(x) - s.NeutralWood) / s.EIWood
	})
	b.Relief, b.At = b.line.deepest()
	b.ReliefWood, b.AtWoodOnly = wood.deepest()
	return b, true
}

// Gap returns the distance in mm at x of the bowed board from a straightedge
// between nut and body joint; NaN outside.
func (b *Bow) Gap(x float64) float64 {
	if b.line.xs == nil {
		return math.NaN()
	}
	return -b.line.at(x)
}

// StringMoment returns the bending moment of the strings at x about the common
// neutral axis of wood and board, in N·mm, positive where it bends the neck
// forward. It is 0 before the nut and where the spec gives no strings.
func StringMoment(n *neck.Neck, x float64) float64 {
	if n.Spec().Strings == nil || x < 0 {
		return 0
	}
	return n.Spec().Tension() * (n.Spec().StringLine(x) - StiffnessAt(n, x).Neutral)
}
