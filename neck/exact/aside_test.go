package exact_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/brep"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/spec"
)

// barWith gives a spec a channel with a pocket in the place of its rod.
func barWith(s *spec.Spec, from, to float64, p spec.Pocket) {
	s.Rod = nil
	s.Channels = []spec.Channel{{Name: "bar", Width: 6, Depth: 9, DepthEnd: 9, From: spec.Place{X: from}, To: spec.Place{X: to}, Pocket: p}}
}

// sharedPlanes are necks of round numbers, where two cutters, or a cutter and the wood,
// share a plane, or all but do, where by is 0.
var sharedPlanes = map[string]struct {
	part   neck.Part
	change func(s *spec.Spec, by float64)
}{
	"a rod from the end of the shelf": {neck.PartWood, func(s *spec.Spec, by float64) {
		s.Rod = &spec.Rod{Width: 6, Depth: 9, From: spec.Place{X: by - 5}, To: spec.Place{X: 400}}
	}},
	"a pocket to the end of the shelf": {neck.PartWood, func(s *spec.Spec, by float64) {
		barWith(s, 6, 400, spec.Pocket{At: spec.PocketNut, Width: 12, Length: 11 - by, Depth: 6})
	}},
	"a pocket as wide as its channel": {neck.PartWood, func(s *spec.Spec, by float64) {
		barWith(s, -3, 400, spec.Pocket{At: spec.PocketNut, Width: 6 + by, Length: 25, Depth: 6})
	}},
	"a pocket as deep as its channel": {neck.PartWood, func(s *spec.Spec, by float64) {
		barWith(s, 6, 450, spec.Pocket{At: spec.PocketHeel, Width: 12, Length: 17, Depth: 9 + by})
	}},
	"a bolt as wide as the channel": {neck.PartWood, func(s *spec.Spec, by float64) {
		s.Rod.Width, s.Rod.To = 6, spec.Place{X: 450}
		s.Heel.Bolts = []spec.Bolt{{At: spec.Place{X: 430}, Diameter: 6 + by}}
	}},
	"two pockets as deep": {neck.PartWood, func(s *spec.Spec, by float64) {
		barWith(s, -3, 400, spec.Pocket{At: spec.PocketNut, Width: 12, Length: 25, Depth: 2})
		s.Headstock.Pocket = &spec.HeadPocket{U: 10, Length: 30, Width: 18, Depth: 2 + by}
	}},
	"a nut as deep as the binding": {neck.PartBoard, func(s *spec.Spec, by float64) {
		s.Binding = &spec.Binding{Width: 1.5, Depth: 3}
		s.Headstock.Shelf, s.Nut = 9, &spec.Nut{Thickness: 5, Slot: 3 - by, Before: 2}
	}},
}

// TestSharedPlanes: such a neck is built, and its volume goes on from those of necks
// with another number there, which share nothing.
func TestSharedPlanes(t *testing.T) {
	build := func(t *testing.T, part neck.Part, change func(s *spec.Spec, by float64), by float64) *brep.Solid {
		s := spec.Demo()
		s.Source, s.Headstock.Shelf = nil, 5
		change(s, by)
		n, err := neck.New(s)
		require.NoError(t, err)
		m, err := exact.Build(n, part)
		require.NoError(t, err)
		return m[0].Solid
	}
	measured := drawn.Keys(sharedPlanes, 3)
	for name, c := range sharedPlanes {
		t.Run(name, func(t *testing.T) {
			const d = 0.05
			v := build(t, c.part, c.change, 0).Volume()
			if !slices.Contains(measured, name) {
				return
			}
			want := 2*build(t, c.part, c.change, d).Volume() - build(t, c.part, c.change, 2*d).Volume()
			assert.InEpsilon(t, want, v, 1e-5)
		})
	}
}
