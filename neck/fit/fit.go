package fit

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"neckloft/neck"
	"neckloft/neck/fit/lsq"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// Result is a fitted neck.
type Result struct {
	Spec      *spec.Spec // rounded to thousandths of a millimetre, and judged by neck.Check
	Warnings  spec.Problems
	Ranges    []Range
	Residuals []Residual // one a reading that was fitted, in the order of the file
	Notes     []string   // what the readings cannot determine, and what was left out

	// Scale is how large the residuals are in units of the standard deviations
	// that the readings came with, and DOF the number of readings more than
	// were needed. Where Assumed is set, there are too few of those for Scale
	// to be known; the ranges then rest on the standard deviations as given.
	Scale   float64
	DOF     int
	Assumed bool

	Pose [2]float64 // of a scan: y of its centreline at the nut, and its turn, radians

	set      *readings.Set
	comments map[string]string
}

// Range is a number of the spec and what is known of it.
type Range struct {
	Key       string
	Value     float64
	Low, High float64 // 95 % range; NaN where the number is not fitted
	Length    bool    // in mm
	Source    string  // "fitted", or where else the number is from
}

// Residual is a reading against the fitted neck.
type Residual struct {
	readings.Reading
	Label    string
	Model    float64 // what the neck has there, mm
	Off      float64 // reading less neck, mm; of a point square to the surface, positive outside
	Standard float64 // Off in standard deviations of the readings as they came out
	Dropped  bool
}

// Fit finds the spec of the neck that was measured. The base, if not nil, is a
// spec whose numbers are kept where the readings say nothing; without one
// these have the defaults of a spec file, and there is no rod, volute,
// headstock or heel.
//
// Too few readings for what a spec must have are an error that says how many
// more, and where.
func Fit(set *readings.Set, base *spec.Spec, opts Options) (*Result, error) {
	p, err := newPlan(set, base, opts)
	if err != nil {
		return nil, err
	}
	if opts.Targets > len(p.depths) && opts.Targets > 0 {
		return nil, spec.Problems{{File: set.File, Message: fmt.Sprintf("%d depth targets are asked for, the thickness is known at %s; allowed: up to that", opts.Targets, readings.Count(len(p.depths), "station"))}}
	}
	if opts.Profiles > max(1, len(p.shapes)) {
		return nil, spec.Problems{{File: set.File, Message: fmt.Sprintf("%d profile stations are asked for, %s enough points for one; allowed: up to that", opts.Profiles, countHave(len(p.shapes)))}}
	}
	var r *Result
	best, err := p.choose()
	if err == nil {
		r, err = p.result(best)
	}
	if err != nil || !r.Assumed && (r.Scale > scatterLimit || r.dropped() > 2 || slices.ContainsFunc(r.Residuals, func(q Residual) bool { return q.Dropped && q.Kind == readings.BoardAt })) {
		if fault := p.fromTheFace(r, base); fault != nil {
			return nil, fault
		}
	}
	return r, err
}

// dropped returns how many readings were left out.
func (r *Result) dropped() int {
	n := 0
	for _, q := range r.Residuals {
		if q.Dropped {
			n++
		}
	}
	return n
}

// fromTheFace returns an error if the points make a neck, but only once the
// board is taken off their depths: they were measured from its face. r is the
// fit to them as they are, or nil.
func (p *plan) fromTheFace(r *Result, base *spec.Spec) error {
	board := p.mean(readings.BoardAt, p.spec.Board.Thickness)
	if p.opts.Pose || p.opts.faced || p.set.Count(readings.Point) < 4 {
		return nil
	}
	set := *p.set
	set.Readings = slices.Clone(set.Readings)
	var first *readings.Reading
	for i := range set.Readings {
		if q := &set.Readings[i]; q.Kind == readings.Point {
			if first == nil {
				first = &p.set.Readings[i]
			}
			if q.Value -= board; q.Value < 0 {
				return nil // it lies above the glue plane then
			}
		}
	}
	opts := p.opts
	opts.faced = true
	other, err := Fit(&set, base, opts)
	if err != nil || other.Assumed || other.Scale > scatterLimit {
		return nil
	}
	if r != nil && other.Scale > r.Scale/2 && (other.dropped() >= r.dropped() || other.Scale > 1.2*r.Scale) {
		return nil // no clear gain
	}
	return spec.Problems{p.set.Problem(first.Line, "the contour points lie deeper than the other readings allow, all by about the board's %s: they seem to be measured from the board's face. Depths of points count from the glue plane: take the board off each", p.spec.Units.Rounded(board))}
}

