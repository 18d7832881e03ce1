package fit

import (
	"math"
	"math/rand/v2"
	"neckloft/neck/fit/lsq"
	"neckloft/neck/readings/readingstest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/diff/fd"
	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat"
)

// curve is a least squares problem y = f(x, p).
type curve struct {
	x, y []float64
	f    func(x float64, p []float64) float64
	df   func(x float64, p, d []float64) // derivatives of f; nil for numerical ones
}

func (c *curve) Residuals(p, r []float64) bool {
	for i := range c.x {
		r[i] = c.y[i] - c.f(c.x[i], p)
	}
	return true
}

func (c *curve) Jacobian(p []float64, j *mat.Dense) {
	if c.df != nil {
		d := make([]float64, len(p))
		for i, x := range c.x {
			c.df(x, p, d)
			for k := range d {
				j.Set(i, k, -d[k])
			}
		}
		return
	}
	fd.Jacobian(j, func(r, p []float64) { c.Residuals(p, r) }, p, &fd.JacobianSettings{Formula: fd.Central})
}

// misra1a is the data set of that name of the Statistical Reference Datasets of
// NIST (nonlinear regression, lower difficulty): y = b1 (1 - exp(-b2 x)).
// Data and certified values are recalled from memory; that a fit of one comes
// out at the other to eight digits shows that both are right.
var misra1a = curve{
	x: []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0},
	y: []float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78},
	f: func(x float64, p []float64) float64 { return p[0] * (1 - math.Exp(-p[1]*x)) },
	df: func(x float64, p, d []float64) {
		d[0], d[1] = 1-math.Exp(-p[1]*x), p[0]*x*math.Exp(-p[1]*x)
	},
}

// TestCertifiedFit checks parameters, their standard deviations and that of
// the residuals against NIST's certified values, from both of NIST's starts.
func TestCertifiedFit(t *testing.T) {
	for _, start := range [][]float64{{500, 0.0001}, {250, 0.0005}} {
		e, err := lsq.FitWithout(&misra1a, start, len(misra1a.x), nil, lsq.Fine)
		require.NoError(t, err)
		assert.InEpsilon(t, 2.3894212918e+02, e.P[0], 1e-7)
		assert.InEpsilon(t, 5.5015643181e-04, e.P[1], 1e-7)
		assert.InEpsilon(t, 1.0187876330e-01, e.Scale, 1e-8)
		assert.InEpsilon(t, 2.7070075241, e.Scale*math.Sqrt(e.Covariance.At(0, 0)), 1e-6)
		assert.InEpsilon(t, 7.2668688436e-06, e.Scale*math.Sqrt(e.Covariance.At(1, 1)), 1e-6)
		assert.Equal(t, 12, e.Dof)
		// Student's t for 12 degrees of freedom and 95 %: 2.179 in every
		// printed table.
		assert.InDelta(t, 2.179, e.Half(0)/(e.Scale*math.Sqrt(e.Covariance.At(0, 0))), 5e-4)
	}
}

// TestAgainstLinearRegression checks a straight line against gonum/stat, and
// its standard errors against the textbook's.
func TestAgainstLinearRegression(t *testing.T) {
	rng := rand.New(rand.NewPCG(5, 6))
	c := curve{f: func(x float64, p []float64) float64 { return p[0] + p[1]*x }}
	for i := range 25 {
		x := float64(i)
		c.x, c.y = append(c.x, x), append(c.y, 3-0.7*x+rng.NormFloat64())
	}
	e, err := lsq.FitWithout(&c, []float64{0, 0}, len(c.x), nil, lsq.Fine)
	require.NoError(t, err)
	a, b := stat.LinearRegression(c.x, c.y, nil, false)
	assert.InDelta(t, a, e.P[0], 1e-7)
	assert.InDelta(t, b, e.P[1], 1e-7)
	sxx := 0.0
	mean := stat.Mean(c.x, nil)
	for _, x := range c.x {
		sxx += (x - mean) * (x - mean)
	}
	assert.InEpsilon(t, 1/math.Sqrt(sxx), math.Sqrt(e.Covariance.At(1, 1)), 1e-6)
	assert.InEpsilon(t, math.Sqrt(1.0/25+mean*mean/sxx), math.Sqrt(e.Covariance.At(0, 0)), 1e-6)
	a2, b2 := StraightLine(c.x, c.y, ones(25))
	assert.InDelta(t, a, a2, 1e-9)
	assert.InDelta(t, b, b2, 1e-9)
}

