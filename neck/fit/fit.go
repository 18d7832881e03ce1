package fit

import (
	"fmt"
	"math"
	"slices"

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
