package progress

import (
	"fmt"
	"math"
	"slices"

	"neckloft/neck"
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
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		for _, d := range r.normals {
			out = append(out, sec.SupportAlong(side, d))
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
		remaining := remainingOf(n, &c)
		if remaining >= -1e-9 {
			continue
		}
		place = true
		note(slack-remaining, "the reading %s (line %d) is %s below the target, and no depth and fullness that keep the rest of what is wanted reach down to it", r.p.Set.Label(c.Reading), c.Line, r.p.length(-c.Remaining))
	}
	for k, x := range r.xs {
		sec := n.Section(x)
		j := 0
		for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
			for _, a := range r.dirs {
				h := sec.Support(side, a)
				place = true
				note(h-r.was[k][j], "no depth and fullness that keep the rest of what is wanted stay inside the carved wood near %s", n.Where(x))
				place = false
				if reach, in := n.ChannelSupport(x, side, a); in && r.limit > 0 {
					gap := h - reach
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
