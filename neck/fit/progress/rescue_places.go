package progress

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// rescuedName is how the name of a rescued spec ends.
var rescuedName = regexp.MustCompile(`^(.*) rescued(?: (\d+))?$`)

// RescuedName returns the name of the spec that takes the place of one with the
// given name, so that the gauges of the two are told from each other: the name
// and "rescued", with a number from the second time on.
func RescuedName(name string) string {
	const most = 100 // characters, as the spec allows
	base, number := name, ""
	if m := rescuedName.FindStringSubmatch(name); m != nil {
		n, err := strconv.Atoi("0" + m[2])
		if err == nil {
			base, number = m[1], " "+strconv.Itoa(max(n, 1)+1)
		}
	}
	end := " rescued" + number
	if r := []rune(base); len(r)+len([]rune(end)) > most {
		base = strings.TrimSpace(string(r[:most-len([]rune(end))]))
	}
	return base + end
}

// extras are depth targets and profile stations that a spec is given more.
type extras struct {
	depth, profile []spec.Place
	width          bool // the width may change too
}

// count returns their number.
func (e extras) count() int { return len(e.depth) + len(e.profile) }

// without returns the extras but one, of the count of them.
func (e extras) without(i int) extras {
	if i < len(e.depth) {
		return extras{slices.Delete(slices.Clone(e.depth), i, i+1), e.profile, e.width}
	}
	i -= len(e.depth)
	return extras{e.depth, slices.Delete(slices.Clone(e.profile), i, i+1), e.width}
}

// add adds them to a spec, with the thickness and the shape that the neck has
// there.
func (e extras) add(s *spec.Spec, n *neck.Neck) {
	for _, at := range e.depth {
		x := s.X(at)
		i := 0
		for i < len(s.Depth) && s.X(s.Depth[i].At) < x {
			i++
		}
		s.Depth = slices.Insert(s.Depth, i, spec.DepthTarget{At: at, Total: down(n.Total(x), s.Units == spec.Inch)})
	}
	for _, at := range e.profile {
		x := s.X(at)
		i := 0
		for i < len(s.Profile) && s.X(s.Profile[i].At) < x {
			i++
		}
		st := n.Profile(x)
		s.Profile = slices.Insert(s.Profile, i, spec.ProfileStation{At: at, Bass: down(st.Bass, false), Treble: down(st.Treble, false), Apex: math.Round(st.Apex*100) / 100})
	}
}

// down rounds to hundredths, or to ten thousandths of an inch.
func down(v float64, inch bool) float64 {
	if inch {
		return spec.Inch.Millimetres(math.Floor(spec.Inch.Of(v)*1e4+1e-6) / 1e4)
	}
	return math.Floor(v*100+1e-6) / 100
}

const (
	mostLowPlaces = 3    // low places that are given targets of their own, the lowest first
	mostStations  = 9    // depth targets or profile stations of a rescued spec
	mostMore      = 5    // of either that are more
	leastApart    = 15.0 // mm between two of them
)

// lowest returns the numbers of the stations whose back is below its target, the
// lowest first.
func (p *Progress) lowest(stations [][]Check) []int {
	lowest := make([]float64, len(stations))
	var order []int
	for i, checks := range stations {
		below := false
		for _, c := range checks {
			if c.Kind != readings.Width && c.Kind != readings.Girth {
				lowest[i] = math.Min(lowest[i], c.Wood)
				below = below || c.Status == Below
			}
		}
		if below {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(lowest[a], lowest[b]) })
	return order
}

