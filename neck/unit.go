package neck

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
