package main

import (
	"strconv"

	"github.com/spf13/pflag"

	"neckloft/neck/spec"
)

// lengthFlag is a length as it was typed. A bare number is in the unit of a
// file that is read later, so that the text is kept until then.
type lengthFlag struct{ name, text string }

// addLength defines a flag that is a length; def may be empty.
func addLength(fs *pflag.FlagSet, f *lengthFlag, name, def, usage string) {
	*f = lengthFlag{name, def}
	fs.Var(f, name, usage)
}

func (f *lengthFlag) String() string { return f.text }
func (f *lengthFlag) Type() string   { return "length" }

func (f *lengthFlag) Set(text string) error {
	if text == "" {
		return wrong("--%s: a length is wanted, such as 25mm or 1-1/2in", f.name)
	}
	f.text = text
	return nil
}

// given reports whether there is a length, typed or by default.
func (f *lengthFlag) given() bool { return f.text != "" }

// bare reports whether the length was typed as a number without a unit.
func (f *lengthFlag) bare() bool {
	_, err := strconv.ParseFloat(f.text, 64)
	return err == nil
}

// mm returns the length in millimetres, of a bare number in this unit.
func (f *lengthFlag) mm(bare spec.Unit) (float64, error) {
	v, err := spec.ParseLength(f.text, bare)
	if err != nil {
		if hint := lengthSlip(f.text, bare); hint != "" {
			return 0, wrong("--%s: %s", f.name, hint)
		}
		return 0, wrong("--%s: %w", f.name, err)
	}
	return v, nil
}

// between is mm for a length from least to most millimetres.
func (f *lengthFlag) between(bare spec.Unit, least, most float64) (float64, error) {
	v, err := f.mm(bare)
	if err == nil && !(v >= least && v <= most) {
		err = wrong("--%s %s is not sensible; allowed: %s to %s", f.name, f.text, bare.Format(least), bare.Format(most))
	}
	return v, err
}

// asKey is mm for a length with the limits of a key of the spec.
func (f *lengthFlag) asKey(bare spec.Unit, key string) (float64, error) {
	field := spec.Keys().Field(key)
	return f.between(bare, field.Min, field.Max)
}

// lengthsFlag is a list of lengths with commas between.
type lengthsFlag struct{ lengthFlag }

// addLengths defines a flag that is a list of lengths.
func addLengths(fs *pflag.FlagSet, f *lengthsFlag, name, def, usage string) {
	f.lengthFlag = lengthFlag{name, def}
	fs.Var(f, name, usage)
}

func (f *lengthsFlag) Type() string { return "lengths" }

// mm returns the lengths in millimetres, none where none was given.
func (f *lengthsFlag) mm(bare spec.Unit) ([]float64, error) {
	var out []float64
	for _, text := range listed(f.text) {
		v, err := (&lengthFlag{f.name, text}).mm(bare)
		if err != nil {
			return nil, err
		}
		out = append(out, v)
	}
	return out, nil
}
