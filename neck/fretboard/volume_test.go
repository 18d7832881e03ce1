package fretboard

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// cutAll gives a board all that is cut into one.
func cutAll(s *spec.Spec) {
	s.Slots = &spec.Slots{Kerf: 0.6, Depth: 2}
	s.Nut = &spec.Nut{Thickness: 5, Slot: 3, Before: 4, ZeroFret: 3}
	s.Binding = &spec.Binding{Width: 1.5, Depth: 3.5, End: true}
	s.Markers = []spec.Marker{{Frets: "3 5 7x2", Along: 6, Depth: 1.6}, {Frets: "9", Shape: spec.MarkerBlock, Along: 6, Across: 8, Depth: 1.2, Corner: 1}}
	s.SideDots = &spec.SideDots{Frets: "3 5 12x2", Diameter: 2, Depth: 4}
	s.Pins = &spec.Pins{Diameter: 2, BoardDepth: 2.5, WoodDepth: 6}
}

// TestVolumeByMesh checks the board's volume against that of its mesh, which is
// exact for flat boards but for round holes, and fine for others.
// Without DRAWN=all it takes some of the cases.
func TestVolumeByMesh(t *testing.T) {
	cases := map[string]func(s *spec.Spec){
		"plain":    nil,
		"cut":      cutAll,
		"leaning":  func(s *spec.Spec) { cutAll(s); twoScales(s); s.Board.End = spec.EndFret },
		"curved":   func(s *spec.Spec) { cutAll(s); s.Board.EndCurve, s.Binding.Depth = 5, 0 },
		"extended": func(s *spec.Spec) { cutAll(s); s.Board.Extension, s.Board.ExtensionWidth = 25, 20 },
		"hollows":  func(s *spec.Spec) { s.Scallop = &spec.Scallop{From: 12, Depth: 1.5, Land: 2} },
		"hollowed marker": func(s *spec.Spec) {
			s.Scallop = &spec.Scallop{From: 12, Depth: 1.5, Land: 2}
			s.Markers = []spec.Marker{{Frets: "15", Along: 6, Depth: 2.5}}
		},
		"falls away": func(s *spec.Spec) { cutAll(s); s.FallAway = &spec.FallAway{From: spec.AtFret(12), Drop: 0.5} },
		"round": func(s *spec.Spec) {
			cutAll(s)
			twoScales(s)
			s.Board.RadiusNut, s.Board.RadiusEnd, s.Board.End = 254, 400, spec.EndFret
		},
		"flat floors": func(s *spec.Spec) {
			cutAll(s)
			s.Board.RadiusNut, s.Board.RadiusEnd, s.Slots.Floor, s.Slots.Short = 254, 254, spec.SlotFlat, 2
		},
	}
	for _, name := range drawn.Keys(cases, 4) {
		change := cases[name]
		b := made(t, change)
		rel := 3e-5
		if b.s.Board.RadiusNut > 0 {
			rel = 1e-4
		}
		got := volume(t, b, neck.PartBoard, 0.001)
		assert.InEpsilon(t, got, b.Volume(), rel, "%s: %g by mesh, %g by integrals", name, got, b.Volume())
	}
}

// TestRandomVolumes does so for random boards. Where cuts meet what they take
// counts twice, which is little.
func TestRandomVolumes(t *testing.T) {
	count := 0
	drawn.Checks(t, 12, func(t *rapid.T) {
		s := spectest.Draw(t)
		drawCuts(t, s)
		n, problems := neck.Check(s)
		if problems.Err() != nil {
			t.Skip("not buildable: " + strings.SplitN(problems.Err().Error(), "\n", 2)[0])
		}
		m, err := Solid(n, neck.PartBoard, 0.02)
		require.NoError(t, err)
		assert.InEpsilon(t, m.Volume(), New(n).Volume(), 6e-3)
		count++
	})
	require.Positive(t, count)
}

