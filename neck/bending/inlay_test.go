package bending

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// halfEllipse is a neck whose section is a half ellipse 43 mm wide and 15 mm
// deep, of a wood of 12.6 GPa, with these channels.
func halfEllipse(t *testing.T, channels ...spec.Channel) *neck.Neck {
	t.Helper()
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 43, 43
	s.Depth[0].Total = 15 + s.Board.Thickness
	s.Wood = spec.Wood{Density: 700, Modulus: 12600}
	s.Channels = channels
	for i := range s.Channels {
		s.Channels[i].DepthEnd = s.Channels[i].Depth
	}
	s.Limits.Cover = 0.5
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestBarsStiffen holds the stiffness with two bars of 3.175 x 9.525 mm and 127
// GPa, flush with the glue face, against the transformed section by hand: 100.3
// N m² without, 161.2 N m² with them, whatever their place across.
func TestBarsStiffen(t *testing.T) {
	const ew, eb, w, h = 12600.0, 127000.0, 3.175, 9.525
	bar := spec.Channel{Width: w, Depth: h, From: spec.AtX(20), To: spec.AtX(300), Bar: spec.Bar{Width: w, Height: h, Modulus: eb, Density: 1600}}
	left, right := bar, bar
	left.Offset, right.Offset = -8, 8
	n := halfEllipse(t, left, right)
	assert.InDelta(t, 100.3, StiffnessAt(n, 10).EIWood*1e-6, 0.05)
	assert.InDelta(t, 161.2, StiffnessAt(n, 100).EIWood*1e-6, 0.05)

	// By hand: half an ellipse, and two bars that count by the ratio less 1.
	const a, b = 21.5, 15.0
	area, first, second := math.Pi*a*b/2, 2*a*b*b/3, math.Pi*a*b*b*b/8
	assert.InEpsilon(t, ew*(second-first*first/area), StiffnessAt(n, 10).EIWood, 1e-9)
	k := 2 * (eb/ew - 1)
	area += k * w * h
	first += k * w * h * h / 2
	second += k * w * h * h * h / 3
	assert.InEpsilon(t, ew*(second-first*first/area), StiffnessAt(n, 100).EIWood, 1e-9)
	assert.InDelta(t, -first/area, StiffnessAt(n, 100).NeutralWood, 1e-9)

	// Sunk deeper, a bar counts where it lies, and the empty channel above it
	// for nothing.
	deep := left
	deep.Depth, deep.Bar.Below = h+1, 1
	n = halfEllipse(t, deep)
	area, first, second = math.Pi*a*b/2, 2*a*b*b/3, math.Pi*a*b*b*b/8
	for _, part := range []struct{ top, foot, k float64 }{{0, h + 1, -1}, {1, h + 1, eb / ew}} {
		area += part.k * w * (part.foot - part.top)
		first += part.k * w * (part.foot*part.foot - part.top*part.top) / 2
		second += part.k * w * (part.foot*part.foot*part.foot - part.top*part.top*part.top) / 3
	}
	assert.InEpsilon(t, ew*(second-first*first/area), StiffnessAt(n, 100).EIWood, 1e-9)
}

// TestStripsStiffen checks that a channel filled with the neck's own wood is as
// if it had never been cut, that a strip is that of its own thickness, and that
// of another wood counts by its modulus.
func TestStripsStiffen(t *testing.T) {
	whole := StiffnessAt(halfEllipse(t), 100)
	c := spec.Channel{Width: 6, Depth: 9, From: spec.AtX(20), To: spec.AtX(300), Floor: spec.FloorRound, Offset: 3, Angle: 0.01}
	c.Top = spec.TopFilled
	n := halfEllipse(t, c)
	assert.InEpsilon(t, whole.EIWood, StiffnessAt(n, 100).EIWood, 1e-6)
	assert.InDelta(t, WoodMass(halfEllipse(t)), WoodMass(n)+InlayMass(n), 1e-3)

	c.Top, c.StripThickness = spec.TopStrip, 2
	n = halfEllipse(t, c)
	below := c
	below.Top, below.StripThickness = spec.TopOpen, 0
	open := halfEllipse(t, below)
	m := open.WoodMoments(100)
	width := 6 / math.Cos(0.01)
	m.Area += width * 2
	m.SZ -= width * 2
	m.SZZ += width * 8 / 3
	assert.InEpsilon(t, 12600*m.Bending(), StiffnessAt(n, 100).EIWood, 1e-9)
	assert.Greater(t, StiffnessAt(n, 100).EIWood, StiffnessAt(open, 100).EIWood)

	c.StripWood = spec.Wood{Density: 500, Modulus: 6300}
	half := halfEllipse(t, c)
	m = open.WoodMoments(100)
	m.Area += 0.5 * width * 2
	m.SZ -= 0.5 * width * 2
	m.SZZ += 0.5 * width * 8 / 3
	assert.InEpsilon(t, 12600*m.Bending(), StiffnessAt(half, 100).EIWood, 1e-9)
	// 280 mm along the neck, of the strip's length along its axis as much more.
	assert.InEpsilon(t, 6*2*280/math.Cos(0.01)*500*1e-6, InlayMass(half), 1e-3)
	assert.Zero(t, InlayMass(open))
}

// TestInlayMass weighs a bar and a curved strip by hand.
func TestInlayMass(t *testing.T) {
	c := spec.Channel{Width: 6, Depth: 6, DepthMiddle: 9, Curve: spec.CurveParabola, From: spec.AtX(20), To: spec.AtX(300), Top: spec.TopStrip, StripThickness: 2}
	n := halfEllipse(t, c)
	// The strip is 2 mm thick at its ends and 3 mm more in the middle: a
	// parabola has two thirds of that on average.
	assert.InEpsilon(t, 6*(2+2)*280*700*1e-6, InlayMass(n), 1e-9)
	bar := spec.Channel{Width: 4, Depth: 8, From: spec.AtX(20), To: spec.AtX(300), Bar: spec.Bar{Width: 3.5, Height: 7, Below: 0.5, Modulus: 1e5, Density: 1550}}
	assert.InEpsilon(t, 3.5*7*280*1550*1e-6, InlayMass(halfEllipse(t, bar)), 1e-9)
}
