package carve

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

func planOf(t *testing.T, s *spec.Spec, change func(o *Options)) *Plan {
	t.Helper()
	n, err := neck.New(s)
	require.NoError(t, err)
	o := DefaultOptions(s.Units)
	if change != nil {
		change(&o)
	}
	alone(&o)
	p, err := New(n, o)
	require.NoError(t, err)
	return p
}

// alone spares a plan the comparison of its bit with all common ones, where none is
// there but it, or, where none is asked for, one of 8 mm radius.
func alone(o *Options) {
	if len(o.Owned) == 0 {
		o.Owned = []Bit{o.Bit}
		if o.Bit.Radius == 0 {
			o.Owned[0] = DefaultBit(8)
		}
	}
}

// planInPairs returns the usual plan with so many pairs of flats, in mm, the same
// to every test.
func planInPairs(t *testing.T, n *neck.Neck, pairs int) *Plan {
	t.Helper()
	key := pairedPlan{n, pairs}
	if p, ok := pairedPlans[key]; ok {
		return p
	}
	o := DefaultOptions(spec.Millimetre)
	o.Pairs = pairs
	alone(&o)
	p, err := New(n, o)
	require.NoError(t, err, n.Spec().Name)
	pairedPlans[key] = p
	return p
}

type pairedPlan struct {
	neck  *neck.Neck
	pairs int
}

var pairedPlans = map[pairedPlan]*Plan{}

// TestTaperOfStraightDepth checks the flat of a straight depth line: it is that
// line, and its setting on the sled follows by similar triangles.
func TestTaperOfStraightDepth(t *testing.T) {
	p := planOf(t, spec.Demo(), func(o *Options) { o.Sled.Span, o.Sled.Offset = 600, 50 })
	s := p.Neck.Spec()
	x1, x12 := s.FretX(1), s.FretX(12)
	slope := (22.4 - 20.6) / (x12 - x1)
	assert.InDelta(t, slope, p.Taper.Slope, 1e-9)
	assert.InDelta(t, 15.0, p.Taper.Depth(x1), 1e-9)
	assert.InDelta(t, 16.8, p.Taper.Depth(x12), 1e-9)
	assert.InDelta(t, math.Atan(slope), p.Taper.Angle, 1e-9)
	assert.Zero(t, p.Taper.Over)
	assert.Equal(t, "volute", p.Stretch.FromWhat)
	assert.InDelta(t, -12+22, p.Stretch.From, 1e-9)
	assert.InDelta(t, s.FretX(15.5), p.Stretch.To, 1e-9)

	set := p.Sled
	assert.Equal(t, "body end", set.HingeAt)
	assert.Equal(t, "nut end", set.ShimAt)
	assert.InDelta(t, 600*slope, set.Shim, 1e-9)
	assert.InDelta(t, 50*slope, set.LiftNear, 1e-9)
	assert.InDelta(t, (50+p.Stretch.Length())*slope, set.LiftFar, 1e-9)
	for _, st := range p.Stations {
		assert.InDelta(t, 32-p.Taper.Depth(st.X), st.Taper, 1e-9)
	}
}

// TestShimOfOneMillimetre holds a value of the trade: common practice, no
// published source. A back that slopes by 1 mm is cut with a shim of 1 mm at
// the far end of a sled that is hinged at the heel and as long as the run.
func TestShimOfOneMillimetre(t *testing.T) {
	s := spectest.Straight()
	s.Width.End = 57
	end := s.BoardEnd()
	s.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: 21}, {At: spec.AtX(end), Total: 22}}
	p := planOf(t, s, nil)
	assert.InDelta(t, 1, p.Taper.Drop(), 1e-9)
	assert.InDelta(t, 1, p.Sled.Shim, 1e-9)
	assert.Equal(t, "body end", p.Sled.HingeAt)

	// Deeper at the nut, the sled is turned round.
	s.Depth[0].Total, s.Depth[1].Total = 22, 21
	p = planOf(t, s, nil)
	assert.InDelta(t, -1, p.Taper.Drop(), 1e-9)
	assert.InDelta(t, 1, p.Sled.Shim, 1e-9)
	assert.Equal(t, "nut end", p.Sled.HingeAt)
}

// TestTaperOfBentDepth compares the flat with a search over all lines: none
// that stays above a bulging or a hollow depth line leaves less wood.
func TestTaperOfBentDepth(t *testing.T) {
	for _, totals := range [][3]float64{{20, 22, 22.5}, {20, 20.3, 22.5}, {22, 22.6, 21}, {21, 20, 21.5}} {
		s := spectest.Straight()
		end := s.BoardEnd()
		s.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: totals[0]}, {At: spec.AtX(end / 2), Total: totals[1]}, {At: spec.AtX(end * 0.97), Total: totals[2]}}
		p := planOf(t, s, nil)
		n := p.Neck
		var xs []float64
		for i := range 1001 {
			xs = append(xs, numeric.Lerp(p.Stretch.From, p.Stretch.To, float64(i)/1000))
		}
		over := 0.0
		for _, x := range xs {
			gap := p.Taper.Depth(x) - n.Depth(x)
			require.GreaterOrEqual(t, gap, -1e-9)
			over = math.Max(over, gap)
		}
		assert.InDelta(t, over, p.Taper.Over, 1e-3)
		mean := func(slope float64) float64 { // of the lowest line of that slope
			lift := math.Inf(-1)
			for _, x := range xs {
				lift = math.Max(lift, n.Depth(x)-slope*x)
			}
			return lift + slope*(p.Stretch.From+p.Stretch.To)/2
		}
		best, about := math.Inf(1), 0.0
		for step := 0.0005; step > 1e-6; step /= 20 { // and closer about the best
			centre := about
			for i := -80; i <= 80; i++ {
				if v := mean(centre + float64(i)*step); v < best {
					best, about = v, centre+float64(i)*step
				}
			}
		}
		mine := p.Taper.Depth((p.Stretch.From + p.Stretch.To) / 2)
		assert.LessOrEqual(t, mine, best+2e-4)
		assert.InDelta(t, best, mine, 2e-3)
	}
}

