package exact_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/spec"
)

// TestHeadHoles holds what is cut from a headstock and glued on it against exact
// solids, with and without it, where the wood is not as thick, or as wide, all over.
//
// Long, as it is a list of headstocks.
// Without DRAWN=all it takes some of the cases.
func TestHeadHoles(t *testing.T) {
	solid := func(s *spec.Spec) (counted, exactly float64) {
		n, err := neck.New(s)
		require.NoError(t, err)
		built, err := exact.Build(n, neck.PartWood)
		require.NoError(t, err)
		return n.WoodVolume(), built[0].Volume()
	}
	type volumes struct{ counted, exactly float64 }
	plain := map[bool]volumes{} // without what is cut, by stepped
	type headCase struct {
		name    string
		stepped bool
		change  func(s *spec.Spec, h *spec.Headstock)
	}
	for _, c := range drawn.Some([]headCase{
		{"a hole with wider parts on a cove", true, func(s *spec.Spec, _ *spec.Headstock) {
			s.Tuners = []spec.Tuner{{U: 21, Y: 2, Post: 6, Height: 8, Hole: 9, FaceDiameter: 13, FaceDepth: 1, BackDiameter: 11, BackDepth: 2}}
		}},
		{"a pocket on a cove", true, func(_ *spec.Spec, h *spec.Headstock) {
			h.Pocket = &spec.HeadPocket{U: 13, Length: 12, Width: 16, Depth: 1.5, Round: 1.2}
		}},
		{"a slot from a cove, near the side, and a hole across in its round end", true, func(s *spec.Spec, h *spec.Headstock) {
			h.Slots = []spec.HeadSlot{{U: 16, Y: -11, Length: 28, Width: 11}}
			s.Tuners = []spec.Tuner{{U: 21, Y: -11, Post: 6, Height: 8, Hole: 7, Below: 8, Into: 3}}
		}},
		{"a veneer to the end of a cove", true, func(_ *spec.Spec, h *spec.Headstock) { h.FaceVeneer = 0.7 }},
		{"a veneer on an angled face that widens", false, func(_ *spec.Spec, h *spec.Headstock) { h.FaceVeneer = 1.6 }},
		{"a hole in the passage to an angled head", false, func(s *spec.Spec, _ *spec.Headstock) {
			s.Tuners = []spec.Tuner{{U: 14, Y: -10, Post: 6, Height: 8, Hole: 8, FaceDiameter: 8.5, FaceDepth: 3, BackDiameter: 10, BackDepth: 2}}
		}},
		{"holes and a pocket that run into a channel", false, func(s *spec.Spec, h *spec.Headstock) {
			s.Tuners = []spec.Tuner{{U: 9.5, Y: 3, Post: 6, Height: 8, Hole: 7, FaceDiameter: 9, FaceDepth: 2, BackDiameter: 11, BackDepth: 11}}
			h.Pocket = &spec.HeadPocket{U: 22, Length: 9, Width: 8, Depth: 2, Round: 1.2}
		}},
		{"a pocket over the end of a cove, under a veneer", true, func(_ *spec.Spec, h *spec.Headstock) {
			h.FaceVeneer = 1.4
			h.Pocket = &spec.HeadPocket{U: 13, Length: 22, Width: 16, Depth: 3, Round: 1.2}
		}},
		{"a veneer as thick as the step", true, func(_ *spec.Spec, h *spec.Headstock) { h.FaceVeneer = h.Step }},
		{"a veneer all but as thick as the step", true, func(_ *spec.Spec, h *spec.Headstock) { h.FaceVeneer = h.Step - 0.006 }},
		{"a channel through the veneer of a stepped face", true, func(s *spec.Spec, h *spec.Headstock) {
			h.FaceVeneer = 1
			s.Channels = []spec.Channel{{Width: 6, Depth: 6.4, DepthEnd: 4.9, From: spec.Place{X: -55}, To: spec.Place{X: 300}, Floor: spec.FloorRound}}
		}},
		{"a hole across that meets a hole and another across", true, func(s *spec.Spec, h *spec.Headstock) {
			h.Slots = []spec.HeadSlot{{U: 55, Y: -11, Length: 50, Width: 11}, {U: 55, Y: 13, Length: 50, Width: 9}}
			s.Tuners = []spec.Tuner{{U: 70, Y: -11, Post: 6, Height: 8, Hole: 7, Below: 8, Into: 12},
				{U: 73, Y: -30, Post: 6, Height: 8, Hole: 8, FaceDiameter: 10, FaceDepth: 5, BackDiameter: 12, BackDepth: 6},
				{U: 72, Y: 13, Post: 6, Height: 8, Hole: 7, Below: 9, Into: 10}}
		}},
		{"a hole across that meets a channel", true, func(s *spec.Spec, h *spec.Headstock) {
			h.Slots = []spec.HeadSlot{{U: 55, Y: -14, Length: 50, Width: 11}}
			s.Tuners = []spec.Tuner{{U: 70, Y: -14, Post: 6, Height: 8, Hole: 6, Below: 4, Into: 15}}
			s.Channels = []spec.Channel{{Width: 7, Depth: 10, DepthEnd: 9, From: spec.Place{X: -100}, To: spec.Place{X: 300}}}
		}},
	}, 5) {
		s := spec.Demo()
		s.Source, s.Tuners, s.Strings, s.Channels, s.Rod, s.Volute = nil, nil, nil, nil, nil, nil
		h := &spec.Headstock{Angle: 0.13, Thickness: 17, Length: 130, Width: 84, Shelf: 3, Corner: 1}
		if c.stepped {
			h.Angle, h.Step, h.Cove = 0, 6, 30
		}
		s.Headstock = h
		if !c.stepped {
			s.Channels = []spec.Channel{{Width: 6, Depth: 9, DepthEnd: 9, From: spec.Place{X: -2}, To: spec.Place{X: 300},
				Pocket: spec.Pocket{At: spec.PocketNut, Width: 10, Length: 22, Depth: 8}}}
		}
		without, ok := plain[c.stepped]
		if !ok {
			without.counted, without.exactly = solid(s)
			plain[c.stepped] = without
		}
		cut, head := *s, *h
		cut.Headstock = &head
		c.change(&cut, &head)
		counted, exactly := solid(&cut)
		assert.InEpsilon(t, exactly-without.exactly, counted-without.counted, 5e-4, c.name)
	}
}
