package fit

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/mat"

	"neckloft/neck"
)

// Rescued is a new target for a work piece that has lost too much wood.
type Rescued struct {
	Spec    *neck.Spec
	Changes []Change
	Moved   float64 // largest distance between the old target's surface and the new one, mm
	Cover   float64 // least wood over the channel, mm; NaN without one
	Notes   []string

	lost float64 // mean distance between the two surfaces, mm
}

// Change is a number of the spec that is new.
type Change struct {
	Key      string
	Old, New float64
	Length   bool
}

// NoRescue is the error where no new target was found. Its text says why.
type NoRescue struct{ Reason string }

func (e *NoRescue) Error() string { return "no new target was found: " + e.Reason }

// ErrNothingLow is returned where nothing is below its target.
var ErrNothingLow = errors.New("nothing is below its target: the spec stands as it is")

const (
	// leastFullness is the slimmest shoulder that a rescue makes: our V.
	leastFullness = 1.35
	mostLower     = 8.0  // mm that a depth or a width may be lowered by
	inside        = 0.01 // mm that the new target keeps inside the carved wood
)

// Rescue returns the nearest spec whose surface lies inside the carved wood:
// the one whose surface moves least from the old target's, in the mean of the
// squares, of all that
//
//   - lie at or below every reading and, between readings, below the straight
//     line from one low spot to the next,
//   - lie nowhere outside the old target, since the wood there may be carved,
//   - keep the cover of the spec's limits over the channel, or what the old
//     target had where that is less, and
//   - are as smooth: the same stations, a thickness that grows toward the body
//     if it did, and no side slimmer than a V.
//
// It changes depths and fullness, the width where a width is low, and heel,
// volute or headstock where a reading there is low. The apex stays. One depth
// target more, at the lowest station, is taken where that saves clearly more
// wood. A low width, which says nothing of the back, narrows the neck first;
// the rest is then held against the narrower one.
//
// A low girth tells that wood is missing but not where: unless the other
// readings of its station account for it, there is no safe target. The error is
// a *NoRescue where none is found, and ErrNothingLow where none is needed.
func Rescue(p *Progress) (*Rescued, error) {
	if p.Count(Below) == 0 {
		return nil, ErrNothingLow
	}
	if err := p.girths(); err != nil {
		return nil, err
	}
	from := p
	var narrowed *Rescued
	if slices.ContainsFunc(p.Checks, func(c Check) bool { return c.Kind == Width && c.Status == Below }) {
		var err error
		if narrowed, err = newRescuer(p).narrow(); err != nil {
			return nil, err
		}
		n, err := neck.Draft(narrowed.Spec)
		if err != nil {
			return nil, &NoRescue{err.Error()}
		}
		if from, err = Follow(n, p.Set, p.Tolerance); err != nil {
			return nil, err
		}
		if from.Count(Below) == 0 {
			return narrowed, nil
		}
	}
	out, err := rescueDepths(from, p.Neck)
	if err != nil {
		return nil, err
	}
	if narrowed != nil {
		var changes []Change
		for _, c := range narrowed.Changes {
			if !slices.ContainsFunc(out.Changes, func(d Change) bool { return d.Key == c.Key }) {
				changes = append(changes, c)
			}
		}
		for i := range out.Changes {
			for _, c := range narrowed.Changes {
				if c.Key == out.Changes[i].Key {
					out.Changes[i].Old = c.Old
				}
			}
		}
		out.Changes = append(changes, out.Changes...)
	}
	out.boardFollows(p.Neck.Spec())
	return out, nil
}

// rescueDepths is Rescue without low widths: near the goal, inside what was
// found against the target of p.
func rescueDepths(p *Progress, goal *neck.Neck) (*Rescued, error) {
	r := newRescuer(p)
	r.aim(goal)
	out, err := r.search()
	var none *NoRescue
	if err != nil && !errors.As(err, &none) {
		return nil, err
	}
	more := newRescuer(p)
	at, ok := more.addTarget()
	if !ok {
		return out, err
	}
	more.aim(goal)
	// So much of the wood must one target more save, to be worth a line that
	// is less straight.
	const worth = 0.85
	if other, failed := more.search(); failed == nil && (out == nil || other.lost < worth*out.lost) {
		other.Notes = append(other.Notes, fmt.Sprintf("depth has one target more, at %s: with the old ones alone %s.", p.Neck.Spec().Label(at),
			map[bool]string{true: "there is no way inside the wood", false: "more wood would be lost"}[out == nil]))
		return other, nil
	}
	return out, err
}

