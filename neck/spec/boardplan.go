package spec

import (
	"math"
	"neckloft/neck/numeric"
)

// leastShape is the least curve or extension of a board's end, in mm, that is
// one: less cannot be told from none in a file of single precision.
const leastShape = 0.005

// BoardStartAt returns x where the board begins, y from the centreline: along
// the nut, which leans with two scales.
func (s *Spec) BoardStartAt(y float64) float64 {
	k := s.FretSlope(0)
	return k*y - s.BeforeNut()*math.Hypot(1, k)
}

// EndSlope returns how much the board's end leans: as its last fret, or 0.
func (s *Spec) EndSlope() float64 {
	if s.Board.End != EndFret {
		return 0
	}
	return s.FretSlope(float64(s.Scale.Frets))
}

// BoardEndAt returns x where the board ends, y from the centreline. Its corners,
// and the middle of an end that is straight, are BoardEnd plus the lean.
func (s *Spec) BoardEndAt(y float64) float64 {
	b := s.Board
	half := s.Width.End / 2
	x := s.BoardEnd() + s.EndSlope()*y
	if c := math.Abs(b.EndCurve); c >= leastShape {
		// The arc through both corners that stands out by the curve.
		r := half*half/(2*c) + c/2
		v := numeric.Clamp(y, -half, half)
		x += math.Copysign(c-v*v/(r+math.Sqrt(r*r-v*v)), b.EndCurve)
	}
	if b.Extension >= leastShape {
		inner, run := s.extensionStep()
		x += b.Extension * numeric.Step((y-inner)/run+0.5)
	}
	return x
}

// extensionStep returns where across the board its extension begins, and over
// what width the end steps out to it.
func (s *Spec) extensionStep() (inner, run float64) {
	b := s.Board
	half := s.Width.End / 2
	wide := b.ExtensionWidth
	if wide == 0 {
		wide = half
	}
	return half - wide, math.Min(0.7*b.Extension, 0.8*math.Min(wide, 2*half-wide))
}

// SquareEnds reports whether the board begins at x = 0 and ends at BoardEnd all
// across.
func (s *Spec) SquareEnds() bool {
	return s.FretSlope(0) == 0 && s.BeforeNut() == 0 && s.PlainEnd()
}

// PlainEnd reports whether the board ends at BoardEnd all across.
func (s *Spec) PlainEnd() bool {
	return s.EndSlope() == 0 && math.Abs(s.Board.EndCurve) < leastShape && s.Board.Extension < leastShape
}

// BoardExtent returns the least and the greatest x of the board.
func (s *Spec) BoardExtent() (from, to float64) {
	if s.SquareEnds() {
		return 0, s.BoardEnd()
	}
	from, to = s.BoardStartAt(0), s.BoardEnd()
	for _, side := range []float64{-1, 1} {
		from = math.Min(from, s.corner(side, from, s.BoardStartAt))
	}
	if s.PlainEnd() {
		return from, to
	}
	const steps = 400
	half := math.Max(s.halfWidth(s.corner(-1, to, s.BoardEndAt)), s.halfWidth(s.corner(1, to, s.BoardEndAt)))
	for i := range steps + 1 {
		to = math.Max(to, s.BoardEndAt(numeric.Lerp(-half, half, float64(i)/steps)))
	}
	return from, to
}

// corner returns x where an end of the board meets its edge on a side, from a
// guess.
func (s *Spec) corner(side, x float64, end func(y float64) float64) float64 {
	for range 60 {
		// The edge hardly leans, so that this comes together fast.
		next := end(side * s.halfWidth(x))
		if math.Abs(next-x) < 1e-12 {
			break
		}
		x = next
	}
	return x
}

// BoardCorners returns x of the board's four corners: where its start and its
// end meet the edges.
func (s *Spec) BoardCorners() (startBass, startTreble, endBass, endTreble float64) {
	end := s.BoardEnd()
	return s.corner(-1, 0, s.BoardStartAt), s.corner(1, 0, s.BoardStartAt),
		s.corner(-1, end, s.BoardEndAt), s.corner(1, end, s.BoardEndAt)
}

// endRoom returns the least distance between the last fret's slot and the board's
// end, square to the fret.
func (s *Spec) endRoom() float64 {
	last := float64(s.Scale.Frets)
	x, k := s.FretX(last), s.FretSlope(last)
	kerf := 0.0
	if s.Slots != nil {
		kerf = s.Slots.Kerf
	}
	half := s.Width.End / 2
	least := math.Inf(1)
	const steps = 200
	for i := range steps + 1 {
		y := numeric.Lerp(-half, half, float64(i)/steps)
		least = math.Min(least, (s.BoardEndAt(y)-x-k*y)/math.Hypot(1, k)-kerf/2)
	}
	return least
}