func countHave(n int) string {
	if n == 1 {
		return "1 station has"
	}
	return fmt.Sprintf("%d stations have", n)
}

// candidate is a fit with some number of targets and stations.
type candidate struct {
	model    *model
	estimate *lsq.Estimate
	weak     map[string]string
	held     map[string]bool // keys given up at their default
	thin     bool            // a depth target is not determined
}

// choose fits the plainest neck that the readings allow: a straight depth line
// and a shape at each end, and one more of either, wherever it helps most, only
// where Akaike's criterion, corrected for few readings (Hurvich and Tsai 1989),
// speaks clearly for it.
func (p *plan) choose() (*candidate, error) {
	number := func(asked, known int) int {
		if asked == 0 {
			return min(known, 2)
		}
		return asked
	}
	targets := p.pick(p.depths, number(p.opts.Targets, len(p.depths)))
	profiles := p.pick(p.shapes, number(p.opts.Profiles, len(p.shapes)))
	best, err := p.fit(targets, profiles, nil)
	if err != nil {
		return nil, err
	}
	if best.thin && p.opts.Targets == 0 && len(targets) > 1 {
		targets = targets[:1]
		if best, err = p.fit(targets, profiles, nil); err != nil {
			return nil, err
		}
		p.notes = append(p.notes, "the readings do not tell how the thickness changes along the neck: "+p.taken()+".")
	}
	if p.opts.Targets == 0 && len(targets) == 2 && len(p.depths) >= 4 {
		best, targets = p.add(best, p.depths, targets, func(t []spec.Place, from *candidate) (*candidate, error) { return p.fit(t, profiles, from) })
	}
	if p.opts.Profiles == 0 && len(profiles) == 2 && len(p.shapes) >= 3 {
		best, _ = p.add(best, p.shapes, profiles, func(t []spec.Place, from *candidate) (*candidate, error) { return p.fit(targets, t, from) })
	}
	return best, nil
}

// mostTried is the number of places that are tried for one more target, and
// mostTriedScan that for the thousand points of a scan.
const (
	mostTried     = 8
	mostTriedScan = 3
)

// add tries one more place and returns the better fit, and its places.
func (p *plan) add(best *candidate, known, used []spec.Place, fit func([]spec.Place, *candidate) (*candidate, error)) (*candidate, []spec.Place) {
	tries := mostTried
	if p.opts.Pose {
		tries = mostTriedScan
	}
	// The first and the last of pick lie at the ends of what it is given.
	inner := p.pick(known, tries+2)
	inner = inner[1 : len(inner)-1]
	// The difference of the criterion that counts as clear evidence. It grows
	// with the readings as Schwarz's criterion does, or thousands of points of a
	// scan would find a bend in every neck, and with the number of places, of
	// which one is better by chance.
	clear := math.Max(6, 2*math.Log(float64(len(best.estimate.R)))) + 2*math.Log(float64(len(inner)))
	var pick []spec.Place
	least := criterion(best) - clear
	for _, at := range inner {
		places := []spec.Place{used[0], at, used[len(used)-1]}
		c, err := fit(places, best)
		if err == nil && !c.thin && len(c.held) <= len(best.held) && criterion(c) < least {
			least, pick = criterion(c), places
		}
	}
	if pick == nil {
		return best, used
	}
	// What did not belong to the plainer neck may belong to this one.
	c, err := fit(pick, nil)
	if err != nil {
		return best, used
	}
	return c, pick
}

