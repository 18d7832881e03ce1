package main

import (
	"strings"

	"github.com/spf13/pflag"

	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// stationsFlag is a list of stations as they were typed: "frets", or frets and
// distances with commas between. A bare distance is in the spec's unit, so that
// the text is kept until the spec is read.
type stationsFlag struct{ name, text string }

// addStations defines a flag that is a list of stations; def may be empty.
func addStations(fs *pflag.FlagSet, f *stationsFlag, name, def, usage string) {
	*f = stationsFlag{name, def}
	fs.Var(f, name, usage)
}

func (f *stationsFlag) String() string { return f.text }
func (f *stationsFlag) Type() string   { return "stations" }

func (f *stationsFlag) Set(text string) error {
	if text == "" {
		return wrong("--%s: stations are wanted, such as 1,5,12 or x=120mm", f.name)
	}
	f.text = text
	return nil
}

// given reports whether there are stations, typed or by default.
func (f *stationsFlag) given() bool { return f.text != "" }

// frets reports whether all frets were asked for, and no stations by name.
func (f *stationsFlag) frets() bool { return f.text == "frets" }

// places returns the stations on a neck.
func (f *stationsFlag) places(n *neck.Neck) ([]spec.Place, error) {
	out, err := bench.Stations(f.text, n)
	if err == nil {
		return out, nil
	}
	items := listed(f.text)
	for i, text := range items {
		if _, err := spec.ParsePlace(text, n.Spec().Units); err == nil {
			continue
		}
		if hint := listComma(items, i, n.Spec().Units); hint != "" {
			return nil, wrong("--%s: %s", f.name, hint)
		}
		break
	}
	return nil, wrong("--%s: %w", f.name, err)
}

// listed parts a list at its commas.
func listed(text string) []string {
	if text == "" {
		return nil
	}
	return strings.Split(text, ",")
}

// alongFlags are the two ways to say where along a neck: --at and --every.
type alongFlags struct {
	at    stationsFlag
	every lengthFlag
}

// check refuses both at once. A default of --at gives way to --every.
func (f *alongFlags) check(given *pflag.FlagSet) error {
	if given.Changed("every") && given.Changed("at") {
		return wrong("--at and --every exclude each other")
	}
	return nil
}

// places returns the stations on a neck.
func (f *alongFlags) places(n *neck.Neck) ([]spec.Place, error) {
	if !f.every.given() {
		return f.at.places(n)
	}
	spacing, err := f.every.mm(n.Spec().Units)
	if err != nil {
		return nil, err
	}
	places, err := n.Every(spacing)
	if err != nil {
		return nil, wrong("--every: %w", err)
	}
	return places, nil
}
