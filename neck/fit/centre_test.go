package fit

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// TestFitCentre checks that a fit tells the two thicknesses apart: readings
// taken from a neck that is deepest beside its centreline give it back.
func TestFitCentre(t *testing.T) {
	n := readingstest.FarApex(t, false)
	set := func(kind readings.Kind, value func(x float64) float64) *readings.Set {
		b := readingstest.NewBench(n, 3, 0)
		b.Board()
		b.Width(0)
		b.Width(20)
		for _, f := range []float64{1, 4, 8, 12} {
			b.Add(kind, spec.AtFret(f), 0, value(n.Spec().FretX(f)))
		}
		b.Contour(1, 14)
		b.Contour(12, 14)
		return b.Set
	}
	for _, s := range []*readings.Set{set(readings.Centre, n.Centre), set(readings.Total, n.Total), set(readings.Wood, n.Depth)} {
		r, err := Fit(s, nil, Options{Targets: 2})
		require.NoError(t, err)
		assert.InDelta(t, 22, value(t, r, "depth[1].total").Value, 0.01)
		assert.InDelta(t, 24, value(t, r, "depth[2].total").Value, 0.01)
		for _, q := range r.Residuals {
			assert.InDelta(t, 0, q.Off, 0.01, q.Label)
			if q.Kind != readings.Point {
				assert.InDelta(t, q.Value, q.Model, 0.01, q.Label)
			}
		}
	}
	// Without a contour the neck is even, and both are one thickness.
	b := readingstest.NewBench(n, 3, 0)
	b.Board()
	b.Width(0)
	b.Width(20)
	b.Add(readings.Centre, spec.AtFret(1), 0, 20)
	b.Add(readings.Centre, spec.AtFret(12), 0, 21)
	r, err := Fit(b.Set, nil, Options{})
	require.NoError(t, err)
	assert.InDelta(t, 20, value(t, r, "depth[1].total").Value, 1e-3)
	assert.InDelta(t, 21, value(t, r, "depth[2].total").Value, 1e-3)
	// One alone moves the depths of a base, whose apex counts.
	b = readingstest.NewBench(n, 3, 0)
	b.Add(readings.Centre, spec.AtFret(5), 0, n.Centre(n.Spec().FretX(5))-0.5)
	r, err = Fit(b.Set, n.Spec(), Options{})
	require.NoError(t, err)
	moved := r.Spec.Depth[0].Total - 22
	assert.InDelta(t, moved, r.Spec.Depth[1].Total-24, 1e-9)
	m, err := neck.New(r.Spec)
	require.NoError(t, err)
	assert.InDelta(t, b.Set.Readings[0].Value, m.Centre(n.Spec().FretX(5)), 2e-3)
	assert.Less(t, moved, -0.5, "on the slope beside the deepest line less changes")
}

// TestCentreDerivatives checks the derivatives of a thickness on the centreline
// against differences of the residuals, for every number that moves it.
func TestCentreDerivatives(t *testing.T) {
	n := readingstest.FarApex(t, false)
	b := readingstest.NewBench(n, 5, 1)
	b.Board()
	b.Width(0)
	b.Width(20)
	for _, f := range []float64{1, 5, 12} {
		b.Add(readings.Centre, spec.AtFret(f), 0, n.Centre(n.Spec().FretX(f)))
	}
	b.Contour(1, 14)
	b.Contour(12, 14)
	p, err := newPlan(b.Set, nil, Options{})
	require.NoError(t, err)
	spec := *p.spec
	m := newModel(&spec, b.Set.Readings)
	p.addParams(m, p.pick(p.depths, 2), p.pick(p.shapes, 2))
	at := m.start()
	for i, q := range m.params {
		if strings.HasSuffix(q.Key, ".apex") {
			at[i] = 4
		}
	}
	k := len(b.Set.Readings)
	r, up, down := make([]float64, k), make([]float64, k), make([]float64, k)
	require.True(t, m.Residuals(at, r))
	j := mat.NewDense(k, len(at), nil)
	m.Jacobian(at, j)
	felt := map[string]bool{}
	for c := range at {
		const h = 1e-4
		q := append([]float64(nil), at...)
		q[c] += h
		require.True(t, m.Residuals(q, up))
		q[c] -= 2 * h
		require.True(t, m.Residuals(q, down))
		for i, reading := range b.Set.Readings {
			if reading.Kind != readings.Centre {
				continue
			}
			want := (up[i] - down[i]) / (2 * h)
			assert.InDelta(t, want, j.At(i, c), 1e-3*(1+math.Abs(want)), m.params[c].Key)
			if math.Abs(want) > 0.01 {
				felt[m.params[c].Key] = true
			}
		}
	}
	for _, key := range []string{"board.thickness", "depth[1].total", "profile[1].bass", "profile[1].apex"} {
		assert.True(t, felt[key], "%s moves it", key)
	}
}
