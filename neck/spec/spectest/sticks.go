package spectest

import (
	"neckloft/neck/spec"

	"pgregory.net/rapid"
)

// drawSticks draws what a neck is glued up of: strips that fit its width more or
// less, a scarf joint, stacked blocks.
func drawSticks(t *rapid.T, s *spec.Spec) {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }
	if yes("laminated") {
		names := spec.AllSpecies()
		k := rapid.IntRange(1, 7).Draw(t, "strips")
		for range k {
			w := s.Width.Nut / float64(k) * f(0.6, 1.4, "strip")
			l := spec.Lamination{Width: w, WidthEnd: w * f(0.8, 1.3, "strip taper")}
			if yes("own wood") {
				l.Wood = spec.Wood{Species: rapid.SampledFrom(names).Draw(t, "species").Name}
			}
			s.Laminations = append(s.Laminations, l)
		}
	}
	if h := s.Headstock; h != nil && h.Angle > 0 && yes("scarf") {
		s.Scarf = &spec.Scarf{}
		if yes("under the board") {
			s.Scarf.Place = spec.ScarfBoard
			if yes("steeper") {
				s.Scarf.Angle = min(0.5, max(h.Angle, 0.035)*f(1, 1.4, "scarf angle"))
			}
		}
		if yes("headstock's piece") {
			s.Scarf.Thickness = max(3, h.Thickness, h.TipThickness) * f(1, 1.3, "headstock's piece thickness")
		}
	}
	if s.Heel != nil && yes("stack") {
		s.Stack = &spec.Stack{}
		// One follows from the other, so that the blocks reach the heel's back.
		if yes("block thickness") {
			s.Stack.Thickness = f(2, 20, "block")
		} else if yes("block count") {
			s.Stack.Blocks = rapid.IntRange(1, 4).Draw(t, "blocks")
		}
	}
}
