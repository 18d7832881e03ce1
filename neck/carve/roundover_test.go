package carve

import (
	"math"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// halfCircle is an even neck whose section is half a circle of 20 mm radius
// under walls of 2 mm, 22 mm deep in all.
func halfCircle() *spec.Spec { return ellipticNeck(20, 20, 2) }

// TestWhatIsLeftSetsTheHeight works out two heights by hand.
//
// Round a half circle of radius 20 with its centre 2 mm below the glue plane, a
// margin m makes a circle of radius 20 + m. A bit of radius 20 has the centre of
// its arc on the centreline, at the depth e of the arc's end, and is clear of it
// at every y up to 20 if e >= 2 + √((20+m)²-y²) - √(20²-y²), which is largest at
// y = 20: with m = 0.5, √(20.5²-20²) = 4.5 and e = 6.5. Without a margin e = 2.
//
// A bit of radius 10 has its crown at y = 10, where it comes to the circle first:
// e + 10 = 2 + √((20+m)²-10²).
func TestWhatIsLeftSetsTheHeight(t *testing.T) {
	for _, c := range []struct {
		radius, leave, height float64
		touch                 Contact
	}{
		{20, 0, 20, ContactNone}, // touches everywhere
		{20, 0.5, 15.5, ContactSide},
		{10, 0, 22 - (2 + math.Sqrt(300) - 10), ContactCrown},
		{10, 0.5, 22 - (2 + math.Sqrt(20.5*20.5-100) - 10), ContactCrown},
		{10, 1, 22 - (2 + math.Sqrt(21*21-100) - 10), ContactCrown},
	} {
		for _, ref := range []Reference{ReferenceBack, ReferenceGlue} {
			p := planOf(t, halfCircle(), func(o *Options) { o.Allowance, o.Bit, o.Reference = c.leave, DefaultBit(c.radius), ref })
			height, most := c.height, 20.0
			if c.radius == 10 {
				most = 22 - (2 + math.Sqrt(300) - 10)
			}
			if ref == ReferenceGlue { // of the arc's end over the glue plane
				height, most = 22-height, 22-most
			}
			assert.InDelta(t, most, p.Round.Greatest.Height, 1e-6, "%+v", c)
			// Rounded to a hundredth, towards the shallower cut.
			shallower := p.Options.Reference.dial(height) - p.Options.Reference.dial(p.Round.Setting.Height)
			assert.GreaterOrEqual(t, shallower, -1e-6, "%+v", c)
			assert.Less(t, shallower, 0.01, "%+v", c)
			if c.touch != ContactNone {
				assert.Equal(t, c.touch, p.Round.Setting.Touch, "%+v", c)
			}
			if c.leave == 0 {
				assert.Contains(t, p.In(p.Options.Unit).Decided(p.Round.Setting), " touches at ")
			} else {
				assert.Contains(t, p.In(p.Options.Unit).Decided(p.Round.Setting), " comes within ")
			}
			assert.Contains(t, p.In(p.Options.Unit).Decided(p.Round.Greatest), " touches at ")
			// The straight edge above the arc, and what the bearing runs on.
			level := p.Round.rig.level(&cutter{Bit: p.Round.Bit, rise: 1}, 0, p.Options.Reference.dial(p.Round.Setting.Height))
			assert.InDelta(t, math.Max(0, 22-level-c.radius), p.Round.Straight, 1e-9, "%+v", c)
			assert.InDelta(t, math.Min(5, level), p.Round.Contact, 1e-9, "%+v", c)
		}
	}
	// A template lengthens what the bearing runs on, up to its height.
	for template, want := range map[float64]float64{1: 3, 2: 4, 3: 5, 12: 5} {
		p := planOf(t, halfCircle(), func(o *Options) {
			o.Allowance, o.Bit, o.Guide, o.Template = 0, DefaultBit(20), GuideTemplate, template
		})
		assert.InDelta(t, want, p.Round.Contact, 1e-6)
	}
}

// TestDeepestSettingOfAll takes the least height of many stations, on both sides:
// none of them is below what the plan sets, which no station between them makes
// deeper, for every common bit, with a margin and without, in a close search and
// in the quick one that compares bits.
// Without DRAWN=all it takes some of the cases.
func TestDeepestSettingOfAll(t *testing.T) {
	wavy := spectest.Straight()
	end := wavy.BoardEnd()
	wavy.Width.Nut, wavy.Width.End, wavy.Wall = 40, 58, 1.5
	wavy.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: 21}, {At: spec.AtX(0.3 * end), Total: 22.4}, {At: spec.AtX(0.7 * end), Total: 21.2}, {At: spec.AtX(0.95 * end), Total: 23}}
	wavy.Profile = []spec.ProfileStation{{At: spec.AtX(0.1 * end), Bass: 1.7, Treble: 2.3}, {At: spec.AtX(0.45 * end), Bass: 2.6, Treble: 1.9, Apex: 1}, {At: spec.AtX(0.8 * end), Bass: 2, Treble: 2.8}}
	for _, s := range drawn.Some([]*spec.Spec{wavy, bentNeck(), spec.Demo()}, 1) {
		for _, ref := range []Reference{ReferenceBack, ReferenceGlue} {
			p := planOf(t, s, func(o *Options) { o.Reference, o.Bit.Straight, o.Guide, o.Template = ref, 60, GuideTemplate, 40 })
			for _, radius := range []float64{6, 10, 16, 25.4} {
				b := DefaultBit(radius)
				b.Straight = 60
				k := p.Round.rig.cutter(b)
				for _, allowance := range []float64{0, 0.5} {
					least, at, side := math.Inf(1), 0.0, neck.MinusY
					for i := range 401 {
						x := numeric.Lerp(p.Stretch.From, p.Stretch.To, float64(i)/400)
						sec := p.Neck.Section(x)
						for of, c := range curves(&sec, allowance) {
							e, _, _ := c.deepest(&k, allowance, false)
							if r := p.Round.rig.room(&k, x, e); r < least {
								least, at, side = r, x, neck.Side(of)
							}
						}
					}
					fine, quick := p.Round.rig.settle(b, allowance, true), p.Round.rig.settle(b, allowance, false)
					assert.LessOrEqual(t, p.Options.Reference.dial(fine.Height), least+1e-9, "%s R %g allowance %g %s", s.Name, radius, allowance, ref)
					assert.InDelta(t, least, p.Options.Reference.dial(fine.Height), 2e-3, "%s R %g allowance %g %s", s.Name, radius, allowance, ref)
					assert.InDelta(t, fine.Height, quick.Height, 5e-3, "%s R %g allowance %g %s", s.Name, radius, allowance, ref)
					if s == wavy {
						assert.InDelta(t, at, fine.X, 3)
						assert.Equal(t, side, fine.Side)
					}
				}
			}
		}
	}
}

