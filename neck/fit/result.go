package fit

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// result turns the best candidate into a spec.
func (p *plan) result(c *candidate) (*Result, error) {
	m, e := c.model, c.estimate
	r := &Result{set: p.set, Scale: e.Scale, DOF: e.Dof, Assumed: e.Known, Pose: m.pose, comments: make(map[string]string)}
	p.ranges(r, c)
	p.comment(r, c)
	r.Spec = m.spec
	doubts := p.doubts(m, e)
	if err := p.residuals(r, c); err != nil {
		return nil, err
	}
	if shifts := p.shifts(m, e); len(shifts) > 0 {
		doubts = shifts // which is the reason for them
	}
	if err := r.hopeless(p, doubts); err != nil {
		return nil, err
	}
	// Judged as fitted: what is printed is what make will read.
	_, problems := neck.Check(r.Spec)
	if err := problems.Err(); err != nil {
		text := strings.Join(append([]string{strings.ReplaceAll(err.Error(), "\n", "; ")}, doubts...), "; ")
		return nil, spec.Problems{{File: p.set.File, Message: "the neck that fits the readings cannot be made: " + text}}
	}
	r.Warnings = problems.Warnings()
	r.Notes = append(r.Notes, doubts...)
	// First what makes a spec unfit for carving.
	if err := r.contradiction(p); err != nil {
		return nil, err
	}
	r.oddShapes(p)
	r.scattered(p)
	r.Notes = append(r.Notes, p.notes...)
	r.Notes = append(r.Notes, p.held(c)...)
	if e.Known {
		r.Notes = append(r.Notes, spareReadings(e.Dof)+": the ranges rest on the usual accuracy of such readings, and which of them is bad cannot be told.")
	}
	return r, nil
}

// spareReadings says how many readings there are more than numbers to find.
func spareReadings(dof int) string {
	switch {
	case dof == 1:
		return "there is 1 reading more than numbers to find"
	case dof > 1:
		return fmt.Sprintf("there are %d readings more than numbers to find", dof)
	}
	return "there are no more readings than numbers to find"
}

// ranges sets the numbers that were fitted, as they are printed, and tells the
// range of each.
func (p *plan) ranges(r *Result, c *candidate) {
	m, e := c.model, c.estimate
	for i := range m.params {
		q := &m.params[i]
		if q.Key == "" {
			continue
		}
		h := e.Half(i)
		g := Range{Key: q.Key, Length: q.Length, Source: "fitted",
			Value: p.rounded(q.Length, q.toV(e.P[i])), Low: q.toV(e.P[i] - h), High: q.toV(e.P[i] + h)}
		q.Set(m.spec, g.Value)
		if math.IsNaN(h) {
			g.Source = "not determined"
			r.Ranges = append(r.Ranges, g)
			r.comments[q.Key] = "not determined: at the end of what is sought"
			p.notes = append(p.notes, fmt.Sprintf("%s ran to %s, the end of what is sought: it is not determined, and one or more of the readings about it are off.", q.Key, p.number(q.Length, g.Value)))
			continue
		}
		r.Ranges = append(r.Ranges, g)
		r.comments[q.Key] = fmt.Sprintf("fitted; 95 %%: %s to %s", p.number(q.Length, g.Low), p.number(q.Length, g.High))
	}
	for i := range m.spec.Depth {
		m.spec.Depth[i].Total = p.rounded(true, m.spec.Depth[i].Total)
	}
}

// residuals measures the fitted neck, as it is printed, at every reading.
func (p *plan) residuals(r *Result, c *candidate) error {
	m, e := c.model, c.estimate
	params := m.params
	m.params = nil
	ok := m.Residuals(nil, e.R)
	m.params = params
	if !ok {
		return errors.New("the fitted neck cannot be measured again")
	}
	for i, q := range m.readings {
		res := Residual{Reading: q, Label: p.set.Label(q), Off: e.R[i] * q.Sigma, Standard: e.R[i] / e.Scale, Dropped: e.Dropped[i]}
		if q.Kind == readings.Point {
			res.Model = math.NaN()
			if d, ok := m.secs[m.place[i]].DepthAt(m.point(i).Y); ok {
				res.Model = d
			}
		} else {
			res.Model = m.expected(i)
		}
		r.Residuals = append(r.Residuals, res)
		if res.Dropped && !p.opts.Pose {
			r.Notes = append(r.Notes, p.outlier(res))
		}
	}
	return nil
}

