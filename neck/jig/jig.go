package jig

import (
	"fmt"
	"slices"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Jig is a thing that holds a neck, or guides a tool, while it is made: in as
// many parts as the bed asks for.
type Jig struct {
	Name  string // as it is asked for
	Title string
	Parts []Part
	Use   []string // three lines
	Never string   // what it must not be used for
	Gaps  string   // the clearances that are in it

	BackUp bool // it is used on a neck that lies on its glue face
	Board  bool // and that has its board

	// Wood makes the neck, or what becomes of it, as it is while the jig is used, in the
	// frame that the parts have their places in, to be looked at; nil for the finished one.
	Wood func() (*mesh.Mesh, error)
}

// Part is one piece of a jig, as it lies on the bed of a printer: on z = 0, its
// corner near the origin.
//
// A plate is all that its region is, so thick: it can be cut from a sheet as
// well. What is no plate has a mesh.
type Part struct {
	Name   string
	Region mesh.Region
	Thick  float64
	Mesh   *mesh.Mesh // nil for a plate
	Label  Label

	// Ends are lines to draw on a plate that is cut from a sheet, and Written is what
	// to write there in place of a label that does not lie in its plane.
	Ends    [][]mesh.Vec2
	Written Label

	// Home takes the bed's frame to that of the neck, for a part that has its
	// place at the neck (OnNeck).
	Home   Frame
	OnNeck bool

	// Used takes the bed's frame to one in which the part stands as it is used, for a
	// part that has no place at the neck and lies on the bed another way. It is the
	// zero Frame for others.
	Used Frame

	Dowels []Dowel // that join the part to the next piece
}

// Dowel comes out of a part at a point, in the bed's frame, along Out.
type Dowel struct {
	At, Out  mesh.Vec
	Diameter float64
}

// Flat reports whether the part is a plate.
func (p *Part) Flat() bool { return p.Mesh == nil }

// Label is what is to be cut into a part, in the bed's frame: Words has the same
// said at length and more and more shortly, and the first that has room counts.
// They stand on At, along Along, in a room of Width by Height, and are seen
// against Along × Up. Those in the plane of a plate go through it; others are cut
// Deep, or as deep as letters are where that is 0.
type Label struct {
	Words         []string
	At, Along, Up mesh.Vec
	Width, Height float64
	Deep          float64
}

// Options say how jigs are made, in mm.
type Options struct {
	Clearance float64      // between a part and what it goes over
	Lining    float64      // thickness of the cork or leather between a part and the neck
	Tolerance float64      // that a surface may be farther off than it should
	At        []spec.Place // of cradle and rest; nil = chosen
	Length    float64      // of a segment of the cradle, along the neck
	Height    float64      // of the glue plane over the bench, on the rest
	Shim      float64      // thickness of an even shim of the neck's pocket; 0 = a wedge for the neck's angle
	Abrasive  float64      // thickness of the paper on the sanding block
	Dowel     float64      // diameter of the dowels that join parts
	Fit       float64      // room about a dowel's and a dovetail's sides
	Pins      bool         // to print in place of dowels

	Across, Along float64 // the room that a bed has
}

// DefaultOptions returns sizes that do for most shops, and the room of a bed of
// 220 mm each way: common practice, no published source.
func DefaultOptions() Options {
	return Options{
		Clearance: 0.2, Lining: 2, Tolerance: 0.05,
		Length: 40, Height: 80, Dowel: 6, Fit: 0.12,
		Across: 200, Along: 200,
	}
}

// DefaultsFor are DefaultOptions, beside inches in sizes that shops with inches have.
func DefaultsFor(u spec.Unit) Options {
	o := DefaultOptions()
	if u == spec.Inch {
		const inch = spec.MillimetresPerInch
		o.Clearance, o.Lining, o.Tolerance = 0.008*inch, inch/16, 0.002*inch
		o.Length, o.Height, o.Dowel, o.Fit = 1.5*inch, 3.125*inch, inch/4, 0.005*inch
	}
	return o
}

// pictureTolerance is fine enough for a neck that is only to be recognised, in mm.
const pictureTolerance = 0.1

// longest returns the longest piece that the bed has room for.
func (o *Options) longest() float64 { return max(o.Across, o.Along) }

// Check returns an error that names the first option out of range.
func (o *Options) Check(unit spec.Unit) error {
	return unit.Within([]spec.Ranged{
		{Name: "clearance", Value: o.Clearance, From: 0.05, To: 3},
		{Name: "lining", Value: o.Lining, From: 0, To: 10},
		{Name: "tolerance", Value: o.Tolerance, From: 0.01, To: 0.5},
		{Name: "length of a segment", Value: o.Length, From: 10, To: 200},
		{Name: "height of the rest", Value: o.Height, From: 40, To: 300},
		{Name: "shim", Value: o.Shim, From: 0, To: 10},
		{Name: "abrasive", Value: o.Abrasive, From: 0, To: 5},
		{Name: "dowel", Value: o.Dowel, From: 3, To: 12},
		{Name: "fit", Value: o.Fit, From: 0, To: 1},
		{Name: "room across the bed", Value: o.Across, From: 60, To: 5000},
		{Name: "room along the bed", Value: o.Along, From: 60, To: 5000},
	})
}

// kind is a jig that can be made. Cause says what in the spec asks for one, ""
// where nothing does: it is then made only if it is asked for by its name.
type kind struct {
	name, title string
	cause       func(*maker) string
	build       func(*maker) ([]Part, string, error) // the parts, and their clearances
	use         [3]string
	useOf       func(*maker, []string) // changes the lines for this neck; nil = as they are
	never       string
	onTable     *[4]string // use and never for a router table, nil where they are the same
	backUp      bool
	board       bool
	wood        func(*maker) func() (*mesh.Mesh, error) // nil, or of nil, for the finished neck
}

// maker is one neck and what its jigs share.
type maker struct {
	n *neck.Neck
	s *spec.Spec
	u spec.Unit
	Options
	plan *carve.Plan
	why  error // that there is no plan
}

// Choice is a jig that can be asked for, and the cause that the spec gives for
// it, "" for none.
type Choice struct{ Name, Title, Cause string }

// newMaker works out what jigs share.
func newMaker(n *neck.Neck, o Options) *maker {
	s := n.Spec()
	m := &maker{n: n, s: s, u: s.PrintUnit(), Options: o}
	m.plan, m.why = carve.New(n, carve.OptionsFor(s))
	return m
}

// Choices returns all jigs that there are, in order.
func Choices(n *neck.Neck, o Options) []Choice { return newMaker(n, o).choices() }

func (m *maker) choices() []Choice {
	var out []Choice
	for i := range kinds {
		k := &kinds[i]
		out = append(out, Choice{k.name, k.title, k.cause(m)})
	}
	return out
}

// Names returns the names of all jigs.
func Names() []string {
	var out []string
	for i := range kinds {
		out = append(out, kinds[i].name)
	}
	return out
}

// Set is the jigs that spec and tools give cause for, and why any of them cannot be
// made of this neck.
type Set struct {
	Jigs    []Jig
	LeftOut []error
	Choices []Choice // all that there are, as Choices has them
}

// Default returns the jigs that spec and tools give cause for. An error is about the
// options.
func Default(n *neck.Neck, o Options) (Set, error) {
	var out Set
	if err := o.Check(n.Spec().Units); err != nil {
		return out, err
	}
	m := newMaker(n, o)
	return m.set(func(k *kind) bool { return k.cause(m) != "" }), nil
}

// New returns the jigs of the names given, or without names those of Default. It is
// an error if the neck has no use for one that is named, or if one does not go on
// the bed.
func New(n *neck.Neck, o Options, names ...string) ([]Jig, error) {
	if len(names) == 0 {
		set, err := Default(n, o)
		return set.Jigs, err
	}
	set, err := Named(n, o, names...)
	if err == nil && len(set.LeftOut) > 0 {
		err = set.LeftOut[0]
	}
	if err != nil {
		return nil, err
	}
	return set.Jigs, nil
}

// Named returns the jigs of the names given, and why any of them cannot be made of
// this neck. An error is about the options or the names.
func Named(n *neck.Neck, o Options, names ...string) (Set, error) {
	var out Set
	if err := o.Check(n.Spec().Units); err != nil {
		return out, err
	}
	for _, name := range names {
		if !slices.Contains(Names(), name) {
			return out, fmt.Errorf("there is no jig %q; allowed: %s", name, strings.Join(Names(), ", "))
		}
	}
	return newMaker(n, o).set(func(k *kind) bool { return slices.Contains(names, k.name) }), nil
}

// set makes the jigs of the kinds wanted, at once, and keeps why any of them cannot be
// made.
func (m *maker) set(wanted func(*kind) bool) Set {
	var list []*kind
	for i := range kinds {
		if wanted(&kinds[i]) {
			list = append(list, &kinds[i])
		}
	}
	jigs, faults := make([]Jig, len(list)), make([]error, len(list))
	numeric.EachAtOnce(len(list), func(i int) { jigs[i], faults[i] = list[i].make(m) })
	out := Set{Choices: m.choices()}
	for i, err := range faults {
		if err != nil {
			out.LeftOut = append(out.LeftOut, err)
			continue
		}
		out.Jigs = append(out.Jigs, jigs[i])
	}
	return out
}

// inInches returns lines of use with the lengths that they name in inches.
func inInches(use []string) []string {
	out := slices.Clone(use)
	for i := range out {
		out[i] = strings.ReplaceAll(out[i], "60 to 80 mm", "2-1/2 to 3 in")
	}
	return out
}

// goesOn returns an error if the bed has no room for a part, as it lies or turned by a
// right angle.
func (m *maker) goesOn(p *Part) error {
	var wide, deep float64
	if p.Flat() {
		lo, hi := p.Region.Bounds()
		wide, deep = hi.X-lo.X, hi.Y-lo.Y
	} else {
		lo, hi := p.Mesh.Bounds()
		wide, deep = hi.X-lo.X, hi.Y-lo.Y
	}
	const slack = 1e-6
	fits := func(x, y float64) bool { return x <= m.Across+slack && y <= m.Along+slack }
	if fits(wide, deep) || fits(deep, wide) {
		return nil
	}
	return fmt.Errorf("%s is %s x %s, too large for a bed with room for %s x %s; allowed: a larger bed",
		p.Name, m.u.Rounded(wide), m.u.Rounded(deep), m.u.Rounded(m.Across), m.u.Rounded(m.Along))
}

// make makes a jig of its kind.
func (k *kind) make(m *maker) (Jig, error) {
	parts, gaps, err := k.build(m)
	if err != nil {
		return Jig{}, fmt.Errorf("%s: %w", k.name, err)
	}
	for i := range parts {
		if err := m.goesOn(&parts[i]); err != nil {
			return Jig{}, fmt.Errorf("%s: %w", k.name, err)
		}
	}
	use, never, backUp := k.use[:], k.never, k.backUp
	if k.onTable != nil && m.plan != nil && m.plan.Options.Mode == carve.ModeTable {
		use, never, backUp = k.onTable[:3], k.onTable[3], false
	}
	if k.useOf != nil {
		use = slices.Clone(use)
		k.useOf(m, use)
	}
	if m.u == spec.Inch {
		use = inInches(use)
	}
	j := Jig{Name: k.name, Title: k.title, Parts: parts, Use: use, Never: never, Gaps: gaps, BackUp: backUp, Board: k.board}
	if k.wood != nil {
		j.Wood = k.wood(m)
	}
	return j, nil
}
