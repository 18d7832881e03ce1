package main

import (
	"github.com/spf13/pflag"

	"neckloft/neck"
	"neckloft/neck/carve"
)

// bitFlags are the flags of the round-over bit.
type bitFlags struct {
	radius                                     lengthFlag
	bearing, diameter, bearingHeight, straight lengthFlag
}

// add adds the flags of the bit to a verb.
func (f *bitFlags) add(fl *pflag.FlagSet, b carve.Bit) {
	addLength(fl, &f.radius, "bit-radius", "", "radius of the round-over bit, such as 12.7mm or 1/2in; without it the one that leaves least, of the bits you have or the common sizes")
	addLength(fl, &f.bearing, "bearing", "0mm", "how far the bearing holds the arc's end off the guide, outward")
	addLength(fl, &f.diameter, "bit-diameter", "", "largest diameter of the bit; without it twice the radius and a bearing of 12.7mm")
	addLength(fl, &f.bearingHeight, "bearing-height", inMM(b.BearingHeight), "from the arc's end to the foot of the bearing")
	addLength(fl, &f.straight, "straight", inMM(b.Straight), "straight cutting edge above the bit's arc")
}

// read reads what was given of the bit. Of a radius that the builder has a bit
// of the rest is that bit's; what a flag says of the rest holds for all bits.
func (f *bitFlags) read(given *pflag.FlagSet, n *neck.Neck, o *carve.Options) error {
	if given.Changed("bit-radius") {
		radius, err := (&boundLength{flag: &f.radius}).mm(n.Spec().Units)
		if err != nil {
			return err
		}
		o.Bit.Radius = radius
		if mine, ok := o.OwnedAs(radius); ok {
			o.Bit = mine
		}
	}
	if err := f.rest(given, n, &o.Bit); err != nil {
		return err
	}
	if given.Changed("bit-diameter") {
		return nil // which is of one bit
	}
	for i := range o.Owned {
		if err := f.rest(given, n, &o.Owned[i]); err != nil {
			return err
		}
	}
	return nil
}

// rest reads what was given of a bit besides its radius.
func (f *bitFlags) rest(given *pflag.FlagSet, n *neck.Neck, b *carve.Bit) error {
	for _, l := range []struct {
		boundLength
		into *float64
	}{
		{boundLength{flag: &f.bearing, zero: true}, &b.Offset},
		{boundLength{flag: &f.diameter}, &b.Diameter},
		{boundLength{flag: &f.bearingHeight}, &b.BearingHeight},
		{boundLength{flag: &f.straight, zero: true}, &b.Straight},
	} {
		if !given.Changed(l.flag.name) {
			continue
		}
		v, err := l.mm(n.Spec().Units)
		if err != nil {
			return err
		}
		*l.into = v
	}
	return nil
}
