package progress

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// linearProgram is: minimise cost·d with rows·d ≤ slack and |d| ≤ reach, where
// the rows may all be missed by the same s ≥ 0 at the price `dear` for each.
type linearProgram struct {
	cost  []float64
	rows  [][]float64
	slack []float64
	reach []float64
	dear  float64
}

// solve returns d to about the given gap of the cost, by Newton's method with a
// logarithmic barrier (Fiacco and McCormick 1968; the gap of m conditions at
// the weight t is m/t, Boyd and Vandenberghe 2004, section 11.2). There are few
// numbers and many conditions, so that a step costs little.
func (l *linearProgram) solve(gap float64) []float64 {
	n := len(l.cost)
	z := make([]float64, n+1) // d and s
	for _, b := range l.slack {
		z[n] = math.Max(z[n], -b)
	}
	z[n] += 0.1
	left := make([]float64, len(l.rows))
	inside := func(z []float64) bool {
		for i, row := range l.rows {
			left[i] = l.slack[i] + z[n]
			for k, v := range row {
				left[i] -= v * z[k]
			}
			if !(left[i] > 0) {
				return false
			}
		}
		for k, r := range l.reach {
			if !(math.Abs(z[k]) < r) {
				return false
			}
		}
		return z[n] > 0
	}
	value := func(z []float64, t float64) float64 {
		if !inside(z) {
			return math.Inf(1)
		}
		f := t*l.dear*z[n] - math.Log(z[n])
		for k, c := range l.cost {
			f += t*c*z[k] - math.Log(l.reach[k]-z[k]) - math.Log(l.reach[k]+z[k])
		}
		for _, v := range left {
			f -= math.Log(v)
		}
		return f
	}
	conditions := float64(len(l.rows) + 2*n + 1)
	hessian, gradient := mat.NewSymDense(n+1, nil), mat.NewVecDense(n+1, nil)
	var chol mat.Cholesky
	var step mat.VecDense
	next := make([]float64, n+1)
	for t := conditions / 0.1; ; t *= 12 {
		t = math.Min(t, conditions/gap)
		f := value(z, t)
		for range 30 {
			hessian.Zero()
			gradient.Zero()
			raw, g := hessian.RawSymmetric(), gradient.RawVector().Data
			for i, row := range l.rows {
				u := 1 / left[i]
				for k, v := range row {
					if v == 0 {
						continue
					}
					v *= u
					g[k] += v
					at := raw.Data[k*raw.Stride:]
					for m := k; m < n; m++ {
						at[m] += v * row[m] * u
					}
					at[n] -= v * u
				}
				g[n] -= u
				raw.Data[n*raw.Stride+n] += u * u
			}
			for k, c := range l.cost {
				a, b := 1/(l.reach[k]-z[k]), 1/(l.reach[k]+z[k])
				g[k] += t*c + a - b
				raw.Data[k*raw.Stride+k] += a*a + b*b
			}
			g[n] += t*l.dear - 1/z[n]
			raw.Data[n*raw.Stride+n] += 1 / z[n] / z[n]
			if !chol.Factorize(hessian) || chol.SolveVecTo(&step, gradient) != nil {
				return z[:n]
			}
			decrement := mat.Dot(&step, gradient)
			share := 1.0
			for ; share > 1e-10; share /= 2 {
				for k := range next {
					next[k] = z[k] - share*step.AtVec(k)
				}
				if v := value(next, t); v <= f-0.1*share*decrement {
					f = v
					break
				}
			}
			if share <= 1e-10 {
				inside(z)
				break
			}
			copy(z, next)
			if decrement < 1e-2 {
				break
			}
		}
		if t >= conditions/gap {
			return z[:n]
		}
	}
}
