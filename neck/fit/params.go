package fit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// limits returns what a spec allows for a key, or where a fit searches if that
// is less: lo and hi are its own.
func limits(key string, lo, hi float64) (least, most float64) {
	f := spec.Keys().Field(key)
	return math.Max(f.Min, lo), math.Min(f.Max, hi)
}

// Narrower than a spec allows: no neck that a hand measures is beyond, and the
// search is the steadier for it.
const (
	leastWidth = 5.0  // mm
	mostWall   = 15.0 // mm
)

// bounded returns a number of the neck that the readings can be asked for, a
// length, within the limits of its key.
func bounded(key string, lo, hi float64, p Param) Param {
	p.Key, p.Length = key, true
	p.Lo, p.Hi = limits(key, lo, hi)
	return p
}

// addParams adds the numbers that the readings can be asked for.
func (p *plan) addParams(m *model, targets, profiles []spec.Place) {
	s := m.spec
	m.spec.Wall = p.mean(readings.WallAt, s.Wall)
	m.spec.Board.Thickness = p.mean(readings.BoardAt, s.Board.Thickness)
	inf := math.Inf(1)
	if p.widthFitted() {
		m.params = append(m.params,
			bounded("width.nut", leastWidth, inf, Param{weak: 5, value: s.Width.Nut, Set: func(s *spec.Spec, v float64) { s.Width.Nut = v }}),
			bounded("width.end", leastWidth, inf, Param{weak: 10, value: s.Width.End, Set: func(s *spec.Spec, v float64) { s.Width.End = v }}))
	}
	if p.set.Count(readings.BoardAt) > 0 {
		m.params = append(m.params, bounded("board.thickness", 0, inf, Param{weak: 3, value: s.Board.Thickness,
			Set: func(s *spec.Spec, v float64) { s.Board.Thickness = v }}))
	}
	p.depthParams(m, targets)
	p.shapeParams(m, profiles)
	switch {
	case p.set.Count(readings.WallAt) > 0:
		m.params = append(m.params, bounded("wall.height", 0, mostWall, Param{weak: 5, value: s.Wall, Set: setWall}))
	case p.set.Count(readings.Point) >= 12:
		// A contour that is traced well tells where the curve begins.
		m.params = append(m.params, bounded("wall.height", 0, mostWall, Param{weak: 0.4, rank: 3, value: s.Wall, Set: setWall}))
	}
	if p.opts.Pose {
		m.params = append(m.params,
			Param{Length: true, Lo: -20, Hi: 20, weak: 5, rank: 5, pose: 1},
			Param{Lo: -0.05, Hi: 0.05, weak: 0.02, rank: 4, pose: 2})
	}
}

func setWall(s *spec.Spec, v float64) { s.Wall = v }

// mean returns the mean of the readings of a kind, or v where there are none.
func (p *plan) mean(k readings.Kind, v float64) float64 {
	sum, n := 0.0, 0.0
	for _, r := range p.set.Readings {
		if r.Kind == k {
			sum, n = sum+r.Value, n+1
		}
	}
	if n == 0 {
		return v
	}
	return sum / n
}

// thickness returns the total at x as the readings there have it.
func (p *plan) thickness(x float64) float64 {
	board := p.mean(readings.BoardAt, p.spec.Board.Thickness)
	if r := p.at(readings.Total, x); len(r) > 0 {
		return r[0].Value
	}
	if r := p.at(readings.Centre, x); len(r) > 0 {
		return r[0].Value // no more than the total, for the fit to begin with
	}
	if r := p.at(readings.Wood, x); len(r) > 0 {
		return r[0].Value + board
	}
	deepest := 0.0
	for _, r := range p.at(readings.Point, x) {
		deepest = math.Max(deepest, r.Value)
	}
	return deepest + board
}