// boardFollows says what else a new width asks for.
func (r *Rescued) boardFollows(old *neck.Spec) {
	s := r.Spec
	if s.Width == old.Width {
		return
	}
	text := fmt.Sprintf("the width is that across the board's edges: the board must be cut down to %s at the nut and %s at its end too.", s.Length(s.Width.Nut), s.Length(s.Width.End))
	if s.Heel != nil && old.Heel != nil && s.Heel.Width == old.Heel.Width {
		text += fmt.Sprintf(" The heel keeps its width of %s.", s.Length(s.Heel.Width))
	}
	r.Notes = append(r.Notes, text)
}

// girths refuses low girths that the other readings of their station do not
// account for.
func (p *Progress) girths() error {
	for _, checks := range p.Stations() {
		for _, c := range checks {
			if c.Kind != Girth || c.Status != Below {
				continue
			}
			// The length of a convex curve is the integral of its support
			// function over the directions (Cauchy), and so is what it loses.
			const steps = 90
			told := 0.0
			spots := spotsOf(checks)
			for _, side := range []neck.Side{neck.Bass, neck.Treble} {
				for i := range steps {
					told += lowAt(spots, side, math.Pi/2*(float64(i)+0.5)/steps) * math.Pi / 2 / steps
				}
			}
			if told > 0 && -c.Left-told <= math.Max(c.Sigma, math.Pi*p.Tolerance) {
				continue
			}
			text := fmt.Sprintf("%s (line %d) is %s below the target, an even layer of %s all round", p.Set.Label(c.Reading), c.Line, p.length(-c.Left), p.length(-c.Wood))
			if told > 0 {
				text += fmt.Sprintf(", of which the other readings there account for %s", p.length(told))
			}
			return &NoRescue{text + fmt.Sprintf(". A girth tells that wood is missing but not where: read the total and points on both shoulders at %s, and try again.", c.Station)}
		}
	}
	return nil
}

// narrow finds the widths that low readings of the width leave.
func (r *rescuer) narrow() (*Rescued, error) {
	var params []param
	var old, least []float64
	for i, q := range r.params {
		if strings.Contains(q.key, "width") {
			params, old, least = append(params, q), append(old, r.old[i]), append(least, r.least[i])
		}
	}
	r.params, r.old, r.least = params, old, least
	r.low = slices.DeleteFunc(r.low, func(c Check) bool { return c.Kind != Width })
	r.was = r.goal
	out, err := r.search()
	if err == nil {
		out.boardFollows(r.p.Neck.Spec())
	}
	return out, err
}

// aim sets what the new target is to be near to.
func (r *rescuer) aim(n *neck.Neck) {
	for k, x := range r.xs {
		r.goal[k] = r.supports(n, x)
	}
}

// supports returns the support function of a section in the directions of the
// grid.
func (r *rescuer) supports(n *neck.Neck, x float64) []float64 {
	sec := n.Section(x)
	var out []float64
	for _, side := range []neck.Side{neck.Bass, neck.Treble} {
		for _, a := range r.dirs {
			out = append(out, sec.Support(side, a))
		}
	}
	return out
}

// addTarget adds a depth target at the lowest station, as thick as the neck is
// there, if there is none near.
func (r *rescuer) addTarget() (neck.Place, bool) {
	const near = 20.0 // mm
	s, n := r.spec, r.p.Neck
	end := s.FretX(float64(s.Scale.Frets))
	if s.Heel != nil {
		end = s.X(s.Heel.Start)
	}
	var at *Check
	for i, c := range r.low {
		if c.Kind == Width || c.X < near || c.X > end-near || len(s.Depth) < 2 || len(s.Depth) > 8 ||
			slices.ContainsFunc(s.Depth, func(d neck.DepthTarget) bool { return math.Abs(s.X(d.At)-c.X) < near }) {
			continue
		}
		if at == nil || c.Left < at.Left {
			at = &r.low[i]
		}
	}
	if at == nil {
		return neck.Place{}, false
	}
	i := 0
	for i < len(s.Depth) && s.X(s.Depth[i].At) < at.X {
		i++
	}
	s.Depth = slices.Insert(slices.Clone(s.Depth), i, neck.DepthTarget{At: at.At, Total: n.Total(at.X)})
	r.params, r.old, r.least = nil, nil, nil
	r.variables()
	return at.At, true
}

