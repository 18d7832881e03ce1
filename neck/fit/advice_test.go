package fit

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// TestAdvice does what a fit asks for, as a builder would with the note in the
// hand: it reads the station and the stretch from the note, measures that many
// points there, and looks whether the note is gone and the number found.
//
// Long, since it is one table of cases.
func TestAdvice(t *testing.T) {
	n := readingstest.Known(t)
	start := func() *readingstest.Bench {
		b := readingstest.NewBench(n, 3, 1)
		b.Board()
		b.Add(readings.WallAt, spec.Place{}, 0, n.Spec().Wall)
		b.Width(0)
		b.Width(20)
		b.Total(1)
		b.Total(12)
		return b
	}
	point := func(b *readingstest.Bench, fret, y float64) {
		sec := n.Section(n.Spec().FretX(fret))
		d, ok := sec.DepthAt(y)
		require.True(t, ok)
		b.Add(readings.Point, spec.AtFret(fret), y, d)
	}
	for name, points := range map[string][]float64{
		"one shoulder":     {8, 13, 18},
		"a point a side":   {-15, 0, 14},
		"the middle alone": {-4, -2, 0, 2, 4},
		"one point":        {-15},
	} {
		b := start()
		for _, y := range points {
			point(b, 5, y)
		}
		r, err := Fit(b.Set, nil, Options{})
		require.NoError(t, err, name)
		ask := regexp.MustCompile(`^fret 5: no shape of its own, .* Measure (\d) more points? there, between y = (-?[\d.]+) mm and (-?[\d.]+) mm`)
		asked := 0
		for _, note := range r.Notes {
			m := ask.FindStringSubmatch(note)
			if m == nil {
				continue
			}
			asked++
			var count int
			var lo, hi float64
			_, err := fmt.Sscan(strings.Join(m[1:], " "), &count, &lo, &hi)
			require.NoError(t, err, note)
			for i := range count {
				point(b, 5, lo+(hi-lo)*(float64(i)+0.5)/float64(count))
			}
		}
		require.Positive(t, asked, name)
		r, err = Fit(b.Set, nil, Options{})
		require.NoError(t, err, name)
		notes := strings.Join(r.Notes, "\n")
		assert.NotContains(t, notes, "fret 5: no shape of its own", name)
		for _, side := range []string{"bass", "treble"} {
			g := value(t, r, "profile[1]."+side)
			assert.Equal(t, "fitted", g.Source, "%s, %s:\n%s", name, side, notes)
			sec := n.Section(n.Spec().FretX(5))
			want := sec.Fullness(neck.MinusY)
			if side == "treble" {
				want = sec.Fullness(neck.PlusY)
			}
			assert.InDelta(t, want, g.Value, 0.6, "%s, %s", name, side)
		}
	}
	// The thickness: one more total, as far away as is asked, tells the taper.
	b := readingstest.NewBench(n, 3, 1)
	b.Board()
	b.Width(0)
	b.Width(20)
	b.Total(1)
	r, err := Fit(b.Set, nil, Options{})
	require.NoError(t, err)
	require.Len(t, r.Spec.Depth, 1)
	assert.Contains(t, strings.Join(r.Notes, "\n"), "Measure the total once more, 60 mm or farther away, say at fret 12.")
	b.Total(12)
	r, err = Fit(b.Set, nil, Options{})
	require.NoError(t, err)
	require.Len(t, r.Spec.Depth, 2)
	assert.NotContains(t, strings.Join(r.Notes, "\n"), "taken to be even along")
}

// TestScatter checks that readings far worse than their instruments are called
// so, with the worst by name, and good ones are not.
func TestScatter(t *testing.T) {
	n := readingstest.Known(t)
	for _, noise := range []float64{1, 3} {
		r, err := Fit(readingstest.Whole(n, 77, noise), nil, Options{})
		require.NoError(t, err)
		notes := strings.Join(r.Notes, "\n")
		if noise == 1 {
			assert.NotContains(t, notes, "times as far from the fitted neck")
			continue
		}
		assert.Regexp(t, `the readings lie [23]\.\d times as far from the fitted neck as such readings usually do`, notes)
		worst := 0.0
		label := ""
		for _, q := range r.Residuals {
			if s := max(q.Standard, -q.Standard); s > worst && !q.Dropped {
				worst, label = s, q.Label
			}
		}
		assert.Contains(t, notes, "Look first at "+label)
	}
}
