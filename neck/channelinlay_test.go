package neck

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// TestInlayOutlines checks that what is drawn in a channel has the area that is
// counted, and lies in it.
func TestInlayOutlines(t *testing.T) {
	from, to := spec.AtX(12), spec.AtX(380)
	bar := spec.Bar{Width: 2.6, Height: 4, Below: 1.5, Modulus: 1e5, Density: 1600}
	for name, c := range map[string]spec.Channel{
		"bar":           {Width: 3.4, Depth: 6, From: from, To: to, Offset: -7, Angle: degrees(1), Bar: bar},
		"strip":         {Width: 5, Depth: 7, DepthMiddle: 9, Curve: spec.CurveCircle, From: from, To: to, Floor: spec.FloorRound, Top: spec.TopStrip, StripThickness: 2},
		"bar and strip": {Width: 3.4, Depth: 6, From: from, To: to, Offset: 5, Bar: bar, Top: spec.TopStrip, StripThickness: 1.4},
		"filling":       {Width: 5, Depth: 7, DepthEnd: 8, From: from, To: to, Floor: spec.FloorRound, Top: spec.TopFilled},
	} {
		n := withChannels(t, c)
		k := n.Channels()[0]
		for _, x := range []float64{30, 150, 370} {
			inlays, outlines := n.Inlays(x), n.InlayOutlines(k, x, 64)
			require.Equal(t, len(inlays), len(outlines), name)
			for _, in := range inlays {
				found := false
				for _, out := range outlines {
					if out.Name == in.Name {
						found = true
						area := math.Abs(polygonMoments(out.Closed).Area)
						assert.InDelta(t, in.Moments.Area, area, 0.02, "%s at %g", name, x)
						for _, p := range out.Closed {
							d, ok := k.SectionDistance(x, p)
							require.True(t, ok)
							assert.LessOrEqual(t, d, 1e-6, "%s at %g", name, x)
						}
					}
				}
				assert.True(t, found, "%s: %s", name, in.Name)
			}
		}
		assert.Empty(t, n.Inlays(5))
		assert.Empty(t, n.InlayOutlines(k, 5, 8))
	}
}

// TestNearestCover holds the shortest line of a section against points of the
// channel's outline and of the back.
func TestNearestCover(t *testing.T) {
	for name, c := range channelCases() {
		n := withChannels(t, c)
		k := n.Channels()[0]
		for _, x := range []float64{170, 205} {
			channel, back, gap, ok := n.NearestCover(k, x)
			require.True(t, ok, name)
			s := n.Section(x)
			assert.InDelta(t, 0, s.Distance(back), 1e-6, name)
			far, _ := k.SectionDistance(x, channel)
			assert.InDelta(t, 0, far, 0.01, name)
			want := math.Inf(1)
			for _, p := range n.ChannelOutline(k, x, 400) {
				want = math.Min(want, -s.Distance(p))
			}
			assert.InDelta(t, want, gap, 0.005, "%s at %g", name, x)
			assert.InDelta(t, gap, math.Hypot(channel.Y-back.Y, channel.Z-back.Z), 0.02, "%s at %g", name, x)
			reach, ok := n.ChannelSupport(x, PlusY, 1.1)
			require.True(t, ok)
			most := math.Inf(-1)
			sin, cos := math.Sincos(1.1)
			for _, p := range n.ChannelOutline(k, x, 400) {
				most = math.Max(most, p.Y*cos-p.Z*sin)
			}
			assert.InDelta(t, most, reach, 0.002, "%s at %g", name, x)
		}
		_, _, _, ok := n.NearestCover(k, 460)
		assert.Equal(t, k.To > 460, ok, name)
	}
}

// TestChannelDistanceInSpace holds the distance of points from channels of every
// kind against thousands of points of their floors and walls.
func TestChannelDistanceInSpace(t *testing.T) {
	for name, c := range channelCases() {
		if name == "lopsided arc" {
			continue
		}
		n := withChannels(t, c)
		k := n.Channels()[0]
		points := solidPoints(n, n.spec.Channels[0], 1200, 16)
		for _, q := range []mesh.Vec{{X: 200, Y: -4, Z: -13}, {X: 180, Y: 6, Z: -12}, {X: 60, Y: 1, Z: -14}, {X: 340, Y: 9, Z: -13}, {X: 395, Y: 2, Z: -10}, {X: 3, Y: -6, Z: -9}} {
			got := k.Distance(q)
			if got < 1 {
				continue // inside, or over the lips
			}
			want := math.Inf(1)
			for _, p := range points {
				want = math.Min(want, p.Sub(q).Norm())
				p.Z = math.Max(p.Z, q.Z) // a wall, all the way up
				want = math.Min(want, p.Sub(q).Norm())
			}
			assert.InDelta(t, want, got, 0.03, "%s: %v", name, q)
			assert.LessOrEqual(t, got, want+1e-9, "%s: %v", name, q)
		}
	}
}