// criterion returns Akaike's criterion of a fit.
func criterion(c *candidate) float64 {
	n, k := 0.0, float64(len(c.estimate.P)+1)
	for _, out := range c.estimate.Dropped {
		if !out {
			n++
		}
	}
	if n-k-1 <= 0 {
		return math.Inf(1)
	}
	return n*math.Log(math.Max(c.estimate.Cost, 1e-12)/n) + 2*k + 2*k*(k+1)/(n-k-1)
}

// pick returns n of the places, spread evenly along the neck, the first and
// the last among them; of one, the first.
func (p *plan) pick(places []spec.Place, n int) []spec.Place {
	if n >= len(places) {
		return places
	}
	var out []spec.Place
	for i := range n {
		x := p.spec.X(places[0])
		if n > 1 {
			x += p.spread(places) * float64(i) / float64(n-1)
		}
		best := -1
		for j, q := range places {
			if !slices.Contains(out, q) && (best < 0 || math.Abs(p.spec.X(q)-x) < math.Abs(p.spec.X(places[best])-x)) {
				best = j
			}
		}
		out = append(out, places[best])
	}
	slices.SortFunc(out, func(a, b spec.Place) int {
		if p.spec.X(a) < p.spec.X(b) {
			return -1
		}
		return 1
	})
	return out
}

