package mesh

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestAcross checks that the three directions are right-handed and of length 1.
func TestAcross(t *testing.T) {
	for _, v := range []Vec{{X: 3}, {Y: -2}, {Z: 0.5}, {X: 1, Y: 1, Z: 1}, {X: -7, Y: 0.1}, {X: 0.61, Z: 0.79}, {X: 0.59, Z: 0.81}} {
		a, b := v.Across()
		along := v.Unit()
		assert.InDelta(t, 1, a.Norm(), 1e-12)
		assert.InDelta(t, 0, a.Dot(along), 1e-12)
		assert.InDelta(t, 0, along.Cross(a).Sub(b).Norm(), 1e-12)
		assert.InDelta(t, 1, a.Cross(b).Dot(along), 1e-12)
	}
}