func (p *plan) depthParams(m *model, places []spec.Place) {
	if len(places) == 0 {
		return
	}
	if n, err := neck.Draft(p.spec); err == nil && p.based && len(places) == 1 && p.opts.Targets == 0 {
		// One thickness does not tell the taper, but the base does.
		m.shift = true
		x := p.spec.X(places[0])
		was := slices.Clone(p.spec.Depth)
		m.params = append(m.params, bounded("depth[1].total", 0, math.Inf(1), Param{
			weak:  1.5,
			value: was[0].Total + p.thickness(x) - n.Depth(x) - p.spec.Board.Thickness,
			Set: func(s *spec.Spec, v float64) {
				for i := range s.Depth {
					s.Depth[i].Total = was[i].Total + v - was[0].Total
				}
			},
		}))
		return
	}
	m.spec.Depth = nil
	for i, at := range places {
		total := p.thickness(p.spec.X(at))
		m.spec.Depth = append(m.spec.Depth, spec.DepthTarget{At: at, Total: total})
		m.params = append(m.params, bounded(fmt.Sprintf("depth[%d].total", i+1), 0, math.Inf(1), Param{
			weak: 1.5, value: total,
			Set: func(s *spec.Spec, v float64) { s.Depth[i].Total = v },
		}))
	}
}

// shapeParams adds what the readings tell of the shape: fullness of each side
// and apex at each station; or one shape for the whole neck; or one fullness
// for both sides; or nothing, and says what is lacking.
func (p *plan) shapeParams(m *model, places []spec.Place) {
	if len(places) > 0 {
		var stations []spec.ProfileStation
		for _, at := range places {
			stations = append(stations, p.startShape(at))
		}
		m.spec.Profile = stations
		for i := range places {
			p.sideParam(m, i, "bass")
			p.sideParam(m, i, "treble")
			p.apexParam(m, i)
		}
		return
	}
	var bass, treble int
	for _, at := range p.stations(readings.Point) {
		n := p.shoulders(p.spec.X(at))
		bass, treble = bass+n[p.bass()], treble+n[p.treble()]
	}
	at := spec.AtFret(1)
	if near := p.stations(readings.Point, readings.Girth); len(near) > 0 {
		at = near[0]
	}
	start := p.startShape(at)
	girths := p.set.Count(readings.Girth)
	switch {
	case bass >= 3 && treble >= 3:
		m.spec.Profile = []spec.ProfileStation{start}
		p.sideParam(m, 0, "bass")
		p.sideParam(m, 0, "treble")
		p.apexParam(m, 0)
	case girths > 0 || bass > 0 && treble > 0:
		start.Bass = (start.Bass + start.Treble) / 2
		start.Treble, start.Apex = start.Bass, 0
		m.spec.Profile = []spec.ProfileStation{start}
		m.params = append(m.params, p.fullness("profile[1].both", start.Bass, func(s *spec.Spec, v float64) {
			s.Profile[0].Bass, s.Profile[0].Treble = v, v
		}))
	case bass >= 2:
		m.spec.Profile = []spec.ProfileStation{start}
		p.sideParam(m, 0, "bass")
	case treble >= 2:
		m.spec.Profile = []spec.ProfileStation{start}
		p.sideParam(m, 0, "treble")
	}
}

// startShape returns the shape that is kept at a station if nothing is known.
func (p *plan) startShape(at spec.Place) spec.ProfileStation {
	st := spec.ProfileStation{At: at, Bass: 2, Treble: 2}
	if p.based {
		if n, err := neck.Draft(p.spec); err == nil {
			st = n.Profile(p.spec.X(at))
			st.At = at
		}
	}
	return st
}

func (p *plan) fullness(key string, v float64, set func(*spec.Spec, float64)) Param {
	lo, hi := limits("profile.bass", 0, math.Inf(1)) // and the treble's
	return Param{Key: key, log: true, Lo: lo, Hi: hi, weak: math.Ln2, rank: 1, value: v, Set: set}
}

