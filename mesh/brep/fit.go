package brep

import (
	"errors"
	"math"
	"slices"
)

// Fitter fits splines of one basis to values at set places, by least squares.
// The values at both ends are kept; so are the first derivatives there where
// it is told to.
type Fitter struct {
	basis  *Basis
	at     []float64
	first  []int
	w      [][4]float64
	lo, hi int          // the points lo to hi-1 are sought
	chol   [][4]float64 // of the normal equations, a band of rows
}

// NewFitter returns the fitter for values at rising places, the ends of the
// interval among them. Slopes tells whether the derivatives at the ends are
// given.
func NewFitter(basis *Basis, at []float64, slopes bool) (*Fitter, error) {
	f := &Fitter{basis: basis, at: at, lo: 1, hi: basis.Size() - 1}
	if slopes {
		f.lo, f.hi = 2, basis.Size()-2
	}
	n := max(f.hi-f.lo, 0)
	f.chol = make([][4]float64, n)
	for _, t := range at {
		first, w := basis.Weights(t)
		f.first, f.w = append(f.first, first), append(f.w, w)
		for a := range 4 {
			for b := range a + 1 {
				// Row i, column i - (a-b).
				if i, j := first+a-f.lo, first+b-f.lo; j >= 0 && i < n {
					f.chol[i][a-b] += float64(w[a] * w[b])
				}
			}
		}
	}
	for i := range f.chol {
		for k := min(i, degree); k >= 0; k-- {
			j := i - k
			sum := f.chol[i][k]
			for m := k + 1; m <= min(i, degree); m++ {
				// Columns left of j that both rows have.
				if m-k <= degree {
					sum -= float64(f.chol[i][m] * f.chol[j][m-k])
				}
			}
			if k > 0 {
				f.chol[i][k] = sum / f.chol[j][0]
				continue
			}
			if !(sum > 1e-13) {
				return nil, errors.New("a spline's fit has too few places for its points")
			}
			f.chol[i][0] = math.Sqrt(sum)
		}
	}
	return f, nil
}

// Fit returns the points of the spline through values, one for each place. The
// slopes at both ends count where the fitter was told of them.
func (f *Fitter) Fit(values []float64, slopes [2]float64) []float64 {
	size := f.basis.Size()
	out := make([]float64, size)
	out[0], out[size-1] = values[0], values[len(values)-1]
	if f.lo == 2 {
		k := f.basis.Knots
		out[1] = out[0] + slopes[0]*(k[degree+1]-k[degree])/degree
		out[size-2] = out[size-1] - slopes[1]*(k[size]-k[size-1])/degree
	}
	x := out[f.lo:max(f.hi, f.lo)]
	for i, first := range f.first {
		rest := values[i]
		for a, w := range f.w[i] {
			if p := first + a; p < f.lo || p >= f.hi {
				rest -= float64(w * out[p])
			}
		}
		for a, w := range f.w[i] {
			if p := first + a - f.lo; p >= 0 && p < len(x) {
				x[p] += float64(w * rest)
			}
		}
	}
	for i := range x {
		for k := 1; k <= min(i, degree); k++ {
			x[i] -= float64(f.chol[i][k] * x[i-k])
		}
		x[i] /= f.chol[i][0]
	}
	for i := len(x) - 1; i >= 0; i-- {
		for k := 1; k <= degree && i+k < len(x); k++ {
			x[i] -= float64(f.chol[i+k][k] * x[i+k])
		}
		x[i] /= f.chol[i][0]
	}
	return out
}

// Law is what splines are fitted to: several values that depend on one
// parameter.
type Law struct {
	From, To float64
	Breaks   []Break // where it may be less smooth; rising
	Longest  float64 // of spans
	Shortest float64 // what spans are not cut further from
	At       func(t float64) []float64
	Slopes   [2][]float64 // the derivatives at both ends, nil where they are free
}

// perSpan is how many places of each span a fit looks at.
const perSpan = 4

