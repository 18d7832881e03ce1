package progress

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/spec"
)

// spots returns what remains on a workpiece: `rest`, and less at a few frets
// and angles.
func spots(rest float64, low ...[3]float64) func(fret, angle float64) float64 {
	return func(fret, angle float64) float64 {
		for _, s := range low {
			if fret == s[0] && math.Abs(angle-s[1]) < 0.1 {
				return s[2]
			}
		}
		return rest
	}
}

// TestRescueLosesLeast checks two low spots, 0.31 mm on the treble shoulder at
// fret 1 and 0.61 mm in the middle at fret 5, against a spec written by hand: a
// depth target more at fret 5 and a slimmer treble side at fret 1, as little as
// the readings ask for. That one may lie outside the wood elsewhere; the new
// target may not, and loses no more all the same.
func TestRescueLosesLeast(t *testing.T) {
	n := demoNeck(t)
	over := spots(0.05, [3]float64{1, 3 * math.Pi / 4, -0.31}, [3]float64{5, math.Pi / 2, -0.61})
	p := followed(t, n, carved(n, playing, over))
	hand := *n.Spec()
	hand.Depth = []spec.DepthTarget{hand.Depth[0], {At: spec.AtFret(5), Total: n.Total(n.Spec().FretX(5)) - 0.62}, hand.Depth[1]}
	hand.Profile = append([]spec.ProfileStation(nil), hand.Profile...)
	var byHand float64
	for treble := 2.0; byHand == 0; treble -= 0.01 {
		require.Greater(t, treble, 1.5)
		hand.Profile[0].Treble = treble
		h, err := neck.Draft(&hand)
		require.NoError(t, err)
		kept := true
		for _, c := range p.Checks {
			kept = kept && (c.Remaining >= 0 || remainingOf(h, &c) >= 0)
		}
		if kept {
			byHand = bending.WoodMass(n) - bending.WoodMass(h)
		}
	}
	r, err := Rescue(p)
	require.NoError(t, err)
	got, err := neck.New(r.Spec)
	require.NoError(t, err)
	assert.InDelta(t, bending.WoodMass(n)-bending.WoodMass(got), r.Lost, 1e-9)
	assert.Less(t, r.Lost, byHand)
	is, was := surface(got), surface(n)
	farthest := 0.0
	for i := range is {
		farthest = math.Max(farthest, was[i]-is[i])
	}
	assert.InDelta(t, farthest, r.Moved, 0.05)
	_, outside := moved(was, is)
	assert.Less(t, outside, 0.004)
	assert.Zero(t, followed(t, got, p.Set).Count(Below))
	assert.Equal(t, n.Spec().Name+" rescued", r.Spec.Name)
	assert.Regexp(t, `depth has \d targets more, at .*fret 5.*profile has .* more, at .*: with the old ones alone more wood would be lost`, strings.Join(r.Notes, "\n"))
	// Nothing is wanted of the new target any more.
	_, err = Rescue(followed(t, got, p.Set))
	assert.ErrorIs(t, err, ErrNothingLow)
}

// TestRescueFindsAWay checks a workpiece that no depth and fullness save: a
// square bass side, low beside the wall. A narrower neck does.
func TestRescueFindsAWay(t *testing.T) {
	s := *spec.Demo()
	s.Profile = append([]spec.ProfileStation(nil), s.Profile...)
	for i := range s.Profile {
		s.Profile[i].Bass, s.Profile[i].Shape = 5, ""
	}
	n, err := neck.New(&s)
	require.NoError(t, err)
	// A contour of four points and a total: beside the outermost nothing is known.
	set := carved(n, playing, spots(0.2, [3]float64{7, math.Pi / 8, -0.35}))
	for i := len(set.Readings) - 1; i > 0; i -= 2 {
		set.Readings = append(set.Readings[:i], set.Readings[i+1:]...)
	}
	p := followed(t, n, set)
	r, err := Rescue(p)
	require.NoError(t, err)
	got, err := neck.New(r.Spec)
	require.NoError(t, err)
	assert.Less(t, r.Spec.Width.Nut, s.Width.Nut)
	assert.Greater(t, r.Spec.Width.Nut, s.Width.Nut-2.5)
	notes := strings.Join(r.Notes, "\n")
	assert.Contains(t, notes, "the neck becomes narrower")
	assert.Contains(t, notes, "the board must be cut down")
	assert.Zero(t, followed(t, got, p.Set).Count(Below))
	_, outside := moved(surface(n), surface(got))
	assert.Less(t, outside, 0.004)
}

// TestNoRescueNamesTheCause checks that a workpiece without a way out is told
// by the low spot that is in the way, and not by another; or by all of them.
// Without DRAWN=all it takes some of the cases.
func TestNoRescueNamesTheCause(t *testing.T) {
	n := demoNeck(t)
	reason := func(low ...[3]float64) string {
		_, err := Rescue(followed(t, n, carved(n, playing, spots(0.3, low...))))
		var none *NoRescue
		require.ErrorAs(t, err, &none)
		return none.Reason
	}
	deep := [3]float64{7, math.Pi / 4, -5}
	got := reason(deep, [3]float64{3, math.Pi / 2, -0.2}, [3]float64{12, math.Pi / 2, -0.3})
	assert.Contains(t, got, "the low spot at fret 7, where point at fret 7, y -")
	assert.Contains(t, got, "(line 35) is 5 mm below the target")
	assert.Contains(t, got, "without it there would be a target")
	assert.NotContains(t, got, "fret 3")
	assert.NotContains(t, got, "fret 12")
	assert.NotContains(t, got, "nothing was read")
	deep[0], deep[2] = 12, -9
	assert.Contains(t, reason(deep), "Beyond fret 12 nothing was read: the low spot is taken to run out over 25 mm there")
	if !drawn.All() {
		return
	}
	assert.Contains(t, reason([3]float64{3, math.Pi / 4, -5}, [3]float64{9, 3 * math.Pi / 4, -5}), "the low spots at fret 3 and fret 9 together leave no depth")
}

