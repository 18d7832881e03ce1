package lsq

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// HuberK is where Huber's loss turns from square to linear, in standard
// deviations: 95 % efficiency with normal errors (Huber 1981, Robust
// Statistics).
const HuberK = 1.345

// Huber minimises Huber's loss by least squares with weights renewed from the
// residuals, whose scale is taken from their median. It returns the scale too.
func Huber(f Problem, p []float64, residuals int) (*Solution, float64, error) {
	w := make([]float64, residuals)
	for i := range w {
		w[i] = 1
	}
	var s *Solution
	var err error
	scale := 0.0
	for range 30 {
		// The weights move with every step: there is no use in many steps
		// between.
		if s, err = minimise(f, p, residuals, w, 1e-4, 3); err != nil {
			return nil, 0, err
		}
		p = s.P
		scale = MedianScale(s.R, len(p))
		change := 0.0
		for i, r := range s.R {
			k := 1.0
			if a := math.Abs(r); a > HuberK*scale {
				k = HuberK * scale / a
			}
			change = math.Max(change, math.Abs(k-w[i]))
			w[i] = k
		}
		if change < 0.02 {
			break
		}
	}
	return s, scale, nil
}

// MedianScale returns the standard deviation of normal residuals with this
// median size, with n parameters taken from them. It is not less than a
// thousandth, for readings that fit exactly.
func MedianScale(r []float64, n int) float64 {
	sizes := make([]float64, 0, len(r))
	for _, v := range r {
		sizes = append(sizes, math.Abs(v))
	}
	sort.Float64s(sizes)
	// The fit takes up n of the residuals, which then are all but 0.
	sizes = sizes[min(n, max(0, len(sizes)-1)):]
	if len(sizes) == 0 {
		return 1e-3
	}
	median := sizes[len(sizes)/2]
	if len(sizes)%2 == 0 {
		median = (median + sizes[len(sizes)/2-1]) / 2
	}
	return math.Max(median/0.6745, 1e-3)
}

// Fine is the gain at which a fit is done: it is a small share of a standard
// deviation that the parameters then still move by. One that is only to be
// compared with another ends at rough.
const (
	Fine  = 1e-9
	Rough = 1e-5
)

// OutlierLevel is the chance that a set of good readings loses one.
const OutlierLevel = 0.01

// Estimate is a fit of the readings that belong together.
type Estimate struct {
	*Solution
	Covariance *mat.SymDense // of the parameters for a scale of 1; nil where there is none
	Scale      float64       // standard deviation of the residuals, in units of the readings' own
	Dof        int
	Dropped    []bool // readings that do not belong
	Bound      []bool // numbers that ran to the end of what is sought, of which nothing is known
	Known      bool   // the scale is the readings' own: too few are to spare to estimate it
}

// LeastScaleDOF is the number of readings to spare below which their scatter
// says nothing, and the standard deviations that they came with are used.
const LeastScaleDOF = 3

// RobustFit fits p to all residuals that belong together. Those that stand out
// from a fit by Huber's loss are left out one by one, and stay out only if the
// fit to the rest leaves no room for them: their deviation from it, over its
// standard error, exceeds Student's t at outlierLevel over the number of
// readings (the deleted residual of Belsley, Kuh and Welsch 1980, with
// Bonferroni's allowance). The remaining ones are fitted by plain least
// squares.
//
// With search set, those that drew the fit towards themselves are sought too: a
// reading that is alone of its kind stands out from no fit that has it. Those
// with the largest deleted residuals are left out, one by one (estimate.odd),
// and judged by a fit without them all.
func RobustFit(f Problem, p []float64, residuals int, search bool) (*Estimate, error) {
	first, scale, err := Huber(f, p, residuals)
	if err != nil {
		return nil, err
	}
	var suspects []int
	for i, r := range first.R {
		if math.Abs(r) > 3*scale {
			suspects = append(suspects, i)
		}
	}
	sort.SliceStable(suspects, func(a, b int) bool {
		return math.Abs(first.R[suspects[a]]) > math.Abs(first.R[suspects[b]])
	})
	most := max(1, residuals/10)
	suspects = suspects[:min(len(suspects), most)]
	e, err := convict(f, first.P, residuals, suspects)
	if err != nil || !search {
		return e, err
	}
	for most > 0 {
		more := e.odd(most)
		if len(more) == 0 {
			break
		}
		var out []int
		for k, d := range e.Dropped {
			if d {
				out = append(out, k)
			}
		}
		next, err := convict(f, e.P, residuals, append(out, more...))
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(more, func(i int) bool { return next.Dropped[i] }) {
			break
		}
		e, most = next, most-len(more)
	}
	return e, nil
}

