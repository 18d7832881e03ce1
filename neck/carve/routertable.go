package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// NeckEnd is one of the neck's two ends.
type NeckEnd int

const (
	NutEnd NeckEnd = iota
	BodyEnd
)

// String names the end.
func (e NeckEnd) String() string { return [...]string{"nut end", "body end"}[e] }

// TableSetup is a router table as it is set up. The router hangs under the
// table and the bit comes up through it, its bearing on top; the neck lies with
// its flat back down, so that all heights count up from the table's surface.
// Lengths are in mm.
type TableSetup struct {
	// Half is how far the table reaches from the bit's axis along the feed; 0 is
	// a table that is longer than the neck on both sides.
	Half float64

	// Opening is the radius of the opening that the bit comes through; 0 = not
	// looked at.
	Opening float64

	// Screw is how far the screw that holds the bearing stands over it.
	Screw float64

	Guiding Guiding // what stands beside the bearing

	// Packing is the thickness of what lies between the flat back and the table,
	// at the stretch's ends and square to the glue plane; 0 for a neck that lies
	// on the table itself.
	Packing [2]float64

	// Wood returns how far the wood reaches below the glue plane at x beyond the
	// stretch, when its edges are rounded over; nil = the finished shape.
	Wood func(x float64) float64
}

// DefaultTable returns a table longer than the neck, nothing under and
// nothing on the neck, both ends at their finished shape. The bearing's screw is
// taken to stand 4 mm over it: common practice, no published source.
func DefaultTable() TableSetup { return TableSetup{Screw: 4} }

// Check refuses measures that no table has, or that do not go together; lengths
// in the message are in the unit u.
func (t TableSetup) Check(u spec.Unit) error {
	g := t.Guiding
	for _, c := range []struct {
		what      string
		v, lo, hi float64
		none      bool // 0 stands for none
	}{
		{"the table's reach from the bit's axis", t.Half, 20, 3000, true},
		{"the radius of the table's opening", t.Opening, 3, 200, true},
		{"the screw's height over the bearing", t.Screw, 0, 50, false},
		{"the template's thickness", g.Template, 0.5, 100, true},
		{"the template's overhang", g.Overhang, 0, 50, false},
		{"the tape's thickness", g.Tape, 0, 10, false},
		{"the packing's thickness at the nut end", t.Packing[NutEnd], 0, 200, false},
		{"the packing's thickness at the body end", t.Packing[BodyEnd], 0, 200, false},
	} {
		if c.none && c.v == 0 || c.v >= c.lo && c.v <= c.hi {
			continue
		}
		return fmt.Errorf("%s is %s; allowed: %s to %s", c.what, u.Format(c.v), u.Format(c.lo), u.Format(c.hi))
	}
	switch {
	case g.Overhang > 0 && g.Template == 0:
		return fmt.Errorf("an overhang of %s goes with a template; give the template's thickness too", u.Format(g.Overhang))
	case t.Half > 0 && t.Opening >= t.Half:
		return fmt.Errorf("the table's opening has a radius of %s and the table reaches only %s from the bit's axis; allowed: an opening within the table",
			u.Format(t.Opening), u.Format(t.Half))
	}
	return nil
}

// Plane returns the table's surface under a flat back.
func (t TableSetup) Plane(flat Taper) Plane {
	from, to := flat.DepthFrom+t.Packing[NutEnd], flat.DepthTo+t.Packing[BodyEnd]
	slope := (to - from) / flat.Length()
	return Plane{Nut: from - slope*flat.From, Slope: slope}
}

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

// TableFeed is which way the neck is pushed with one of its sides on the bit.
type TableFeed struct {
	Side  neck.Side
	Leads NeckEnd // the end of the neck that goes first

	// Towards is the sign of the way that the neck moves in x, nut to body.
	Towards float64
}

// feed returns which way to push the neck. The bit turns counterclockwise seen
// from above the table, with the neck's glue face up and its nut to the left.
// Its edge meets the bass side, which is on the bit's far side then, moving
// towards the nut, and the neck is pushed against that: body end first. Fed with
// the treble side on the bit everything is turned round.
//
// Feeding against the cutter's rotation is in any router's manual.
func feed(side neck.Side) TableFeed {
	if side == neck.Bass {
		return TableFeed{Side: side, Leads: BodyEnd, Towards: 1}
	}
	return TableFeed{Side: side, Leads: NutEnd, Towards: -1}
}

// Standing is what the neck stands on.
type Standing struct {
	From, To float64 // the part of the flat back that lies on the table or on the packing
	Packed   bool    // it lies on packing

	// Whole is the least width of the flat back before anything is cut, First
	// after one side and Second after both.
	Whole, First, Second float64

	// Packing is the greatest width that packing may have to stay clear of the
	// bit on both sides; 0 without packing.
	Packing float64

	At float64 // the station that decides: for Packing where there is some, or for Second
}

