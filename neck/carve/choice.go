package carve

import (
	"fmt"
	"math"
	"neckloft/neck/spec"
	"sort"
)

// Search is what a search for bits and offsets works with.
type Search struct {
	Work      Tapered
	Plane     Plane   // what the bit's height counts from, such as BackPlane
	Guiding   Guiding // without what the options add
	Allowance float64 // wood to leave over the target everywhere, mm
	Unit      spec.Unit

	// Keep returns how far a bit's axis stays off what lies beyond the stretch
	// with its arc's end at the given height: Bit.RadiusAbove on a table. With nil
	// it is half the bit's largest diameter.
	Keep func(b Bit, height float64) float64
}

// Choice is a bit with an offset at the best height that it has.
type Choice struct {
	Bit     Bit // its Offset is all that holds the arc off the neck's side
	Option  OffsetOption
	Guiding Guiding // with the option's

	Deepest  Deepest // what the target allows
	Height   float64 // as it is set, rounded to the side of the shallower cut
	Held     bool    // the bearing holds the height down, and not the target
	From, To float64 // travel of the axis

	Remaining float64 // wood over the target for the hand, mm³
	Share     float64 // of all that was over it
	Refusal   Reason  // why it cannot be used; nil if it can

	cut placed
}

// NoTemplate is an option that needs a template where there is none.
type NoTemplate struct{ Overhang float64 }

func (r NoTemplate) words(f phrase) string {
	return fmt.Sprintf("it needs a template, %s proud of the neck's side", f.length(r.Overhang))
}

// WideBearing is a bearing that holds a bit's arc off the wood.
type WideBearing struct{ Offset, Radius float64 }

func (r WideBearing) words(f phrase) string {
	return fmt.Sprintf("an offset of %s holds an arc of %s radius off the wood", f.length(r.Offset), f.length(r.Radius))
}

// Rank tries every bit with every offset, each at the greatest height that
// leaves the allowance and that the bearing keeps its guide at, and returns the
// choices: those that can be used first, by the wood that they leave, least
// first, and of those that leave the same the one that was given first.
func (s Search) Rank(bits []Bit, options []OffsetOption) []Choice {
	t := newTarget(&s.Work, s.Allowance)
	var out []Choice
	for _, b := range bits {
		for _, o := range options {
			out = append(out, s.choose(&t, b, o))
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		a, b := &out[i], &out[j]
		if (a.Refusal == nil) != (b.Refusal == nil) {
			return a.Refusal == nil
		}
		return a.Refusal == nil && a.Remaining < b.Remaining
	})
	return out
}

func (s *Search) choose(t *target, b Bit, o OffsetOption) Choice {
	c := Choice{Option: o, Guiding: o.Guiding(s.Guiding), Remaining: math.NaN(), Share: math.NaN()}
	b, fits := o.Fit(b)
	c.Bit = c.Guiding.Held(b)
	switch {
	case o.Overhang > 0 && s.Guiding.Template == 0:
		c.Refusal = NoTemplate{o.Overhang}
		return c
	case !fits || !(c.Bit.Offset < c.Bit.Radius):
		c.Refusal = WideBearing{c.Bit.Offset, c.Bit.Radius}
		return c
	}
	c.Deepest = t.deepest(s.Plane, c.Bit)
	height := c.Deepest.Height
	keeps := c.Guiding.Keeps(s.Work, s.Plane, c.Bit, s.Work.way(math.Inf(-1), math.Inf(1)))
	if keeps.Most < height {
		height, c.Held = keeps.Most, true
	}
	c.Height = roundDown(s.Unit, height)
	if c.Height < keeps.Least {
		lost, _ := c.Guiding.LosesAt(s.Work, s.Plane, c.Bit, c.Height, []float64{keeps.LeastAt}, nil)
		c.Refusal = lost
		return c
	}
	k := s.Work.cutter(c.Bit, s.Plane)
	if !s.Work.cuts(&k, s.Plane, c.Height) {
		c.Refusal = CutsNothing{c.Height}
		return c
	}
	st := s.Work.Stretch
	keep := c.Bit.BodyRadius()
	if s.Keep != nil {
		keep = s.Keep(b, c.Height) // tape and template make no bearing wider
	}
	c.From, c.To = st.From+keep, st.To-keep
	if st.FromWhat == "" {
		c.From = st.From - c.Bit.BodyRadius()
	}
	if st.ToWhat == "" {
		c.To = st.To + c.Bit.BodyRadius()
	}
	if c.From >= c.To {
		c.Refusal = NoRoom{Across: 2 * keep, Room: st.Length(), FromWhat: st.FromWhat, ToWhat: st.ToWhat}
		return c
	}
	c.cut = placed{k: k, plane: s.Plane, height: c.Height, from: c.From, to: c.To}
	left, before := s.Work.remaining([]placed{c.cut})
	c.Remaining = left
	if before > 0 {
		c.Share = left / before
	}
	return c
}

// ChoiceWords names a choice for a list: the bit, its offset, the height of its
// arc's end, and the share of the wood that it leaves for the hand. What the
// offset costs is in OffsetCost.
func ChoiceWords(c Choice, u spec.Unit) string {
	line := c.Bit.OfRadius(u) + ", " + OffsetWords(c.Option, u)
	if c.Refusal != nil {
		return line + ": refused"
	}
	return fmt.Sprintf("%s, arc's end at %s: leaves %.0f %%", line, u.Rounded(c.Height), 100*c.Share)
}
