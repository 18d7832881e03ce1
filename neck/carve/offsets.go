package carve

import (
	"fmt"
	"math"
	"neckloft/neck/spec"
	"sort"
	"strings"
)

// OffsetOption is a way to hold a bit's arc off the neck's side. Its fields may
// be used together. Lengths are in mm.
type OffsetOption struct {
	Bearing  float64 // diameter of another bearing; 0 = the bit's own
	Layers   int     // of tape on what the bearing runs on
	Layer    float64 // thickness of one of them
	Overhang float64 // how far a template stands out of the neck's side
}

// Guiding returns the guide with the option's tape and overhang.
func (o OffsetOption) Guiding(g Guiding) Guiding {
	g.Tape += float64(o.Layers) * o.Layer
	g.Overhang += o.Overhang
	return g
}

// Fit returns the bit with the option's bearing; false where that is no larger
// than the bearing's bore or as large as the arc's crown, so that nothing could
// be cut. Its Offset is the bearing's alone.
func (o OffsetOption) Fit(b Bit) (Bit, bool) {
	if o.Bearing != 0 {
		b.Offset = o.Bearing/2 - b.small()
	}
	return b, b.Offset < b.Radius
}

// CommonOffsets returns the offsets that can be had in most shops: bearings
// that are sold for bits, of inches and of millimetres; up to six layers of the
// tape whose thickness is given; and templates that stand out by half
// millimetres up to four. The sizes of bearings are from memory, common
// practice, no published source.
func CommonOffsets(tape float64) []OffsetOption {
	out := []OffsetOption{{}}
	for _, d := range []float64{0.375, 0.5, 0.625, 0.75, 0.875, 1, 1.125, 1.25, 1.375, 1.5} {
		out = append(out, OffsetOption{Bearing: d * spec.MillimetresPerInch})
	}
	for _, d := range []float64{13, 16, 19, 22, 26, 28, 32} {
		out = append(out, OffsetOption{Bearing: d})
	}
	if tape > 0 {
		for i := 1; i <= 6; i++ {
			out = append(out, OffsetOption{Layers: i, Layer: tape})
		}
	}
	for i := 1; i <= 8; i++ {
		out = append(out, OffsetOption{Overhang: float64(i) / 2})
	}
	return out
}

// OffsetWords names an option, lengths in the unit u.
func OffsetWords(o OffsetOption, u spec.Unit) string {
	var parts []string
	if o.Bearing != 0 {
		parts = append(parts, "a bearing "+u.Rounded(o.Bearing)+" across")
	}
	switch {
	case o.Layers == 1:
		parts = append(parts, "1 layer of tape")
	case o.Layers > 1:
		parts = append(parts, fmt.Sprintf("%d layers of tape", o.Layers))
	}
	if o.Overhang != 0 {
		parts = append(parts, "a template "+u.Rounded(o.Overhang)+" proud of the neck's side")
	}
	if parts == nil {
		return "the bit's own bearing"
	}
	return list(parts)
}

// OffsetCost says what an option costs the builder; "" where it costs nothing.
func OffsetCost(o OffsetOption, u spec.Unit) string {
	var parts []string
	if o.Bearing != 0 {
		parts = append(parts, "a bearing to buy, with the bit's bore")
	}
	if o.Layers > 0 {
		parts = append(parts, fmt.Sprintf("tape along both sides, %s in all, smooth and without a gap, and off again for work to the line; measure its thickness under the bearing's pressure",
			u.Rounded(float64(o.Layers)*o.Layer)))
	}
	if o.Overhang != 0 {
		parts = append(parts, fmt.Sprintf("a template of its own, %s larger than the outline on both sides, and the bearing on it all the way", u.Rounded(o.Overhang)))
	}
	return strings.Join(parts, "; ")
}

// Search is what a search for bits and offsets works with.
type Search struct {
	Work      Workpiece
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
	line := c.Bit.Label(u) + " radius, " + OffsetWords(c.Option, u)
	if c.Refusal != nil {
		return line + ": refused"
	}
	return fmt.Sprintf("%s, arc's end at %s: leaves %.0f %%", line, u.Rounded(c.Height), 100*c.Share)
}
