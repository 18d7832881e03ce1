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
)

// String returns the reference's name on the command line.
func (r Reference) String() string { return [...]string{"back", "glue"}[r] }

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
func (g Guide) String() string { return [...]string{"edge", "template"}[g] }

// ParseGuide returns the guide of the given name.
func ParseGuide(name string) (Guide, error) {
	for _, g := range []Guide{GuideSide, GuideTemplate} {
		if g.String() == name {
			return g, nil
		}
	}
	return 0, fmt.Errorf("guide %q is unknown; allowed: edge, template", name)
}

// Options are the builder's tools and wishes. Lengths are in mm.
type Options struct {
	// StockDepth is the present depth of the wood below the glue plane. With 0
	// it is the blank's thickness, or, without a blank, what the taper needs.
	StockDepth float64

	Leave     float64   // wood that router and flats leave over the target, for hand tools
	Bit       Bit       // with Radius 0, the one of CommonBits that leaves least
	Guide     Guide     // what the bearing runs on
	Template  float64   // thickness of the template, for GuideTemplate
	Reference Reference // what the router's base runs on

	// Height is the builder's own setting of the bit, counted as in
	// Setting.Height. With NaN the plan's own is used.
	Height float64

	Step   float64 // depth of a pass
	Base   float64 // distance of the base plate's rim from the bit's axis; 0 = not looked at
	Facets int     // pairs of flats for carving by hand, 1 to 3
	Sled   Sled
	Places []spec.Place // stations to report; nil = nut and frets

	// The builder's own pace, for an estimate of time; 0 = none given, since
	// there is no published figure that would be honest.
	Feed     float64 // of the router along the work, mm/min
	HandRate float64 // wood taken off by hand, mm³/min
}

// DefaultOptions returns the options that the command line begins with:
// half a millimetre left for hand tools, passes of 3 mm and two pairs of flats.
// Common practice, no published source.
func DefaultOptions() Options {
	return Options{
		Leave:  0.5,
		Bit:    DefaultBit(0),
		Height: math.NaN(),
		Step:   3,
		Facets: 2,
		Sled:   DefaultSled(),
	}
}

// Plan is the way from the squared blank to the round: what to set, where to
// stop and what is left at every step.
//
// The neck's outline is cut by then, its sides stand square to the glue plane,
// and its back is flat and parallel to the glue plane.
type Plan struct {
	Neck    *neck.Neck
	Options Options // with Bit filled in

	Stretch  Stretch
	Stock    float64 // depth of the wood at the outset
	StockHow string  // where that depth comes from
	Taper    Taper
	Round    RoundOver
	Flats    Flats
	Stages   []Stage
	Stations []Station
	Bits     []BitResult // every one of CommonBits, and the builder's, by radius

	// Refusals say which stage the plan refuses, and why; Notes what else to
	// know.
	Refusals, Notes []string

	curves []curve // where the heights are searched
}

// Stretch is the part of the neck that the plan works on: where the back is
// the plain profile, clear of volute, headstock and heel.
type Stretch struct {
	From, To         float64
	FromWhat, ToWhat string // what lies beyond: "volute", "nut", "heel", or ""
}

// Length returns the stretch's length in mm.
func (s Stretch) Length() float64 { return s.To - s.From }

// Holds reports whether x lies in the stretch.
func (s Stretch) Holds(x float64) bool { return x >= s.From-1e-9 && x <= s.To+1e-9 }

// StretchOf returns the stretch that a plan works on.
func StretchOf(n *neck.Neck) Stretch {
	st := Stretch{From: math.Max(0, n.Start()), To: math.Min(n.End(), n.BoardEnd())}
	if n.Spec().Headstock != nil {
		st.FromWhat = "nut"
	}
	if v := n.Spec().Volute; v != nil {
		if end := n.VoluteCentre() + v.Length/2; end > st.From {
			st.From, st.FromWhat = end, "volute"
		}
	}
	if n.Spec().Heel != nil {
		st.To, st.ToWhat = n.HeelStart(), "heel"
	}
	return st
}

// New works out the carving plan. An error is about the options, or says that
// there is too little wood.
func New(n *neck.Neck, o Options) (*Plan, error) {
	p := &Plan{Neck: n, Options: o, Stretch: StretchOf(n)}
	if err := p.checkOptions(); err != nil {
		return nil, err
	}
	p.Taper = planTaper(n, p.Stretch)
	if err := p.setStock(); err != nil {
		return nil, err
	}
	p.Taper.Sled = p.Options.Sled.set(p.Taper)
	p.curves = p.searchCurves()
	if err := p.planRoundOver(); err != nil {
		return nil, err
	}
	p.planFlats()
	p.planStages()
	if err := p.planStations(); err != nil {
		return nil, err
	}
	p.planExtremes()
	p.notes()
	return p, nil
}