// TestBoundEnd checks the channel across the end: its inner line is as far from
// the end as the binding is wide, by brute force, what it takes off a flat board is
// the area between the two times its depth, and it makes the blank so much shorter.
// Without DRAWN=all it takes some of the cases.
func TestBoundEnd(t *testing.T) {
	cases := map[string]func(s *spec.Spec){
		"square":  func(*spec.Spec) {},
		"leaning": func(s *spec.Spec) { twoScales(s); s.Board.End = spec.EndFret },
		"curved":  func(s *spec.Spec) { s.Board.EndCurve = 6 },
		"hollow":  func(s *spec.Spec) { s.Board.EndCurve, s.Width.PastLastFret = -4, 14 },
	}
	for _, name := range drawn.Keys(cases, 2) {
		change := cases[name]
		for _, depth := range []float64{0, 3} {
			bind := func(end bool) *Board {
				return made(t, func(s *spec.Spec) {
					change(s)
					s.Binding = &spec.Binding{Width: 1.5, Depth: depth, End: end}
				})
			}
			open, bound := bind(false), bind(true)
			least := math.Inf(1)
			area := 0.0
			const steps = 4000
			half := bound.n.BoardHalfWidth(bound.s.BoardEnd()) - bound.boundWidth()
			for i := range steps {
				y := half * (2*(float64(i)+0.5)/steps - 1)
				area += (bound.s.BoardEndAt(y) - bound.InnerEnd(y)) * 2 * half / steps
				if i%400 == 200 {
					near, inner := math.Inf(1), bound.InnerEnd(y)
					for j := range steps {
						v := y + 4*(2*float64(j)/steps-1)
						near = math.Min(near, math.Hypot(bound.s.BoardEndAt(v)-inner, v-y))
					}
					least = math.Min(least, near)
					assert.InDelta(t, 1.5, near, 1e-4, name)
				}
			}
			deep := depth
			if deep == 0 {
				deep = 6
			}
			gone := volume(t, open, neck.PartBoard, 0.02) - volume(t, bound, neck.PartBoard, 0.02)
			assert.InDelta(t, area*deep, gone, 0.02*area*deep, name)
			assert.InDelta(t, bound.s.BoardEndAt(0)-bound.InnerEnd(0), bound.EndAdds(), 1e-12)
			assert.Zero(t, open.EndAdds())
			assert.Greater(t, bound.EndAdds(), 1.49)
		}
	}
	s := made(t, nil).s
	s.Binding, s.Width.PastLastFret = &spec.Binding{Width: 3, End: true}, 3.2
	assert.ErrorContains(t, s.Validate().Err(), "across the end the binding, 3 mm wide, leaves")
}

// TestPinsInWood checks the holes of the pins in the wood: as deep as the table
// says, at its places, on either hand; the wood's volume lacks them.
func TestPinsInWood(t *testing.T) {
	for _, hand := range []spec.Hand{spec.RightHand, spec.LeftHand} {
		with := made(t, func(s *spec.Spec) { cutAll(s); s.Hand = hand })
		without := made(t, func(s *spec.Spec) { cutAll(s); s.Hand, s.Pins = hand, nil })
		gone := volume(t, without, neck.PartWood, 0.005) - volume(t, with, neck.PartWood, 0.005)
		assert.InDelta(t, 2*math.Pi*6, gone, 0.15)
		assert.InDelta(t, 2*math.Pi*6, WoodVolume(without.n)-WoodVolume(with.n), 1e-6)
		m, err := Solid(with.n, neck.PartWood, 0.02)
		require.NoError(t, err)
		pins, err := with.Pins()
		require.NoError(t, err)
		for _, p := range pins {
			deep := 0.0
			for _, v := range m.Vertices {
				if math.Hypot(v.X-p.X, v.Y-with.n.Y(p.Y)) < 1.01 {
					deep = math.Min(deep, v.Z)
				}
			}
			assert.InDelta(t, -6, deep, 1e-4)
		}
	}
}