// TestSag checks the plate's deflection by hand: 3.5 kg is 34.323 N; a plate of
// 150 by 18 mm has I = 150 18³/12 = 72 900 mm⁴; over 400 mm, with E = 9000 MPa,
// 34.323 400³ / (48 9000 72 900) = 0.06975 mm (Gere, Mechanics of Materials,
// table G-2, case 4).
func TestSag(t *testing.T) {
	s := DefaultSled()
	assert.Zero(t, s.Sag())
	s.Unsupported = 400
	assert.InDelta(t, 0.06975, s.Sag(), 5e-6)
}

// ellipticNeck is a straight neck, untapered, whose section is half an ellipse
// of semi-axes a across and b deep under walls of height wall.
func ellipticNeck(a, b, wall float64) *spec.Spec {
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 2*a, 2*a
	s.Wall = wall
	s.Depth[0].Total = s.Board.Thickness + wall + b
	return s
}

// TestArcOnEllipse solves the contact of a quarter circle with an ellipse by
// hand.
//
// With y measured from the centreline and t = y/a, the ellipse is b √(1-t²)
// below its walls. An arc of radius R that is vertical at the wall's foot has
// its centre at y = a - R, and holds the ellipse where
//
//	b² (1-t²) + (y - a + R)² <= R²,
//	(1-t) (b² (1+t) + a² (1-t) - 2 R a) <= 0.
//
// The second factor is linear in t. It is largest at t = 1 if b > a, and the
// condition is then R >= b²/a, the radius of curvature at the wall; and
// otherwise at the crown, t = 1 - R/a, where it gives R >= 2 a b²/(a²+b²). Such
// an arc may come down to the wall's foot, and touches it there. A smaller one
// touches at the crown, which may come to the ellipse at y = a - R: the arc's
// end is then R above that.
// Without DRAWN=all it takes some of the cases.
func TestArcOnEllipse(t *testing.T) {
	const wall = 1.5
	for _, c := range []struct{ a, b float64 }{{22, 14}, {21.5, 15}, {27, 16}, {20, 20}} {
		limit := 2 * c.a * c.b * c.b / (c.a*c.a + c.b*c.b)
		for _, radius := range drawn.Some([]float64{4, 0.7 * limit, limit * 0.999, limit * 1.001, 1.5 * limit, 25.4, 60}, 4) {
			p := planOf(t, ellipticNeck(c.a, c.b, wall), func(o *Options) {
				o.Allowance, o.Bit = 0, DefaultBit(radius)
				o.Bit.Straight = 50
			})
			depth := wall + c.b
			end := wall // depth of the arc's end
			touch := ContactSide
			if radius < limit {
				u := 1 - radius/c.a
				end = wall + c.b*math.Sqrt(1-u*u) - radius
				touch = ContactCrown
			}
			assert.InDelta(t, depth-end, p.Round.Greatest.Height, 1e-7, "a %g b %g R %g", c.a, c.b, radius)
			if math.Abs(radius/limit-1) > 0.01 { // at the limit it touches at both ends
				assert.Equal(t, touch, p.Round.Greatest.Touch)
			}
		}
	}
	// b > a: the circle of curvature at the wall decides.
	p := planOf(t, ellipticNeck(20, 24, wall), func(o *Options) {
		o.Allowance, o.Bit = 0, DefaultBit(24*24/20.0+0.01)
		o.Bit.Straight = 50
	})
	assert.InDelta(t, 24, p.Round.Greatest.Height, 1e-6)
}

