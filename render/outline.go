package render

import (
	"cmp"
	"math"
	"slices"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// backSteps is the number of chords that a quarter of a section is drawn with.
const backSteps = 48

// backOutline returns the back of the section at x from the edge of lower y down
// and round to the other.
func backOutline(s *neck.Section) []neck.YZ {
	if cut := s.CutLine(); cut != nil {
		return cut
	}
	out := []neck.YZ{s.Edge(neck.MinusY)}
	for i := range backSteps + 1 {
		out = append(out, s.Point(neck.MinusY, math.Pi/2*float64(i)/backSteps))
	}
	for i := backSteps; i >= 0; i-- {
		out = append(out, s.Point(neck.PlusY, math.Pi/2*float64(i)/backSteps))
	}
	return append(out, s.Edge(neck.PlusY))
}

// channelOutlines returns the sections of the channels at x, those on the treble
// side first, each from its treble lip down and round to the bass lip. Of a
// channel and its pocket that meet, the wider counts.
func channelOutlines(n *neck.Neck, x float64) [][]neck.YZ {
	var out [][]neck.YZ
	for _, c := range n.Channels() {
		line := n.ChannelOutline(c, x, backSteps)
		if line == nil {
			continue
		}
		if last := len(out) - 1; c.Pocket && last >= 0 && overlap(line, out[last]) {
			if c.Width() > lips(out[last]) {
				out[last] = line
			}
			continue
		}
		out = append(out, line)
	}
	slices.SortStableFunc(out, func(a, b []neck.YZ) int { return cmp.Compare(b[0].Y, a[0].Y) })
	return out
}

// lips returns the width of a channel's section at its lips.
func lips(line []neck.YZ) float64 { return line[0].Y - line[len(line)-1].Y }

// overlap reports whether two sections of channels lie over each other.
func overlap(a, b []neck.YZ) bool {
	return a[0].Y > b[len(b)-1].Y && b[0].Y > a[len(a)-1].Y
}

// woodOutline returns the section of the wood at x as a closed polygon, the
// channels cut.
func woodOutline(n *neck.Neck, x float64) []neck.YZ {
	s := n.Section(x)
	out := backOutline(&s)
	top := s.TopLine(backSteps / 4)
	for _, line := range channelOutlines(n, x) {
		for len(top) > 0 && top[0].Y > line[0].Y {
			out, top = append(out, top[0]), top[1:]
		}
		out = append(out, line...)
		for len(top) > 0 && top[0].Y > line[len(line)-1].Y {
			top = top[1:]
		}
	}
	return append(out, top...)
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
// section at x, from a channel to the back.
func nearestCover(n *neck.Neck, x float64) (channel, back neck.YZ, ok bool) {
	least := math.Inf(1)
	for _, c := range n.Channels() {
		if c.Even() {
			if a, b, in := nearestEven(n, c, x); in {
				if d := math.Hypot(a.Y-b.Y, a.Z-b.Z); d < least {
					least, channel, back, ok = d, a, b, true
				}
			}
		} else if a, b, d, in := n.NearestCover(c, x); in && d < least {
			least, channel, back, ok = d, a, b, true
		}
	}
	if s := n.Section(x); ok && n.Spec().Heel.Capped() && x > 0 && s.Blend() > 0 {
		// A cheek has one normal all the way down: the foot on it is found from the
		// channel's point.
		d, side, phi := s.Nearest(channel)
		sin, cos := math.Sincos(phi)
		back = neck.YZ{Y: channel.Y - side.Sign()*d*cos, Z: channel.Z + d*sin}
	}
	return channel, back, ok
}

// nearestEven is nearestCover for a channel along the centreline.
func nearestEven(n *neck.Neck, c *neck.Channel, x float64) (channel, back neck.YZ, ok bool) {
	outline := n.ChannelOutline(c, x, backSteps)
	if outline == nil {
		return channel, back, false
	}
	s := n.Section(x)
	if c.Spec.Floor == spec.FloorRound {
		half := c.Width() / 2
		centre := neck.YZ{Z: half - c.Spec.Depth}
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
