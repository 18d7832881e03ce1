package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

func square(lo, hi float64) []Vec2 {
	return []Vec2{{lo, lo}, {hi, lo}, {hi, hi}, {lo, hi}}
}

// requirePlate checks a plate of n points and so many holes against closed
// forms: V = 2 n, F = 2 (n + 2 h - 2) + 2 n, genus h, and volume and surface
// from the shoelace formula.
func requirePlate(t require.TestingT, r Region, bottom, top float64) *Mesh {
	m, err := Extrude(r, bottom, top)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	n, h := 0, len(r.Holes)
	perimeter, area := 0.0, 0.0
	for i, loop := range r.Loops() {
		n += len(loop)
		twice := 0.0
		for j, p := range loop {
			q := loop[(j+1)%len(loop)]
			perimeter += math.Hypot(q.X-p.X, q.Y-p.Y)
			twice += p.X*q.Y - q.X*p.Y
		}
		if i == 0 {
			area += math.Abs(twice) / 2
		} else {
			area -= math.Abs(twice) / 2
		}
	}
	require.Len(t, m.Vertices, 2*n)
	require.Len(t, m.Faces, 4*n+4*h-4)
	topology := m.Topology()
	require.Len(t, topology.Shells, 1)
	require.Equal(t, h, topology.Genus())
	height := top - bottom
	require.InEpsilon(t, area, r.Area(), 1e-9)
	require.InEpsilon(t, area*height, m.Volume(), 1e-4)
	require.InEpsilon(t, 2*area+perimeter*height, m.Area(), 1e-4)
	lo, hi := m.Bounds()
	require.InDelta(t, bottom, lo.Z, 1e-5)
	require.InDelta(t, top, hi.Z, 1e-5)
	return m
}

func TestExtrudeSquare(t *testing.T) {
	m := requirePlate(t, Region{Outer: square(0, 2)}, 1, 4)
	assert.InDelta(t, 12, m.Volume(), 1e-12)
	assert.InDelta(t, 2*4+4*2*3, m.Area(), 1e-12)
}

// Loops may run either way round.
func TestExtrudeOrientation(t *testing.T) {
	for mask := range 8 {
		r := Region{Outer: square(0, 9), Holes: [][]Vec2{square(1, 3), square(5, 8)}}
		for i, loop := range r.Loops() {
			if mask>>i&1 == 1 {
				slices.Reverse(loop)
			}
		}
		m := requirePlate(t, r, 0, 2)
		assert.InDelta(t, 2*(81-4-9), m.Volume(), 1e-12, "mask %d", mask)
	}
}

// Points that are one in float32 are one.
func TestExtrudeJoinsRoundedPoints(t *testing.T) {
	loop := []Vec2{{100, 0}, {100 + 1e-9, 0}, {110, 0}, {110, 10}, {100, 10}, {100 - 1e-9, 0}}
	m, err := Extrude(Region{Outer: loop}, 0, 1)
	require.NoError(t, err)
	assert.NoError(t, m.Validate())
	assert.InDelta(t, 100, m.Volume(), 1e-4)
}

func TestExtrudeErrors(t *testing.T) {
	for _, c := range []struct {
		name        string
		r           Region
		bottom, top float64
		want        string
	}{
		{"no thickness", Region{Outer: square(0, 1)}, 1, 1, "no thickness"},
		{"upside down", Region{Outer: square(0, 1)}, 1, 0, "no thickness"},
		{"thickness lost in float32", Region{Outer: square(0, 1)}, 1000, 1000 + 1e-6, "no thickness"},
		{"not a number", Region{Outer: square(0, 1)}, 0, math.NaN(), "no thickness"},
		{"no loop", Region{}, 0, 1, "0 points"},
		{"crossing itself", Region{Outer: []Vec2{{0, 0}, {1, 1}, {1, 0}, {0, 1}}}, 0, 1, "crosses"},
		{"hole outside", Region{Outer: square(0, 1), Holes: [][]Vec2{square(2, 3)}}, 0, 1, "outside the outer loop"},
		{"hole across", Region{Outer: square(0, 2), Holes: [][]Vec2{square(1, 3)}}, 0, 1, "crosses"},
		{"hole touching", Region{Outer: square(0, 2), Holes: [][]Vec2{{{1, 0}, {1.5, 1}, {0.5, 1}}}}, 0, 1, "lies on the side"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Extrude(c.r, c.bottom, c.top)
			assert.ErrorContains(t, err, c.want)
		})
	}
}

// Random stars with random holes in them.
func TestExtrudeRandom(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "a"), 7))
		outer := roundLoop(starLoop(r, 3+r.IntN(60), Vec2{}, 20, 60))
		triangles, err := Triangulate(outer)
		require.NoError(t, err)
		holes := holesIn(r, outer, triangles, r.IntN(6))
		for i := range holes {
			holes[i] = roundLoop(holes[i])
		}
		bottom := rapid.Float64Range(-50, 50).Draw(t, "bottom")
		height := rapid.Float64Range(0.5, 10).Draw(t, "height")
		m, err := Extrude(Region{outer, holes}, bottom, bottom+height)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		require.Equal(t, len(holes), m.Topology().Genus())
	})
}

func TestRegion(t *testing.T) {
	r := Region{Outer: square(0, 4), Holes: [][]Vec2{square(1, 2)}}
	assert.Equal(t, 15.0, r.Area())
	moved := r.Translate(Vec2{10, 20})
	lo, hi := moved.Bounds()
	assert.Equal(t, Vec2{10, 20}, lo)
	assert.Equal(t, Vec2{14, 24}, hi)
	assert.Equal(t, 15.0, moved.Area())
	assert.Equal(t, square(0, 4), r.Outer, "the original stays")
	turned := Region{Outer: []Vec2{{1, 0}, {3, 0}, {3, 1}}}.Turn()
	assert.Equal(t, []Vec2{{0, 1}, {0, 3}, {-1, 3}}, turned.Outer)
}

func BenchmarkExtrude(b *testing.B) {
	outer, holes := plateLoops(400, 10)
	r := Region{outer, holes}
	b.Run(fmt.Sprintf("%dpoints", len(outer)+40*len(holes)), func(b *testing.B) {
		for b.Loop() {
			if _, err := Extrude(r, 0, 3); err != nil {
				b.Fatal(err)
			}
		}
	})
}
