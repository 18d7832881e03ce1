package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"

	"neckloft/neck"
	"neckloft/neck/fit/lsq"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// fit fits the readings with depth targets and profile stations at some places.
// It begins at the fit `from`, without the readings and the numbers that were
// given up there; with nil it finds out which do not belong.
func (p *plan) fit(targets, profiles []spec.Place, from *candidate) (*candidate, error) {
	c, taken := p.candidate(targets, profiles)
	m := c.model
	if len(m.params) == 0 {
		return nil, spec.Problems{{File: p.set.File, Message: "the readings determine nothing of the neck; measure totals at frets 1 and 12, widths, and a contour"}}
	}
	start := m.start()
	var dropped []bool
	gain := lsq.Fine
	if from != nil {
		if start = p.continued(m, from); start == nil {
			return nil, lsq.ErrStart
		}
		dropped, gain = from.estimate.Dropped, lsq.Rough
		c.keepHeld(from)
	}
	for {
		var err error
		if dropped == nil {
			c.estimate, err = lsq.RobustFit(m, start, taken, !p.opts.Pose)
		} else {
			c.estimate, err = lsq.FitWithout(m, start, taken, numbersOf(dropped), gain)
		}
		if err != nil {
			return nil, spec.Problems{{File: p.set.File, Message: fmt.Sprintf("the readings do not make a neck: %s; look for a wrong unit or a reading at the wrong station", err)}}
		}
		spare := c.atBound()
		if c.estimate.Covariance != nil && spare < 0 {
			dropped = c.estimate.Dropped
		}
		i, why := p.giveUp(m, c.estimate)
		if spare >= 0 {
			i, why = spare, "the readings do not determine it"
		}
		if i < 0 {
			c.thin = why != ""
			break
		}
		start = c.release(i, why)
	}
	m.lay(c.estimate.P)
	return c, nil
}

// candidate returns a model with depth targets and profile stations at some
// places, and the number of readings that it is fitted to.
func (p *plan) candidate(targets, profiles []spec.Place) (c *candidate, taken int) {
	sp := *p.spec
	sp.Depth = slices.Clone(sp.Depth)
	sp.Profile = slices.Clone(sp.Profile)
	var all []readings.Reading
	for _, r := range p.set.Readings {
		if r.Kind != readings.RadiusAt {
			all = append(all, r)
		}
	}
	m := newModel(&sp, all)
	p.addParams(m, targets, profiles)
	return &candidate{model: m, weak: make(map[string]string), held: make(map[string]bool)}, len(all)
}

// keepHeld gives up what another fit gave up, but for the profile, whose stations
// are others.
func (c *candidate) keepHeld(from *candidate) {
	for key := range from.held {
		if !strings.HasPrefix(key, "profile") {
			c.held[key], c.weak[key] = true, from.weak[key]
		}
	}
}

// atBound returns the parameter that ran to a bound and can best be spared, or
// -1.
func (c *candidate) atBound() int {
	spare := -1
	for i, q := range c.model.params {
		if c.estimate.Bound[i] && q.rank > 0 && (spare < 0 || q.rank > c.model.params[spare].rank) {
			spare = i
		}
	}
	return spare
}

// release gives parameter i up, sets it back to what is known without the
// readings, and returns where the others begin anew.
func (c *candidate) release(i int, why string) []float64 {
	m := c.model
	q := m.params[i]
	if q.Key != "" {
		c.held[q.Key] = true
		c.weak[q.Key] = why
	}
	if q.pose > 0 {
		m.pose[q.pose-1] = 0
	} else {
		q.Set(m.spec, q.value)
	}
	m.params = slices.Delete(m.params, i, i+1)
	return slices.Delete(slices.Clone(c.estimate.P), i, i+1)
}

// numbersOf returns the places of what is true.
func numbersOf(list []bool) []int {
	var out []int
	for i, v := range list {
		if v {
			out = append(out, i)
		}
	}
	return out
}