// scatterLimit is how many times the usual scatter is worth a note: with ten
// readings to spare chance alone does not reach it once in a thousand sets
// (the chi-square distribution).
const scatterLimit = 1.8

// Where there are too few readings to tell the bad one, a fit would settle
// between it and the good ones. Beyond so many standard deviations of the
// instruments that is said, and beyond so many more there is no spec at all.
const (
	oddReading        = 4
	impossibleReading = 10
)

// contradiction judges readings that are too few for their scatter to be
// known: it notes or, as an error, refuses such as no neck can have together.
func (r *Result) contradiction(p *plan) error {
	if !r.Assumed || len(r.Residuals) == 0 {
		return nil
	}
	worst := slices.MaxFunc(r.Residuals, func(a, b Residual) int { return cmp.Compare(math.Abs(a.Standard), math.Abs(b.Standard)) })
	if math.Abs(worst.Standard) < oddReading {
		return nil
	}
	text := fmt.Sprintf("the readings contradict each other: %s was read as %s, which is %s off a neck that fits the rest as well as it can. Measure it and its neighbours again, and look for a wrong unit or station; more readings would tell which one is bad",
		worst.Label, p.spec.Units.Rounded(worst.Value), p.spec.Units.Rounded(math.Abs(worst.Off)))
	if math.Abs(worst.Standard) > impossibleReading {
		return spec.Problems{p.set.Problem(worst.Line, "%s", text)}
	}
	r.Notes = append(r.Notes, fmt.Sprintf("line %d: %s. Do not carve by this spec before that.", worst.Line, text))
	return nil
}

// oddShapes says where a fitted fullness is one that hardly any back has:
// common practice, no published source.
func (r *Result) oddShapes(p *plan) {
	for _, st := range r.Spec.Profile {
		for _, v := range []float64{st.Bass, st.Treble} {
			if v > 6 || v < 1.25 {
				r.Notes = append(r.Notes, fmt.Sprintf("the fullness at %s comes to %.2f, which hardly any neck has: one or more of the readings there are off. Do not carve by this spec before you have measured again.", p.label(st.At), v))
				break
			}
		}
	}
}

// scattered says which readings to look at first where all lie farther from the
// fitted neck than such readings should.
func (r *Result) scattered(p *plan) {
	if r.Assumed || r.Scale < scatterLimit || p.opts.Pose {
		return
	}
	worst := slices.DeleteFunc(slices.Clone(r.Residuals), func(q Residual) bool { return q.Dropped })
	slices.SortStableFunc(worst, func(a, b Residual) int { return cmp.Compare(math.Abs(b.Standard), math.Abs(a.Standard)) })
	var names []string
	for _, q := range worst[:min(3, len(worst))] {
		names = append(names, fmt.Sprintf("%s (line %d, off by %s)", q.Label, q.Line, p.spec.Units.Rounded(q.Off)))
	}
	r.Notes = append(r.Notes, fmt.Sprintf("the readings lie %.1f times as far from the fitted neck as such readings usually do: they contradict each other, or the back is of another kind than a spec can describe. Look first at %s.",
		r.Scale, strings.Join(names, ", ")))
}

// rounded rounds to what is printed: thousandths of a millimetre or ten
// thousandths of an inch.
func (p *plan) rounded(length bool, v float64) float64 {
	if length && p.spec.Units == spec.Inch {
		return spec.Inch.Millimetres(math.Round(spec.Inch.Of(v)*1e4) / 1e4)
	}
	return round3(v)
}
