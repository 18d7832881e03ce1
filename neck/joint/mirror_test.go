package joint

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// A left-handed neck has its holes on the other side of the centreline, and the
// same names for the sides; what is told of them in words stays as it is.
func TestLeftHandedJoint(t *testing.T) {
	right := read(t, "wheatear", func(s *spec.Spec) {
		s.Heel.Bolts = []spec.Bolt{{At: spec.AtX(430), Offset: -9, Diameter: 4, Depth: 12}}
	})
	left, err := neck.New(right.Spec().Mirrored())
	require.NoError(t, err)
	assert.Equal(t, -9.0, right.BoltHoles()[0].From[1])
	assert.Equal(t, 9.0, left.BoltHoles()[0].From[1])
	middle := func(n *neck.Neck) mesh.Vec2 {
		lo, hi := mesh.LoopBounds(Drill(n)[0].Region.Holes[0])
		return lo.Add(hi).Scale(0.5)
	}
	// Laid on the back, seen from there.
	assert.InDelta(t, 9, middle(right).Y, 1e-6)
	assert.InDelta(t, -9, middle(left).Y, 1e-6)
	assert.Contains(t, Drill(right)[0].Notes[0], "bass side up")
	assert.Contains(t, Drill(left)[0].Notes[0], "treble side up")
	for _, n := range []*neck.Neck{right, left} {
		w, ok := WorkOn(n, spec.Millimetre)
		require.True(t, ok)
		assert.Contains(t, strings.Join(w.Do, " "), "9 mm to the bass side")
	}
	p, err := Pocket(left)
	require.NoError(t, err)
	assert.Equal(t, "treble side", p.Labels[2].Text)
}
