package numeric

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestExpAndLog holds both against the standard library's, all over their
// range and close to where tables and series meet.
func TestExpAndLog(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	exp := func(x float64) {
		want := math.Exp(x)
		require.InDelta(t, 1, Exp(x)/want, 2.0*0x1p-52, "%v", x)
	}
	log := func(x float64) {
		want := math.Log(x)
		require.InDelta(t, want, Log(x), 3*0x1p-52*math.Abs(want), "%v", x)
	}
	for range 20000 {
		exp(1400*r.Float64() - 700)
		exp(4*r.Float64() - 2)
		exp(math.Ln2 / 128 * (math.Floor(200*r.Float64()) - 100) * (1 + 1e-12*r.NormFloat64()))
		log(math.Exp(1400*r.Float64() - 700))
		log(4 * r.Float64())
		log(1 + 1e-3*r.NormFloat64())
		log((1 + (math.Floor(300*r.Float64())-100)/256) * (1 + 1e-12*r.NormFloat64()))
	}
	for _, x := range []float64{0, math.Copysign(0, -1), 1, -1, 709.7, 710, 800, -745, -800, math.Inf(1), math.Inf(-1)} {
		require.Equal(t, math.Exp(x), Exp(x), "%v", x)
	}
	for _, x := range []float64{0, 1, math.Inf(1), 5e-324, 1e-310} {
		require.Equal(t, math.Log(x), Log(x), "%v", x)
	}
	for _, f := range []float64{Exp(math.NaN()), Log(math.NaN()), Log(-1), Log(math.Inf(-1))} {
		require.True(t, math.IsNaN(f))
	}
}

func BenchmarkExp(b *testing.B)     { benchmark(b, Exp, -5, 5) }
func BenchmarkMathExp(b *testing.B) { benchmark(b, math.Exp, -5, 5) }
func BenchmarkLog(b *testing.B)     { benchmark(b, Log, 0.01, 2) }
func BenchmarkMathLog(b *testing.B) { benchmark(b, math.Log, 0.01, 2) }

func benchmark(b *testing.B, f func(float64) float64, from, to float64) {
	sum, i := 0.0, 0.0
	for b.Loop() {
		sum += f(Lerp(from, to, i/1000))
		if i++; i == 1000 {
			i = 0
		}
	}
	if math.IsNaN(sum) {
		b.Fatal(sum)
	}
}
