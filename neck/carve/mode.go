package carve

import (
	"errors"
	"fmt"
	"math"
)

// Mode is how the router is worked with.
type Mode int

const (
	ModeHand  Mode = iota // a router in the hand that stands on the wood or on rails
	ModeTable             // a router table, on which the neck lies with its back down
)

// String returns the mode's name on the command line.
func (m Mode) String() string { return [...]string{"hand", "table"}[m] }

// Shop is how a builder works, and what there is to work with. The zero Shop is
// a hand router on a squared blank.
type Shop struct {
	Mode Mode

	// Setup is the router table. What stands beside the bearing and what lies
	// under the neck are the Router's; its Guiding gives only tape and overhang.
	Setup TableSetup

	// Offsets are the ways to hold the arc off the neck's side that can be had.
	// The plan tries all of them with every bit and takes what leaves least; nil =
	// the bearing as it is.
	Offsets []OffsetOption

	Blank *BlankState // what the blank is like now; nil = what the spec says
	Build *SledBuild  // the sled as it is built; nil = as Sled describes it
}

// check refuses what does not go together.
func (s *Shop) check(o *Options) error {
	u := o.Unit
	if err := inRange(u,
		ranged{"the height of what lies under the board", o.Under, 0, 300, false},
		ranged{"the packing's thickness at the nut end", o.Packing[NutEnd], 0, 200, false},
		ranged{"the packing's thickness at the body end", o.Packing[BodyEnd], 0, 200, false},
	); err != nil {
		return err
	}
	switch {
	case s.Mode == ModeTable && o.Reference == ReferenceGlue:
		return errors.New("on a router table the neck lies with its back down, and there are no rails; allowed: the reference back")
	case s.Mode == ModeTable && o.Base != 0:
		return errors.New("a router table has no base plate; give how far the table reaches instead")
	case s.Mode != ModeTable && (s.Setup.Half != 0 || s.Setup.Opening != 0 || o.Packing != [2]float64{}):
		return errors.New("the size of a router table and packing on it go with a router table; allowed: the router table")
	case o.Under > 0 && !o.BoardOn:
		return errors.New("what lies under the board goes with a board that is glued on")
	}
	if len(s.Offsets) > mostOffsets {
		return fmt.Errorf("%d ways to hold the bit off; allowed: at most %d", len(s.Offsets), mostOffsets)
	}
	for _, f := range s.Offsets {
		if err := inRange(u,
			ranged{"the bearing's diameter", f.Bearing, 3, 150, f.Bearing == 0},
			ranged{"a layer of tape", f.Layer, 0.01, 2, f.Layers == 0},
			ranged{"the template's overhang", f.Overhang, 0.05, 50, f.Overhang == 0},
		); err != nil {
			return err
		}
		if f.Overhang > 0 && o.Guide != GuideTemplate {
			return fmt.Errorf("an overhang of %s goes with a template; allowed: the guide template", u.Format(f.Overhang))
		}
	}
	return nil
}

// mostOffsets is as many ways to hold a bit off as are tried.
const mostOffsets = 200

// refer gives the router the plane that its heights count from.
func (o *Options) refer() {
	switch {
	case o.Mode == ModeTable:
		o.Reference = ReferenceTable
	case o.BoardOn && o.Reference == ReferenceGlue:
		o.Reference = ReferenceBench
	}
}

// table returns the router table with what lies on it.
func (p *Plan) table() TableSetup {
	t := p.Options.Setup
	g := p.Options.Router.guiding()
	g.Tape, g.Overhang = t.Guiding.Tape, t.Guiding.Overhang
	t.Guiding, t.Packing = g, p.Options.Packing
	if t.Screw == 0 {
		t.Screw = DefaultTable().Screw
	}
	if w := p.Now; w != nil {
		t.Wood = func(x float64) float64 {
			if d := w.Depth(x); !math.IsNaN(d) {
				return d
			}
			return p.Neck.Depth(x)
		}
	}
	return t
}

