package compare

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// TestSamePlace lays two scales beside each other. Frets lie at L (1 - 2^(-n/12)), so
// that by frets every place scales with L as far as the last fret of both.
func TestSamePlace(t *testing.T) {
	a := necktest.HalfCylinder(t, 20, func(s *spec.Spec) { s.Scale.Length, s.Scale.Frets = 600, 20 })
	b := necktest.HalfCylinder(t, 20, func(s *spec.Spec) { s.Scale.Length, s.Scale.Frets = 700, 18 })
	last := func(l float64) float64 { return l * (1 - math.Exp2(-18.0/12)) }
	for _, x := range []float64{0, 1, 33.67, 100, 299.9, 300, 380} {
		assert.InDelta(t, x*700/600, SamePlace(AtFret, a, b, x), 1e-9)
		assert.InDelta(t, x, SamePlace(AtFret, b, a, x*700/600), 1e-9)
		assert.Equal(t, x, SamePlace(AtNut, a, b, x))
		assert.Equal(t, x, SamePlace(AtHeel, a, b, x), "neither has a heel")
	}
	assert.Equal(t, -31.5, SamePlace(AtFret, a, b, -31.5))
	assert.InDelta(t, last(700)+12.5, SamePlace(AtFret, a, b, last(600)+12.5), 1e-9)

	heel := func(start float64) *neck.Neck {
		s := spec.Demo()
		s.Heel.Start, s.Heel.Full = spec.AtX(start), spec.AtX(start+40)
		n, err := neck.New(s)
		require.NoError(t, err)
		return n
	}
	c, d := heel(370), heel(381)
	for _, x := range []float64{-40, 0, 200, 370, 401} {
		assert.InDelta(t, x+11, SamePlace(AtHeel, c, d, x), 1e-9)
		assert.InDelta(t, x-11, SamePlace(AtHeel, d, c, x), 1e-9)
		assert.Equal(t, x, SamePlace(AtHeel, a, c, x), "one has no heel")
	}
}
