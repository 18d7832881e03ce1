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

// TestTransformedSection checks two moduli against the textbook: a rectangle
// of two layers. With modular ratio 1 it is one rectangle, b (h1+h2)³/12; with
// another it is worked by hand as a T of widths b and n b (Gere, Mechanics of
// Materials, section on composite beams).
func TestTransformedSection(t *testing.T) {
	s := spectest.Straight()
	// So full that the back is a rectangle to the rounding of its corners.
	s.Profile[0].Bass, s.Profile[0].Treble = 40, 40
	s.Wall = 14
	s.Depth[0].Total = 21
	n, err := neck.New(s)
	require.NoError(t, err)
	k := StiffnessAt(n, 100)
	assert.InEpsilon(t, 12600*44*math.Pow(15, 3)/12, k.EIWood, 5e-3)
	assert.InEpsilon(t, 12600*44*math.Pow(21, 3)/12, k.EI, 5e-3)
	assert.InDelta(t, -7.5, k.NeutralWood, 0.03)
	assert.InDelta(t, -4.5, k.Neutral, 0.03)

	s.Board.Wood = spec.Wood{Density: 900, Modulus: 18900}
	require.NoError(t, s.Validate().Err())
	n, err = neck.New(s)
	require.NoError(t, err)
	k = StiffnessAt(n, 100)
	const ratio = 18900.0 / 12600
	a1, a2 := 44*15.0, ratio*44*6.0
	zc := (a1*-7.5 + a2*3) / (a1 + a2)
	i := 44*math.Pow(15, 3)/12 + a1*math.Pow(-7.5-zc, 2) + ratio*44*math.Pow(6, 3)/12 + a2*math.Pow(3-zc, 2)
	assert.InDelta(t, zc, k.Neutral, 0.03)
	assert.InEpsilon(t, 12600*i, k.EI, 5e-3)
	assert.InEpsilon(t, 900*44*6*n.BoardEnd()*1e-6, BoardMass(n), 1e-9)
}

// TestUnevenSidesHardlyMatter holds the claim of Stiffness: leaving the product
// of inertia aside changes the stiffness against the strings by a hundredth or
// two for sides far from alike, and by less than a thousandth for the demo's. Free to move sideways, a beam bends as if it had
// I (1 - Iyz²/(Iyy Izz)) (Gere, unsymmetric bending).
func TestUnevenSidesHardlyMatter(t *testing.T) {
	s := spec.Demo()
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 3, Treble: 1.7, Apex: -2.5}}
	n, err := neck.New(s)
	require.NoError(t, err)
	m := n.WoodMoments(200)
	assert.Greater(t, math.Abs(m.Product()), 1.0)
	assert.Less(t, m.Product()*m.Product()/(m.Bending()*m.Sideways()), 0.02)
	m = necktest.Demo(t).WoodMoments(200)
	assert.Less(t, m.Product()*m.Product()/(m.Bending()*m.Sideways()), 0.001)
}

// TestBendCouples: a uniform beam under equal end couples sags M L²/8EI at
// midspan, which follows from a constant curvature M/EI.
func TestBendCouples(t *testing.T) {
	const m, ei, l = 6500.0, 3e8, 410.0
	b := bend([]float64{0, 100, 237, l}, func(float64) float64 { return m / ei })
	depth, x := b.deepest()
	assert.InEpsilon(t, m*l*l/(8*ei), depth, 1e-9)
	assert.InDelta(t, l/2, x, 1e-3)
	assert.InEpsilon(t, -m*l*l/(8*ei), b.at(l/2), 1e-9)
	assert.InDelta(t, 0, b.at(0), 1e-15)
	assert.InDelta(t, 0, b.at(l), 1e-15)
	assert.True(t, math.IsNaN(b.at(l+1)))
}

// TestBendUniformLoad: 5 q L⁴/(384 E I) at midspan (Gere, Mechanics of
// Materials, table G-2 case 1), through the same integrator.
func TestBendUniformLoad(t *testing.T) {
	const q, ei, l = 0.12, 2.4e8, 500.0
	b := bend([]float64{0, 33, l}, func(x float64) float64 { return q * x * (l - x) / 2 / ei })
	depth, x := b.deepest()
	assert.InEpsilon(t, 5*q*math.Pow(l, 4)/(384*ei), depth, 1e-6)
	assert.InEpsilon(t, 5*q*math.Pow(l, 4)/(384*ei), -b.at(l/2), 1e-6)
	assert.InDelta(t, l/2, x, 1e-2)
	for _, x := range []float64{40, 101.5, 333} {
		// The elastic curve of the same row of the table.
		want := q * x / (24 * ei) * (l*l*l - 2*l*x*x + x*x*x)
		assert.InEpsilon(t, -want, b.at(x), 1e-6)
	}
}

// TestBendStepped checks a jump of the stiffness at a mark: a beam under equal
// end couples whose second half is twice as stiff. By moment-area the slope at
// the left end is (k/L)(∫ (L-x) κ dx), and the sag at midspan follows.
func TestBendStepped(t *testing.T) {
	const l, k = 400.0, 2e-5
	b := bend([]float64{0, l / 2, l}, func(x float64) float64 {
		if x < l/2 {
			return k
		}
		return k / 2
	})
	// Left half: ∫ (l-x) k = k 3l²/8; right half: (k/2) l²/8.
	slope := (k*3*l*l/8 + k/2*l*l/8) / l
	sag := slope*l/2 - k*l*l/8
	assert.InEpsilon(t, sag, -b.at(l/2), 1e-9)
}

// TestMeanStiffness: an even neck has its own stiffness as its mean.
func TestMeanStiffness(t *testing.T) {
	n, err := neck.New(spectest.Straight())
	require.NoError(t, err)
	want := StiffnessAt(n, 50).EI
	assert.InEpsilon(t, want, MeanStiffness(n, 10, 280), 1e-9)
	for _, v := range ThirdStiffness(n) {
		assert.InEpsilon(t, want, v, 1e-9)
	}
	assert.InDelta(t, n.End(), Joint(n), 1e-9)
	assert.InDelta(t, spec.Demo().FretX(18.5), Joint(necktest.Demo(t)), 1e-9)
}

func BenchmarkStiffness(b *testing.B) {
	n := necktest.Demo(b)
	for b.Loop() {
		StiffnessAt(n, 200)
	}
}

func BenchmarkBow(b *testing.B) {
	n := necktest.Demo(b)
	for b.Loop() {
		BowOf(n)
	}
}
