package fretboard

import (
	"errors"
	"math"

	"neckloft/mesh"
)

// String is the way of a string over the board, at rest, counted from the treble
// side. Nut and Bridge are where it lies over the nut's front and the bridge.
type String struct {
	Number      int // from 1
	Gauge       float64
	Nut, Bridge mesh.Vec2

	nutZ, slope float64 // of its middle: height at the nut, and rise by share of its length
}

// ErrNoStrings says what is missing for where strings lie.
var ErrNoStrings = errors.New("where the strings lie is not in the spec; give [spacing], their distance at nut and bridge, and [strings], their heights and gauges")

// Strings returns the ways of the strings over the board. Each is straight. At
// the nut their undersides lie at one height over the board under each, such
// that the mean of their middles is NutHeight of the spec, and halfway to the bridge so
// that it is height_12 over the board as it is hollowed there, by bass_higher more
// on the bass side: the bridge is
// curved as the board is. It is ErrNoStrings where the spec does not say.
func (b *Board) Strings() ([]String, error) {
	s := b.s
	if s.Spacing == nil || s.Strings == nil {
		return nil, ErrNoStrings
	}
	nut, bridge := s.StringPlaces(s.Spacing.Nut), s.StringPlaces(s.Spacing.Bridge)
	out := make([]String, len(nut))
	mean := s.Strings.MeanGauge()
	for i := range out {
		g := &out[i]
		g.Number, g.Gauge = i+1, s.Strings.Set[i].Gauge
		g.Nut = mesh.Vec2{X: s.FretSlope(0) * nut[i], Y: nut[i]}
		g.Bridge = mesh.Vec2{X: s.StringLength() + s.FretSlope(math.Inf(1))*bridge[i], Y: bridge[i]}
		g.nutZ = b.top(g.Nut.X, g.Nut.Y) + s.NutHeight() + (g.Gauge-mean)/2
		middle := g.At(0.5)
		rise := s.Strings.BassHigher * (float64(i)/math.Max(1, float64(len(out)-1)) - 0.5)
		g.slope = 2 * (b.top(middle.X, middle.Y) - b.Hollow(middle.X) + s.Strings.Height12 + (g.Gauge-mean)/2 + rise - g.nutZ)
	}
	return out, nil
}

// At returns where a share of the string's length from the nut lies.
func (g *String) At(share float64) mesh.Vec2 {
	return g.Nut.Add(g.Bridge.Sub(g.Nut).Scale(share))
}

// Height returns z of the string's middle at a share of its length.
func (g *String) Height(share float64) float64 { return g.nutZ + g.slope*share }

// Over returns at what share of its length the string crosses a fret's line.
func (g *String) Over(f *Fret) float64 {
	d := g.Bridge.Sub(g.Nut)
	return (f.X + f.Slope*g.Nut.Y - g.Nut.X) / (d.X - f.Slope*d.Y)
}

// Hollow returns how far the strung board lies below its straight line at x, by
// the relief that its builder gives: a parabola from the nut to the body joint,
// deepest in its middle.
func (b *Board) Hollow(x float64) float64 {
	g := b.s.Strings
	if g == nil {
		return 0
	}
	end := b.s.BoardEnd()
	switch {
	case g.Joint != nil:
		end = b.s.X(*g.Joint)
	case b.s.Heel != nil:
		end = b.s.X(b.s.Heel.Full)
	}
	if x <= 0 || x >= end {
		return 0
	}
	u := x / end
	return 4 * g.Relief * u * (1 - u)
}

// Clearance returns the gap between the underside of a string at rest and the
// crown of a fret under it: negative where they would touch. It is NaN where the
// string's gauge is not known, or a partial fret does not reach under it.
func (b *Board) Clearance(g *String, f *Fret) float64 {
	share := g.Over(f)
	p := g.At(share)
	if g.Gauge == 0 || p.Y < f.EdgeBass || p.Y > f.EdgeTreble {
		return math.NaN()
	}
	return g.Height(share) - g.Gauge/2 - (b.top(p.X, p.Y) - b.Hollow(p.X) + b.s.FretHeight())
}

// EdgeDistance returns the distance of a string's middle from the board's edge
// on its side, across the neck, over a fret.
func (b *Board) EdgeDistance(g *String, f *Fret) float64 {
	p := g.At(g.Over(f))
	return b.n.BoardHalfWidth(p.X) - math.Abs(p.Y)
}
