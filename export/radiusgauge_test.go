package export

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// circumcircle returns the radius of the circle through three points.
func circumcircle(a, b, c mesh.Vec2) float64 {
	u, v, w := b.Sub(a).Norm(), c.Sub(b).Norm(), a.Sub(c).Norm()
	return u * v * w / (2 * math.Abs(b.Sub(a).Cross(c.Sub(a))))
}

// Both edges of a radius gauge lie on circles of the board's radius there, by
// the circle through three of their points.
func TestRadiusGauges(t *testing.T) {
	b := boardOf(t, nil)
	pieces, err := RadiusGauges(b, []spec.Place{spec.AtFret(0), spec.AtFret(12), spec.AtX(400)})
	require.NoError(t, err)
	for i, x := range []float64{0, 318, 400} {
		r := 305 + (406-305)*x/b.Neck().BoardEnd()
		loop := pieces[i].Region.Outer
		k := len(loop) / 2
		assert.InDelta(t, r, circumcircle(loop[0], loop[k/2], loop[k-1]), 1e-6)
		assert.InDelta(t, r, circumcircle(loop[k], loop[k+k/2], loop[2*k-1]), 1e-6)
		lo, hi := pieces[i].Region.Bounds()
		half := (42.8+(56.2-42.8)*x/b.Neck().BoardEnd())/2 + 4
		assert.InDelta(t, 2*half, hi.X-lo.X, 1e-9)
		assert.NotEmpty(t, pieces[i].Region.Holes, "its label")
		m, err := pieces[i].Solid()
		require.NoError(t, err)
		require.NoError(t, m.Validate())
	}
	_, err = RadiusGauges(b, []spec.Place{spec.AtX(600)})
	assert.ErrorContains(t, err, "off the board")
	_, err = RadiusGauges(boardOf(t, func(s *spec.Spec) { s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0 }), []spec.Place{spec.AtFret(1)})
	assert.ErrorContains(t, err, "straightedge")
}
