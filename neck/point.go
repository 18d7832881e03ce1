package neck

// YZ is a point of a cross-section: Y across, negative on the bass side, Z up
// from the glue plane, both in millimetres.
type YZ struct{ Y, Z float64 }

// XYZ is a point in the neck's frame, in mm.
type XYZ struct{ X, Y, Z float64 }

// Side is one side of the neck.
type Side int

const (
	Bass Side = iota
	Treble
)

// Sign returns -1 for the bass side and +1 for the treble side: the sign of y.
func (s Side) Sign() float64 {
	if s == Bass {
		return -1
	}
	return 1
}

// String returns "bass" or "treble".
func (s Side) String() string {
	if s == Bass {
		return "bass"
	}
	return "treble"
}
