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

// options reads the flags into the options of a plan. A bare number is in the
// spec's unit; the plan is in inches where they are asked for.
func (f *planFlags) options(given *pflag.FlagSet, n *neck.Neck) (carve.Options, error) {
	o := carve.DefaultOptions(n.Spec().Units)
	if f.table.inches {
		o.Unit = spec.Inch
	}
	for _, read := range []func(*pflag.FlagSet, *neck.Neck, *carve.Options) error{
		f.lengths, f.numbers, f.names, f.places,
	} {
		if err := read(given, n, &o); err != nil {
			return o, err
		}
	}
	return o, nil
}

// mayBeZero are the lengths of which 0 says something.
var mayBeZero = []string{"allowance", "bearing", "straight", "sled-offset", "height"}

func (f *planFlags) lengths(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	for _, l := range []struct {
		flag, text string
		into       *float64
	}{
		{"stock-depth", f.stock, &o.StockDepth},
		{"allowance", f.allowance, &o.Allowance},
		{"bit-radius", f.radius, &o.Bit.Radius},
		{"bearing", f.bearing, &o.Bit.Offset},
		{"bit-diameter", f.diameter, &o.Bit.Diameter},
		{"bearing-height", f.bearingHeight, &o.Bit.BearingHeight},
		{"straight", f.straight, &o.Bit.Straight},
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
	} {
		if l.text == "" && !given.Changed(l.flag) {
			continue
		}
		v, err := spec.ParseLength(l.text, n.Spec().Units)
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
	rate := 0.0
	for _, v := range []struct {
		flag, text, unit, example string
		into                      *float64
	}{
		{"sled-modulus", f.modulus, "MPa", "9000", &o.Sled.Modulus},
		{"router-mass", f.mass, "kg", "3.5", &o.Sled.RouterMass},
		{"hand-rate", f.handRate, "cm3 a minute", "2.5", &rate},
	} {
		if v.text == "" && !given.Changed(v.flag) {
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
	o.HandRate = rate * 1e3
	var err error
	if o.Pairs, err = strconv.Atoi(strings.TrimSpace(f.pairs)); err != nil {
		return wrong("--pairs %q; allowed: 1, 2 or 3 pairs of flats", f.pairs)
	}
	return nil
}

func (f *planFlags) names(given *pflag.FlagSet, _ *neck.Neck, o *carve.Options) error {
	var err error
	if o.Guide, err = carve.ParseGuide(f.guide); err != nil {
		return wrong("--guide: %w", err)
	}
	if o.Reference, err = carve.ParseReference(f.reference); err != nil {
		return wrong("--reference: %w", err)
	}
	switch f.carries {
	case "work":
	case "router":
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
