package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// TableSetting is one height of a bit in a router table and what follows from
// it. Heights count up from the table's surface; below it they are negative.
type TableSetting struct {
	Bit   Bit   // its Offset with what the guide adds
	Plane Plane // the table's surface

	// Deepest is the greatest height that the target allows with nothing left
	// on it, and Leaves the one that leaves the allowance.
	Deepest, Leaves Deepest

	// Height is the arc's end, as it is set: Leaves, rounded to what can be
	// dialled to the side of the shallower cut, or the height that was asked for.
	Height     float64
	Crown      float64 // of the arc
	BearingTop float64 // the bearing's foot is at the arc's end
	Tip        float64 // of the screw over the bearing

	// Above is the largest radius of the bit over the table's surface, which
	// decides how near it comes to what lies beyond the stretch.
	Above    float64
	From, To float64     // travel of the bit's axis, in x
	Stops    []TableStop // none where the bit runs out over both ends

	Passes   []float64    // heights of the arc's end, one after the other, the last Height
	Feeds    [2]TableFeed // by side
	Standing Standing
	Bearing  []BearingAt // along the way, the first and last where the axis stops

	// Refusals say why the table cannot be used so; Cautions what to mind.
	Refusals, Cautions []Reason
}

// TableStop is a mark at which the bit's axis has to stop, the same on both
// sides of the neck.
type TableStop struct {
	End     NeckEnd
	Feature string  // what lies beyond: "volute", "nut", "heel"
	Limit   float64 // x that no part of the bit over the table may pass
	Axis    float64 // x of the bit's axis there
}

// SetTable works out the setting of a bit in a router table: the highest that
// leaves the allowance, or the given height if it is not NaN, reached in passes
// of the given step. The unit decides to what a height is rounded.
//
// What is wrong with the setting is in its Refusals. It is worked out all the
// same, but for a bit that the guide holds off the wood.
func SetTable(w Tapered, t TableSetup, b Bit, allowance, height, step float64, u spec.Unit) TableSetting {
	s := TableSetting{Bit: t.Guiding.Held(b), Plane: t.Plane(w.Taper)}
	if !(s.Bit.Offset < s.Bit.Radius) {
		s.refuse(WideBearing{s.Bit.Offset, s.Bit.Radius})
		return s
	}
	s.Deepest = DeepestHeight(w, s.Plane, s.Bit, 0)
	s.Leaves = s.Deepest
	if allowance > 0 {
		s.Leaves = DeepestHeight(w, s.Plane, s.Bit, allowance)
	}
	s.Height = roundDown(u, s.Leaves.Height)
	if !math.IsNaN(height) {
		s.Height = height
		if over := height - s.Deepest.Height; over > 1e-6 {
			s.refuse(TooHigh{Height: height, Over: over, Deepest: s.Deepest})
		}
	}
	s.Crown = s.Height - b.Radius
	s.BearingTop = s.Height + b.BearingHeight
	s.Tip = s.BearingTop + t.Screw
	s.Above = b.RadiusAbove(s.Height) // tape and template make no bearing wider
	if t.Opening > 0 && t.Opening < s.Bit.radiusAt(s.Height) {
		s.refuse(SmallOpening{Radius: t.Opening, Needed: s.Bit.radiusAt(s.Height)})
	}
	if k := w.cutter(s.Bit, s.Plane); !w.cuts(&k, s.Plane, s.Height) {
		s.refuse(CutsNothing{Height: s.Height})
	} else {
		s.pass(w, t, passHeights(w.first(&k, s.Plane), s.Height, step), u)
	}
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		s.Feeds[side] = feed(side)
	}
	s.stop(w)
	s.run(w, t)
	s.stand(w, t)
	for _, f := range t.fouls(w, s.Plane, s.From, s.To, s.Above) {
		s.refuse(f)
	}
	return s
}

// pass takes the passes of the given heights. With a template that stands proud
// none may be so low that the bearing runs under it: it would fall back onto the
// neck's side, and the bit would cut in farther than the template allows.
func (s *TableSetting) pass(w Tapered, t TableSetup, heights []float64, u spec.Unit) {
	least := math.Inf(-1)
	if t.Guiding.proud() > 0 {
		least = t.Guiding.Keeps(w, s.Plane, s.Bit, w.way(math.Inf(-1), math.Inf(1))).Least
	}
	for i, h := range heights {
		if i == len(heights)-1 {
			h = s.Height
		} else if h = roundDown(u, h); h < least {
			continue
		}
		s.Passes = append(s.Passes, h)
	}
	if len(s.Passes) < len(heights) {
		s.caution(DeepFirst{Height: s.Passes[0]})
	}
}

func (s *TableSetting) refuse(r Reason)  { s.Refusals = append(s.Refusals, r) }
func (s *TableSetting) caution(r Reason) { s.Cautions = append(s.Cautions, r) }

// stop bounds the travel of the axis. Where nothing lies beyond the stretch the
// bit runs out over the end of the wood.
func (s *TableSetting) stop(w Tapered) {
	st := w.Stretch
	ends := [2]struct {
		limit, sign float64
		what        string
	}{{st.From, 1, st.FromWhat}, {st.To, -1, st.ToWhat}}
	axis := [2]float64{}
	for end, e := range ends {
		if e.what == "" {
			axis[end] = e.limit - e.sign*s.Above
			s.caution(RunsOut{End: NeckEnd(end), Beyond: s.Above})
			continue
		}
		axis[end] = e.limit + e.sign*s.Above
		s.Stops = append(s.Stops, TableStop{End: NeckEnd(end), Feature: e.what, Limit: e.limit, Axis: axis[end]})
	}
	s.From, s.To = axis[NutEnd], axis[BodyEnd]
	if s.From >= s.To {
		s.refuse(NoRoom{Across: 2 * s.Above, Room: st.Length(), FromWhat: st.FromWhat, ToWhat: st.ToWhat})
		s.Stops = nil
		s.From = (st.From + st.To) / 2
		s.To = s.From
	}
}

// way returns stations over the part of the stretch between two places of the
// axis, both ends among them.
func (w *Tapered) way(from, to float64) []float64 {
	part := w.Stretch
	part.From, part.To = math.Max(part.From, from), math.Min(part.To, to)
	if part.Length() < 1e-6 {
		return []float64{part.From}
	}
	return stretchStations(w.Neck, part, 24)
}

// run follows the bearing along the way.
func (s *TableSetting) run(w Tapered, t TableSetup) {
	xs := w.way(s.From, s.To)
	for _, x := range xs {
		s.Bearing = append(s.Bearing, t.Guiding.RunsAt(w.Neck, s.Plane, s.Bit, x, s.Height, w.Taper.Depth(x)))
	}
	if lost, any := t.Guiding.LosesAt(w, s.Plane, s.Bit, s.Height, xs, nil); any {
		s.refuse(lost)
	}
}