// fit fits the readings with depth targets and profile stations at some places.
// It begins at the fit `from`, without the readings and the numbers that were
// given up there; with nil it finds out which do not belong.
func (p *plan) fit(targets, profiles []spec.Place, from *candidate) (*candidate, error) {
	sp := *p.spec
	sp.Depth = slices.Clone(sp.Depth)
	sp.Profile = slices.Clone(sp.Profile)
	var taken []readings.Reading
	for _, r := range p.set.Readings {
		if r.Kind != readings.RadiusAt {
			taken = append(taken, r)
		}
	}
	m := newModel(&sp, taken)
	c := &candidate{model: m, weak: make(map[string]string), held: make(map[string]bool)}
	p.addParams(m, targets, profiles)
	if len(m.params) == 0 {
		return nil, spec.Problems{{File: p.set.File, Message: "the readings determine nothing of the neck; measure totals at frets 1 and 12, widths, and a contour"}}
	}
	start := m.start()
	var dropped []bool
	if from != nil {
		if start = p.continued(m, from); start == nil {
			return nil, lsq.ErrStart
		}
		dropped = from.estimate.Dropped
		for key := range from.held {
			if !strings.HasPrefix(key, "profile") { // whose stations are others
				c.held[key], c.weak[key] = true, from.weak[key]
			}
		}
	}
	for {
		var e *lsq.Estimate
		var err error
		if dropped == nil {
			e, err = lsq.RobustFit(m, start, len(taken), !p.opts.Pose)
		} else {
			var out []int
			for i, d := range dropped {
				if d {
					out = append(out, i)
				}
			}
			gain := lsq.Fine
			if from != nil {
				gain = lsq.Rough
			}
			e, err = lsq.FitWithout(m, start, len(taken), out, gain)
		}
		if err != nil {
			return nil, spec.Problems{{File: p.set.File, Message: fmt.Sprintf("the readings do not make a neck: %s; look for a wrong unit or a reading at the wrong station", err)}}
		}
		c.estimate = e
		spare := -1 // a number that ran to a bound and can be spared
		for i, q := range m.params {
			if e.Bound[i] && q.rank > 0 && (spare < 0 || q.rank > m.params[spare].rank) {
				spare = i
			}
		}
		if e.Covariance != nil && spare < 0 {
			dropped = e.Dropped
		}
		i, why := p.giveUp(m, e)
		if spare >= 0 {
			i, why = spare, "the readings do not determine it"
		}
		if i < 0 {
			c.thin = why != ""
			break
		}
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
		start = slices.Delete(slices.Clone(e.P), i, i+1)
	}
	m.lay(c.estimate.P)
	return c, nil
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
			sec := n.Section(p.spec.X(m.spec.Profile[k].At))
			switch {
			case strings.HasSuffix(q.Key, "apex"):
				v = sec.Apex
			case strings.HasSuffix(q.Key, "treble"):
				v = sec.Fullness(neck.Treble)
			default:
				v = sec.Fullness(neck.Bass)
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

// result turns the best candidate into a spec.
func (p *plan) result(c *candidate) (*Result, error) {
	m, e := c.model, c.estimate
	r := &Result{set: p.set, Scale: e.Scale, DOF: e.Dof, Assumed: e.Known, Pose: m.pose, comments: make(map[string]string)}
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
	p.comment(r, c)
	r.Spec = m.spec
	doubts := p.doubts(m, e)
	params := m.params
	m.params = nil
	ok := m.Residuals(nil, e.R)
	m.params = params
	if !ok {
		return nil, errors.New("the fitted neck cannot be measured again")
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
		spare := "there are no more readings than numbers to find"
		switch {
		case e.Dof == 1:
			spare = "there is 1 reading more than numbers to find"
		case e.Dof > 1:
			spare = fmt.Sprintf("there are %d readings more than numbers to find", e.Dof)
		}
		r.Notes = append(r.Notes, spare+": the ranges rest on the usual accuracy of such readings, and which of them is bad cannot be told.")
	}
	return r, nil
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
// from the board's face do. An offset of the depths is tried beside the numbers
// that were fitted (the added variable's t).
func (p *plan) shifts(m *model, e *lsq.Estimate) []string {
	const (
		fewest = 4
		least  = 0.4 // mm; less comes of a gauge's thickness or the like
		far    = 3   // mm; the derivatives tell no figure for more
		share  = 0.3 // of the sum of squares that an offset must explain
	)
	if p.opts.Pose || e.Covariance == nil || e.Dof < lsq.LeastScaleDOF+1 {
		return nil
	}
	rows, cols := e.J.Dims()
	try := func(in func(i int) bool) (offset, t, gain float64, n int) {
		var c2, cr float64
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
			return 0, 0, 0, n
		}
		won := math.Min(cr*cr/free, e.Cost*(1-1e-9))
		rest := (e.Cost - won) / float64(e.Dof-1)
		return cr / free, math.Abs(cr) / math.Sqrt(free*rest), won / e.Cost, n
	}
	say := func(what string, offset float64) string {
		way := "deeper"
		if offset < 0 {
			way = "less deep"
		}
		size := "about " + p.spec.Units.Rounded(math.Abs(offset))
		if math.Abs(offset) > far {
			size = "far"
		}
		text := fmt.Sprintf("%s: the points there lie %s %s than the other readings make them, most by about the same. Measure that contour again before you carve.", what, size, way)
		return text
	}
	places := p.stations(readings.Point)
	limit := func(n int) float64 {
		return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(e.Dof - 1)}.Quantile(1 - lsq.OutlierLevel/2/float64(n+1))
	}
	var best string
	most := 0.0
	for _, at := range places {
		x := p.spec.X(at)
		offset, t, gain, _ := try(func(i int) bool { return math.Abs(m.xs[m.place[i]]-x) < 0.01 })
		if len(places) > 1 && t > limit(len(places)) && gain > share && math.Abs(offset) > least && gain > most {
			best, most = say("the contour at "+p.label(at), offset), gain
		}
	}
	if offset, t, gain, _ := try(func(int) bool { return true }); t > limit(len(places)) && gain > share && math.Abs(offset) > least && gain > most {
		best = say("all contours", offset)
		best = strings.Replace(best, "that contour", "the contours", 1)
	}
	if best == "" {
		return nil
	}
	return []string{best}
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