// TestPassesByHand lays out passes on the half circle, where a bit of radius 20
// is set to 15.5 mm and first meets the wood at 0.
func TestPassesByHand(t *testing.T) {
	for _, c := range []struct {
		step float64
		want []float64
	}{
		{20, []float64{15.5}},
		{15.5, []float64{15.5}},
		{8, []float64{8, 15.5}},
		{3, []float64{3, 6, 9, 12, 15, 15.5}},            // half a millimetre is no thin pass
		{5.1, []float64{5.1, 10.2, 15, 15.5}},            // 0.2 mm would be: the pass before gives way
		{7.7, []float64{7.7, 15, 15.5}},                  // and here 0.1 mm
		{0.9, nil},                                       // see below
		{15.4, []float64{15, 15.5}},                      // the first of two gives way too
		{7.25, []float64{7.25, 14.5, 15.5}},              // a whole millimetre stays
		{15.5 / 4, []float64{3.875, 7.75, 11.625, 15.5}}, // whole steps
	} {
		p := planOf(t, halfCircle(), func(o *Options) { o.Bit, o.Step = DefaultBit(20), c.step })
		r := p.Round
		require.InDelta(t, 15.5, r.Setting.Height, 1e-9)
		if c.want == nil {
			// 17.2 steps: the last of 18 takes 0.2 mm; the one before gives way by
			// 0.3 mm, and by no more than half a step.
			require.Len(t, r.Passes, 18)
			assert.InDelta(t, 15, r.Passes[16].Height, 1e-9)
			assert.InDelta(t, 14.4, r.Passes[15].Height, 1e-9)
			continue
		}
		require.Len(t, r.Passes, len(c.want), "step %g", c.step)
		before := 0.0
		for i, h := range c.want {
			assert.InDelta(t, h, r.Passes[i].Height, 1e-9, "step %g", c.step)
			assert.InDelta(t, h, r.Passes[i].Edge, 1e-9, "step %g", c.step)
			// A side loses ∫ (R - √(R²-d²)) dd from 0 to h.
			area := 20*h - (h*math.Sqrt(400-h*h)+400*math.Asin(h/20))/2
			volume := 2 * area * p.Stretch.Length()
			assert.InDelta(t, volume-before, r.Passes[i].Removed, 1e-3*volume, "step %g", c.step)
			before = volume
		}
		// The bit runs out over both ends by its body, 20 mm and a bearing of
		// 12.7 mm in diameter, along both sides, once a pass.
		run := p.Stretch.Length() + 2*(20+6.35)
		assert.InDelta(t, 2*float64(len(c.want))*run, r.Travel, 1e-6, "step %g", c.step)
	}
	// Half a step is the most that the last pass but one gives way by.
	p := planOf(t, halfCircle(), func(o *Options) { o.Bit, o.Step = DefaultBit(20), 0.77 })
	require.Len(t, p.Round.Passes, 21) // 20 of 0.77 are 15.4
	assert.InDelta(t, 15.4-0.385, p.Round.Passes[19].Height, 1e-9)

	// A bearing that holds the arc 2 mm off the guide: cos β = 1 - 2/20 where the
	// arc comes to the guide, 20 sin β = 8.718 above its end.
	p = planOf(t, halfCircle(), func(o *Options) {
		o.Bit, o.Allowance = DefaultBit(20), 0
		o.Bit.Offset, o.Bit.Straight = 2, 30
	})
	first := 20 * math.Sqrt(1-0.9*0.9)
	assert.InDelta(t, first+3, p.Round.Passes[0].Height, 1e-6)
	assert.InDelta(t, 3, p.Round.Passes[0].Edge, 1e-6)
}

