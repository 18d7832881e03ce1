package progress

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// TestFollowCentre checks calipers held on the centreline of a neck that is
// deepest beside it: a finished neck is on target, and what remains is told
// square to the surface, which an even layer moves by its thickness.
//
// Long, since it is one table of cases.
func TestFollowCentre(t *testing.T) {
	for _, mirrored := range []bool{false, true} {
		n := readingstest.FarApex(t, mirrored)
		s := n.Spec()
		x := s.FretX(5)
		sec := n.Section(x)
		deep, ok := sec.DepthAt(0)
		require.True(t, ok)
		total := deep + s.Board.Thickness
		require.Greater(t, n.Total(x)-total, 1.0, "as a total it would be far below")
		for _, c := range []struct {
			off    float64 // of the reading
			status Status
		}{{0, OnTarget}, {0.05, OnTarget}, {-0.05, OnTarget}, {0.8, ToComeOff}, {-0.8, Below}} {
			p := followed(t, n, readingstest.ReadingsOf(t, fmt.Sprintf("centre,5,,%.9f\n", total+c.off)))
			got := p.Checks[0]
			assert.Equal(t, c.status, got.Status)
			assert.InDelta(t, total, got.Target, 1e-6)
			assert.InDelta(t, c.off, got.Remaining, 1e-6)
			assert.Empty(t, p.Notes, "nothing is read at the deepest point")

			// The wood is that of a contour point at the same place, the cover too.
			q := followed(t, n, readingstest.ReadingsOf(t, fmt.Sprintf("point,5,0,%.9f\n", deep+c.off)))
			assert.InDelta(t, q.Checks[0].Remaining, got.Wood, 1e-6)
			assert.InDelta(t, q.Checks[0].Phi, got.Phi, 1e-6)
			assert.Equal(t, q.Checks[0].Side, got.Side)
			assert.InDelta(t, q.Checks[0].Foot.Y, got.Foot.Y, 1e-6)
			assert.InDelta(t, q.Checks[0].Foot.Z, got.Foot.Z, 1e-6)
			on, ok := sec.DepthAt(got.Foot.Y)
			require.True(t, ok)
			assert.InDelta(t, -on, got.Foot.Z, 1e-6, "the foot is on the surface")
			require.False(t, math.IsNaN(q.Cover))
			assert.InDelta(t, q.Cover, p.Cover, 1e-6)
			if c.status != OnTarget {
				assert.Less(t, math.Abs(got.Wood), math.Abs(got.Remaining), "a sloping back loses less than the caliper")
				want := "bass side, "
				if mirrored {
					want = "treble side, "
				}
				assert.Contains(t, got.Direction(spec.Millimetre), want)
			}
		}
		// The distance by brute force, over places on the back.
		got := followed(t, n, readingstest.ReadingsOf(t, fmt.Sprintf("centre,5,,%.9f\n", total+0.8))).Checks[0]
		least := math.Inf(1)
		for i := range 20001 {
			y := -10 + float64(i)/1000
			d, _ := sec.DepthAt(y)
			least = math.Min(least, math.Hypot(y, deep+0.8-d))
		}
		assert.InDelta(t, least, got.Wood, 1e-3)
	}
	// In the inch file, over the headstock and on a neck that is even, it is what
	// the total is.
	n := demoNeck(t)
	x := n.Spec().FretX(2)
	assert.Equal(t, "off the back", func() string {
		c := followed(t, n, readingstest.ReadingsOf(t, fmt.Sprintf("centre,2,,%.6f\n", n.Total(x)+1))).Checks[0]
		return c.Direction(spec.Millimetre)
	}())
	p := followed(t, n, readingstest.ReadingsOf(t, fmt.Sprintf("centre,x=-30,,%.6f\n", n.Depth(-30))))
	assert.Equal(t, OnTarget, p.Checks[0].Status, "no board lies over the headstock")
}

