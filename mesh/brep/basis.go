package brep

import (
	"fmt"
	"slices"
)

// degree of all splines here: cubic.
const degree = 3

// Basis is the basis of cubic B-splines over an interval: clamped, so that a
// spline begins at its first point and ends at its last.
type Basis struct {
	Knots []float64 // rising, each end four times
}

// Break is a place between spans, where a spline may be less smooth: with Times
// 1 its second derivative is continuous, with 2 its first, with 3 its value.
type Break struct {
	At    float64
	Times int
}

// NewBasis returns the basis from a to b with the given breaks between, which
// rise.
func NewBasis(a, b float64, breaks []Break) (*Basis, error) {
	knots := []float64{a, a, a, a}
	last := a
	for _, k := range append(slices.Clone(breaks), Break{b, degree + 1}) {
		if !(k.At > last) {
			return nil, fmt.Errorf("a break at %g after one at %g: breaks must rise", k.At, last)
		}
		if k.Times < 1 || k.Times > degree && k.At != b {
			return nil, fmt.Errorf("a break at %g that counts %d times; allowed: 1 to %d", k.At, k.Times, degree)
		}
		for range k.Times {
			knots = append(knots, k.At)
		}
		last = k.At
	}
	return &Basis{knots}, nil
}

// Size returns the number of points that a spline has.
func (b *Basis) Size() int { return len(b.Knots) - degree - 1 }

// Ends returns the interval.
func (b *Basis) Ends() (from, to float64) { return b.Knots[0], b.Knots[len(b.Knots)-1] }

// Spans returns the places where spans begin and end, each once.
func (b *Basis) Spans() []float64 { return slices.Compact(slices.Clone(b.Knots)) }

// span returns i such that t lies in [Knots[i], Knots[i+1]), the last span closed.
func (b *Basis) span(t float64) int {
	lo, hi := degree, b.Size()
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; t < b.Knots[mid] {
			hi = mid
		} else {
			lo = mid
		}
	}
	return lo
}

// Weights returns the index of the first of four points that count at t, and
// their weights (Cox and de Boor's recurrence).
func (b *Basis) Weights(t float64) (first int, w [4]float64) {
	i := b.span(t)
	w[0] = 1
	for j := 1; j <= degree; j++ {
		saved := 0.0
		for r := range j {
			right, left := b.Knots[i+r+1], b.Knots[i+1-j+r]
			k := w[r] / (right - left)
			w[r] = saved + (right-t)*k
			saved = (t - left) * k
		}
		w[j] = saved
	}
	return i - degree, w
}

// Slopes returns the weights' first derivatives at t besides the weights.
func (b *Basis) Slopes(t float64) (first int, w, d [4]float64) {
	first, w = b.Weights(t)
	i := first + degree
	// The quadratic basis, of which the derivative is made.
	var q [3]float64
	q[0] = 1
	for j := 1; j < degree; j++ {
		saved := 0.0
		for r := range j {
			right, left := b.Knots[i+r+1], b.Knots[i+1-j+r]
			k := q[r] / (right - left)
			q[r] = saved + (right-t)*k
			saved = (t - left) * k
		}
		q[j] = saved
	}
	for r := range 4 {
		if r > 0 {
			d[r] += degree * q[r-1] / (b.Knots[i+r] - b.Knots[i+r-degree])
		}
		if r < 3 {
			d[r] -= degree * q[r] / (b.Knots[i+r+1] - b.Knots[i+r+1-degree])
		}
	}
	return first, w, d
}

// Linear returns the points of the spline that is its own parameter: the means
// of three knots each (Greville's abscissae).
func (b *Basis) Linear() []float64 {
	out := make([]float64, b.Size())
	for i := range out {
		out[i] = (b.Knots[i+1] + b.Knots[i+2] + b.Knots[i+3]) / degree
	}
	return out
}
