package render

import (
	"math"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/jig"
)

// jigApart is the room between a part as it lies on the bed and the same turned
// over, in mm.
const jigApart = 25.0

// jigTurnedWords stand under a picture that shows a part both ways.
const jigTurnedWords = "At the back of the picture as it lies on the bed, hollow up; at the front turned over for use, its words to read."

// JigTurned says of a picture that shows a part both ways which is which, and is
// empty for any other.
func JigTurned(j jig.Jig) string {
	if _, turned := turnedPart(j); !turned {
		return ""
	}
	return jigTurnedWords
}

// turnedPart returns the first part whose words are read when it is turned over, and
// false for jigs that have none.
func turnedPart(j jig.Jig) (jig.Part, bool) {
	for _, p := range j.Parts {
		if !p.Flat() && !p.OnNeck && p.Label.Up.Z < 0 {
			return p, true
		}
	}
	return jig.Part{}, false
}

// turnedView shows a part twice on a bed: as it lies there, and before it turned over
// about its length, so that its words are upright. The eye is low enough to see the
// hollow at the ends.
func turnedView(n *neck.Neck, p jig.Part) (panel, *scene, error) {
	m, err := export.JigSolid(p, export.LettersFor(n.Spec()))
	if err != nil {
		return nil, nil, err
	}
	lo, hi := m.Bounds()
	long, across, tall := hi.X-lo.X, hi.Y-lo.Y, hi.Z-lo.Z
	both := &mesh.Mesh{}
	over, lies := &mesh.Mesh{Faces: m.Faces}, &mesh.Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		v = v.Sub(lo)
		over.Vertices = append(over.Vertices, mesh.Vec{X: jigEdge + v.X, Y: jigEdge + across - v.Y, Z: tall - v.Z})
		lies.Vertices = append(lies.Vertices, mesh.Vec{X: jigEdge + v.X, Y: jigEdge + across + jigApart + v.Y, Z: v.Z})
	}
	both.Append(over)
	both.Append(lies)
	w, d := long+2*jigEdge, 2*across+jigApart+2*jigEdge
	s, err := bedScene(both, w, d)
	if err != nil {
		return nil, nil, err
	}
	c := jigCamera(mesh.Vec{}, mesh.Vec{X: w, Y: d, Z: math.Max(tall, 1)}, false)
	return newBedView(s, c), s, nil
}
