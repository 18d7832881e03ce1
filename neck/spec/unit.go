package spec

import (
	"math"
	"strconv"
	"strings"

	"neckloft/neck/numeric"
)

// MillimetresPerInch is the international inch, exact by definition
// (NIST Special Publication 811, appendix B).
const MillimetresPerInch = 25.4

// Unit is a unit of length for reading and printing. Inside the program every
// length is in millimetres.
type Unit int

const (
	Millimetre Unit = iota
	Inch
)

// String returns the unit's symbol, as a spec file and a table heading use it.
func (u Unit) String() string {
	if u == Inch {
		return "in"
	}
	return "mm"
}

// Millimetres returns the length of v of this unit in millimetres.
func (u Unit) Millimetres(v float64) float64 {
	if u == Inch {
		return v * MillimetresPerInch
	}
	return v
}

// Of returns the length mm, in millimetres, in this unit.
func (u Unit) Of(mm float64) float64 {
	if u == Inch {
		return mm / MillimetresPerInch
	}
	return mm
}

// Format prints a length of mm millimetres in this unit with its symbol.
// Millimetres carry at most 3 decimals and inches at most 4, without trailing
// zeros.
func (u Unit) Format(mm float64) string {
	return Number(u.Of(mm), u.decimals()) + " " + u.String()
}

// Limit is Format with the last decimal rounded by round, so that a
// limit that is printed keeps the limit that is tested. A number that has no
// more decimals than are printed stays as it is.
func (u Unit) Limit(mm float64, round func(float64) float64) string {
	unit := math.Pow10(u.decimals())
	scaled := u.Of(mm) * unit
	if nearest := math.Round(scaled); math.Abs(scaled-nearest) > 1e-6 {
		scaled = round(scaled)
	}
	return Number(scaled/unit, u.decimals()) + " " + u.String()
}

// Volume returns a volume of mm³ in the unit that volumes of wood are told in:
// cm³ beside millimetres, in³ beside inches.
func (u Unit) Volume(mm3 float64) float64 {
	if u == Inch {
		return mm3 / (MillimetresPerInch * MillimetresPerInch * MillimetresPerInch)
	}
	return mm3 / 1e3
}

// VolumeName returns the name of that unit in keys and text.
func (u Unit) VolumeName() string {
	if u == Inch {
		return "in3"
	}
	return "cm3"
}

// RoundedVolume prints a computed volume with its unit, to a tenth of a cm³ or a
// hundredth of an in³.
func (u Unit) RoundedVolume(mm3 float64) string {
	decimals := 1
	if u == Inch {
		decimals = 2
	}
	return strconv.FormatFloat(numeric.Steady(u.Volume(mm3)), 'f', decimals, 64) + " " + u.VolumeName()
}

func (u Unit) decimals() int {
	if u == Inch {
		return 4
	}
	return 3
}

// Rounded prints a computed length of mm millimetres in this unit with its
// symbol, to two decimals in millimetres and three in inches.
func (u Unit) Rounded(mm float64) string {
	if u == Inch {
		return Number(u.Of(mm), 3) + " in"
	}
	return Number(mm, 2) + " mm"
}

// Number prints v with at most the given decimals and no trailing zeros.
// A number too large or too small for that is printed with an exponent, so
// that no other value than 0 reads as 0.
func Number(v float64, decimals int) string {
	size := math.Abs(v)
	if math.IsNaN(v) || size >= 1e9 || v != 0 && size < 0.5*math.Pow10(-decimals) {
		return strconv.FormatFloat(v, 'g', 4, 64)
	}
	text := strconv.FormatFloat(numeric.Steady(v), 'f', decimals, 64)
	if decimals == 0 {
		return text
	}
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// Length prints a length of mm millimetres in the spec's unit with the unit's
// symbol: "18.2 mm" or "0.7165 in". Millimetres carry at most 3 decimals and
// inches at most 4, without trailing zeros.
func (s *Spec) Length(mm float64) string { return s.Units.Format(mm) }
