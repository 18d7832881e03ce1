package sticks

import (
	"math"

	"neckloft/neck"
)

// Part says what a piece of a glued-up blank becomes.
type Part int

// Parts of a blank.
const (
	Shaft Part = iota // or the whole neck
	Head
	Block
)

// SidePiece is a piece of the blank as it is glued up, in the side view: x and z of
// its corners, in mm.
type SidePiece struct {
	Part   Part
	Points []neck.YZ // Y is x
	Grain  float64   // falls towards the tip by this angle
}

// Side returns the pieces of the glued-up blank in the side view, as long as the neck
// needs them. From is how far before the neck's tip they reach, in mm, and to how far
// past its other end; cut off square to the glue plane.
func (l *List) Side(from, to float64) []SidePiece {
	n := l.Neck
	end := math.Max(n.End(), n.Tip()) + to
	var out []SidePiece
	if j := l.Scarf; j == nil {
		tip := n.Start() - from
		out = append(out, SidePiece{Shaft, []neck.YZ{{Y: tip}, {Y: end}, {Y: end, Z: -l.Stick}, {Y: tip, Z: -l.Stick}}, 0})
	} else {
		h := n.Spec().Headstock
		sin, cos := math.Sincos(h.Angle)
		shelf := n.Spec().Break()
		at := func(u, v float64) neck.YZ { return neck.YZ{Y: -shelf - u*cos + v*sin, Z: -u*sin - v*cos} }
		face := h.Length - shelf + h.Thickness*sin/cos
		tip, under := at(face, 0), at(face, j.Head)
		if from > 0 {
			u := (-shelf - n.Start() + from) / cos
			tip, under = at(u, 0), at(u+j.Head*sin/cos, j.Head)
		}
		toe := neck.YZ{Y: j.From, Z: j.Z(j.From)}
		heel := neck.YZ{Y: j.To, Z: j.Z(j.To)}
		if along, ok := j.FaceLine(); ok {
			out = append(out,
				SidePiece{Shaft, []neck.YZ{{Y: end}, {Y: -shelf}, toe, {Y: end, Z: -l.Stick}}, 0},
				SidePiece{Head, []neck.YZ{at(along, 0), tip, under, heel}, h.Angle})
		} else {
			out = append(out,
				SidePiece{Shaft, []neck.YZ{{Y: end}, heel, toe, {Y: end, Z: -l.Stick}}, 0},
				SidePiece{Head, []neck.YZ{at(0, 0), heel, toe, under, tip}, h.Angle})
		}
	}
	if k := l.Stack; k != nil {
		for _, b := range k.Blocks {
			out = append(out, SidePiece{Block, []neck.YZ{{Y: k.From, Z: -b.Top}, {Y: k.To + to, Z: -b.Top}, {Y: k.To + to, Z: -b.Bottom}, {Y: k.From, Z: -b.Bottom}}, 0})
		}
	}
	return out
}
