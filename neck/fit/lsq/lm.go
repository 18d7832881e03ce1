package lsq

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Problem is a sum of squares to minimise. Residuals writes the residuals
// at p and reports whether p is allowed. Jacobian writes their derivatives, one
// row a residual, at the p of the last allowed call of residuals.
type Problem interface {
	Residuals(p, r []float64) bool
	Jacobian(p []float64, j *mat.Dense)
}

// Solution is where minimise ended.
type Solution struct {
	P, R       []float64
	J          *mat.Dense // without weights; nil where there is no parameter
	Cost       float64    // Σ w r²
	iterations int
}

var ErrStart = errors.New("the starting values make no neck")

// minimise finds the p that minimises Σ w r(p)² from the start p, by the
// method of Levenberg (1944) and Marquardt (1963): Gauss and Newton's step,
// damped along the diagonal of the normal equations (Marquardt's scaling),
// with the damping raised after a step that failed and lowered after one that
// helped. A nil w is one of ones. It ends when a step lowers the cost by less
// than the share `gain` of it, or after `most` steps.
func minimise(f Problem, p []float64, residuals int, w []float64, gain float64, most int) (*Solution, error) {
	const small = 1e-12 // relative change of a parameter
	n := len(p)
	s := &Solution{P: append([]float64(nil), p...), R: make([]float64, residuals)}
	if !f.Residuals(s.P, s.R) {
		return nil, ErrStart
	}
	s.Cost = SumSquares(s.R, w)
	if n == 0 {
		return s, nil
	}
	s.J = mat.NewDense(residuals, n, nil)
	f.Jacobian(s.P, s.J)
	normal, gradient := normalEquations(s.J, s.R, w)
	lambda := 1e-3
	trial, r := make([]float64, n), make([]float64, residuals)
	damped := mat.NewSymDense(n, nil)
	var chol mat.Cholesky
	var step mat.VecDense
	for s.iterations = 0; s.iterations < most && lambda < 1e14; s.iterations++ {
		damped.CopySym(normal)
		for i := range n {
			d := normal.At(i, i)
			damped.SetSym(i, i, d+lambda*math.Max(d, 1e-30))
		}
		if !chol.Factorize(damped) || chol.SolveVecTo(&step, gradient) != nil {
			lambda *= 10
			continue
		}
		largest := 0.0
		for i := range n {
			d := step.AtVec(i)
			trial[i] = s.P[i] - d
			largest = math.Max(largest, math.Abs(d)/(math.Abs(s.P[i])+1e-9))
		}
		if !f.Residuals(trial, r) {
			lambda *= 10
			continue
		}
		cost := SumSquares(r, w)
		if !(cost <= s.Cost) {
			if largest < small {
				break
			}
			lambda *= 10
			continue
		}
		won := s.Cost - cost
		copy(s.P, trial)
		copy(s.R, r)
		s.Cost = cost
		f.Jacobian(s.P, s.J)
		if won <= gain*cost || largest < small {
			break
		}
		normal, gradient = normalEquations(s.J, s.R, w)
		lambda = math.Max(lambda/10, 1e-12)
	}
	return s, nil
}

// SumSquares returns Σ w r².
func SumSquares(r, w []float64) float64 {
	sum := 0.0
	for i, v := range r {
		if w == nil {
			sum += v * v
		} else if w[i] > 0 {
			sum += w[i] * v * v
		}
	}
	return sum
}

// normalEquations returns JᵀWJ and JᵀWr.
func normalEquations(j *mat.Dense, r, w []float64) (*mat.SymDense, *mat.VecDense) {
	m, n := j.Dims()
	a := make([]float64, n*n)
	b := make([]float64, n)
	for i := range m {
		k := 1.0
		if w != nil {
			k = w[i]
		}
		if k == 0 {
			continue
		}
		row := j.RawRowView(i)
		for p, v := range row {
			if v == 0 {
				continue
			}
			v *= k
			b[p] += v * r[i]
			for q := p; q < n; q++ {
				a[p*n+q] += v * row[q]
			}
		}
	}
	return mat.NewSymDense(n, a), mat.NewVecDense(n, b)
}

// inverseNormal returns (JᵀWJ)⁻¹, and false where the readings leave some
// combination of the parameters open: the columns of J, scaled to length 1,
// depend on each other.
func inverseNormal(j *mat.Dense, w []float64) (*mat.SymDense, bool) {
	m, n := j.Dims()
	normal, _ := normalEquations(j, make([]float64, m), w)
	scale := make([]float64, n)
	for i := range n {
		scale[i] = math.Sqrt(normal.At(i, i))
		if !(scale[i] > 1e-12) {
			return nil, false
		}
	}
	for i := range n {
		for k := i; k < n; k++ {
			normal.SetSym(i, k, normal.At(i, k)/scale[i]/scale[k])
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(normal) || chol.Cond() > 1e12 {
		return nil, false
	}
	inverse := mat.NewSymDense(n, nil)
	if chol.InverseTo(inverse) != nil {
		return nil, false
	}
	for i := range n {
		for k := i; k < n; k++ {
			inverse.SetSym(i, k, inverse.At(i, k)/scale[i]/scale[k])
		}
	}
	return inverse, true
}
