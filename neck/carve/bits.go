package carve

import (
	"fmt"
	"math"
	"sort"
)

// BitResult is what one bit does on this neck with the plan's options.
type BitResult struct {
	Bit       Bit
	Possible  bool
	Why       string  // why not
	Height    float64 // as Setting.Height, leaving what was asked for
	Touch     Contact
	Ridge     [2]float64 // width of the flat left of the back, at the stretch's ends
	Step      float64    // straight shoulder below the back, at most
	Stop      float64    // how far the axis stays off volute, nut and heel
	Remaining float64    // wood over the target in the stretch, mm³
	Share     float64    // of the wood between the flat back and the target
	Builder   bool       // the bit that was asked for
}

// compareBits tries every common size and the builder's own, and finds the
// one that leaves least.
func (p *Plan) compareBits() {
	o := p.Options
	bits := CommonBits()
	for i := range bits {
		b := o.Bit
		b.Radius, b.Name, b.Diameter = bits[i].Radius, bits[i].Name, 0
		bits[i] = b
	}
	if o.Bit.Radius != 0 {
		own := o.Bit
		kept := bits[:0]
		for _, b := range bits {
			if math.Abs(b.Radius-own.Radius) >= 0.005 {
				kept = append(kept, b)
			}
		}
		bits = append(kept, own)
		sort.SliceStable(bits, func(i, j int) bool { return bits[i].Radius < bits[j].Radius })
	}
	tapered, target := p.stretchVolume(p.tapered), p.stretchVolume(p.target)
	p.Round.Best = bits[0]
	least := math.Inf(1)
	for _, b := range bits {
		res := BitResult{Bit: b, Builder: o.Bit.Radius != 0 && b.Radius == o.Bit.Radius}
		if !(b.Offset < b.Radius) {
			res.Why = "the bearing holds the arc off the wood"
			p.Bits = append(p.Bits, res)
			continue
		}
		r := RoundOver{Bit: b}
		p.planStops(&r)
		p.bands(&r)
		res.Possible, res.Why = r.Possible, r.Why
		s := p.settle(b, o.Leave, false)
		res.Height, res.Touch = p.SafeHeight(p.Neck.Spec().Units, s.Height), s.Touch
		k := p.cutter(b)
		room := p.dial(res.Height)
		removed := 0.0
		if r.Possible {
			removed = p.removedBy(&k, &r, room)
		}
		if r.Possible && removed <= 0 {
			res.Possible, res.Why = false, "no height of it takes off anything and stays clear of the target"
		}
		res.Remaining = tapered - removed - target
		if tapered > target {
			res.Share = res.Remaining / (tapered - target)
		}
		open := RoundOver{From: math.Inf(-1), To: math.Inf(1)}
		for i, x := range []float64{p.Stretch.From, p.Stretch.To} {
			c := p.cutAt(&k, &open, x, room)
			res.Ridge[i] = c.ridge()
			res.Step = math.Max(res.Step, c.step)
		}
		res.Stop = math.Max(b.BodyRadius(), o.Base)
		if res.Possible && res.Remaining < least {
			least = res.Remaining
			p.Round.Best = b
		}
		p.Bits = append(p.Bits, res)
	}
}

// result returns the row of a bit.
func (p *Plan) result(b Bit) *BitResult {
	for i := range p.Bits {
		if math.Abs(p.Bits[i].Bit.Radius-b.Radius) < 0.005 {
			return &p.Bits[i]
		}
	}
	return nil
}

// even is how close the wood left by two bits must be for neither to be
// called wrong.
const even = 1.05

// judgeBit says whether the bit is too big or too small for the profile.
func (p *Plan) judgeBit(r *RoundOver) {
	n := p.Neck
	k := p.cutter(r.Bit)
	room := p.dial(r.Setting.Height)
	r.Contact = math.Inf(1)
	open := RoundOver{From: math.Inf(-1), To: math.Inf(1)}
	guide := 0.0
	if p.Options.Guide == GuideTemplate {
		guide = p.Options.Template
	}
	for _, x := range []float64{p.Stretch.From, p.Stretch.To} {
		c := p.cutAt(&k, &open, x, room)
		r.Step = math.Max(r.Step, c.step)
		r.Contact = math.Min(r.Contact, math.Min(r.Bit.BearingHeight, c.level+guide))
	}
	if r.Possible {
		tapered, target := p.stretchVolume(p.tapered), p.stretchVolume(p.target)
		r.Remaining = tapered - target - p.removedBy(&k, r, room)
	}
	u := n.Spec().Units
	mine, best := p.result(r.Bit), p.result(r.Best)
	switch {
	case !r.Possible && r.Own:
		r.Verdict = r.Why // the height is to blame, or the room, and no other bit helps
		return
	case !r.Possible:
		r.Verdict = "this bit cannot be used: " + r.Why
		if mine == nil || best == nil || !best.Possible {
			return
		}
	case mine == nil || best == nil || mine.Remaining <= even*best.Remaining:
		r.Verdict = "the bit suits this profile: no common size leaves much less"
		if mine != nil && mine.Share > 0.85 {
			r.Verdict = fmt.Sprintf("no common size is of much use on this profile: this one takes off %.0f %% of what has to go; carve by flats",
				100*(1-mine.Share))
		}
		return
	case r.Best.Radius < r.Bit.Radius:
		r.Verdict = fmt.Sprintf("the bit is too big for this profile: %s, and its arc stays far off the rest of the shoulder", touchWords(mine.Touch))
	default:
		r.Verdict = fmt.Sprintf("the bit is too small for this profile: %s, and it leaves the wood beyond its reach", touchWords(mine.Touch))
	}
	r.Verdict += fmt.Sprintf("; %s radius leaves least of the common sizes, %.1f cm3", r.Best.Label(u), best.Remaining/1e3)
	if r.Possible {
		r.Verdict += fmt.Sprintf(" where this one leaves %.1f cm3", mine.Remaining/1e3)
	}
}

func touchWords(c Contact) string {
	switch c {
	case ContactSide:
		return "only the lower end of its arc comes close, at the neck's side"
	case ContactCrown:
		return "only its crown comes close"
	case ContactLimits:
		return "its own height stops it"
	}
	return "only one point of its arc comes close"
}