// TestRescueGrows checks the conditions on growth and on depth: a neck that gets
// no thinner towards the body does not after a slip near it either; one that did
// may; and no number becomes larger than it was.
func TestRescueGrows(t *testing.T) {
	for name, c := range map[string]struct{ first, last float64 }{
		"even":    {21.5, 21.6},
		"growing": {21, 22.4},
		"shrinks": {22.4, 21.5},
	} {
		s := *spec.Demo()
		s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: c.first}, {At: spec.AtFret(12), Total: c.last}}
		n, err := neck.New(&s)
		require.NoError(t, err)
		p := followed(t, n, carved(n, playing, spots(0.2, [3]float64{12, math.Pi / 2, -0.7})))
		r, err := Rescue(p)
		require.NoError(t, err, name)
		got, err := neck.New(r.Spec)
		require.NoError(t, err)
		thinner := 0.0
		for x := s.FretX(1); x < s.FretX(12); x += 5 {
			thinner = math.Max(thinner, got.Total(x)-got.Total(x+5))
		}
		if c.last > c.first {
			assert.LessOrEqual(t, thinner, 1e-9, name)
		} else {
			assert.Greater(t, got.Total(s.FretX(1)), c.first-0.1, "%s: need not follow", name)
		}
		for _, q := range r.Changes {
			assert.LessOrEqual(t, q.New, q.Old, "%s: %s", name, q.Key)
		}
		assert.LessOrEqual(t, got.Total(s.FretX(12)), c.last-0.7, name)
		assert.Greater(t, got.Total(s.FretX(12)), c.last-0.8, name)
	}
}

// TestRescueConditions checks each condition by itself: how far it is met, and
// its row against what a small change of the numbers does.
func TestRescueConditions(t *testing.T) {
	n := demoNeck(t)
	p := followed(t, n, carved(n, playing, spots(0.3, [3]float64{5, math.Pi / 2, -0.4})))
	r := newRescuer(p, n, extras{depth: []spec.Place{spec.AtFret(5)}})
	at := append([]float64(nil), r.old...)
	for k := range at {
		at[k] -= 0.01 * float64(k+1)
	}
	eval := func(at []float64) ([]float64, [][]float64, float64, []float64) {
		m := r.lay(at)
		require.NotNil(t, m)
		here := r.values(m)
		c := r.conditions(m, at, here, r.slopes(at, here))
		return c.met, c.rows, c.lost, c.cost
	}
	met, rows, lost, cost := eval(at)
	require.Len(t, rows, len(met))
	for k := range at {
		const h = 1e-4
		q := append([]float64(nil), at...)
		q[k] += h
		there, _, more, _ := eval(q)
		assert.InDelta(t, (more-lost)/h, cost[k], 1e-3)
		for i := range met {
			assert.InDelta(t, (there[i]-met[i])/h, -rows[i][k], 5e-3, "condition %d, number %d", i, k)
		}
	}
	// The last are those of the numbers, and of growth: three targets.
	last := met[len(met)-2*len(at)-2:]
	for k := range at {
		assert.InDelta(t, r.old[k]-at[k], last[2*k], 1e-12)
		assert.InDelta(t, at[k]-r.least[k], last[2*k+1], 1e-12)
	}
	assert.InDelta(t, at[1]-at[0], last[2*len(at)], 1e-12)
	assert.InDelta(t, at[2]-at[1], last[2*len(at)+1], 1e-12)
	// Depths may fall by 8 mm, and a side to the slimmest V: our own choice.
	assert.InDelta(t, at[0]+0.01-8, r.least[0], 1e-12)
	assert.InDelta(t, 1.35, r.least[3], 1e-12)
	// What is no neck any more is none: a back above the wall's foot.
	at[0] = 5.6 + n.Spec().Wall + 0.1
	at[1] = at[0]
	assert.Nil(t, r.lay(at))
	// The wood lost, in mm³, is the mean distance over the surface, to what seven
	// directions a side tell.
	assert.InDelta(t, 0, func() float64 {
		m := r.lay(r.old)
		c := r.conditions(m, r.old, r.values(m), nil)
		return c.lost
	}(), 0.01)
}

// TestRescuedName checks the names of rescued specs, of one that is rescued
// again, and that they stay within what a spec allows.
func TestRescuedName(t *testing.T) {
	for name, want := range map[string]string{
		"Tern":                   "Tern rescued",
		"Tern rescued":           "Tern rescued 2",
		"Tern rescued 2":         "Tern rescued 3",
		"Tern rescued 9":         "Tern rescued 10",
		"rescued":                "rescued rescued",
		"Tern rescued twice":     "Tern rescued twice rescued",
		strings.Repeat("é", 100): strings.Repeat("é", 92) + " rescued",
		"Tern rescued 99999999999999999999999999": "Tern rescued 99999999999999999999999999 rescued",
	} {
		assert.Equal(t, want, RescuedName(name))
	}
}
