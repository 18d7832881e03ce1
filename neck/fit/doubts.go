package fit

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"neckloft/neck/fit/lsq"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// outlier says which reading was left out.
func (p *plan) outlier(r Residual) string {
	text := fmt.Sprintf("line %d: %s was read as %s", r.Line, r.Label, p.spec.Units.Rounded(r.Value))
	if !math.IsNaN(r.Model) {
		text += fmt.Sprintf(" where the other readings make it %s", p.spec.Units.Rounded(r.Model))
	} else {
		text += ", outside of the neck that the other readings make"
	}
	text += ": left out as a bad reading. Measure it again."
	if !p.based && r.Placed && p.spec.X(r.At) > p.spec.FretX(13) {
		text += " If the heel begins before it, the reading may be right: the fit knows of no heel without a base spec."
	}
	return text
}

// hopelessScatter is how many times their instruments' usual scatter readings
// may have for a spec to be made of them at all.
const hopelessScatter = 5

// hopeless refuses readings that no neck comes near to, with the reasons that
// were found.
func (r *Result) hopeless(p *plan, reasons []string) error {
	if r.Assumed || p.opts.Pose {
		return nil // contradiction judges these, or Scan
	}
	sum := 0.0
	var worst *Residual
	size := func(q *Residual) float64 { return math.Abs(q.Off) / math.Max(q.Sigma, q.Kind.Sigma()) }
	for i := range r.Residuals {
		if q := &r.Residuals[i]; !q.Dropped {
			sum += size(q) * size(q)
			if worst == nil || size(q) > size(worst) {
				worst = q
			}
		}
	}
	scatter := math.Sqrt(sum / float64(r.DOF))
	if scatter < hopelessScatter {
		return nil
	}
	text := fmt.Sprintf("no neck comes near to these readings: they lie %.0f times as far off as such readings usually do, %s the farthest, by %s", scatter, worst.Label, p.spec.Units.Rounded(math.Abs(worst.Off)))
	if len(reasons) > 0 {
		text += "; " + strings.Join(reasons, " ")
	} else {
		text += "; look for a wrong unit, a wrong station, or depths of points that were not measured from the glue plane."
	}
	return spec.Problems{p.set.Problem(worst.Line, "%s", text)}
}

// shifts names the contours that lie as a whole deeper, or less deep, than the
// other readings make them: each by itself, and all together, as those measured
// from the board's face do.
func (p *plan) shifts(m *model, e *lsq.Estimate) []string {
	const (
		least = 0.4 // mm; less comes of a gauge's thickness or the like
		share = 0.3 // of the sum of squares that an offset must explain
	)
	if p.opts.Pose || e.Covariance == nil || e.Dof < lsq.LeastScaleDOF+1 {
		return nil
	}
	places := p.stations(readings.Point)
	limit := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(e.Dof - 1)}.Quantile(1 - lsq.OutlierLevel/2/float64(len(places)+1))
	best, most := "", 0.0
	try := func(what, those string, in func(i int) bool) {
		o := addOffset(m, e, in)
		if o.t > limit && o.gain > share && math.Abs(o.size) > least && o.gain > most {
			best, most = p.shifted(what, those, o.size), o.gain
		}
	}
	if len(places) > 1 {
		for _, at := range places {
			x := p.spec.X(at)
			try("the contour at "+p.label(at), "that contour", func(i int) bool { return math.Abs(m.xs[m.place[i]]-x) < 0.01 })
		}
	}
	try("all contours", "the contours", func(int) bool { return true })
	if best == "" {
		return nil
	}
	return []string{best}
}

// offset is one number more beside those that were fitted: some points all
// deeper by as much.
type offset struct {
	size float64 // mm
	t    float64 // Student's, of the added variable
	gain float64 // the share of the sum of squares that it explains
}

