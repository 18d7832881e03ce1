package brep_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/brep"
)

// box returns a block as a solid.
func box(t testing.TB, lo, hi vec) *brep.Solid {
	var b brep.Builder
	block(&b, lo, hi, nil, nil)
	s, err := b.Solid("block")
	require.NoError(t, err)
	return s
}

// rod returns a cylinder from p, with an axis as long as itself.
func rod(t testing.TB, p, axis vec, radius float64) *brep.Solid {
	var b brep.Builder
	length := axis.Norm()
	along := axis.Scale(1 / length)
	ref := brep.NewPlane(p, along).Ref
	var rims [2][]*brep.Edge
	for i := range 2 {
		at := p.Add(axis.Scale(float64(i)))
		for k := range 2 {
			c := brep.Circle{Centre: at, Axis: along, Ref: ref.Scale(float64(1 - 2*k)), Radius: radius}
			rims[i] = append(rims[i], b.Edge(c, -math.Pi/2, math.Pi/2))
		}
		b.Face("end", brep.NewPlane(at, along.Scale(float64(2*i-1))), false, rims[i])
	}
	for k := range 2 {
		c := brep.Circle{Centre: p, Axis: along, Ref: ref.Scale(float64(1 - 2*k)), Radius: radius}
		low, high := rims[0][k], rims[1][k]
		b.Face("round", brep.Swept{Circle: c, Direction: along}, false,
			[]*brep.Edge{low, b.Line(low.To.At, high.To.At), high, b.Line(low.From.At, high.From.At)})
	}
	s, err := b.Solid("rod")
	require.NoError(t, err)
	return s
}

// TestSubtractBlocks has closed forms for what remains of a block.
func TestSubtractBlocks(t *testing.T) {
	base := box(t, vec{}, vec{X: 30, Y: 20, Z: 10})
	for name, c := range map[string]struct {
		cutter *brep.Solid
		taken  float64
		faces  int
	}{
		"corner":        {box(t, vec{X: 20, Y: 15, Z: 4}, vec{X: 31, Y: 21, Z: 11}), 10 * 5 * 6, 9},
		"slot":          {box(t, vec{X: 10, Y: -1, Z: 4}, vec{X: 12, Y: 21, Z: 11}), 2 * 20 * 6, 10},
		"pocket":        {box(t, vec{X: 10, Y: 5, Z: 4}, vec{X: 12, Y: 11, Z: 11}), 2 * 6 * 6, 11},
		"window":        {box(t, vec{X: 10, Y: 5, Z: -1}, vec{X: 12, Y: 11, Z: 11}), 2 * 6 * 10, 10},
		"hole":          {rod(t, vec{X: 10, Y: 10, Z: -1}, vec{Z: 12}, 3), math.Pi * 9 * 10, 8},
		"blind hole":    {rod(t, vec{X: 10, Y: 10, Z: 4}, vec{Z: 12}, 3), math.Pi * 9 * 6, 9},
		"slanting hole": {rod(t, vec{X: 8, Y: 10, Z: -10}, vec{X: 12, Z: 24}, 3), math.Pi * 9 * 10 * math.Sqrt(1.25), 8},
		"rounded edge":  {rod(t, vec{X: -1, Y: 20, Z: 10}, vec{X: 32}, 3), math.Pi * 9 / 4 * 30, 7},
		"clear":         {rod(t, vec{X: -10, Y: 20, Z: 10}, vec{X: 5}, 3), 0, 6},
	} {
		s, err := brep.Subtract(base, c.cutter)
		require.NoError(t, err, name)
		assert.InDelta(t, 6000-c.taken, s.Volume(), 1e-3, name)
		assert.Len(t, s.Faces, c.faces, name)
	}
}