// search finds the nearest target.
func (r *rescuer) search() (*Rescued, error) {
	p := r.p
	if r.asked > 0 && p.Cover < r.asked-1e-9 {
		return nil, &NoRescue{fmt.Sprintf("as carved, %s is left over the channel at %s, and %s is wanted ([limits] cover). A shallower channel, or a lower limit if the rod allows it, would be another spec.",
			woodLeft(p.length(math.Max(0, p.Cover))), p.Neck.Where(p.CoverAt), p.length(r.asked))}
	}
	for range 4 {
		out, err := r.solve()
		if err != nil {
			return nil, err
		}
		if short := r.asked - out.Cover; r.asked > 0 && short > 1e-9 {
			// The cover is measured in space; the search goes by sections.
			r.limit += short + 0.005
			continue
		}
		return out, nil
	}
	return nil, &NoRescue{fmt.Sprintf("the wood left does not keep %s of cover over the channel", p.length(r.asked))}
}

// woodLeft puts a length of wood into words.
func woodLeft(length string) string {
	if strings.HasPrefix(length, "0 ") {
		return "no wood"
	}
	return length + " of wood"
}

func (p *Progress) length(mm float64) string { return p.Neck.Spec().Units.Rounded(mm) }

// rescuer is the search for a new target: a leastSquares problem whose
// conditions are residuals of great weight that are zero where they are met.
type rescuer struct {
	p      *Progress
	spec   *neck.Spec // overwritten
	params []param
	old    []float64
	least  []float64
	asked  float64 // cover
	limit  float64 // of the cover in the plane of a section, for that in space to be as asked
	grows  bool    // the thickness does, toward the body
	weight float64

	xs   []float64   // stations of the grid
	dirs []float64   // directions of the grid, per side
	was  [][]float64 // support of the old target, less the low spots, a row a station
	goal [][]float64 // the same of the old target itself
	low  []Check     // readings that bind
}

func newRescuer(p *Progress) *rescuer {
	s := *p.Neck.Spec()
	s.Source = nil
	s.Depth, s.Profile = slices.Clone(s.Depth), slices.Clone(s.Profile)
	if s.Heel != nil {
		h := *s.Heel
		s.Heel = &h
	}
	if s.Volute != nil {
		v := *s.Volute
		s.Volute = &v
	}
	if s.Headstock != nil {
		h := *s.Headstock
		s.Headstock = &h
	}
	r := &rescuer{p: p, spec: &s, grows: true}
	for i := 1; i < len(s.Depth); i++ {
		r.grows = r.grows && s.Depth[i].Total >= s.Depth[i-1].Total
	}
	if cover, _, ok := p.Neck.LeastCover(); ok {
		r.asked = math.Min(s.Limits.Cover, cover)
		r.limit = r.asked
	}
	r.variables()
	r.grid()
	return r
}

