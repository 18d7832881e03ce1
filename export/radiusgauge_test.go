package export

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck/fretboard"
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

// The hollows of sanding blocks are the board's crown turned over: a point of
// the block's hollow lies so far over its back as the crown falls to the side.
func TestBlocks(t *testing.T) {
	b := boardOf(t, nil)
	blocks, err := b.Blocks(fretboard.DefaultBlock(), 0.005)
	require.NoError(t, err)
	require.Len(t, blocks, 3)
	for _, k := range blocks {
		require.NoError(t, k.Mesh.Validate())
		for _, v := range k.Mesh.Vertices {
			if v.Z < 1 {
				continue // its back
			}
			r := 305 + (406-305)*(k.From+v.X)/b.Neck().BoardEnd()
			assert.InDelta(t, 14+r-math.Sqrt(r*r-v.Y*v.Y), v.Z, 1e-4)
		}
	}
	assert.InDelta(t, b.Neck().BoardEnd(), blocks[2].To, 1e-9)
	// One block of an even radius: its volume is that of the plate and the
	// segments over it, and the abrasive widens the radius.
	even := boardOf(t, func(s *spec.Spec) { s.Board.RadiusEnd = 305 })
	o := fretboard.DefaultBlock()
	o.Abrasive = 0.4
	blocks, err = even.Blocks(o, 0.002)
	require.NoError(t, err)
	require.Len(t, blocks, 1)
	_, hi := blocks[0].Mesh.Bounds()
	a, r := hi.Y, 305.4
	under := 2*a*r - (a*math.Sqrt(r*r-a*a) + r*r*math.Asin(a/r))
	assert.InEpsilon(t, 200*(2*a*14+under), blocks[0].Mesh.Volume(), 1e-4)
	_, err = boardOf(t, func(s *spec.Spec) { s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0 }).Blocks(o, 0.01)
	assert.ErrorContains(t, err, "flat")
}
