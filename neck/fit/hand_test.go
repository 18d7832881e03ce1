package fit

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/readings"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// TestFitOfALeftHandedNeck reads a left-handed neck and finds the numbers of its
// spec, bass by bass: from the hand in the options, from that of the base, and
// the mirrored ones for the wrong hand.
func TestFitOfALeftHandedNeck(t *testing.T) {
	known := readingstest.Known(t)
	left, err := known.Mirrored()
	require.NoError(t, err)
	set := readingstest.Whole(left, 1, 0)
	hand := spec.LeftHand
	same := func(r *Result) {
		t.Helper()
		assert.Equal(t, spec.LeftHand, r.Spec.Hand)
		require.Len(t, r.Spec.Profile, 2)
		for i, p := range r.Spec.Profile {
			want := known.Spec().Profile[i]
			assert.InDelta(t, want.Bass, p.Bass, 0.02)
			assert.InDelta(t, want.Treble, p.Treble, 0.02)
			assert.InDelta(t, want.Apex, p.Apex, 0.05)
		}
	}
	r, err := Fit(set, nil, Options{Hand: &hand})
	require.NoError(t, err)
	same(r)
	var b strings.Builder
	require.NoError(t, r.WriteTOML(&b, "head"))
	assert.Regexp(t, `(?m)^hand = "left"`, b.String())

	r, err = Fit(set, left.Spec(), Options{})
	require.NoError(t, err)
	same(r)

	r, err = Fit(set, nil, Options{})
	require.NoError(t, err)
	assert.Equal(t, spec.RightHand, r.Spec.Hand)
	assert.InDelta(t, -known.Spec().Profile[1].Apex, r.Spec.Profile[1].Apex, 0.05)
	assert.InDelta(t, known.Spec().Profile[1].Bass, r.Spec.Profile[1].Treble, 0.02)
}

// TestAdviceForALeftHandedNeck asks for points where the shoulder is.
func TestAdviceForALeftHandedNeck(t *testing.T) {
	known := readingstest.Known(t)
	for _, hand := range []spec.Hand{spec.RightHand, spec.LeftHand} {
		b := readingstest.NewBench(known, 1, 0)
		b.Board()
		b.Width(0)
		b.Width(20)
		b.Total(1)
		b.Total(12)
		at := spec.AtFret(5)
		for _, y := range []float64{-14, -9, -6} { // one side alone
			sec := known.Section(known.Spec().X(at))
			d, _ := sec.DepthAt(y)
			b.Add(readings.Point, at, y, d)
		}
		r, err := Fit(b.Set, nil, Options{Hand: &hand})
		require.NoError(t, err)
		notes := strings.Join(r.Notes, "\n")
		lacking := map[spec.Hand]string{spec.RightHand: "treble", spec.LeftHand: "bass"}[hand]
		assert.Regexp(t, `0 of 2 points on the `+lacking+` shoulder. Measure 2 more points there, between y = \d`, notes)
		given := "profile[1].bass"
		if hand == spec.LeftHand {
			given = "profile[1].treble"
		}
		for _, g := range r.Ranges {
			if g.Key == given {
				assert.Equal(t, "fitted", g.Source)
			}
		}
	}
}
