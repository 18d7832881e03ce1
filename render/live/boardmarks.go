package live

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/numeric"
)

// markBoard adds the board's extent and its marks.
func (e *elevation) markBoard(b *fretboard.Board) {
	from, to := b.Neck().BoardExtent()
	e.Board = [2]float64{fine(from), fine(to)}
	e.Marks = boardMarks(b.Neck(), b)
}

// boardMarks returns the lines over board and shelf that the picture shows besides
// the frets: markers, partial frets, the nut's slot, and where a shelf ends that
// leans.
func boardMarks(n *neck.Neck, b *fretboard.Board) [][]point3 {
	out := [][]point3{}
	s := n.Spec()
	over := func(points ...mesh.Vec2) { // y from the bass side
		line := make([]point3, len(points))
		for i, p := range points {
			half := n.BoardHalfWidth(p.X)
			y := numeric.Clamp(p.Y, -half, half)
			line[i] = point3{fine(p.X), fine(n.Y(y)), fine(n.BoardTop(p.X, y))}
		}
		out = append(out, line)
	}
	const chord, across = 0.1, 8
	for _, p := range b.Pockets(chord) {
		over(append(p.Outline[:len(p.Outline):len(p.Outline)], p.Outline[0])...)
	}
	straight := func(f fretboard.Fret) {
		var line []mesh.Vec2
		for i := range across + 1 {
			y := numeric.Lerp(f.EdgeBass, f.EdgeTreble, float64(i)/across)
			line = append(line, mesh.Vec2{X: f.At(y), Y: y})
		}
		over(line...)
	}
	for _, f := range b.Frets {
		if f.Partial {
			straight(f)
		}
	}
	if nut := s.Nut; nut != nil && nut.Slot > 0 && nut.Before > 0 {
		back := b.Line(0)
		back.X = (s.NutFront() - nut.Thickness) * math.Hypot(1, back.Slope)
		straight(back)
	}
	if s.ShelfLeans() {
		ends := n.ShelfLine()
		out = append(out, []point3{{fine(ends[0].X), fine(ends[0].Y), 0}, {fine(ends[1].X), fine(ends[1].Y), 0}})
	}
	return out
}
