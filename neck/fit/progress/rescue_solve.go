package progress

import (
	"fmt"
	"math"
	"slices"

	"neckloft/neck"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// lay sets the numbers and returns the neck, or nil.
func (r *rescuer) lay(p []float64) *neck.Neck {
	for i := range r.params {
		r.params[i].Set(r.spec, p[i])
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

// values returns, station by station of the grid, the support of a neck in each
// direction and what the readings there leave.
func (r *rescuer) values(n *neck.Neck) []float64 {
	var out []float64
	for k, x := range r.xs {
		sec := n.Section(x)
		out = r.station(n, &sec, k, out)
	}
	return out
}

// station appends the values of a station of the grid.
func (r *rescuer) station(n *neck.Neck, sec *neck.Section, k int, out []float64) []float64 {
	for _, side := range []neck.Side{neck.Bass, neck.Treble} {
		for _, a := range r.dirs {
			out = append(out, sec.Support(side, a))
		}
	}
	for _, c := range r.at[k] {
		out = append(out, remainingOf(n, &c))
	}
	return out
}

// slopes returns the derivatives of the values by each number. Most numbers
// change a part of the neck only: where a section stays as it is they are zero.
func (r *rescuer) slopes(p, here []float64) [][]float64 {
	const step = -1e-5
	secs := make([]neck.Section, len(r.xs))
	n := r.lay(p)
	for k, x := range r.xs {
		secs[k] = n.Section(x)
	}
	out := make([][]float64, len(p))
	q := slices.Clone(p)
	var there []float64
	for k := range p {
		out[k] = make([]float64, len(here))
		q[k] = p[k] + step
		if n := r.lay(q); n != nil {
			i := 0
			for l, x := range r.xs {
				if sec := n.Section(x); sec != secs[l] {
					there = r.station(n, &sec, l, there[:0])
					for m, v := range there {
						out[k][i+m] = (v - here[i+m]) / step
					}
				}
				i += 2*len(r.dirs) + len(r.at[l])
			}
		}
		q[k] = p[k]
	}
	r.lay(p)
	return out
}

// conditions returns by how much each condition on the values and the numbers is
// met, negative where it is missed, and with slopes the row of each in the
// linear program; and the wood lost as the mean distance between the two
// surfaces in mm, with its slopes.
func (r *rescuer) conditions(n *neck.Neck, p, here []float64, slopes [][]float64) (met []float64, rows [][]float64, lost float64, cost []float64) {
	cost = make([]float64, len(slopes))
	put := func(v float64, i int, sign float64) {
		met = append(met, v)
		if slopes == nil {
			return
		}
		row := make([]float64, len(slopes))
		for k := range slopes {
			row[k] = sign * slopes[k][i]
		}
		rows = append(rows, row)
	}
	from, to, channel := n.Channel()
	i := 0
	for k, x := range r.xs {
		covered := channel && r.limit > 0 && x >= from && x <= to
		for j, goal := range r.goal[k] {
			share := r.face[k][j] / r.whole
			lost += share * (goal - here[i])
			for m := range slopes {
				cost[m] -= share * slopes[m][i]
			}
			put(r.was[k][j]-r.tight[k][j]-here[i], i, 1)
			if covered {
				// A little more, for the rounding.
				put(here[i]-neck.RodSupport(r.spec.Rod, r.dirs[j%len(r.dirs)])-r.limit-3*inside, i, -1)
			}
			i++
		}
		for range r.at[k] {
			put(here[i]-r.inside, i, 1)
			if slopes != nil {
				for m := range slopes {
					rows[len(rows)-1][m] = -slopes[m][i]
				}
			}
			i++
		}
	}
	number := func(v float64, signs map[int]float64) {
		met = append(met, v)
		if slopes != nil {
			row := make([]float64, len(slopes))
			for k, sign := range signs {
				row[k] = sign
			}
			rows = append(rows, row)
		}
	}
	for k := range p {
		number(r.old[k]-p[k], map[int]float64{k: 1})
		number(p[k]-r.least[k], map[int]float64{k: -1})
	}
	if r.grows && r.depths > 0 {
		for k := 1; k < r.depths; k++ {
			number(p[k]-p[k-1], map[int]float64{k - 1: 1, k: -1})
		}
	}
	return met, rows, lost, cost
}

// remainingOf returns what a reading leaves over another neck.
func remainingOf(n *neck.Neck, c *Check) float64 {
	p := Progress{Neck: n, Set: &readings.Set{}}
	d := p.check(c.Reading, c.X)
	return d.Remaining
}

// price is what a millimetre of a condition that is missed costs, in mm of the
// mean distance: more than it can save.
const price = 50

// nearest returns the numbers that lose least wood of those that meet the
// conditions, or that miss them least, by a sequence of linear programs, each
// trusted as far as the one before held (Fletcher and Sainz de la Maza 1989).
func (r *rescuer) nearest(p []float64) ([]float64, bool) {
	const (
		most = 40
		done = 2e-5 // mm of the mean distance: a cubic millimetre or two
	)
	reach := make([]float64, len(p))
	for k := range reach {
		reach[k] = 0.3
	}
	judge := func(met []float64, lost float64) float64 {
		return lost + price*math.Max(0, -slices.Min(met))
	}
	n := r.lay(p)
	if n == nil {
		return nil, false
	}
	here := r.values(n)
	trust := 1.0
	for it := 0; it < most; {
		slopes := r.slopes(p, here)
		met, rows, lost, cost := r.conditions(n, p, here, slopes)
		now := judge(met, lost)
		moved := false
		for ; it < most && trust > 1e-4; it++ {
			l := linearProgram{cost: cost, reach: make([]float64, len(p)), dear: price}
			for k := range reach {
				l.reach[k] = reach[k] * trust
			}
			// Only conditions within reach bind.
			for i, row := range rows {
				far := 0.0
				for k, v := range row {
					far += math.Abs(v) * l.reach[k]
				}
				if met[i] < far {
					l.rows, l.slack = append(l.rows, row), append(l.slack, met[i])
				}
			}
			d := l.solve(done / 2)
			q := slices.Clone(p)
			promised, missed := lost, 0.0
			for k := range q {
				q[k] += d[k]
				promised += cost[k] * d[k]
			}
			for i, row := range l.rows {
				v := l.slack[i]
				for k := range row {
					v -= row[k] * d[k]
				}
				missed = math.Max(missed, -v)
			}
			gain := now - promised - price*missed
			if gain < done {
				return p, true
			}
			if m := r.lay(q); m != nil {
				there := r.values(m)
				got, _, loss, _ := r.conditions(m, q, there, nil)
				if won := now - judge(got, loss); won > 0.1*gain {
					p, n, here, moved = q, m, there, true
					if won > 0.7*gain {
						trust = math.Min(3*trust, 10)
					}
					it++
					break
				}
			}
			trust *= 0.3
		}
		if !moved {
			break
		}
	}
	return p, true
}

// solve finds the nearest target for the limit.
func (r *rescuer) solve(from []float64) (*Rescued, error) {
	p := slices.Clone(r.old)
	if from != nil {
		p = slices.Clone(from)
	}
	p, ok := r.nearest(p)
	if !ok {
		return nil, &NoRescue{Reason: "the spec itself cannot be varied"}
	}
	r.lay(p)
	// Rounded down, which stays inside; but not where nothing changed.
	for k := range p {
		if r.old[k]-p[k] < 0.002 {
			p[k] = r.old[k]
		} else {
			p[k] = down(p[k], r.params[k].Length && r.spec.Units == spec.Inch)
		}
	}
	r.last = p
	if err := r.judge(p); err != nil {
		return nil, err
	}
	n := r.lay(p)
	if n == nil {
		return nil, &NoRescue{Reason: "what would have to come off makes no neck any more"}
	}
	sp := *r.spec
	sp.Depth, sp.Profile = slices.Clone(sp.Depth), slices.Clone(sp.Profile)
	for i := range sp.Profile {
		q := &sp.Profile[i]
		if f, ok := spec.ShapeFullness(q.Shape); ok && q.Bass != f && q.Treble != f {
			q.Shape = ""
		}
	}
	_, problems := neck.Check(&sp)
	if err := problems.Err(); err != nil {
		return nil, &NoRescue{Reason: "the nearest one cannot be made: " + err.Error()}
	}
	out := &Rescued{Spec: &sp, Cover: math.NaN(), p: p}
	if c, _, ok := n.LeastCover(); ok {
		out.Cover = c
	}
	for k, q := range r.params {
		if p[k] != r.old[k] {
			out.Changes = append(out.Changes, Change{q.Key, r.old[k], p[k], q.Length})
		}
	}
	for k, x := range r.xs {
		for j, h := range r.supports(n, x) {
			out.Moved = math.Max(out.Moved, r.goal[k][j]-h)
			out.volume += (r.goal[k][j] - h) * r.face[k][j]
		}
	}
	return out, nil
}

// judge returns a NoRescue if p does not meet the conditions, naming the one
// that it misses most.
func (r *rescuer) judge(p []float64) error {
	n := r.lay(p)
	if n == nil {
		return &NoRescue{Reason: "what would have to come off makes no neck any more"}
	}
	const slack = 0.003 // mm, where places between readings are concerned
	place := false      // of what is noted next
	worst, text, where := slack, "", false
	note := func(miss float64, format string, args ...any) {
		if miss > worst {
			worst, text = miss, fmt.Sprintf(format, args...)
			where = place
		}
	}
	for _, c := range r.low {
		left := remainingOf(n, &c)
		if left >= -1e-9 {
			continue
		}
		place = true
		note(slack-left, "the reading %s (line %d) is %s below the target, and no depth and fullness that keep the rest of what is wanted reach down to it", r.p.Set.Label(c.Reading), c.Line, r.p.length(-c.Remaining))
	}
	from, to, channel := n.Channel()
	for k, x := range r.xs {
		sec := n.Section(x)
		j := 0
		for _, side := range []neck.Side{neck.Bass, neck.Treble} {
			for _, a := range r.dirs {
				h := sec.Support(side, a)
				place = true
				note(h-r.was[k][j], "no depth and fullness that keep the rest of what is wanted stay inside the carved wood near %s", n.Where(x))
				place = false
				if channel && r.limit > 0 && x >= from && x <= to {
					gap := h - neck.RodSupport(r.spec.Rod, a)
					note(r.limit-gap, "inside the carved wood the cover over the channel near %s comes to less than %s, which is wanted ([limits] cover)", n.Where(x), r.p.length(r.asked))
				}
				j++
			}
		}
	}
	for k := range p {
		if q := r.params[k]; q.Length {
			note(r.least[k]-p[k], "%s would have to go below %s, much less than it is to be", q.Key, r.p.length(r.least[k]))
		} else {
			note(r.least[k]-p[k], "%s would have to go below %.3g, the slimmest shoulder that a new target is given", q.Key, r.least[k])
		}
	}
	for k := 1; r.grows && k < len(r.spec.Depth); k++ {
		note(r.spec.Depth[k-1].Total-r.spec.Depth[k].Total, "the thickness would have to shrink towards the body at %s", r.spec.Label(r.spec.Depth[k].At))
	}
	r.miss = worst - slack
	if text != "" {
		return &NoRescue{Reason: text + ".", judged: true, where: where}
	}
	return nil
}

// tighten asks for a little more where the numbers that were found miss what is
// wanted, as rounding lets them do: a target that is rounded down may lift the
// line between the next two.
func (r *rescuer) tighten() {
	n := r.lay(r.last)
	if n == nil {
		return
	}
	for k, x := range r.xs {
		for j, h := range r.supports(n, x) {
			if over := h - r.was[k][j]; over > 0 {
				r.tight[k][j] += over + 0.002
			}
		}
	}
	for i := range r.low {
		if remainingOf(n, &r.low[i]) < 0 {
			r.inside += inside
			break
		}
	}
}
