package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Setting is one height of the bit and what decides it.
type Setting struct {
	// Height is what is dialled on the tool.
	//
	// With ReferenceBack it is how far the end of the arc, where the cutting
	// edge becomes vertical just over the bearing, stands out of the base plate
	// that rests on the flat back. With ReferenceGlue it is the height of that
	// end over the glue plane, towards the back. The first grows, and the second
	// falls, as the cut gets deeper.
	Height float64

	X     float64 // station that decides
	Side  neck.Side
	Touch Contact
	Y     float64 // of the point of contact
	Why   string  // what limits the setting, in words
}

// Pass is one setting on the way to the last.
type Pass struct {
	Height  float64 // as Setting.Height
	Edge    float64 // depth of the cut at the neck's side where the back is deepest
	Removed float64 // wood that the pass takes off, mm³
}

// RoundOver is the routing of the back's edges with one bit.
type RoundOver struct {
	Bit      Bit
	Possible bool
	Why      string // why it is not

	Greatest Setting // touches the target: never beyond
	Setting  Setting // leaves what was asked for
	Own      bool    // Setting is the builder's
	Passes   []Pass

	// Stops bound the travel of the bit's axis.
	Stops []Stop
	From  float64 // the axis, in x
	To    float64

	Step      float64 // straight shoulder that the crown cuts below the back, at most; 0 = none
	Contact   float64 // height of the guide that the bearing has to run on
	Verdict   string  // is the bit too big or too small?
	Best      Bit     // the common size that leaves least
	Travel    float64 // length of cut in all passes on both sides, mm
	Remaining float64 // wood that it leaves over the target in the stretch, mm³

	// Between the stops: the most wood that it leaves over the target anywhere,
	// and the width of the flat left of the back. Past the stops: the most that
	// stands; 0 where nothing lies past them.
	Most, MostAt          float64
	RidgeLeast, RidgeMost float64
	PastMost, PastAt      float64

	bands []float64 // of the stretch, for integrals
}

// searchCurves returns the target's sections to search the heights in.
func (p *Plan) searchCurves() []curve {
	xs := stretchStations(p.Neck, p.Stretch, 24)
	out := make([]curve, 0, 2*len(xs))
	for _, x := range xs {
		s := p.Neck.Section(x)
		out = append(out, newCurve(&s, neck.Bass, p.Options.Leave), newCurve(&s, neck.Treble, p.Options.Leave))
	}
	return out
}

// room returns the height that the bit has at x with the arc's end at depth e,
// and level the reverse.
//
// Both count along the tool's axis: square to the back for ReferenceBack.
func (p *Plan) room(k *cutter, x, e float64) float64 {
	if p.Options.Reference == ReferenceGlue {
		return -e
	}
	return (p.Taper.Depth(x) - e) / k.rise
}

func (p *Plan) level(k *cutter, x, room float64) float64 {
	if p.Options.Reference == ReferenceGlue {
		return -room
	}
	return p.Taper.Depth(x) - room*k.rise
}

// dial turns a room, which always grows as the cut gets deeper, into a height
// as the tool shows it, and back.
func (p *Plan) dial(v float64) float64 {
	if p.Options.Reference == ReferenceGlue {
		return -v
	}
	return v
}

// SafeHeight returns a height of the bit, rounded to the side of the shallower
// cut: to hundredths of a millimetre or thousandths of an inch.
func (p *Plan) SafeHeight(u spec.Unit, height float64) float64 {
	step := 0.01
	if u == spec.Inch {
		step = 0.001 * spec.MillimetresPerInch
	}
	// A height that is a whole step but for a rounding error stays.
	return p.dial(math.Floor(p.dial(height)/step+1e-6) * step)
}

// HeightFrom names the plane that every height of the bit counts from, as it
// follows a figure: "out of the base" or "above the glue plane". There is one
// for whatever is dialled or printed, whatever the bearing runs on.
func (p *Plan) HeightFrom() string {
	if p.Options.Reference == ReferenceGlue {
		return "above the glue plane"
	}
	return "out of the base"
}

// Extreme names the limit of the bit's height: the "greatest" that may be
// dialled, or the "least" where the height counts from the glue plane.
func (p *Plan) Extreme() string {
	if p.Options.Reference == ReferenceGlue {
		return "least"
	}
	return "greatest"
}

// safe prints a height of the bit so rounded.
func (p *Plan) safe(u spec.Unit, height float64) string { return u.Rounded(p.SafeHeight(u, height)) }