// continued returns the parameters of m that make the neck of another fit, and
// takes those out of m that were given up there. It returns nil if that is no
// neck.
func (p *plan) continued(m *model, from *candidate) []float64 {
	was := from.model.spec
	n, err := neck.Draft(was)
	if err != nil {
		return nil
	}
	m.spec.Wall = was.Wall
	m.params = slices.DeleteFunc(m.params, func(q Param) bool { return from.held[q.Key] && !strings.HasPrefix(q.Key, "profile") })
	start := make([]float64, len(m.params))
	for i := range m.params {
		q := &m.params[i]
		v := q.value
		k := p.index(q.Key)
		switch {
		case q.pose > 0:
			v = from.model.pose[q.pose-1]
		case q.Key == "width.nut":
			v = was.Width.Nut
		case q.Key == "width.end":
			v = was.Width.End
		case q.Key == "board.thickness":
			v = was.Board.Thickness
		case q.Key == "wall.height":
			v = was.Wall
		case strings.HasPrefix(q.Key, "depth"):
			v = n.Depth(p.spec.X(m.spec.Depth[k].At)) + was.Board.Thickness
		case strings.HasPrefix(q.Key, "profile"):
			st := n.Profile(p.spec.X(m.spec.Profile[k].At))
			switch {
			case strings.HasSuffix(q.Key, "apex"):
				v = st.Apex
			case strings.HasSuffix(q.Key, "treble"):
				v = st.Treble
			default:
				v = st.Bass
			}
		}
		start[i] = q.toP(v)
	}
	return start
}

// giveUp returns the parameter that the readings say least about, and how
// little, or -1 where they say enough of each.
func (p *plan) giveUp(m *model, e *lsq.Estimate) (int, string) {
	if e.Covariance == nil {
		// Some combination is open: of the parameters that take part in it,
		// the one that can best be spared.
		share := openShare(e)
		least := 0.15 * slices.Max(share)
		best := -1
		for i, q := range m.params {
			if q.rank == 0 || share[i] < least {
				continue
			}
			if best < 0 || q.rank > m.params[best].rank || q.rank == m.params[best].rank && share[i] > share[best] {
				best = i
			}
		}
		if best < 0 {
			return -1, "open"
		}
		return best, "the readings do not determine it"
	}
	worst, ratio := -1, 1.0
	thin := ""
	for i, q := range m.params {
		r := e.Half(i) / q.weak
		if !(r > 1) {
			continue
		}
		if q.rank == 0 {
			thin = "weak"
			continue
		}
		if r > ratio {
			worst, ratio = i, r
		}
	}
	if worst < 0 {
		return -1, thin
	}
	q := m.params[worst]
	v, h := e.P[worst], e.Half(worst)
	lo, hi := q.toV(v-h), q.toV(v+h)
	text := fmt.Sprintf("the readings only tell that it is %s to %s", p.number(q.Length, lo), p.number(q.Length, hi))
	if math.IsInf(h, 0) || e.Dof <= 0 {
		text = "the readings do not determine it"
	}
	return worst, text
}

// openShare returns how much each parameter takes part in the combination that
// the readings leave open: the last right singular vector of the derivatives.
func openShare(e *lsq.Estimate) []float64 {
	n := len(e.P)
	share := make([]float64, n)
	rows, _ := e.J.Dims()
	var a mat.Dense
	a.CloneFrom(e.J)
	for k := range n {
		norm := 0.0
		for i := range rows {
			if e.Dropped[i] {
				a.Set(i, k, 0)
			}
			norm += a.At(i, k) * a.At(i, k)
		}
		if norm < 1e-24 {
			share[k] = 1
			return share
		}
		for i := range rows {
			a.Set(i, k, a.At(i, k)/math.Sqrt(norm))
		}
	}
	var normal mat.Dense
	normal.Mul(a.T(), &a)
	var svd mat.SVD
	if !svd.Factorize(&normal, mat.SVDThin) {
		for k := range share {
			share[k] = 1
		}
		return share
	}
	var v mat.Dense
	svd.VTo(&v)
	for k := range n {
		share[k] = math.Abs(v.At(k, n-1))
	}
	return share
}

// number prints a value for a message.
func (p *plan) number(length bool, v float64) string {
	if length {
		if p.spec.Units == spec.Inch {
			return fmt.Sprintf("%.3f in", spec.Inch.Of(v))
		}
		return fmt.Sprintf("%.2f mm", v)
	}
	return fmt.Sprintf("%.2f", v)
}
