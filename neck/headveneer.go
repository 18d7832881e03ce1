package neck

import (
	"fmt"

	"neckloft/neck/spec"
)

// VeneerWork says in unit u how the veneers of the headstock are glued on, in the
// order of the work: nothing where it has none.
func (n *Neck) VeneerWork(u spec.Unit) []string {
	h := n.spec.Headstock
	if h == nil || h.FaceVeneer == 0 && h.BackVeneer == 0 {
		return nil
	}
	var out []string
	if h.FaceVeneer > 0 {
		begins, then := "the break of the face", ", then plane it level with the glue face at the break"
		if h.Angle == 0 {
			begins, then = "the end of the cove", ""
		}
		text := fmt.Sprintf("Headstock's face veneer, %s thick: glue it on the planed face from %s to the tip%s.", u.Format(h.FaceVeneer), begins, then)
		for _, c := range n.channels {
			if c.OnFace() {
				text += fmt.Sprintf(" First rout the %s, whose depth counts from the wood, and open the veneer over it afterwards.", c.Name)
			}
		}
		out = append(out, text)
	}
	if h.BackVeneer > 0 {
		thick := u.Format(h.Thickness) + " thick"
		if h.TipThickness != 0 {
			thick += fmt.Sprintf(" and %s at the tip", u.Format(h.TipThickness))
		}
		out = append(out, fmt.Sprintf("Headstock's back veneer, %s thick: glue it on the back once its wood is %s, square to the face; draw it out to nothing towards the neck.", u.Format(h.BackVeneer), thick))
	}
	return append(out, "Veneers go on before the tuners' holes, slots and the cover's pocket: their depths count from the finished face and back.")
}
