package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// Reference is the plane that carries the router's base plate, and from which
// the height of its bit is therefore set.
type Reference int

const (
	// ReferenceBack is the flat back after the taper: a hand-held router stands
	// on it, and on a router table it lies on the table. The cutter stands
	// square to the back and follows its slope.
	ReferenceBack Reference = iota

	// ReferenceGlue is a plane parallel to the glue plane, such as rails on the
	// bench that the neck lies on with its glue face down.
	ReferenceGlue

	// ReferenceBench is that for a neck with its board on, which lies on the
	// board's face: heights count from the bench. A plan takes it by itself.
	ReferenceBench

	// ReferenceTable is the surface of a router table that the neck lies on with
	// its flat back, or with packing under that. A plan takes it by itself.
	ReferenceTable
)

// String returns the reference's name, for the first two as on the command line.
func (r Reference) String() string { return [...]string{"back", "glue", "bench", "table"}[r] }

// onRails reports whether the router runs parallel to the glue plane.
func (r Reference) onRails() bool { return r == ReferenceGlue || r == ReferenceBench }

// CountsFrom names the plane that every height of the bit counts from, as it
// follows a figure: "out of the base" or "above the glue plane". There is one
// for whatever is dialled or printed, whatever the bearing runs on.
func (r Reference) CountsFrom() string {
	return [...]string{"out of the base", "above the glue plane", "above the bench", "above the table"}[r]
}

// Extreme names the limit of the bit's height: the "greatest" that may be
// dialled, or the "least" where the height counts from the glue plane.
func (r Reference) Extreme() string {
	if r.onRails() {
		return "least"
	}
	return "greatest"
}

// dial turns a room, which always grows as the cut gets deeper, into a height
// as the tool shows it, and back, but for the place of the bench.
func (r Reference) dial(v float64) float64 {
	if r.onRails() {
		return -v
	}
	return v
}

// SafeHeight returns a height of the bit in mm, rounded to the side of the
// shallower cut: to hundredths of a millimetre or thousandths of an inch.
func (r Reference) SafeHeight(u spec.Unit, height float64) float64 {
	return r.dial(roundDown(u, r.dial(height)))
}

// ParseReference returns the reference of the given name.
func ParseReference(name string) (Reference, error) {
	for _, r := range []Reference{ReferenceBack, ReferenceGlue} {
		if r.String() == name {
			return r, nil
		}
	}
	return 0, fmt.Errorf("reference %q is unknown; allowed: back, glue", name)
}

// Guide is what the bit's bearing runs on.
type Guide int

const (
	// GuideSide is the neck's own side, square to the glue plane.
	GuideSide Guide = iota

	// GuideTemplate is a template of the neck's outline under its glue face,
	// flush with the neck's sides: it lengthens the guide beyond the glue plane.
	GuideTemplate
)

// String returns the guide's name on the command line.
func (g Guide) String() string { return [...]string{"side", "template"}[g] }

// ParseGuide returns the guide of the given name.
func ParseGuide(name string) (Guide, error) {
	for _, g := range []Guide{GuideSide, GuideTemplate} {
		if g.String() == name {
			return g, nil
		}
	}
	return 0, fmt.Errorf("guide %q is unknown; allowed: side, template", name)
}

// Router is a router with its bit and what guides it. Lengths are in mm.
type Router struct {
	Bit       Bit       // with Radius 0, the one of CommonBits that leaves least
	Owned     []Bit     // the bits that there are, in the place of CommonBits; none = any common size
	Guide     Guide     // what the bearing runs on
	Template  float64   // thickness of the template, for GuideTemplate
	Reference Reference // what the router's base runs on

	// Height is the builder's own setting of the bit, counted as in
	// Setting.Height. With NaN the plan's own is used.
	Height float64

	// BoardOn says that the fretboard is glued on, so that the bearing has its edge
	// to run on too. Under is the height of what lies between the board's crown
	// and the bench, such as frets or a strip.
	BoardOn bool
	Under   float64

	// Packing is what lies between the flat back and a router table, as in
	// TableSetup.
	Packing [2]float64

	// keeps are the rooms between which the bearing keeps to a proud template.
	keeps *HeightRange

	Step float64 // depth of a pass
	Base float64 // distance of the base plate's rim from the bit's axis; 0 = not looked at

	// Unit is what the bit's height is dialled in: the setting is whole
	// hundredths of a millimetre or thousandths of an inch. What is wrong with
	// the tools is said in it too.
	Unit spec.Unit
}

