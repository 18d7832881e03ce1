package neck

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"

	"neckloft/neck/spec"
)

// TestHeadVolumeByArea: flat headstocks that differ in their tips alone differ by the
// area between their outlines, in closed form, times their thickness: so does one with
// teeth on a side, between whose corners there are short pieces.
func TestHeadVolumeByArea(t *testing.T) {
	edged := func(change func(o []spec.OutlinePoint) []spec.OutlinePoint) *Neck {
		return headed(t, "turnstone", func(s *spec.Spec) {
			plainHead(s)
			s.Headstock.Outline = change(slices.Clone(s.Headstock.Outline))
		})
	}
	tip := func(change func(p *spec.OutlinePoint)) *Neck {
		return edged(func(o []spec.OutlinePoint) []spec.OutlinePoint {
			for i := range o {
				if o[i].U > 150 {
					change(&o[i])
				}
			}
			return o
		})
	}
	plain := tip(func(*spec.OutlinePoint) {})
	check := func(name string, n *Neck) {
		want := n.spec.Headstock.Thickness * (n.head.edge.Area() - plain.head.edge.Area())
		assert.InDelta(t, want, n.WoodVolume()-plain.WoodVolume(), 0.08, name)
	}
	check("teeth", edged(func(o []spec.OutlinePoint) []spec.OutlinePoint {
		i := slices.IndexFunc(o, func(p spec.OutlinePoint) bool { return p.U == 98 })
		var teeth []spec.OutlinePoint
		for k := range 40 {
			teeth = append(teeth, spec.OutlinePoint{U: 140 - 0.4*float64(k), Y: 21 + float64(k%2)})
		}
		return slices.Insert(o, i, teeth...)
	}))
	for name, change := range map[string]func(p *spec.OutlinePoint){
		"longer":   func(p *spec.OutlinePoint) { p.U += 2.3 },
		"straight": func(p *spec.OutlinePoint) { p.Radius = 0 },
	} {
		check(name, tip(change))
	}
}
