package sticks

import "math"

// Hankinson's formula with the values that the Wood Handbook gives for tension:
// strength across the grain about a tenth of that along it, and an exponent of
// 1.5 to 2, of which the lower is the careful one (USDA Forest Products
// Laboratory, Wood Handbook, FPL-GTR-190, chapter 5).
const (
	acrossGrain    = 0.1
	grainsExponent = 1.5
)

// GrainStrength returns what is left of the strength along the grain where the
// pull is at an angle to it: N / P = Q / (P sin^n θ + Q cos^n θ), with Q / P =
// 0.1 and n = 1.5.
func GrainStrength(angle float64) float64 {
	return hankinson(angle, acrossGrain, grainsExponent)
}

// hankinson returns N / P for the ratio q = Q / P.
func hankinson(angle, q, exponent float64) float64 {
	sin, cos := math.Sincos(angle)
	return q / (math.Pow(sin, exponent) + q*math.Pow(cos, exponent))
}
