package jig

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// rough is the tolerance of jigs whose surfaces nobody measures.
const rough = 0.2

// What is cut from a sheet has words there: through it, or written on it; what is
// written beside words that go through tells where the first end lies, and does not
// reach into their room. Without DRAWN=all it takes two of the necks.
func TestSheetsHaveWords(t *testing.T) {
	through, written := 0, 0
	for _, n := range drawn.Some(necktest.All(t)[:4], 2) {
		o := DefaultOptions()
		o.Tolerance = rough
		set, err := Named(n, o, Names()...)
		require.NoError(t, err)
		for _, j := range set.Jigs {
			for _, p := range j.Parts {
				if !p.Flat() {
					continue
				}
				if p.Label.Up.Z != 0 {
					require.NotEmpty(t, p.Written.Words, p.Name)
					lo, hi := p.Region.Bounds()
					at := p.Written.At
					assert.True(t, at.X > lo.X && at.X+p.Written.Width < hi.X && at.Y > lo.Y && at.Y+p.Written.Height < hi.Y, p.Name)
					assert.True(t, strings.HasPrefix(p.Written.Words[0], p.Label.Words[0]), p.Name)
					written++
					continue
				}
				require.NotEmpty(t, p.Label.Words, p.Name)
				if j.Name != "scribes" {
					continue
				}
				if len(p.Written.Words) == 0 {
					assert.Less(t, p.Label.Width, 4*scribeFirst, p.Name)
					continue
				}
				assert.Contains(t, p.Name, ", from "+p.Written.Words[0])
				a, b := p.Written.At.X, p.Written.At.X+p.Written.Width
				c, d := p.Label.At.X, p.Label.At.X+p.Label.Width
				assert.True(t, b < c || d < a, p.Name)
				for _, q := range p.Ends[0] {
					assert.True(t, q.X < a || q.X > b || q.Y < p.Written.At.Y, p.Name)
				}
				// At the end that the arrowhead marks.
				assert.Less(t, math.Abs(p.Ends[0][1].X-(a+b)/2), math.Abs(p.Ends[0][1].X-(c+d)/2), p.Name)
				through++
			}
		}
	}
	assert.Greater(t, through, 2)
	assert.Greater(t, written, 2)
}

// The flat caul is printed as it is used, and so are its words; the hollow one is
// printed turned over.
func TestCaulsOnTheBed(t *testing.T) {
	n := necktest.Demo(t)
	for name, up := range map[string]float64{"flat-caul": 1, "caul": -1} {
		for _, p := range one(t, n, DefaultOptions(), name).Parts {
			assert.Equal(t, up, p.Label.Up.Z, name)
			assert.Equal(t, up, p.Home.Z.Z, name)
			assert.Equal(t, 1.0, p.Home.Turn(p.Label.Up).Z, "upright on the board")
			assert.Equal(t, 1.0, p.Home.Turn(p.Label.Along).X, "from the nut")
		}
	}
}

// Rails are as high as a mark of a rule, over what they clear and no mark too high.
func TestRailsToAMark(t *testing.T) {
	for _, u := range []spec.Unit{spec.Millimetre, spec.Inch} {
		n := necktest.Demo(t)
		m := newMaker(n, DefaultsFor(u))
		m.u = u
		parts, _, err := buildRails(m)
		require.NoError(t, err)
		mark := 1.0
		if u == spec.Inch {
			mark = 25.4 / 32
		}
		_, hi := parts[0].Region.Bounds()
		assert.InDelta(t, math.Round(hi.Y/mark)*mark, hi.Y, 1e-9)
		most := m.plan.Rails(railOver).Depth
		assert.GreaterOrEqual(t, hi.Y, most+m.Clearance)
		assert.Less(t, hi.Y, most+m.Clearance+mark)
		// At their places they stand on the bench, glue face down, beside the wood.
		for _, p := range parts {
			for _, c := range p.Region.Outer {
				q := p.Home.Out(mesh.Vec{X: c.X, Y: c.Y})
				assert.LessOrEqual(t, q.Z, 1e-9)
				assert.Greater(t, math.Abs(q.Y), n.Width(n.End())/2)
			}
		}
	}
}

// A jig that the bed has no room for is left out, and the others are made.
func TestBedHasNoRoom(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions()
	o.Across, o.Along = 80, 80
	set, err := Named(n, o, "rest", "caul", "scribes")
	require.NoError(t, err)
	require.Len(t, set.Jigs, 2)
	require.Len(t, set.LeftOut, 1)
	assert.ErrorContains(t, set.LeftOut[0], "rest: rest, fret 2 is 24 mm x 110 mm, too large for a bed with room for 80 mm x 80 mm; allowed: a larger bed")
	o.Across = 110 // turned it fits
	set, err = Named(n, o, "rest")
	require.NoError(t, err)
	assert.Empty(t, set.LeftOut)
}