// TestArcTangentToEllipse makes a contact in the middle of the arc by hand.
//
// At the ellipse's point with parameter τ, (a cos τ, b sin τ), the outward
// normal is (b cos τ, a sin τ) / √(b² cos² τ + a² sin² τ). An arc of radius R
// touches there from outside if its centre lies R inward along that normal. The
// bearing's offset that puts the centre at that y follows: a + offset - R is the
// centre's y. R exceeds the radius of curvature (a² sin² τ + b² cos² τ)^1.5 /
// (a b) at the point, so that the arc holds the ellipse.
func TestArcTangentToEllipse(t *testing.T) {
	const a, b, wall = 22.0, 15.0, 1.5
	for _, c := range []struct{ tau, radius float64 }{{0.4, 20}, {0.5, 24}, {0.7, 27}} {
		sin, cos := math.Sincos(c.tau)
		norm := math.Hypot(b*cos, a*sin)
		require.Greater(t, c.radius, math.Pow(norm, 3)/(a*b))
		cy := a*cos - c.radius*b*cos/norm
		cz := wall + b*sin - c.radius*a*sin/norm
		offset := cy - a + c.radius
		require.Positive(t, offset)
		p := planOf(t, ellipticNeck(a, b, wall), func(o *Options) {
			o.Allowance, o.Bit = 0, DefaultBit(c.radius)
			o.Bit.Offset = offset
			o.Guide, o.Template = GuideTemplate, 50
		})
		assert.InDelta(t, wall+b-cz, p.Round.Greatest.Height, 1e-7)
		assert.Equal(t, ContactArc, p.Round.Greatest.Touch)
		assert.InDelta(t, a*cos, math.Abs(p.Round.Greatest.Y), 1e-3)
	}
}

// TestBitOfTheSectionsRadius checks that a bit whose radius is that of a
// semicircular section leaves nothing of it.
func TestBitOfTheSectionsRadius(t *testing.T) {
	for _, ref := range []Reference{ReferenceBack, ReferenceGlue} {
		p := planOf(t, ellipticNeck(20, 20, 1.5), func(o *Options) {
			o.Allowance, o.Bit, o.Reference = 0, DefaultBit(20), ref
		})
		require.True(t, p.Round.Possible())
		assert.InDelta(t, 0, p.Round.Remaining, 1e-6)
		for _, st := range p.Stations {
			require.True(t, st.Full)
			assert.InDelta(t, 0, st.Ridge, 1e-5) // a square root of a rounding error
			assert.InDelta(t, 0, st.Remaining, 1e-7)
			assert.InDelta(t, 0, st.Hand, 1e-8)
			assert.InDelta(t, 1.5, st.Edge, 1e-9)
		}
		assert.InDelta(t, 0, p.Stage(StageRound).Hand, 1e-9)
	}
}

// TestRidgeWidensWithTheNeck holds values of the trade: common practice, no
// published source. With one height of the bit along the neck's own edge the
// ridge widens by exactly what the neck widens, 13 mm here. And a bit of 1 in
// radius set too deep takes too much from a neck of 43 mm: the plan refuses the
// height.
func TestRidgeWidensWithTheNeck(t *testing.T) {
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 43, 56
	s.Wall = 1.2
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 21}, {At: spec.AtFret(11), Total: 22}}
	for _, radius := range []float64{6, 12.7, 25.4} {
		p := planOf(t, s, func(o *Options) { o.Bit = DefaultBit(radius) })
		first, last := p.Stations[0], p.Stations[len(p.Stations)-1]
		require.InDelta(t, 13, last.Width-first.Width, 1e-9)
		assert.InDelta(t, 13, last.Ridge-first.Ridge, 1e-9)
	}

	n, err := neck.New(s)
	require.NoError(t, err)
	o := DefaultOptions(spec.Millimetre)
	o.Bit, o.Guide, o.Template = DefaultBit(25.4), GuideTemplate, 12
	p, err := New(n, o)
	require.NoError(t, err)
	limit := p.Round.Greatest.Height
	assert.InDelta(t, p.Taper.Depth(0)-1.2, limit, 1e-3)
	o.Height = limit + 4
	_, err = New(n, o)
	require.ErrorContains(t, err, "into the target")
	o.Height = limit - 2
	p, err = New(n, o)
	require.NoError(t, err)
	assert.True(t, p.Round.Own)
	assert.Equal(t, limit-2, p.Round.Setting.Height)
}

// TestTooBigTooSmall checks the verdicts on an ellipse: far over the radius
// that follows it, far under it, and the best of the common sizes.
func TestTooBigTooSmall(t *testing.T) {
	s := ellipticNeck(22, 14, 1.2)
	n, err := neck.New(s)
	require.NoError(t, err)
	say := func(radius float64) *Plan {
		o := DefaultOptions(s.Units)
		o.Allowance, o.Bit = 0, DefaultBit(radius)
		p, err := New(n, o)
		require.NoError(t, err)
		return p
	}
	assert.Contains(t, say(38.1).In(spec.Millimetre).Verdict(), "too big")
	assert.Contains(t, say(2).In(spec.Millimetre).Verdict(), "too small")
	auto := say(0)
	assert.Contains(t, auto.In(spec.Millimetre).Verdict(), "suits")
	// 2 a b²/(a²+b²) = 12.68: half an inch is next to it.
	assert.InDelta(t, 12.7, auto.Round.Bit.Radius, 1)
	for _, b := range auto.Round.Bits {
		assert.GreaterOrEqual(t, b.Remaining, auto.Round.result(auto.Round.Best).Remaining)
	}
}

