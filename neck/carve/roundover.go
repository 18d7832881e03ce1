package carve

import (
	"fmt"
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
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

	Touch     Contact // what the bit is held by
	X         float64 // station that decides
	Side      neck.Side
	Y         float64 // of the point of contact
	Allowance float64 // that is kept from the target
}

// Pass is one setting on the way to the last.
type Pass struct {
	Height  float64 // as Setting.Height
	Edge    float64 // depth of the cut at the neck's side where the back is deepest
	Removed float64 // wood that the pass takes off, mm³
}

// RoundOver is the routing of the back's edges with one bit.
type RoundOver struct {
	Bit  Bit
	Why  Refusal     // why it is not possible
	Bits []BitResult // every one of CommonBits, and the builder's, by radius

	Greatest Setting // touches the target: never beyond
	Setting  Setting // leaves what was asked for
	Own      bool    // Setting is the builder's
	Passes   []Pass

	// Stops bound the travel of the bit's axis.
	Stops []Stop
	From  float64 // the axis, in x
	To    float64

	Straight  float64 // straight side that the crown cuts below the back, at most; 0 = none
	Contact   float64 // height of the guide that the bearing has to run on
	Verdict   Verdict // is the bit too big or too small?
	Best      Bit     // the common size that leaves least
	Travel    float64 // length of cut in all passes on both sides, mm
	Remaining float64 // wood that it leaves over the target in the stretch, mm³

	// Between the stops: the most wood that it leaves over the target anywhere,
	// and the width of the back that remains flat. Past the stops: the most that
	// stands; 0 where nothing lies past them.
	Most, MostAt          float64
	RidgeLeast, RidgeMost float64
	PastMost, PastAt      float64

	rig *rig
}

// Possible reports whether the bit can be used at all.
func (r *RoundOver) Possible() bool { return !r.Why.Refused() }

// run returns where the bit's axis goes.
func (r *RoundOver) run() axisRun { return axisRun{r.From, r.To} }

// NewRoundOver works the routing out, with the common bit that leaves least
// where the router has none. An error is about the router, or says that the
// builder's own height goes into the target; it is said in the router's unit.
func NewRoundOver(w Tapered, tools Router, allowance float64) (RoundOver, error) {
	if err := tools.check(); err != nil {
		return RoundOver{}, err
	}
	if err := checkAllowance(tools.Unit, allowance); err != nil {
		return RoundOver{}, err
	}
	g := newRig(w, tools, allowance)
	g.keeps = tools.keeps
	r := RoundOver{Bits: g.compareBits(), rig: g}
	r.Best = leastRemaining(r.Bits)
	if g.Bit.Radius == 0 {
		g.Bit = r.Best
	}
	r.Bit = g.Bit
	var run axisRun
	run, r.Why = g.runOf(r.Bit)
	r.From, r.To = run.from, run.to
	if r.Possible() {
		r.Stops = g.stopsOf(run)
	}
	if err := r.settle(); err != nil {
		return RoundOver{}, err
	}
	r.passes()
	r.measure()
	r.Verdict = r.verdict()
	return r, nil
}

// settle fixes the height.
func (r *RoundOver) settle() error {
	g := r.rig
	r.Greatest = g.settle(r.Bit, 0, true)
	r.Setting = r.Greatest
	if g.allowance > 0 {
		r.Setting = g.settle(r.Bit, g.allowance, true)
	}
	// What is printed is what the rest of the plan is worked out with.
	r.Setting.Height = g.Reference.SafeHeight(g.Unit, r.Setting.Height)
	if row := r.result(r.Bit); row != nil {
		row.Height = r.Setting.Height
	}
	if h := g.Height; !math.IsNaN(h) {
		if err := r.judgeOwn(h); err != nil {
			return err
		}
		r.Setting.Height, r.Own = h, true
	}
	if !r.Possible() {
		return nil
	}
	k := g.cutter(r.Bit)
	deepest := g.room(&k, g.Taper.From, g.Taper.DepthFrom)
	switch {
	case g.Reference.onRails():
		deepest = -math.Max(g.Taper.DepthFrom, g.Taper.DepthTo)
	case g.Reference == ReferenceTable:
		deepest = math.Min(deepest, g.room(&k, g.Taper.To, g.Taper.DepthTo))
	}
	if g.dial(r.Setting.Height) <= deepest+0.01 {
		r.Why = Refusal{Kind: RefusedNoHeight}
		if r.Own {
			r.Why = Refusal{Kind: RefusedOwn, Size: g.Height, Counts: g.Reference}
		}
	}
	return nil
}

// judgeOwn refuses a height of the builder's that goes into the target.
func (r *RoundOver) judgeOwn(h float64) error {
	g := r.rig
	if g.keeps != nil && g.dial(h) < g.keeps.Least-1e-6 {
		u := g.Unit
		return fmt.Errorf("a bit height of %s is refused: the bearing would run under the template that stands proud, onto the neck's side, and the bit would cut too far in; allowed: %s to %s",
			u.Format(h), u.Rounded(g.dial(g.keeps.Least)), u.Rounded(r.Greatest.Height))
	}
	over := g.dial(h) - g.dial(r.Greatest.Height)
	if over <= 1e-6 {
		return nil
	}
	e := HeightError{Height: h, Greatest: r.Greatest, Over: over, Router: g.Router, Neck: g.Neck}
	if !r.Greatest.Touch.Tool() {
		e.Deep, e.X, e.Side = g.gouge(r.Bit, r.Greatest, h)
	}
	return &e
}

