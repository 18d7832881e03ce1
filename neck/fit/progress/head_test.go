package progress

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// headReading is a reading of the headstock's thickness.
func headReading(x, value float64, line int) readings.Reading {
	return readings.Reading{Kind: readings.Head, At: spec.AtX(x), Placed: true, Value: value, Sigma: 0.1, Line: line}
}

// TestFollowHead: a reading on the headstock's face is held against its thickness
// square to it, of an angled, a stepped and a left-handed neck.
func TestFollowHead(t *testing.T) {
	for name, change := range map[string]func(*spec.Spec){
		"angled":  func(*spec.Spec) {},
		"stepped": func(s *spec.Spec) { s.Headstock.Angle, s.Headstock.Step, s.Volute = 0, 7, nil },
		"left":    func(s *spec.Spec) { s.Hand = spec.LeftHand },
		"inches":  func(s *spec.Spec) { s.Units = spec.Inch },
	} {
		s := spec.Demo()
		change(s)
		n, err := neck.New(s)
		require.NoError(t, err, name)
		set := &readings.Set{File: "r.csv", Units: s.Units, Readings: []readings.Reading{
			headReading(-100, 14.5+0.6, 2), headReading(-120, 14.5, 3), headReading(-140, 14.5-0.25, 4),
			{Kind: readings.Total, At: spec.AtFret(3), Placed: true, Value: n.Total(s.FretX(3)), Line: 5},
		}}
		p := followed(t, n, set)
		require.Len(t, p.Checks, 4)
		for i, want := range []float64{0.6, 0, -0.25, 0} {
			assert.InDelta(t, want, p.Checks[i].Remaining, 1e-6, name)
		}
		assert.Equal(t, []Status{ToComeOff, OnTarget, Below}, []Status{p.Checks[0].Status, p.Checks[1].Status, p.Checks[2].Status})
		assert.Equal(t, "off the back, square to the face", p.Checks[0].Direction(s.Units))
		assert.Empty(t, p.Notes)

		// As points of the back they lie square under their places, so much outside
		// or inside it.
		q := p.headAsPoints()
		for i, off := range []float64{0.6, 0, -0.25} {
			c := q.Checks[i]
			assert.Equal(t, readings.Point, c.Kind)
			sin, cos := math.Sincos(s.Headstock.Angle)
			x := p.Checks[i].X
			assert.InDelta(t, x+(14.5+off)*sin, c.X, 1e-9, name)
			assert.InDelta(t, -n.Top(x)+(14.5+off)*cos, c.Value, 1e-9, name)
			assert.InDelta(t, off/cos, c.Remaining, 1e-6, "%s: straight down it is more", name)
		}

		r, err := Rescue(p)
		require.NoError(t, err, name)
		m, err := neck.New(r.Spec)
		require.NoError(t, err)
		assert.LessOrEqual(t, m.HeadThickness(-140), 14.25+1e-6, name)
		assert.Greater(t, m.HeadThickness(-140), 14.2, name)
	}
}

// TestHeadReadingsElsewhere: off the face they are refused, a total on it is told
// apart, and fit leaves them out.
func TestHeadReadingsElsewhere(t *testing.T) {
	n := demoNeck(t)
	for x, want := range map[float64]string{100: "is not on the headstock's face; allowed: x = -178", -3: "is not on the headstock's face"} {
		_, err := Follow(n, &readings.Set{File: "r.csv", Readings: []readings.Reading{headReading(x, 14, 7)}}, DefaultTolerance)
		assert.ErrorContains(t, err, "r.csv:7: the station of head at x=")
		assert.ErrorContains(t, err, want)
	}
	bare := spec.Demo()
	bare.Headstock, bare.Volute = nil, nil
	b, err := neck.New(bare)
	require.NoError(t, err)
	_, err = Follow(b, &readings.Set{Readings: []readings.Reading{headReading(1, 14, 7)}}, DefaultTolerance)
	assert.ErrorContains(t, err, "this neck has no headstock to be read at")

	p := followed(t, n, &readings.Set{Readings: []readings.Reading{
		{Kind: readings.Wood, At: spec.AtX(-100), Placed: true, Value: 14.6},
		{Kind: readings.Total, At: spec.AtX(-110), Placed: true, Value: 14.6},
	}})
	require.Len(t, p.Notes, 1)
	assert.Contains(t, p.Notes[0], "is of kind head: at x=-100mm the target is 14.5 mm")

	set := carved(n, []float64{1, 5, 9, 12}, func(float64, float64) float64 { return 0 })
	set.Readings = append(set.Readings, headReading(-100, 14, 99))
	r, err := fit.Fit(set, n.Spec(), fit.Options{})
	require.NoError(t, err)
	assert.Contains(t, r.Notes, "left out: head at x=-100mm (line 99). The headstock is not fitted: give its thickness under [headstock].")
}
