package spectest

import (
	"math"

	"pgregory.net/rapid"

	"neckloft/neck/spec"
)

// drawChannels adds up to two channels to a spec in one of four draws: slanted,
// sloping or curved, through an end of the wood or with a pocket at one, open or
// closed, with a bar or without.
func drawChannels(t *rapid.T, s *spec.Spec) {
	if rapid.IntRange(0, 3).Draw(t, "channels at all") != 0 {
		return
	}
	count := rapid.IntRange(1, 2).Draw(t, "channels")
	for i := range count {
		// Two lie on either side, and one beside a rod.
		side := 0.0
		switch {
		case count == 2:
			side = float64(2*i - 1)
		case s.Rod != nil:
			side = 1
		}
		s.Channels = append(s.Channels, drawChannel(t, s, side))
	}
}

// drawChannel draws a channel on a side, -1 for bass, 1 for treble, 0 for the
// middle. Long, since it draws every key of one.
func drawChannel(t *rapid.T, s *spec.Spec, side float64) spec.Channel {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }
	wide, end := s.Width.Nut, s.BoardEnd()
	wood := s.Depth[0].Total - s.Board.Thickness
	c := spec.Channel{
		Width: wide * f(0.07, 0.14, "channel width"),
		From:  spec.AtX(end * f(0.01, 0.2, "channel from")),
		To:    spec.AtX(end * f(0.45, 0.7, "channel to")),
	}
	c.Offset = side * wide * f(0.2, 0.28, "channel offset")
	if yes("channel slanted") {
		c.Angle = f(-0.4, 0.4, "channel angle") * math.Pi / 180
	}
	c.Depth = wood * f(0.2, 0.4, "channel depth")
	c.DepthEnd = c.Depth
	switch rapid.IntRange(0, 3).Draw(t, "channel floor's course") {
	case 1:
		c.DepthEnd = c.Depth * f(0.7, 1.2, "channel depth at the end")
	case 2:
		c.Curve, c.DepthMiddle = spec.CurveCircle, c.Depth*f(1.05, 1.4, "channel depth in the middle")
	case 3:
		c.Curve, c.DepthMiddle = spec.CurveParabola, c.Depth*f(1.05, 1.4, "channel depth in the middle")
	}
	if yes("channel floor round") {
		c.Floor = spec.FloorRound
	}
	if s.Headstock == nil && yes("channel out at the nut") {
		c.From = spec.AtX(-3)
	}
	switch rapid.IntRange(0, 2).Draw(t, "channel top") {
	case 1:
		c.Top, c.StripThickness = spec.TopStrip, c.Depth*f(0.2, 0.5, "strip")
	case 2:
		c.Top = spec.TopFilled
	}
	if c.Floor == spec.FloorFlat && c.Curve == spec.CurveStraight && c.DepthEnd == c.Depth && c.Top != spec.TopStrip && yes("bar") {
		c.Bar = spec.Bar{Width: c.Width, Height: 0.8 * c.Depth, Modulus: 120000, Density: 1600}
	}
	if yes("pocket") {
		c.Pocket = spec.Pocket{At: spec.PocketNut, Width: 1.6 * c.Width, Length: wide * f(0.2, 0.5, "pocket length"), Depth: c.Depth * f(0.8, 1.1, "pocket depth")}
		if yes("pocket at the heel") {
			c.Pocket.At = spec.PocketHeel
		}
	}
	return c
}