// odd returns up to `most` readings that stand out from what the others make of
// them, the oddest first and each as the rest without those before it has it.
// It follows the fit along its derivatives (deletion), which costs a thousandth
// of another fit for each.
func (e *Estimate) odd(most int) []int {
	var out []int
	for c := e; len(out) < most && c.Dof-1 >= LeastScaleDOF; {
		i, t := c.oddest()
		if i < 0 || t <= c.Limit(c.Dof-1) || c.Twin(i) >= 0 {
			break
		}
		out = append(out, i)
		c = c.Deletion(i)
	}
	return out
}

// Deletion returns the estimate without reading i, exact where the model is
// linear in its parameters: with j the row of i in the derivatives, C the
// inverse of the normal equations and h = jᵀCj, they lose jjᵀ, their inverse
// gains Cjjᵀ C/(1-h) (Sherman and Morrison 1950), the parameters move by
// C j r/(1-h) and the sum of squares falls by r²/(1-h).
func (e *Estimate) Deletion(i int) *Estimate {
	n := len(e.P)
	cj := make([]float64, n)
	for a, v := range e.J.RawRowView(i) {
		for b := range n {
			cj[b] += v * e.Covariance.At(a, b)
		}
	}
	free := 1 - e.common(i, i)
	step := e.R[i] / free
	d := *e
	s := *e.Solution
	d.Solution = &s
	s.P, s.R = slices.Clone(e.P), slices.Clone(e.R)
	d.Dropped = slices.Clone(e.Dropped)
	d.Dropped[i] = true
	d.Covariance = mat.NewSymDense(n, nil)
	for a := range n {
		s.P[a] += cj[a] * step
		for b := a; b < n; b++ {
			d.Covariance.SetSym(a, b, e.Covariance.At(a, b)+cj[a]*cj[b]/free)
		}
	}
	for k := range s.R {
		for a, v := range e.J.RawRowView(k) {
			s.R[k] += v * cj[a] * step
		}
	}
	s.Cost = math.Max(e.Cost-e.R[i]*step, 0)
	d.Dof--
	if !d.Known {
		d.Scale = math.Sqrt(s.Cost / float64(d.Dof))
	}
	return &d
}

// convict leaves out those suspects that do not belong to the rest.
func convict(f Problem, p []float64, residuals int, suspects []int) (*Estimate, error) {
	gain := Rough // which tells the suspects; the last fit is a fine one
	for {
		if len(suspects) == 0 {
			gain = Fine
		}
		e, err := FitWithout(f, p, residuals, suspects, gain)
		if err != nil {
			return nil, err
		}
		if len(suspects) == 0 {
			return e, nil
		}
		p = e.P
		if e.Covariance == nil || e.Dof < LeastScaleDOF {
			// Without the last suspect there would be too little left.
			suspects = suspects[:len(suspects)-1]
			continue
		}
		limit := e.Limit(e.Dof)
		var out []int
		for _, i := range suspects {
			row := mat.NewVecDense(len(e.P), e.J.RawRowView(i))
			spread := e.Scale * math.Sqrt(1+mat.Inner(row, e.Covariance, row))
			if math.Abs(e.R[i]) > limit*math.Max(spread, 1e-9) {
				out = append(out, i)
			}
		}
		switch {
		case len(out) < len(suspects):
			suspects = out
		case gain == Rough:
			gain = Fine
		default:
			return e, nil
		}
	}
}

// FitWithout is the least squares fit with some readings left out.
func FitWithout(f Problem, p []float64, residuals int, out []int, gain float64) (*Estimate, error) {
	e := &Estimate{Dropped: make([]bool, residuals)}
	w := make([]float64, residuals)
	for i := range w {
		w[i] = 1
	}
	for _, i := range out {
		w[i], e.Dropped[i] = 0, true
	}
	var err error
	if e.Solution, err = minimise(f, p, residuals, w, gain, 100); err != nil {
		return nil, err
	}
	e.Dof = residuals - len(out) - len(p)
	e.Scale, e.Known = 1, true
	if e.Dof >= LeastScaleDOF {
		e.Scale, e.Known = math.Sqrt(e.Cost/float64(e.Dof)), false
	}
	if len(p) > 0 {
		e.Bound = make([]bool, len(p))
		if b, ok := f.(Bounded); ok {
			for k := range e.Bound {
				e.Bound[k] = b.AtBound(k, e.P[k])
			}
		}
		e.Covariance, _ = inverseFree(e.J, w, e.Bound)
	}
	return e, nil
}

