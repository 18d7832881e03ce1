package fretboard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// pinned gives a spec pins and what they must not meet.
func pinned(s *spec.Spec) {
	s.Rod = &spec.Rod{Width: 6, Depth: 9, From: spec.AtX(10), To: spec.AtX(420)}
	s.Slots = &spec.Slots{Kerf: 0.6, Depth: 2, Short: 2}
	s.Binding = &spec.Binding{Width: 1.5}
	s.Markers = []spec.Marker{{Frets: "1 22", Shape: spec.MarkerBlock, Along: 3, Across: 6, Depth: 1.5}}
	s.Pins = &spec.Pins{Diameter: 1.5, BoardDepth: 2.5, WoodDepth: 5}
}

// The holes of the pins meet nothing, by brute force: points around each hole
// are held against slots, channel, pockets and sides.
func TestPinsMeetNothing(t *testing.T) {
	for name, change := range map[string]func(*spec.Spec){"one scale": pinned, "two": func(s *spec.Spec) { twoScales(s); pinned(s) }, "left": func(s *spec.Spec) { pinned(s); s.Hand = spec.LeftHand }} {
		b := made(t, change)
		pins, err := b.Pins()
		require.NoError(t, err)
		require.Len(t, pins, 2)
		assert.Less(t, pins[0].Y, 0.0)
		assert.Greater(t, pins[1].Y, 0.0)
		assert.Less(t, pins[0].X, 0.3*b.s.BoardEnd())
		assert.Greater(t, pins[1].X, 0.7*b.s.BoardEnd(), name)
		for _, p := range pins {
			for i := range 720 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 720)
				x, y := p.X+(0.75+1.15)*cos, p.Y+(0.75+1.15)*sin
				for k := range b.Frets {
					f := &b.Frets[k]
					assert.Greater(t, math.Abs(x-f.At(y)), 0.3*math.Hypot(1, f.Slope), "%s: slot of fret %s", name, f.Label)
				}
				inChannel := math.Abs(y) < 3 && x > 10 && x < 420
				assert.False(t, inChannel, "%s: channel", name)
				assert.Less(t, math.Abs(y)+1.5+1, b.n.BoardHalfWidth(x))
				for _, k := range b.Pockets(0.02) {
					assert.Positive(t, distanceTo(k.Outline, mesh.Vec2{X: x, Y: y}), "%s: marker", name)
				}
			}
		}
	}
	// The board has their holes; pins of no room are refused.
	with, without := made(t, pinned), made(t, func(s *spec.Spec) { pinned(s); s.Pins = nil })
	assert.InDelta(t, 2*math.Pi*0.75*0.75*2.5, volume(t, without, neck.PartBoard, 0.02)-volume(t, with, neck.PartBoard, 0.02), 0.2)
	_, err := made(t, func(s *spec.Spec) { pinned(s); s.Pins.WoodDepth = 29 }).Pins()
	assert.ErrorContains(t, err, "no room for a pin")
}

// TestPinsBesideBolts puts a bolt beside a pin: the pin goes elsewhere if the bolt
// comes up to it, and else stays.
func TestPinsBesideBolts(t *testing.T) {
	at := func(b *Board) Pin {
		pins, err := b.Pins()
		require.NoError(t, err)
		return pins[1]
	}
	heeled := func(s *spec.Spec) { pinned(s); s.Heel = spec.Demo().Heel }
	plain := at(made(t, heeled))
	const wide = 5.0
	bolt := mesh.Vec2{X: plain.X - 2, Y: plain.Y - 2}
	for deep, meets := range map[float64]bool{0: true, 3: false} {
		for _, hand := range []spec.Hand{spec.RightHand, spec.LeftHand} {
			p := at(made(t, func(s *spec.Spec) {
				heeled(s)
				s.Hand = hand
				s.Heel.Bolts = []spec.Bolt{{At: spec.AtX(bolt.X), Offset: bolt.Y, Diameter: wide, Depth: deep}}
			}))
			if !meets {
				assert.Equal(t, plain, p)
				continue
			}
			assert.GreaterOrEqual(t, math.Hypot(p.X-bolt.X, p.Y-bolt.Y), wide/2+0.75+pinMargin)
		}
	}
}

// A distance from a square, inside and out.
func TestDistanceToPolygon(t *testing.T) {
	square := []mesh.Vec2{{X: 0, Y: 0}, {X: 4, Y: 0}, {X: 4, Y: 4}, {X: 0, Y: 4}}
	assert.InDelta(t, -1, distanceTo(square, mesh.Vec2{X: 1, Y: 2}), 1e-12)
	assert.InDelta(t, 5, distanceTo(square, mesh.Vec2{X: 7, Y: 8}), 1e-12)
	assert.InDelta(t, 2, distanceTo(square, mesh.Vec2{X: 2, Y: -2}), 1e-12)
}
