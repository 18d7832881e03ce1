package joint

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestRakeAgainstTheBridge: tan angle = rise / length is held against the rake of
// a face that lies against the body, back and forward; a neck in a pocket and
// one without a bridge are left alone.
func TestRakeAgainstTheBridge(t *testing.T) {
	told := func(rake float64, change func(*spec.Spec)) (string, *neck.Neck) {
		s := spec.Demo()
		s.Source = nil
		s.Heel.Total, s.Heel.Rake = 60, rake
		s.Joint = &spec.Joint{Kind: spec.JointButt}
		s.Bridge = &spec.Bridge{Height: 14, FretHeight: 1}
		if change != nil {
			change(s)
		}
		n, err := neck.New(s)
		require.NoError(t, err)
		p, ok := RakeProblem(n)
		require.Equal(t, ok, p.Message != "")
		if !ok {
			return "", n
		}
		return p.Key + ": " + p.Message, n
	}
	_, n := told(0, nil)
	s := n.Spec()
	angle := math.Atan((14 - 5.6 - 1) / (636 - s.X(s.BodyAt())))
	assert.InDelta(t, 2.6, angle*180/math.Pi, 0.5)
	text, _ := told(angle, nil)
	assert.Empty(t, text)
	text, _ = told(angle+0.09/54.4, nil)
	assert.Empty(t, text, "a tenth at the cap is nothing")
	text, n = told(angle-math.Atan(0.5/54.4), nil)
	assert.Contains(t, text, "heel.rake: the heel's face is raked by ")
	assert.Contains(t, text, "which takes another 0.5 mm off it at the cap; give rake = "+spec.Number(angle*180/math.Pi, 2))
	assert.Equal(t, 54.4, n.HeelDepth())
	text, _ = told(0, nil)
	assert.Contains(t, text, "heel: the heel's face is square to the glue plane")

	// A low bridge tips the neck forward.
	low := func(s *spec.Spec) { s.Bridge.Height = 2 }
	forward := math.Atan((2 - 5.6 - 1) / (636 - s.X(s.BodyAt())))
	text, n = told(forward, low)
	assert.Empty(t, text)
	assert.Contains(t, SettingOf(n, HeightsOf(n).Angle()).Words(n, spec.Millimetre)[1], "lies at this angle already")
	assert.Greater(t, n.FaceX(50), n.End())
	w, ok := WorkOn(n, spec.Millimetre)
	require.True(t, ok)
	assert.Contains(t, w.Do[0], "mm farther from the nut")
	text, _ = told(0, low)
	assert.Contains(t, text, "off it at the glue plane; give rake = -")
	text, _ = told(0, func(s *spec.Spec) { s.Bridge.Height = 95 })
	assert.Contains(t, text, "give heights under [bridge] that ask for less than 15°")

	for _, change := range []func(*spec.Spec){
		func(s *spec.Spec) { s.Bridge = nil },
		func(s *spec.Spec) { s.Joint = nil; s.Heel.Rake = 0 },
	} {
		text, _ = told(0, change)
		assert.Empty(t, text)
	}
}