// wedge is a neck of even width that is thinner at one end, half an ellipse
// without walls.
func wedge(nut, body float64) *spec.Spec {
	s := ellipticNeck(22, 14, 0)
	end := s.BoardEnd()
	s.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: s.Board.Thickness + nut}, {At: spec.AtX(end), Total: s.Board.Thickness + body}}
	return s
}

// TestEndsOfTheTaper checks which end of a tapering neck decides, both ways
// round: the thin one where the bearing needs the guide, the deep one where the
// bit hangs on rails and its straight edge ends; and where passes begin.
func TestEndsOfTheTaper(t *testing.T) {
	for _, c := range []struct {
		nut, body  float64
		thin, deep float64 // x, as a share of the run
	}{{13, 16, 0, 1}, {16, 13, 1, 0}} {
		s := wedge(c.nut, c.body)
		end := s.BoardEnd()
		rise := math.Hypot(1, (c.body-c.nut)/end)
		p := planOf(t, s, func(o *Options) { o.Allowance, o.Bit = 0, DefaultBit(30) })
		g := p.Round.Greatest
		require.Equal(t, ContactBearing, g.Touch, p.In(p.Options.Unit).Decided(g))
		assert.InDelta(t, c.thin*end, g.X, 1e-9)
		assert.InDelta(t, (13-leastContact)/rise, g.Height, 1e-9)
		// Square to the back, a pass of 3 mm is 3 √(1+q²) deep at the side.
		assert.InDelta(t, 3, p.Round.Passes[0].Height, 1e-9)
		assert.InDelta(t, 3*rise, p.Round.Passes[0].Edge, 1e-9)

		p = planOf(t, s, func(o *Options) {
			o.Allowance, o.Bit, o.Reference = 0, DefaultBit(6), ReferenceGlue
			o.Bit.Straight = 1
		})
		g = p.Round.Greatest
		require.Equal(t, ContactStraight, g.Touch, p.In(p.Options.Unit).Decided(g))
		assert.InDelta(t, c.deep*end, g.X, 1e-9)
		assert.InDelta(t, 16-(6+1), g.Height, 1e-9)
		// The first pass meets the deep end.
		assert.InDelta(t, 16-3, p.Round.Passes[0].Height, 1e-9)
		assert.InDelta(t, 3, p.Round.Passes[0].Edge, 1e-9)
		p = planOf(t, s, func(o *Options) { o.Allowance, o.Bit, o.Reference = 0, DefaultBit(30), ReferenceGlue })
		require.Equal(t, ContactBearing, p.Round.Greatest.Touch)
		assert.InDelta(t, leastContact, p.Round.Greatest.Height, 1e-9)
		// A height over the deep end cuts nothing, one below it does.
		n := p.Neck
		for h, cuts := range map[float64]bool{16.005: false, 15.98: true, 13.5: true} {
			o := p.Options
			o.Height = h
			q, err := New(n, o)
			require.NoError(t, err)
			assert.Equal(t, cuts, q.Round.Possible(), "%g", h)
		}
	}
}

