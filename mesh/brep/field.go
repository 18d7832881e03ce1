package brep

// Field is a function of two parameters that a patch is fitted to, such as the
// heights of a floor.
type Field struct {
	At       func(u, v float64) float64
	U0, U1   float64
	V0, V1   float64
	Longest  [2]float64 // of spans in u and in v
	Shortest [2]float64 // what spans are not cut further from
	Rows     int        // how many times u is parted to find the knots in v
}

// Fit fits the field within a tolerance. It returns a basis for each parameter, and
// the values of the control points by v and u. Fitting across and along are one
// after the other, so that where the field is of degree three in one of the two, the
// spans of the other do not multiply.
func (f *Field) Fit(tolerance float64) (u, v *Basis, points [][]float64, err error) {
	across := Law{From: f.V0, To: f.V1, Longest: f.Longest[1], Shortest: f.Shortest[1], At: func(t float64) []float64 {
		var out []float64
		for i := range f.Rows + 1 {
			out = append(out, f.At(f.U0+(f.U1-f.U0)*float64(i)/float64(f.Rows), t))
		}
		return out
	}}
	fitted, err := across.Fit(tolerance)
	if err != nil {
		return nil, nil, nil, err
	}
	v = fitted.Basis
	fitter, err := NewFitter(v, v.Places(), false)
	if err != nil {
		return nil, nil, nil, err
	}
	along := Law{From: f.U0, To: f.U1, Longest: f.Longest[0], Shortest: f.Shortest[0], At: func(t float64) []float64 {
		var out []float64
		for _, p := range v.Places() {
			out = append(out, f.At(t, p))
		}
		return fitter.Fit(out, [2]float64{})
	}}
	if fitted, err = along.Fit(tolerance); err != nil {
		return nil, nil, nil, err
	}
	return fitted.Basis, v, fitted.Points, nil
}
