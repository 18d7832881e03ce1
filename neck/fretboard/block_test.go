package fretboard

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// demoBoard gives a spec a board of two radii.
func demoBoard(s *spec.Spec) {
	s.Scale.Length = 636
	s.Board.RadiusNut, s.Board.RadiusEnd = 305, 406
}

// The hollows of sanding blocks are the board's crown turned over: a point of
// the block's hollow lies so far over its back as the crown falls to the side.
func TestBlocks(t *testing.T) {
	b := made(t, demoBoard)
	blocks, err := b.Blocks(DefaultBlock(), 0.005)
	require.NoError(t, err)
	require.Len(t, blocks, 3)
	for _, k := range blocks {
		require.NoError(t, k.Mesh.Validate())
		for _, v := range k.Mesh.Vertices {
			if v.Z < 1 {
				continue // its back
			}
			r := 305 + (406-305)*(k.From+v.X)/b.n.BoardEnd()
			assert.InDelta(t, 14+r-math.Sqrt(r*r-v.Y*v.Y), v.Z, 1e-4)
		}
	}
	assert.InDelta(t, b.n.BoardEnd(), blocks[2].To, 1e-9)
	// One block of an even radius: its volume is that of the plate and the
	// segments over it, and the abrasive widens the radius.
	even := made(t, func(s *spec.Spec) { demoBoard(s); s.Board.RadiusEnd = 305 })
	o := DefaultBlock()
	o.Abrasive = 0.4
	blocks, err = even.Blocks(o, 0.002)
	require.NoError(t, err)
	require.Len(t, blocks, 1)
	_, hi := blocks[0].Mesh.Bounds()
	a, r := hi.Y, 305.4
	under := 2*a*r - (a*math.Sqrt(r*r-a*a) + r*r*math.Asin(a/r))
	assert.InEpsilon(t, 200*(2*a*14+under), blocks[0].Mesh.Volume(), 1e-4)
	_, err = made(t, func(s *spec.Spec) { demoBoard(s); s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0 }).Blocks(o, 0.01)
	assert.ErrorContains(t, err, "flat")
}
