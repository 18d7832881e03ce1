package fit

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// TestRandomReadings fits sets of any make-up, good and bad: every one gives a
// neck that can be made, written and read again, with its numbers inside their
// ranges, or an error in words.
//
// Long, since its cases share what is set up first.
func TestRandomReadings(t *testing.T) {
	t.Parallel()
	n := readingstest.Known(t)
	base := spec.Demo()
	fitted, refused := 0, 0
	runs := 24
	if drawn.All() {
		runs = 160
	}
	for seed := range uint64(runs) {
		rng := rand.New(rand.NewPCG(seed, 41))
		b := readingstest.NewBench(n, seed, []float64{0, 0.5, 1, 1, 3, 10}[rng.IntN(6)])
		fret := func() float64 { return float64(rng.IntN(29)) / 2 }
		if rng.IntN(5) > 0 {
			b.Board()
		}
		if rng.IntN(3) == 0 {
			b.Add(readings.WallAt, spec.Place{}, 0, n.Spec().Wall)
		}
		if rng.IntN(5) > 0 {
			b.Width(0)
			b.Width(21)
		}
		for range rng.IntN(7) {
			b.Total(fret())
		}
		for range rng.IntN(3) {
			b.Girth(fret())
		}
		for range rng.IntN(4) {
			b.Contour(fret(), 1+rng.IntN(14))
		}
		for i := range b.Set.Readings {
			r := &b.Set.Readings[i]
			if rng.IntN(25) == 0 {
				r.Value *= 0.2 + 2*rng.Float64() // a slip
			}
			r.Value = math.Max(r.Value, 0.01)
		}
		opts := Options{}
		if rng.IntN(4) == 0 {
			opts = Options{Targets: rng.IntN(4), Profiles: rng.IntN(4)}
		}
		var on *spec.Spec
		if rng.IntN(3) == 0 {
			on = base
		}
		r, err := Fit(b.Set, on, opts)
		if err != nil {
			refused++
			assert.NotEmpty(t, err.Error())
			continue
		}
		fitted++
		_, problems := neck.Check(r.Spec)
		require.NoError(t, problems.Err(), "seed %d", seed)
		for _, g := range r.Ranges {
			assert.False(t, math.IsNaN(g.Value) || math.IsInf(g.Value, 0), "seed %d: %+v", seed, g)
			if g.Source == "fitted" {
				const rounding = 0.001
				assert.True(t, g.Low <= g.Value+rounding && g.Value <= g.High+rounding, "seed %d: %+v", seed, g)
			}
		}
		for _, q := range r.Residuals {
			assert.False(t, math.IsNaN(q.Off) || math.IsInf(q.Standard, 0), "seed %d: %+v", seed, q)
		}
		var text bytes.Buffer
		require.NoError(t, r.WriteTOML(&text, "random"))
		s, err := spec.Read(&text, "random.toml")
		require.NoError(t, err, "seed %d", seed)
		assert.Equal(t, r.Spec.Depth, s.Depth, "seed %d", seed)
	}
	t.Logf("%d fitted, %d refused", fitted, refused)
	assert.Greater(t, fitted, runs/4)
	assert.Greater(t, refused, 0)
}
