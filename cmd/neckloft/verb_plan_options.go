package main

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// options returns the options of a plan: those of the spec's tools, and in their
// place what the flags say. A bare number is in the spec's unit.
func (f *planFlags) options(given *pflag.FlagSet, n *neck.Neck) (carve.Options, error) {
	o := carve.OptionsFor(n.Spec())
	o.Unit = f.table.asked.unit(o.Unit)
	for _, read := range []func(*pflag.FlagSet, *neck.Neck, *carve.Options) error{
		f.lengths, f.bit, f.numbers, f.names, f.modes.read, f.places,
	} {
		if err := read(given, n, &o); err != nil {
			return o, err
		}
	}
	return o, nil
}

// mayBeZero are the lengths of which 0 says something.
var mayBeZero = []string{"allowance", "bearing", "straight", "sled-offset", "height"}

// bit reads the flags of the bit. Of a radius that the builder has a bit of the
// rest is that bit's; what a flag says of the rest holds for all bits.
func (f *planFlags) bit(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	read := func(b *carve.Bit) error {
		return readLengths(given, n.Spec().Units, []flagLength{
			{"bearing", f.bearing, &b.Offset},
			{"bit-diameter", f.diameter, &b.Diameter},
			{"bearing-height", f.bearingHeight, &b.BearingHeight},
			{"straight", f.straight, &b.Straight},
		})
	}
	radius := 0.0
	if err := readLengths(given, n.Spec().Units, []flagLength{{"bit-radius", f.radius, &radius}}); err != nil {
		return err
	}
	if radius != 0 {
		o.Bit.Radius = radius
		if mine, ok := o.OwnedAs(radius); ok {
			o.Bit = mine
		}
	}
	if err := read(&o.Bit); err != nil {
		return err
	}
	if given.Changed("bit-diameter") {
		return nil // which is of one bit
	}
	for i := range o.Owned {
		if err := read(&o.Owned[i]); err != nil {
			return err
		}
	}
	return nil
}

func (f *planFlags) lengths(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	return readLengths(given, n.Spec().Units, []flagLength{
		{"stock-depth", f.stock, &o.StockDepth},
		{"allowance", f.allowance, &o.Allowance},
		{"base", f.base, &o.Base},
		{"template", f.template, &o.Template},
		{"height", f.height, &o.Height},
		{"step", f.step, &o.Step},
		{"sled-span", f.span, &o.Sled.Span},
		{"sled-offset", f.offset, &o.Sled.Offset},
		{"sled-unsupported", f.unsupported, &o.Sled.Unsupported},
		{"sled-thickness", f.thickness, &o.Sled.Thickness},
		{"sled-width", f.plateWidth, &o.Sled.Width},
		{"feed", f.feed, &o.Feed},
	})
}

// flagLength is a flag that is a length, and where it goes.
type flagLength struct {
	flag, text string
	into       *float64
}

// readLengths reads those of the flags that were given.
func readLengths(given *pflag.FlagSet, bare spec.Unit, flags []flagLength) error {
	for _, l := range flags {
		if !given.Changed(l.flag) {
			continue
		}
		v, err := spec.ParseLength(l.text, bare)
		if err == nil && v == 0 && !known(l.flag, mayBeZero) {
			err = errors.New("0 is no length here; leave the flag out or give more than 0")
		}
		if err != nil {
			return wrong("--%s: %w", l.flag, err)
		}
		*l.into = v
	}
	return nil
}

func (f *planFlags) numbers(given *pflag.FlagSet, _ *neck.Neck, o *carve.Options) error {
	rate := o.HandRate / 1e3
	for _, v := range []struct {
		flag, text, unit, example string
		into                      *float64
	}{
		{"sled-modulus", f.modulus, "MPa", "9000", &o.Sled.Modulus},
		{"router-mass", f.mass, "kg", "3.5", &o.Sled.RouterMass},
		{"hand-rate", f.handRate, "cm3 a minute", "2.5", &rate},
	} {
		if !given.Changed(v.flag) {
			continue
		}
		x, err := strconv.ParseFloat(strings.TrimSpace(v.text), 64)
		if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
			return wrong("--%s %q is no number; allowed: a number in %s, such as %s", v.flag, v.text, v.unit, v.example)
		}
		*v.into = x
	}
	if given.Changed("hand-rate") && !(rate > 0) {
		return wrong("--hand-rate %g; allowed: more than 0 cm3 a minute", rate)
	}
	if given.Changed("hand-rate") {
		o.HandRate = rate * 1e3
	}
	var err error
	if o.Pairs, err = strconv.Atoi(strings.TrimSpace(f.pairs)); err != nil {
		return wrong("--pairs %q; allowed: 1, 2 or 3 pairs of flats", f.pairs)
	}
	return nil
}

func (f *planFlags) names(given *pflag.FlagSet, _ *neck.Neck, o *carve.Options) error {
	var err error
	if given.Changed("guide") {
		if o.Guide, err = carve.ParseGuide(f.guide); err != nil {
			return wrong("--guide: %w", err)
		}
	}
	if given.Changed("template") && o.Guide != carve.GuideTemplate {
		return wrong("--template goes with --guide template")
	}
	if o.Reference, err = carve.ParseReference(f.reference); err != nil {
		return wrong("--reference: %w", err)
	}
	switch {
	case !given.Changed("sled-carries"):
	case f.carries == spec.CarriesWork:
		o.Sled.Carries = carve.CarriesWork
	case f.carries == spec.CarriesRouter:
		o.Sled.Carries = carve.CarriesRouter
	default:
		return wrong("--sled-carries %q is unknown; allowed: work, router", f.carries)
	}
	if !given.Changed("species") {
		return nil
	}
	wood, ok := spec.FindSpecies(f.species)
	if !ok {
		var names []string
		for _, w := range spec.AllSpecies() {
			names = append(names, w.Name)
		}
		return wrong("--species %q is not in the table of woods; allowed: %s; or give density under [wood] in the spec",
			f.species, strings.Join(names, ", "))
	}
	o.Wood = spec.Wood{Species: wood.Name}
	return nil
}

// places reads the stations. Of many that are asked for at once those count that
// lie where the plan works.
func (f *planFlags) places(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	if !given.Changed("at") && !given.Changed("every") {
		return nil
	}
	places, err := stationPlaces(n, f.at, f.every)
	if err != nil {
		return err
	}
	o.Places = places
	if f.every == "" && f.at != "frets" {
		return nil
	}
	st := carve.StretchOf(n)
	o.Places = nil
	for _, place := range places {
		if st.Holds(n.Spec().X(place)) {
			o.Places = append(o.Places, place)
		}
	}
	if len(o.Places) == 0 {
		u := n.Spec().Units
		return wrong("no station lies between %s and %s, where the plan works", u.Rounded(st.From), u.Rounded(st.To))
	}
	return nil
}
