package render

import (
	"sort"

	"neckloft/render/drawing"
)

// placedCallout is a label for the place x along the neck.
type placedCallout struct {
	x float64
	drawing.Callout
}

// alongNeck returns the callouts in order along the neck, with their tips at
// their places in the frame.
func alongNeck(items []placedCallout, frame drawing.Frame) []drawing.Callout {
	sort.SliceStable(items, func(i, j int) bool { return items[i].x < items[j].x })
	out := make([]drawing.Callout, len(items))
	for i, it := range items {
		out[i] = it.Callout
		out[i].Tip = drawing.Pt(frame.X(it.x), 0)
	}
	return out
}
