package carve

import (
	"fmt"
	"math"
	"strconv"

	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Bit is a round-over bit: in a plane through its axis, a quarter circle that
// is level at its crown, towards the shank, and runs down to a vertical end just
// over the bearing.
type Bit struct {
	Name   string  // such as "1/2 in"; "" for a size that is not a common one
	Called string  // what its owner calls it, or ""
	Radius float64 // of the quarter circle

	// Offset is how far the bearing holds the vertical end of the arc off the
	// guide: bearing radius less the smallest cutting radius. It is negative
	// where the cutter bites into the guide's line.
	Offset float64

	Diameter      float64 // largest cutting diameter; 0 = 2 (Radius + DefaultPilot)
	BearingHeight float64 // from the arc's end to the foot of the bearing
	Straight      float64 // straight cutting edge above the arc's crown
}

// What is assumed of a bit where nothing is given: a bearing 12.7 mm (1/2 in)
// in diameter and 5 mm high, and cutting edges that go on 6 mm above the arc.
// Common practice, no published source: measure the bit.
const (
	DefaultPilot         = 12.7 / 2
	defaultBearingHeight = 5
	defaultStraight      = 6
)

// leastContact is the least height of wood or template, in mm, that the
// bearing must have to run on: common practice, no published source.
const leastContact = 1

// DefaultBit returns a bit of the given radius with everything else as it
// usually is.
func DefaultBit(radius float64) Bit {
	return Bit{Radius: radius, BearingHeight: defaultBearingHeight, Straight: defaultStraight}
}

// CommonBits returns the radii that round-over bits are commonly sold in, in
// inches and in millimetres, from small to large. Common practice, no
// published source.
func CommonBits() []Bit {
	sizes := []struct {
		name   string
		radius float64
	}{
		{"6 mm", 6}, {"1/4 in", 0.25}, {"5/16 in", 0.3125}, {"8 mm", 8}, {"3/8 in", 0.375}, {"10 mm", 10}, {"12 mm", 12},
		{"1/2 in", 0.5}, {"15 mm", 15}, {"5/8 in", 0.625}, {"16 mm", 16}, {"3/4 in", 0.75},
		{"20 mm", 20}, {"7/8 in", 0.875}, {"25 mm", 25}, {"1 in", 1}, {"30 mm", 30},
		{"1 1/4 in", 1.25}, {"1 1/2 in", 1.5},
	}
	bits := make([]Bit, len(sizes))
	for i, s := range sizes {
		r := s.radius
		if r < 2 { // inches
			r *= spec.MillimetresPerInch
		}
		bits[i] = DefaultBit(r)
		bits[i].Name = s.name
	}
	return bits
}

// Label returns the bit's size as it is sold, or its radius in the given unit,
// and what its owner calls it.
func (b Bit) Label(u spec.Unit) string {
	if b.Called != "" {
		return b.size(u) + ", " + b.Called
	}
	return b.size(u)
}

// OfRadius returns the bit's size with the word, for a sentence, and what its
// owner calls it.
func (b Bit) OfRadius(u spec.Unit) string {
	if b.Called != "" {
		return b.size(u) + " radius (" + b.Called + ")"
	}
	return b.size(u) + " radius"
}

func (b Bit) size(u spec.Unit) string {
	for _, c := range CommonBits() {
		if math.Abs(c.Radius-b.Radius) < sameSize {
			return c.Name
		}
	}
	if text := fraction(u.Of(b.Radius)); u == spec.Inch && text != "" {
		return text + " in"
	}
	return u.Rounded(b.Radius)
}

// sameSize is how much less than this, in mm, two radii of one size differ.
const sameSize = 0.005

// same reports whether two bits cut and run alike.
func (b Bit) same(c Bit) bool {
	return math.Abs(b.Radius-c.Radius) < sameSize && b.Offset == c.Offset && b.BearingHeight == c.BearingHeight &&
		b.Straight == c.Straight && b.BodyRadius() == c.BodyRadius()
}

// fraction returns a number of inches as bits are sold, in halves to 32nds, such
// as "7/16" or "1 1/8", and "" for any other.
func fraction(inches float64) string {
	const parts = 32
	n := math.Round(inches * parts)
	if n <= 0 || math.Abs(n/parts-inches)*spec.MillimetresPerInch >= sameSize {
		return ""
	}
	whole, over, under := int(n)/parts, int(n)%parts, parts
	for over > 0 && over%2 == 0 {
		over, under = over/2, under/2
	}
	switch {
	case over == 0:
		return strconv.Itoa(whole)
	case whole == 0:
		return fmt.Sprintf("%d/%d", over, under)
	}
	return fmt.Sprintf("%d %d/%d", whole, over, under)
}

// BodyRadius returns half the bit's largest diameter.
func (b Bit) BodyRadius() float64 {
	if b.Diameter != 0 {
		return b.Diameter / 2
	}
	return b.Radius + DefaultPilot
}

// bearing returns the radius of the bearing, and small the smallest cutting
// radius.
func (b Bit) bearing() float64 { return b.small() + b.Offset }
func (b Bit) small() float64   { return b.BodyRadius() - b.Radius }

// cutter is a bit on the move along one of the neck's sides, as the planes
// x = const see it.
//
// Its axis stands square to the reference, whose depth below the glue plane
// grows by q per mm of x, and its bearing runs on a straight side whose
// half-width grows by k. The cutter sweeps a cylinder, in the general sense,
// along the line in the reference that runs parallel to the side. Square to
// that line the swept profile is the bit's own: u, from the guide towards the
// centreline, and v, from the arc's end towards the base. The plane x = const
// cuts the cylinder a little askew, and finds there, at the distance l from the
// guide and the depth e below the arc's end,
//
//	l = u √(1+q²+k²)/√(1+q²) - v k q/√(1+q²)
//	e = v √(1+q²).
//
// On a neck both corrections are a few thousandths of a millimetre; they are
// made all the same.
type cutter struct {
	Bit
	edge              float64 // k, the growth of the half-width
	wide, shear, rise float64
}

func newCutter(b Bit, k, q float64) cutter {
	rise := math.Sqrt(1 + q*q)
	return cutter{Bit: b, edge: k, wide: math.Sqrt(1+q*q+k*k) / rise, shear: k * q / rise, rise: rise}
}

// above returns how far below its own end, towards the back, the arc leaves
// wood standing at the distance l from the guide; false beyond the crown, where
// nothing is cut.
func (c *cutter) above(l float64) (depth float64, cut bool) {
	centre := c.Radius - c.Offset
	v := 0.0
	for range 3 { // the shear is a ten-thousandth
		s := centre - (l+v*c.shear)/c.wide
		if s <= 0 {
			return c.Radius * c.rise, false
		}
		v = math.Sqrt(math.Max(0, c.Radius*c.Radius-s*s))
	}
	return v * c.rise, true
}

// reach returns the distance of the arc's crown from the guide.
func (c *cutter) reach() float64 { return (c.Radius-c.Offset)*c.wide - c.Radius*c.shear }

// travel is where the bit's axis comes, seen from a section: the section's x
// less the x of the axis lies between Lo and Hi.
type travel struct{ lo, hi float64 }

// through is the travel of a bit that runs past the section on both sides.
var through = travel{math.Inf(-1), math.Inf(1)}

// arc returns the point of the cut where the radius to it stands beta above
// the level through the arc's end: its distance from the guide and its depth
// below the arc's end.
//
// A bit that runs through touches the swept surface square to the guide, where
// the section lies ahead of the axis by its radius times the guide's slope. A
// bit that stops before that is still round, and the section finds the circle
// of its last place.
func (c *cutter) arc(beta float64, t travel) (l, depth float64) {
	sin, cos := math.Sincos(beta)
	v := c.Radius * sin
	body := c.small() + c.Radius*(1-cos)
	ahead := body * c.edge / c.wide
	lag := numeric.Clamp(ahead, t.lo, t.hi)
	if lag == ahead {
		l = (body - c.bearing()) * c.wide
	} else {
		l = c.edge*lag + math.Sqrt(math.Max(0, body*body-lag*lag)) - c.bearing()*c.wide
	}
	return l - v*c.shear, v * c.rise
}

// begin returns the angle at which the arc enters the wood at the guide's line,
// and false if it does not reach it.
func (c *cutter) begin(t travel) (beta float64, ok bool) {
	in := func(beta float64) float64 { l, _ := c.arc(beta, t); return l }
	foot, crown := in(0), in(math.Pi/2)
	switch {
	case crown < 0:
		return 0, false
	case foot >= 0:
		return 0, true
	}
	return numeric.Crossing(in, 0, math.Pi/2, foot, crown), true
}