// Fitted is what a law was fitted by: splines of one basis, a list of points
// for each of its values.
type Fitted struct {
	Basis  *Basis
	Points [][]float64
	Miss   float64 // the greatest deviation at the places looked at
}

// Fit fits a law within a tolerance. It cuts spans in two where it does not fit
// until it does, or until they are as short as the law allows.
func (l *Law) Fit(tolerance float64) (*Fitted, error) {
	known := map[float64][]float64{}
	at := func(t float64) []float64 {
		v, ok := known[t]
		if !ok {
			v = l.At(t)
			known[t] = v
		}
		return v
	}
	breaks := l.initial()
	for {
		basis, err := NewBasis(l.From, l.To, breaks)
		if err != nil {
			return nil, err
		}
		out, missed, err := l.fitOn(basis, at, tolerance)
		if err != nil {
			return nil, err
		}
		cut := l.cuts(basis, missed)
		if len(cut) == 0 {
			return out, nil
		}
		breaks = append(breaks, cut...)
		slices.SortFunc(breaks, func(a, b Break) int {
			if a.At < b.At {
				return -1
			}
			return 1
		})
	}
}

// initial returns the breaks with others between, as the longest span asks for.
func (l *Law) initial() []Break {
	var out []Break
	last := l.From
	for _, k := range append(slices.Clone(l.Breaks), Break{l.To, 0}) {
		n := int(math.Ceil((k.At - last) / l.Longest))
		for i := 1; i < n; i++ {
			out = append(out, Break{last + (k.At-last)*float64(i)/float64(n), 1})
		}
		if k.Times > 0 {
			out = append(out, k)
		}
		last = k.At
	}
	return out
}

// cuts returns the middles of the spans that were missed and may be cut.
func (l *Law) cuts(basis *Basis, missed []bool) []Break {
	var out []Break
	spans := basis.Spans()
	for i, m := range missed {
		if a, b := spans[i], spans[i+1]; m && b-a > 2*l.Shortest {
			out = append(out, Break{(a + b) / 2, 1})
		}
	}
	return out
}

// Places returns where a fit looks at its spans.
func (b *Basis) Places() []float64 {
	spans := b.Spans()
	var out []float64
	for i := 0; i+1 < len(spans); i++ {
		for j := range perSpan {
			out = append(out, spans[i]+(spans[i+1]-spans[i])*float64(j)/perSpan)
		}
	}
	return append(out, spans[len(spans)-1])
}

// fitOn fits a law by the splines of a basis, and tells which spans it misses by
// more than the tolerance.
func (l *Law) fitOn(basis *Basis, at func(float64) []float64, tolerance float64) (*Fitted, []bool, error) {
	places := basis.Places()
	fitter, err := NewFitter(basis, places, l.Slopes[0] != nil)
	if err != nil {
		return nil, nil, err
	}
	rows := make([][]float64, len(places))
	for i, t := range places {
		rows[i] = at(t)
	}
	out := &Fitted{Basis: basis}
	missed := make([]bool, (len(places)-1)/perSpan)
	values := make([]float64, len(places))
	for k := range rows[0] {
		for i := range rows {
			values[i] = rows[i][k]
		}
		var slopes [2]float64
		if l.Slopes[0] != nil {
			slopes = [2]float64{l.Slopes[0][k], l.Slopes[1][k]}
		}
		points := fitter.Fit(values, slopes)
		out.Points = append(out.Points, points)
		for i := range values {
			miss := math.Abs(fitter.value(points, i) - values[i])
			out.Miss = math.Max(out.Miss, miss)
			if miss > tolerance {
				if s := i / perSpan; s < len(missed) {
					missed[s] = true
				}
			}
		}
	}
	return out, missed, nil
}

// value returns the value of a spline at place i.
func (f *Fitter) value(points []float64, i int) float64 {
	sum := 0.0
	for a, w := range f.w[i] {
		sum += float64(w * points[f.first[i]+a])
	}
	return sum
}
