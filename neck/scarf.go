package neck

import (
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// ScarfJoint is the joint of a headstock that is a piece of its own, in the side
// view. Its glue line is straight there: it falls towards the headstock's tip by
// Slope, from To down to From.
//
// A joint in the headstock has the shaft's underside for its glue line, level
// with the glue plane, and the ramp on the headstock's piece; the shaft's sawn
// end lies in the headstock's face. A joint under the board has the ramp on the
// shaft, and the sawn end of the headstock's piece lies in the glue plane.
type ScarfJoint struct {
	Place    spec.ScarfPlace
	Angle    float64 // of the ramp that is glued, to its piece's grain
	Slope    float64 // of the glue line to the glue plane
	Stick    float64 // thickness of the stick that the shaft is cut from
	Head     float64 // thickness of the headstock's piece when it is glued on
	From, To float64 // x of the glue line's ends

	head  float64 // angle of the headstock
	shelf float64
	at    float64 // x and z of a point of the glue line
	z     float64
}

// Scarf returns the scarf joint, and false for a neck whose spec gives none.
func (n *Neck) Scarf() (ScarfJoint, bool) { return n.scarfOf(n.StickThickness()) }

// scarfOf is Scarf with another stick.
func (n *Neck) scarfOf(stick float64) (ScarfJoint, bool) {
	s := n.spec
	if s.Scarf == nil || s.Headstock == nil || s.Headstock.Angle == 0 {
		return ScarfJoint{}, false
	}
	h := s.Headstock
	j := ScarfJoint{Place: s.Scarf.Place, Angle: s.Scarf.Angle, Stick: stick, Head: s.Scarf.Thickness, head: h.Angle, shelf: n.head.shelf}
	if j.Angle == 0 {
		j.Angle = h.Angle
	}
	if j.Head == 0 {
		j.Head = j.Stick
	}
	sin, cos := math.Sincos(h.Angle)
	if j.Place == spec.ScarfHeadstock {
		// From where the shaft's sawn ramp, in the face, reaches the underside.
		j.at, j.z = -n.head.shelf-j.Stick*cos/sin, -j.Stick
		j.From, j.To = j.at, j.at+j.Head/sin
		return j, true
	}
	j.Slope = j.Angle
	// The shaft's toe lies where the undersides of both pieces meet. A ramp
	// steeper than the headstock cuts into the headstock's piece from there up.
	j.From = -n.head.shelf + (j.Head/cos-j.Stick)*cos/sin
	j.To = j.From + j.Stick/math.Tan(j.Angle)
	j.at = j.To
	return j, true
}

// Z returns the height of the glue line, or of its continuation, at x.
func (j *ScarfJoint) Z(x float64) float64 { return j.z + math.Tan(j.Slope)*(x-j.at) }

// thick returns the thickness of the piece that has the glued ramp.
func (j *ScarfJoint) thick() float64 {
	if j.Place == spec.ScarfHeadstock {
		return j.Head
	}
	return j.Stick
}

// Length returns the length of the glue line, t / sin θ for a ramp of angle θ on
// a piece of thickness t, and Run how far it goes along that piece, t / tan θ.
func (j *ScarfJoint) Length() float64 { return j.thick() / math.Sin(j.Angle) }
func (j *ScarfJoint) Run() float64    { return j.thick() / math.Tan(j.Angle) }

// Room returns how deep below the glue plane the glued-up wood reaches at x: the
// deeper of shaft and headstock's piece.
func (j *ScarfJoint) Room(x float64) float64 {
	room := math.Inf(-1)
	if x >= j.From {
		room = j.Stick
	}
	if x <= j.To {
		under := j.Head/math.Cos(j.head) + math.Tan(j.head)*(-j.shelf-x)
		room = math.Max(room, under)
	}
	return room
}

// FaceLine returns how far from the break of the headstock's face, along it, the
// glue line crosses it, and false where it does not.
func (j *ScarfJoint) FaceLine() (along float64, ok bool) {
	return (-j.shelf - j.at) / math.Cos(j.head), j.Place == spec.ScarfHeadstock
}

// A LinePoint is where a glue line shows on the surface of the wood at one
// station: on both sides at one height.
type LinePoint struct {
	X, Z     float64
	From, To float64 // y on either side
}

// A GlueLine is a line that a joint shows on sides and back, in order along the
// neck. Where it ends on the apex of the back the two sides meet.
type GlueLine struct {
	Points            []LinePoint
	OutFirst, OutLast bool // its first, or last, point lies on the apex
}

// lineStep is the distance of a glue line's points along the neck, in mm.
const lineStep = 1.0

// ScarfLines returns what the scarf joint shows on the sides and the back: most
// necks show one line, which comes from the face or the glue plane down both
// sides and closes on the back.
func (n *Neck) ScarfLines() []GlueLine {
	j, ok := n.Scarf()
	if !ok {
		return nil
	}
	return n.glueLines(j.Z, math.Max(j.From, n.start), math.Min(j.To, n.end))
}

// glueLines returns where a glue face at the height z, level across the neck,
// shows on sides and back between two stations.
func (n *Neck) glueLines(z func(float64) float64, from, to float64) []GlueLine {
	if !(from < to) {
		return nil
	}
	inside := func(x float64) bool { return n.Depth(x) >= -z(x) }
	point := func(x float64) LinePoint {
		sec := n.Section(x)
		h := numeric.Clamp(z(x), -sec.Depth, sec.Top)
		from, to, ok := sec.Level(h)
		if !ok { // beside what an outline leaves
			from, to = sec.Edge(MinusY).Y, sec.Edge(PlusY).Y
		}
		return LinePoint{x, h, from, to}
	}
	// out returns where the face comes out on the apex, between a station that it
	// is inside at and one that it is not.
	out := func(in, out float64) float64 { return numeric.Border(in, out, inside) }
	var lines []GlueLine
	var line *GlueLine
	k := max(2, int(math.Ceil((to-from)/lineStep)))
	for i := range k + 1 {
		x := numeric.Lerp(from, to, float64(i)/float64(k))
		before := numeric.Lerp(from, to, float64(i-1)/float64(k))
		switch in := inside(x); {
		case in && line == nil:
			lines = append(lines, GlueLine{OutFirst: i > 0})
			line = &lines[len(lines)-1]
			if i > 0 {
				line.Points = append(line.Points, point(out(x, before)))
			}
			line.Points = append(line.Points, point(x))
		case in:
			line.Points = append(line.Points, point(x))
		case line != nil:
			line.OutLast = true
			line.Points = append(line.Points, point(out(before, x)))
			line = nil
		}
	}
	return lines
}

// Outs returns the stations where glue lines come out on the apex of the back.
func Outs(lines []GlueLine) []float64 {
	var out []float64
	for _, l := range lines {
		if l.OutFirst {
			out = append(out, l.Points[0].X)
		}
		if l.OutLast {
			out = append(out, l.Points[len(l.Points)-1].X)
		}
	}
	return out
}