// roundOnTable works out the round-over on a router table. What the table says
// goes before what a router in the hand would be set to; the rest, such as what
// remains, follows from it as for a hand router.
func (p *Plan) roundOnTable() (RoundOver, error) {
	o := &p.Options
	setup := p.table()
	if err := setup.Check(o.Unit); err != nil {
		return RoundOver{}, err
	}
	height := o.Height
	if p.held != 0 {
		height = p.held
	}
	t := SetTable(p.Tapered, setup, o.Bit, o.Allowance, height, o.Step, o.Unit)
	p.Table = &t
	tools := o.Router
	tools.Bit = t.Bit
	g := newRig(p.Tapered, tools, o.Allowance)
	r := RoundOver{Bit: t.Bit, rig: g, From: t.From, To: t.To, Own: !math.IsNaN(o.Height)}
	if len(t.Refusals) > 0 {
		r.Why = Refusal{Kind: RefusedTable, Table: p.Table}
	}
	r.Greatest, r.Setting = t.Deepest.setting(0), t.Leaves.setting(o.Allowance)
	r.Setting.Height = t.Height
	if p.held != 0 {
		r.Setting.Touch = ContactBearing
	}
	if r.Possible() {
		r.Stops = g.stopsOf(r.run())
		r.passesAt(t.Passes)
	}
	r.Bits = p.bitsOnTable(g, setup)
	r.Best = leastRemaining(r.Bits)
	r.measure()
	r.Verdict = r.verdict()
	return r, nil
}

// setting returns what decides a height over a plane as a Setting.
func (d Deepest) setting(allowance float64) Setting {
	s := Setting{Height: d.Height, Touch: d.Touch, X: d.X, Side: d.Side, Y: d.Y, Allowance: allowance}
	if d.Straight {
		s.Touch = ContactStraight
	}
	return s
}

// passesAt takes the passes at the given heights.
func (r *RoundOver) passesAt(heights []float64) {
	g := r.rig
	k := g.cutter(r.Bit)
	w := g.Tapered
	first, before := w.first(&k, g.table), 0.0
	for _, h := range heights {
		removed := g.removedBy(&k, r.run(), h)
		r.Passes = append(r.Passes, Pass{Height: h, Edge: (h - first) * k.rise, Removed: removed - before})
		before = removed
	}
	r.Travel = 2 * float64(len(heights)) * (r.To - r.From)
}

// bitsOnTable compares the bits on the table.
func (p *Plan) bitsOnTable(g *rig, setup TableSetup) []BitResult {
	o := &p.Options
	tapered, target := g.stretchVolume(g.tapered), g.stretchVolume(g.target)
	var out []BitResult
	for _, b := range p.tableBits() {
		t := SetTable(p.Tapered, setup, b, o.Allowance, math.NaN(), o.Step, o.Unit)
		res := BitResult{Bit: t.Bit, Builder: o.Bit.Radius != 0 && b.same(o.Bit), Stop: t.Above}
		if t.Bit.same(g.Bit) {
			res.Bit = g.Bit
		}
		if len(t.Refusals) > 0 {
			res.Why = Refusal{Kind: RefusedTable, Table: &t}
			if !(t.Bit.Offset < t.Bit.Radius) {
				out = append(out, res)
				continue
			}
		}
		s := t.Leaves.setting(o.Allowance)
		res.Height, res.Touch = t.Height, s.Touch
		k := g.cutter(t.Bit)
		removed := 0.0
		if res.Possible() {
			removed = g.removedBy(&k, axisRun{t.From, t.To}, t.Height)
		}
		res.Remaining = tapered - removed - target
		if tapered > target {
			res.Share = res.Remaining / (tapered - target)
		}
		for i, x := range []float64{g.Stretch.From, g.Stretch.To} {
			c := g.cutAt(&k, everywhere, x, t.Height)
			res.Ridge[i] = c.ridge()
			res.Straight = math.Max(res.Straight, c.step)
		}
		out = append(out, res)
	}
	return out
}

// tableBits returns the bits to compare.
func (p *Plan) tableBits() []Bit {
	g := rig{Router: p.Options.Router}
	return g.bitsToTry()
}

// ArcEnd returns the depth of the end of the bit's arc below the glue plane at x
// with the plan's setting.
func (p *Plan) ArcEnd(x float64) float64 {
	h := p.Round.Setting.Height
	switch p.Options.Reference {
	case ReferenceGlue:
		return h
	case ReferenceBack:
		return p.Taper.Depth(x) - h*math.Hypot(1, p.Taper.Slope)
	case ReferenceBench:
		return -p.Options.Router.dial(p.Neck, h)
	}
	return p.Options.Router.plane(p.Tapered).depth(x, h)
}

// CountsAt returns the depth below the glue plane at x of the plane that the
// plan's heights count from; less than 0 for a bench that a board lies on.
func (p *Plan) CountsAt(x float64) float64 { return p.Options.Router.plane(p.Tapered).Depth(x) }
