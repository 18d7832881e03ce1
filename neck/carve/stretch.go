package carve

import (
	"math"
	"neckloft/neck"
)

// Stretch is the part of the neck that the plan works on: where the back is
// the plain profile, clear of volute, headstock and heel.
type Stretch struct {
	From, To         float64
	FromWhat, ToWhat string // what lies beyond: "volute", "nut", "heel", or ""
}

// Length returns the stretch's length in mm.
func (s Stretch) Length() float64 { return s.To - s.From }

// Holds reports whether x lies in the stretch.
func (s Stretch) Holds(x float64) bool { return x >= s.From-1e-9 && x <= s.To+1e-9 }

// StretchOf returns the stretch that a plan works on.
func StretchOf(n *neck.Neck) Stretch {
	var st Stretch
	st.From, st.To = n.Run()
	switch {
	case n.Spec().Volute != nil && st.From > math.Max(0, n.Start()):
		st.FromWhat = "volute"
	case n.Spec().Headstock != nil:
		st.FromWhat = "nut"
	}
	if n.Spec().Heel != nil {
		st.ToWhat = "heel"
	}
	return st
}