func ones(n int) []float64 {
	w := make([]float64, n)
	for i := range w {
		w[i] = 1
	}
	return w
}

// TestAgainstOptimize checks that nobody finds a smaller sum of squares of a
// neck's readings than the fit: gonum/optimize from the same start, by a method
// that knows nothing of least squares.
func TestAgainstOptimize(t *testing.T) {
	set := readingstest.Whole(readingstest.Known(t), 3, 1)
	p, err := newPlan(set, nil, Options{})
	require.NoError(t, err)
	spec := *p.spec
	m := newModel(&spec, set.Readings)
	p.addParams(m, p.pick(p.depths, 2), p.pick(p.shapes, 2))
	e, err := lsq.FitWithout(m, m.start(), len(set.Readings), nil, lsq.Fine)
	require.NoError(t, err)
	r := make([]float64, len(set.Readings))
	cost := func(x []float64) float64 {
		if !m.Residuals(x, r) {
			return math.Inf(1)
		}
		return lsq.SumSquares(r, nil)
	}
	got, err := optimize.Minimize(optimize.Problem{
		Func: cost,
		Grad: func(g, x []float64) { fd.Gradient(g, cost, x, &fd.Settings{Formula: fd.Central}) },
	}, m.start(), &optimize.Settings{GradientThreshold: 1e-6, MajorIterations: 400}, &optimize.BFGS{})
	if err != nil {
		t.Logf("gonum/optimize ended early: %v", err)
	}
	assert.InEpsilon(t, got.F, e.Cost, 1e-6)
	for i := range e.P {
		assert.InDelta(t, got.X[i], e.P[i], 0.02*e.Half(i), m.params[i].Key)
	}
}

// TestHuberLoss checks the robust fit of a constant against Huber's estimator
// found by bisection of its defining equation.
func TestHuberLoss(t *testing.T) {
	c := curve{f: func(_ float64, p []float64) float64 { return p[0] }}
	c.y = []float64{9.8, 10.1, 10.0, 9.9, 10.3, 10.2, 9.7, 10.05, 25, 9.95}
	c.x = make([]float64, len(c.y))
	s, scale, err := lsq.Huber(&c, []float64{0}, len(c.y))
	require.NoError(t, err)
	psi := func(m float64) float64 {
		sum := 0.0
		for _, y := range c.y {
			sum += math.Max(-lsq.HuberK*scale, math.Min(lsq.HuberK*scale, y-m))
		}
		return sum
	}
	lo, hi := 0.0, 30.0
	for range 100 {
		if mid := (lo + hi) / 2; psi(mid) > 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	assert.InDelta(t, lo, s.P[0], 0.02)
	assert.InDelta(t, 10, s.P[0], 0.1)
}

// TestMedianScale checks the scale of normal residuals.
func TestMedianScale(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 8))
	r := make([]float64, 40000)
	for i := range r {
		r[i] = 2.5 * rng.NormFloat64()
	}
	assert.InDelta(t, 2.5, lsq.MedianScale(r, 0), 0.05)
	assert.Greater(t, lsq.MedianScale(make([]float64, 10), 3), 0.0)
}

// TestOpenCombination checks that two parameters that only count together are
// told from those that stand alone.
func TestOpenCombination(t *testing.T) {
	c := curve{x: []float64{1, 2, 3, 4, 5}, y: []float64{3, 5, 7, 9, 11.1}, f: func(x float64, p []float64) float64 { return p[0] + p[1] + p[2]*x }}
	e, err := lsq.FitWithout(&c, []float64{0, 0, 0}, 5, nil, lsq.Fine)
	require.NoError(t, err)
	assert.Nil(t, e.Covariance)
	share := openShare(e)
	assert.InDelta(t, share[0], share[1], 1e-6)
	assert.Greater(t, share[0], 0.5)
	assert.Less(t, share[2], 1e-3)
}
