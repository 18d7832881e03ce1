package fit

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// starterSpec is the starter file, which has heel, volute and headstock.
func starterSpec(t testing.TB) *spec.Spec {
	t.Helper()
	s, err := spec.Read(strings.NewReader(spec.Starter()), "starter")
	require.NoError(t, err)
	return s
}

// TestBaseWithHeel checks that a width beside the heel is held against the
// board's taper, [width] being across the board's edges and straight between
// its ends, and that readings of the heel itself are left out by name.
func TestBaseWithHeel(t *testing.T) {
	s := starterSpec(t)
	end := s.BoardEnd()
	for _, heel := range []float64{s.Heel.Width, s.Heel.Width + 4} {
		s.Heel.Width = heel
		r, err := Fit(readingstest.ReadingsOf(t, "board,,,5.6\nwidth,nut,,42.8\nwidth,22,,56.2\ntotal,1,,20.6\ntotal,12,,22.4\n"), s, Options{})
		require.NoError(t, err)
		// The line through (0, 42.8) and (fret 22, 56.2).
		x := 636 * (1 - 1/3.5635948725613571) // 2^(22/12)
		assert.InDelta(t, 42.8, value(t, r, "width.nut").Value, 1e-3)
		assert.InDelta(t, 42.8+(56.2-42.8)*end/x, value(t, r, "width.end").Value, 1e-3)
		assert.InDelta(t, 22.4, value(t, r, "depth[2].total").Value, 1e-3)
		for _, q := range r.Residuals {
			assert.InDelta(t, 0, q.Off, 1e-3, q.Label)
		}
	}
	r, err := Fit(readingstest.ReadingsOf(t, "board,,,5.6\ntotal,1,,20.6\ntotal,12,,22.4\ntotal,19,,31\ngirth,18,,99\npoint,17,-14,15\ntotal,x=-12,,27\nwidth,x=-60,,70\nwidth,nut,,42.8\nwidth,x=470,,58\nwidth,12,,50\n"), s, Options{})
	require.NoError(t, err)
	notes := strings.Join(r.Notes, "\n")
	for _, name := range []string{"total at fret 19 (line 5)", "girth at fret 18 (line 6)", "point at fret 17, y -14 mm (line 7)", "total at x=-12mm (line 8)", "width at x=-60mm (line 9)", "width at x=470mm (line 11)"} {
		assert.Contains(t, notes, name)
	}
	assert.InDelta(t, 22.4, value(t, r, "depth[2].total").Value, 1e-3)
	assert.Len(t, r.Residuals, 5)
}

// TestBaseTaper checks that one total moves the depths of the base spec and
// keeps their taper.
func TestBaseTaper(t *testing.T) {
	s := starterSpec(t)
	n, err := neck.Draft(s)
	require.NoError(t, err)
	was := n.Total(s.FretX(5))
	r, err := Fit(readingstest.ReadingsOf(t, "total,5,,22\n"), s, Options{})
	require.NoError(t, err)
	for i, key := range []string{"depth[1].total", "depth[2].total"} {
		assert.InDelta(t, s.Depth[i].Total+22-was, value(t, r, key).Value, 1e-3)
		assert.InDelta(t, s.Depth[i].Total+22-was, r.Spec.Depth[i].Total, 1e-3)
	}
	// The 95 % range of a normal error of 0.1 mm, the usual one of a total.
	g := value(t, r, "depth[1].total")
	assert.InDelta(t, 1.96*0.1, (g.High-g.Low)/2, 1e-3)
	fitted, err := neck.Draft(r.Spec)
	require.NoError(t, err)
	assert.InDelta(t, 22, fitted.Total(s.FretX(5)), 1e-3)
	assert.Contains(t, strings.Join(r.Notes, "\n"), "all moved by the same")
}