// sideParam adds the fullness of a side, "bass" or "treble", of a station.
func (p *plan) sideParam(m *model, i int, side string) {
	v := m.spec.Profile[i].Bass
	if side == "treble" {
		v = m.spec.Profile[i].Treble
	}
	m.params = append(m.params, p.fullness(fmt.Sprintf("profile[%d].%s", i+1, side), v, func(s *spec.Spec, v float64) {
		if side == "bass" {
			s.Profile[i].Bass = v
		} else {
			s.Profile[i].Treble = v
		}
	}))
}

func (p *plan) apexParam(m *model, i int) {
	st := m.spec.Profile[i]
	a := 0.6 * p.half(p.spec.X(st.At))
	m.params = append(m.params, Param{
		Key: fmt.Sprintf("profile[%d].apex", i+1), Length: true, Lo: -a, Hi: a, weak: 4, rank: 2, value: st.Apex,
		Set: func(s *spec.Spec, v float64) { s.Profile[i].Apex = v },
	})
}

// comment says with every key that was not fitted where it is from, and notes
// the shape where nothing is known of it.
func (p *plan) comment(r *Result, c *candidate) {
	s := c.model.spec
	if both, ok := r.comments["profile[1].both"]; ok {
		delete(r.comments, "profile[1].both")
		r.comments["profile[1].bass"] = both + " (one number for both sides)"
		r.comments["profile[1].treble"] = "as bass"
		p.notes = append(p.notes, fmt.Sprintf("the two sides cannot be told apart: one fullness is fitted for both and the apex is kept at 0. Trace a contour: 2 points or more a side at %s, %s and %s.",
			p.label(s.Profile[0].At), p.zone(p.bass(), s.X(s.Profile[0].At)), p.zone(p.treble(), s.X(s.Profile[0].At))))
	}
	for key, v := range p.source {
		r.comments[key] = v + " with the readings"
	}
	shaped := p.others(r, c)
	slices.SortStableFunc(r.Ranges, func(a, b Range) int { return keyOrder(a.Key) - keyOrder(b.Key) })
	if !shaped && len(c.weak) == 0 {
		first, last := spec.AtFret(1), spec.AtFret(12)
		p.notes = append(p.notes, fmt.Sprintf("the shape of the back cannot be told from these readings: it is %s. Trace contours at %s and %s, 2 points or more on each shoulder: at %s %s and %s.",
			map[bool]string{true: "kept from the base spec", false: "kept at the default, an ellipse (C)"}[p.based],
			p.label(first), p.label(last), p.label(first), p.zone(p.bass(), s.X(first)), p.zone(p.treble(), s.X(first))))
	}
	if p.set.Count(readings.WallAt) == 0 {
		if _, ok := c.weak["wall.height"]; !ok && p.set.Count(readings.Point) < 12 {
			p.notes = append(p.notes, fmt.Sprintf("the straight wall under the board is not measured: its height is kept at %s. Hold a rule to the side of the neck (kind wall).", s.Length(s.Wall)))
		}
	}
	for _, k := range []string{"limits.cover", "wood.species"} {
		r.comments[k] = p.kept()
	}
}

// kept says where a number is from that was not measured.
func (p *plan) kept() string {
	if p.based {
		return "kept from the base spec"
	}
	return "default, not measured"
}

// others adds the numbers that were not fitted to the ranges, and reports whether
// any number of the profile was fitted.
func (p *plan) others(r *Result, c *candidate) (shaped bool) {
	s := c.model.spec
	add := func(key string, value float64, length bool) {
		if source, ok := p.sourceOf(r, c, key); ok {
			if source != "given" {
				r.comments[key] = source
			}
			r.Ranges = append(r.Ranges, Range{Key: key, Value: value, Low: math.NaN(), High: math.NaN(), Length: length, Source: source})
		}
	}
	for i := range s.Profile {
		for _, k := range []string{"bass", "treble", "apex"} {
			_, fitted := r.comments[fmt.Sprintf("profile[%d].%s", i+1, k)]
			shaped = shaped || fitted
		}
	}
	eachNumber(s, add)
	return shaped
}

