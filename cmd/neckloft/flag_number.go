package main

import (
	"math"
	"strconv"
	"strings"

	"github.com/spf13/pflag"
)

// numberFlag is a number of a unit that is not of length, such as kg.
type numberFlag struct {
	name, text    string
	unit, example string
	value         float64
}

// addNumber defines a flag that is a number of a unit; def may be empty.
func addNumber(fs *pflag.FlagSet, f *numberFlag, name, def, unit, example, usage string) {
	*f = numberFlag{name: name, unit: unit, example: example}
	if def != "" {
		if err := f.Set(def); err != nil {
			panic(err) // a slip in the verb
		}
	}
	fs.Var(f, name, usage)
}

func (f *numberFlag) String() string { return f.text }
func (f *numberFlag) Type() string   { return "number" }

func (f *numberFlag) Set(text string) error {
	v, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	if decimalNumber.MatchString(text) {
		return wrong("--%s %q has a decimal comma, and the decimal point is a dot here; type %s", f.name, text, strings.Replace(text, ",", ".", 1))
	}
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return wrong("--%s %q is no number; allowed: a number in %s, such as %s", f.name, text, f.unit, f.example)
	}
	f.text, f.value = text, v
	return nil
}
