package export

import (
	"fmt"

	"neckloft/neck"
	"neckloft/neck/bending"
)

// stiffnessHeadlines returns the stiffness in the middle third of the free
// length, and the bow under the strings where the spec gives them.
func stiffnessHeadlines(n *neck.Neck) []Headline {
	unit := n.Spec().PrintUnit()
	joint := bending.Joint(n)
	out := []Headline{{
		"stiffness",
		fmt.Sprintf("EI %.0f N m² in the middle third between nut and body joint, board included", bending.ThirdStiffness(n)[1]*squareMetres),
	}}
	if b, ok := bending.BowOf(n); ok {
		out = append(out, Headline{
			"bow without rod",
			fmt.Sprintf("about %s to %s under %.0f N of strings, nut to joint at %s; an estimate that leaves out creep, joints and the rod",
				unit.Rounded(b.Relief), unit.Rounded(b.ReliefWood), b.Tension, n.Where(joint)),
		})
	}
	return out
}