// TestLoneReadings checks that a bad reading that is alone of its kind is left
// out where the others tell that it is off, and is named where they only make
// one doubt it.
// Without DRAWN=all it takes some of the cases.
func TestLoneReadings(t *testing.T) {
	n := readingstest.Known(t)
	for seed := range uint64(6) {
		if seed > 0 && !drawn.All() {
			break
		}
		for kind, off := range map[readings.Kind]float64{readings.BoardAt: 0.9, readings.WallAt: 2, readings.Width: 1.5} {
			for _, sign := range []float64{-1, 1} {
				set := readingstest.Whole(n, 70+seed, 0.7)
				set.Readings = append(set.Readings, readings.Reading{Kind: readings.WallAt, Value: 1.2, Sigma: 0.2, Line: 99})
				name := ""
				for i := range set.Readings {
					if q := &set.Readings[i]; q.Kind == kind && name == "" {
						q.Value = math.Max(0.1, q.Value+sign*off)
						name = set.Label(*q)
					}
				}
				r, err := Fit(set, nil, Options{})
				require.NoError(t, err)
				notes := strings.Join(r.Notes, "\n")
				if kind == readings.WallAt && sign < 0 {
					continue // its value cannot fall below 0
				}
				assert.Regexp(t, "(by the rest|else|readings|line [0-9]+:) "+name, notes, "%s %g", name, sign)
			}
		}
	}
}

// TestGoodReadingsRaiseNoDoubt checks that few good sets are doubted.
// Without DRAWN=all it takes some of the cases.
func TestGoodReadingsRaiseNoDoubt(t *testing.T) {
	doubted := 0
	for seed := range uint64(40) {
		if seed%4 != 0 && !drawn.All() {
			continue
		}
		r, err := Fit(readingstest.Whole(readingstest.Known(t), 8000+seed, 1), nil, Options{})
		require.NoError(t, err)
		notes := strings.Join(r.Notes, "\n")
		if strings.Contains(notes, "by the other readings") || strings.Contains(notes, "do not go together") {
			doubted++
		}
	}
	// One or two in a hundred are; 5 of 40 come with a chance of 2 in 1000.
	assert.Less(t, doubted, 5)
}

// TestShiftedContours checks that contours whose depths all count from a wrong
// face are told as that: one by its station, all of them as measured from the
// board's face.
// Without DRAWN=all it takes some of the cases.
func TestShiftedContours(t *testing.T) {
	n := readingstest.Known(t)
	for seed := range uint64(3) {
		if seed > 0 && !drawn.All() {
			break
		}
		shifted := func(by float64, in func(readings.Reading) bool) *readings.Set {
			set := readingstest.Whole(n, 300+seed, 1)
			for i := range set.Readings {
				if q := &set.Readings[i]; q.Kind == readings.Point && in(*q) {
					q.Value += by
				}
			}
			return set
		}
		r, err := Fit(shifted(1.2, func(q readings.Reading) bool { return q.At == spec.AtFret(7) }), nil, Options{})
		require.NoError(t, err)
		assert.Regexp(t, `the contour at fret 7: the points there lie about 1(\.[0-9]+)? mm deeper`, strings.Join(r.Notes, "\n"))

		_, err = Fit(shifted(n.Spec().Board.Thickness, func(readings.Reading) bool { return true }), nil, Options{})
		require.Error(t, err)
		assert.ErrorContains(t, err, "they seem to be measured from the board's face")
		assert.ErrorContains(t, err, "Depths of points count from the glue plane: take the board off each")

		r, err = Fit(shifted(0, func(readings.Reading) bool { return true }), nil, Options{})
		require.NoError(t, err)
		assert.NotContains(t, strings.Join(r.Notes, "\n"), "the points there lie")
	}
}

// TestAtBound checks that a number that ran to the end of what is sought is not
// given a range, and that the others keep theirs.
func TestAtBound(t *testing.T) {
	n := readingstest.Known(t)
	set := readingstest.Whole(n, 9, 0.5)
	set.Readings = append(set.Readings, readings.Reading{Kind: readings.WallAt, Value: 0.001, Sigma: 0.01, Line: 80})
	// The points stand as on a neck without a wall, and more so.
	for i := range set.Readings {
		if q := &set.Readings[i]; q.Kind == readings.Point && math.Abs(q.Y) > 15 {
			q.Value = math.Max(0.2, q.Value-0.9)
		}
	}
	r, err := Fit(set, nil, Options{})
	require.NoError(t, err)
	g := value(t, r, "wall.height")
	if g.Value == 0 {
		assert.True(t, math.IsNaN(g.Low) && math.IsNaN(g.High))
		assert.Equal(t, "not determined", g.Source)
	}
	for _, q := range r.Ranges {
		if q.Source == "fitted" {
			assert.Less(t, q.High-q.Low, 30.0, q.Key)
		}
	}
}