// variables lists the numbers that may change.
func (r *rescuer) variables() {
	s := r.spec
	add := func(key string, length bool, old, least float64, set func(*neck.Spec, float64)) {
		r.params = append(r.params, param{key: key, length: length, lo: -1e6, hi: 1e6, set: set})
		r.old, r.least = append(r.old, old), append(r.least, least)
	}
	for i, d := range s.Depth {
		add(fmt.Sprintf("depth[%d].total", i+1), true, d.Total, d.Total-mostLower, func(s *neck.Spec, v float64) { s.Depth[i].Total = v })
	}
	for i, q := range s.Profile {
		add(fmt.Sprintf("profile[%d].bass", i+1), false, q.Bass, math.Min(q.Bass, leastFullness), func(s *neck.Spec, v float64) { s.Profile[i].Bass = v })
		add(fmt.Sprintf("profile[%d].treble", i+1), false, q.Treble, math.Min(q.Treble, leastFullness), func(s *neck.Spec, v float64) { s.Profile[i].Treble = v })
	}
	var narrow, heel, volute, head bool
	for _, c := range r.p.Checks {
		if c.Status != Below {
			continue
		}
		sec := r.p.Neck.Section(c.X)
		atHeel := sec.Blend() > 0 && c.X > 0
		narrow = narrow || c.Kind == Width || c.Kind == Point && c.Phi < 0.15
		heel = heel || atHeel
		head = head || sec.Blend() > 0 && c.X < 0
		if v := s.Volute; v != nil {
			volute = volute || math.Abs(c.X-s.X(v.Centre)) < v.Length/2
		}
	}
	if narrow {
		add("width.nut", true, s.Width.Nut, s.Width.Nut-mostLower, func(s *neck.Spec, v float64) { s.Width.Nut = v })
		add("width.end", true, s.Width.End, s.Width.End-mostLower, func(s *neck.Spec, v float64) { s.Width.End = v })
	}
	if h := s.Heel; heel && h != nil {
		add("heel.total", true, h.Total, h.Total-mostLower, func(s *neck.Spec, v float64) { s.Heel.Total = v })
		if narrow {
			add("heel.width", true, h.Width, h.Width-mostLower, func(s *neck.Spec, v float64) { s.Heel.Width = v })
		}
	}
	if v := s.Volute; volute && v != nil {
		add("volute.rise", true, v.Rise, math.Min(v.Rise, 0.2), func(s *neck.Spec, v float64) { s.Volute.Rise = v })
	}
	if h := s.Headstock; head && h != nil {
		add("headstock.thickness", true, h.Thickness, h.Thickness-mostLower, func(s *neck.Spec, v float64) { s.Headstock.Thickness = v })
	}
}

const gridDirections = 7 // a side, from level to straight down

// grid lays the stations and directions at which surfaces are compared.
func (r *rescuer) grid() {
	n := r.p.Neck
	for i := range gridDirections {
		r.dirs = append(r.dirs, math.Pi/2*float64(i)/(gridDirections-1))
	}
	lo, hi := math.Max(n.Start(), 0), n.End()
	if h := n.Spec().Headstock; h != nil {
		lo = math.Max(n.Start(), -60)
	}
	for i := range 25 {
		r.xs = append(r.xs, lo+(hi-lo)*float64(i)/24)
	}
	spots := r.p.Stations()
	for k, checks := range spots {
		r.xs = append(r.xs, checks[0].X)
		if k > 0 {
			r.xs = append(r.xs, (checks[0].X+spots[k-1][0].X)/2)
		}
	}
	for _, x := range r.xs {
		sec := n.Section(x)
		var was, goal []float64
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			for _, a := range r.dirs {
				h := sec.Support(side, a)
				goal = append(goal, h)
				was = append(was, h-lowSpot(spots, x, side, a))
			}
		}
		r.was, r.goal = append(r.was, was), append(r.goal, goal)
	}
	for _, c := range r.p.Checks {
		// What lies inside the old target lies inside every reading above it. A
		// girth tells of no place, and a low width is seen to before, by narrow.
		if c.Left < 0 && c.Kind != Girth && (c.Kind != Width || c.Status == Below) {
			r.low = append(r.low, c)
		}
	}
}

// runOut is how far beyond the outermost station a low spot is taken to run, in
// mm.
const runOut = 25.0

// beyond says, for a place outside the stations that were read, that the low
// spot there is only taken to be one.
func (r *rescuer) beyond(x float64) string {
	spots := r.p.Stations()
	if first, last := spots[0][0].X, spots[len(spots)-1][0].X; x >= first && x <= last {
		return ""
	}
	return fmt.Sprintf(", which was not read: the low spot beside it is taken to run out over %s. Read there too", r.spec.Length(runOut))
}

// lowSpot returns how far the carved wood is taken to lie below the target at
// x, in a direction: straight between the readings of a station by angle, and
// between stations by distance; beyond the outermost reading it runs out over
// 30 degrees, beyond the outermost station over 25 mm.
func lowSpot(spots [][]Check, x float64, side neck.Side, phi float64) float64 {
	const out = runOut
	type station struct{ x, low float64 }
	var at []station
	for _, checks := range spots {
		low := spotsOf(checks)
		for i := range low {
			if low[i].width {
				low[i].left = 0 // low ones have narrowed the neck already
			}
		}
		at = append(at, station{checks[0].X, lowAt(low, side, phi)})
	}
	switch first, last := at[0], at[len(at)-1]; {
	case x <= first.x:
		return first.low * math.Max(0, 1-(first.x-x)/out)
	case x >= last.x:
		return last.low * math.Max(0, 1-(x-last.x)/out)
	}
	for i := 1; i < len(at); i++ {
		if a, b := at[i-1], at[i]; x <= b.x {
			return a.low + (b.low-a.low)*(x-a.x)/(b.x-a.x)
		}
	}
	return 0
}

