package neck

import (
	"fmt"
	"math"

	"neckloft/neck/spec"
)

// ScarfPieces are the two pieces of a scarfed neck as they are sawn from one
// stick by one slanting cut, without what the saw, the plane and the square ends
// take. Lengths are along the piece; the short side is next to the ramp's heel,
// the long one runs to its toe.
type ScarfPieces struct {
	ShaftLong, ShaftShort float64
	HeadLong, HeadShort   float64
	ShaftRamp, HeadRamp   float64 // angles of the two sawn ends
}

// ScarfPieces returns the two pieces of a scarfed neck, both as thick as the
// stick.
func (n *Neck) ScarfPieces() (ScarfPieces, bool) {
	j, ok := n.Scarf()
	if !ok {
		return ScarfPieces{}, false
	}
	h := n.spec.Headstock
	p := ScarfPieces{ShaftRamp: j.head, HeadRamp: j.head}
	// From the break to the tip, whose end is square to the glue plane, so that
	// the back goes farther than the face.
	face := (-n.head.shelf-n.start)/math.Cos(h.Angle) + math.Max(h.Thickness, h.TipThickness)*math.Tan(h.Angle)
	end := n.stickEnd()
	if j.Place == spec.ScarfHeadstock {
		along, _ := j.FaceLine()
		p.ShaftShort = end + n.head.shelf
		p.HeadShort = math.Max(0, face-along)
	} else {
		p.ShaftRamp = j.Angle
		p.ShaftShort = end - j.To
		p.HeadShort = face
	}
	p.ShaftLong = p.ShaftShort + j.Stick/math.Tan(p.ShaftRamp)
	p.HeadLong = p.HeadShort + j.Stick/math.Tan(p.HeadRamp)
	return p, true
}

// stickEnd returns x of the wood's end at the body, a tenon's where there is one.
func (n *Neck) stickEnd() float64 { return n.lastX() }

// ScarfCut is what the slanting cut takes along the stick: the kerf and the
// planing of two ramps, each square to the ramp.
func (p *ScarfPieces) ScarfCut(saw spec.Saw) float64 {
	return (saw.Kerf + 2*saw.Plane) / math.Sin(math.Max(p.ShaftRamp, p.HeadRamp))
}

// Overlap returns how far the two pieces lie beside each other in the stick, for
// a stick of that thickness: the run of the steeper ramp.
func (p *ScarfPieces) Overlap(stick float64) float64 {
	return stick / math.Tan(math.Max(p.ShaftRamp, p.HeadRamp))
}

// StickLength returns how long a stick the neck takes: its two pieces for a
// scarfed neck, one after the other with the saw's slanting cut between, or the
// neck's own length; at both ends what is trimmed to square it. Blocks of the
// heel are not counted.
func (n *Neck) StickLength(saw spec.Saw) float64 {
	p, ok := n.ScarfPieces()
	if !ok {
		return n.stickEnd() - n.start + 2*saw.Trim
	}
	return p.ShaftLong + p.HeadLong - p.Overlap(n.StickThickness()) + p.ScarfCut(saw) + 2*saw.Trim
}

// sameThickness is how alike two thicknesses are that come out of one stick, in
// mm.
const sameThickness = 0.01

// FromStick reports whether the blocks are sawn off the neck's own stick: they are
// as thick.
func (k *HeelStack) FromStick() bool { return math.Abs(k.Thickness-k.Stick) < sameThickness }

// BlockLength returns how long a block is sawn, with what is trimmed.
func (k *HeelStack) BlockLength(saw spec.Saw) float64 { return k.To - k.From + 2*saw.Trim }

// WholeStickLength is StickLength with the heel's blocks that come out of the
// same stick, and the number of them.
func (n *Neck) WholeStickLength(saw spec.Saw) (length float64, blocks int) {
	length = n.StickLength(saw)
	if k, ok := n.HeelStack(); ok && k.FromStick() {
		blocks = len(k.Blocks)
		length += float64(blocks) * (k.BlockLength(saw) + saw.Kerf)
	}
	return length, blocks
}

// StickEnds returns x of the ends of the stick, as the neck lies in it: the shaft
// with what is trimmed, past it towards the body the heel's blocks that come out
// of the same stick, and the headstock's piece of a scarf before it.
func (n *Neck) StickEnds(saw spec.Saw) (tip, body float64) {
	whole, _ := n.WholeStickLength(saw)
	body = n.stickEnd() + saw.Trim + whole - n.StickLength(saw)
	return body - whole, body
}

// checkStickLength warns where the stick that the neck is cut from, with all that
// is trimmed and sawn, is longer than the blank.
func (n *Neck) checkStickLength() spec.Problems {
	s := n.spec
	b, saw := s.Blank, s.Saw()
	need, blocks := n.WholeStickLength(saw)
	_, scarfed := n.Scarf()
	// A stick that is sawn into pieces has to be far longer than the neck.
	whole := b.Profiled() || !scarfed && blocks == 0
	if l := n.stickEnd() - n.start; whole && l > b.Length {
		return spec.Problems{s.Warning("blank.length", "the wood of the neck is %s long, the blank %s", n.Rounded(l), s.Length(b.Length))}
	}
	if b.Profiled() || need <= b.Length+1e-9 {
		return nil
	}
	what := "for the neck"
	if scarfed {
		what = "for the two pieces of the scarf"
	}
	switch {
	case blocks == 1:
		what += " and the heel's block"
	case blocks > 1:
		what += fmt.Sprintf(" and the heel's %d blocks", blocks)
	}
	return spec.Problems{s.Warning("blank.length", "%s, with %s trimmed at each end, the stick has to be %s long, and the blank is %s",
		what, s.Length(saw.Trim), n.Rounded(need), s.Length(b.Length))}
}
