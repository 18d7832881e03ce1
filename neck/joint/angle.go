package joint

import (
	"math"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// Heights are what the angle of a neck to its body follows from, in mm. The
// plane that they are measured from is that of the body's top at the joint.
type Heights struct {
	Bridge float64 // the bridge over the top
	Dome   float64 // what the top has risen there
	Gap    float64 // a straightedge on the frets over the bridge

	Stand float64 // the glue plane over the top, at the joint
	Board float64 // thickness on the centreline
	Fret  float64 // height of the frets

	Scale        float64
	Compensation float64 // what the saddle lies past the scale length
	Joint        float64 // from the nut to the joint
}

// HeightsOf returns what a neck's spec says of the heights. A spec without a
// bridge has a gap and a bridge of 0 and frets of 1 mm.
func HeightsOf(n *neck.Neck) Heights {
	s := n.Spec()
	h := Heights{
		Fret: 1, Board: s.Board.Thickness,
		Scale: s.Scale.Length, Joint: s.X(s.BodyAt()),
	}
	if b := s.Bridge; b != nil {
		h.Bridge, h.Dome, h.Gap, h.Compensation, h.Fret = b.Height, b.Dome, b.Gap, b.Compensation, b.FretHeight
	}
	if j := s.Joint; j != nil {
		h.Stand = j.Stand
	}
	return h
}

// Length returns the distance from the joint to the saddle.
func (h Heights) Length() float64 { return h.Scale + h.Compensation - h.Joint }

// Rise returns how much higher the line over the frets is at the saddle than at
// the joint: below 0 for a neck that tips forward.
func (h Heights) Rise() float64 {
	return h.Bridge + h.Dome + h.Gap - (h.Stand + h.Board + h.Fret)
}

// Angle returns the neck's angle in radians: above 0 where the headstock lies
// back from the plane of the top.
func (h Heights) Angle() float64 { return math.Atan2(h.Rise(), h.Length()) }

// AtAngle returns the heights with the gap that a neck at an angle has.
func (h Heights) AtAngle(angle float64) Heights {
	h.Gap = 0
	h.Gap = h.Length()*math.Tan(angle) - h.Rise()
	return h
}

// Setting is how an angle is made at the joint.
type Setting struct {
	Angle float64 // of the neck, radians

	// Wedge is how thick a shim over the whole length of the pocket is at its
	// thick end, in mm, and Length that of the pocket; the other end is 0 thick.
	// 0 where the neck does not lie in a pocket.
	Wedge, Length float64

	// Cut is what comes off the heel's face at one end, to nothing at the other,
	// in mm, over the heel's Depth: off the cap where it is above 0, off the upper
	// end below 0. 0 where the face does not lie against the body.
	Cut, Depth float64
}

// SettingOf returns how a neck is set to an angle: by a shim where it lies in a
// pocket, by a cut of the heel's face where that lies against the body. The rake
// that the face has by the spec is taken off the cut.
func SettingOf(n *neck.Neck, angle float64) Setting {
	s := n.Spec()
	out := Setting{Angle: angle}
	switch {
	case s.Heel == nil || s.Heel.Through():
	case InPocket(s):
		out.Length = n.End() - s.X(s.BodyAt())
		out.Wedge = math.Abs(out.Length * math.Tan(angle))
	default:
		out.Depth = n.HeelDepth()
		out.Cut = out.Depth * (math.Tan(angle) - math.Tan(s.Heel.Rake))
	}
	return out
}

// InPocket reports whether a spec's heel lies in a pocket.
func InPocket(s *spec.Spec) bool {
	h := s.Heel
	return h != nil && !h.Through() && !h.Capped() && s.Joint.Pocketed()
}

// AngleOfWedge returns the angle that a wedge of a thickness over a length
// makes.
func AngleOfWedge(thickness, length float64) float64 { return math.Atan2(thickness, length) }

// AngleOfCut returns the angle that a cut makes at the end of a face that is
// raked by an angle already.
func AngleOfCut(cut, depth, rake float64) float64 { return math.Atan(cut/depth + math.Tan(rake)) }
