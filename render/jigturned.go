package render

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/jig"
)

// jigApart is the room between a part as it lies on the bed and the same as it is
// used, in mm.
const jigApart = 25.0

// What stands under a picture that shows a part both ways, and one with pieces drawn
// apart.
const (
	jigTurnedWords = "At the back of the picture as it is printed; at the front turned as it is used, its words to read."
	jigApartWords  = "The pieces are drawn apart, so that what joins them is seen."
)

// JigShown says what a picture shows otherwise than it is used, and is empty for one
// that does not.
func JigShown(j jig.Jig) string {
	placed := placedParts(j)
	if _, turned := turnedPart(j); turned && len(placed) == 0 {
		return jigTurnedWords
	}
	for _, p := range placed {
		if len(p.Dowels) > 0 {
			return jigApartWords
		}
	}
	return ""
}

// turnedPart returns the first part that lies on the bed otherwise than it is used,
// and false for jigs that have none.
func turnedPart(j jig.Jig) (jig.Part, bool) {
	for _, p := range j.Parts {
		if p.Used != (jig.Frame{}) {
			return p, true
		}
	}
	return jig.Part{}, false
}

// turnedView shows a part twice on a bed: as it lies there, and before it as it is
// used. The eye is low enough to see the hollow at the ends.
func turnedView(n *neck.Neck, p jig.Part) (*jigView, *scene, error) {
	plain := p.Mesh
	if p.Flat() {
		var err error
		if plain, err = mesh.Extrude(p.Region, 0, p.Thick); err != nil {
			return nil, nil, err
		}
	}
	used, lies := p.Used, jig.Frame{X: mesh.Vec{X: 1}, Y: mesh.Vec{Y: 1}, Z: mesh.Vec{Z: 1}}
	lo, hi := moved(plain, used).Bounds()
	used.Origin = mesh.Vec{X: -lo.X, Y: -lo.Y, Z: -lo.Z}
	back, _ := plain.Bounds()
	lies.Origin = mesh.Vec{X: -back.X, Y: hi.Y - lo.Y + jigApart - back.Y}
	return onBed(n, []shownPart{{p, used}, {p, lies}}, func(w, d float64) camera {
		return jigCamera(mesh.Vec{}, mesh.Vec{X: w, Y: d, Z: math.Max(hi.Z-lo.Z, 1)}, false, jigTurn)
	})
}
