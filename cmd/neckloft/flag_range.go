package main

import (
	"github.com/spf13/pflag"

	"neckloft/neck/spec"
)

// rangedFlags are the flags whose lengths other packages judge, by the names that
// these have for them. What is not here has its flag's name.
var rangedFlags = map[string]string{
	// Of mill.
	"the ball nose":                "ball",
	"the step":                     "step",
	"the cutter":                   "cutter",
	"the pin":                      "pin",
	"the number of tabs on a side": "tabs",
	// Of plan.
	"the allowance":                           "allowance",
	"the stock's depth":                       "stock-depth",
	"the template's thickness":                "template",
	"the depth of a pass":                     "step",
	"the base plate's half width":             "base",
	"the bit's radius":                        "bit-radius",
	"the bearing's offset":                    "bearing",
	"the bearing's height":                    "bearing-height",
	"the straight edge above the bit's arc":   "straight",
	"the router's feed a minute":              "feed",
	"the height of what lies under the board": "under",
	"the packing's thickness at the nut end":  "packing",
	"the packing's thickness at the body end": "packing",
	"the bearing's diameter":                  "bearings",
	"a layer of tape":                         "tape",
	"the template's overhang":                 "overhang",
	"the sled's span":                         "sled-span",
	"the sled's offset":                       "sled-offset",
	"the length of the sled's plate":          "sled-length",
	"the thickness of the sled's bed":         "sled-bed",
	"the height under the sled's plate":       "sled-under",
	"the sled's unsupported length":           "sled-unsupported",
	"the sled's modulus":                      "sled-modulus",
	"the router's mass":                       "router-mass",
	"the bit's height":                        "height",
	"hand work":                               "hand-rate",
	"the allowance of the side profile":       "blank-allowance",
	"the table's reach from the bit's axis":   "table-size",
	"the radius of the table's opening":       "table-opening",
	// Of gauges.
	"board gap":            "board-gap",
	"leg width":            "leg-width",
	"leg height":           "leg-height",
	"corner radius":        "corner",
	"foot corner radius":   "foot-corner",
	"the sled's thickness": "sled-thickness",
	"the sled's width":     "sled-width",
}

// halfFlags are the flags whose halves are judged.
var halfFlags = map[string]bool{"table-size": true, "table-opening": true}

// flagRange blames the flag that gave a length out of its range. An error about
// anything else, or about what stands in the spec, stays as it is.
func flagRange(given *pflag.FlagSet, err error) error {
	out, ok := err.(spec.OutOfRange)
	if !ok {
		return err
	}
	name := out.Name
	if flag := rangedFlags[name]; flag != "" {
		name = flag
	}
	if given.Lookup(name) == nil || !given.Changed(name) {
		return err
	}
	if halfFlags[name] {
		return wrong("--%s: %w", name, err)
	}
	return wrong("--%s: %s; allowed: %s", name, out.Value, out.Allowed)
}
