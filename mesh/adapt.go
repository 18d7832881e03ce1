package mesh

import "math"

// Distribute returns stations from a to b, both included, spaced so that each
// step carries the same share of the integral of density, at most 1. density
// is sampled at the given number of equal steps.
//
// For a curve whose chord error over a step h is k h²/8 and may be e, the
// density is sqrt(k/(8e)).
func Distribute(a, b float64, density func(x float64) float64, samples int) []float64 {
	h := (b - a) / float64(samples)
	sum := make([]float64, samples+1)
	prev := density(a)
	for i := 1; i <= samples; i++ {
		d := density(a + h*float64(i))
		sum[i] = sum[i-1] + h*(prev+d)/2
		prev = d
	}
	n := int(math.Ceil(sum[samples]))
	out := []float64{a}
	k := 0
	for i := 1; i < n; i++ {
		want := sum[samples] * float64(i) / float64(n)
		for sum[k+1] < want {
			k++
		}
		out = append(out, a+h*(float64(k)+(want-sum[k])/(sum[k+1]-sum[k])))
	}
	return append(out, b)
}
