package main

import (
	"strconv"

	"github.com/spf13/pflag"

	"neckloft/neck/spec"
)

// askedUnit is the unit to print that --in or --mm asks for, if one does.
type askedUnit struct {
	said bool
	u    spec.Unit
}

// add defines --in and --mm.
func (a *askedUnit) add(fs *pflag.FlagSet) {
	for _, u := range []spec.Unit{spec.Inch, spec.Millimetre} {
		name := map[spec.Unit]string{spec.Inch: "inches", spec.Millimetre: "millimetres"}[u]
		fs.Var(&unitSwitch{a, u, false}, u.String(), "print "+name+", whatever the unit of the spec and the tools")
		fs.Lookup(u.String()).NoOptDefVal = "true"
	}
}

// unit returns the unit to print: the one asked for, or the usual one.
func (a *askedUnit) unit(usual spec.Unit) spec.Unit {
	if a.said {
		return a.u
	}
	return usual
}

// unitSwitch is one of the two flags of an askedUnit.
type unitSwitch struct {
	asked *askedUnit
	u     spec.Unit
	on    bool
}

func (f *unitSwitch) String() string   { return strconv.FormatBool(f.on) }
func (f *unitSwitch) Type() string     { return "bool" }
func (f *unitSwitch) IsBoolFlag() bool { return true }

func (f *unitSwitch) Set(text string) error {
	on, err := strconv.ParseBool(text)
	switch {
	case err != nil:
		return wrong("--%s=%s is not understood; the flag stands alone; allowed: true or false", f.u, text)
	case on && f.asked.said && f.asked.u != f.u:
		return wrong("--in and --mm exclude each other")
	case on:
		f.asked.said, f.asked.u = true, f.u
	case f.on:
		f.asked.said = false
	}
	f.on = on
	return nil
}
