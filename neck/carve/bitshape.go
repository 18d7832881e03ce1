package carve

import "math"

// radiusAt returns the bit's radius at the distance v from the arc's end
// towards the shank; before the arc's end it is the bit's smallest.
func (b Bit) radiusAt(v float64) float64 {
	switch {
	case v <= 0:
		return b.small()
	case v >= b.Radius:
		return b.BodyRadius()
	}
	return b.small() + b.Radius - math.Sqrt(b.Radius*b.Radius-v*v)
}

// RadiusAbove returns the largest radius of what stands over a plane that the
// bit comes through, shank below, with its arc's end at the given height over
// it: of its cutting edge at the plane, or of its bearing if that is larger.
//
// The bit only widens from its bearing to its shank, so that no part over the
// plane is larger than the edge in it.
func (b Bit) RadiusAbove(height float64) float64 {
	return math.Max(b.radiusAt(height), b.bearing())
}