// TestPasses checks that the passes add up, that none is deeper than the step,
// and that they end at the setting.
func TestPasses(t *testing.T) {
	for _, ref := range []Reference{ReferenceBack, ReferenceGlue} {
		for _, step := range []float64{1, 2.5, 3, 20} {
			p := planOf(t, spec.Demo(), func(o *Options) { o.Step, o.Reference = step, ref })
			r := p.Round
			require.NotEmpty(t, r.Passes)
			assert.Equal(t, r.Setting.Height, r.Passes[len(r.Passes)-1].Height)
			before, sum := 0.0, 0.0
			for _, pass := range r.Passes {
				assert.LessOrEqual(t, pass.Edge-before, step*1.001)
				assert.Greater(t, pass.Edge, before)
				before = pass.Edge
				sum += pass.Removed
			}
			assert.InDelta(t, p.Stage(StageTaper).Remaining-r.Remaining, sum, 1e-6)
			assert.InDelta(t, p.Stage(StageRound).Removed, sum, 1e-6)
		}
	}
}

// TestStops checks that the bit's body stays between volute and heel, and that
// it runs out where the wood ends.
func TestStops(t *testing.T) {
	p := planOf(t, spec.Demo(), func(o *Options) { o.Bit = DefaultBit(10); o.Bit.Diameter = 36 })
	require.Len(t, p.Round.Stops, 4)
	for _, s := range p.Round.Stops {
		switch s.End {
		case "nut end":
			assert.Equal(t, "volute", s.Feature)
			assert.InDelta(t, 10+18, s.Centre, 1e-9)
			assert.Equal(t, s.Side == neck.PlusY, s.Begins)
		default:
			assert.Equal(t, "heel", s.Feature)
			assert.InDelta(t, p.Neck.Spec().FretX(15.5)-18, s.Centre, 1e-9)
			assert.Equal(t, s.Side == neck.MinusY, s.Begins)
		}
		assert.InDelta(t, p.Neck.BoardEnd(), s.Centre+s.Board, 1e-9)
	}
	// The base plate needs more room than the bit.
	p = planOf(t, spec.Demo(), func(o *Options) { o.Bit = DefaultBit(10); o.Base = 45 })
	assert.InDelta(t, 55, p.Round.From, 1e-9)
	// No headstock, no heel: the bit leaves the wood.
	p = planOf(t, spectest.Straight(), func(o *Options) { o.Bit = DefaultBit(10) })
	assert.Less(t, p.Round.From, 0.0)
	assert.Greater(t, p.Round.To, p.Neck.End())
	assert.Empty(t, p.Round.Stops[0].Feature)
	// No room at all.
	p = planOf(t, spec.Demo(), func(o *Options) { o.Bit = DefaultBit(10); o.Base = 200 })
	assert.False(t, p.Round.Possible())
	assert.Contains(t, p.In(spec.Millimetre).Why(StageRound), "no room")
	assert.Empty(t, p.Round.Passes)
}

// TestVolumesAgainstMesh compares the volumes with the mesh of the neck, by
// the divergence theorem, and the masses with them.
func TestVolumesAgainstMesh(t *testing.T) {
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 43, 56
	s.Wall = 1
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 21}, {At: spec.AtFret(11), Total: 23}}
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 1.6, Treble: 2.4, Apex: -1}, {At: spec.AtFret(9), Bass: 2.6, Treble: 2.2}}
	p := planOf(t, s, func(o *Options) { o.StockDepth = 25 })
	m, err := p.Neck.Solid(neck.PartWood, 0.002)
	require.NoError(t, err)
	volume := 0.0
	for _, f := range m.Faces {
		a, b, c := m.Vertices[f[0]], m.Vertices[f[1]], m.Vertices[f[2]]
		volume += (a.X*(b.Y*c.Z-b.Z*c.Y) + a.Y*(b.Z*c.X-b.X*c.Z) + a.Z*(b.X*c.Y-b.Y*c.X)) / 6
	}
	end := s.BoardEnd()
	plan := (43 + 56.0) / 2 * end // the outline's area
	assert.InEpsilon(t, volume, p.Stage(StageFinal).Volume, 1e-4)
	assert.InDelta(t, plan*25, p.Stage(StageSquare).Volume, 1e-6)
	assert.InEpsilon(t, plan*25-volume, p.Stage(StageTaper).Removed+p.Stage(StageFinal).Removed, 1e-4)
	for _, st := range p.Stages {
		assert.InDelta(t, st.Removed/1e9*s.Wood.Material().Density*1e3, st.Mass, 1e-9)
	}
}

