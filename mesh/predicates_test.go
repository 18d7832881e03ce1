package mesh

import (
	"math"
	"math/big"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// ratDet returns the determinant of a square matrix of rationals by expansion
// along the first row, the plain definition.
func ratDet(m [][]*big.Rat) *big.Rat {
	if len(m) == 1 {
		return m[0][0]
	}
	det := new(big.Rat)
	for j, x := range m[0] {
		var minor [][]*big.Rat
		for _, row := range m[1:] {
			minor = append(minor, append(append([]*big.Rat{}, row[:j]...), row[j+1:]...))
		}
		t := new(big.Rat).Mul(x, ratDet(minor))
		if j%2 == 1 {
			t.Neg(t)
		}
		det.Add(det, t)
	}
	return det
}

func ratRow(values ...float64) []*big.Rat {
	row := make([]*big.Rat, len(values))
	for i, v := range values {
		row[i] = new(big.Rat).SetFloat64(v)
	}
	return row
}

func ratOrient2d(a, b, c Vec2) int {
	return ratDet([][]*big.Rat{ratRow(a.X, a.Y, 1), ratRow(b.X, b.Y, 1), ratRow(c.X, c.Y, 1)}).Sign()
}

func ratOrient3d(a, b, c, d Vec) int {
	// Rows (p, 1) give the determinant of differences to d with the sign of
	// the side below a, b, c.
	return -ratDet([][]*big.Rat{
		ratRow(a.X, a.Y, a.Z, 1), ratRow(b.X, b.Y, b.Z, 1), ratRow(c.X, c.Y, c.Z, 1), ratRow(d.X, d.Y, d.Z, 1),
	}).Sign()
}

func ratInCircle(a, b, c, d Vec2) int {
	row := func(p Vec2) []*big.Rat {
		r := ratRow(p.X, p.Y, 0, 1)
		r[2].Add(new(big.Rat).Mul(r[0], r[0]), new(big.Rat).Mul(r[1], r[1]))
		return r
	}
	return ratDet([][]*big.Rat{row(a), row(b), row(c), row(d)}).Sign()
}

// awkwardFloat draws coordinates that collide, nearly collide, and differ
// wildly in size.
func awkwardFloat() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Map(rapid.IntRange(-3, 3), func(i int) float64 { return float64(i) }),
		rapid.Map(rapid.IntRange(-3, 3), func(i int) float64 { return 12 + float64(i)*0x1p-48 }),
		rapid.Map(rapid.Float32Range(-1000, 1000), func(f float32) float64 { return float64(f) }),
		rapid.Float64Range(-1e3, 1e3),
		rapid.SampledFrom([]float64{1e-300, -5e-324, 1e-30, 1e25, -1e59, 6.1e-17, 0x1p-149}),
	)
}

func awkwardVec2() *rapid.Generator[Vec2] {
	return rapid.Custom(func(t *rapid.T) Vec2 {
		return Vec2{awkwardFloat().Draw(t, "x"), awkwardFloat().Draw(t, "y")}
	})
}

func awkwardVec() *rapid.Generator[Vec] {
	return rapid.Custom(func(t *rapid.T) Vec {
		return Vec{awkwardFloat().Draw(t, "x"), awkwardFloat().Draw(t, "y"), awkwardFloat().Draw(t, "z")}
	})
}

func TestOrient2dSigns(t *testing.T) {
	assert.Equal(t, 1, orient2d(Vec2{0, 0}, Vec2{1, 0}, Vec2{0, 1}))
	assert.Equal(t, -1, orient2d(Vec2{0, 0}, Vec2{0, 1}, Vec2{1, 0}))
	assert.Equal(t, 0, orient2d(Vec2{0, 0}, Vec2{1, 1}, Vec2{3, 3}))
}

func TestOrient3dSigns(t *testing.T) {
	x, y := Vec{1, 0, 0}, Vec{0, 1, 0}
	assert.Equal(t, 1, orient3d(Vec{}, x, y, Vec{0.2, 0.2, 1}))
	assert.Equal(t, -1, orient3d(Vec{}, x, y, Vec{0.2, 0.2, -1}))
	assert.Equal(t, 0, orient3d(Vec{}, x, y, Vec{7, -3, 0}))
}

func TestInCircleSigns(t *testing.T) {
	a, b, c := Vec2{1, 0}, Vec2{0, 1}, Vec2{-1, 0}
	assert.Equal(t, 1, inCircle(a, b, c, Vec2{0, 0}))
	assert.Equal(t, 0, inCircle(a, b, c, Vec2{0, -1}))
	assert.Equal(t, -1, inCircle(a, b, c, Vec2{0, -1.0000001}))
}