// template returns the thickness of the template, 0 where there is none.
func (r *Router) template() float64 {
	if r.Guide == GuideTemplate {
		return r.Template
	}
	return 0
}

// guiding returns what stands beside the bearing.
func (r *Router) guiding() Guiding { return Guiding{Board: r.BoardOn, Template: r.template()} }

// beyond returns how far the guide goes on beyond the glue plane at x.
func (r *Router) beyond(n *neck.Neck, x float64) float64 {
	switch {
	case r.BoardOn && r.template() > 0: // it lies on the crown, and the edge is lower
		return n.Spec().Board.Thickness + r.template()
	case r.BoardOn:
		return BoardOn{Neck: n}.Edge(x).Edge
	}
	return r.template()
}

// dial is the reference's for a neck at work, whose height over the bench counts.
func (r *Router) dial(n *neck.Neck, v float64) float64 {
	if r.Reference == ReferenceBench {
		return BoardOn{Neck: n, Under: r.Under}.crown() - v
	}
	return r.Reference.dial(v)
}

// plane returns the plane that heights count from.
func (r *Router) plane(w Tapered) Plane {
	switch r.Reference {
	case ReferenceGlue:
		return Plane{}
	case ReferenceBench:
		return BoardOn{Neck: w.Neck, Under: r.Under}.Plane()
	case ReferenceTable:
		return TableSetup{Packing: r.Packing}.Plane(w.Taper)
	}
	return BackPlane(w.Taper)
}

// Pace is the builder's own, for an estimate of time; 0 = none given, since
// there is no published figure that would be honest.
type Pace struct {
	Feed     float64 // of the router along the work, mm/min
	HandRate float64 // wood taken off by hand, mm³/min
}

// Options are the builder's tools and wishes. Lengths are in mm.
type Options struct {
	// StockDepth is the present depth of the wood below the glue plane. With 0
	// it is the blank's thickness, or, without a blank, what the taper needs.
	StockDepth float64

	Allowance float64 // wood that router and flats leave over the target, for hand tools
	Router
	Pairs  int // of flats for carving by hand, 1 to MostPairs
	Sled   Sled
	Places []spec.Place // stations to report; nil = nut and frets
	Pace

	Shop

	// Wood is what masses are reckoned with; the zero Wood is the spec's.
	Wood spec.Wood
}

// DefaultOptions returns the options that the command line begins with, for
// tools that are dialled in the given unit: half a millimetre for hand
// tools, passes of 3 mm and two pairs of flats. Common practice, no published
// source.
func DefaultOptions(u spec.Unit) Options {
	return Options{
		Allowance: DefaultAllowance,
		Router:    Router{Bit: DefaultBit(0), Height: math.NaN(), Step: 3, Unit: u},
		Pairs:     2,
		Sled:      DefaultSled(),
	}
}

// DefaultAllowance is the wood in mm for hand tools unless something
// else is asked for. Common practice, no published source.
const DefaultAllowance = 0.5

// MostPairs is the largest number of pairs of flats.
const MostPairs = 3

// ranged is a length that must lie between two others.
type ranged struct {
	what      string
	v, lo, hi float64
	skip      bool // not given
}

// inRange returns an error about the first length that is out of its range.
func inRange(u spec.Unit, lengths ...ranged) error {
	var all []spec.Ranged
	for _, c := range lengths {
		if !c.skip {
			all = append(all, spec.Ranged{Name: c.what, Value: c.v, From: c.lo, To: c.hi})
		}
	}
	return u.Within(all)
}