// TestFlats checks the flats against the section by brute force: tangent to
// what is to be left, bounded by the lines that are said to be drawn, and the
// most wood and the area that remain.
//
// Long, since its cases share what is set up first.
// Without DRAWN=all it takes some of the cases.
func TestFlats(t *testing.T) {
	for pairs := 1; pairs <= 3; pairs++ {
		p := planOf(t, spec.Demo(), func(o *Options) { o.Pairs, o.Allowance = pairs, 0.4 })
		n := p.Neck
		for _, st := range drawn.Some(p.Stations, 6) {
			sec := n.Section(st.X)
			a, d := sec.HalfWidth, p.Taper.Depth(st.X)
			require.Len(t, st.Flats, 2*pairs)
			for _, f := range st.Flats {
				// The line from edge to edge, measured along.
				assert.InDelta(t, math.Hypot(f.Board.Y-f.Back.Y, f.Board.Z-f.Back.Z), f.Width, 1e-9)
				assert.InDelta(t, math.Tan(f.Angle), (f.Board.Z-f.Back.Z)/math.Abs(f.Board.Y-f.Back.Y), 1e-9)
				clear := necktest.NewClearance(&sec, math.Inf(1))
				for i := range 801 {
					k := numeric.Lerp(-1, 2, float64(i)/800) // the whole line of the flat
					q := neck.YZ{Y: numeric.Lerp(f.Board.Y, f.Back.Y, k), Z: numeric.Lerp(f.Board.Z, f.Back.Z, k)}
					if q.Z < 0 {
						clear.Take(q)
					}
				}
				assert.InDelta(t, 0.4, clear.Least(), 2e-3)
				assert.LessOrEqual(t, f.Final, f.Width+1e-9)
				switch f.Board.On {
				case "side":
					assert.InDelta(t, a, math.Abs(f.Board.Y), 1e-9)
				default:
					assert.Regexp(t, "^flat [12]$", f.Board.On)
					assert.Positive(t, f.Board.Along)
				}
				switch f.Back.On {
				case "back":
					assert.InDelta(t, d, -f.Back.Z, 1e-9)
				default:
					assert.Regexp(t, "^flat [12]$", f.Back.On)
					assert.Positive(t, f.Back.Along)
				}
				assert.Equal(t, f.Side.Sign(), math.Copysign(1, f.Back.Y))
			}
			// Area and height by a grid.
			const step = 0.1
			area, most := 0.0, 0.0
			last, d0 := neck.YZ{}, math.Inf(1) // a point and its distance
			for y := -a + step/2; y < a; y += step {
				depth := d
				for _, f := range st.Flats {
					sin, cos := math.Sincos(math.Pi/2 - f.Angle)
					h := f.Side.Sign()*f.Back.Y*cos - f.Back.Z*sin
					depth = math.Min(depth, (h-f.Side.Sign()*y*cos)/sin)
				}
				target, ok := sec.DepthAt(y)
				require.True(t, ok)
				area += step * (depth - target)
				// A distance differs by no more than the points lie apart.
				if q := (neck.YZ{Y: y, Z: -depth}); d0+math.Hypot(q.Y-last.Y, q.Z-last.Z) > most {
					last, d0 = q, sec.Distance(q)
					most = math.Max(most, d0)
				}
			}
			assert.InDelta(t, area, st.FlatsHand, 0.8)
			assert.InDelta(t, most, st.FlatsRemaining, 0.1)
		}
	}
}

// TestMoreFlatsLeaveLess checks that each further pair leaves less wood, and
// that no other angle of the first pair would leave less.
func TestMoreFlatsLeaveLess(t *testing.T) {
	last := math.Inf(1)
	for pairs := 1; pairs <= 3; pairs++ {
		p := planOf(t, spec.Demo(), func(o *Options) { o.Pairs = pairs })
		assert.Less(t, p.Flats.Remaining, 0.9*last)
		last = p.Flats.Remaining
	}
	p := planOf(t, spec.Demo(), func(o *Options) { o.Pairs = 1 })
	volume := func(angle float64) float64 {
		f := p.Flats
		f.Angles[neck.PlusY] = []float64{angle}
		return p.stretchVolume(func(x float64) float64 { return f.polygons(x)[0].area() })
	}
	chosen := volume(p.Flats.Angles[neck.PlusY][0])
	for deg := 5.0; deg < 86; deg += 2.5 {
		assert.GreaterOrEqual(t, volume(deg*math.Pi/180), chosen*0.9999)
	}
}

// TestFlatLines checks that the pencil lines along the neck go through the
// edges at the stations and lie in order from nut to heel.
func TestFlatLines(t *testing.T) {
	p := planOf(t, spec.Demo(), func(o *Options) { o.Pairs = 3 })
	lines := p.Flats.Lines
	require.Len(t, lines, 12)
	for _, l := range lines {
		require.NotEmpty(t, l.Points)
		assert.NotEmpty(t, l.On)
		assert.InDelta(t, p.Stretch.From, l.Points[0].X, 1e-9)
		assert.InDelta(t, p.Stretch.To, l.Points[len(l.Points)-1].X, 1e-9)
		for i := 0; i+1 < len(l.Points); i++ {
			a, b := l.Points[i], l.Points[i+1]
			require.Less(t, a.X, b.X)
			x := (a.X + b.X) / 2
			for _, f := range p.Flats.At(x) {
				if f.Side == l.Side && f.Pair == l.Pair {
					q := f.Edge(l.Back)
					assert.InDelta(t, q.Y, (a.Y+b.Y)/2, 0.01)
					assert.InDelta(t, q.Z, (a.Z+b.Z)/2, 0.01)
				}
			}
		}
	}
}