// lowPlaces returns where more depth targets and profile stations may keep wood:
// at the lowest places, and at the readings on either side, to which a low spot
// is taken to run; and where there is none, where it is taken to run out.
func (p *Progress) lowPlaces() extras {
	s := p.Neck.Spec()
	stations := p.Stations()
	order := p.lowest(stations)
	end := p.Neck.End()
	if s.Heel != nil {
		end = s.X(s.Heel.Start)
	}
	step := 1.0 // of a place beside the stations, in mm
	if s.Units == spec.Inch {
		step = spec.MillimetresPerInch / 20
	}
	var low, beside []spec.Place
	for _, i := range order[:min(len(order), mostLowPlaces)] {
		low = append(low, stations[i][0].At)
		for _, side := range []int{-1, 1} {
			if k := i + side; k >= 0 && k < len(stations) {
				beside = append(beside, stations[k][0].At)
			} else {
				beside = append(beside, spec.AtX(math.Round((stations[i][0].X+float64(side)*runOut)/step)*step))
			}
		}
	}
	free := func(have []float64, least float64) []spec.Place {
		var out []spec.Place
		for _, at := range slices.Concat(low, beside) {
			x := s.X(at)
			if x < least || x > end || len(have) >= mostStations || len(out) >= mostMore || slices.ContainsFunc(have, func(h float64) bool { return math.Abs(h-x) < leastApart }) {
				continue
			}
			out, have = append(out, at), append(have, x)
		}
		return out
	}
	var depth, profile []float64
	for _, d := range s.Depth {
		depth = append(depth, s.X(d.At))
	}
	for _, q := range s.Profile {
		profile = append(profile, s.X(q.At))
	}
	return extras{depth: free(depth, 0), profile: free(profile, 0)}
}

// rescueDepths is Rescue without low widths: near the goal, inside what was
// found against the target of p.
func rescueDepths(p *Progress, goal *neck.Neck) (*Rescued, error) {
	plain, refused := newRescuer(p, goal, extras{}).search(nil)
	var none *NoRescue
	if refused != nil && !errors.As(refused, &none) {
		return nil, refused
	}
	// So much of the wood must all that may be added save, to be worth lines
	// that are less straight.
	const (
		worth  = 0.85
		little = 300 // mm³, which nobody weighs
	)
	all := p.lowPlaces()
	if plain != nil && (all.count() == 0 || plain.volume < little) {
		return plain, nil
	}
	best, err := newRescuer(p, goal, all).search(nil)
	if err != nil && plain == nil {
		all.width = true
		best, err = newRescuer(p, goal, all).search(nil)
	}
	switch {
	case err != nil && plain == nil:
		return nil, p.noDepths(goal, all, refused, err)
	case err != nil || plain != nil && best.volume > worth*plain.volume:
		return plain, nil
	}
	best, all = p.spared(goal, best, all)
	if all.count() > 0 {
		best.Notes = append(best.Notes, all.note(p.Neck.Spec(), plain == nil))
	}
	if all.width {
		best.Notes = append(best.Notes, "no depth and fullness stay inside the wood at the old width: the neck becomes narrower.")
	}
	return best, nil
}

// noDepths says why there is neither a plain target nor one with all extras.
func (p *Progress) noDepths(goal *neck.Neck, all extras, refused, last error) error {
	var none, more *NoRescue
	errors.As(refused, &none)
	if errors.As(last, &more) && more.judged {
		none = more
	}
	if !none.judged {
		return refused
	}
	return p.cause(none, func(q *Progress) bool {
		_, err := newRescuer(q, goal, all).search(nil)
		return err == nil
	})
}

// spared takes out those of the extras that can go: until the wood lost is so
// much more than with all of them.
func (p *Progress) spared(goal *neck.Neck, best *Rescued, all extras) (*Rescued, extras) {
	const (
		spare  = 1.05
		crumbs = 50 // mm³
	)
	most := spare*best.volume + crumbs
	for i := all.count() - 1; i >= 0; i-- {
		fewer := all.without(i)
		if fewer.count() == 0 && !fewer.width {
			break
		}
		r := newRescuer(p, goal, fewer)
		if out, err := r.search(r.start(best.Spec)); err == nil && out.volume <= most {
			best, all = out, fewer
		}
	}
	return best, all
}

