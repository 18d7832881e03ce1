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

// Pockets take their area times their depth off a flat board, and side dots
// their cylinders.
func TestMarkerVolume(t *testing.T) {
	plain := volume(t, made(t, nil), neck.PartBoard, 0.01)
	b := made(t, func(s *spec.Spec) {
		s.Markers = []spec.Marker{
			{Frets: "3 5 12x2", Along: 6, Depth: 1.5},
			{Frets: "7", Shape: spec.MarkerBar, Along: 5, Across: 24, Depth: 2, Corner: 1.5},
			{Frets: "9", Shape: spec.MarkerBlock, Along: 3, Across: 5, Depth: 1},
		}
		s.SideDots = &spec.SideDots{Frets: "3 12x2", Diameter: 2, Depth: 5}
	})
	k := 7.0 / b.s.BoardEnd()
	x0, x1 := b.s.FretX(8)+3, b.s.FretX(9)-3
	block := (x1 - x0) * 2 * (21.5 + k*(x0+x1)/2 - 5)
	gone := 4*math.Pi*9*1.5 + 2*(5*24-(4-math.Pi)*1.5*1.5) + block + 3*math.Pi*5
	assert.InDelta(t, gone, plain-volume(t, b, neck.PartBoard, 0.01), 0.004*gone)

	p := b.Pockets(0.01)
	require.Len(t, p, 6)
	assert.InDelta(t, (b.s.FretX(2)+b.s.FretX(3))/2, p[0].X, 1e-12)
	assert.InDelta(t, p[2].Y, -p[3].Y, 1e-12, "two dots even to the centreline")
	assert.InDelta(t, 2*b.n.BoardHalfWidth(p[2].X)/3, p[3].Y-p[2].Y, 1e-9)
	assert.InDelta(t, 4.5, p[0].Under, 1e-12)
	d := b.SideDots()
	require.Len(t, d, 3)
	assert.InDelta(t, 6, d[2].X-d[1].X, 1e-12)
	assert.Less(t, d[0].Edge, 0.0, "the bass side")
	assert.InDelta(t, 3, d[0].Z, 1e-12)
}

// On a board of two scales markers lean with their frets: a bar's sides keep the
// same distance from both as its ends.
func TestMarkersLean(t *testing.T) {
	b := made(t, func(s *spec.Spec) {
		twoScales(s)
		s.Board.RadiusNut, s.Board.RadiusEnd = 300, 300
		s.Markers = []spec.Marker{
			{Frets: "1 3 24", Shape: spec.MarkerBar, Along: 4, Across: 30, Depth: 1.5},
			{Frets: "2 5", Shape: spec.MarkerBlock, Along: 3, Across: 4, Depth: 1.5, Corner: 0.6},
			{Frets: "12x2 15", Along: 6, Apart: 20, Depth: 1.5},
		}
		s.SideDots = &spec.SideDots{Frets: "3 5 12x2", Diameter: 2, Depth: 5, Side: "treble"}
		s.Slots = &spec.Slots{Kerf: 0.6, Depth: 2}
	})
	distance := func(f Fret, p mesh.Vec2) float64 { return math.Abs(p.X-f.At(p.Y)) / math.Hypot(1, f.Slope) }
	for _, p := range b.Pockets(0.01)[:3] {
		n := float64(p.Fret)
		near, far := b.Line(n-1), b.Line(n)
		// Its middle line lies halfway between the frets all along it.
		for _, q := range []mesh.Vec2{p.Outline[0].Add(p.Outline[1]).Scale(0.5), p.Outline[2].Add(p.Outline[3]).Scale(0.5)} {
			assert.InDelta(t, q.X-near.At(q.Y), far.At(q.Y)-q.X, 1e-9, "fret %d", p.Fret)
		}
		assert.InDelta(t, 4, p.Outline[1].Sub(p.Outline[0]).Norm(), 1e-9)
		assert.InDelta(t, 30, p.Outline[2].Sub(p.Outline[1]).Norm(), 1e-9)
	}
	volume(t, b, neck.PartBoard, 0.02)
	volume(t, b, neck.PartBoth, 0.02)
	// A block without rounded corners keeps its distance exactly.
	b.s.Markers[1].Corner = 0
	for _, p := range b.Pockets(0.01)[3:5] {
		near, far := b.Line(float64(p.Fret-1)), b.Line(float64(p.Fret))
		assert.InDelta(t, 3, distance(near, p.Outline[0]), 1e-9)
		assert.InDelta(t, 3, distance(far, p.Outline[2]), 1e-9)
		for _, q := range p.Outline {
			assert.InDelta(t, b.n.BoardHalfWidth(q.X)-4, math.Abs(q.Y), 1e-9)
		}
	}
}

// A marker drawn as a path has its own outline, scaled to its size: a lozenge
// and an ellipse of two arcs, by their areas.
func TestPathMarkers(t *testing.T) {
	plain := volume(t, made(t, nil), neck.PartBoard, 0.01)
	b := made(t, func(s *spec.Spec) {
		s.Markers = []spec.Marker{
			{Frets: "3", Shape: spec.MarkerPath, Along: 12, Depth: 1.5, Path: "M100 50 L108 44 L116 50 L108 56 Z"},
			{Frets: "5", Shape: spec.MarkerPath, Along: 10, Depth: 1, Y: 4, Path: "m0 0 a20 10 0 0 1 40 0 a20 10 0 0 1 -40 0 z"},
		}
	})
	lozenge, ellipse := 12*9.0/2, math.Pi*5*2.5
	assert.InDelta(t, 1.5*lozenge+ellipse, plain-volume(t, b, neck.PartBoard, 0.005), 0.15)
	p := b.Pockets(0.002)
	assert.InDelta(t, 9, p[0].Across, 1e-9)
	lo, hi := mesh.LoopBounds(p[1].Outline)
	assert.InDelta(t, 10, hi.X-lo.X, 1e-3)
	assert.InDelta(t, 5, hi.Y-lo.Y, 5e-3)
	assert.InDelta(t, 4, (hi.Y+lo.Y)/2, 1e-3)
	assert.InDelta(t, b.s.MarkerX(5), (hi.X+lo.X)/2, 1e-3)
}

// TestDotsWithoutFrets checks that dots of a board without frets lie where the frets
// would be, by the divisor of twelve equal steps.
func TestDotsWithoutFrets(t *testing.T) {
	b := made(t, func(s *spec.Spec) {
		s.Scale.Frets, s.Board.Length = 0, 480
		s.SideDots = &spec.SideDots{Frets: "3 12x2", Diameter: 2, Depth: 3, Apart: 6}
		s.Markers = []spec.Marker{{Frets: "7", Along: 5, Depth: 1}}
		s.Heel = nil
	})
	length := b.s.Scale.Length
	dots := b.SideDots()
	require.Len(t, dots, 3)
	assert.InDelta(t, length*(1-math.Pow(2, -0.25)), dots[0].X, 1e-9)
	assert.InDelta(t, length/2-3, dots[1].X, 1e-9)
	assert.InDelta(t, length/2+3, dots[2].X, 1e-9)
	assert.InDelta(t, length*(1-math.Pow(2, -7.0/12)), b.Pockets(0.1)[0].X, 1e-9)
	s := *b.s
	s.SideDots = &spec.SideDots{Frets: "30", Diameter: 2, Depth: 3}
	assert.ErrorContains(t, s.Validate().Err(), "there is no fret 30 on this board; allowed: 1 to 23")
}