// TestStageCover compares the cover of each stage with a search over points of
// the channel and of the stage's surface in space.
func TestStageCover(t *testing.T) {
	for _, floor := range []spec.Floor{spec.FloorFlat, spec.FloorRound} {
		s := spec.Demo()
		s.Rod.Floor = floor
		s.Rod.Width, s.Rod.Depth = 14, 10.5 // so wide that its corners count
		s.Limits.Cover = 0.5
		p := planOf(t, s, func(o *Options) { o.Allowance, o.Bit, o.Pairs = 0, DefaultBit(12), 3 })
		rod := p.Neck.ChannelOutline(p.Neck.Channels()[0], 61, 40)
		for kind := StageTaper; kind <= StageFinal; kind++ {
			x := 61.0
			want := math.Inf(1)
			for i := -30; i <= 30; i++ {
				xs := x + 0.05*float64(i)
				line := p.Outline(kind, xs)
				for j := 0; j+1 < len(line); j++ {
					for m := range 41 {
						k := float64(m) / 40
						q := neck.YZ{Y: numeric.Lerp(line[j].Y, line[j+1].Y, k), Z: numeric.Lerp(line[j].Z, line[j+1].Z, k)}
						for _, c := range rod {
							want = math.Min(want, math.Sqrt((xs-x)*(xs-x)+(q.Y-c.Y)*(q.Y-c.Y)+(q.Z-c.Z)*(q.Z-c.Z)))
						}
						// and the middle of a flat floor or wall
						for _, c := range []neck.YZ{{Y: numeric.Clamp(q.Y, -7, 7), Z: -10.5}, {Y: math.Copysign(7, q.Y), Z: numeric.Clamp(q.Z, -10.5, 0)}} {
							if floor == spec.FloorFlat {
								want = math.Min(want, math.Sqrt((xs-x)*(xs-x)+(q.Y-c.Y)*(q.Y-c.Y)+(q.Z-c.Z)*(q.Z-c.Z)))
							}
						}
					}
				}
			}
			got, ok := p.CoverAt(kind, x)
			require.True(t, ok)
			assert.InDelta(t, want, got, 0.02, "%s", kind)
			least, at, ok := p.leastCover(kind, func(x float64) []neck.YZ { return p.Outline(kind, x) })
			require.True(t, ok)
			assert.LessOrEqual(t, least, got+1e-9)
			_ = at
		}
		for _, x := range []float64{20, 100, 250} {
			got, _ := p.CoverAt(StageFinal, x)
			want, ok := p.Neck.Cover(x)
			require.True(t, ok)
			assert.InDelta(t, want, got, 1e-4)
		}
	}
}

// TestPlanRefuses checks what a plan does not do.
func TestPlanRefuses(t *testing.T) {
	// The finished back breaks the limit: that stage is refused, and only it.
	s := spec.Demo()
	s.Limits.Cover = 5.45
	p := planOf(t, s, nil)
	assert.True(t, p.Refuses(StageFinal))
	assert.False(t, p.Refuses(StageTaper))
	assert.Len(t, p.In(p.Options.Unit).Refusals(), 1)
	// The taper breaks it: so does everything after.
	s.Limits.Cover = 6
	p = planOf(t, s, nil)
	assert.True(t, p.Refuses(StageTaper))
	assert.False(t, p.Refuses(StageSquare))
	assert.Len(t, p.In(p.Options.Unit).Refusals(), 4)

	n := necktest.Demo(t)
	for name, c := range map[string]struct {
		change func(o *Options)
		say    string
	}{
		"thin stock":        {func(o *Options) { o.StockDepth = 15 }, "the flat back needs 17.172 mm"},
		"bit":               {func(o *Options) { o.Bit.Radius = -3 }, "radius"},
		"nan":               {func(o *Options) { o.Allowance = math.NaN() }, "allowance"},
		"pairs":             {func(o *Options) { o.Pairs = 4 }, "1 to 3"},
		"step":              {func(o *Options) { o.Step = 0 }, "pass"},
		"bearing":           {func(o *Options) { o.Bit.Radius, o.Bit.Offset = 5, 6 }, "off the wood"},
		"diameter":          {func(o *Options) { o.Bit.Radius, o.Bit.Diameter = 10, 12 }, "diameter"},
		"diameter alone":    {func(o *Options) { o.Bit.Diameter = 12 }, "give both"},
		"template":          {func(o *Options) { o.Guide = GuideTemplate }, "template"},
		"station in volute": {func(o *Options) { o.Places = []spec.Place{spec.AtX(2)} }, "outside the stretch"},
		"span":              {func(o *Options) { o.Sled.Span = -1 }, "span"},
		"plate":             {func(o *Options) { o.Sled.Unsupported, o.Sled.Thickness = 300, 0 }, "thick"},
		"height":            {func(o *Options) { o.Bit.Radius, o.Height = 12, 15 }, "refused"},
	} {
		t.Run(name, func(t *testing.T) {
			o := DefaultOptions(spec.Millimetre)
			c.change(&o)
			_, err := New(n, o)
			require.ErrorContains(t, err, c.say)
			assert.NotContains(t, err.Error(), "\n")
		})
	}
}

// TestBearingLimit checks that the bit is not set so deep that its bearing
// loses the guide, and that a template gives it more.
func TestBearingLimit(t *testing.T) {
	s := ellipticNeck(22, 14, 0)
	plan := func(change func(o *Options)) *Plan {
		return planOf(t, s, func(o *Options) {
			o.Allowance, o.Bit = 0, DefaultBit(20)
			change(o)
		})
	}
	p := plan(func(*Options) {})
	assert.Equal(t, ContactBearing, p.Round.Greatest.Touch)
	assert.InDelta(t, 14-leastContact, p.Round.Greatest.Height, 1e-9)
	assert.Contains(t, strings.Join(p.In(p.Options.Unit).NoteLines(), " "), "The bearing has only")
	p = plan(func(o *Options) { o.Guide, o.Template = GuideTemplate, 9 })
	assert.Equal(t, ContactSide, p.Round.Greatest.Touch)
	assert.InDelta(t, 14, p.Round.Greatest.Height, 1e-9)
	// The bit's own height.
	p = plan(func(o *Options) { o.Bit = DefaultBit(6); o.Bit.Straight = 1 })
	assert.InDelta(t, 7, p.Round.Greatest.Height, 1e-9)
}

