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
func rod(t require.TestingT, p, axis vec, radius float64) *brep.Solid {
	s, err := brep.Turned("rod", p, axis.Unit(), brep.Ring{Radius: radius}, brep.Ring{At: axis.Norm(), Radius: radius})
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

// crossing returns the volume that two rods have in common whose axes cross
// squarely: of radius r and, greater, s. Across the first at y there are two
// chords, one of each: 8 times the integral of their halves over a quarter, by
// an angle so that it is smooth.
func crossing(r, s float64) float64 {
	sum, n := 0.0, 200000
	for i := range n {
		sin, cos := math.Sincos(math.Pi / 2 * (float64(i) + 0.5) / float64(n))
		sum += r * cos * math.Sqrt(s*s-r*r*sin*sin) * r * cos
	}
	return 8 * sum * math.Pi / 2 / float64(n)
}

// TestSubtractCrossing has holes that cross each other in a block, taken out
// together and one from the other.
func TestSubtractCrossing(t *testing.T) {
	require.InDelta(t, 16.0/3*8, crossing(2, 2), 1e-6, "Archimedes' own case")
	base := box(t, vec{}, vec{X: 30, Y: 20, Z: 10})
	up := rod(t, vec{X: 10, Y: 10, Z: -1}, vec{Z: 12}, 2)
	along := rod(t, vec{X: -1, Y: 10, Z: 5}, vec{X: 32}, 3)
	both, err := brep.Subtract(base, up, along)
	require.NoError(t, err)
	assert.InDelta(t, 6000-math.Pi*(4*10+9*30)+crossing(2, 3), both.Volume(), 1e-3)

	// The greater one in a plate through it, so that the hole is in the rod alone.
	holed, err := brep.Subtract(along, up)
	require.NoError(t, err)
	assert.InDelta(t, math.Pi*9*32-crossing(2, 3), holed.Volume(), 1e-3)
	assert.Len(t, holed.Faces, 6)
}

// TestSubtractFromPatch drills through a free surface: z = 5 + sin x sin y, whose
// mean over a circle is known, since it is an eigenfunction of Laplace's operator.
func TestSubtractFromPatch(t *testing.T) {
	base, patch := vault(t)
	const r = 0.7
	for _, c := range []vec{{X: 1.4, Y: 1.9}, {X: math.Pi / 2, Y: math.Pi / 2}} {
		hole, err := brep.Subtract(base, rod(t, vec{X: c.X, Y: c.Y, Z: -1}, vec{Z: 9}, r))
		require.NoError(t, err)
		taken := math.Pi*r*r*5 + math.Sin(c.X)*math.Sin(c.Y)*2*math.Pi*r*math.J1(math.Sqrt2*r)/math.Sqrt2
		assert.InDelta(t, base.Volume()-taken, hole.Volume(), 1e-4)
		edges := 0
		for _, f := range hole.Faces {
			if f.Surface == brep.Surface(patch) {
				require.Len(t, f.Loops, 2)
				for _, u := range f.Loops[1] {
					edges++
					for k := range 100 {
						p := u.Point((float64(k) + 0.5) / 100)
						assert.InDelta(t, r, math.Hypot(p.X-c.X, p.Y-c.Y), 2e-5)
						assert.InDelta(t, 5+math.Sin(p.X)*math.Sin(p.Y), p.Z, 2e-5)
					}
				}
			}
		}
		assert.Equal(t, 2, edges)
	}
}

// TestSubtractKeeps takes over what was not cut, and changes nothing of what it
// is given.
func TestSubtractKeeps(t *testing.T) {
	base := box(t, vec{}, vec{X: 30, Y: 20, Z: 10})
	cutter := rod(t, vec{X: 10, Y: 10, Z: 5}, vec{Z: 12}, 2)
	s, err := brep.Subtract(base, cutter)
	require.NoError(t, err)
	same := 0
	for _, f := range s.Faces {
		for _, g := range base.Faces {
			if f == g {
				same++
			}
		}
	}
	assert.Equal(t, 5, same)
	assert.InDelta(t, 6000, base.Volume(), 1e-9)
	assert.NoError(t, base.Check())
	assert.NoError(t, cutter.Check())
	again, err := brep.Subtract(base, cutter)
	require.NoError(t, err)
	assert.Equal(t, s, again)
	var circles, lines int
	for _, f := range s.Faces {
		for _, l := range f.Loops {
			for _, u := range l {
				switch u.Edge.Curve.(type) {
				case brep.Circle:
					circles++
				case brep.Line:
					lines++
				default:
					t.Errorf("a curve of the kind %T", u.Edge.Curve)
				}
			}
		}
	}
	assert.Equal(t, 8, circles)
	assert.Equal(t, 24+4, lines)
}

// TestSubtractTouching has what touches or runs along be an error in words, or
// the right solid where that makes no difference.
func TestSubtractTouching(t *testing.T) {
	base := box(t, vec{}, vec{X: 30, Y: 20, Z: 10})
	list := func(s ...*brep.Solid) []*brep.Solid { return s }
	for name, c := range map[string]struct {
		cutters []*brep.Solid
		taken   float64 // below 0: an ErrTouch
	}{
		"plane of the top within":   {list(box(t, vec{X: 5, Y: 5, Z: 4}, vec{X: 8, Y: 8, Z: 10})), 54},
		"plane of the underside":    {list(box(t, vec{X: 5, Y: 5}, vec{X: 8, Y: 8, Z: 11})), -1},
		"plane of a side":           {list(box(t, vec{Y: 5, Z: 4}, vec{X: 8, Y: 8, Z: 11})), -1},
		"beside":                    {list(box(t, vec{X: -5, Y: 5, Z: 4}, vec{Y: 8, Z: 8})), -1},
		"the block itself":          {list(base), -1},
		"cutters share a side":      {list(box(t, vec{X: 5, Y: 5, Z: 4}, vec{X: 8, Y: 8, Z: 11}), box(t, vec{X: 8, Y: 5, Z: 4}, vec{X: 12, Y: 8, Z: 11})), -1},
		"cutters share a floor":     {list(box(t, vec{X: 5, Y: 5, Z: 4}, vec{X: 8, Y: 8, Z: 11}), box(t, vec{X: 7, Y: 6, Z: 4}, vec{X: 12, Y: 7, Z: 11})), -1},
		"cutters end to end":        {list(rod(t, vec{X: 10, Y: 10, Z: -1}, vec{Z: 7}, 3), rod(t, vec{X: 10, Y: 10, Z: 6}, vec{Z: 7}, 4)), -1},
		"one axis and radius":       {list(rod(t, vec{X: 10, Y: 10, Z: -1}, vec{Z: 7}, 3), rod(t, vec{X: 10, Y: 10, Z: 4}, vec{Z: 7}, 3)), -1},
		"rod along the top":         {list(rod(t, vec{X: -1, Y: 10, Z: 7}, vec{X: 40}, 3)), -1},
		"rod along a side":          {list(rod(t, vec{X: 3, Y: 10, Z: -1}, vec{Z: 40}, 3)), -1},
		"rod on the top":            {list(rod(t, vec{X: -1, Y: 10, Z: 13}, vec{X: 40}, 3)), 0},
		"rods as thick that cross":  {list(rod(t, vec{X: 10, Y: 10, Z: -1}, vec{Z: 12}, 3), rod(t, vec{X: -1, Y: 10, Z: 5}, vec{X: 40}, 3)), -1},
		"edges that cross":          {list(rod(t, vec{X: 10, Y: 20, Z: -1}, vec{Z: 12}, 3)), math.Pi * 9 / 2 * 10},
		"corner in a face":          {list(box(t, vec{X: 10, Y: 10, Z: 5}, vec{X: 31, Y: 20, Z: 11})), 1000},
		"rods one in the other":     {list(rod(t, vec{X: 10, Y: 10, Z: -1}, vec{Z: 12}, 3), rod(t, vec{X: 10, Y: 10, Z: -0.5}, vec{Z: 11}, 2)), math.Pi * 90},
		"rods that share their end": {list(rod(t, vec{X: 10, Y: 10, Z: -1}, vec{Z: 7}, 3), rod(t, vec{X: 10, Y: 10, Z: -2}, vec{Z: 8}, 2)), -1},
	} {
		s, err := brep.Subtract(base, c.cutters...)
		if c.taken < 0 {
			assert.ErrorIs(t, err, brep.ErrTouch, name)
			continue
		}
		if assert.NoError(t, err, name) {
			assert.InDelta(t, 6000-c.taken, s.Volume(), 1e-3, name)
		}
	}
	_, err := brep.Subtract(base, rod(t, vec{X: 10, Y: 10, Z: 4}, vec{Z: 3}, 3))
	assert.ErrorContains(t, err, "it would have a cavity at")
	_, err = brep.Subtract(base, box(t, vec{X: 5, Y: -5, Z: -4}, vec{X: 8, Y: 28, Z: 11}))
	assert.ErrorContains(t, err, "it would fall into pieces, one of them at")
	_, err = brep.Subtract(base, box(t, vec{X: -5, Y: -5, Z: -4}, vec{X: 88, Y: 28, Z: 11}))
	assert.ErrorContains(t, err, "nothing would be left")
	// A cavity that the next cutter opens is none.
	s, err := brep.Subtract(base, rod(t, vec{X: 10, Y: 10, Z: 4}, vec{Z: 3}, 3), rod(t, vec{X: 10, Y: 10, Z: 6}, vec{Z: 5}, 2))
	require.NoError(t, err)
	assert.InDelta(t, 6000-math.Pi*(9*3+4*3), s.Volume(), 1e-3)
}

// TestSubtractThinWalls leaves walls far thinner than the first chords are close.
func TestSubtractThinWalls(t *testing.T) {
	for _, wall := range []float64{0.1, 0.02, 0.004} {
		s, err := brep.Subtract(rod(t, vec{}, vec{Z: 10}, 10), rod(t, vec{X: 7 - wall, Z: -1}, vec{Z: 12}, 3))
		require.NoError(t, err, wall)
		assert.InDelta(t, math.Pi*(100-9)*10, s.Volume(), 1e-4, wall)
		_, err = brep.Subtract(rod(t, vec{}, vec{Z: 10}, 10), rod(t, vec{X: 7 + wall, Z: -1}, vec{Z: 12}, 3))
		require.NoError(t, err, wall)
	}
}

// TestSubtractPatch has a free surface cut: the vault is what is taken out.
func TestSubtractPatch(t *testing.T) {
	cutter, _ := vault(t)
	s, err := brep.Subtract(box(t, vec{X: -1, Y: -1, Z: 3}, vec{X: 5, Y: 5, Z: 10}), cutter)
	require.NoError(t, err)
	assert.InDelta(t, 6*6*7-2*math.Pi*math.Pi-4, s.Volume(), 1e-6)
	assert.Len(t, s.Faces, 6+5)
}
