package spec

import (
	"fmt"
	"math"
)

// Ranged is a length in mm that an option gives, and the least and the greatest
// that it may be.
type Ranged struct {
	Name            string
	Value, From, To float64
}

// Within returns an error that names the first length out of its limits, with
// all of them in the unit. The limits that it names are within them.
func (u Unit) Within(all []Ranged) error {
	for _, l := range all {
		if !(l.Value >= l.From && l.Value <= l.To) {
			return fmt.Errorf("%s is %s; allowed: %s to %s", l.Name, u.Format(l.Value), u.Limit(l.From, math.Ceil), u.Limit(l.To, math.Floor))
		}
	}
	return nil
}
