package bending

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestStiffnessAtEnds checks where board and channel begin and end to count: at
// their very ends they do, a thousandth of a millimetre beyond they do not.
func TestStiffnessAtEnds(t *testing.T) {
	n := necktest.Demo(t)
	s := n.Spec()
	require.Greater(t, n.End(), n.BoardEnd(), "wood past the board")
	from, to := n.Channels()[0].From, n.Channels()[0].To
	for _, c := range []struct {
		x              float64
		board, channel bool
	}{
		{-0.001, false, false}, {0, true, false},
		{from - 0.001, true, false}, {from, true, true},
		{to, true, true}, {to + 0.001, true, false},
		{n.BoardEnd(), true, false}, {n.BoardEnd() + 0.001, false, false}, {n.End(), false, false},
	} {
		section := n.Section(c.x)
		bare := section.Moments()
		k := StiffnessAt(n, c.x)
		cut := 0.0
		if c.channel {
			cut = s.Rod.Width * s.Rod.Depth // a flat floor
		}
		assert.InDelta(t, bare.Area-cut, k.Wood.Area, 1e-9, "x = %g", c.x)
		_, ok := n.BoardMoments(c.x)
		assert.Equal(t, c.board, ok, "x = %g", c.x)
		if c.board {
			assert.Greater(t, k.EI, 1.3*k.EIWood, "x = %g", c.x)
			assert.Greater(t, k.Neutral, k.NeutralWood+0.5, "x = %g", c.x)
		} else {
			assert.Equal(t, k.EIWood, k.EI, "x = %g", c.x)
			assert.Equal(t, k.NeutralWood, k.Neutral, "x = %g", c.x)
		}
	}
}

// TestTotalAtEnds checks where the board's thickness counts.
func TestTotalAtEnds(t *testing.T) {
	n := necktest.Demo(t)
	board := n.Spec().Board.Thickness
	for x, want := range map[float64]float64{
		-0.001: 0, 0: board, 200: board, n.BoardEnd(): board, n.BoardEnd() + 0.001: 0, n.End(): 0,
	} {
		assert.InDelta(t, n.Depth(x)+want, n.Total(x), 1e-12, "x = %g", x)
	}
}

// TestJointOfAnyNeck checks where the body takes over: at the place named, at
// the heel's full block, or at the end of a neck without a heel, where wood and
// board end together.
func TestJointOfAnyNeck(t *testing.T) {
	s := spec.Demo()
	at := spec.AtX(333)
	s.Strings.Joint = &at
	n, err := neck.New(s)
	require.NoError(t, err)
	assert.Equal(t, 333.0, Joint(n))

	s = spec.Demo()
	s.Heel.Full, s.Heel.End = spec.AtX(430), spec.AtX(431)
	s.Rod.To = spec.AtX(400)
	n, err = neck.New(s)
	require.NoError(t, err)
	assert.Equal(t, 430.0, Joint(n), "not the end of the wood, nor of the board beyond it")

	s = spec.Demo()
	s.Heel = nil
	n, err = neck.New(s)
	require.NoError(t, err)
	assert.Equal(t, s.BoardEnd(), Joint(n))
	assert.Equal(t, n.End(), Joint(n))
}

// TestStringLine checks a string's height between nut and fret 12, and beyond:
// a straight line, so that it rises from nut to saddle twice what it rises to
// fret 12, which lies halfway.
func TestStringLine(t *testing.T) {
	s := spec.Demo()
	s.Board.Thickness = 5.5
	s.Strings.HeightNut, s.Strings.Height12 = 1.5, 3.1
	for part, want := range map[float64]float64{
		0: 5.5 + 1.5, 0.125: 5.5 + 1.9, 0.25: 5.5 + 2.3, 0.5: 5.5 + 3.1, 1: 5.5 + 4.7,
	} {
		assert.InDelta(t, want, s.StringLine(part*s.Scale.Length), 1e-12)
	}
}

// TestBowUnderSlopingStrings checks the bow of an even neck whose strings rise
// from the nut on: the moment runs straight from m0 at the nut to m1 at the
// joint, a distance l away, and by integrating it twice a beam on two supports
// lies
//
//	x (l-x) (m0 (2l-x) + m1 (l+x)) / (6 l E I)
//
// off the line between them (the sum of the two rows "couple at one end" of
// Gere, Mechanics of Materials, table G-2 case 7; from memory, and both ends
// equal give M x (l-x)/2EI).
func TestBowUnderSlopingStrings(t *testing.T) {
	s := spectest.Straight()
	s.Strings = &spec.Strings{HeightNut: 1, Height12: 9, Set: []spec.String{{Tension: 200}}}
	n, err := neck.New(s)
	require.NoError(t, err)
	b, ok := BowOf(n)
	require.True(t, ok)
	k := StiffnessAt(n, 100)
	l := n.End()
	// Fret 12 is at 300 mm; the board is 6 mm thick.
	m0, m1 := 200*(7-k.Neutral), 200*(7+8*l/300-k.Neutral)
	best := 0.0
	for _, x := range []float64{0.1 * l, 0.3 * l, 0.5 * l, 0.8 * l} {
		want := x * (l - x) * (m0*(2*l-x) + m1*(l+x)) / (6 * l * k.EI)
		assert.InEpsilon(t, want, b.Gap(x), 1e-5, "x = %g", x)
		best = math.Max(best, want)
		assert.InEpsilon(t, m0+(m1-m0)*x/l, StringMoment(n, x), 1e-9)
	}
	assert.GreaterOrEqual(t, b.Relief, best)
	assert.Greater(t, b.At, l/2, "nearer to the greater moment")
	w0, w1 := 200*(7-k.NeutralWood), 200*(7+8*l/300-k.NeutralWood)
	x := b.AtWoodOnly
	assert.InEpsilon(t, x*(l-x)*(w0*(2*l-x)+w1*(l+x))/(6*l*k.EIWood), b.ReliefWood, 1e-5)
}
