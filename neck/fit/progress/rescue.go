package progress

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/fit"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// Rescued is a new target for a workpiece that has lost too much wood.
type Rescued struct {
	Spec    *spec.Spec
	Changes []Change
	Moved   float64 // largest distance between the old target's surface and the new one, mm
	Lost    float64 // wood that the new target is smaller by, g
	Cover   float64 // least wood over the channel, mm; NaN without one
	Notes   []string

	volume float64   // of that wood as the search reckons it, mm³
	p      []float64 // the numbers that were found
}

// Change is a number of the spec that is new.
type Change struct {
	Key      string
	Old, New float64
	Length   bool
}

// NoRescue is the error where no new target was found. Its text says why.
type NoRescue struct {
	Reason string

	judged bool // a target was found that misses what is wanted
	where  bool // and the reason is no more than where it lies outside the wood
}

func (e *NoRescue) Error() string { return "no new target was found: " + e.Reason }

// ErrNothingLow is returned where nothing is below its target.
var ErrNothingLow = errors.New("nothing is below its target: the spec stands as it is")

const (
	// leastFullness is the slimmest shoulder that a rescue makes: our V.
	leastFullness = 1.35
	mostLower     = 8.0  // mm that a depth or a width may be lowered by
	mostNarrower  = 3.0  // the same of a width where none is low
	inside        = 0.01 // mm that the new target keeps inside the carved wood
)

// Rescue returns the nearest spec whose surface lies inside the carved wood: the
// one that loses least wood of all that
//
//   - lie at or below every reading and, between readings, below the straight
//     line from one low spot to the next,
//   - lie nowhere outside the old target, since the wood there may be carved,
//   - keep the cover of the spec's limits over the channel, or what the old
//     target had where that is less, and
//   - have a thickness that grows towards the body if it did, and no side slimmer
//     than a V.
//
// It changes depths and fullness, the width where a width is low, and heel,
// volute or headstock where a reading there is low. The apex stays. Depth targets
// and profile stations more, at the low places and at the readings beside them,
// are taken where they save clearly more wood, and no more of them than that
// takes. A low width, which says nothing of the back, narrows the neck first; the
// rest is then held against the narrower one. Where there is no other way, the neck
// is narrowed too. Where there is no way, the error names the low spot without
// which there would be one.
//
// The new spec has a name of its own (RescuedName).
//
// A low girth tells that wood is missing but not where: unless the other
// readings of its station account for it, there is no safe target. The error is
// a *NoRescue where none is found, and ErrNothingLow where none is needed.
func Rescue(p *Progress) (*Rescued, error) {
	if p.Count(Below) == 0 {
		return nil, ErrNothingLow
	}
	p = p.headAsPoints()
	if err := p.girths(); err != nil {
		return nil, err
	}
	from := p
	var narrowed *Rescued
	if slices.ContainsFunc(p.Checks, func(c Check) bool { return c.Kind == readings.Width && c.Status == Below }) {
		var err error
		if narrowed, err = narrow(p); err != nil {
			return nil, err
		}
		n, err := neck.Draft(narrowed.Spec)
		if err != nil {
			return nil, &NoRescue{Reason: err.Error()}
		}
		if from, err = Follow(n, p.Set, p.Tolerance); err != nil {
			return nil, err
		}
		if from.Count(Below) == 0 {
			narrowed.finish(p.Neck)
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
	out.finish(p.Neck)
	return out, nil
}

// finish names the new target and weighs what it loses of the old one.
func (r *Rescued) finish(old *neck.Neck) {
	r.Spec.Name = RescuedName(old.Spec().Name)
	if n, err := neck.Draft(r.Spec); err == nil {
		r.Lost = bending.WoodMass(old) - bending.WoodMass(n)
	}
}

// boardFollows says what else a new width asks for.
func (r *Rescued) boardFollows(old *spec.Spec) {
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
			if c.Kind != readings.Girth || c.Status != Below {
				continue
			}
			// The length of a convex curve is the integral of its support
			// function over the directions (Cauchy), and so is what it loses.
			const steps = 90
			told := 0.0
			spots := spotsOf(checks)
			for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
				for i := range steps {
					told += lowAt(spots, side, math.Pi/2*(float64(i)+0.5)/steps) * math.Pi / 2 / steps
				}
			}
			if told > 0 && -c.Remaining-told <= math.Max(c.Sigma, math.Pi*p.Tolerance) {
				continue
			}
			text := fmt.Sprintf("%s (line %d) is %s below the target, an even layer of %s all round", p.Set.Label(c.Reading), c.Line, p.length(-c.Remaining), p.length(-c.Wood))
			if told > 0 {
				text += fmt.Sprintf(", of which the other readings there account for %s", p.length(told))
			}
			return &NoRescue{Reason: text + fmt.Sprintf(". A girth tells that wood is missing but not where: read the total and points on both shoulders at %s, and try again.", c.Station)}
		}
	}
	return nil
}