// check refuses options that no builder can mean.
func (o *Options) check() error {
	u := o.Unit
	if err := inRange(u, ranged{"the stock's depth", o.StockDepth, 1, 500, o.StockDepth == 0}); err != nil {
		return err
	}
	if err := checkAllowance(u, o.Allowance); err != nil {
		return err
	}
	if err := o.Router.check(); err != nil {
		return err
	}
	if err := o.Pace.check(u); err != nil {
		return err
	}
	if err := checkPairs(o.Pairs); err != nil {
		return err
	}
	if err := o.Shop.check(o); err != nil {
		return err
	}
	return o.Sled.check(u)
}

func checkAllowance(u spec.Unit, allowance float64) error {
	return inRange(u, ranged{"the allowance", allowance, 0, 10, false})
}

func checkPairs(pairs int) error {
	if pairs < 1 || pairs > MostPairs {
		return fmt.Errorf("%d pairs of flats; allowed: 1 to %d", pairs, MostPairs)
	}
	return nil
}

// check refuses tools that there are not.
func (r *Router) check() error {
	u := r.Unit
	if err := inRange(u,
		ranged{"the template's thickness", r.Template, 1, 100, r.Guide != GuideTemplate},
		ranged{"the depth of a pass", r.Step, 0.2, 50, false},
		ranged{"the base plate's half width", r.Base, 5, 500, r.Base == 0},
	); err != nil {
		return err
	}
	for i, b := range r.Owned {
		if err := b.check(u); err != nil {
			return fmt.Errorf("bit %d of yours: %w", i+1, err)
		}
		if b.Radius == 0 {
			return fmt.Errorf("bit %d of yours has no radius", i+1)
		}
	}
	if h := r.Height; !math.IsNaN(h) && !(h > -200 && h < 500) {
		return spec.OutOfRange{Name: "the bit's height", Value: u.Format(h), Allowed: "more than " + u.Format(-200) + " and less than " + u.Format(500)}
	}
	return r.Bit.check(u)
}

// check refuses a bit that there is not.
func (b Bit) check(u spec.Unit) error {
	if err := inRange(u,
		ranged{"the bit's radius", b.Radius, 1, 150, b.Radius == 0},
		ranged{"the bearing's offset", b.Offset, -20, 20, false},
		ranged{"the bearing's height", b.BearingHeight, 0.5, 50, false},
		ranged{"the straight edge above the bit's arc", b.Straight, 0, 100, false},
	); err != nil {
		return err
	}
	if b.Radius == 0 {
		if b.Diameter != 0 {
			return fmt.Errorf("the bit's diameter goes with its radius; give both")
		}
		return nil
	}
	if !(b.Offset < b.Radius) {
		return fmt.Errorf("a bearing that holds the bit %s off the guide keeps an arc of %s radius off the wood; allowed: less than the radius",
			u.Format(b.Offset), u.Format(b.Radius))
	}
	if d, r := b.Diameter, b.Radius; d != 0 && !(d >= 2*r && d <= 2*r+100) {
		return fmt.Errorf("a bit of %s radius cannot be %s in diameter; allowed: %s to %s",
			u.Format(r), u.Format(d), u.Format(2*r), u.Format(2*r+100))
	}
	return nil
}

// check refuses a pace that nobody keeps.
func (p Pace) check(u spec.Unit) error {
	if err := inRange(u, ranged{"the router's feed a minute", p.Feed, 10, 20000, p.Feed == 0}); err != nil {
		return err
	}
	if p.HandRate != 0 && !(p.HandRate >= 1 && p.HandRate <= 1e6) {
		return spec.OutOfRange{Name: "hand work", Value: spec.Number(p.HandRate/1e3, 4) + " cm3 a minute", Allowed: "0.001 to 1000"}
	}
	return nil
}
