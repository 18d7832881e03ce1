package export

import (
	"math"
	"strconv"
	"strings"

	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Kind says what the cells of a column hold.
type Kind int

const (
	TextKind   Kind = iota // words
	LengthKind             // a length in mm
	AreaKind               // an area in mm²
	VolumeKind             // a volume in mm³, printed in cm³ or in³
	NumberKind             // a number that no unit of length touches
	CountKind              // a whole number
)

// Column describes a column of a table. It has one name, its key; what stands
// over it in text is made of that.
type Column struct {
	Key  string // in csv and json, without the unit of a length, area or volume
	Kind Kind

	// Heading takes the place of the heading that the key gives, where only
	// what is in the table can tell it.
	Heading string

	// InchKey takes the place of Key in a table in inches, for a key that
	// itself names a length in mm. Empty means the same key.
	InchKey string

	// Towards is where a number goes that has more decimals than are printed: to
	// the nearest for 0, down for -1, up for 1. A limit that is not to be passed
	// is rounded to its safe side.
	Towards int

	// Unit is what text shows below the heading of a column that is neither a
	// length nor an area, such as "deg" or "g".
	Unit string
}

func textColumn(key string) Column   { return Column{Key: key} }
func lengthColumn(key string) Column { return Column{Key: key, Kind: LengthKind} }

// numberColumn returns a column in a unit of its own, which ends its key.
func numberColumn(key, unit string) Column {
	if unit != "" {
		key += "_" + unitKey(unit)
	}
	return Column{Key: key, Kind: NumberKind, Unit: unit}
}

// unitKey writes a unit in a key.
func unitKey(unit string) string {
	if unit == "%" {
		return "percent"
	}
	return strings.ToLower(strings.NewReplacer(" ", "", "²", "2", "⁴", "4", "/", "_per_").Replace(unit))
}

// shortHeadings are the headings that are not their key with blanks, so that a
// table of text fits a terminal. This is the only place that names a column
// otherwise than its key does.
var shortHeadings = map[string]string{
	"apex_y":          "apex",
	"centre":          "on centre",
	"centroid_z":      "centroid",
	"neutral_z":       "neutral",
	"i_wood":          "I wood",
	"ei":              "EI",
	"ei_wood":         "EI wood",
	"ei_nut_third":    "EI nut",
	"ei_middle_third": "EI middle",
	"ei_body_third":   "EI body",
	"narrow_width":    "to width",
	"rough_thickness": "rough thick",
	"shoulder_bass":   "bass sh.",
	"shoulder_treble": "treble sh.",
}

// difference ends the key of a column that holds the difference of the one
// before it.
const difference = "_diff"

// heading returns what stands over the column in text.
func (c *Column) heading() string {
	if c.Heading != "" {
		return c.Heading
	}
	key := c.Key
	if c.Unit != "" {
		key = strings.TrimSuffix(key, "_"+unitKey(c.Unit))
	}
	if strings.HasSuffix(key, difference) {
		return "diff"
	}
	if h := shortHeadings[key]; h != "" {
		return h
	}
	return strings.ReplaceAll(key, "_", " ")
}

// diff returns the column of the difference of this one.
func (c Column) diff() Column {
	end := ""
	if c.Unit != "" {
		end = "_" + unitKey(c.Unit)
	}
	c.Key = strings.TrimSuffix(c.Key, end) + difference + end
	return c
}

// key returns the column's name in csv and json.
func (c *Column) key(unit spec.Unit) string {
	key := c.Key
	if unit == spec.Inch && c.InchKey != "" {
		key = c.InchKey
	}
	switch c.Kind {
	case LengthKind:
		key += "_" + unit.String()
	case AreaKind:
		key += "_" + unit.String() + "2"
	case VolumeKind:
		key += "_" + unit.VolumeName()
	}
	return key
}

// unit returns what text shows below the heading.
func (c *Column) unit(unit spec.Unit) string {
	switch c.Kind {
	case LengthKind:
		return unit.String()
	case AreaKind:
		return unit.String() + "²"
	case VolumeKind:
		return unit.VolumeName()
	}
	return c.Unit
}

// number returns a filled number of the column, with the given decimals in
// millimetres and one more in inches.
func (c *Column) number(v float64, unit spec.Unit, decimals int) string {
	switch c.Kind {
	case LengthKind:
		v = unit.Of(v)
	case AreaKind:
		v = unit.Of(unit.Of(v))
	case VolumeKind:
		v = unit.Volume(v)
	case CountKind:
		decimals = 0
	}
	if unit == spec.Inch && c.Kind != TextKind && c.Kind != NumberKind && c.Kind != CountKind || c.Unit == spec.Inch.String() || c.Unit == inchThousandths {
		decimals++
	}
	if c.Towards != 0 {
		// A number that is whole but for a rounding error stays.
		unit, side := math.Pow10(decimals), float64(c.Towards)
		v = side * math.Ceil(side*v*unit-1e-6) / unit
	}
	s := strconv.FormatFloat(numeric.Steady(v), 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-") // a rounded-off value has no sign
	}
	return s
}
