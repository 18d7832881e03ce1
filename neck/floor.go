package neck

import (
	"math"

	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// floorLine is the course of a channel's depth along it, from 0 to length:
// straight between its ends, or bent to a circle or a parabola that passes the
// depth in the middle.
type floorLine struct {
	length, first, last float64
	curve               spec.Curve
	bulge               float64 // of the middle below the straight line
	t, z, radius        float64 // of the circle: its centre, as t and depth
}

func newFloorLine(c *spec.Channel, length float64) floorLine {
	f := floorLine{length: length, first: c.Depth, last: c.DepthEnd, curve: c.Curve}
	if f.curve == spec.CurveStraight {
		return f
	}
	f.bulge = c.DepthMiddle - (c.Depth+c.DepthEnd)/2
	if f.curve == spec.CurveCircle {
		// The centre lies on the line through the middle of the chord, square to
		// it, and as far from the middle point as from the ends.
		h, rise := length/2, (c.DepthEnd-c.Depth)/2
		chord2 := h*h + rise*rise
		k := (chord2 - f.bulge*f.bulge) / (2 * f.bulge * h)
		f.t, f.z = h+k*rise, (c.Depth+c.DepthEnd)/2-k*h
		f.radius = math.Hypot(f.t, f.z-c.Depth)
	}
	return f
}

// at returns the depth at t, which is held to the channel.
func (f *floorLine) at(t float64) float64 {
	t = numeric.Clamp(t, 0, f.length)
	switch s := t / f.length; {
	case f.first == f.last && f.curve == spec.CurveStraight:
		return f.first
	case f.curve == spec.CurveCircle:
		return f.z + math.Sqrt(f.radius*f.radius-(t-f.t)*(t-f.t))
	default:
		return numeric.Lerp(f.first, f.last, s) + 4*f.bulge*s*(1-s)
	}
}

// slope returns the slope of the depth at t.
func (f *floorLine) slope(t float64) float64 {
	t = numeric.Clamp(t, 0, f.length)
	if f.curve == spec.CurveCircle {
		return (f.t - t) / math.Sqrt(f.radius*f.radius-(t-f.t)*(t-f.t))
	}
	return (f.last-f.first)/f.length + 4*f.bulge*(1-2*t/f.length)/f.length
}

// level reports whether the depth is the same all along.
func (f *floorLine) level() bool {
	return f.first == f.last && f.curve == spec.CurveStraight
}

// steepest returns the greatest slope, without its sign: a bend to one side has
// it at an end.
func (f *floorLine) steepest() float64 {
	return math.Max(math.Abs(f.slope(0)), math.Abs(f.slope(f.length)))
}

// bend returns the greatest second derivative of the depth, without its sign.
func (f *floorLine) bend() float64 {
	switch f.curve {
	case spec.CurveCircle:
		m := f.steepest()
		return math.Pow(1+m*m, 1.5) / f.radius
	case spec.CurveParabola:
		return math.Abs(8 * f.bulge / (f.length * f.length))
	}
	return 0
}

// stations returns places from a to b with no chord of the floor between them
// farther than e from it. Beyond the channel's ends the floor is level.
func (f *floorLine) stations(a, b, e float64) []float64 {
	out := []float64{a}
	if a < 0 {
		out = append(out, 0)
	}
	from, to := math.Max(a, 0), math.Min(b, f.length)
	steps := 1
	if bend := f.bend(); bend > 0 {
		steps = max(1, int(math.Ceil((to-from)/math.Sqrt(8*e/bend))))
	}
	for i := 1; i < steps; i++ {
		out = append(out, numeric.Lerp(from, to, float64(i)/float64(steps)))
	}
	if b > f.length {
		out = append(out, f.length)
	}
	return append(out, b)
}
