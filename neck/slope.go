package neck

import (
	"math"
	"neckloft/neck/spec"
)

// Slope is the taper of the back between the first and the last depth target.
type Slope struct {
	From, To spec.DepthTarget
	X0, X1   float64
	Rise     float64 // wood depth at To minus that at From, mm
	Angle    float64 // of the straight line between them, radians
}

// BackSlope returns the taper of the back between the first and the last
// depth target; zero with a single target.
func (n *Neck) BackSlope() Slope {
	d := n.spec.Depth
	s := Slope{From: d[0], To: d[len(d)-1]}
	s.X0, s.X1 = n.spec.X(s.From.At), n.spec.X(s.To.At)
	s.Rise = s.To.Total - s.From.Total
	if s.X1 > s.X0 {
		s.Angle = math.Atan(s.Rise / (s.X1 - s.X0))
	}
	return s
}