// SetTable works out the setting of a bit in a router table: the highest that
// leaves the allowance, or the given height if it is not NaN, reached in passes
// of the given step. The unit decides to what a height is rounded.
//
// What is wrong with the setting is in its Refusals. It is worked out all the
// same, but for a bit that the guide holds off the wood.
func SetTable(w Workpiece, t TableSetup, b Bit, allowance, height, step float64, u spec.Unit) TableSetting {
	s := TableSetting{Bit: t.Guiding.Held(b), Plane: t.Plane(w.Flat)}
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
		for _, h := range passHeights(w.first(&k, s.Plane), s.Height, step) {
			s.Passes = append(s.Passes, roundDown(u, h))
		}
		s.Passes[len(s.Passes)-1] = s.Height
	}
	for _, side := range []neck.Side{neck.Bass, neck.Treble} {
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

func (s *TableSetting) refuse(r Reason)  { s.Refusals = append(s.Refusals, r) }
func (s *TableSetting) caution(r Reason) { s.Cautions = append(s.Cautions, r) }

// stop bounds the travel of the axis. Where nothing lies beyond the stretch the
// bit runs out over the end of the wood.
func (s *TableSetting) stop(w Workpiece) {
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
func (w *Workpiece) way(from, to float64) []float64 {
	part := w.Stretch
	part.From, part.To = math.Max(part.From, from), math.Min(part.To, to)
	if part.Length() < 1e-6 {
		return []float64{part.From}
	}
	return stretchStations(w.Neck, part, 24)
}

// run follows the bearing along the way.
func (s *TableSetting) run(w Workpiece, t TableSetup) {
	xs := w.way(s.From, s.To)
	for _, x := range xs {
		s.Bearing = append(s.Bearing, t.Guiding.RunsAt(w.Neck, s.Plane, s.Bit, x, s.Height, w.Flat.Depth(x)))
	}
	if lost, any := t.Guiding.LosesAt(w, s.Plane, s.Bit, s.Height, xs, nil); any {
		s.refuse(lost)
	}
}

// stand works out what the neck stands on.
func (s *TableSetting) stand(w Workpiece, t TableSetup) {
	st := &s.Standing
	st.From, st.To = w.Stretch.From, w.Stretch.To
	st.Packed = t.Packing != [2]float64{}
	st.Whole, st.First, st.Second = math.Inf(1), math.Inf(1), math.Inf(1)
	clear, clearAt := math.Inf(1), 0.0
	k := w.cutter(s.Bit, s.Plane)
	for _, x := range w.way(s.From, s.To) {
		half := w.Neck.Width(x) / 2
		in := k.inward(w.Flat.Depth(x)-s.Plane.depth(x, s.Height), through)
		st.Whole = math.Min(st.Whole, 2*half)
		st.First = math.Min(st.First, 2*half-in)
		if v := 2 * (half - in); v < st.Second {
			st.Second, st.At = v, x
		}
		if v := 2 * (half - k.inward(s.Plane.Depth(x)-s.Plane.depth(x, s.Height), through)); v < clear {
			clear, clearAt = v, x
		}
	}
	width := st.Second
	if st.Packed {
		st.Packing = math.Max(0, clear)
		width, st.At = st.Packing, clearAt
	}
	switch {
	case width <= 0:
		s.refuse(NothingToStandOn{X: st.At, Packed: st.Packed})
	case width < narrowRidge:
		s.caution(NarrowStanding{X: st.At, Width: width, Packed: st.Packed})
	}
}

// inward returns how far from the guide's line the cut reaches at the depth
// below its arc's end, at most as far as its crown; 0 where it does not cut.
func (c *cutter) inward(depth float64, t travel) float64 {
	sin := depth / c.rise / c.Radius
	if sin < 0 {
		return 0
	}
	l, _ := c.arc(math.Asin(math.Min(1, sin)), t)
	return math.Max(0, l)
}

// first returns the height at which a cutter just touches the workpiece's flat
// back: from there the passes begin.
func (w *Workpiece) first(k *cutter, p Plane) float64 {
	least := math.Inf(1)
	beta, ok := k.begin(through)
	if !ok {
		return least
	}
	_, below := k.arc(beta, through)
	for _, x := range []float64{w.Stretch.From, w.Stretch.To} {
		least = math.Min(least, p.height(x, w.Flat.Depth(x)-below))
	}
	return least
}

// passHeights returns the heights of the passes from the first touch to the
// last, each a step deeper than the one before. A last pass too thin to cut
// would rub and burn: the one before it gives way.
func passHeights(first, last, step float64) []float64 {
	const thin = 0.5
	count := max(1, int(math.Ceil((last-first)/step-1e-6)))
	out := make([]float64, count)
	for i := range out {
		v := first + float64(i+1)*step
		switch i {
		case count - 1:
			v = last
		case count - 2:
			v = math.Max(math.Min(v, last-thin), v-step/2)
		}
		out[i] = v
	}
	return out
}

// cuts reports whether a cutter with its arc's end at the given height takes
// off anything of the workpiece.
func (w *Workpiece) cuts(k *cutter, p Plane, height float64) bool {
	for _, x := range []float64{w.Stretch.From, w.Stretch.To} {
		if k.inward(w.Flat.Depth(x)-p.depth(x, height), through) > 0.005 {
			return true
		}
	}
	return false
}