// lowAt is lowSpot at a station.
func lowAt(spots []spot, side neck.Side, phi float64) float64 {
	// The low spots run straight among themselves; wood that is still to come
	// off beside them does not make them higher.
	low := slices.Clone(spots)
	for i := range low {
		low[i].left = math.Min(0, low[i].left)
	}
	left, beyond := leftAt(low, turn(side, phi))
	if math.IsInf(beyond, 1) {
		return 0
	}
	return -left * math.Max(0, 1-beyond/untold)
}

// size returns the number of residuals.
func (r *rescuer) size() int {
	k := len(r.xs) * 2 * len(r.dirs)
	return 3*k + len(r.low) + 2*len(r.params) + max(0, len(r.spec.Depth)-1)
}

// lay sets the numbers and returns the neck, or nil.
func (r *rescuer) lay(p []float64) *neck.Neck {
	for i := range r.params {
		r.params[i].set(r.spec, p[i])
	}
	for _, q := range r.spec.Profile {
		if !(q.Bass > 1.04) || !(q.Treble > 1.04) {
			return nil
		}
	}
	n, err := neck.Draft(r.spec)
	if err != nil {
		return nil
	}
	for _, x := range r.xs {
		if !(n.Depth(x) > r.spec.Wall+0.2) || !(n.Width(x) > 2) {
			return nil
		}
	}
	return n
}

// residuals implements leastSquares.
func (r *rescuer) residuals(p, out []float64) bool {
	n := r.lay(p)
	if n == nil {
		return false
	}
	w := math.Sqrt(r.weight)
	i := 0
	put := func(v float64) { out[i] = v; i++ }
	from, to, channel := n.Channel()
	mean := 1 / math.Sqrt(float64(len(r.xs)*2*len(r.dirs)))
	for k, x := range r.xs {
		sec := n.Section(x)
		j := 0
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			for _, a := range r.dirs {
				h := sec.Support(side, a)
				put((h - r.goal[k][j]) * mean)
				put(w * math.Max(0, h-r.was[k][j]))
				short := 0.0
				if channel && r.limit > 0 && x >= from && x <= to {
					// A little more, for the rounding.
					short = math.Max(0, r.limit+3*inside-(h-r.spec.Rod.Support(a)))
				}
				put(w * short)
				j++
			}
		}
	}
	for _, c := range r.low {
		put(w * math.Max(0, inside-leftOf(n, &c)))
	}
	for k := range r.params {
		put(w * math.Max(0, p[k]-r.old[k]))
		put(w * math.Max(0, r.least[k]-p[k]))
	}
	for k := 1; k < len(r.spec.Depth); k++ {
		v := 0.0
		if r.grows {
			v = math.Max(0, r.spec.Depth[k-1].Total-r.spec.Depth[k].Total)
		}
		put(w * v)
	}
	return true
}

// leftOf returns what a reading leaves over another neck.
func leftOf(n *neck.Neck, c *Check) float64 {
	p := Progress{Neck: n, Set: &Set{}}
	d := p.check(c.Reading, c.X)
	return d.Left
}

// jacobian implements leastSquares.
func (r *rescuer) jacobian(p []float64, j *mat.Dense) {
	m := r.size()
	up, down := make([]float64, m), make([]float64, m)
	q := slices.Clone(p)
	for k := range p {
		const h = 1e-5
		q[k] = p[k] + h
		a := r.residuals(q, up)
		q[k] = p[k] - h
		b := r.residuals(q, down)
		for i := range m {
			d := 0.0
			if a && b {
				d = (up[i] - down[i]) / (2 * h)
			}
			j.Set(i, k, d)
		}
		q[k] = p[k]
	}
}

