package gauge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestSheetsShowChannels checks that both full-size sheets have every channel
// where it lies, its floor bent as it is, with its name beside it.
func TestSheetsShowChannels(t *testing.T) {
	s := spec.Demo()
	s.Rod = nil
	s.Channels = []spec.Channel{
		{Name: "curved", Width: 6, Depth: 6, DepthEnd: 6, DepthMiddle: 9, Curve: spec.CurveParabola, From: spec.AtX(20), To: spec.AtX(320)},
		{Name: "slanted", Width: 3, Depth: 6, DepthEnd: 6, From: spec.AtX(20), To: spec.AtX(320), Offset: -9, Angle: -0.01},
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	marks := func(sheet Sheet) map[string]Mark {
		out := map[string]Mark{}
		for _, m := range sheet.Marks {
			out[m.Name] = m
		}
		return out
	}
	side, top := SideView(n), TopView(n)
	curved := marks(side)["curved"].Points
	require.Greater(t, len(curved), 10)
	for _, p := range curved[1 : len(curved)-1] {
		u := (p.X - 170) / 150
		assert.InDelta(t, -6-3*(1-u*u), p.Y, 1e-9)
	}
	assert.Zero(t, curved[0].Y)
	assert.Len(t, marks(side)["slanted"].Points, 4)

	corners := marks(top)["slanted"].Points
	require.Len(t, corners, 5)
	assert.Equal(t, corners[0], corners[4])
	sin, cos := math.Sincos(-0.01)
	assert.InDelta(t, 20+1.5*sin, corners[0].X, 1e-9)
	assert.InDelta(t, -9-1.5*cos, corners[0].Y, 1e-9)
	assert.InDelta(t, 320-1.5*sin, corners[2].X, 1e-9)
	assert.InDelta(t, -9+300*math.Tan(-0.01)+1.5*cos, corners[2].Y, 1e-9)
	named := map[string]bool{}
	for _, l := range top.Labels {
		named[l.Text] = true
	}
	assert.True(t, named["curved"] && named["slanted"])
	assert.Contains(t, top.Note, "channels and pockets")
	rod, err := neck.New(spec.Demo())
	require.NoError(t, err)
	assert.NotContains(t, TopView(rod).Note, "channels and pockets")
	assert.Contains(t, TopView(rod).Note, "frets, rod channel. Dashed")
	s = spec.Demo()
	s.Rod = nil
	bare, err := neck.New(s)
	require.NoError(t, err)
	assert.Contains(t, TopView(bare).Note, "frets. Dashed")
	assert.NotContains(t, TopView(bare).Note, "channel")
}
