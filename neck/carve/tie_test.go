package carve

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/necktest"
)

// TestMostIsNamedOnTheBassSide takes a neck of like sides: both leave the same,
// and every station names the same side, on either hand.
func TestMostIsNamedOnTheBassSide(t *testing.T) {
	s := necktest.Demo(t).Spec()
	for i := range s.Profile {
		s.Profile[i].Bass, s.Profile[i].Apex = s.Profile[i].Treble, 0
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	other, err := n.Mirrored()
	require.NoError(t, err)
	for _, n := range []*neck.Neck{n, other} {
		p := planOf(t, n.Spec(), nil)
		require.Greater(t, len(p.Stations), 10)
		for _, st := range p.Stations {
			require.Negative(t, st.FlatsRemainingY*-n.Bass().Sign(), st.Label)
			require.LessOrEqual(t, st.RemainingY*-n.Bass().Sign(), 0.0, st.Label)
		}
	}
}

func TestMostOf(t *testing.T) {
	at := func(y float64) neck.YZ { return neck.YZ{Y: y, Z: -10} }
	places := []leftover{{1 + 1e-9, at(9)}, {1, at(-4)}, {1 - 1e-7, at(-8)}, {0.9, at(-12)}}
	most, where := mostOf(places, neck.MinusY)
	require.Equal(t, 1+1e-9, most)
	require.Equal(t, at(-8), where)
	_, where = mostOf(places, neck.PlusY)
	require.Equal(t, at(9), where)
	most, where = mostOf([]leftover{{1.01, at(3)}, {1, at(-3)}}, neck.MinusY)
	require.Equal(t, 1.01, most)
	require.Equal(t, at(3), where, "what shows in print is named where it is")
	most, _ = mostOf(nil, neck.MinusY)
	require.True(t, math.IsInf(most, -1))
}
