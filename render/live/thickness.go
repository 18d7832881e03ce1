package live

import (
	"math"

	"neckloft/neck"
)

// thicknesses returns how thick the neck is at the vertices of its wood, in mm:
// square to the glue plane, with the board where it is, as a probe reads it. It
// is NaN where there is no wood in that line.
func thicknesses(n *neck.Neck, positions []float32) []float32 {
	out := make([]float32, len(positions)/3)
	sections := make(map[float32]*neck.Section) // most vertices stand in rows
	for i := range out {
		x, y := positions[3*i], float64(positions[3*i+1])
		sec, ok := sections[x]
		if !ok {
			at := math.Max(n.Start(), math.Min(n.End(), float64(x)))
			s := n.Section(at)
			sec = &s
			sections[x] = sec
		}
		out[i] = float32(math.NaN())
		// The edge itself is off the section by what a number of single precision
		// leaves.
		depth, ok := sec.DepthAt(y)
		if !ok {
			depth, ok = sec.DepthAt(y * (1 - 1e-5))
		}
		if ok {
			out[i] = float32(thicknessAt(n, sec, float64(x), y, depth))
		}
	}
	return out
}

// thicknessAt returns the thickness at a point of a section, the wood's depth
// there being known.
func thicknessAt(n *neck.Neck, sec *neck.Section, x, y, depth float64) float64 {
	if x >= 0 && x <= n.BoardEnd() && math.Abs(y) <= n.BoardHalfWidth(x)+1e-3 {
		return depth + n.BoardTop(x, y)
	}
	// A face below the glue plane takes away from the depth.
	return depth + sec.Top
}
