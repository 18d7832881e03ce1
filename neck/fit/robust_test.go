package fit

import (
	"math"
	"math/rand/v2"
	"neckloft/neck/fit/lsq"
	"neckloft/neck/readings/readingstest"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// cubic returns a linear least squares problem: readings of a cubic with errors
// of `noise`.
func cubic(n int, noise float64) *curve {
	rng := rand.New(rand.NewPCG(uint64(n), 11))
	c := &curve{
		f: func(x float64, p []float64) float64 { return p[0] + x*(p[1]+x*(p[2]+x*p[3])) },
		df: func(x float64, _, d []float64) {
			d[0], d[1], d[2], d[3] = 1, x, x*x, x*x*x
		},
	}
	for i := range n {
		x := 2*float64(i)/float64(n-1) - 1
		c.x = append(c.x, x)
		c.y = append(c.y, c.f(x, []float64{1, -2, 0.5, 3})+noise*rng.NormFloat64())
	}
	return c
}

// TestDeletion checks the deleted residuals, and what is left of a fit without
// one reading and without two, against fits made again without them.
func TestDeletion(t *testing.T) {
	c := cubic(20, 0.3)
	start := make([]float64, 4)
	all, err := lsq.FitWithout(c, start, 20, nil, lsq.Fine)
	require.NoError(t, err)
	same := func(got, want *lsq.Estimate) {
		t.Helper()
		assert.InDelta(t, want.Cost, got.Cost, 1e-7)
		assert.InDelta(t, want.Scale, got.Scale, 1e-7)
		assert.Equal(t, want.Dof, got.Dof)
		assert.Equal(t, want.Dropped, got.Dropped)
		for k := range want.P {
			assert.InDelta(t, want.P[k], got.P[k], 1e-7)
			for l := range want.P {
				assert.InDelta(t, want.Covariance.At(k, l), got.Covariance.At(k, l), 1e-7)
			}
		}
		for k := range want.R {
			assert.InDelta(t, want.R[k], got.R[k], 1e-7)
		}
	}
	for i := range 20 {
		rest, err := lsq.FitWithout(c, start, 20, []int{i}, lsq.Fine)
		require.NoError(t, err)
		// Of the readings and of the numbers, what is left: 20 - 1 - 4.
		assert.Equal(t, 15, rest.Dof)
		off, student, own, ok := all.Deleted(i)
		require.True(t, ok)
		assert.InDelta(t, rest.R[i], off, 1e-7)
		row := mat.NewVecDense(4, rest.J.RawRowView(i))
		spread := math.Sqrt(1 + mat.Inner(row, rest.Covariance, row))
		assert.InDelta(t, rest.R[i]/spread, own, 1e-7)
		assert.InDelta(t, rest.R[i]/spread/rest.Scale, student, 1e-6)
		one := all.Deletion(i)
		same(one, rest)
		k := (i + 7) % 20
		both, err := lsq.FitWithout(c, start, 20, []int{i, k}, lsq.Fine)
		require.NoError(t, err)
		same(one.Deletion(k), both)
		_, _, _, ok = one.Deleted(i)
		assert.False(t, ok, "out already")
	}
	assert.False(t, slices.Contains(all.Dropped, true), "the fit itself is left as it was")
}

// TestDeletionOfModel checks the same along the derivatives of a neck: the
// readings decide by it which fit is tried.
func TestDeletionOfModel(t *testing.T) {
	set := readingstest.Whole(readingstest.Known(t), 3, 1)
	p, err := newPlan(set, nil, Options{})
	require.NoError(t, err)
	c, err := p.fit(p.pick(p.depths, 2), p.pick(p.shapes, 2), nil)
	require.NoError(t, err)
	e := c.estimate
	for i := 5; i < len(e.R); i += 9 {
		d := e.Deletion(i)
		rest, err := lsq.FitWithout(c.model, e.P, len(e.R), []int{i}, lsq.Fine)
		require.NoError(t, err)
		assert.InDelta(t, rest.Cost, d.Cost, 0.02*e.Cost, "reading %d", i)
		for k := range d.P {
			assert.InDelta(t, rest.P[k], d.P[k], 0.2*math.Sqrt(e.Covariance.At(k, k)), "reading %d, %s", i, c.model.params[k].Key)
		}
	}
}

// counted counts the fits made of a problem by their steps.
type counted struct {
	*curve
	steps int
}

func (c *counted) Jacobian(p []float64, j *mat.Dense) {
	c.steps++
	c.curve.Jacobian(p, j)
}

// TestManyBadReadings checks that all of many bad readings are found and none of
// the good, more than the first look takes in, and that they do not cost a fit
// each: the time of a fit is that of its steps.
func TestManyBadReadings(t *testing.T) {
	c := &counted{curve: cubic(600, 0.1)}
	want := make([]bool, 600)
	for k := range 85 {
		i := 3 + 7*k
		want[i] = true
		c.y[i] += 4 - 8*float64(k%2) + float64(k)/50
	}
	e, err := lsq.RobustFit(c, make([]float64, 4), 600, true)
	require.NoError(t, err)
	assert.Equal(t, want, e.Dropped)
	assert.Equal(t, 600-85-4, e.Dof)
	assert.Less(t, c.steps, 60)
}

// TestOutlierLimit checks the limit for a reading against Student's t as
// printed tables have it: of a single reading 1 % on both sides together, with
// 10 degrees of freedom 3.169; and of 20 readings a twentieth of that.
func TestOutlierLimit(t *testing.T) {
	e := &lsq.Estimate{Solution: &lsq.Solution{R: make([]float64, 1)}}
	assert.InDelta(t, 3.169, e.Limit(10), 5e-4)
	e.R = make([]float64, 20)
	beyond := 2 * distuv.StudentsT{Sigma: 1, Nu: 10}.Survival(e.Limit(10))
	assert.InDelta(t, 0.01/20, beyond, 1e-9)
	assert.True(t, math.IsInf(e.Limit(0), 1))
}

// TestCriterion checks the information criterion against its definition, twice
// the numbers that are fitted, the errors' standard deviation among them, less
// twice the logarithm of the largest likelihood, and the correction for few
// readings of Hurvich and Tsai (1989), whose formula is recalled from memory.
// A constant for each reading is common to all fits and left out.
func TestCriterion(t *testing.T) {
	for _, n := range []int{9, 14, 40} {
		c := cubic(n, 0.4)
		e, err := lsq.FitWithout(c, make([]float64, 4), n, []int{2, 5}, lsq.Fine)
		require.NoError(t, err)
		kept := float64(n - 2)
		sigma := math.Sqrt(e.Cost / kept)
		likelihood := 0.0
		for i, r := range e.R {
			if !e.Dropped[i] {
				likelihood += distuv.Normal{Sigma: sigma}.LogProb(r)
			}
		}
		const numbers = 5
		want := 2*numbers - 2*likelihood + 2*numbers*(numbers+1)/(kept-numbers-1)
		got := criterion(&candidate{estimate: e})
		assert.InDelta(t, want, got+kept*(1+math.Log(2*math.Pi)), 1e-6, "%d readings", n)
	}
	// With one reading more than numbers and one, there is no correction any
	// more.
	e, err := lsq.FitWithout(cubic(8, 0.4), make([]float64, 4), 8, []int{2, 5}, lsq.Fine)
	require.NoError(t, err)
	assert.True(t, math.IsInf(criterion(&candidate{estimate: e}), 1))
}
