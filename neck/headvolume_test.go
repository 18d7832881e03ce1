package neck

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"neckloft/neck/spec"
)

// TestHeadVolumeByArea: flat headstocks that differ in their tips alone differ by the
// area between their outlines, in closed form, times their thickness.
func TestHeadVolumeByArea(t *testing.T) {
	tip := func(change func(last *spec.OutlinePoint)) *Neck {
		return headed(t, "turnstone", func(s *spec.Spec) {
			plainHead(s)
			o := s.Headstock.Outline
			for i := range o {
				if o[i].U > 150 {
					change(&o[i])
				}
			}
		})
	}
	plain := tip(func(*spec.OutlinePoint) {})
	for name, change := range map[string]func(p *spec.OutlinePoint){
		"longer":   func(p *spec.OutlinePoint) { p.U += 2.3 },
		"straight": func(p *spec.OutlinePoint) { p.Radius = 0 },
	} {
		n := tip(change)
		want := n.spec.Headstock.Thickness * (n.head.edge.Area() - plain.head.edge.Area())
		assert.InDelta(t, want, n.WoodVolume()-plain.WoodVolume(), 0.04, name)
	}
}