// TestCurveDistance compares the quick distance with the section's own.
func TestCurveDistance(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	n := necktest.Demo(t)
	for range 400 {
		s := n.Section(numeric.Lerp(10, 376, r.Float64()))
		cs := curves(&s, 0)
		q := neck.YZ{Y: s.HalfWidth * numeric.Lerp(-1.1, 1.1, r.Float64()), Z: -s.Depth * numeric.Lerp(0, 1.4, r.Float64())}
		if want := s.Distance(q); want > -2 { // deep inside, the far side is nearer
			assert.InDelta(t, want, distance(&cs, q), 1e-7)
		}
	}
}

// planOrShort returns the plan of a neck that can be built. A heel that its
// stick and blocks are too thin for has none, and planOrShort returns nil when
// that is said.
func planOrShort(t *rapid.T, n *neck.Neck, o Options) *Plan {
	p, err := New(n, o)
	if k, ok := n.HeelStack(); ok {
		lack := 0.0
		for i := range 2001 {
			lack = math.Max(lack, n.Depth(numeric.Lerp(k.From, n.End(), float64(i)/2000))-k.Depth())
		}
		if lack > 1e-6 {
			require.ErrorContains(t, err, "stick and blocks are")
			return nil
		}
	}
	require.NoError(t, err)
	return p
}

// TestPlanOfAnyNeck checks, on necks drawn at random, that no stage goes below
// the target, that volumes fall from stage to stage, and that nothing panics.
func TestPlanOfAnyNeck(t *testing.T) {
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := onePiece(t)
		o := DefaultOptions(spec.Millimetre)
		o.Pairs = rapid.IntRange(1, 3).Draw(t, "pairs")
		if rapid.Bool().Draw(t, "own bit") {
			o.Bit = DefaultBit(rapid.Float64Range(1, 60).Draw(t, "radius"))
		}
		o.Allowance = rapid.Float64Range(0, 2).Draw(t, "allowance")
		if rapid.Bool().Draw(t, "glue") {
			o.Reference = ReferenceGlue
		}
		p := planOrShort(t, n, o)
		if p == nil {
			return
		}
		vols := make([]float64, len(p.Stages))
		for i, st := range p.Stages {
			vols[i] = st.Volume
		}
		for i, pair := range [][2]StageKind{{StageSquare, StageTaper}, {StageTaper, StageRound}, {StageTaper, StageFlats}, {StageRound, StageFinal}, {StageFlats, StageFinal}} {
			if vols[pair[0]] < vols[pair[1]]-1e-6 {
				t.Fatalf("pair %d: %v", i, vols)
			}
		}
		for _, st := range p.Stations {
			s := n.Section(st.X)
			for kind := StageTaper; kind < StageFinal; kind++ {
				if !p.Stage(kind).Possible {
					continue
				}
				clear := necktest.NewClearance(&s, -2e-4)
				for _, q := range p.Outline(kind, st.X) {
					if q.Z < 0 {
						clear.Take(q)
					}
				}
				if clear.Least() < -2e-4 {
					t.Fatalf("%s cuts %g into the target at x = %g", kind, -clear.Least(), st.X)
				}
			}
			if st.Flat < st.Wood-1e-9 {
				t.Fatalf("flat below target at %g", st.X)
			}
		}
	})
}

