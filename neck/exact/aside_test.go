package exact_test

import (
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

// TestSharedPlanes: such a neck is built, and its volume is that of integrals, which
// know nothing of cutters. It is not built where no cutter is moved aside. With DRAWN=all it also goes on from those of necks with
// another number there, which share nothing; else some of the necks are built.
func TestSharedPlanes(t *testing.T) {
	made := func(t *testing.T, change func(s *spec.Spec, by float64), by float64) *neck.Neck {
		s := spec.Demo()
		s.Source, s.Headstock.Shelf = nil, 5
		change(s, by)
		n, err := neck.New(s)
		require.NoError(t, err)
		return n
	}
	build := func(t *testing.T, part neck.Part, change func(s *spec.Spec, by float64), by float64) (*neck.Neck, *brep.Solid) {
		n := made(t, change, by)
		m, err := exact.Build(n, part)
		require.NoError(t, err)
		return n, m[0].Solid
	}
	for _, name := range drawn.Keys(sharedPlanes, 3) {
		c := sharedPlanes[name]
		t.Run(name, func(t *testing.T) {
			n, solid := build(t, c.part, c.change, 0)
			v := solid.Volume()
			exact.WithoutAsides(func() {
				_, err := exact.Build(made(t, c.change, 0), c.part)
				if name == "a nut as deep as the binding" {
					require.NoError(t, err, "their floors meet in lines alone")
					return
				}
				require.ErrorIs(t, err, brep.ErrTouch)
			})
			assert.InEpsilon(t, volume(n, c.part), v, 1e-5)
			if !drawn.All() {
				return
			}
			const d = 0.05
			_, near := build(t, c.part, c.change, d)
			_, far := build(t, c.part, c.change, 2*d)
			assert.InEpsilon(t, 2*near.Volume()-far.Volume(), v, 1e-5)
		})
	}
}