// solve finds the nearest target for the limit.
func (r *rescuer) solve() (*Rescued, error) {
	p := slices.Clone(r.old)
	for _, r.weight = range []float64{1e1, 1e3, 1e5, 1e7} {
		s, err := minimise(r, p, r.size(), nil, 1e-9, 60)
		if err != nil {
			return nil, &NoRescue{"the spec itself cannot be varied"}
		}
		p = s.p
	}
	// Rounded down, which stays inside; but not where nothing changed.
	for k := range p {
		if r.old[k]-p[k] < 0.002 {
			p[k] = r.old[k]
		} else {
			p[k] = r.roundDown(k, p[k])
		}
	}
	if err := r.judge(p); err != nil {
		return nil, err
	}
	n := r.lay(p)
	if n == nil {
		return nil, &NoRescue{"what would have to come off makes no neck any more"}
	}
	spec := *r.spec
	spec.Depth, spec.Profile = slices.Clone(spec.Depth), slices.Clone(spec.Profile)
	for i := range spec.Profile {
		q := &spec.Profile[i]
		if f, ok := neck.ShapeFullness(q.Shape); ok && q.Bass != f && q.Treble != f {
			q.Shape = ""
		}
	}
	_, problems := neck.Check(&spec)
	if err := problems.Err(); err != nil {
		return nil, &NoRescue{"the nearest one cannot be made: " + err.Error()}
	}
	out := &Rescued{Spec: &spec, Cover: math.NaN()}
	if c, _, ok := n.LeastCover(); ok {
		out.Cover = c
	}
	for k, q := range r.params {
		if p[k] != r.old[k] {
			out.Changes = append(out.Changes, Change{q.key, r.old[k], p[k], q.length})
		}
	}
	for k, x := range r.xs {
		for j, h := range r.supports(n, x) {
			out.Moved = math.Max(out.Moved, r.goal[k][j]-h)
			out.lost += (r.goal[k][j] - h) / float64(len(r.xs)*2*len(r.dirs))
		}
	}
	return out, nil
}

// roundDown rounds to hundredths, or to ten thousandths of an inch.
func (r *rescuer) roundDown(k int, v float64) float64 {
	if r.params[k].length && r.spec.Units == neck.Inch {
		return neck.Inch.Millimetres(math.Floor(neck.Inch.Of(v)*1e4+1e-6) / 1e4)
	}
	return math.Floor(v*100+1e-6) / 100
}

// judge returns a NoRescue if p does not meet the conditions, naming the one
// that it misses most.
func (r *rescuer) judge(p []float64) error {
	n := r.lay(p)
	if n == nil {
		return &NoRescue{"what would have to come off makes no neck any more"}
	}
	const slack = 0.003 // mm, where places between readings are concerned
	worst, text := slack, ""
	note := func(miss float64, format string, args ...any) {
		if miss > worst {
			worst, text = miss, fmt.Sprintf(format, args...)
		}
	}
	for _, c := range r.low {
		left := leftOf(n, &c)
		if left >= -1e-9 {
			continue
		}
		note(slack-left, "the reading %s (line %d) is %s below the target, and no depth and fullness that keep the rest of what is wanted reach down to it", r.p.Set.Label(c.Reading), c.Line, r.p.length(-c.Left))
	}
	from, to, channel := n.Channel()
	for k, x := range r.xs {
		sec := n.Section(x)
		j := 0
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			for _, a := range r.dirs {
				h := sec.Support(side, a)
				note(h-r.was[k][j], "no depth and fullness that keep the rest of what is wanted stay inside the carved wood near %s%s", n.Where(x), r.beyond(x))
				if channel && r.limit > 0 && x >= from && x <= to {
					gap := h - r.spec.Rod.Support(a)
					note(r.limit-gap, "inside the carved wood the cover over the channel near %s comes to less than %s, which is wanted ([limits] cover)", n.Where(x), r.p.length(r.asked))
				}
				j++
			}
		}
	}
	for k := range p {
		if q := r.params[k]; q.length {
			note(r.least[k]-p[k], "%s would have to go below %s, much less than it is to be", q.key, r.p.length(r.least[k]))
		} else {
			note(r.least[k]-p[k], "%s would have to go below %.3g, the slimmest shoulder that a new target is given", q.key, r.least[k])
		}
	}
	if text != "" {
		return &NoRescue{text + "."}
	}
	return nil
}