// TestFollowSaysWhereTotalsAre checks the word about calipers on the
// centreline: where it matters, and nowhere else.
func TestFollowSaysWhereTotalsAre(t *testing.T) {
	for _, mirrored := range []bool{false, true} {
		n := readingstest.FarApex(t, mirrored)
		x := n.Spec().FretX(12)
		p := followed(t, n, readingstest.ReadingsOf(t, "total,1,,22.5\nwood,12,,19.4\n"))
		side := "treble"
		if mirrored {
			side = "bass"
		}
		require.Len(t, p.Notes, 1)
		// The side gains on the apex towards the body, so that fret 1 has more.
		x1 := n.Spec().FretX(1)
		require.Greater(t, n.Total(x1)-n.Centre(x1), n.Total(x)-n.Centre(x))
		assert.Equal(t, fmt.Sprintf("A total is what wide caliper jaws read at the deepest point. At fret 1 that lies 9 mm to the %s side, and on the centreline the target is %s thinner: a reading taken there is of kind centre.",
			side, spec.Millimetre.Rounded(n.Total(x1)-n.Centre(x1))), p.Notes[0])
	}
	// On the demo neck it is 0.005 mm, within any tolerance but none.
	n := demoNeck(t)
	p := followed(t, n, readingstest.ReadingsOf(t, "total,12,,22\n"))
	assert.Empty(t, p.Notes)
	p, err := Follow(n, readingstest.ReadingsOf(t, "total,12,,22\n"), 0)
	require.NoError(t, err)
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0], "At fret 12 that lies 1 mm to the bass side")
	s := *n.Spec()
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 2, Treble: 2, Apex: 0.5}}
	n, err = neck.New(&s)
	require.NoError(t, err)
	p, err = Follow(n, readingstest.ReadingsOf(t, "total,12,,22\n"), 0)
	require.NoError(t, err)
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0], "lies 0.5 mm to the treble side")
}

// TestRescueCentre checks a rescue from calipers held on the centreline of a
// neck that is deepest beside it. What they say is that of a contour point at
// the same place, so that the new target is the same too; and the place is on or
// outside it, by brute force. The other hand's only with DRAWN=all: that a rescue
// knows the hand another test tells.
func TestRescueCentre(t *testing.T) {
	for _, mirrored := range drawn.Some([]bool{false, true}, 1) {
		n := readingstest.FarApex(t, mirrored)
		s := n.Spec()
		var centre, points strings.Builder
		places := map[float64]float64{} // carved depth on the centreline, by x
		for fret := 1.0; fret <= 11; fret += 2 {
			x := s.FretX(fret)
			sec := n.Section(x)
			deep, ok := sec.DepthAt(0)
			require.True(t, ok)
			over := 0.2
			if fret == 5 {
				over = -0.6
			}
			places[x] = deep + over
			fmt.Fprintf(&centre, "centre,%g,,%.9f\n", fret, deep+over+s.Board.Thickness)
			fmt.Fprintf(&points, "point,%g,0,%.9f\n", fret, deep+over)
		}
		p := followed(t, n, readingstest.ReadingsOf(t, centre.String()))
		require.Equal(t, 1, p.Count(Below))
		for _, c := range p.Checks {
			if c.Status == Below {
				require.Less(t, -c.Wood, 0.97*-c.Remaining, "the back slopes where it was read")
			}
		}
		got, err := Rescue(p)
		require.NoError(t, err)
		want, err := Rescue(followed(t, n, readingstest.ReadingsOf(t, points.String())))
		require.NoError(t, err)
		require.Len(t, got.Changes, len(want.Changes))
		for i, c := range want.Changes {
			assert.Equal(t, c.Key, got.Changes[i].Key)
			assert.InDelta(t, c.New, got.Changes[i].New, 0.0101, c.Key)
		}
		assert.InDelta(t, want.Lost, got.Lost, 0.05)

		made, err := neck.New(got.Spec)
		require.NoError(t, err)
		nearest := math.Inf(1)
		for x, deep := range places {
			sec := made.Section(x)
			on, ok := sec.DepthAt(0)
			require.True(t, ok)
			assert.LessOrEqual(t, on, deep+1e-9, "x = %g", x)
			nearest = math.Min(nearest, deep-on)
		}
		assert.Less(t, nearest, 0.08, "it goes no deeper than the low spot asks for")
	}
}
