package bending

import (
	"neckloft/neck"
	"neckloft/neck/fretboard"
)

// weighted returns the moments of the wood at x as if all of it had the modulus
// e, MPa: each strip of a laminated neck counts by the ratio of its own modulus
// to that (Gere, Mechanics of Materials, composite beams). m are the wood's
// moments as they are.
func weighted(n *neck.Neck, x float64, m neck.Moments, e float64) neck.Moments {
	strips := n.StripMoments(x)
	if strips == nil || !(e > 0) {
		return m
	}
	var sum neck.Moments
	for i, s := range strips {
		sum = sum.Plus(stripMaterial(n, i).Modulus/e, s)
	}
	return sum
}

// stripMaterial returns the material of strip i of a laminated neck.
func stripMaterial(n *neck.Neck, i int) (m struct{ Density, Modulus float64 }) {
	s := n.Spec()
	w := s.LaminationWood(s.Laminations[i]).Material()
	m.Density, m.Modulus = w.Density, w.Modulus
	return m
}

// StripMasses returns the mass in grams of each strip of a laminated neck, the
// outer ones with what goes on to the neck's sides, and nil for a neck of one
// piece across. They add up to WoodMass.
func StripMasses(n *neck.Neck) []float64 {
	k := len(n.Spec().Laminations)
	if k == 0 {
		return nil
	}
	out := make([]float64, k)
	// One walk along the neck serves all strips.
	areas := make(map[float64][]neck.Moments)
	at := func(x float64) []neck.Moments {
		if _, ok := areas[x]; !ok {
			areas[x] = n.StripMoments(x)
		}
		return areas[x]
	}
	marks := marksBetween(n, n.Start(), n.End())
	sum := 0.0
	for i := range out {
		for k := 1; k < len(marks); k++ {
			out[i] += n.VolumeBetween(marks[k-1], marks[k], func(x float64) float64 { return at(x)[i].Area })
		}
		sum += out[i]
	}
	// What the sections do not have, a tenon, a raked face and holes, is shared
	// out among the strips.
	whole := fretboard.WoodVolume(n)
	for i := range out {
		out[i] = grams(out[i]*whole/sum, stripMaterial(n, i).Density)
	}
	return out
}
