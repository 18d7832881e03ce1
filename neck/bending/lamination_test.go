package bending

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// laminated returns an even neck 44 mm wide with a stringer of its own wood in
// the middle.
func laminated(t testing.TB, change func(*spec.Spec)) *neck.Neck {
	t.Helper()
	s := spectest.Straight()
	s.Laminations = []spec.Lamination{
		{Width: 19, WidthEnd: 19, Wood: spec.Wood{Density: 600, Modulus: 10000}},
		{Width: 6, WidthEnd: 6, Wood: spec.Wood{Density: 900, Modulus: 16000}},
		{Width: 19, WidthEnd: 19},
	}
	if change != nil {
		change(s)
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestLaminatedRectangle: strips of a rectangle bend about one line, so that
// their stiffnesses add up as E b h³/12 each.
func TestLaminatedRectangle(t *testing.T) {
	n := laminated(t, func(s *spec.Spec) {
		s.Profile[0].Bass, s.Profile[0].Treble = 40, 40
		s.Wall, s.Depth[0].Total = 14, 21
	})
	k := StiffnessAt(n, 100)
	assert.InEpsilon(t, (10000*19+16000*6+12600*19)*math.Pow(15, 3)/12, k.EIWood, 5e-3)
	assert.InEpsilon(t, 44*15.0, k.Wood.Area, 2e-3, "the wood as it is")
	assert.InDelta(t, -7.5, k.NeutralWood, 0.03)
}

// TestLaminatedByColumns holds stiffness, neutral axis and mass of a laminated
// neck, lopsided and with tapered strips, against thin columns of the depth.
func TestLaminatedByColumns(t *testing.T) {
	n := laminated(t, func(s *spec.Spec) {
		s.Profile[0] = spec.ProfileStation{At: spec.AtFret(1), Bass: 2.6, Treble: 1.8, Apex: -3}
		s.Laminations[0].WidthEnd, s.Laminations[1].Width = 17, 2
	})
	const columns = 4000
	edges := n.LaminationEdges(150)
	sec := n.Section(150)
	moduli, densities := []float64{10000, 16000, 12600}, []float64{600, 900, 0.63 * 1120}
	var ea, es, ei, linear float64
	dy := 2 * sec.HalfWidth / columns
	for i := range columns {
		y := -sec.HalfWidth + dy*(float64(i)+0.5)
		d, _ := sec.DepthAt(y)
		strip := 0
		for strip < 2 && y > edges[strip+1] {
			strip++
		}
		e := moduli[strip]
		ea += e * d * dy
		es -= e * d * d / 2 * dy
		ei += e * d * d * d / 3 * dy
		linear += densities[strip] * d * dy
	}
	k := StiffnessAt(n, 150)
	assert.InEpsilon(t, ei-es*es/ea, k.EIWood, 2e-4)
	assert.InDelta(t, es/ea, k.NeutralWood, 1e-3)
	assert.Greater(t, k.EI, k.EIWood)

	// Straight tapers and an even outline: the strips' masses run straight too
	// but for the outline's curve, and the whole is that of slices.
	sum := 0.0
	const slices = 200
	for i := range slices {
		x := n.End() * (float64(i) + 0.5) / slices
		for j, m := range n.StripMoments(x) {
			sum += densities[j] * m.Area * n.End() / slices * 1e-6
		}
	}
	assert.InEpsilon(t, sum, WoodMass(n), 1e-5)
	assert.InEpsilon(t, linear*1e-6, sum/n.End(), 0.02, "a station in the middle stands for the mean")
	masses := StripMasses(n)
	require.Len(t, masses, 3)
	assert.InDelta(t, WoodMass(n), masses[0]+masses[1]+masses[2], 1e-9)
	assert.Nil(t, StripMasses(necktest.Demo(t)))
}

// TestLaminatedOfOneWood: strips of the neck's own wood change nothing.
func TestLaminatedOfOneWood(t *testing.T) {
	s := spec.Demo()
	s.Source = nil
	s.Laminations = []spec.Lamination{{Width: 30, WidthEnd: 32}, {Width: 8, WidthEnd: 12}, {Width: 52, WidthEnd: 46}}
	n, err := neck.New(s)
	require.NoError(t, err)
	plain := necktest.Demo(t)
	for _, x := range []float64{-150, -20, 5, 200, 390, 430, 470} {
		a, b := StiffnessAt(plain, x), StiffnessAt(n, x)
		assert.InEpsilon(t, a.EI, b.EI, 1e-7, "x = %g", x)
		assert.InDelta(t, a.Neutral, b.Neutral, 1e-7)
	}
	assert.InEpsilon(t, WoodMass(plain), WoodMass(n), 1e-5)
	a, _ := BowOf(plain)
	b, _ := BowOf(n)
	assert.InEpsilon(t, a.Relief, b.Relief, 1e-6)
}

func BenchmarkLaminatedStiffness(b *testing.B) {
	n := laminated(b, nil)
	for b.Loop() {
		StiffnessAt(n, 200)
	}
}
