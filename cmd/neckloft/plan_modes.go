package main

import (
	"slices"

	"github.com/spf13/pflag"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// modeFlags are the flags of plan that say how the builder works, and with what.
type modeFlags struct {
	router, blankState, blankBuild, tilts string
	tableSize, opening, under, layer      lengthFlag
	blankAllowance, bed, length, underBed lengthFlag
	packing, bearings, overhangs, shims   lengthsFlag
	boardOn, fixed, offsets               bool
}

// mostLayers is as many layers of tape as are tried.
const mostLayers = 6

func (f *modeFlags) add(fl *pflag.FlagSet) {
	addChoice(fl, &f.router, "router", "", "how the router is worked with: hand or table", "hand", "table")
	addLength(fl, &f.tableSize, "table-size", "", "length of the router table along the feed, the bit in its middle; without it longer than the neck")
	addLength(fl, &f.opening, "table-opening", "", "width of the opening that the bit comes through")
	addLengths(fl, &f.packing, "packing", "", "thickness of what lies between the flat back and the table, or two of them: at the nut end and at the body end of the run")
	fl.BoolVar(&f.boardOn, "board-on", false, "the fretboard is glued on: the neck lies on its face, and its edge guides the bearing too")
	addLength(fl, &f.under, "under", "", "with --board-on: height of frets or a strip under the board")
	fl.BoolVar(&f.offsets, "offsets", false, "try the bearings that are sold and, with a template, overhangs up to 4 mm, each with every bit")
	addLength(fl, &f.layer, "tape", "", "thickness of a layer of tape on what the bearing runs on: up to 6 layers are tried")
	addLengths(fl, &f.bearings, "bearings", "", "diameters of the bearings that can be had, such as 12.7mm,16mm")
	addLengths(fl, &f.overhangs, "overhang", "", "how far a template stands out of the neck's sides; several are tried")
	addChoice(fl, &f.blankState, "blank-state", "", "what the blank is like now: squared or \"side profile\"", spec.BlankSquared, spec.BlankProfile)
	addChoice(fl, &f.blankBuild, "blank-build", "", "what it is glued up of: \"one piece\", scarfed, \"stacked heel\" or both",
		spec.BlankOnePiece, spec.BlankScarfed, spec.BlankStacked, spec.BlankBoth)
	addLength(fl, &f.blankAllowance, "blank-allowance", "", "what a side profile that is cut leaves over the finished back")
	addLengths(fl, &f.shims, "shims", "", "thicknesses of the sheets that shims are stacked of, such as 0.1mm,0.6mm")
	addChoice(fl, &f.tilts, "sled-tilts", "", "what of the sled stands on hinge and shim: bed or carriage", "bed", "carriage")
	addLength(fl, &f.length, "sled-length", "", "length of the plate that tilts, from the hinge: the shim stands no farther")
	addLength(fl, &f.bed, "sled-bed", "", "thickness of what the neck lies on")
	addLength(fl, &f.underBed, "sled-under", "", "height under the plate at its hinge")
	fl.BoolVar(&f.fixed, "sled-fixed", false, "the shim can stand at --sled-span and nowhere else")
}

// into reads a length where it was given.
func (f *lengthFlag) into(given *pflag.FlagSet, bare spec.Unit, v *float64) error {
	if !given.Changed(f.name) {
		return nil
	}
	mm, err := f.mm(bare)
	if err == nil {
		*v = mm
	}
	return err
}

// read takes the flags into the options of a plan.
func (f *modeFlags) read(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	for _, step := range []func(*pflag.FlagSet, *neck.Neck, *carve.Options) error{
		f.routing, f.offering, f.blank, f.sled,
	} {
		if err := step(given, n, o); err != nil {
			return err
		}
	}
	return nil
}

// routing reads how the router is worked with.
func (f *modeFlags) routing(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	u := n.Spec().Units
	switch f.router {
	case "hand":
		o.Mode, o.Setup = carve.ModeHand, carve.TableSetup{}
	case "table":
		if o.Mode = carve.ModeTable; !given.Changed("base") {
			o.Base = 0
		}
	}
	o.BoardOn = f.boardOn
	size, opening := 2*o.Setup.Half, 2*o.Setup.Opening
	for _, l := range []struct {
		flag *lengthFlag
		into *float64
	}{{&f.tableSize, &size}, {&f.opening, &opening}, {&f.under, &o.Under}} {
		if err := l.flag.into(given, u, l.into); err != nil {
			return err
		}
	}
	o.Setup.Half, o.Setup.Opening = size/2, opening/2
	packing, err := f.packing.mm(u)
	if err != nil {
		return err
	}
	switch len(packing) {
	case 0:
	case 1:
		o.Packing = [2]float64{packing[0], packing[0]}
	case 2:
		o.Packing = [2]float64{packing[0], packing[1]}
	default:
		return wrong("--packing has %d thicknesses; allowed: one, or two for nut end and body end", len(packing))
	}
	return nil
}

// offering reads the ways to hold the bit off that can be had.
func (f *modeFlags) offering(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	u := n.Spec().Units
	layer := 0.0
	if err := f.layer.into(given, u, &layer); err != nil {
		return err
	}
	if given.Changed("tape") && !(layer > 0) {
		return wrong("--tape %s is no thickness; allowed: more than 0", f.layer.text)
	}
	bearings, err := f.bearings.mm(u)
	if err != nil {
		return err
	}
	overhangs, err := f.overhangs.mm(u)
	if err != nil {
		return err
	}
	var out []carve.OffsetOption
	if f.offsets {
		out = carve.CommonOffsets(layer)
		if o.Guide != carve.GuideTemplate {
			out = slices.DeleteFunc(out, func(c carve.OffsetOption) bool { return c.Overhang > 0 })
		}
	} else if layer > 0 || len(bearings) > 0 || len(overhangs) > 0 {
		out = []carve.OffsetOption{{}}
		for i := 1; layer > 0 && i <= mostLayers; i++ {
			out = append(out, carve.OffsetOption{Layers: i, Layer: layer})
		}
	}
	for _, d := range bearings {
		out = append(out, carve.OffsetOption{Bearing: d})
	}
	for _, v := range overhangs {
		out = append(out, carve.OffsetOption{Overhang: v})
	}
	o.Offsets = out
	return nil
}

// blank reads what the blank is like now, in place of what the spec says.
func (f *modeFlags) blank(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	b := spec.Blank{}
	if own := n.Spec().Blank; own != nil {
		b = *own
	}
	asked := false
	for _, c := range []struct {
		name string
		word string
		into *string
	}{{"blank-state", f.blankState, &b.State}, {"blank-build", f.blankBuild, &b.Build}} {
		if given.Changed(c.name) {
			*c.into, asked = c.word, true
		}
	}
	if err := f.blankAllowance.into(given, n.Spec().Units, &b.Allowance); err != nil {
		return err
	}
	if asked || given.Changed("blank-allowance") {
		state := carve.StateOf(&b)
		o.Blank = &state
	}
	return nil
}

// sled reads the sled as it is built.
func (f *modeFlags) sled(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	u := n.Spec().Units
	built := false
	for _, name := range []string{"shims", "sled-tilts", "sled-length", "sled-bed", "sled-under", "sled-fixed"} {
		built = built || given.Changed(name)
	}
	if !built {
		return nil
	}
	b := carve.BuildOf(o.Sled, carve.NewTapered(n).Taper)
	if f.tilts == "carriage" {
		b.Tilts = carve.TiltCarriage
	}
	b.Fixed = f.fixed
	for _, l := range []struct {
		flag *lengthFlag
		into *float64
	}{{&f.length, &b.Length}, {&f.bed, &b.Bed}, {&f.underBed, &b.Under}} {
		if err := l.flag.into(given, u, l.into); err != nil {
			return err
		}
	}
	shims, err := f.shims.mm(u)
	if err != nil {
		return err
	}
	for _, t := range shims {
		b.Stock = append(b.Stock, carve.Sheet{Name: "sheet", Thickness: t})
	}
	o.Build = &b
	return nil
}

// searches reports whether offsets are looked for with the bits.
func (f *modeFlags) searches(given *pflag.FlagSet) bool {
	return f.offsets || given.Changed("tape") || given.Changed("bearings") || given.Changed("overhang")
}
