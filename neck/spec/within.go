package spec

import "math"

// Ranged is a length in mm that an option gives, and the least and the greatest
// that it may be.
type Ranged struct {
	Name            string
	Value, From, To float64
}

// OutOfRange is an option that is not within its limits, in the unit that is printed.
type OutOfRange struct{ Name, Value, Allowed string }

func (e OutOfRange) Error() string { return e.Name + " is " + e.Value + "; allowed: " + e.Allowed }

// Within returns an OutOfRange that names the first length out of its limits, with
// all of them in the unit. The limits that it names are within them.
func (u Unit) Within(all []Ranged) error {
	for _, l := range all {
		if !(l.Value >= l.From && l.Value <= l.To) {
			return OutOfRange{l.Name, u.Format(l.Value), u.Limit(l.From, math.Ceil) + " to " + u.Limit(l.To, math.Floor)}
		}
	}
	return nil
}
