package mill

import (
	"math"
	"strconv"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
)

// Options say how the neck is held and cut. All lengths are in mm.
type Options struct {
	Ball      float64 // diameter of the ball nose for the back
	Step      float64 // between its passes
	Cutter    float64 // diameter of the flat cutter that goes round the outline
	Allowance float64 // kept on the back for the scraper
	Pin       float64 // diameter of the pins
	PinDepth  float64 // of their holes in the wood, and of the pins over the bed
	Tabs      int     // on each side; 0 for none
	TabWidth  float64
	TabHeight float64
	PinsWhere PinPlace
}

// PinPlace says where pins go.
type PinPlace int

// Places of pins.
const (
	PinsAuto  PinPlace = iota // in the waste where the stock has room, else under the board
	PinsWaste                 // in the waste at the neck's ends
	PinsBoard                 // in the wood under the board, which covers their holes
)

// PinPlaces are the words for places of pins, by PinPlace.
var PinPlaces = []string{"auto", "waste", "board"}

// DefaultOptions are those of the starter: a ball nose of a quarter inch in steps
// of half a millimetre leaves ridges of 0.0099 mm (0.0098 mm by the rule of thumb).
// The others are common practice, no published source.
func DefaultOptions() Options {
	return Options{
		Ball: 6.35, Step: 0.5, Cutter: 6.35, Allowance: 0.3,
		Pin: 6, PinDepth: 8, Tabs: 3, TabWidth: 10, TabHeight: 3,
	}
}

// DefaultsFor are DefaultOptions, beside inches in sizes that shops with inches have.
func DefaultsFor(u spec.Unit) Options {
	if u != spec.Inch {
		return DefaultOptions()
	}
	const inch = spec.MillimetresPerInch
	return Options{
		Ball: inch / 4, Step: 0.02 * inch, Cutter: inch / 4, Allowance: 0.012 * inch,
		Pin: inch / 4, PinDepth: inch * 5 / 16, Tabs: 3, TabWidth: inch * 3 / 8, TabHeight: inch / 8,
	}
}

// What must stay free, in mm. Common practice, no published source.
const (
	pinWeb  = 3.0  // of wood beside a pin's hole
	rim     = 6.0  // of stock outside the way of the cutter, for clamps
	planing = 1.0  // off the stock's glue face, and under its back
	pinEdge = 12.0 // of a pin from the nut, and from the end of the wood under the board

	leastDepth = 3.0   // of a pin's hole that still holds
	leastApart = 100.0 // between the pins: nearer, they do not tell the angle
)

// Pin is a hole in the wood, from the glue face down, for a pin on the bed.
type Pin struct {
	X, Y, Diameter, Depth float64
}

// Tab is a bridge of wood between neck and frame, from the glue plane down.
type Tab struct {
	X, Y float64 // the middle, on the neck's edge
}

// Setup is how a neck lies on a mill.
type Setup struct {
	Neck    *neck.Neck
	Options Options

	Lo, Hi  mesh.Vec // corners of the stock that is needed, its glue face planed at z = 0
	Deepest float64  // the lowest point of the wood under the glue plane
	Waste   bool     // the pins are in the waste, and not in the wood
	Pins    []Pin
	Tabs    []Tab
	Short   []string // what the spec's blank is too small for, in words

	solid  solid
	pieces []sticks.SidePiece // see StockSide
}

// New sets a neck up. It is an error if an option is not possible, or if no pair
// of pins has room.
func New(n *neck.Neck, o Options) (*Setup, error) {
	if err := o.check(n.Spec().PrintUnit()); err != nil {
		return nil, err
	}
	s := &Setup{Neck: n, Options: o, solid: newSolid(n)}
	s.Deepest = -s.solid.side.lo.Y
	// The cutter goes all around, and clamps hold what is outside of its way.
	round := o.Cutter + rim
	half := math.Max(-s.solid.top.lo.Y, s.solid.top.hi.Y) + round
	s.Lo = mesh.Vec{X: s.solid.top.lo.X - round, Y: -half, Z: -s.Deepest - planing}
	s.Hi = mesh.Vec{X: s.solid.top.hi.X + round, Y: half, Z: planing}
	if err := s.pins(); err != nil {
		return nil, err
	}
	head, blocks := s.gluedDepth()
	s.Lo.Z = math.Min(s.Lo.Z, -math.Max(head, blocks))
	s.pieces = s.stockSide()
	s.tabs()
	s.blank()
	return s, nil
}

// check judges the options' lengths, and tells them in a unit.
func (o Options) check(u spec.Unit) error {
	if err := u.Within([]spec.Ranged{
		{Name: "the ball nose", Value: o.Ball, From: 0.5, To: 60},
		{Name: "the step", Value: o.Step, From: 0.01, To: o.Ball},
		{Name: "the cutter", Value: o.Cutter, From: 0.5, To: 60},
		{Name: "the allowance", Value: o.Allowance, From: 0, To: 5},
		{Name: "the pin", Value: o.Pin, From: 1, To: 20},
		{Name: "the pin's depth", Value: o.PinDepth, From: leastDepth, To: 40},
		{Name: "the tab's width", Value: o.TabWidth, From: 1, To: 60},
		{Name: "the tab's height", Value: o.TabHeight, From: 0.3, To: 20},
	}); err != nil {
		return err
	}
	if o.Tabs < 0 || o.Tabs > 12 {
		return spec.OutOfRange{Name: "the number of tabs on a side", Value: strconv.Itoa(o.Tabs), Allowed: "0 to 12"}
	}
	return nil
}

// tabs spreads the tabs along both sides, from the nut to the end of the wood. Two
// that would meet are one.
func (s *Setup) tabs() {
	n, o := s.Neck, s.Options
	for i := range o.Tabs {
		x := n.End() * (0.08 + 0.84*(float64(i)+0.5)/float64(o.Tabs))
		if k := len(s.Tabs); k > 0 && x-s.Tabs[k-1].X < 2*o.TabWidth {
			continue
		}
		minus, plus := n.Edges(x)
		s.Tabs = append(s.Tabs, Tab{x, minus}, Tab{x, plus})
	}
}
