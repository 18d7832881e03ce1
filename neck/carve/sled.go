package carve

import (
	"math"
	"neckloft/neck/spec"
)

// Sled is a board that the neck lies on, glue face down, hinged at the end
// where the wood stays deepest and shimmed at the other, under a router or
// planer that runs parallel to the bench.
type Sled struct {
	Span   float64 // from the hinge to the shim, along the bench; 0 = offset and run
	Offset float64 // from the hinge to the near end of the run

	// For the sag: a length of the plate without support, 0 = not asked for;
	// its thickness and width; its modulus of elasticity in MPa; the router's
	// mass in kg; and what the plate carries.
	Unsupported float64
	Thickness   float64
	Width       float64
	Modulus     float64
	RouterMass  float64
	Carries     SledLoad
}

// SledLoad is what a sagging plate carries, which decides the sign of its
// error.
type SledLoad int

const (
	// CarriesWork is a plate under the neck: it sags away from the cutter, and
	// wood remains.
	CarriesWork SledLoad = iota

	// CarriesRouter is a carriage over the neck: it sags towards the wood, and
	// the cutter goes deeper.
	CarriesRouter
)

// DefaultSled returns a sled as long as the run, of birch plywood 18 mm thick
// and 150 mm wide under a router of 3.5 kg. The plywood's modulus, 9000 MPa
// along its face grain, is from memory and rounded down.
func DefaultSled() Sled {
	return Sled{Thickness: 18, Width: 150, Modulus: 9000, RouterMass: 3.5}
}

// SledSetting is what to set on the sled.
type SledSetting struct {
	HingeAt, ShimAt string  // "body end" or "nut end"
	Span, Offset    float64 // as used
	Shim            float64 // its height
	LiftNear        float64 // by how much the wood is raised at the near end of the run
	LiftFar         float64 // and at the far end
	Sag             float64 // of the plate in the middle of its unsupported length; 0 = not asked for
}

// Gravity is standard gravity in m/s2, the conventional value of the 3rd
// General Conference on Weights and Measures (1901).
const Gravity = 9.80665

// Sag returns the deflection in mm of a plate in the middle of its unsupported
// length under the router's weight there: P L³ / (48 E I) with I = w t³ / 12,
// simply supported (Gere, Mechanics of Materials, table G-2, case 4).
//
// It is the beam's formula. A plate is stiffer across its width by up to
// 1/(1-ν²), a tenth, so that the value errs to the large side; the plate's own
// weight, there when the cutter is zeroed, is left out.
func (s Sled) Sag() float64 {
	if s.Unsupported == 0 {
		return 0
	}
	load := s.RouterMass * Gravity // N; MPa is N/mm², so that the rest is in mm
	inertia := s.Width * math.Pow(s.Thickness, 3) / 12
	return load * math.Pow(s.Unsupported, 3) / (48 * s.Modulus * inertia)
}

// For returns the setting for a taper: the shim's height is slope times span,
// both measured along the bench.
func (s Sled) For(t Taper) SledSetting {
	out := SledSetting{HingeAt: "body end", ShimAt: "nut end", Span: s.Span, Offset: s.Offset, Sag: s.Sag()}
	if t.Slope < 0 {
		out.HingeAt, out.ShimAt = out.ShimAt, out.HingeAt
	}
	if out.Span == 0 {
		out.Span = s.Offset + t.Length()
	}
	slope := math.Abs(t.Slope)
	out.Shim = slope * out.Span
	out.LiftNear = slope * s.Offset
	out.LiftFar = slope * (s.Offset + t.Length())
	return out
}

// check refuses measures that no sled has.
func (s Sled) check(u spec.Unit) error {
	if err := inRange(u,
		ranged{"the sled's span", s.Span, 10, 5000, s.Span == 0},
		ranged{"the sled's offset", s.Offset, -1000, 5000, false},
		ranged{"the sled's unsupported length", s.Unsupported, 10, 5000, s.Unsupported == 0},
		ranged{"the sled's thickness", s.Thickness, 1, 200, false},
		ranged{"the sled's width", s.Width, 10, 2000, false},
	); err != nil {
		return err
	}
	switch bad := func(v, lo, hi float64) bool { return !(v >= lo && v <= hi) }; {
	case bad(s.Modulus, 100, 300000):
		return spec.OutOfRange{Name: "the sled's modulus", Value: spec.Number(s.Modulus, 0) + " MPa", Allowed: "100 to 300000 MPa"}
	case bad(s.RouterMass, 0.1, 50):
		return spec.OutOfRange{Name: "the router's mass", Value: spec.Number(s.RouterMass, 2) + " kg", Allowed: "0.1 to 50 kg"}
	}
	return nil
}
