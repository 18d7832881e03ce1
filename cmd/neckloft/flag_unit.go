package main

import (
	"github.com/spf13/pflag"

	"neckloft/neck/spec"
)

// scanUnits are the units that a scan may be in, in millimetres.
var scanUnits = map[string]float64{"mm": 1, "cm": 10, "m": 1000, "in": spec.MillimetresPerInch}

// unitFlag is the unit of a scan by its symbol.
type unitFlag struct{ symbol string }

// addUnit defines a flag that is the unit of a scan.
func addUnit(fs *pflag.FlagSet, f *unitFlag, name, def, usage string) {
	addChoice(fs, &f.symbol, name, def, usage, "mm", "cm", "m", "in")
}

// mm returns the length of the unit in millimetres.
func (f unitFlag) mm() float64 { return scanUnits[f.symbol] }
