package carve

import (
	"math"
	"slices"
	"sort"
)

// searchBits returns what a plan's search tries: the bit that was asked for, or
// all that there are.
func (o *Options) searchBits() []Bit {
	if o.Bit.Radius != 0 {
		return []Bit{o.Bit}
	}
	g := rig{Router: o.Router}
	return g.bitsToTry()
}

// search returns the search for bits and offsets with the plan's tools.
func (p *Plan) search() Search {
	o := &p.Options
	s := Search{Work: p.Tapered, Plane: o.Router.plane(p.Tapered), Guiding: o.Router.guiding(), Allowance: o.Allowance, Unit: o.Unit}
	if o.Mode == ModeTable {
		s.Keep = Bit.RadiusAbove
		return s
	}
	s.Keep = func(b Bit, _ float64) float64 { return math.Max(b.BodyRadius(), o.Base) }
	return s
}

// choose ranks bits and offsets, and gives the options the best of them.
func (p *Plan) choose() {
	o := &p.Options
	if o.Offsets == nil && !(o.Mode == ModeTable && o.Bit.Radius == 0) {
		return
	}
	offsets := o.Offsets
	if len(offsets) == 0 {
		offsets = []OffsetOption{{}}
	}
	s := p.search()
	p.Choices = s.Rank(o.searchBits(), offsets)
	if o.Mode == ModeTable {
		p.sift()
	}
	if o.Offsets != nil {
		p.Pairs = s.RankPairs(p.Choices, mostPairs)
		if o.Mode == ModeTable {
			p.Pairs = slices.DeleteFunc(p.Pairs, func(t TwoPass) bool {
				return p.tableRefuses(&t.First) != nil || p.tableRefuses(&t.Second) != nil
			})
		}
	}
	best := p.Choices[0]
	if best.Refusal != nil {
		// A router table says itself what is wrong with a bit as it is.
		if o.Offsets != nil {
			p.none = best.Refusal
		}
		if o.Bit.Radius == 0 {
			o.Bit = best.bare()
		}
		return
	}
	p.Choice = &p.Choices[0]
	if o.Mode == ModeTable {
		o.Bit, o.Setup.Guiding = best.bare(), best.Guiding
		if best.Held && math.IsNaN(o.Height) {
			p.held = best.Height
		}
		return
	}
	o.Bit = best.Bit
	if best.Guiding.proud() > 0 {
		r := best.Guiding.Keeps(s.Work, s.Plane, best.Bit, s.Work.way(math.Inf(-1), math.Inf(1)))
		if o.Reference == ReferenceBench { // a room counts from the glue plane
			crown := -s.Plane.Nut
			r.Least, r.Most = r.Least+crown, r.Most+crown
		}
		o.keeps = &r
	}
}

// bare returns a choice's bit without what tape and template add to its offset:
// a table does that.
func (c *Choice) bare() Bit {
	b := c.Bit
	b.Offset -= c.Guiding.Offset()
	return b
}

// sift refuses the best choices that the table itself does not take, such as a
// bit that leaves the neck nothing to stand on, until one is left that it takes.
// An end of the wood that fouls it does so with every bit.
func (p *Plan) sift() {
	for i := range p.Choices {
		c := &p.Choices[i]
		if c.Refusal != nil {
			break
		}
		r := p.tableRefuses(c)
		if r == nil {
			break
		}
		c.Refusal, c.Remaining, c.Share = r, math.NaN(), math.NaN()
	}
	sort.SliceStable(p.Choices, func(i, j int) bool {
		return p.Choices[i].Refusal == nil && p.Choices[j].Refusal != nil
	})
}

// tableRefuses returns why the table does not take a choice, whatever the ends of
// the wood are like; nil if it does.
func (p *Plan) tableRefuses(c *Choice) Reason {
	o, setup := &p.Options, p.table()
	setup.Guiding = c.Guiding
	t := SetTable(p.Tapered, setup, c.bare(), o.Allowance, c.Height, o.Step, o.Unit)
	for _, r := range t.Refusals {
		if _, foul := r.(Foul); !foul {
			return r
		}
	}
	return nil
}

// mostPairs is as many pairs of settings as a plan ranks.
const mostPairs = 10

// ChoiceHeight returns a choice's height as it is dialled, counted as the plan
// counts.
func (p *Plan) ChoiceHeight(c *Choice) float64 {
	if p.Options.Reference.onRails() {
		return -c.Height + 0 // not -0
	}
	return c.Height
}