// sourceOf says where a number is from that was not fitted, and false of one that
// was.
func (p *plan) sourceOf(r *Result, c *candidate, key string) (string, bool) {
	source := p.kept()
	if _, ok := p.source[key]; ok {
		source = "given"
	} else if _, ok := r.comments[key]; ok {
		return "", false
	}
	switch {
	case c.model.shift && strings.HasPrefix(key, "depth"):
		source = "moved as depth[1] is"
	case source == p.kept() && c.held[key] && !p.based:
		source = "default, not determined"
	}
	return source, true
}

// fitted are the tables of a spec that readings can tell of, in the order of a
// spec file.
var fitted = []string{"scale", "width", "board", "depth", "profile", "wall"}

// eachNumber calls visit for every number of those tables that describes a neck.
func eachNumber(s *spec.Spec, visit func(key string, value float64, length bool)) {
	for _, t := range spec.Keys().Top.Tables {
		if !slices.Contains(fitted, t.Name) {
			continue
		}
		for i, row := range t.Rows.All(s) {
			for j := range t.Fields {
				f := &t.Fields[j]
				if f.Blank {
					continue // a wood's numbers
				}
				key := t.Path("", i) + "." + f.Key
				switch v := f.Value(row).(type) {
				case float64:
					visit(key, v, f.Kind == spec.KindLength)
				case int:
					visit(key, float64(v), false)
				}
			}
		}
	}
}

// keyOrder puts keys into the order of a spec file.
func keyOrder(key string) int {
	for i, k := range fitted {
		if strings.HasPrefix(key, k) {
			return i
		}
	}
	return 9
}

// describe names a key for a note.
func (p *plan) describe(c *candidate, key string) string {
	list, rest, ok := strings.Cut(key, "[")
	if !ok {
		return map[string]string{"wall.height": "the wall's height"}[key]
	}
	number, name, _ := strings.Cut(rest, "].")
	i := int(number[0]-'0') - 1
	if list == "profile" && len(number) == 1 && i < len(c.model.spec.Profile) {
		at := p.label(c.model.spec.Profile[i].At)
		switch name {
		case "apex":
			return "the apex at " + at
		case "both":
			return "the fullness"
		}
		return "the fullness of the " + name + " side at " + at
	}
	return key
}

// keptAt prints the value that a key was kept at.
func (p *plan) keptAt(c *candidate, key string) string {
	s := c.model.spec
	if key == "wall.height" {
		return s.Length(s.Wall)
	}
	i := p.index(key)
	if i >= len(s.Profile) {
		return "its default"
	}
	switch st := s.Profile[i]; {
	case strings.HasSuffix(key, "apex"):
		return s.Length(st.Apex)
	case strings.HasSuffix(key, "treble"):
		return fmt.Sprintf("%.3g", st.Treble)
	default:
		return fmt.Sprintf("%.3g", st.Bass)
	}
}

// index returns the place in its list of a key such as profile[2].bass.
func (p *plan) index(key string) int {
	i := 0
	if _, rest, ok := strings.Cut(key, "["); ok {
		fmt.Sscanf(rest, "%d", &i)
		i--
	}
	return i
}

// advice says what to measure for a key that was given up.
func (p *plan) advice(c *candidate, key string) string {
	s := c.model.spec
	if key == "wall.height" {
		return "Hold a rule to the side of the neck (kind wall)."
	}
	i := p.index(key)
	if i >= len(s.Profile) {
		return ""
	}
	at := s.Profile[i].At
	x := s.X(at)
	switch {
	case strings.HasSuffix(key, "bass"):
		return fmt.Sprintf("Measure 2 more points on the bass shoulder at %s, %s.", p.label(at), p.zone(p.bass(), x))
	case strings.HasSuffix(key, "treble"):
		return fmt.Sprintf("Measure 2 more points on the treble shoulder at %s, %s.", p.label(at), p.zone(p.treble(), x))
	}
	return fmt.Sprintf("Measure 2 more points on each shoulder at %s, %s and %s.", p.label(at), p.zone(p.bass(), x), p.zone(p.treble(), x))
}
