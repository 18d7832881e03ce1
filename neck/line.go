package neck

import (
	"gonum.org/v1/gonum/interp"
	"neckloft/neck/numeric"
)

// line is a quantity given at stations along the neck: constant for one
// station, and a function of x with a continuous first derivative for more.
type line struct {
	xs, ys []float64
	curve  interp.DerivativePredictor
	// extend continues the end slopes outside the stations; otherwise the end
	// values are held.
	extend bool
}

// straight fits depth targets: a straight line through two, a monotone cubic
// (Fritsch and Butland 1984, as in gonum/interp) through more, and the slope at
// either end carried on beyond it.
func straight(xs, ys []float64) (*line, error) {
	l := &line{xs: xs, ys: ys, extend: true}
	var err error
	switch {
	case len(xs) == 2:
		var p interp.PiecewiseCubic
		k := (ys[1] - ys[0]) / (xs[1] - xs[0])
		p.FitWithDerivatives(xs, ys, []float64{k, k})
		l.curve = &p
	case len(xs) > 2:
		var p interp.FritschButland
		err = p.Fit(xs, ys)
		l.curve = &p
	}
	return l, err
}

// held fits a shape parameter: a monotone cubic whose slope is zero at the
// first and the last station, so that the values held beyond them join
// without a kink in the surface.
func held(xs, ys []float64) *line {
	l := &line{xs: xs, ys: ys}
	if len(xs) < 2 {
		return l
	}
	slopes := make([]float64, len(xs))
	for i := 1; i+1 < len(xs); i++ {
		h0, h1 := xs[i]-xs[i-1], xs[i+1]-xs[i]
		d0, d1 := (ys[i]-ys[i-1])/h0, (ys[i+1]-ys[i])/h1
		if d0*d1 > 0 {
			// Weighted harmonic mean, Fritsch and Butland 1984.
			w0, w1 := h0+2*h1, 2*h0+h1
			slopes[i] = (w0 + w1) / (w0/d0 + w1/d1)
		}
	}
	var p interp.PiecewiseCubic
	p.FitWithDerivatives(xs, ys, slopes)
	l.curve = &p
	return l
}

// at returns the value at x.
func (l *line) at(x float64) float64 {
	last := len(l.xs) - 1
	switch {
	case l.curve == nil:
		return l.ys[0]
	case x <= l.xs[0]:
		return l.beyond(x, 0)
	case x >= l.xs[last]:
		return l.beyond(x, last)
	}
	return l.curve.Predict(x)
}

// beyond continues the line from its end station i.
func (l *line) beyond(x float64, i int) float64 {
	if !l.extend {
		return l.ys[i]
	}
	return l.ys[i] + l.slope(l.xs[i])*(x-l.xs[i])
}

// slope returns the first derivative at x.
func (l *line) slope(x float64) float64 {
	last := len(l.xs) - 1
	switch {
	case l.curve == nil:
		return 0
	case x < l.xs[0] || x > l.xs[last]:
		if !l.extend {
			return 0
		}
		x = numeric.Clamp(x, l.xs[0], l.xs[last])
	}
	return l.curve.PredictDerivative(x)
}
