package carve

import (
	"fmt"
	"math"
	"testing"

	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// router is a router bit on the move in space, built from vectors alone: it
// shares no formula with the plan.
//
// Its axis stands square to the plane it is guided by and travels along the
// edge of one side. For a point of the wood only two numbers count: how far it
// lies above the arc's end along the axis, which does not change on the way,
// and how near the axis comes to it.
type router struct {
	bit      Bit
	axis     [3]float64 // towards the shank
	from, to [3]float64 // the axis at the arc's end, at both stops
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func scaled(a [3]float64, k float64) [3]float64 {
	return [3]float64{a[0] * k, a[1] * k, a[2] * k}
}
func plus(a, b [3]float64) [3]float64 { return [3]float64{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func unit(a [3]float64) [3]float64 { return scaled(a, 1/math.Sqrt(dot(a, a))) }

// newRouter puts the bit of a plan at the given dialled height on one side.
func newRouter(p *Plan, side neck.Side, height float64) router {
	n := p.Neck
	w := n.Spec().Width
	k := side.Sign() * (w.End - w.Nut) / 2 / n.BoardEnd()
	q := 0.0 // growth of the guiding plane's depth
	depth := func(x float64) float64 { return height }
	if p.Options.Reference == ReferenceBack {
		q = p.Taper.Slope
		// The plane through the arc's end lies the height inside the back,
		// measured square to it.
		depth = func(x float64) float64 { return p.Taper.Depth(x) - height*math.Hypot(1, q) }
	}
	axis := unit([3]float64{-q, 0, -1})
	along := unit([3]float64{1, k, -q})
	out := cross(axis, along)
	if out[1]*side.Sign() < 0 {
		out = scaled(out, -1)
	}
	body := p.Round.Bit.BodyRadius()
	bearing := body - p.Round.Bit.Radius + p.Round.Bit.Offset
	place := func(x float64) [3]float64 {
		guide := [3]float64{x, side.Sign() * n.Width(x) / 2, -depth(x)}
		if x < 0 || x > n.HeelStart() && n.Spec().Heel != nil { // carry the straight edge on
			guide[1] = side.Sign() * n.Taper(x) / 2
		}
		a := plus(guide, scaled(out, bearing))
		return plus(a, scaled(along, (x-a[0])/along[0]))
	}
	return router{p.Round.Bit, axis, place(p.Round.From), place(p.Round.To)}
}

// inside returns how deep a point lies in the room that the moving bit has
// swept, measured square to its axis: negative outside.
func (r *router) inside(p [3]float64) float64 {
	d := plus(p, scaled(r.from, -1))
	v := dot(d, r.axis)
	if v <= 0 {
		return v - 1 // before the end of the arc: no steel
	}
	run := plus(r.to, scaled(r.from, -1))
	s := numeric.Clamp(dot(d, run)/dot(run, run), 0, 1)
	d = plus(d, scaled(run, -s))
	d = plus(d, scaled(r.axis, -dot(d, r.axis)))
	radius := r.bit.BodyRadius()
	if v < r.bit.Radius {
		radius -= math.Sqrt(r.bit.Radius*r.bit.Radius - v*v)
	}
	return radius - math.Sqrt(dot(d, d))
}

// deepestTouch moves the bit along both sides of the whole neck, volute,
// headstock and heel included, and returns how deep any point of the target's
// surface lies in its way.
func deepestTouch(p *Plan, height float64, across int, xs []float64) (deep, at float64) {
	deep = math.Inf(-1)
	n := p.Neck
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		r := newRouter(p, side, height)
		for _, x := range xs {
			s := n.Section(x)
			take := func(q neck.YZ) {
				if v := r.inside([3]float64{x, q.Y, q.Z}); v > deep {
					deep, at = v, x
				}
			}
			for _, of := range []neck.Side{neck.MinusY, neck.PlusY} {
				for i := range across + 1 {
					// Evenly in the normal's logarithm and in its angle.
					take(s.PointAlong(of, neck.DirectionOf(numeric.Lerp(-24, 24, float64(i)/float64(across)))))
					take(s.PointAlong(of, neck.AngleDirection(float64(i)/float64(across)*math.Pi/2)))
				}
				// The wall, finely at its foot.
				for i := range 60 {
					z := s.CurveStart() + 0.002*float64(i)
					if z < s.Top {
						take(neck.YZ{Y: of.Sign() * s.HalfWidth, Z: z})
					}
				}
			}
		}
	}
	return deep, at
}

// simStations are stations over the whole wood, and finer about x.
func simStations(n *neck.Neck, k int, about float64) []float64 {
	var xs []float64
	for i := range k + 1 {
		xs = append(xs, numeric.Lerp(n.Start(), n.End(), float64(i)/float64(k)))
	}
	for i := -20; i <= 20; i++ {
		xs = append(xs, numeric.Clamp(about+0.05*float64(i), n.Start(), n.End()))
	}
	return append(xs, numeric.Clamp(about, n.Start(), n.End()))
}

// TestRoundOverBySimulation cuts necks by brute force with the greatest height
// that the plan allows: nothing of the target is touched, anywhere on the neck,
// and 0.05 mm more does touch it.
// Without DRAWN=all it takes some of the cases.
func TestRoundOverBySimulation(t *testing.T) {
	specs := []string{"", "heron", "nightjar", "redshank", "sanderling", "siskin", "pipit", "godwit", "dunnock"}
	for which, name := range specs {
		s := spec.Demo()
		if name != "" {
			var err error
			s, err = spec.ReadFile("../../testdata/specs/" + name + ".toml")
			require.NoError(t, err)
		}
		n, err := neck.New(s)
		require.NoError(t, err)
		for i, bit := range []Bit{DefaultBit(6), DefaultBit(12.7), DefaultBit(16), DefaultBit(25.4), {Radius: 19, Offset: 1.5, BearingHeight: 5, Straight: 40}, {Radius: 10, Offset: 0.4, BearingHeight: 5, Straight: 40, Diameter: 40}} {
			if name != "" && i%3 != which%3 {
				continue // every bit on the demo, some in turn on each other neck
			}
			if (i+which)%6 != 0 && !drawn.All() {
				continue
			}
			o := DefaultOptions(spec.Millimetre)
			bit.Straight = 60 // leave the limit to the target
			o.Bit, o.Allowance = bit, 0
			o.Guide, o.Template = GuideTemplate, 40
			if i%2 == 1 {
				o.Reference = ReferenceGlue
			}
			t.Run(fmt.Sprintf("%s/R%g/%s", s.Name, bit.Radius, o.Reference), func(t *testing.T) {
				p, err := New(n, o)
				require.NoError(t, err)
				if !p.Round.Possible() {
					t.Skip(p.Round.Why.Words(p.Neck, p.Options.Unit))
				}
				g := p.Round.Greatest
				require.NotEqual(t, ContactStraight, g.Touch, p.In(p.Options.Unit).Decided(g))
				xs := simStations(n, 120, g.X)
				deep, at := deepestTouch(p, g.Height, 160, xs)
				assert.LessOrEqual(t, deep, 1e-6, "the cut touches at x = %.2f", at)

				more := g.Height + 0.05
				if o.Reference == ReferenceGlue {
					more = g.Height - 0.05
				}
				// A deciding station past the stops is not reached by the whole
				// arc, which errs to the safe side.
				if g.X >= p.Round.From && g.X <= p.Round.To {
					deep, _ = deepestTouch(p, more, 6000, []float64{g.X})
					assert.Greater(t, deep, 1e-6, "0.05 mm more touches nothing")
				} else {
					q := *p
					q.Round.From, q.Round.To = g.X-1, g.X+1
					deep, _ = deepestTouch(&q, more, 6000, []float64{g.X})
					assert.Greater(t, deep, 1e-6, "0.05 mm more touches nothing at the deciding station")
				}
			})
		}
	}
}

// TestRoundOverOfAnyNeck does the same for necks drawn at random, with stops
// that let the bit run over the deciding station.
func TestRoundOverOfAnyNeck(t *testing.T) {
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := onePiece(t)
		o := DefaultOptions(spec.Millimetre)
		o.Allowance = 0
		o.Bit = DefaultBit(rapid.Float64Range(2, 40).Draw(t, "radius"))
		o.Bit.Straight = 80
		o.Bit.Offset = rapid.SampledFrom([]float64{0, 0, 0.8}).Draw(t, "offset")
		o.Guide, o.Template = GuideTemplate, 60
		if rapid.Bool().Draw(t, "glue") {
			o.Reference = ReferenceGlue
		}
		p, err := New(n, o)
		if err != nil {
			return // a blank that is too thin
		}
		g := p.Round.Greatest
		if g.Touch == ContactStraight || g.Touch == ContactNone {
			return
		}
		q := *p
		q.Round.From, q.Round.To = p.Stretch.From-2, p.Stretch.To+2
		var xs []float64
		for i := range 61 {
			xs = append(xs, numeric.Lerp(p.Stretch.From, p.Stretch.To, float64(i)/60))
		}
		xs = append(xs, g.X)
		if deep, at := deepestTouch(&q, g.Height, 150, xs); deep > 2e-4 {
			t.Fatalf("the cut touches by %g at x = %g (decided at %g, %v)", deep, at, g.X, g.Touch)
		}
		more := g.Height + 0.05
		if o.Reference == ReferenceGlue {
			more = g.Height - 0.05
		}
		deep, _ := deepestTouch(&q, more, 400, []float64{g.X})
		if deep <= 0 { // between those points, or nowhere
			deep, _ = deepestTouch(&q, more, 4000, []float64{g.X})
		}
		if deep <= 0 {
			t.Fatalf("0.05 mm more touches nothing at x = %g, %v (%g)", g.X, g.Touch, deep)
		}
	})
}

// TestCutByGrid cuts a fine grid of the section with the moving bit and
// compares what is left with the plan's ridge, area, edge and highest wood,
// between the stops and past them.
//
// Long, since it is one table of cases.
// Without DRAWN=all it takes some of the cases.
func TestCutByGrid(t *testing.T) {
	n := necktest.Demo(t)
	for i, c := range []struct {
		bit Bit
		ref Reference
	}{
		{DefaultBit(8), ReferenceBack},
		{DefaultBit(12.7), ReferenceGlue},
		{Bit{Radius: 22, Offset: 2, BearingHeight: 5, Straight: 6}, ReferenceBack},
		{Bit{Radius: 12, Offset: -0.6, BearingHeight: 5, Straight: 6}, ReferenceBack},
	} {
		if i%2 != 0 && !drawn.All() {
			continue
		}
		o := DefaultOptions(spec.Millimetre)
		o.Bit, o.Reference = c.bit, c.ref
		p, err := New(n, o)
		require.NoError(t, err)
		if c.bit.Offset < 0 {
			// A cutter that bites into the guide's line cannot stay clear of a
			// wall that is the target already.
			assert.False(t, p.Round.Possible() && p.Round.Greatest.Touch == ContactStraight)
		}
		if !p.Round.Possible() {
			continue
		}
		h := p.Round.Setting.Height
		bass, treble := newRouter(p, neck.MinusY, h), newRouter(p, neck.PlusY, h)
		for _, x := range drawn.Some([]float64{p.Round.From - 8, p.Round.From, 150, 290, p.Round.To, p.Round.To + 5}, 3) {
			sec := n.Section(x)
			a, d := sec.HalfWidth, p.Taper.Depth(x)
			gone := func(y, z float64) bool {
				q := [3]float64{x, y, z}
				return bass.inside(q) > 0 || treble.inside(q) > 0
			}
			const step = 0.05
			hand, ridge, most, edge := 0.0, 0.0, math.Inf(-1), d
			ny, nz := int(math.Ceil(2*a/step)), int(math.Ceil(d/step))
			dy, dz := 2*a/float64(ny), d/float64(nz)
			for i := range ny {
				y := -a + (float64(i)+0.5)*dy
				target, ok := sec.DepthAt(y)
				require.True(t, ok)
				for j := range nz {
					z := -(float64(j) + 0.5) * dz
					switch {
					case !gone(y, z):
						if -z > target {
							hand++
						}
						if j == nz-1 {
							ridge += dy
						}
					case i == 0 || i == ny-1:
						edge = math.Min(edge, -z)
					}
				}
			}
			st := p.Round.atHeight(h, x)
			label := fmt.Sprintf("R %g at x = %g", c.bit.Radius, x)
			assert.InDelta(t, hand*dy*dz, st.Hand, 0.6, label)
			// Where the arc comes out of the back nearly level, a cell's height
			// counts several times across.
			assert.InDelta(t, ridge, st.Ridge, 0.2, label)
			if !math.IsNaN(st.Edge) {
				// The outermost cells lie half a cell inside, where the arc, vertical
				// at its end, has already come up by √(2 R dy/2).
				assert.GreaterOrEqual(t, edge, st.Edge-dz, label)
				assert.LessOrEqual(t, edge, st.Edge+math.Sqrt(c.bit.Radius*dy)+dz, label)
			}
			// The highest wood: follow the border of the cells.
			for i := 0; i < ny; i += 3 {
				y := -a + (float64(i)+0.5)*dy
				for z := -d; z < 0; z += dz / 2 {
					if !gone(y, z) {
						most = math.Max(most, sec.Distance(neck.YZ{Y: y, Z: z}))
						break
					}
				}
			}
			assert.InDelta(t, most, st.Remaining, 0.08, label)
		}
	}
}

// TestLeave checks that what the plan's setting leaves is nowhere less than
// asked for, and just that where it is decided.
func TestLeave(t *testing.T) {
	n := necktest.Demo(t)
	for _, radius := range []float64{6, 10, 14, 25.4} {
		for _, allowance := range []float64{0.3, 0.5, 1.2} {
			o := DefaultOptions(spec.Millimetre)
			o.Bit, o.Allowance = DefaultBit(radius), allowance
			alone(&o)
			p, err := New(n, o)
			require.NoError(t, err)
			require.True(t, p.Round.Possible())
			k := p.Round.rig.cutter(p.Round.Bit)
			least := math.Inf(1)
			for _, x := range append(stretchStations(n, p.Stretch, 60), p.Round.Setting.X) {
				c := p.Round.rig.cutAt(&k, everywhere, x, p.Options.Reference.dial(p.Round.Setting.Height))
				sec := n.Section(x)
				clear := necktest.NewClearance(&sec, least)
				for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
					for i := range 121 {
						clear.Take(c.at(side, numeric.Lerp(c.begin, c.end, float64(i)/120)))
					}
				}
				least = clear.Least()
			}
			assert.GreaterOrEqual(t, least, allowance-1e-5)
			// The setting is rounded to hundredths, to the shallower side.
			assert.InDelta(t, allowance, least, 0.0101)
			exact := p.Round.rig.settle(p.Round.Bit, allowance, true).Height
			assert.InDelta(t, 0, exact-p.Round.Setting.Height, 0.01)
			assert.GreaterOrEqual(t, exact, p.Round.Setting.Height)
		}
	}
}