// gouge returns how deep a height cuts into the target, square to its surface,
// and where.
func (g *rig) gouge(b Bit, top Setting, h float64) (deep, x float64, side neck.Side) {
	k := g.cutter(b)
	x, side = top.X, top.Side
	try := func(c *curve) {
		e := g.level(&k, c.s.X, g.dial(h))
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
	s := g.Neck.Section(top.X)
	for _, c := range curves(&s, 0) {
		try(&c)
	}
	for i := range g.curves {
		try(&g.curves[i])
	}
	return deep, x, side
}

// passes lays out the passes: each takes another step at the neck's side, the
// last what remains.
func (r *RoundOver) passes() {
	if !r.Possible() {
		return
	}
	g := r.rig
	k, t := g.cutter(r.Bit), g.Taper
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
	first := g.room(&k, x, t.Depth(x)-below)
	if g.Reference == ReferenceTable {
		first = math.Min(first, g.room(&k, t.From+t.To-x, t.Depth(t.From+t.To-x)-below))
	}
	last := g.dial(r.Setting.Height)
	heights := passHeights(first, last, g.Step)
	before := 0.0
	for i, v := range heights {
		if g.keeps != nil && i < len(heights)-1 && v < g.keeps.Least {
			continue // the bearing would miss the template and run on the side
		}
		removed := g.removedBy(&k, r.run(), v)
		r.Passes = append(r.Passes, Pass{Height: g.dial(v), Edge: (v - first) * k.rise, Removed: removed - before})
		before = removed
	}
	r.Travel = 2 * float64(len(r.Passes)) * (r.To - r.From)
}

// measure finds what the setting leaves, and what the bearing has to run on.
func (r *RoundOver) measure() {
	g := r.rig
	k, room := g.cutter(r.Bit), g.dial(r.Setting.Height)
	r.Contact = math.Inf(1)
	for _, x := range []float64{g.Stretch.From, g.Stretch.To} {
		c := g.cutAt(&k, everywhere, x, room)
		r.Straight = math.Max(r.Straight, c.step)
		r.Contact = math.Min(r.Contact, math.Min(r.Bit.BearingHeight, c.level+g.beyond(g.Neck, x)))
	}
	if !r.Possible() {
		return
	}
	r.Remaining = g.stretchVolume(g.tapered) - g.stretchVolume(g.target) - g.removedBy(&k, r.run(), room)
	r.extremes()
}

// tolerance along the neck, in mm, where a peak is level.
const levelPeak = 0.02

// extremes finds what the router leaves at most, and the ridge's width, anywhere
// along the run: the stations that are reported have no part in it.
func (r *RoundOver) extremes() {
	g := r.rig
	const steps = 16
	most := func(x float64) float64 {
		c, s := r.cut(x), g.Neck.Section(x)
		cs := curves(&s, g.allowance)
		v, _ := c.most(&cs)
		return v
	}
	a, b := math.Max(r.From, g.Stretch.From), math.Min(r.To, g.Stretch.To)
	r.Most, r.MostAt = numeric.ClimbWithin(most, a, b, steps, levelPeak)
	r.RidgeMost, _ = numeric.ClimbWithin(r.RidgeAt, a, b, steps, levelPeak)
	least, _ := numeric.ClimbWithin(func(x float64) float64 { return -r.RidgeAt(x) }, a, b, steps, levelPeak)
	r.RidgeLeast = -least
	for _, past := range [][2]float64{{g.Stretch.From, a}, {b, g.Stretch.To}} {
		if past[1]-past[0] < 1e-6 {
			continue
		}
		if v, x := numeric.ClimbWithin(most, past[0], past[1], 4, levelPeak); v > r.PastMost {
			r.PastMost, r.PastAt = v, x
		}
	}
}

// cut returns the cut at x with the setting.
func (r *RoundOver) cut(x float64) cut { return r.cutWith(r.Setting.Height, x) }

// cutWith returns the cut at x with a height of the bit.
func (r *RoundOver) cutWith(height, x float64) cut {
	k := r.rig.cutter(r.Bit)
	return r.rig.cutAt(&k, r.run(), x, r.rig.dial(height))
}

// Outline returns the section that the router leaves at x, from the bass edge
// over the back to the treble edge.
func (r *RoundOver) Outline(x float64) []neck.YZ {
	c := r.cut(x)
	return c.outline(48)
}

// RidgeAt returns the width of the flat that the router leaves of the back at x.
func (r *RoundOver) RidgeAt(x float64) float64 {
	c := r.cut(x)
	return c.ridge()
}

// BearingRoom returns the least distance of the bearing's foot from the plane
// that the neck lies on, glue face down, without a block: the glue plane, or
// the template's foot. It is negative where the bearing reaches through.
func (r *RoundOver) BearingRoom() float64 {
	g := r.rig
	k := g.cutter(r.Bit)
	least := math.Inf(1)
	for _, x := range []float64{r.From, r.To} {
		x = numeric.Clamp(x, g.Stretch.From, g.Stretch.To)
		least = math.Min(least, g.level(&k, x, g.dial(r.Setting.Height))+g.underGlue()-k.BearingHeight)
	}
	return least
}

// underGlue returns the thickness of what lies between the glue plane and what
// the neck lies on, glue face down.
func (g *rig) underGlue() float64 {
	if g.BoardOn {
		return BoardOn{Neck: g.Neck, Under: g.Under}.crown() + g.template()
	}
	return g.template()
}
