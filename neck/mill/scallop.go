package mill

import "math"

// Scallop returns how high the ridges stand, in mm, between passes of a ball nose
// of the given radius that lie step apart, on a plane: R - sqrt(R² - s²/4). It is
// the radius where the passes do not touch each other.
func Scallop(radius, step float64) float64 {
	half := math.Min(math.Abs(step)/2, radius)
	// The difference of two nearly equal numbers, written without it.
	return half * half / (radius + math.Sqrt(radius*radius-half*half))
}

// ScallopAbout is the rule of thumb for Scallop, s²/8R: low by a share of about
// s²/16R².
func ScallopAbout(radius, step float64) float64 { return step * step / (8 * radius) }

// ScallopRound is Scallop on a back that is round with radius back across the
// passes, step measured along it. Ridges on it stand about 1 + R/back times as
// high as on a plane.
func ScallopRound(radius, step, back float64) float64 {
	// Two balls lie on the round, their centres turned by half an angle either
	// way. They cross above the middle between them.
	sin, cos := math.Sincos(step / (2 * back))
	far := back + radius
	under := radius*radius - far*far*sin*sin
	if under <= 0 {
		return radius
	}
	return math.Min(radius, far*cos-math.Sqrt(under)-back)
}

// StepFor returns the step whose ridges are so high on a plane, 2 sqrt(2Rh - h²).
func StepFor(radius, height float64) float64 {
	h := math.Min(height, radius)
	return 2 * math.Sqrt(2*radius*h-h*h)
}
