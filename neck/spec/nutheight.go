package spec

import "math"

// HasZeroFret reports whether the strings lie on a fret at the nut.
func (s *Spec) HasZeroFret() bool { return s.Nut != nil && s.Nut.ZeroFret > 0 }

// MeanGauge returns the mean diameter of the strings, in mm; one whose gauge is
// not given counts as 0.
func (g *Strings) MeanGauge() float64 {
	sum := 0.0
	for _, s := range g.Set {
		sum += s.Gauge
	}
	return sum / math.Max(1, float64(len(g.Set)))
}

// NutHeight returns how high the strings' middles lie over the board at the
// nut, the mean of the set, in mm: height_nut, or on a zero fret that of its
// crown and half of a string, which no height of the nut changes.
func (s *Spec) NutHeight() float64 {
	if s.HasZeroFret() {
		return s.FretHeight() + s.Strings.MeanGauge()/2
	}
	return s.Strings.HeightNut
}

// sameHeight is by how much, in mm, a height at the nut that is given may differ
// from that of the zero fret: what a rule shows.
const sameHeight = 0.1

// zeroFret tells of a height at the nut that a zero fret leaves no room for.
func (c *checker) zeroFret() {
	const key = "strings.height_nut"
	s, g := c.s, c.s.Strings
	if !s.HasZeroFret() || !s.Source.Has(key) || !c.ok(key, "strings.fret_height", "nut.zero_fret") || c.anyBad("strings.set") {
		return
	}
	crown, high := s.FretHeight(), s.NutHeight()
	known := true
	for _, s := range g.Set {
		known = known && s.Gauge > 0
	}
	switch {
	case g.HeightNut < crown:
		c.warnf(key, "%s is below the crown of the zero fret, %s over the board, on which the strings lie; leave it out, the zero fret tells it", c.mm(g.HeightNut), c.mm(crown))
	case known && math.Abs(g.HeightNut-high) > sameHeight:
		c.warnf(key, "on the zero fret the strings' middles lie %s over the board, and not %s; leave it out, the zero fret tells it", c.mm(high), c.mm(g.HeightNut))
	}
}