// TestCutterInSpace holds the section of the swept surface against a bit that
// moves in space, with slope and widening far greater than a neck has: each
// point of the arc lies on the bit's steel, neither inside nor outside.
//
// Long, since it is one table of cases.
func TestCutterInSpace(t *testing.T) {
	const half, level = 25.0, 3.0
	bits := []Bit{{Radius: 12}, {Radius: 12, Offset: 1.5}, {Radius: 9, Offset: -1, Diameter: 40}}
	space := func(b Bit, k, q, from, to float64) router {
		axis := unit([3]float64{-q, 0, -1})
		along := unit([3]float64{1, k, -q})
		out := cross(axis, along)
		if out[1] < 0 {
			out = scaled(out, -1)
		}
		body := 12 + 12.7/2 // the bearing's diameter besides the arc
		if b.Diameter != 0 {
			body = b.Diameter / 2
		}
		// The axis stands the bearing's radius outside the guide.
		start := plus([3]float64{0, half, -level}, scaled(out, body-b.Radius+b.Offset))
		at := func(x float64) [3]float64 { return plus(start, scaled(along, (x-start[0])/along[0])) }
		return router{b, axis, at(from), at(to)}
	}
	for _, b := range bits {
		for _, c := range []struct{ k, q float64 }{{0, 0}, {0.2, 0}, {0, 0.3}, {0.2, 0.3}, {0.2, -0.3}, {-0.15, 0.25}} {
			cut := newCutter(b, c.k, c.q)
			r := space(b, c.k, c.q, -500, 500)
			for i := range 31 {
				beta := (float64(i) + 0.5) / 31 * math.Pi / 2
				l, depth := cut.arc(beta, through)
				// r.inside counts square to the axis.
				assert.InDelta(t, 0, r.inside([3]float64{0, half - l, -(level + depth)}), 1e-9, "%+v %+v at %g", b, c, beta)
			}
			l, depth := cut.arc(math.Pi/2, through)
			assert.InDelta(t, cut.reach(), l, 1e-12)
			assert.InDelta(t, b.Radius*math.Sqrt(1+c.q*c.q), depth, 1e-12)
		}
		// Past a stop the circle of the bit's last place is found: exactly so
		// where the axis stands upright.
		for _, k := range []float64{0, 0.12, -0.12} {
			cut := newCutter(b, k, 0)
			for _, past := range []float64{2, 6, 9} {
				for _, stop := range []travel{{math.Inf(-1), -past}, {past, math.Inf(1)}} {
					r := space(b, k, 0, -500, -past)
					if stop.lo < 0 {
						r = space(b, k, 0, past, 500)
					}
					for i := range 21 {
						beta := (float64(i) + 0.5) / 21 * math.Pi / 2
						if cut.small()+b.Radius*(1-math.Cos(beta)) <= past {
							continue // that part of the bit does not come so far
						}
						l, depth := cut.arc(beta, stop)
						assert.InDelta(t, 0, r.inside([3]float64{0, half - l, -(level + depth)}), 1e-9, "%+v k %g past %g at %g", b, k, past, beta)
					}
				}
			}
		}
		// What the arc leaves standing at a distance from the guide is the arc.
		cut := newCutter(b, 0.02, 0.03)
		for i := range 21 {
			beta := (float64(i) + 0.5) / 21 * math.Pi / 2
			l, depth := cut.arc(beta, through)
			v, ok := cut.above(l)
			assert.True(t, ok)
			assert.InDelta(t, depth, v, 5e-6)
		}
		v, ok := cut.above(cut.reach() + 0.1)
		assert.False(t, ok)
		assert.InDelta(t, b.Radius*math.Sqrt(1+0.03*0.03), v, 1e-12)
	}
	// The growth of the neck's half width, and the back's slope or none.
	s := spec.Demo()
	for _, ref := range []Reference{ReferenceBack, ReferenceGlue} {
		p := planOf(t, s, func(o *Options) { o.Reference = ref })
		slope := (22.4 - 20.6) / (s.FretX(12) - s.FretX(1))
		if ref == ReferenceGlue {
			slope = 0
		}
		k := (s.Width.End - s.Width.Nut) / 2 / s.BoardEnd()
		want := newCutter(p.Round.Bit, k, slope)
		got := p.Round.rig.cutter(p.Round.Bit)
		assert.InDelta(t, want.edge, got.edge, 1e-12)
		assert.InDelta(t, want.shear, got.shear, 1e-12)
		assert.InDelta(t, want.wide, got.wide, 1e-12)
		assert.InDelta(t, want.rise, got.rise, 1e-12)
	}
}

