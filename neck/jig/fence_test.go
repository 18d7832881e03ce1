package jig

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
)

// Strips for a router table lie between the bit's bearing, whose axis is at x = 0, and
// the stop at the neck's end, along the fence; blocks for a router in the hand have no
// fence.
func TestStripsAlongTheFence(t *testing.T) {
	s := spec.Demo()
	s.Tools = &spec.Tools{Router: spec.RouterTable}
	n, err := neck.New(s)
	require.NoError(t, err)
	m := newMaker(n, DefaultOptions())
	j := one(t, n, DefaultOptions(), "stops")
	assert.False(t, j.BackUp)
	require.NotNil(t, j.Wood)
	wood, err := j.Wood()
	require.NoError(t, err)
	stops := m.onTable().Table.Stops
	assert.Len(t, wood.Topology().Shells, 2+len(stops), "fence, bearing, stops")
	bearing := m.onTable().Table.Bit.BodyRadius() - m.onTable().Table.Bit.Radius + m.onTable().Table.Bit.Offset
	ends := map[float64]int{} // of strips
	for _, p := range j.Parts {
		_, lo, hi := placed(t, p)
		ends[math.Round(lo.X*100)/100]++
		ends[math.Round(hi.X*100)/100]++
		assert.InDelta(t, 0, lo.Z, 1e-9)
		assert.InDelta(t, stripWide, hi.Y, 1e-6, "along the fence")
	}
	faces := map[float64]int{} // of the wood, square to the fence
	tallest := 0.0
	for _, v := range wood.Vertices {
		faces[math.Round(v.X*100)/100]++
		tallest = math.Max(tallest, v.Z)
		if v.Z > bitHigh-1e-6 && v.Z < bitHigh+1e-6 && math.Abs(v.X) < 2*bearing {
			assert.InDelta(t, bearing, math.Hypot(v.X, v.Y-stripWide/2), 0.01*bearing)
		}
		assert.Contains(t, []float64{0, bitHigh, fenceStop, fenceHigh}, math.Round(v.Z*1e4)/1e4, "all stands on the table")
		if v.Y > stripWide {
			assert.InDelta(t, stripWide+fenceThick, v.Y, 1e-6)
		}
	}
	assert.InDelta(t, fenceHigh, tallest, 1e-6)
	for _, stop := range stops {
		away, tip := -1.0, stop.Axis-n.Start()
		if stop.End == carve.BodyEnd {
			away, tip = 1, n.Tip()-stop.Axis
		}
		at := func(x float64) float64 { return math.Round(away*x*100) / 100 }
		assert.Equal(t, 1, ends[at(bearing)], "at the bearing")
		assert.Equal(t, 1, ends[at(tip)], "at the stop")
		assert.Equal(t, 4, faces[at(tip)], "a stop there")
		assert.Equal(t, 4, faces[at(tip+fenceStop)])
		assert.Equal(t, 4, faces[at(tip+fenceStop+fenceOver)], "the fence goes on")
	}

	s.Tools = &spec.Tools{Router: spec.RouterHand, BaseWidth: 146}
	s.Blank = nil
	n, err = neck.New(s)
	require.NoError(t, err)
	j = one(t, n, DefaultOptions(), "stops")
	assert.True(t, j.BackUp)
	assert.Nil(t, j.Wood)
}
