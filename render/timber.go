package render

import (
	"image/color"
	"strings"

	"github.com/fogleman/fauxgl"

	"neckloft/neck/spec"
)

// timbers are the colours of freshly finished wood in full light, mixed by eye.
// The first word that a species' name contains decides.
var timbers = []struct {
	word  string
	color fauxgl.Color
}{
	{"maple", fauxgl.Color{R: 0.94, G: 0.765, B: 0.53, A: 1}},
	{"walnut", fauxgl.Color{R: 0.60, G: 0.44, B: 0.33, A: 1}},
	{"cherry", fauxgl.Color{R: 0.85, G: 0.56, B: 0.38, A: 1}},
	{"mahogany", fauxgl.Color{R: 0.75, G: 0.45, B: 0.30, A: 1}},
	{"sapele", fauxgl.Color{R: 0.70, G: 0.42, B: 0.30, A: 1}},
	{"cedar", fauxgl.Color{R: 0.84, G: 0.57, B: 0.40, A: 1}},
	{"rosewood", fauxgl.Color{R: 0.52, G: 0.33, B: 0.25, A: 1}},
	{"purpleheart", fauxgl.Color{R: 0.58, G: 0.34, B: 0.45, A: 1}},
}

// surfaceColors returns the colours of the materials: of the neck's wood, of
// a dark board, and of the channel, where less light comes in.
func surfaceColors(w spec.Wood) palette {
	c := timbers[0].color
	name := strings.ToLower(w.Species)
	for _, t := range timbers {
		if strings.Contains(name, t.word) {
			c = t.color
			break
		}
	}
	return palette{
		wood:    c,
		board:   {R: 0.33, G: 0.215, B: 0.165, A: 1},
		channel: c.MulScalar(0.64).Alpha(1),
	}
}

// SurfaceColors returns the colours that pictures give to the neck's wood and to
// its board, in full light.
func SurfaceColors(w spec.Wood) (ofWood, ofBoard color.NRGBA) {
	c := surfaceColors(w)
	return c[wood].NRGBA(), c[board].NRGBA()
}
