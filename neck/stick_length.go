package neck

import (
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
func (n *Neck) stickEnd() float64 { return math.Max(n.end, n.tip) }

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
