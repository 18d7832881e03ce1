package fretboard

import (
	"testing"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// BenchmarkSolid cuts a radiused board with 24 leaning slots, dots and a channel
// for binding.
func BenchmarkSolid(b *testing.B) {
	board := made(b, func(s *spec.Spec) {
		twoScales(s)
		s.Board.RadiusNut, s.Board.RadiusEnd = 300, 300
		s.Slots = &spec.Slots{Kerf: 0.6, Depth: 2, Short: 1.8}
		s.Binding = &spec.Binding{Width: 1.5, Depth: 3}
		s.Markers = []spec.Marker{{Frets: "3 5 7 9 12x2 15 17 19 21 24x2", Along: 6, Depth: 1.6}}
	})
	b.ReportAllocs()
	for b.Loop() {
		m, err := Solid(board.n, neck.PartBoard, neck.DefaultTolerance)
		if err != nil {
			b.Fatal(err)
		}
		b.ReportMetric(float64(len(m.Faces)), "triangles")
	}
}

// BenchmarkVolume weighs a board with all that is cut into one, by integrals.
func BenchmarkVolume(b *testing.B) {
	board := made(b, func(s *spec.Spec) {
		cutAll(s)
		twoScales(s)
		s.Board.RadiusNut, s.Board.RadiusEnd, s.Board.End = 300, 300, spec.EndFret
	})
	for b.Loop() {
		if board.Volume() <= 0 {
			b.Fatal("no board")
		}
	}
}
