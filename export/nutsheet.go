package export

import (
	"math"
	"strconv"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

// nutGuide is how far a string's line goes on over the nut, in mm.
const nutGuide = 6.0

// nutSheet draws the nut with slots for the strings. A neck whose spec gives no
// nut has one of the usual thickness.
func nutSheet(b *fretboard.Board, lines []fretboard.String) Sheet {
	n := b.Neck()
	s := n.Spec()
	thick := usualNut
	if s.Nut != nil {
		thick = s.Nut.Thickness
	}
	k := s.FretSlope(0)
	front := s.NutFront() * math.Hypot(1, k)
	back := front - thick*math.Hypot(1, k)
	at := func(x, y float64) mesh.Vec2 { return mesh.Vec2{X: x + k*y, Y: n.Y(y)} }
	half := n.BoardHalfWidth((front + back) / 2)
	t := gauge.Sheet{Name: "nut", Outline: []mesh.Vec2{at(back, -half), at(front, -half), at(front, half), at(back, half)}}
	if s.Hand == spec.LeftHand {
		for i, j := 0, len(t.Outline)-1; i < j; i, j = i+1, j-1 {
			t.Outline[i], t.Outline[j] = t.Outline[j], t.Outline[i]
		}
	}
	t.Note = "Seen from above, " + n.SideName(neck.PlusY) + " side up, the board to the right. Full: the nut, and the two sides of each slot. Dashed: the middles of the strings."
	for _, g := range lines {
		// The string's own direction, on over the nut.
		d := g.Bridge.Sub(g.Nut)
		along := func(x, off float64) mesh.Vec2 {
			y := g.Nut.Y + d.Y/d.X*(x-g.Nut.X) + off
			return mesh.Vec2{X: x, Y: n.Y(y)}
		}
		x0, x1 := back+k*g.Nut.Y, front+k*g.Nut.Y
		for _, off := range []float64{-g.Gauge / 2, g.Gauge / 2} {
			t.Marks = append(t.Marks, gauge.Mark{Name: "slot", Points: []mesh.Vec2{along(x0, off), along(x1, off)}})
		}
		t.Marks = append(t.Marks, gauge.Mark{Name: "string", Points: []mesh.Vec2{along(x0-nutGuide, 0), along(x1+nutGuide, 0)}, Dashed: true})
		t.Labels = append(t.Labels, gauge.Label{At: along(x1+nutGuide+3, 0), Text: strconv.Itoa(g.Number)})
	}
	return fullSizeSheet(t, s.Name)
}

// usualNut is the thickness of a nut along the neck, in mm: common practice, no
// published source.
const usualNut = 5.0