// cause says which low spot is in the way of a target: the one without which
// there would be one, as `possible` finds, or else all of them together.
func (p *Progress) cause(why *NoRescue, possible func(*Progress) bool) *NoRescue {
	stations := p.Stations()
	rest := ""
	if !why.where {
		rest = " As near as one comes, " + why.Reason
	}
	var all []string
	for i, checks := range stations {
		var worst *Check
		for k := range checks {
			if c := &checks[k]; c.Status == Below && c.Kind != readings.Girth && (worst == nil || c.Wood < worst.Wood) {
				worst = c
			}
		}
		if worst == nil {
			continue
		}
		all = append(all, worst.Station)
		q := *p
		q.Checks = slices.Clone(p.Checks)
		for k := range q.Checks {
			if c := &q.Checks[k]; c.X == worst.X {
				c.Remaining, c.Wood, c.Status = math.Max(0, c.Remaining), math.Max(0, c.Wood), OnTarget
			}
		}
		if q.Count(Below) > 0 && !possible(&q) {
			continue
		}
		text := fmt.Sprintf("the low spot at %s, where %s (line %d) is %s below the target, leaves no depth, fullness and width that keep the rest of what is wanted; without it there would be a target.%s",
			worst.Station, p.Set.Label(worst.Reading), worst.Line, p.length(-worst.Remaining), rest)
		if i == 0 || i == len(stations)-1 {
			text += fmt.Sprintf(" Beyond %s nothing was read: the low spot is taken to run out over %s there, and a reading may show that it is shorter.", worst.Station, p.length(runOut))
		}
		return &NoRescue{Reason: text}
	}
	return &NoRescue{Reason: fmt.Sprintf("the low spots at %s together leave no depth, fullness and width that keep the rest of what is wanted.%s", listed(all), rest)}
}

// listed joins names with commas and an "and".
func listed(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// start returns the numbers that make the spec that was found with other extras,
// as far as it has the same stations.
func (r *rescuer) start(from *spec.Spec) []float64 {
	s := *r.spec
	s.Depth, s.Profile = slices.Clone(s.Depth), slices.Clone(s.Profile)
	for i := range s.Depth {
		for _, d := range from.Depth {
			if d.At == s.Depth[i].At {
				s.Depth[i].Total = d.Total
			}
		}
	}
	for i := range s.Profile {
		for _, q := range from.Profile {
			if q.At == s.Profile[i].At {
				s.Profile[i].Bass, s.Profile[i].Treble = q.Bass, q.Treble
			}
		}
	}
	s.Width, s.Heel, s.Volute, s.Headstock = from.Width, from.Heel, from.Volute, from.Headstock
	other := &rescuer{p: r.p, spec: &s, narrower: r.narrower}
	other.variables()
	return other.old
}

// note says what was added to a spec.
func (e extras) note(s *spec.Spec, needed bool) string {
	list := func(places []spec.Place) string {
		var names []string
		for _, at := range slices.SortedFunc(slices.Values(places), func(a, b spec.Place) int { return cmp.Compare(s.X(a), s.X(b)) }) {
			names = append(names, readings.PlaceLabel(at, s.Units))
		}
		return listed(names)
	}
	number := func(n int, what string) string {
		if n == 1 {
			return "one " + what + " more"
		}
		return fmt.Sprintf("%d %ss more", n, what)
	}
	var parts []string
	if n := len(e.depth); n > 0 {
		parts = append(parts, fmt.Sprintf("depth has %s, at %s", number(n, "target"), list(e.depth)))
	}
	if n := len(e.profile); n > 0 {
		parts = append(parts, fmt.Sprintf("profile has %s, at %s", number(n, "station"), list(e.profile)))
	}
	why := "more wood would be lost"
	if needed {
		why = "there is no way inside the wood"
	}
	return strings.Join(parts, "; ") + ": with the old ones alone " + why + "."
}
