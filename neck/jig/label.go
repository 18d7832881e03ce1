package jig

import (
	"fmt"
	"strings"

	"neckloft/mesh"
)

// labelEdge is the least distance of letters from the edges of the face that they
// are cut into, in mm.
const labelEdge = 2.0

// numbered is the name of one of several pieces, which count from the nut or from
// the low end.
func numbered(name string, i, of int) string {
	if of == 1 {
		return name
	}
	return fmt.Sprintf("%s, piece %d of %d", name, i+1, of)
}

// words are what is cut into one of several pieces, at length and more and more
// shortly.
func (m *maker) words(name string, i, of int) []string {
	number := ""
	if of > 1 {
		number = fmt.Sprintf(" %d/%d", i+1, of)
	}
	own := strings.Fields(name)
	out := m.named(name + number)
	for k := len(own) - 1; k > 0; k-- {
		out = append(out, strings.Join(own[:k], " ")+number)
	}
	return append(out, strings.TrimSpace(number))
}

// named returns words with the neck's name, and with less and less of it.
func (m *maker) named(words string) []string {
	var out []string
	for own := strings.Fields(m.s.Name); len(own) > 0; own = own[:len(own)-1] {
		out = append(out, words+" "+strings.Join(own, " "))
	}
	return append(out, words)
}

// sideLabel puts the label on the side of the part that is seen from its front on
// the bed.
func (p *Part) sideLabel(words []string) {
	lo, hi := p.Mesh.Bounds()
	p.Label = Label{
		Words: words, At: mesh.Vec{X: lo.X + labelEdge, Y: lo.Y, Z: labelEdge},
		Along: mesh.Vec{X: 1}, Up: mesh.Vec{Z: 1},
		Width: hi.X - lo.X - 2*labelEdge, Height: hi.Z - lo.Z - 2*labelEdge,
	}
}

// overLabel puts the label on the side of the part that is at the back of the bed, to
// be read when the part is turned over for use.
func (p *Part) overLabel(words []string) {
	lo, hi := p.Mesh.Bounds()
	p.Label = Label{
		Words: words, At: mesh.Vec{X: lo.X + labelEdge, Y: hi.Y, Z: hi.Z - labelEdge},
		Along: mesh.Vec{X: 1}, Up: mesh.Vec{Z: -1},
		Width: hi.X - lo.X - 2*labelEdge, Height: hi.Z - lo.Z - 2*labelEdge,
	}
}