// Bounded is a problem some of whose parameters stay within bounds.
type Bounded interface {
	// AtBound reports whether p is the lowest or highest of parameter k.
	AtBound(k int, p float64) bool
}

// inverseFree is inverseNormal for the parameters that are not at a bound; the
// others have rows and columns of zeros.
func inverseFree(j *mat.Dense, w []float64, bound []bool) (*mat.SymDense, bool) {
	var free []int
	for k, b := range bound {
		if !b {
			free = append(free, k)
		}
	}
	if len(free) == len(bound) || len(free) == 0 {
		return inverseNormal(j, w)
	}
	m, _ := j.Dims()
	part := mat.NewDense(m, len(free), nil)
	for i := range m {
		for a, k := range free {
			part.Set(i, a, j.At(i, k))
		}
	}
	c, ok := inverseNormal(part, w)
	if !ok {
		return nil, false
	}
	out := mat.NewSymDense(len(bound), nil)
	for a, k := range free {
		for b, l := range free[:a+1] {
			out.SetSym(k, l, c.At(a, b))
		}
	}
	return out, true
}

// Limit returns the deleted residual, in its standard errors, that one of a set
// of good readings exceeds with the chance outlierLevel.
func (e *Estimate) Limit(dof int) float64 {
	if dof < 1 {
		return math.Inf(1)
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(dof)}
	return t.Quantile(1 - OutlierLevel/2/float64(len(e.R)))
}

// common returns the element of the hat matrix J (JᵀWJ)⁻¹ Jᵀ for two readings:
// how much the one draws what is fitted to the other.
func (e *Estimate) common(i, k int) float64 {
	sum := 0.0
	c, other := e.Covariance.RawSymmetric(), e.J.RawRowView(k)
	for a, u := range e.J.RawRowView(i) {
		if u == 0 {
			continue
		}
		for b, v := range other {
			sum += u * v * c.Data[min(a, b)*c.Stride+max(a, b)]
		}
	}
	return sum
}

// leastFree is the share of a reading that the others must be able to tell for
// it to be judged by them.
const leastFree = 1e-4

// Deleted returns how far reading i lies from the fit to the others, in its own
// standard deviations, and the same over the standard errors: of the scatter as
// it came out without the reading (Student's t), and of the readings' own
// standard deviations. It is false where the others do not tell.
func (e *Estimate) Deleted(i int) (off, student, own float64, ok bool) {
	if e.Covariance == nil || e.Dropped[i] {
		return 0, 0, 0, false
	}
	free := 1 - e.common(i, i)
	if free < leastFree {
		return 0, 0, 0, false
	}
	off, own = e.R[i]/free, e.R[i]/math.Sqrt(free)
	student = own
	if e.Dof > 1 {
		rest := math.Max(e.Cost-e.R[i]*e.R[i]/free, 1e-18*e.Cost+1e-300) / float64(e.Dof-1)
		student = own / math.Sqrt(rest)
	}
	return off, student, own, true
}

// oddest returns the reading with the largest deleted residual, and that.
func (e *Estimate) oddest() (i int, t float64) {
	i = -1
	for k := range e.R {
		if _, s, _, ok := e.Deleted(k); ok && (i < 0 || math.Abs(s) > t) {
			i, t = k, math.Abs(s)
		}
	}
	return i, t
}

// Twin returns a reading that a bad reading i cannot be told from, since either
// of them being off leaves the same residuals, or -1.
func (e *Estimate) Twin(i int) int {
	const alike = 0.97 // correlation of the residuals
	twin, most := -1, alike
	free := 1 - e.common(i, i)
	for k := range e.R {
		if k == i || e.Dropped[k] {
			continue
		}
		if f := 1 - e.common(k, k); f > leastFree {
			if c := math.Abs(e.common(i, k)) / math.Sqrt(free*f); c > most {
				twin, most = k, c
			}
		}
	}
	return twin
}

// Half returns the half width of the 95 % range of parameter i, NaN where it ran
// to a bound.
func (e *Estimate) Half(i int) float64 {
	if e.Bound[i] {
		return math.NaN()
	}
	if e.Covariance == nil {
		return math.Inf(1)
	}
	q := distuv.UnitNormal.Quantile(0.975)
	if !e.Known {
		q = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(e.Dof)}.Quantile(0.975)
	}
	return q * e.Scale * math.Sqrt(e.Covariance.At(i, i))
}