// TestWidthOfABit checks a bit's body with its bearing: as given, or its arc and
// a bearing of 12.7 mm.
func TestWidthOfABit(t *testing.T) {
	b := DefaultBit(10)
	// Common practice, no published source.
	assert.Equal(t, Bit{Radius: 10, BearingHeight: 5, Straight: 6}, b)
	assert.InDelta(t, 16.35, b.BodyRadius(), 1e-12)
	assert.InDelta(t, 6.35, b.small(), 1e-12)
	assert.InDelta(t, 6.35, b.bearing(), 1e-12)
	b.Offset = 0.4
	assert.InDelta(t, 6.75, b.bearing(), 1e-12)
	assert.InDelta(t, 16.35, b.BodyRadius(), 1e-12, "the bearing changes nothing about the cutter")
	b.Diameter = 40
	assert.InDelta(t, 20, b.BodyRadius(), 1e-12)
	assert.InDelta(t, 10, b.small(), 1e-12)
	assert.InDelta(t, 10.4, b.bearing(), 1e-12)

	// Stops and words go by it, and by a base plate that is wider.
	across := func(change func(o *Options)) (string, Stretch, RoundOver) {
		p := planOf(t, spec.Demo(), func(o *Options) { o.Bit = DefaultBit(10); change(o) })
		for _, step := range p.In(spec.Millimetre).Steps() {
			if step.Title == "Mark the stops on the back" {
				return step.Do[0], p.Stretch, p.Round
			}
		}
		return "", p.Stretch, p.Round
	}
	for _, c := range []struct {
		change func(o *Options)
		body   float64
		say    string
		base   bool
	}{
		{func(*Options) {}, 16.35, "The bit is 32.7 mm across. Its", false},
		{func(o *Options) { o.Bit.Diameter = 40 }, 20, "The bit is 40 mm across. Its", false},
		{func(o *Options) { o.Base = 12 }, 16.35, "The bit is 32.7 mm across. Its", false},
		{func(o *Options) { o.Base = 45 }, 45, "The bit is 32.7 mm across. The router's base sets the marks: it is 90 mm across", true},
	} {
		words, st, r := across(c.change)
		assert.Contains(t, words, c.say)
		assert.InDelta(t, st.From+c.body, r.From, 1e-9)
		assert.InDelta(t, st.To-c.body, r.To, 1e-9)
		for _, stop := range r.Stops {
			want := st.From + c.body
			if stop.End == "body end" {
				want = st.To - c.body
			}
			assert.InDelta(t, want, stop.Centre, 1e-9)
		}
	}
}

