package carve

import (
	"math"
	"sort"
)

// BitResult is what one bit does on this neck with the plan's options.
type BitResult struct {
	Bit       Bit
	Why       Refusal // why it cannot be used
	Height    float64 // as Setting.Height, leaving what was asked for
	Touch     Contact
	Ridge     [2]float64 // width of the back that remains flat, at the stretch's ends
	Straight  float64    // straight side that it cuts below the back, at most
	Stop      float64    // how far the axis stays off volute, nut and heel
	Remaining float64    // wood over the target in the stretch, mm³
	Share     float64    // of the wood between the flat back and the target
	Builder   bool       // the bit that was asked for
}

// Possible reports whether the bit can be used.
func (b *BitResult) Possible() bool { return !b.Why.Refused() }

// compareBits tries every common size, and the builder's own, in order of the
// radius.
func (g *rig) compareBits() []BitResult {
	var out []BitResult
	tapered, target := g.stretchVolume(g.tapered), g.stretchVolume(g.target)
	for _, b := range g.bitsToTry() {
		out = append(out, g.try(b, tapered, target))
	}
	return out
}

// bitsToTry returns the bits that the builder owns, or without those the common
// sizes with bearing and straight edge as the builder's; and the one that was
// asked for.
func (g *rig) bitsToTry() []Bit {
	own := g.Bit
	var bits []Bit
	for _, b := range g.Owned {
		if own.Radius == 0 || !b.same(own) {
			bits = append(bits, b)
		}
	}
	for _, c := range CommonBits() {
		if len(g.Owned) > 0 {
			break
		}
		b := own
		b.Radius, b.Name, b.Diameter = c.Radius, c.Name, 0
		if own.Radius == 0 || math.Abs(b.Radius-own.Radius) >= 0.005 {
			bits = append(bits, b)
		}
	}
	if own.Radius != 0 {
		bits = append(bits, own)
	}
	sort.SliceStable(bits, func(i, j int) bool { return bits[i].Radius < bits[j].Radius })
	return bits
}

// try returns what a bit does; the volumes are those of the stretch.
func (g *rig) try(b Bit, tapered, target float64) BitResult {
	res := BitResult{Bit: b, Builder: g.Bit.Radius != 0 && b.same(g.Bit)}
	if !(b.Offset < b.Radius) {
		res.Why = Refusal{Kind: RefusedBearing}
		return res
	}
	run, why := g.runOf(b)
	res.Why = why
	s := g.settle(b, g.allowance, false)
	res.Height, res.Touch = g.Reference.SafeHeight(g.Unit, s.Height), s.Touch
	k, room := g.cutter(b), g.dial(res.Height)
	removed := 0.0
	if res.Possible() {
		if removed = g.removedBy(&k, run, room); removed <= 0 {
			res.Why = Refusal{Kind: RefusedNoHeight}
		}
	}
	res.Remaining = tapered - removed - target
	if tapered > target {
		res.Share = res.Remaining / (tapered - target)
	}
	for i, x := range []float64{g.Stretch.From, g.Stretch.To} {
		c := g.cutAt(&k, everywhere, x, room)
		res.Ridge[i] = c.ridge()
		res.Straight = math.Max(res.Straight, c.step)
	}
	res.Stop = math.Max(b.BodyRadius(), g.Base)
	return res
}

// leastRemaining returns the bit that leaves least, or the first where none can
// be used.
func leastRemaining(bits []BitResult) Bit {
	best, least := bits[0].Bit, math.Inf(1)
	for _, b := range bits {
		if b.Possible() && b.Remaining < least {
			least, best = b.Remaining, b.Bit
		}
	}
	return best
}

// result returns the row of a bit.
func (r *RoundOver) result(b Bit) *BitResult {
	for i := range r.Bits {
		if r.Bits[i].Bit.same(b) {
			return &r.Bits[i]
		}
	}
	return nil
}

// even is how close what remains after two bits must be for neither to be
// called wrong.
const even = 1.05

// verdict says whether the bit is too big or too small for the profile.
func (r *RoundOver) verdict() Verdict {
	mine, best := r.result(r.Bit), r.result(r.Best)
	v := Verdict{Best: r.Best}
	if mine != nil {
		v.Touch, v.Share, v.Remaining = mine.Touch, mine.Share, mine.Remaining
	}
	if best != nil {
		v.BestRemaining = best.Remaining
	}
	switch {
	case !r.Possible() && r.Own:
		v.Kind = VerdictOwn // the height is to blame, or the room, and no other bit helps
	case !r.Possible():
		v.Kind = VerdictUnusable
		if mine == nil || best == nil || !best.Possible() {
			v.Best = Bit{}
		}
	case mine == nil || best == nil || mine.Remaining <= even*best.Remaining:
		v.Kind = VerdictSuits
		if mine != nil && mine.Share > 0.85 {
			v.Kind = VerdictLittleUse
		}
	case math.Abs(r.Best.Radius-r.Bit.Radius) < sameSize:
		v.Kind = VerdictOther
	case r.Best.Radius < r.Bit.Radius:
		v.Kind = VerdictTooBig
	default:
		v.Kind = VerdictTooSmall
	}
	return v
}
