package jig

import (
	"fmt"

	"neckloft/mesh"
	"neckloft/neck/fretboard"
)

// buildBlock takes over the sanding blocks of the board.
func buildBlock(m *maker) ([]Part, string, error) {
	o := fretboard.DefaultBlock()
	o.Longest = min(o.Longest, m.longest())
	o.Abrasive = m.Abrasive
	blocks, err := fretboard.New(m.n).Blocks(o, m.Tolerance/4)
	if err != nil {
		return nil, "", err
	}
	var parts []Part
	for i, k := range blocks {
		p := laid(numbered("sanding block", i, len(blocks)), k.Mesh, upright(mesh.Vec{}))
		p.OnNeck = false
		p.Used = Frame{X: mesh.Vec{X: 1}, Y: mesh.Vec{Y: -1}, Z: mesh.Vec{Z: -1}} // turned over about its length
		p.overLabel(m.words("BLOCK", i, len(blocks)))
		parts = append(parts, p)
	}
	gaps := "The hollow is the crown itself, without room for the thickness of the abrasive."
	if o.Abrasive > 0 {
		gaps = fmt.Sprintf("The hollow is the crown with the abrasive laid on, %s thick.", m.u.Format(o.Abrasive))
	}
	if len(blocks) > 1 {
		gaps += " The radius changes along the board, and each block is true in its own place only."
	}
	return parts, gaps, nil
}
