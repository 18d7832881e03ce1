package neck

import (
	"math"

	"neckloft/neck/numeric"
)

// headVolume integrates the section's area over a headstock with an outline, in
// steps that no corner of it can hide between.
func (n *Neck) headVolume() float64 {
	const longest, least = 0.5, 300 // of a step, in mm, and how many there are at least
	rule := numeric.NewRule(2)
	stop := math.Min(0, -n.head.far+n.headLow*n.head.sin)
	k := int(math.Ceil((stop - n.start) / longest))
	if k > 0 {
		k = max(k, least)
	}
	parts := make([]float64, max(k, 0))
	numeric.EachAtOnce(len(parts), func(i int) {
		a, b := numeric.Lerp(n.start, stop, float64(i)/float64(k)), numeric.Lerp(n.start, stop, float64(i+1)/float64(k))
		parts[i] = rule.Integrate(func(x float64) float64 {
			s := n.Section(x)
			return s.Area()
		}, a, b)
	})
	sum := 0.0
	for _, v := range parts {
		sum += v
	}
	return sum + n.VolumeBetween(stop, 0, func(x float64) float64 {
		s := n.Section(x)
		return s.Area()
	})
}