// settle returns the deepest setting of the bit that keeps leave from the
// target all along the stretch. Fine refines between all stations, and not only
// beside the one that decides.
func (p *Plan) settle(b Bit, leave float64, fine bool) Setting {
	k := p.cutter(b)
	n := p.Neck
	best := Setting{Height: math.Inf(1), Touch: ContactNone}
	take := func(c *curve) float64 {
		e, touch, y := c.deepest(&k, leave, false)
		r := p.room(&k, c.s.X, e)
		if r < best.Height {
			best = Setting{Height: r, X: c.s.X, Side: c.side, Touch: touch, Y: c.side.Sign() * y}
		}
		return r
	}
	rooms := make([]float64, len(p.curves))
	least := math.Inf(1)
	for i := range p.curves {
		if c := &p.curves[i]; fine {
			rooms[i] = take(c)
		} else {
			e, _, _ := c.deepest(&k, leave, true)
			rooms[i] = p.room(&k, c.s.X, e)
		}
		least = math.Min(least, rooms[i])
	}
	if !fine {
		const rough = 0.05
		near := 0
		for i := range p.curves {
			if rooms[i] <= least+rough {
				if v := take(&p.curves[i]); v <= best.Height {
					near = i
				}
			}
		}
		// The dip beside the deciding station is all that is looked for.
		lo, hi := max(near-2, near%2), min(near+2, len(p.curves)-2+near%2)
		numeric.Peak(func(x float64) float64 {
			s := n.Section(x)
			c := newCurve(&s, p.curves[near].side, leave)
			return -take(&c)
		}, p.curves[lo].s.X, p.curves[near].s.X, p.curves[hi].s.X)
	}
	if fine {
		// Refine around every station that could still be beaten by a dip
		// beside it: a dip between stations is shallower than the difference of
		// the neighbours.
		for i := range p.curves {
			lo, hi := max(i-2, i%2), min(i+2, len(p.curves)-2+i%2)
			slack := math.Max(math.Abs(rooms[lo]-rooms[i]), math.Abs(rooms[hi]-rooms[i]))
			if slack < 1e-7 {
				continue
			}
			if rooms[i] > best.Height+slack+1e-9 || rooms[lo] < rooms[i] || rooms[hi] < rooms[i] {
				continue
			}
			side := p.curves[i].side
			a, z := p.curves[lo].s.X, p.curves[hi].s.X
			numeric.Peak(func(x float64) float64 {
				s := n.Section(x)
				c := newCurve(&s, side, leave)
				return -take(&c)
			}, a, p.curves[i].s.X, z)
		}
	}
	best.Why = fmt.Sprintf("%s touches at %s, %s side", best.Touch, n.Where(best.X), best.Side)
	if leave > 0 {
		best.Why = fmt.Sprintf("%s comes within %s at %s, %s side", best.Touch, n.Rounded(leave), n.Where(best.X), best.Side)
	}
	if best.Touch == ContactNone {
		best.Why = "the bit does not reach the wood"
	}
	p.limit(&best, &k)
	best.Height = p.dial(best.Height)
	return best
}

// limit holds a setting to what the bearing and the bit's own height allow.
func (p *Plan) limit(s *Setting, k *cutter) {
	n, t := p.Neck, p.Taper
	guide := 0.0
	if p.Options.Guide == GuideTemplate {
		guide = p.Options.Template
	}
	for _, x := range []float64{t.From, t.To} {
		// The bearing hangs from the arc's end towards the glue plane and needs
		// some of the guide there.
		if r := p.room(k, x, leastContact-guide); r < s.Height {
			*s = Setting{Height: r, X: x, Touch: ContactLimits,
				Why: fmt.Sprintf("the bearing needs %s of the guide to run on at %s; a template under the glue face lets the bit go deeper",
					n.Spec().Length(leastContact), n.Where(x))}
		}
		if r := p.room(k, x, t.Depth(x)-(k.Radius+k.Straight)*k.rise); r < s.Height {
			*s = Setting{Height: r, X: x, Touch: ContactLimits,
				Why: fmt.Sprintf("the bit's straight edge above the arc, %s, ends there (at %s)",
					n.Spec().Length(k.Straight), n.Where(x))}
		}
	}
}

// toolLimit returns the room that bearing and straight edge leave the bit at x,
// whatever the target.
func (p *Plan) toolLimit(k *cutter, x float64) float64 {
	guide := 0.0
	if p.Options.Guide == GuideTemplate {
		guide = p.Options.Template
	}
	return math.Min(p.room(k, x, leastContact-guide), p.room(k, x, p.Taper.Depth(x)-(k.Radius+k.Straight)*k.rise))
}

