package lsq

import "gonum.org/v1/gonum/mat"

// LinearFit returns the coefficients by which rows, one after the other in a
// row of numbers, come nearest to values, by least squares; false where the
// rows do not tell them.
func LinearFit(rows, values []float64) (c []float64, ok bool) {
	n := len(values)
	var v mat.VecDense
	if v.SolveVec(mat.NewDense(n, len(rows)/n, rows), mat.NewVecDense(n, values)) != nil {
		return nil, false
	}
	return v.RawVector().Data, true
}
