package fit

import (
	"math"
	"slices"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// huberK is where Huber's loss turns from square to linear, in standard
// deviations: 95 % efficiency with normal errors (Huber 1981, Robust
// Statistics).
const huberK = 1.345

// huber minimises Huber's loss by least squares with weights renewed from the
// residuals, whose scale is taken from their median. It returns the scale too.
func huber(f leastSquares, p []float64, residuals int) (*solution, float64, error) {
	w := make([]float64, residuals)
	for i := range w {
		w[i] = 1
	}
	var s *solution
	var err error
	scale := 0.0
	for range 30 {
		// The weights move with every step: there is no use in many steps
		// between.
		if s, err = minimise(f, p, residuals, w, 1e-4, 3); err != nil {
			return nil, 0, err
		}
		p = s.p
		scale = medianScale(s.r, len(p))
		change := 0.0
		for i, r := range s.r {
			k := 1.0
			if a := math.Abs(r); a > huberK*scale {
				k = huberK * scale / a
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

// medianScale returns the standard deviation of normal residuals with this
// median size, with n parameters taken from them. It is not less than a
// thousandth, for readings that fit exactly.
func medianScale(r []float64, n int) float64 {
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

// fine is the gain at which a fit is done: it is a small share of a standard
// deviation that the parameters then still move by. One that is only to be
// compared with another ends at rough.
const (
	fine  = 1e-9
	rough = 1e-5
)

// outlierLevel is the chance that a set of good readings loses one.
const outlierLevel = 0.01

// estimate is a fit of the readings that belong together.
type estimate struct {
	*solution
	covariance *mat.SymDense // of the parameters for a scale of 1; nil where there is none
	scale      float64       // standard deviation of the residuals, in units of the readings' own
	dof        int
	dropped    []bool // readings that do not belong
	bound      []bool // numbers that ran to the end of what is sought, of which nothing is known
	known      bool   // the scale is the readings' own: too few are left over to estimate it
}

// leastScaleDOF is the number of readings to spare below which their scatter
// says nothing, and the standard deviations that they came with are used.
const leastScaleDOF = 3

// robustFit fits p to all residuals that belong together. Those that stand out
// from a fit by Huber's loss are left out one by one, and stay out only if the
// fit to the rest leaves no room for them: their deviation from it, over its
// standard error, exceeds Student's t at outlierLevel over the number of
// readings (the deleted residual of Belsley, Kuh and Welsch 1980, with
// Bonferroni's allowance). The remaining ones are fitted by plain least
// squares.
//
// With search set, those that drew the fit toward themselves are sought too: a
// reading that is alone of its kind stands out from no fit that has it. Those
// with the largest deleted residuals are left out, one by one (estimate.odd),
// and judged by a fit without them all.
func robustFit(f leastSquares, p []float64, residuals int, search bool) (*estimate, error) {
	first, scale, err := huber(f, p, residuals)
	if err != nil {
		return nil, err
	}
	var suspects []int
	for i, r := range first.r {
		if math.Abs(r) > 3*scale {
			suspects = append(suspects, i)
		}
	}
	sort.SliceStable(suspects, func(a, b int) bool {
		return math.Abs(first.r[suspects[a]]) > math.Abs(first.r[suspects[b]])
	})
	most := max(1, residuals/10)
	suspects = suspects[:min(len(suspects), most)]
	e, err := convict(f, first.p, residuals, suspects)
	if err != nil || !search {
		return e, err
	}
	for most > 0 {
		more := e.odd(most)
		if len(more) == 0 {
			break
		}
		var out []int
		for k, d := range e.dropped {
			if d {
				out = append(out, k)
			}
		}
		next, err := convict(f, e.p, residuals, append(out, more...))
		if err != nil {
			return nil, err
		}
		if !slices.ContainsFunc(more, func(i int) bool { return next.dropped[i] }) {
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
func (e *estimate) odd(most int) []int {
	var out []int
	for c := e; len(out) < most && c.dof-1 >= leastScaleDOF; {
		i, t := c.oddest()
		if i < 0 || t <= c.limit(c.dof-1) || c.twin(i) >= 0 {
			break
		}
		out = append(out, i)
		c = c.deletion(i)
	}
	return out
}

// deletion returns the estimate without reading i, exact where the model is
// linear in its parameters: with j the row of i in the derivatives, C the
// inverse of the normal equations and h = jᵀCj, they lose jjᵀ, their inverse
// gains Cjjᵀ C/(1-h) (Sherman and Morrison 1950), the parameters move by
// C j r/(1-h) and the sum of squares falls by r²/(1-h).
func (e *estimate) deletion(i int) *estimate {
	n := len(e.p)
	cj := make([]float64, n)
	for a, v := range e.j.RawRowView(i) {
		for b := range n {
			cj[b] += v * e.covariance.At(a, b)
		}
	}
	free := 1 - e.common(i, i)
	step := e.r[i] / free
	d := *e
	s := *e.solution
	d.solution = &s
	s.p, s.r = slices.Clone(e.p), slices.Clone(e.r)
	d.dropped = slices.Clone(e.dropped)
	d.dropped[i] = true
	d.covariance = mat.NewSymDense(n, nil)
	for a := range n {
		s.p[a] += cj[a] * step
		for b := a; b < n; b++ {
			d.covariance.SetSym(a, b, e.covariance.At(a, b)+cj[a]*cj[b]/free)
		}
	}
	for k := range s.r {
		for a, v := range e.j.RawRowView(k) {
			s.r[k] += v * cj[a] * step
		}
	}
	s.cost = math.Max(e.cost-e.r[i]*step, 0)
	d.dof--
	if !d.known {
		d.scale = math.Sqrt(s.cost / float64(d.dof))
	}
	return &d
}

// convict leaves out those suspects that do not belong to the rest.
func convict(f leastSquares, p []float64, residuals int, suspects []int) (*estimate, error) {
	gain := rough // which tells the suspects; the last fit is a fine one
	for {
		if len(suspects) == 0 {
			gain = fine
		}
		e, err := fitWithout(f, p, residuals, suspects, gain)
		if err != nil {
			return nil, err
		}
		if len(suspects) == 0 {
			return e, nil
		}
		p = e.p
		if e.covariance == nil || e.dof < leastScaleDOF {
			// Without the last suspect there would be too little left.
			suspects = suspects[:len(suspects)-1]
			continue
		}
		limit := e.limit(e.dof)
		var out []int
		for _, i := range suspects {
			row := mat.NewVecDense(len(e.p), e.j.RawRowView(i))
			spread := e.scale * math.Sqrt(1+mat.Inner(row, e.covariance, row))
			if math.Abs(e.r[i]) > limit*math.Max(spread, 1e-9) {
				out = append(out, i)
			}
		}
		switch {
		case len(out) < len(suspects):
			suspects = out
		case gain == rough:
			gain = fine
		default:
			return e, nil
		}
	}
}

// fitWithout is the least squares fit with some readings left out.
func fitWithout(f leastSquares, p []float64, residuals int, out []int, gain float64) (*estimate, error) {
	e := &estimate{dropped: make([]bool, residuals)}
	w := make([]float64, residuals)
	for i := range w {
		w[i] = 1
	}
	for _, i := range out {
		w[i], e.dropped[i] = 0, true
	}
	var err error
	if e.solution, err = minimise(f, p, residuals, w, gain, 100); err != nil {
		return nil, err
	}
	e.dof = residuals - len(out) - len(p)
	e.scale, e.known = 1, true
	if e.dof >= leastScaleDOF {
		e.scale, e.known = math.Sqrt(e.cost/float64(e.dof)), false
	}
	if len(p) > 0 {
		e.bound = make([]bool, len(p))
		if b, ok := f.(bounded); ok {
			for k := range e.bound {
				e.bound[k] = b.atBound(k, e.p[k])
			}
		}
		e.covariance, _ = inverseFree(e.j, w, e.bound)
	}
	return e, nil
}

// bounded is a problem some of whose parameters stay within bounds.
type bounded interface {
	// atBound reports whether p is the lowest or highest of parameter k.
	atBound(k int, p float64) bool
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

// limit returns the deleted residual, in its standard errors, that one of a set
// of good readings exceeds with the chance outlierLevel.
func (e *estimate) limit(dof int) float64 {
	if dof < 1 {
		return math.Inf(1)
	}
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(dof)}
	return t.Quantile(1 - outlierLevel/2/float64(len(e.r)))
}

// common returns the element of the hat matrix J (JᵀWJ)⁻¹ Jᵀ for two readings:
// how much the one draws what is fitted to the other.
func (e *estimate) common(i, k int) float64 {
	sum := 0.0
	c, other := e.covariance.RawSymmetric(), e.j.RawRowView(k)
	for a, u := range e.j.RawRowView(i) {
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

// deleted returns how far reading i lies from the fit to the others, in its own
// standard deviations, and the same over the standard errors: of the scatter as
// it came out without the reading (Student's t), and of the readings' own
// standard deviations. It is false where the others do not tell.
func (e *estimate) deleted(i int) (off, student, own float64, ok bool) {
	if e.covariance == nil || e.dropped[i] {
		return 0, 0, 0, false
	}
	free := 1 - e.common(i, i)
	if free < leastFree {
		return 0, 0, 0, false
	}
	off, own = e.r[i]/free, e.r[i]/math.Sqrt(free)
	student = own
	if e.dof > 1 {
		rest := math.Max(e.cost-e.r[i]*e.r[i]/free, 1e-18*e.cost+1e-300) / float64(e.dof-1)
		student = own / math.Sqrt(rest)
	}
	return off, student, own, true
}

// oddest returns the reading with the largest deleted residual, and that.
func (e *estimate) oddest() (i int, t float64) {
	i = -1
	for k := range e.r {
		if _, s, _, ok := e.deleted(k); ok && (i < 0 || math.Abs(s) > t) {
			i, t = k, math.Abs(s)
		}
	}
	return i, t
}

// twin returns a reading that a bad reading i cannot be told from, since either
// of them being off leaves the same residuals, or -1.
func (e *estimate) twin(i int) int {
	const alike = 0.97 // correlation of the residuals
	twin, most := -1, alike
	free := 1 - e.common(i, i)
	for k := range e.r {
		if k == i || e.dropped[k] {
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

// half returns the half width of the 95 % range of parameter i, NaN where it ran
// to a bound.
func (e *estimate) half(i int) float64 {
	if e.bound[i] {
		return math.NaN()
	}
	if e.covariance == nil {
		return math.Inf(1)
	}
	q := distuv.UnitNormal.Quantile(0.975)
	if !e.known {
		q = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(e.dof)}.Quantile(0.975)
	}
	return q * e.scale * math.Sqrt(e.covariance.At(i, i))
}