// planRoundOver fills in the round-over.
func (p *Plan) planRoundOver() error {
	p.compareBits()
	o := &p.Options
	if o.Bit.Radius == 0 {
		b := o.Bit
		b.Radius, b.Name = p.Round.Best.Radius, p.Round.Best.Name
		o.Bit = b
	}
	r := &p.Round
	r.Bit = o.Bit
	k := p.cutter(r.Bit)
	p.planStops(r)
	r.Greatest = p.settle(r.Bit, 0, true)
	r.Setting = r.Greatest
	if o.Leave > 0 {
		r.Setting = p.settle(r.Bit, o.Leave, true)
	}
	// What is printed is what the rest of the plan is worked out with.
	r.Setting.Height = p.SafeHeight(p.Neck.Spec().Units, r.Setting.Height)
	if row := p.result(r.Bit); row != nil {
		row.Height = r.Setting.Height
	}
	if h := o.Height; !math.IsNaN(h) {
		if err := p.judgeOwn(h); err != nil {
			return err
		}
		r.Setting.Height, r.Own = h, true
		r.Setting.Why = "the builder's own setting"
	}
	if r.Possible {
		deepest := p.room(&k, p.Taper.From, p.Taper.DepthFrom)
		if p.Options.Reference == ReferenceGlue {
			deepest = -math.Max(p.Taper.DepthFrom, p.Taper.DepthTo)
		}
		if p.dial(r.Setting.Height) <= deepest+0.01 {
			r.Possible = false
			r.Why = "no height of this bit takes off anything and stays clear of the target"
			if r.Own {
				r.Why = fmt.Sprintf("a height of %s %s cuts nothing: the bit stays clear of the wood", p.Neck.Spec().Units.Format(o.Height), p.HeightFrom())
			}
		}
	}
	p.bands(r)
	p.planPasses(r, &k)
	p.judgeBit(r)
	return nil
}

// judgeOwn refuses a height of the builder's that goes into the target.
func (p *Plan) judgeOwn(h float64) error {
	n, r := p.Neck, &p.Round
	u := n.Spec().Units
	over := p.dial(h) - p.dial(r.Greatest.Height)
	if over <= 1e-6 {
		return nil
	}
	order := "up to"
	if p.Options.Reference == ReferenceGlue {
		order = "from"
	}
	if r.Greatest.Touch == ContactLimits {
		return fmt.Errorf("a bit height of %s is refused: %s; allowed: %s %s", u.Format(h), r.Greatest.Why, order, p.safe(u, r.Greatest.Height))
	}
	height := u.Format(h) + " " + p.HeightFrom()
	deep, x, side := p.gouge(h)
	if deep < 0.01 && over > 0.05 { // past the glue plane, or all off the wood
		return fmt.Errorf("a bit height of %s is refused: it lies %s beyond the height at which %s; allowed: %s %s",
			height, u.Rounded(over), r.Greatest.Why, order, p.safe(u, r.Greatest.Height))
	}
	if deep < 0.01 {
		return fmt.Errorf("a bit height of %s is refused: with it the bit already touches the target: %s; allowed: %s %s",
			height, r.Greatest.Why, order, p.safe(u, r.Greatest.Height))
	}
	return fmt.Errorf("a bit height of %s is refused: it cuts %s into the target at %s, on the %s side; allowed: %s %s",
		height, u.Rounded(deep), n.Where(x), side, order, p.safe(u, r.Greatest.Height))
}

// gouge returns how deep a height cuts into the target, square to its surface,
// and where.
func (p *Plan) gouge(h float64) (deep, x float64, side neck.Side) {
	k := p.cutter(p.Round.Bit)
	top := p.Round.Greatest
	x, side = top.X, top.Side
	try := func(c *curve) {
		e := p.level(&k, c.s.X, p.dial(h))
		in, _ := numeric.Climb(func(beta float64) float64 {
			l, d := k.arc(beta, through)
			if e+d < 0 || l > 2*c.s.HalfWidth {
				return -1e6 // off the wood
			}
			return -c.distance(c.s.HalfWidth-l, e+d)
		}, 0, math.Pi/2, 24)
		if in > deep {
			deep, x, side = in, c.s.X, c.side
		}
	}
	// The station that decides the greatest height may lie between the others.
	s := p.Neck.Section(top.X)
	for _, c := range curves(&s, 0) {
		try(&c)
	}
	for i := range p.curves {
		try(&p.curves[i])
	}
	return deep, x, side
}

// planPasses lays out the passes: each takes another step at the neck's side,
// the last what is left.
func (p *Plan) planPasses(r *RoundOver, k *cutter) {
	if !r.Possible {
		return
	}
	t := p.Taper
	// The first contact with the wood, and from there to the setting.
	x := t.From
	if t.DepthTo > t.DepthFrom {
		x = t.To
	}
	l0, ok := k.begin(through)
	if !ok {
		return
	}
	_, below := k.arc(l0, through)
	first := p.room(k, x, t.Depth(x)-below)
	last := p.dial(r.Setting.Height)
	count := max(1, int(math.Ceil((last-first)/p.Options.Step-1e-6)))
	before := 0.0
	// A last pass too thin to cut rubs and burns: the one before it gives way.
	const thin = 0.5
	for i := 1; i <= count; i++ {
		v := first + float64(i)*p.Options.Step
		switch {
		case i == count:
			v = last
		case i == count-1:
			v = math.Max(math.Min(v, last-thin), v-p.Options.Step/2)
		}
		removed := p.removedBy(k, r, v)
		r.Passes = append(r.Passes, Pass{Height: p.dial(v), Edge: (v - first) * k.rise, Removed: removed - before})
		before = removed
	}
	r.Travel = 2 * float64(count) * (r.To - r.From)
}
