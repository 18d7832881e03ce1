package progress

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

// TestLinearProgram checks the barrier method against the simplex method of
// gonum, on random programs: some of them can be met and some only missed.
//
// Long, since its cases share what is set up first.
func TestLinearProgram(t *testing.T) {
	missed := 0
	for seed := range uint64(40) {
		rng := rand.New(rand.NewPCG(seed, 3))
		n, m := 2+rng.IntN(5), 3+rng.IntN(25)
		l := linearProgram{dear: 50}
		for range n {
			l.cost, l.reach = append(l.cost, rng.NormFloat64()), append(l.reach, 0.2+rng.Float64())
		}
		for range m {
			row := make([]float64, n)
			for k := range row {
				row[k] = rng.NormFloat64()
			}
			l.rows, l.slack = append(l.rows, row), append(l.slack, 0.6*rng.NormFloat64()+0.5)
		}
		d := l.solve(1e-7)
		got, worst := 0.0, 0.0
		for k, v := range d {
			assert.LessOrEqual(t, math.Abs(v), l.reach[k])
			got += l.cost[k] * v
		}
		for i, row := range l.rows {
			v := -l.slack[i]
			for k := range row {
				v += row[k] * d[k]
			}
			worst = math.Max(worst, v)
		}
		if worst > 1e-6 {
			missed++
		}
		got += l.dear * worst

		// The same with d + reach and s from zero up, and a slack for each row.
		rows := m + n
		a := mat.NewDense(rows, n+1+rows, nil)
		b := make([]float64, rows)
		c := make([]float64, n+1+rows)
		copy(c, l.cost)
		c[n] = l.dear
		shift := 0.0
		for k := range n {
			shift += l.cost[k] * l.reach[k]
		}
		for i, row := range l.rows {
			b[i] = l.slack[i]
			for k := range row {
				a.Set(i, k, row[k])
				b[i] += row[k] * l.reach[k]
			}
			a.Set(i, n, -1)
			a.Set(i, n+1+i, 1)
		}
		for k := range n {
			a.Set(m+k, k, 1)
			a.Set(m+k, n+1+m+k, 1)
			b[m+k] = 2 * l.reach[k]
		}
		want, _, err := lp.Simplex(c, a, b, 1e-10, nil)
		require.NoError(t, err, "seed %d", seed)
		assert.InDelta(t, want-shift, got, 1e-4, "seed %d", seed)
	}
	assert.Greater(t, missed, 3)
	assert.Less(t, missed, 35)
}
