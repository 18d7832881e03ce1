package render

import (
	"image/color"
	"strings"

	"neckloft/neck/spec"
)

// timbers are the colours of freshly finished wood in full light, mixed by eye.
// The first word that a species' name contains decides.
var timbers = []struct {
	word  string
	color rgb
}{
	{"maple", rgb{0.94, 0.765, 0.53}},
	{"walnut", rgb{0.60, 0.44, 0.33}},
	{"cherry", rgb{0.85, 0.56, 0.38}},
	{"mahogany", rgb{0.75, 0.45, 0.30}},
	{"sapele", rgb{0.70, 0.42, 0.30}},
	{"cedar", rgb{0.84, 0.57, 0.40}},
	{"rosewood", rgb{0.52, 0.33, 0.25}},
	{"purpleheart", rgb{0.58, 0.34, 0.45}},
}

// surfaceColors returns the colours of the materials: of the neck's wood, of
// a dark board, and of the channel, where less light comes in.
func surfaceColors(w spec.Wood) [3]rgb {
	c := timbers[0].color
	name := strings.ToLower(w.Species)
	for _, t := range timbers {
		if strings.Contains(name, t.word) {
			c = t.color
			break
		}
	}
	return [3]rgb{
		wood:    c,
		board:   {0.33, 0.215, 0.165},
		channel: c.scale(0.64),
	}
}

// SurfaceColors returns the colours that pictures give to the neck's wood and to
// its board, in full light.
func SurfaceColors(w spec.Wood) (ofWood, ofBoard color.NRGBA) {
	c := surfaceColors(w)
	return c[wood].nrgba(), c[board].nrgba()
}
