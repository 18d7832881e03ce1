package mesh

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// roundBar is a round bar of n sides and radius r along z.
func roundBar(n int, r, lo, hi float64) *Mesh {
	var loop []Vec2
	for i := range n {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.3) / float64(n))
		loop = append(loop, Vec2{r * c, r * s})
	}
	m, err := Extrude(Region{Outer: loop}, lo, hi)
	if err != nil {
		panic(err)
	}
	return m
}

func at(m *Mesh, x, y, z float64) *Mesh {
	m.Translate(Vec{x, y, z})
	return m
}

func subtract(t testing.TB, base *Mesh, cutters ...*Mesh) *Mesh {
	t.Helper()
	m, err := Subtract(base, cutters...)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	return m
}

func TestSubtractClosedForms(t *testing.T) {
	block := solidBox(Vec{0, 0, 0}, Vec{40, 20, 10})
	polygon := func(n int, r float64) float64 {
		return float64(n) / 2 * r * r * math.Sin(2*math.Pi/float64(n))
	}
	for _, c := range []struct {
		name    string
		cutters []*Mesh
		volume  float64
		genus   int
	}{
		{"corner", []*Mesh{solidBox(Vec{35, 15, 5}, Vec{45, 25, 15})}, 8000 - 125, 0},
		{"pocket", []*Mesh{solidBox(Vec{10, 5, 5}, Vec{20, 15, 15})}, 8000 - 500, 0},
		{"through", []*Mesh{solidBox(Vec{10, 5, -5}, Vec{20, 15, 15})}, 8000 - 1000, 1},
		{"slot out of an edge", []*Mesh{solidBox(Vec{10, 5, 4}, Vec{20, 25, 15})}, 8000 - 10*15*6, 0},
		{"cut off", []*Mesh{solidBox(Vec{30, -5, -5}, Vec{45, 25, 15})}, 6000, 0},
		{"cut in two", []*Mesh{solidBox(Vec{10, -5, -5}, Vec{20, 25, 15})}, 6000, 0},
		{"cavity", []*Mesh{solidBox(Vec{10, 5, 2}, Vec{20, 15, 7})}, 8000 - 500, 0},
		{"outside", []*Mesh{solidBox(Vec{50, 5, 2}, Vec{60, 15, 7})}, 8000, 0},
		{"hole", []*Mesh{at(roundBar(24, 3, -5, 15), 20, 10, 0)}, 8000 - 10*polygon(24, 3), 1},
		{"two that overlap", []*Mesh{
			solidBox(Vec{10, 5, 5}, Vec{20, 15, 15}), solidBox(Vec{15, 8, 3}, Vec{25, 12, 14}),
		}, 8000 - 500 - 5*4*7 - 5*4*2, 0},
		{"a pocket in a pocket", []*Mesh{
			solidBox(Vec{10, 5, 5}, Vec{20, 15, 15}), solidBox(Vec{12, 7, 2}, Vec{18, 13, 14}),
		}, 8000 - 500 - 36*3, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			m := subtract(t, block, c.cutters...)
			assert.InDelta(t, c.volume, m.Volume(), 1e-2)
			assert.Equal(t, c.genus, m.Topology().Genus())
		})
	}
}

func TestSubtractManyHoles(t *testing.T) {
	plate := solidBox(Vec{0, 0, 0}, Vec{100, 60, 8})
	var cutters []*Mesh
	removed := 0.0
	for i := range 9 {
		for j := range 5 {
			r := 2 + 0.05*float64(i+j)
			cutters = append(cutters, at(roundBar(20, r, -1, 9), 10+10*float64(i), 10+10*float64(j), 0))
			removed += 8 * 10 * r * r * math.Sin(2*math.Pi/20)
		}
	}
	m := subtract(t, plate, cutters...)
	assert.InDelta(t, 48000-removed, m.Volume(), 1e-2)
	assert.Equal(t, 45, m.Topology().Genus())
}

func TestSubtractNothingLeft(t *testing.T) {
	_, err := Subtract(solidSphere(Vec{}, 3, 2), solidBox(Vec{-5, -5, -5}, Vec{5, 5, 5}))
	assert.ErrorIs(t, err, errNothingLeft)
}

func TestSubtractRandom(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	fails := 0
	for i := range 500 {
		base := []*Mesh{solidBox(Vec{-20, -10, -8}, Vec{20, 10, 8}), solidTorus(20, 6, 24, 12), solidSphere(Vec{}, 15, 3), at(solidBar(30, 40), -300, 0, 0)}[i%4]
		base.RoundFloat32()
		var cutters []*Mesh
		for range 1 + r.IntN(3) {
			var m *Mesh
			switch r.IntN(3) {
			case 0:
				m = roundBar(3+r.IntN(20), 1+6*r.Float64(), -20, 20)
			case 1:
				m = solidBox(Vec{-8, -3, -5}, Vec{9, 2, 4})
			case 2:
				m = solidSphere(Vec{}, 3+4*r.Float64(), 2)
			}
			m = m.apply(randomRotation(r))
			cutters = append(cutters, at(m, 40*r.Float64()-20, 20*r.Float64()-10, 10*r.Float64()-5))
		}
		m, err := Subtract(base, cutters...)
		if err != nil {
			fails++
			t.Errorf("%d: %v", i, err)
			continue
		}
		require.NoError(t, m.Validate(), "%d", i)
		assert.Less(t, m.Volume(), base.Volume()+1e-3)
	}
}
