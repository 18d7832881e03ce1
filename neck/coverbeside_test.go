package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// besideNeck returns the demo neck with a headstock of straight sides at the y
// given from its shelf on, and with this channel, or what is wrong with it.
func besideNeck(c spec.Channel, bass, treble float64) (*Neck, spec.Problems) {
	s := spec.Demo()
	s.Rod, s.Blank, s.Limits.Cover = nil, nil, 2
	s.Headstock.Outline = []spec.OutlinePoint{{U: 12, Y: bass}, {U: 160, Y: bass}, {U: 160, Y: treble}, {U: 12, Y: treble}}
	c.Name, c.DepthEnd = "bar", c.Depth
	s.Channels = []spec.Channel{c}
	return Check(s)
}

// TestCoverBesideAnOutline: a headstock cut to straight sides leaves beside a
// pocket in its face half the width less the pocket's reach.
func TestCoverBesideAnOutline(t *testing.T) {
	pocket := spec.Channel{Width: 6, Depth: 6, From: spec.AtX(-2), To: spec.AtX(300), Pocket: spec.Pocket{At: spec.PocketNut, Width: 22, Length: 60, Depth: 5}}
	n, problems := besideNeck(pocket, -15, 15)
	require.NoError(t, problems.Err())
	k := n.Covers()[1]
	assert.True(t, k.Beside)
	assert.InDelta(t, 15-11, k.Cover, 1e-9)
	d, ok := n.CoverOf(k.Channel, -40)
	require.True(t, ok)
	assert.InDelta(t, 15-11, d, 1e-9)

	// Off the centreline, and out of the face: it counts as far as it is in the wood.
	n, problems = besideNeck(spec.Channel{Width: 4, Depth: 6, From: spec.AtX(-60), To: spec.AtX(300), Offset: -10}, -15, 15)
	require.NoError(t, problems.Err())
	k = n.Covers()[0]
	assert.True(t, k.Beside)
	assert.InDelta(t, 15-12, k.Cover, 1e-6)

	pocket.Pocket.Width = 26.5
	_, problems = besideNeck(pocket, -15, 15)
	require.NoError(t, problems.Err())
	assert.Contains(t, problems[0].Error(), `the least wood between the pocket of "bar" and the headstock's side is 1.75 mm, at x = `)
	pocket.Pocket.Width = 25
	_, problems = besideNeck(pocket, -20, 12)
	require.Error(t, problems.Err())
	assert.Contains(t, problems.Err().Error(), `the pocket of "bar", 5 mm deep, cuts through the headstock's side at x = `)
	assert.Contains(t, problems.Err().Error(), "by 0.5 mm")
}

// TestCoverBesideByBruteForce holds the cover of a slanted channel and its pocket
// against points of the wall that an outline of arcs leaves, at all depths.
func TestCoverBesideByBruteForce(t *testing.T) {
	s := spec.Demo()
	s.Rod, s.Blank, s.Limits.Cover = nil, nil, 0.5
	s.Headstock.Outline = []spec.OutlinePoint{{U: 14, Y: -16}, {U: 60, Y: -14, Radius: -80}, {U: 150, Y: -30}, {U: 165, Y: 10, Round: 6}, {U: 60, Y: 15}, {U: 14, Y: 16, Radius: -60}}
	s.Channels = []spec.Channel{{Name: "bar", Width: 5, Depth: 7, DepthEnd: 7, From: spec.AtX(-1), To: spec.AtX(200), Offset: 1, Angle: 0.05,
		Pocket: spec.Pocket{At: spec.PocketNut, Width: 17, Length: 70, Depth: 5}}}
	n, err := New(s)
	require.NoError(t, err)
	c := n.Channels()[1]
	least, at := math.Inf(1), mesh.Vec{}
	for _, p := range n.HeadEdge().Loop(1e-4) {
		for w := 0.0; w > -10; w -= 0.5 {
			v := n.OnFace(p.X, p.Y, w)
			if d := c.Distance(v); d < least {
				least, at = d, v
			}
		}
	}
	k := n.Covers()[1]
	require.True(t, k.Beside)
	assert.InDelta(t, least, k.Cover, 0.01)
	assert.InDelta(t, at.X, k.X, 1)
	stations := math.Inf(1)
	for x := c.From; x < c.To; x += 0.1 {
		if d, ok := n.CoverOf(c, x); ok {
			assert.Greater(t, d, k.Cover-1e-6)
			stations = math.Min(stations, d)
		}
	}
	assert.InDelta(t, k.Cover, stations, 0.01)
}
