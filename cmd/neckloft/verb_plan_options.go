package main

import (
	"slices"
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
	o.Pairs, _ = strconv.Atoi(f.pairs) // which is one of the words that it may be
	for _, read := range []func(*pflag.FlagSet, *neck.Neck, *carve.Options) error{
		f.readLengths, f.bit.read, f.readNumbers, f.names, f.modes.read, f.places,
	} {
		if err := read(given, n, &o); err != nil {
			return o, err
		}
	}
	return o, nil
}

// mm returns the length of a flag, which may not be 0 where that says nothing.
func (l *boundLength) mm(bare spec.Unit) (float64, error) {
	v, err := l.flag.mm(bare)
	if err == nil && v == 0 && !l.zero {
		err = wrong("--%s: 0 is no length here; leave the flag out or give more than 0", l.flag.name)
	}
	return v, err
}

func (f *planFlags) readLengths(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	for _, l := range f.lengths {
		if !given.Changed(l.flag.name) {
			continue
		}
		v, err := l.mm(n.Spec().Units)
		if err != nil {
			return err
		}
		*l.into(o) = v
	}
	return nil
}

func (f *planFlags) readNumbers(given *pflag.FlagSet, _ *neck.Neck, o *carve.Options) error {
	for _, v := range f.numbers {
		if given.Changed(v.flag.name) {
			*v.into(o) = v.flag.value * v.factor
		}
	}
	if given.Changed("hand-rate") && !(o.HandRate > 0) {
		return wrong("--hand-rate %g; allowed: more than 0 cm3 a minute", o.HandRate/1e3)
	}
	return nil
}

func (f *planFlags) names(given *pflag.FlagSet, _ *neck.Neck, o *carve.Options) (err error) {
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
	if given.Changed("sled-carries") {
		o.Sled.Carries = carve.CarriesWork
		if f.carries == spec.CarriesRouter {
			o.Sled.Carries = carve.CarriesRouter
		}
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
func (f *planFlags) places(_ *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	if !f.along.at.given() && !f.along.every.given() {
		return nil
	}
	places, err := f.along.places(n)
	if err != nil {
		return err
	}
	o.Places = places
	if !f.along.every.given() && !f.along.at.frets() {
		return nil
	}
	st := carve.StretchOf(n)
	o.Places = slices.DeleteFunc(places, func(p spec.Place) bool { return !st.Holds(n.Spec().X(p)) })
	if len(o.Places) == 0 {
		u := n.Spec().Units
		return wrong("no station lies between %s and %s, where the plan works", u.Rounded(st.From), u.Rounded(st.To))
	}
	return nil
}
