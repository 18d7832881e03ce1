package export

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/jig"
)

// Heights of letters that are written on plates, in mm: chosen by eye.
const (
	writingLeast = 1.2
	writingMost  = 3.5
)

// jigWriting returns the lines to draw on a plate where it is cut from a sheet: marks
// of its ends, and words that are not cut through it.
func jigWriting(p *jig.Part) [][]mesh.Vec2 {
	out := append([][]mesh.Vec2{}, p.Ends...)
	w := &p.Written
	if len(w.Words) == 0 {
		return out
	}
	text := w.Words[0]
	high := math.Min(math.Min(writingMost, w.Height), w.Width/StencilLength(text, 1))
	high = math.Max(high, writingLeast)
	by := mesh.Vec2{X: w.At.X + (w.Width-StencilLength(text, high))/2, Y: w.At.Y + (w.Height-high)/2}
	for _, line := range StencilLines(text, high) {
		out = append(out, mesh.Region{Outer: line}.Translate(by).Outer)
	}
	return out
}
