package carve

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// bentPlate returns how far a plate sags at a place by integrating its
// curvature twice: M / (E I) from reactions worked out by moments about the
// supports, under a load that stands at a place and a load q per length between
// the supports. It knows none of the formulas.
func bentPlate(p Plate, load, at, q, look float64) float64 {
	lo, hi := math.Min(p.From, math.Min(at, look)), math.Max(p.To, math.Max(at, look))
	l := p.To - p.From
	rb := (load*(at-p.From) + q*l*l/2) / l // up, at To
	ra := load + q*l - rb
	moment := func(x float64) float64 { // sagging positive, of what lies before x
		m := 0.0
		if x > p.From {
			m += ra * (x - p.From)
			a := math.Min(x, p.To) - p.From
			m -= q * a * (x - p.From - a/2)
		}
		if x > p.To {
			m += rb * (x - p.To)
		}
		if x > at {
			m -= load * (x - at)
		}
		return m
	}
	inertia := p.Width * p.Thickness * p.Thickness * p.Thickness / 12
	const steps = 40000
	h := (hi - lo) / steps
	slope, drop := 0.0, 0.0
	// sag'' = -M/EI; then a straight line is added that puts both supports to 0.
	var sA, sB, sLook float64
	near := func(x, v float64) bool { return math.Abs(x-v) <= h/2 }
	for i := range steps + 1 {
		x := lo + h*float64(i)
		if near(x, p.From) {
			sA = drop
		}
		if near(x, p.To) {
			sB = drop
		}
		if near(x, look) {
			sLook = drop
		}
		mid := -moment(x+h/2) / (p.Modulus * inertia)
		drop += slope*h + mid*h*h/2
		slope += mid * h
	}
	line := func(x float64) float64 { return sA + (sB-sA)*(x-p.From)/l }
	return sLook - line(look)
}

// TestSagByIntegration holds the formulas to the integrated curvature, between
// the supports and beyond both of them.
func TestSagByIntegration(t *testing.T) {
	p := Plate{Thickness: 12, Width: 150, Modulus: 9000, From: 40, To: 640}
	for _, at := range []float64{-80, 40, 100, 340, 500, 640, 760} {
		want := bentPlate(p, 3.5*Gravity, at, 0, at)
		assert.InDelta(t, want, p.UnderLoad(3.5, at), 2e-3*math.Abs(want)+1e-6, "%v", at)
		assert.Equal(t, p.UnderLoad(3.5, at), p.Sag(3.5, at))
	}
	p.Density = 680
	q := 680e-9 * 150 * 12 * Gravity
	for _, at := range []float64{40, 100, 340, 500, 640} {
		want := bentPlate(p, 0, 40, q, at)
		assert.InDelta(t, want, p.OwnWeight(at), 2e-3*want+1e-6, "%v", at)
		assert.InDelta(t, p.UnderLoad(3.5, at)+p.OwnWeight(at), p.Sag(3.5, at), 1e-12)
	}
	assert.Zero(t, p.OwnWeight(39))
	assert.Zero(t, p.OwnWeight(641))
	require.Positive(t, p.OwnWeight(41))
}

// TestSagOfTables holds the sag to the table's values for the middle: P L³/48EI
// and 5qL⁴/384EI (Gere, Mechanics of Materials, table G-2, cases 4 and 1), and
// to the sag of the plan.
func TestSagOfTables(t *testing.T) {
	p := Plate{Thickness: 18, Width: 150, Modulus: 9000, Density: 700, From: 100, To: 700}
	ei := 9000.0 * 150 * 18 * 18 * 18 / 12
	assert.InEpsilon(t, 3.5*Gravity*600*600*600/(48*ei), p.UnderLoad(3.5, 400), 1e-12)
	q := 700.0 * 0.150 * 0.018 * Gravity / 1000 // N/mm
	assert.InEpsilon(t, 5*q*math.Pow(600, 4)/(384*ei), p.OwnWeight(400), 1e-12)
	s := DefaultSled()
	s.Unsupported = 600
	assert.InEpsilon(t, s.Sag(), p.UnderLoad(s.RouterMass, 400), 1e-12)
}

// TestSagAlong compares the most and the least along runs that lie between the
// supports, beyond them and on one side with a close search.
func TestSagAlong(t *testing.T) {
	for _, p := range []Plate{
		{Thickness: 12, Width: 150, Modulus: 9000, From: 0, To: 600},
		{Thickness: 12, Width: 150, Modulus: 9000, Density: 700, From: 50, To: 450},
	} {
		for _, run := range [][2]float64{{50, 550}, {0, 600}, {320, 550}, {20, 150}, {-40, 660}, {620, 700}, {-100, -20}, {300, 300}} {
			got := p.Along(3.5, run[0], run[1])
			most, least := math.Inf(-1), math.Inf(1)
			for i := range 100001 {
				v := p.Sag(3.5, run[0]+(run[1]-run[0])*float64(i)/1e5)
				most, least = math.Max(most, v), math.Min(least, v)
			}
			assert.InDelta(t, most, got.Most, 1e-6, "%v %v", p, run)
			assert.InDelta(t, least, got.Least, 1e-6, "%v %v", p, run)
			assert.InDelta(t, got.Most, p.Sag(3.5, got.MostAt), 1e-12)
			assert.InDelta(t, got.Least, p.Sag(3.5, got.LeastAt), 1e-12)
			assert.True(t, got.MostAt >= run[0] && got.MostAt <= run[1] && got.LeastAt >= run[0] && got.LeastAt <= run[1])
		}
	}
}
