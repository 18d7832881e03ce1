package progress

import (
	"math"

	"gonum.org/v1/gonum/mat"
	"neckloft/neck/numeric"
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
	b := newBarrier(l)
	conditions := float64(len(l.rows) + 2*len(l.cost) + 1)
	for t := conditions / 0.1; ; t *= 12 {
		t = math.Min(t, conditions/gap)
		if !b.centre(t) || t >= conditions/gap {
			return b.z[:len(l.cost)]
		}
	}
}

// barrier is the walk of a linear program along its middle.
type barrier struct {
	*linearProgram
	used [][]int   // of each row, the numbers that it has: most change a part of the neck only
	z    []float64 // d and s
	next []float64 // where a step would lead
	room []float64 // of each row, at the place that was looked at last

	hessian  *mat.SymDense
	gradient *mat.VecDense
	chol     mat.Cholesky
	step     mat.VecDense
}

// newBarrier begins at d = 0, with s so large that all rows have room.
func newBarrier(l *linearProgram) *barrier {
	n := len(l.cost)
	b := &barrier{
		linearProgram: l,
		z:             make([]float64, n+1), next: make([]float64, n+1), room: make([]float64, len(l.rows)),
		hessian: mat.NewSymDense(n+1, nil), gradient: mat.NewVecDense(n+1, nil),
	}
	for _, row := range l.rows {
		var used []int
		for k, v := range row {
			if v != 0 {
				used = append(used, k)
			}
		}
		b.used = append(b.used, used)
	}
	for _, s := range l.slack {
		b.z[n] = math.Max(b.z[n], -s)
	}
	b.z[n] += 0.1
	return b
}

// inside reports whether all conditions have room at z, and keeps how much.
func (b *barrier) inside(z []float64) bool {
	n := len(b.cost)
	for i, row := range b.rows {
		room := b.slack[i] + z[n]
		for _, k := range b.used[i] {
			room -= row[k] * z[k]
		}
		b.room[i] = room
		if !(room > 0) {
			return false
		}
	}
	for k, r := range b.reach {
		if !(math.Abs(z[k]) < r) {
			return false
		}
	}
	return z[n] > 0
}

// value returns the cost with the barrier at z, for the weight t.
func (b *barrier) value(z []float64, t float64) float64 {
	if !b.inside(z) {
		return math.Inf(1)
	}
	n := len(b.cost)
	f := t*b.dear*z[n] - numeric.Log(z[n])
	for k, c := range b.cost {
		f += t*c*z[k] - numeric.Log(b.reach[k]-z[k]) - numeric.Log(b.reach[k]+z[k])
	}
	for _, v := range b.room {
		f -= numeric.Log(v)
	}
	return f
}

// slopes fills gradient and Hessian of the value at z, where it was looked at
// last.
func (b *barrier) slopes(t float64) {
	n := len(b.cost)
	b.hessian.Zero()
	b.gradient.Zero()
	raw, g := b.hessian.RawSymmetric(), b.gradient.RawVector().Data
	for i, row := range b.rows {
		u := 1 / b.room[i]
		used := b.used[i]
		for j, k := range used {
			v := row[k] * u
			g[k] += v
			at := raw.Data[k*raw.Stride:]
			for _, m := range used[j:] {
				at[m] += v * row[m] * u
			}
			at[n] -= v * u
		}
		g[n] -= u
		raw.Data[n*raw.Stride+n] += u * u
	}
	for k, c := range b.cost {
		lo, hi := 1/(b.reach[k]-b.z[k]), 1/(b.reach[k]+b.z[k])
		g[k] += t*c + lo - hi
		raw.Data[k*raw.Stride+k] += lo*lo + hi*hi
	}
	g[n] += t*b.dear - 1/b.z[n]
	raw.Data[n*raw.Stride+n] += 1 / b.z[n] / b.z[n]
}

// centre moves z to the least value for the weight t, and reports whether it
// could go on from there.
func (b *barrier) centre(t float64) bool {
	f := b.value(b.z, t)
	for range 30 {
		b.slopes(t)
		if !b.chol.Factorize(b.hessian) || b.chol.SolveVecTo(&b.step, b.gradient) != nil {
			return false
		}
		decrement := mat.Dot(&b.step, b.gradient)
		share := 1.0
		for ; share > 1e-10; share /= 2 {
			for k := range b.next {
				b.next[k] = b.z[k] - share*b.step.AtVec(k)
			}
			if v := b.value(b.next, t); v <= f-0.1*share*decrement {
				f = v
				break
			}
		}
		if share <= 1e-10 {
			b.inside(b.z)
			break
		}
		copy(b.z, b.next)
		if decrement < 1e-2 {
			break
		}
	}
	return true
}
