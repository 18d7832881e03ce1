package spec

import "math"

// The kinds of a heel. A kind that is not said is "": the block.
const (
	HeelBlock   = "block"        // a plain block
	HeelCap     = "cap"          // cheeks lean in to a cap, for a neck that meets a deep body
	HeelBoltOn  = "bolt-on"      // a block that lies in a pocket and is held by bolts
	HeelThrough = "neck-through" // a block that goes on to the tail
)

// The kinds of a joint.
const (
	JointPocket   = "pocket"   // the block lies in a pocket
	JointButt     = "butt"     // the heel's face against the body, held by inserts
	JointTenon    = "tenon"    // a straight tenon past the heel's face
	JointDovetail = "dovetail" // a tenon that is wider at its end and at its top
)

// Bolt is a bolt or screw from the heel's back, square to the glue plane, or a
// pair of them side by side. Lengths are in mm.
type Bolt struct {
	At       Place
	Offset   float64 // of the bolt, or of the pair's middle, from the centreline: negative towards the bass side
	Apart    float64 // between the two of a pair; 0 for one alone
	Diameter float64 // of the hole in the heel
	Depth    float64 // of the hole from the heel's back; 0 for all the way to the glue plane

	Counterbore, CounterboreDepth float64 // diameter and depth of a wider bore at the back; 0 for none

	Screw   float64 // length under its head; 0 where not said
	Through float64 // of what the screw passes before it comes to the heel: body and plate
}

// Holes returns y of the bolt, or of both of a pair.
func (b *Bolt) Holes() []float64 { return pairAt(b.Offset, b.Apart) }

// Reach returns how far the screw goes into the heel, 0 where its length is not
// said.
func (b *Bolt) Reach() float64 {
	if b.Screw == 0 {
		return 0
	}
	return max(0, b.Screw-b.Through)
}

// Insert is a hole for a threaded insert or a hanger bolt in the end that lies
// against the body, square to that end, or a pair of them.
type Insert struct {
	Down     float64 // below the glue plane
	Offset   float64 // as of a Bolt
	Apart    float64
	Diameter float64
	Depth    float64
}

// Holes returns y of the insert, or of both of a pair.
func (i *Insert) Holes() []float64 { return pairAt(i.Offset, i.Apart) }

func pairAt(offset, apart float64) []float64 {
	if apart == 0 {
		return []float64{offset}
	}
	return []float64{offset - apart/2, offset + apart/2}
}

// Joint is how the neck is joined to the body, and the mortise or pocket that
// takes it. A tenon begins at the heel's face and goes Length further towards
// the tail.
type Joint struct {
	Kind   string
	At     *Place  // where the body begins; nil for BodyAt's own
	Stand  float64 // how far the glue plane stands over the body's top there
	Body   float64 // thickness of the body there; 0 where not said
	Width  float64 // of the tenon at the heel's face, at the glue plane
	Length float64 // of the tenon past the heel's face, at the glue plane
	Depth  float64 // of the tenon below the glue plane; 0 for the heel's whole depth
	Flare  float64 // of each side of a dovetail in the top view
	Taper  float64 // of each side of a dovetail seen from the end, narrower downwards
	Corner float64 // radius of the tenon's corners in the top view

	Clearance float64 // between neck and body, on each side
	Cutter    float64 // diameter of the bit that cuts the pocket or mortise; 0 where not said

	Inserts []Insert
}

// Tenoned reports whether wood goes on past the heel's face.
func (j *Joint) Tenoned() bool {
	return j != nil && (j.Kind == JointTenon || j.Kind == JointDovetail)
}

// Pocketed reports whether the block lies in a pocket: so does one of which
// nothing is said.
func (j *Joint) Pocketed() bool { return j == nil || j.Kind == "" || j.Kind == JointPocket }

// Capped, Through and BoltOn report the kind of a heel.
func (h *Heel) Capped() bool  { return h != nil && h.Kind == HeelCap }
func (h *Heel) Through() bool { return h != nil && h.Kind == HeelThrough }
func (h *Heel) BoltOn() bool  { return h != nil && h.Kind == HeelBoltOn }

// What a heel with a cap has where the file does not say.
const (
	defaultSweep  = 2.5
	defaultCheeks = 1.0
)

// SweepPower returns how the heel line of a heel with a cap leaves the neck:
// the power of the distance along it that it goes down with.
func (h *Heel) SweepPower() float64 {
	if h.Sweep == 0 {
		return defaultSweep
	}
	return h.Sweep
}

// CheekPower returns how late the cheeks of a heel with a cap widen to it.
func (h *Heel) CheekPower() float64 {
	if h.Cheeks == 0 {
		return defaultCheeks
	}
	return h.Cheeks
}

// WoodEnd returns x where the neck's wood ends at the glue plane: of the heel
// with its tenon, or of the board where there is no heel.
func (s *Spec) WoodEnd() float64 {
	switch {
	case s.Heel == nil:
		return s.BoardEnd()
	case s.Joint.Tenoned():
		return s.X(s.Heel.End) + s.Joint.Length
	}
	return s.X(s.Heel.End)
}

// BodyAt returns where the body begins under the strings: the place that the
// joint gives, or else the heel's face where that lies against the body, and
// where the block is full otherwise; at the board's end without a heel.
func (s *Spec) BodyAt() Place {
	h, j := s.Heel, s.Joint
	switch {
	case j != nil && j.At != nil:
		return *j.At
	case h == nil:
		return AtX(s.BoardEnd())
	case h.Capped() || !j.Pocketed():
		return h.End
	}
	return h.Full
}

// Bridge is what the neck's angle follows from: how high the strings go at the
// bridge, over the body's top. Lengths are in mm.
type Bridge struct {
	Height       float64 // of the bridge over the body's top
	Gap          float64 // of a straightedge on the frets over the bridge
	Dome         float64 // how far the body's top has risen at the bridge, by its doming
	Compensation float64 // what the saddle lies past the scale length
	FretHeight   float64
}

// RakeWords names the rake of the face: "1.2°", or "1.2° forward" where the cap
// lies farther from the nut than the glue plane's edge.
func (h *Heel) RakeWords() string {
	text := Number(math.Abs(h.Rake)*180/math.Pi, 2) + "°"
	if h.Rake < 0 {
		text += " forward"
	}
	return text
}