// narrow finds the widths that low readings of the width leave.
func narrow(p *Progress) (*Rescued, error) {
	r := newRescuer(p, p.Neck, extras{})
	var params []fit.Param
	var old, least []float64
	for i, q := range r.params {
		if strings.Contains(q.Key, "width") {
			params, old, least = append(params, q), append(old, r.old[i]), append(least, r.least[i])
		}
	}
	r.params, r.old, r.least, r.depths = params, old, least, 0
	r.low = slices.DeleteFunc(r.low, func(c Check) bool { return c.Kind != readings.Width })
	r.bind()
	r.was = r.goal
	out, err := r.search(nil)
	if err == nil {
		out.boardFollows(p.Neck.Spec())
	}
	return out, err
}

// supports returns the support function of a section in the directions of the
// grid.
func (r *rescuer) supports(n *neck.Neck, x float64) []float64 {
	sec := n.Section(x)
	var out []float64
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		for _, d := range r.normals {
			out = append(out, sec.SupportAlong(side, d))
		}
	}
	return out
}

// search finds the nearest target, from the numbers given or from the old ones.
func (r *rescuer) search(from []float64) (*Rescued, error) {
	p := r.p
	if r.asked > 0 && p.Cover < r.asked-1e-9 {
		return nil, &NoRescue{Reason: fmt.Sprintf("as carved, %s covers the channel at %s, and %s is wanted ([limits] cover). A shallower channel, or a lower limit if the rod allows it, would be another spec.",
			someWood(p.length(math.Max(0, p.Cover))), p.Neck.Where(p.CoverAt), p.length(r.asked))}
	}
	var failed error
	const often, little = 6, 0.1 // mm
	for range often {
		out, err := r.solve(from)
		from = r.last
		if err != nil {
			if r.miss > 0 && r.miss < little {
				r.tighten()
				failed = err
				continue
			}
			return nil, err
		}
		if short := r.asked - out.Cover; r.asked > 0 && short > 1e-9 {
			// The cover is measured in space; the search goes by sections.
			r.limit += short + 0.005
			failed = &NoRescue{Reason: fmt.Sprintf("the wood as carved does not keep %s of cover over the channel", p.length(r.asked))}
			continue
		}
		return out, nil
	}
	return nil, failed
}

// someWood puts a length of wood into words.
func someWood(length string) string {
	if strings.HasPrefix(length, "0 ") {
		return "no wood"
	}
	return length + " of wood"
}

func (p *Progress) length(mm float64) string { return p.Neck.Spec().PrintUnit().Rounded(mm) }

// rescuer is the search for a new target.
type rescuer struct {
	p        *Progress
	spec     *spec.Spec // overwritten
	params   []fit.Param
	old      []float64
	least    []float64
	asked    float64 // cover
	limit    float64 // of the cover in the plane of a section, for that in space to be as asked
	narrower bool    // the width may change although none is low
	grows    bool    // the thickness does, towards the body
	depths   int     // number of depth targets among the numbers, which come first

	xs      []float64        // stations of the grid
	dirs    []float64        // directions of the grid, per side
	normals []neck.Direction // the same
	was     [][]float64      // support of the old target, less the low spots, a row a station
	goal    [][]float64      // the same of the old target itself
	face    [][]float64      // the part of the old target's surface that each stands for, mm²
	whole   float64          // the whole of that surface, mm²
	low     []Check          // readings that bind
	tight   [][]float64      // how far inside of `was` the search keeps, mm
	inside  float64          // and how far inside of the readings
	last    []float64        // the numbers that were judged last
	miss    float64          // and by how much they missed what is wanted, mm
	at      [][]Check        // the same, by stations of the grid
}

// newRescuer returns the search with depth targets and profile stations more, as
// the old target is there.
func newRescuer(p *Progress, goal *neck.Neck, extra extras) *rescuer {
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
	r := &rescuer{p: p, spec: &s, grows: true, inside: inside}
	for i := 1; i < len(s.Depth); i++ {
		r.grows = r.grows && s.Depth[i].Total >= s.Depth[i-1].Total
	}
	if cover, _, ok := p.Neck.LeastCover(); ok {
		r.asked = math.Min(s.Limits.Cover, cover)
		r.limit = r.asked
	}
	extra.add(&s, p.Neck)
	r.narrower = extra.width
	r.variables()
	r.grid(goal)
	return r
}