// checkOptions refuses options that no builder can mean.
func (p *Plan) checkOptions() error {
	o := &p.Options
	u := p.Neck.Spec().Units
	between := func(what string, v, lo, hi float64) error {
		if !(v >= lo && v <= hi) {
			return fmt.Errorf("%s is %s; allowed: %s to %s", what, u.Format(v), u.Format(lo), u.Format(hi))
		}
		return nil
	}
	for _, c := range []struct {
		what      string
		v, lo, hi float64
		skip      bool
	}{
		{"the stock's depth", o.StockDepth, 1, 500, o.StockDepth == 0},
		{"the wood to leave", o.Leave, 0, 10, false},
		{"the bit's radius", o.Bit.Radius, 1, 150, o.Bit.Radius == 0},
		{"the bearing's offset", o.Bit.Offset, -20, 20, false},
		{"the bearing's height", o.Bit.BearingHeight, 0.5, 50, false},
		{"the straight edge above the bit's arc", o.Bit.Straight, 0, 100, false},
		{"the template's thickness", o.Template, 1, 100, o.Guide != GuideTemplate},
		{"the depth of a pass", o.Step, 0.2, 50, false},
		{"the base plate's half width", o.Base, 5, 500, o.Base == 0},
		{"the router's feed a minute", o.Feed, 10, 20000, o.Feed == 0},
	} {
		if c.skip {
			continue
		}
		if err := between(c.what, c.v, c.lo, c.hi); err != nil {
			return err
		}
	}
	if o.HandRate != 0 && !(o.HandRate >= 1 && o.HandRate <= 1e6) {
		return fmt.Errorf("hand work of %s cm3 a minute; allowed: 0.001 to 1000", spec.Number(o.HandRate/1e3, 4))
	}
	if o.Facets < 1 || o.Facets > 3 {
		return fmt.Errorf("%d pairs of flats; allowed: 1 to 3", o.Facets)
	}
	if r := o.Bit.Radius; r != 0 {
		if !(o.Bit.Offset < r) {
			return fmt.Errorf("a bearing that holds the bit %s off the guide keeps an arc of %s radius off the wood; allowed: less than the radius",
				u.Format(o.Bit.Offset), u.Format(r))
		}
		if d := o.Bit.Diameter; d != 0 && !(d >= 2*r && d <= 2*r+100) {
			return fmt.Errorf("a bit of %s radius cannot be %s in diameter; allowed: %s to %s",
				u.Format(r), u.Format(d), u.Format(2*r), u.Format(2*r+100))
		}
	} else if o.Bit.Diameter != 0 {
		return fmt.Errorf("the bit's diameter goes with its radius; give both")
	}
	if h := o.Height; !math.IsNaN(h) && !(h > -200 && h < 500) {
		return fmt.Errorf("a bit height of %s is not understood", u.Format(h))
	}
	return o.Sled.check(u)
}

// setStock fixes the depth of the wood at the outset, and makes sure that the
// neck is in it.
func (p *Plan) setStock() error {
	n, t := p.Neck, p.Taper
	s := n.Spec()
	need := math.Max(t.DepthFrom, t.DepthTo)
	at := t.From
	if t.DepthTo > t.DepthFrom {
		at = t.To
	}
	switch {
	case p.Options.StockDepth != 0:
		p.Stock, p.StockHow = p.Options.StockDepth, "as given"
	case s.Blank != nil:
		p.Stock, p.StockHow = s.Blank.Thickness, "thickness of the [blank]"
	default:
		p.Stock, p.StockHow = need, "assumed: no [blank] in the spec and no stock depth given"
	}
	if p.Stock >= need-1e-6 {
		return nil
	}
	least := s.Units.Limit(need, math.Ceil)
	if p.Options.StockDepth != 0 {
		return fmt.Errorf("a stock depth of %s is too little: the flat back needs %s at %s; allowed: %s or more",
			s.Units.Format(p.Stock), least, n.Where(at), least)
	}
	return s.Problem("blank", "the wood is %s deep and the flat back needs %s at %s; allowed: a thickness, or a stock depth, of %s or more",
		s.Length(p.Stock), least, n.Where(at), least)
}
