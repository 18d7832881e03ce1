package progress

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/readings"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// TestProgressOfALeftHandedNeck follows a carve and its mirror: the same remains,
// off the same side by name, at y of the other sign, and the rescue finds the
// same spec but for the hand.
func TestProgressOfALeftHandedNeck(t *testing.T) {
	n := readingstest.FarApex(t, false)
	m, err := n.Mirrored()
	require.NoError(t, err)
	b := readingstest.NewBench(n, 1, 0)
	for _, fret := range []float64{3, 9} {
		b.Total(fret)
		b.Contour(fret, 9)
	}
	set := b.Set
	set.Readings = append([]readings.Reading(nil), set.Readings...)
	for i := range set.Readings {
		r := &set.Readings[i]
		switch {
		case r.Kind == readings.Point && r.Y < -10:
			r.Value -= 0.6 // low on the bass side
		case r.Kind == readings.Point:
			r.Value += 0.4
		}
	}
	other := *set
	other.Readings = append([]readings.Reading(nil), set.Readings...)
	for i := range other.Readings {
		other.Readings[i].Y = -other.Readings[i].Y
	}
	p, err := Follow(n, set, 0.15)
	require.NoError(t, err)
	q, err := Follow(m, &other, 0.15)
	require.NoError(t, err)
	require.Len(t, q.Checks, len(p.Checks))
	bass := 0
	for i := range p.Checks {
		a, b := &p.Checks[i], &q.Checks[i]
		assert.InDelta(t, a.Remaining, b.Remaining, 1e-6)
		assert.Equal(t, a.Status, b.Status)
		assert.Equal(t, a.Direction(spec.Millimetre), b.Direction(spec.Millimetre))
		if a.Kind == readings.Point {
			assert.InDelta(t, a.Foot.Y, -b.Foot.Y, 1e-6)
			if math.Abs(a.Phi) < 1.2 && a.Y < 0 {
				assert.Contains(t, b.Direction(spec.Millimetre), "bass side")
				bass++
			}
		}
	}
	require.Positive(t, bass)
	assert.InDelta(t, p.Cover, q.Cover, 1e-6)
	assert.Equal(t, p.Notes, q.Notes)

	ra, erra := Rescue(p)
	rb, errb := Rescue(q)
	require.Equal(t, erra == nil, errb == nil)
	if erra == nil {
		assert.Equal(t, spec.LeftHand, rb.Spec.Hand)
		for i, s := range ra.Spec.Profile {
			assert.InDelta(t, s.Bass, rb.Spec.Profile[i].Bass, 0.02)
			assert.InDelta(t, s.Treble, rb.Spec.Profile[i].Treble, 0.02)
			assert.InDelta(t, s.Apex, rb.Spec.Profile[i].Apex, 0.02)
		}
	}
}