func TestPredicatesAgainstRationals(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		p := rapid.SliceOfN(awkwardVec2(), 4, 4).Draw(t, "plane points")
		q := rapid.SliceOfN(awkwardVec(), 4, 4).Draw(t, "space points")
		if rapid.Bool().Draw(t, "flatten") {
			k := rapid.SampledFrom([]float64{0.1, 0.5, 1 / 3.0}).Draw(t, "k")
			p[2] = p[0].Add(p[1].Sub(p[0]).Scale(k))
			q[3] = q[0].Add(q[1].Sub(q[0]).Scale(k)).Add(q[2].Sub(q[0]).Scale(k))
		}
		require.Equal(t, ratOrient2d(p[0], p[1], p[2]), orient2d(p[0], p[1], p[2]))
		require.Equal(t, ratInCircle(p[0], p[1], p[2], p[3]), inCircle(p[0], p[1], p[2], p[3]))
		require.Equal(t, ratOrient3d(q[0], q[1], q[2], q[3]), orient3d(q[0], q[1], q[2], q[3]))
	})
}

// TestExactStages runs the expansion and the integer stage on float32 points
// that are flat or nearly so, whether or not the filter would have answered.
// Without DRAWN=all it takes some of the cases.
func TestExactStages(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	f32 := func(x float64) float64 { return float64(float32(x)) }
	cases := 800
	if !drawn.All() {
		cases = 150
	}
	for range cases {
		var p [4]Vec2
		var q [4]Vec
		phi := r.Float64()
		for i := range p {
			s, c := math.Sincos(6 * r.Float64())
			p[i] = Vec2{f32(40 * c), f32(40 * s)}
			q[i] = Vec{f32(100 * r.Float64() * math.Cos(phi)), f32(20 * r.Float64()), 0}
			q[i].Z = f32(q[i].X * math.Tan(phi))
		}
		require.Equal(t, ratInCircle(p[0], p[1], p[2], p[3]), inCircleExact(p[0], p[1], p[2], p[3]))
		require.Equal(t, ratInCircle(p[0], p[1], p[2], p[3]), inCircleBig(p[0], p[1], p[2], p[3]))
		require.Equal(t, ratOrient2d(p[0], p[1], p[2]), orient2dExact(p[0], p[1], p[2]))
		require.Equal(t, ratOrient2d(p[0], p[1], p[2]), orient2dWhole(p[0], p[1], p[2]))
		require.Equal(t, ratOrient2d(p[0], p[1], p[2]), orient2dBig(p[0], p[1], p[2]))
		require.Equal(t, ratOrient3d(q[0], q[1], q[2], q[3]), orient3dExact(q[0], q[1], q[2], q[3]))
		require.Equal(t, ratOrient3d(q[0], q[1], q[2], q[3]), orient3dWhole(q[0], q[1], q[2], q[3]))
		require.Equal(t, ratOrient3d(q[0], q[1], q[2], q[3]), orient3dBig(q[0], q[1], q[2], q[3]))
	}
}

// TestExpansionsAreExact compares each operation's sum with big.Float's.
func TestExpansionsAreExact(t *testing.T) {
	sum := func(e []float64) *big.Rat {
		s := new(big.Rat)
		for _, x := range e {
			s.Add(s, new(big.Rat).SetFloat64(x))
		}
		return s
	}
	rat := func(x float64) *big.Rat { return new(big.Rat).SetFloat64(x) }
	r := rand.New(rand.NewPCG(3, 4))
	num := func() float64 { return math.Ldexp(r.Float64()-0.5, r.IntN(40)) }
	for range 2000 {
		a, b, c, d, k := num(), num(), num(), num(), num()
		var m1, m2 [4]float64
		e, f := crossExpansion(&m1, a, b, c, d), crossExpansion(&m2, b, k, d, a)
		want := new(big.Rat).Sub(new(big.Rat).Mul(rat(a), rat(d)), new(big.Rat).Mul(rat(b), rat(c)))
		require.Zero(t, want.Cmp(sum(e)))

		g := scaleExpansion(make([]float64, 8), e, k)
		require.Zero(t, new(big.Rat).Mul(want, rat(k)).Cmp(sum(g)))

		h := sumExpansions(make([]float64, 12), g, f)
		require.Zero(t, new(big.Rat).Add(sum(g), sum(f)).Cmp(sum(h)))
		require.Equal(t, sum(h).Sign(), expansionSign(h))
	}
}

func BenchmarkOrient3d(b *testing.B) {
	p := [4]Vec{{0, 0, 0}, {10, 1, 2}, {3, 9, -4}, {5, 5, 5}}
	flat := [4]Vec{{0.1, 0.2, 0.3}, {10.1, 1.2, 11.3}, {3.1, 9.2, 12.3}, {13.1, 10.2, 23.3}}
	for i := range flat {
		flat[i] = flat[i].Round()
	}
	b.Run("filter", func(b *testing.B) {
		for b.Loop() {
			orient3d(p[0], p[1], p[2], p[3])
		}
	})
	b.Run("expansion", func(b *testing.B) {
		for b.Loop() {
			orient3dExact(flat[0], flat[1], flat[2], flat[3])
		}
	})
	b.Run("whole", func(b *testing.B) {
		for b.Loop() {
			orient3dWhole(flat[0], flat[1], flat[2], flat[3])
		}
	})
	b.Run("integer", func(b *testing.B) {
		for b.Loop() {
			orient3dBig(flat[0], flat[1], flat[2], flat[3])
		}
	})
}
