package spectest

import (
	"math"

	"pgregory.net/rapid"

	"neckloft/neck/spec"
)

// DrawChannels is Draw with one to three channels of every kind besides a rod's.
func DrawChannels(t *rapid.T) *spec.Spec {
	s := draw(t)
	addChannels(t, s)
	return s
}

// addChannels adds the channels of DrawChannels.
func addChannels(t *rapid.T, s *spec.Spec) {
	s.Limits.Cover = 1
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	wood := s.Depth[0].Total - s.Board.Thickness
	a := s.Width.Nut / 2
	places := []float64{-0.45, 0.45}
	if s.Rod == nil {
		places = append(places, 0)
	}
	for i := range rapid.IntRange(1, len(places)).Draw(t, "channels") {
		c := spec.Channel{
			Width:  a * f(0.1, 0.22, "channel width"),
			Depth:  wood * f(0.25, 0.45, "channel depth"),
			Offset: a * (places[i] + f(-0.04, 0.04, "channel offset")),
			Angle:  math.Pi / 180 * f(-0.6, 0.6, "channel angle"),
			From:   spec.AtX(f(0, 25, "channel from")),
			To:     spec.AtX(s.BoardEnd() * f(0.5, 0.95, "channel to")),
		}
		c.DepthEnd = c.Depth
		drawFloor(t, &c, wood)
		drawEnds(t, s, &c, wood)
		drawFill(t, &c)
		s.Channels = append(s.Channels, c)
	}
}

// drawFloor bends a channel's floor, and rounds it.
func drawFloor(t *rapid.T, c *spec.Channel, wood float64) {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	if rapid.Bool().Draw(t, "slope") {
		c.DepthEnd = wood * f(0.25, 0.45, "depth at the end")
	}
	if rapid.Bool().Draw(t, "curve") {
		c.Curve = rapid.SampledFrom([]spec.Curve{spec.CurveCircle, spec.CurveParabola}).Draw(t, "kind of curve")
		c.DepthMiddle = (c.Depth+c.DepthEnd)/2 + wood*f(0.02, 0.12, "bulge")
	}
	if math.Min(c.Depth, c.DepthEnd) > c.Width/2 && rapid.Bool().Draw(t, "round") {
		c.Floor = spec.FloorRound
	}
	if rapid.Bool().Draw(t, "along the centreline") {
		c.Angle = 0
	}
}

// drawEnds lets a channel run out, under the nut or through the heel's end, or
// gives it a pocket.
func drawEnds(t *rapid.T, s *spec.Spec, c *spec.Channel, wood float64) {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	switch rapid.IntRange(0, 4).Draw(t, "ends") {
	case 1:
		c.To = spec.AtX(s.BoardEnd() + 40)
	case 2:
		c.From = spec.AtX(-40)
	case 3:
		c.Pocket = spec.Pocket{At: spec.PocketHeel, Width: c.Width * f(1.1, 1.5, "pocket"), Length: f(3, 20, "pocket length"), Depth: wood * f(0.2, 0.4, "pocket depth")}
	case 4:
		c.From = spec.AtX(f(-6, 0, "under the nut"))
		c.Pocket = spec.Pocket{At: spec.PocketNut, Width: c.Width * f(1.1, 1.5, "pocket"), Length: f(3, 40, "pocket length"), Depth: wood * f(0.2, 0.35, "pocket depth")}
	}
}

// drawFill closes a channel, and glues a bar into it.
func drawFill(t *rapid.T, c *spec.Channel) {
	shallow := math.Min(c.Depth, c.DepthEnd)
	switch c.Top = spec.Top(rapid.IntRange(0, 2).Draw(t, "top")); c.Top {
	case spec.TopStrip:
		least := math.Max(0.3, c.Depth-shallow+0.3)
		most := c.Depth
		if c.Floor == spec.FloorRound {
			most -= c.Width / 2
		}
		if least > most {
			c.Top = spec.TopOpen
			return
		}
		c.StripThickness = rapid.Float64Range(least, most).Draw(t, "strip")
	case spec.TopOpen:
		if c.Floor == spec.FloorFlat && shallow > 1 && c.Width > 1 && rapid.Bool().Draw(t, "bar") {
			c.Bar = spec.Bar{Width: c.Width, Height: shallow * 0.8, Below: shallow * 0.1, Modulus: 120000, Density: 1600}
		}
	}
}