// TestTaperLeavesLeastWood searches all planes by brute force on necks that
// widen and that narrow towards the body: none that never cuts below the target
// leaves less wood, width times height summed up along the run. On a neck whose
// width changes by much the plane over the middle of the run would leave more.
//
// Long, since it is one table of cases.
func TestTaperLeavesLeastWood(t *testing.T) {
	for _, c := range []struct {
		nut, end float64
		totals   [3]float64
	}{{30, 70, [3]float64{20, 22.6, 23}}, {70, 30, [3]float64{20, 22.6, 23}}, {43, 56, [3]float64{20, 22, 22.5}},
		{30, 70, [3]float64{22, 21, 23.5}}, {44, 44, [3]float64{20, 22.6, 23}}} {
		s := spectest.Straight()
		s.Width.Nut, s.Width.End = c.nut, c.end
		end := s.BoardEnd()
		s.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: c.totals[0]}, {At: spec.AtX(end * 0.4), Total: c.totals[1]}, {At: spec.AtX(end * 0.97), Total: c.totals[2]}}
		p := planOf(t, s, nil)
		const steps = 4000
		width := func(x float64) float64 { return numeric.Lerp(c.nut, c.end, x/end) }
		var xs, depths []float64
		for i := range steps + 1 {
			xs = append(xs, end*float64(i)/steps)
			depths = append(depths, p.Neck.Depth(xs[i]))
		}
		wood := func(depth func(x float64) float64) float64 { // over the target, by Simpson's rule
			sum := 0.0
			for i, x := range xs {
				weight := 2.0
				switch {
				case i == 0 || i == steps:
					weight = 1
				case i%2 == 1:
					weight = 4
				}
				sum += weight * width(x) * (depth(x) - depths[i])
			}
			return sum * end / steps / 3
		}
		lowest := func(slope float64) float64 { // the wood under the lowest plane of that slope
			lift := math.Inf(-1)
			for i, x := range xs {
				lift = math.Max(lift, depths[i]-slope*x)
			}
			return wood(func(x float64) float64 { return lift + slope*x })
		}
		best, about := math.Inf(1), 0.0
		for step := 0.0005; step > 1e-8; step /= 20 { // and closer about the best
			centre := about
			for i := -40; i <= 40; i++ {
				if v := lowest(centre + float64(i)*step); v < best {
					best, about = v, centre+float64(i)*step
				}
			}
		}
		mine := wood(p.Taper.Depth)
		assert.InDelta(t, best, mine, 1, "%v: mm³", c)
		assert.LessOrEqual(t, mine, best+0.5, "%v: mm³", c)
		for _, x := range xs {
			require.GreaterOrEqual(t, p.Taper.Depth(x), p.Neck.Depth(x)-1e-9)
		}
		if c.nut == c.end || c.totals[1] < c.totals[0] {
			continue
		}
		// Where the curve bulges the plane over the middle of the run is another.
		h := 0.01
		slope := (p.Neck.Depth(end/2+h) - p.Neck.Depth(end/2-h)) / 2 / h
		if c.end-c.nut > 20 || c.nut-c.end > 20 {
			assert.Greater(t, lowest(slope), mine+20, "%v: mm³", c)
		}
	}
}

func BenchmarkPlan(b *testing.B) {
	n, err := neck.New(spec.Demo())
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := New(n, DefaultOptions(spec.Millimetre)); err != nil {
			b.Fatal(err)
		}
	}
}

// TestFretAtTheRunsEnd puts a fret close to where the run begins, on either
// side of it.
func TestFretAtTheRunsEnd(t *testing.T) {
	for _, off := range []float64{-0.2, -0.04, -1e-12, 0, 0.03, 0.2} {
		s := spec.Demo()
		x := s.FretX(1)
		s.Depth[0].At = spec.AtFret(4)
		s.Volute.Centre, s.Volute.Length = spec.AtX(x-off-22), 44
		n, err := neck.New(s)
		require.NoError(t, err)
		require.InDelta(t, x-off, StretchOf(n).From, 1e-9)
		o := DefaultOptions(spec.Millimetre)
		alone(&o)
		p, err := New(n, o)
		require.NoError(t, err, "%g", off)
		first := p.Stations[0]
		if off > -1e-9 && off < 0.05 {
			assert.Equal(t, "fret 1", first.Label, "%g", off)
		} else {
			assert.Equal(t, "run begins", first.Label, "%g", off)
		}
	}
}

// TestNothingToCut asks for more wood to be left than there is: neither way
// takes off anything, and both are refused.
func TestNothingToCut(t *testing.T) {
	p := planOf(t, ellipticNeck(20, 18, 1), func(o *Options) { o.Allowance = 9.5 })
	assert.Contains(t, p.In(spec.Millimetre).Why(StageRound), "takes off anything")
	assert.Equal(t, "no flat takes off anything and leaves 9.5 mm", p.In(spec.Millimetre).Why(StageFlats))
	assert.Nil(t, p.BreaksCover())
	assert.Len(t, p.In(p.Options.Unit).Refusals(), 2)
	// A corner of the rectangle stands out (√2 - 1) 20 mm: less than that leaves
	// work for one pair.
	p = planOf(t, ellipticNeck(20, 20, 1), func(o *Options) { o.Allowance = 8; o.Pairs = 3 })
	assert.False(t, p.Refuses(StageFlats))
}

// TestCrownOfSkewedCut cuts a steep, tapering V that gets thinner towards the
// body, where slope and taper push the crown a little beyond the bit's radius:
// no point of the cut may lie in the target.
func TestCrownOfSkewedCut(t *testing.T) {
	s := spectest.Straight()
	s.Scale = spec.Scale{Length: 150, Frets: 8}
	s.Width = spec.Width{Nut: 10, End: 18, PastLastFret: 1}
	s.Wall = 0
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(2), Total: 20}, {At: spec.AtFret(6), Total: 17}}
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 1.35, Treble: 1.35}, {At: spec.AtFret(6), Bass: 1.15, Treble: 1.15}}
	for _, radius := range []float64{2, 3.5} {
		p := planOf(t, s, func(o *Options) {
			o.Allowance, o.Bit = 0, DefaultBit(radius)
			o.Bit.Straight = 60
			o.Guide, o.Template = GuideTemplate, 40
		})
		require.Equal(t, ContactCrown, p.Round.Greatest.Touch)
		for i := range 41 {
			x := numeric.Lerp(p.Stretch.From, p.Stretch.To, float64(i)/40)
			sec := p.Neck.Section(x)
			for _, q := range p.Outline(StageRound, x) {
				assert.GreaterOrEqual(t, sec.Distance(q), -1e-6, "R %g at %g", radius, x)
			}
		}
	}
}