// addOffset tries an offset of the depths of some readings.
func addOffset(m *model, e *lsq.Estimate, in func(i int) bool) offset {
	const fewest = 4 // points
	rows, cols := e.J.Dims()
	var c2, cr float64
	n := 0
	jc := mat.NewVecDense(cols, nil)
	for i := range rows {
		q := m.readings[i]
		if q.Kind != readings.Point || e.Dropped[i] || !in(i) {
			continue
		}
		n++
		c := math.Sin(m.phi[i]) / q.Sigma
		c2, cr = c2+c*c, cr+c*e.R[i]
		for k := range cols {
			jc.SetVec(k, jc.AtVec(k)+e.J.At(i, k)*c)
		}
	}
	free := c2 - mat.Inner(jc, e.Covariance, jc)
	if n < fewest || !(free > 1e-3*c2) {
		return offset{}
	}
	won := math.Min(cr*cr/free, e.Cost*(1-1e-9))
	rest := (e.Cost - won) / float64(e.Dof-1)
	return offset{cr / free, math.Abs(cr) / math.Sqrt(free*rest), won / e.Cost}
}

// shifted says that contours lie off as a whole.
func (p *plan) shifted(what, those string, offset float64) string {
	const far = 3 // mm; the derivatives tell no figure for more
	way := "deeper"
	if offset < 0 {
		way = "less deep"
	}
	size := "about " + p.spec.Units.Rounded(math.Abs(offset))
	if math.Abs(offset) > far {
		size = "far"
	}
	return fmt.Sprintf("%s: the points there lie %s %s than the other readings make them, most by about the same. Measure %s again before you carve.", what, size, way, those)
}

// doubtStudent is the deleted residual, over its standard error as the rest
// scatter, below which a reading is not doubted although it lies farther off
// than its instrument should let it.
const doubtStudent = 2.8

// doubts names the reading that the others contradict most, or two, where they
// do but are too few or too scattered to convict it.
func (p *plan) doubts(m *model, e *lsq.Estimate) []string {
	if p.opts.Pose || e.Dof < 2 {
		return nil
	}
	// Few readings of a kind bear more of the fit each, and are allowed for by
	// themselves.
	const few = 3
	lone := 0
	for _, q := range m.readings {
		if p.set.Count(q.Kind) <= few {
			lone++
		}
	}
	chance := func(i int) float64 {
		n := len(e.R)
		if p.set.Count(m.readings[i].Kind) <= few {
			n = lone
		}
		return distuv.UnitNormal.Quantile(1 - lsq.OutlierLevel/2/float64(n))
	}
	var odd []int
	student := func(i int) float64 {
		_, t, _, _ := e.Deleted(i)
		return math.Abs(t)
	}
	for i := range e.R {
		if _, _, own, ok := e.Deleted(i); ok && math.Abs(own) > chance(i) && student(i) > doubtStudent {
			odd = append(odd, i)
		}
	}
	if len(odd) == 0 {
		return nil
	}
	slices.SortStableFunc(odd, func(a, b int) int { return cmp.Compare(student(b), student(a)) })
	say := func(i int) string {
		q := m.readings[i]
		off, _, _, _ := e.Deleted(i)
		text := fmt.Sprintf("%s (line %d, %s)", p.set.Label(q), q.Line, p.spec.Units.Rounded(q.Value))
		if q.Kind == readings.Point {
			return text + fmt.Sprintf(" lies %s off the surface", p.spec.Units.Rounded(math.Abs(off*q.Sigma)))
		}
		return text + fmt.Sprintf(" would be %s", p.spec.Units.Rounded(math.Max(0, q.Value-off*q.Sigma)))
	}
	if twin := e.Twin(odd[0]); twin >= 0 {
		odd = []int{odd[0], twin}
	}
	if len(odd) > 1 {
		return []string{fmt.Sprintf("two readings do not go together with the others, which cannot tell which of them is off: by the rest %s, or else %s. Measure both again before you carve.", say(odd[0]), say(odd[1]))}
	}
	return []string{fmt.Sprintf("by the other readings %s. That is more than such a reading is usually off, but not enough to leave it out: measure it again before you carve.", say(odd[0]))}
}

// held says what was kept at its default although there are readings about it.
func (p *plan) held(c *candidate) []string {
	var out []string
	for _, key := range sortedKeys(c.weak) {
		out = append(out, fmt.Sprintf("%s: %s; kept at %s. %s", p.describe(c, key), c.weak[key], p.keptAt(c, key), p.advice(c, key)))
	}
	return out
}

func sortedKeys(m map[string]string) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}