// TestSafeSteps rounds heights to what is dialled, to the shallower side: down
// where the bit stands out of a base, up where it hangs over the glue plane. 10
// mm are 393.7 thousandths of an inch.
func TestSafeSteps(t *testing.T) {
	const inch = 25.4
	for _, c := range []struct {
		unit               spec.Unit
		height, back, glue float64
	}{
		{spec.Millimetre, 10.018, 10.01, 10.02},
		{spec.Millimetre, 10.011, 10.01, 10.02},
		{spec.Millimetre, 10.01, 10.01, 10.01},
		{spec.Millimetre, -2.004, -2.01, -2},
		{spec.Inch, 10, 0.393 * inch, 0.394 * inch},
		{spec.Inch, 0.5 * inch, 0.5 * inch, 0.5 * inch},
		{spec.Inch, 0.4999 * inch, 0.499 * inch, 0.5 * inch},
		{spec.Inch, 0.0301 * inch, 0.03 * inch, 0.031 * inch},
	} {
		assert.InDelta(t, c.back, ReferenceBack.SafeHeight(c.unit, c.height), 1e-9, "%+v", c)
		assert.InDelta(t, c.glue, ReferenceGlue.SafeHeight(c.unit, c.height), 1e-9, "%+v", c)
	}
	// The setting of a plan in inches is whole thousandths, short of the height
	// that leaves what was asked for by less than one.
	for _, units := range []spec.Unit{spec.Millimetre, spec.Inch} {
		s := ellipticNeck(20, 19, 2)
		s.Units = units
		p := planOf(t, s, func(o *Options) { o.Bit = DefaultBit(10) })
		exact := p.Round.rig.settle(p.Round.Bit, 0.5, true).Height
		step := map[spec.Unit]float64{spec.Millimetre: 0.01, spec.Inch: 0.0254}[units]
		whole := p.Round.Setting.Height / step
		assert.InDelta(t, math.Round(whole), whole, 1e-6)
		assert.Less(t, p.Round.Setting.Height, exact)
		assert.Less(t, exact-p.Round.Setting.Height, step)
		// Rails are rounded up: 30.011 mm are 1.18154 in.
		p = planOf(t, s, func(o *Options) { o.Reference, o.StockDepth = ReferenceGlue, 30.011 })
		assert.Contains(t, stepWords(p, StageRound), "Rails at least 30.02 mm above")
		for _, step := range p.In(spec.Inch).Steps() {
			if step.Kind == StageRound && len(step.Do) > 0 {
				assert.Contains(t, step.Do[0], "Rails at least 1.182 in above")
			}
		}
	}
}

// TestTooDeepByHand asks for heights beyond the half circle's: 20 mm out of a
// base, or 2 mm over the glue plane. What is refused says which way is allowed,
// and how deep the bit would go into the neck.
func TestTooDeepByHand(t *testing.T) {
	for _, c := range []struct {
		ref    Reference
		height float64
		say    []string
	}{
		{ReferenceBack, 20.5, []string{"a bit height of 20.5 mm out of the base is refused: it cuts 0.5 mm into the target", "allowed: up to 20 mm"}},
		{ReferenceGlue, 1.5, []string{"a bit height of 1.5 mm above the glue plane is refused: it cuts 0.5 mm into the target", "allowed: from 2 mm"}},
		{ReferenceBack, 20.005, []string{"with it the bit already touches the target", "allowed: up to 20 mm"}},
		{ReferenceGlue, 1.995, []string{"with it the bit already touches the target", "allowed: from 2 mm"}},
		{ReferenceBack, 120, []string{"it lies 100 mm beyond the height at which", "allowed: up to 20 mm"}},
	} {
		n, err := neck.New(halfCircle())
		require.NoError(t, err)
		o := DefaultOptions(spec.Millimetre)
		o.Allowance, o.Bit, o.Reference, o.Height = 0, DefaultBit(20), c.ref, c.height
		o.Guide, o.Template = GuideTemplate, 12
		_, err = New(n, o)
		for _, say := range c.say {
			require.ErrorContains(t, err, say, "%+v", c)
		}
	}
	// Where the bearing sets the limit there is nothing to cut into.
	n, err := neck.New(wedge(13, 13))
	require.NoError(t, err)
	for ref, say := range map[Reference]string{ReferenceBack: "allowed: up to 12 mm", ReferenceGlue: "allowed: from 1 mm"} {
		o := DefaultOptions(spec.Millimetre)
		o.Allowance, o.Bit, o.Reference, o.Height = 0, DefaultBit(30), ref, map[Reference]float64{ReferenceBack: 12.3, ReferenceGlue: 0.7}[ref]
		_, err = New(n, o)
		require.ErrorContains(t, err, say)
		require.ErrorContains(t, err, "the bearing needs 1 mm of the guide")
	}
}
