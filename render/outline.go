package render

import (
	"math"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// backSteps is the number of chords that a quarter of a section is drawn with.
const backSteps = 48

// backOutline returns the back of the section at x from the bass edge down and
// round to the treble edge.
func backOutline(s *neck.Section) []neck.YZ {
	if cut := s.CutLine(); cut != nil {
		return cut
	}
	out := []neck.YZ{s.Edge(neck.Bass)}
	for i := range backSteps + 1 {
		out = append(out, s.Point(neck.Bass, math.Pi/2*float64(i)/backSteps))
	}
	for i := backSteps; i >= 0; i-- {
		out = append(out, s.Point(neck.Treble, math.Pi/2*float64(i)/backSteps))
	}
	return append(out, s.Edge(neck.Treble))
}

// channelOutline returns the rod channel's section at x from the treble lip
// down and round to the bass lip, and nothing where there is no channel.
func channelOutline(n *neck.Neck, x float64) []neck.YZ {
	from, to, ok := n.Channel()
	if !ok || x < from || x > to {
		return nil
	}
	r := n.Spec().Rod
	half := r.Width / 2
	if r.Floor == spec.FloorFlat {
		return []neck.YZ{{Y: half}, {Y: half, Z: -r.Depth}, {Y: -half, Z: -r.Depth}, {Y: -half}}
	}
	out := []neck.YZ{{Y: half}}
	for i := range backSteps + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / backSteps)
		out = append(out, neck.YZ{Y: half * cos, Z: half - r.Depth - half*sin})
	}
	return append(out, neck.YZ{Y: -half})
}

// woodOutline returns the section of the wood at x as a closed polygon, the
// channel cut.
func woodOutline(n *neck.Neck, x float64) []neck.YZ {
	s := n.Section(x)
	return append(backOutline(&s), channelOutline(n, x)...)
}

// boardOutline returns the section of the board at x as a closed polygon, and
// nothing off the board.
func boardOutline(n *neck.Neck, x float64) []neck.YZ {
	if x < 0 || x > n.BoardEnd() {
		return nil
	}
	a := n.BoardHalfWidth(x)
	out := []neck.YZ{{Y: -a}}
	for i := range backSteps + 1 {
		y := a * (2*float64(i)/backSteps - 1)
		out = append(out, neck.YZ{Y: y, Z: n.BoardTop(x, y)})
	}
	return append(out, neck.YZ{Y: a})
}

// nearestCover returns the ends of the shortest line, in the plane of the
// section at x, from the channel to the back.
func nearestCover(n *neck.Neck, x float64) (channel, back neck.YZ, ok bool) {
	outline := channelOutline(n, x)
	if outline == nil {
		return channel, back, false
	}
	r := n.Spec().Rod
	s := n.Section(x)
	if r.Floor == spec.FloorRound {
		half := r.Width / 2
		centre := neck.YZ{Z: half - r.Depth}
		_, side, phi := s.Nearest(centre)
		sin, cos := math.Sincos(phi)
		return neck.YZ{Y: side.Sign() * half * cos, Z: centre.Z - half*sin}, s.Point(side, phi), true
	}
	least := math.Inf(1)
	for _, corner := range outline[1:3] {
		d, side, phi := s.Nearest(corner)
		if -d < least {
			least, channel, back = -d, corner, s.Point(side, phi)
		}
	}
	// Straight down from a floor that lies over the level bottom of a block.
	if f0, f1 := s.Flat(); channel.Y > f0 && channel.Y < f1 && back.Z <= -s.Depth+1e-9 {
		back.Y = channel.Y
	}
	return channel, back, true
}
