package gauge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

func gaugeAt(t require.TestingT, n *neck.Neck, at spec.Place, o Options) *Gauge {
	g, err := New(n, at, o)
	require.NoError(t, err)
	return g
}

// TestGaugeEllipse compares the opening with the closed form of the parallel
// curve of an ellipse: the point (a cos t, b sin t) moved by d along the normal
// (b cos t, a sin t) / sqrt(b² cos² t + a² sin² t) (the curve is no ellipse
// itself; any text on differential geometry of plane curves).
func TestGaugeEllipse(t *testing.T) {
	const a, b = 22, 15
	sp := spectest.Straight()
	sp.Wall, sp.Depth[0].Total = 8, 8+15+sp.Board.Thickness
	n, err := neck.New(sp)
	require.NoError(t, err)
	for _, d := range []float64{0, 0.15, 1, 6} {
		o := DefaultOptions()
		o.Clearance, o.Allowance = math.Min(d, 0.15), d-math.Min(d, 0.15)
		g := gaugeAt(t, n, spec.AtFret(5), o)
		// The point of the closed form with the same ratio of coordinates is
		// found by bisection in t; t also gives the distance of any other point.
		off := func(y, z float64) float64 {
			best := math.Inf(1)
			lo, hi := 0.0, math.Pi
			for range 3 { // three rounds of 2000 steps around the nearest
				at := lo
				h := (hi - lo) / 2000
				for k := range 2001 {
					tt := lo + float64(k)*h
					s, c := math.Sincos(tt)
					m := math.Hypot(b*c, a*s)
					r := math.Hypot(a*c+d*b*c/m-y, -(b*s+d*a*s/m)-z)
					if r <= best {
						best, at = r, tt
					}
				}
				lo, hi = at-2*h, at+2*h
			}
			return best
		}
		curve := 0
		for i, p := range g.Open {
			q := g.At(p)
			q.Z -= g.Seat - sp.Wall
			if p.Y == 0 {
				assert.InDelta(t, a+d, math.Abs(q.Y), 1e-9, "the leg goes straight down from the wall")
				continue
			}
			curve++
			assert.InDelta(t, 0, off(q.Y, q.Z), 1e-6, "d = %g, point %d", d, i)
			if i > 0 && g.Open[i-1].Y > 0 {
				m := g.At(p.Add(g.Open[i-1]).Scale(0.5))
				assert.LessOrEqual(t, off(m.Y, m.Z-g.Seat+sp.Wall), gaugeTolerance+1e-6)
			}
		}
		assert.Greater(t, curve, 20)
		assert.InDelta(t, sp.Wall+b+o.Allowance, g.Height(), 1e-9, "from the feet to the deepest point")
	}
}

// sampled returns the target's back as many points, top corners included.
func sampled(s *neck.Section, m int) []neck.YZ {
	var out []neck.YZ
	for i := range m + 1 {
		// Denser towards the walls.
		y := s.HalfWidth * math.Sin(math.Pi/2*(2*float64(i)/float64(m)-1))
		d, ok := s.DepthAt(y)
		if ok {
			out = append(out, neck.YZ{Y: y, Z: -d})
		}
	}
	for i := range 40 {
		z := numeric.Lerp(s.CurveStart(), s.Top, float64(i)/39)
		out = append(out, neck.YZ{Y: -s.HalfWidth, Z: z}, neck.YZ{Y: s.HalfWidth, Z: z})
	}
	return out
}

// TestGaugeIsParallel measures the distance between the opening and the target
// point by point, by brute force, for whole gauges of every shape of section,
// headstock and heel included.
// Without DRAWN=all it takes some of the cases.
func TestGaugeIsParallel(t *testing.T) {
	for _, n := range drawn.Some(necktest.All(t), 7) {
		for _, x := range []float64{n.Start() / 2, -10, 0, 0.3 * n.End(), 0.7 * n.End(), 0.9 * n.End(), n.End()} {
			if x < n.Start() {
				continue
			}
			o := DefaultOptions()
			o.Allowance = 0.85
			s := n.Section(x)
			if s.Stepped() {
				_, err := New(n, spec.AtX(x), o)
				require.ErrorContains(t, err, "the shelf of the headstock ends along the leaning nut")
				continue
			}
			if s.CutLine() != nil {
				_, err := New(n, spec.AtX(x), o)
				require.ErrorContains(t, err, "the outline of the headstock cuts the section")
				continue
			}
			g := gaugeAt(t, n, spec.AtX(x), o)
			back := sampled(&s, 4000)
			for i := 1; i < len(g.Open); i++ {
				for _, f := range []float64{0, 0.5} {
					p := g.At(g.Open[i-1].Scale(1 - f).Add(g.Open[i].Scale(f)))
					p.Z -= g.Seat
					if p.Z >= s.CurveStart() {
						continue
					}
					least := math.Inf(1)
					for _, q := range back {
						least = math.Min(least, math.Hypot(p.Y-q.Y, p.Z-q.Z))
					}
					require.InDelta(t, o.Offset(), least, gaugeTolerance+0.002, "%s, x = %g, point %d", n.Spec().Name, x, i)
				}
			}
		}
	}
}

// fall returns how far a gauge can move up from its seat on the target before
// it meets the given back: by vertical gaps alone, which is how it is put on.
func fall(g *Gauge, back []neck.YZ) float64 {
	least := math.Inf(1)
	for _, q := range back {
		u := -q.Y
		for i := 1; i < len(g.Open); i++ {
			a, b := g.Open[i-1], g.Open[i]
			if u < a.X || u > b.X || a.X == b.X {
				continue
			}
			v := numeric.Lerp(a.Y, b.Y, (u-a.X)/(b.X-a.X))
			least = math.Min(least, q.Z-(g.Datum-v))
		}
	}
	return least
}

// TestGaugeFeetTellDepth carves necks of another depth than the target and puts
// the gauge on them: its feet are off the glue plane, or the plane on the
// board's crown, by exactly what is left to carve.
func TestGaugeFeetTellDepth(t *testing.T) {
	sp := spec.Demo()
	sp.Heel, sp.Headstock, sp.Volute = nil, nil, nil
	sp.Profile = []spec.ProfileStation{{At: spec.AtFret(0), Bass: 2.5, Treble: 2.1, Apex: -1.5}}
	target, err := neck.New(sp)
	require.NoError(t, err)
	for _, o := range []Options{
		{Half: WholeGauge}, {Half: BassHalfGauge}, {OverBoard: true}, {LegHeight: 12}, {Allowance: 1},
	} {
		def := DefaultOptions()
		def.Half, def.OverBoard, def.LegHeight, def.Allowance = o.Half, o.OverBoard, o.LegHeight, o.Allowance
		for _, at := range []spec.Place{spec.AtFret(1), spec.AtFret(7.5), spec.AtX(200)} {
			g := gaugeAt(t, target, at, def)
			x := sp.X(at)
			plane := def.LegHeight
			if def.OverBoard {
				plane += target.BoardTop(x, 0)
			}
			assert.Equal(t, plane, g.Datum)
			s := target.Section(x)
			for _, high := range []float64{0, 0.3, 1.2} {
				// The same back, left thicker by a plane slice under the glue plane.
				back := sampled(&s, 3000)
				for i := range back {
					if def.Allowance > 0 {
						break
					}
					back[i].Z -= high
				}
				want := high
				if def.Allowance > 0 {
					// A rough back is the target's parallel curve.
					back = nil
					for k := range 3000 {
						for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
							p := s.Offset(side, float64(k)/2999*math.Pi/2, def.Allowance)
							back = append(back, neck.YZ{Y: p.Y, Z: p.Z - high})
						}
					}
				}
				assert.InDelta(t, -want, fall(g, back), gaugeTolerance+0.001, "%+v, %+v, %g", o, at, high)
			}
		}
	}
}

// TestGaugeHalfSeats checks a half gauge that does not hold the deepest point:
// it touches at the centreline.
func TestGaugeHalfSeats(t *testing.T) {
	sp := spec.Demo()
	sp.Heel, sp.Headstock, sp.Volute = nil, nil, nil
	sp.Profile = []spec.ProfileStation{{At: spec.AtFret(0), Bass: 2.2, Treble: 1.7, Apex: -6}}
	n, err := neck.New(sp)
	require.NoError(t, err)
	o := DefaultOptions()
	o.Half, o.Clearance = TrebleHalfGauge, 0.5
	g := gaugeAt(t, n, spec.AtFret(5), o)
	s := n.Section(g.X)
	assert.Less(t, g.Seat, 100.0)
	assert.Greater(t, g.Seat, o.Clearance, "down a slope the gap is wider than the clearance")
	assert.InDelta(t, 0, fall(g, sampled(&s, 6000)), gaugeTolerance+0.001)
	d, _ := s.DepthAt(0)
	assert.InDelta(t, d, g.Open[len(g.Open)-1].Y, 1e-9)
	for _, p := range g.Region.Outer {
		assert.LessOrEqual(t, p.X, 0.0, "treble is at negative u")
	}
}

// TestGaugeHalvesMakeAWhole puts two halves beside each other.
func TestGaugeHalvesMakeAWhole(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions()
	whole := gaugeAt(t, n, spec.AtFret(5), o)
	o.Half = BassHalfGauge
	bass := gaugeAt(t, n, spec.AtFret(5), o)
	o.Half = TrebleHalfGauge
	treble := gaugeAt(t, n, spec.AtFret(5), o)
	notch := notchWidth * notchDepth / 2
	sum := bass.Region.Area() + treble.Region.Area()
	rest := whole.Region
	rest.Holes = nil
	assert.InDelta(t, rest.Area()+notch, sum, 0.2)
	assert.Equal(t, whole.Open[0], treble.Open[0])
	assert.Equal(t, whole.Open[len(whole.Open)-1], bass.Open[len(bass.Open)-1])
}

// requireGauge checks what must hold of every gauge.
func requireGauge(t require.TestingT, n *neck.Neck, g *Gauge) {
	o := g.Options
	for _, end := range []mesh.Vec2{g.Open[0], g.Open[len(g.Open)-1]} {
		if end.X != 0 {
			require.Zero(t, end.Y, "the feet stand on the datum")
		}
	}
	lo, _ := g.Region.Bounds()
	require.Zero(t, lo.Y)
	// The opening turns one way only: no loops, no cusps.
	if !o.OverBoard {
		for i := 2; i < len(g.Open); i++ {
			u, v := g.Open[i-1].Sub(g.Open[i-2]), g.Open[i].Sub(g.Open[i-1])
			require.LessOrEqual(t, u.Cross(v), 1e-9*(1+u.Norm()*v.Norm()), "point %d", i)
		}
	}
	// Seated, it clears the target and touches it.
	s := n.Section(g.X)
	least := math.Inf(1)
	for _, p := range g.Open {
		q := g.At(p)
		if q.Z > s.Top {
			continue
		}
		d := s.Distance(q)
		require.GreaterOrEqual(t, d, o.Allowance-1e-6)
		least = math.Min(least, d)
	}
	if o.Half == WholeGauge {
		require.InDelta(t, o.Allowance, least, 1e-6)
	}
	m, err := mesh.Extrude(g.Region, 0, o.Thickness)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	require.Equal(t, len(g.Region.Holes), m.Topology().Genus())
}

// TestGaugeVees checks gauges for sections as sharp as a spec may ask for.
func TestGaugeVees(t *testing.T) {
	for _, f := range []float64{1.05, 1.1, 1.35, 40} {
		sp := spectest.Straight()
		sp.Profile[0].Bass, sp.Profile[0].Treble = f, f
		n, err := neck.New(sp)
		require.NoError(t, err)
		for _, d := range []float64{0, 0.15, 2} {
			o := DefaultOptions()
			o.Clearance = d
			g := gaugeAt(t, n, spec.AtFret(3), o)
			requireGauge(t, n, g)
			assert.InDelta(t, 15, g.Height(), 1e-9)
			assert.Less(t, len(g.Open), 400)
		}
	}
}

// TestGaugeRandom makes gauges for random necks with random dimensions.
func TestGaugeRandom(t *testing.T) {
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := necktest.Buildable(t)
		f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
		o := DefaultOptions()
		o.Half = Half(rapid.IntRange(0, 2).Draw(t, "half"))
		o.Clearance = f(0, 1, "clearance")
		o.Allowance = rapid.SampledFrom([]float64{0, 0.5, 2}).Draw(t, "allowance")
		o.LegWidth = f(3, 20, "leg")
		o.LegHeight = rapid.SampledFrom([]float64{0, 7}).Draw(t, "leg height")
		o.Margin = f(3, 12, "margin")
		o.Corner = f(0, 3, "corner")
		o.FootCorner = f(0, 1, "foot corner")
		o.LabelWidth = f(0, 60, "label")
		o.LabelDepth = rapid.SampledFrom([]float64{0, 7, 15}).Draw(t, "label depth")
		x := f(n.Start(), n.End(), "x")
		o.OverBoard = x >= 0 && x <= n.BoardEnd() && rapid.Bool().Draw(t, "over board")
		if s := n.Section(x); s.CutLine() != nil {
			_, err := New(n, spec.AtX(x), o)
			require.ErrorContains(t, err, "the outline of the headstock cuts the section")
			return
		}
		g := gaugeAt(t, n, spec.AtX(x), o)
		requireGauge(t, n, g)
		assert.GreaterOrEqual(t, g.Room[1].X-g.Room[0].X, o.LabelWidth-1e-9)
		assert.InDelta(t, o.LabelDepth, g.Room[1].Y-g.Room[0].Y, 1e-9)
	})
}

// TestGaugeOverBoard checks that the legs reach a plane on the board's crown and
// clear the board's edges, also where the board is wider than the wood.
func TestGaugeOverBoard(t *testing.T) {
	sp := spec.Demo()
	sp.Heel.Width = 44 // narrower than the board above it
	n, err := neck.New(sp)
	require.NoError(t, err)
	for _, at := range []spec.Place{spec.AtFret(0), spec.AtFret(9), spec.AtX(n.BoardEnd() - 1)} {
		o := DefaultOptions()
		o.OverBoard = true
		g := gaugeAt(t, n, at, o)
		requireGauge(t, n, g)
		crown := math.Inf(-1)
		a := n.BoardHalfWidth(g.X)
		for i := range 201 {
			crown = math.Max(crown, n.BoardTop(g.X, a*(float64(i)/100-1)))
		}
		assert.Equal(t, crown, g.Datum, "the feet stand on the plane that touches the crown")
		// No point of the plate's edge comes nearer to the board than asked.
		for i := 1; i < len(g.Open); i++ {
			for k := range 21 {
				q := g.At(g.Open[i-1].Scale(1 - float64(k)/20).Add(g.Open[i].Scale(float64(k) / 20)))
				if q.Z >= 0 {
					assert.GreaterOrEqual(t, math.Abs(q.Y), a+o.Clearance+o.BoardGap-1e-9)
				} else if math.Abs(q.Y) < a {
					assert.LessOrEqual(t, q.Z, -o.Clearance-o.BoardGap+1e-9, "under an overhanging board")
				}
			}
		}
	}
}

// TestGaugeWithinGeneralTolerance holds what the outline gives away to a tenth of
// what ISO 2768-1 class m leaves to the printer: ±0.2 mm from 6 to 30 mm, ±0.3 mm
// to 120 mm. The solid's own dimensions are read from its mesh.
func TestGaugeWithinGeneralTolerance(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions()
	for _, at := range []spec.Place{spec.AtFret(1), spec.AtFret(5), spec.AtFret(12)} {
		g := gaugeAt(t, n, at, o)
		m, err := mesh.Extrude(g.Region, 0, o.Thickness)
		require.NoError(t, err)
		_, hi := m.Bounds()
		assert.InDelta(t, o.Thickness, hi.Z, 0.01)
		// Width between the legs, and depth at the deepest point.
		inner, deep := math.Inf(1), math.Inf(1)
		for _, v := range m.Vertices {
			if v.Y == 0 {
				inner = math.Min(inner, math.Abs(v.X))
			}
			if math.Abs(v.X-1) < 6 && v.Y > 0 {
				deep = math.Min(deep, v.Y)
			}
		}
		assert.InDelta(t, n.Width(g.X)+2*o.Clearance, 2*inner, 0.03)
		assert.InDelta(t, n.Depth(g.X), g.Height(), 0.02)
		assert.LessOrEqual(t, deep, g.Height()+1e-5)
	}
}

// TestGaugeHold checks on which side of its mark a plate belongs.
func TestGaugeHold(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions()
	g := gaugeAt(t, n, spec.AtFret(7), o)
	assert.False(t, g.Hold.TowardsBody, "the neck grows towards the body")
	assert.Zero(t, g.Hold.Growth)

	// A cylinder grows nowhere.
	c, err := neck.New(spectest.Straight())
	require.NoError(t, err)
	assert.Zero(t, gaugeAt(t, c, spec.AtFret(7), o).Hold.Growth)

	// Down the volute's far flank the neck grows towards the headstock.
	s := spec.Demo()
	v := n.VoluteCentre() + s.Volute.Length/4
	assert.True(t, gaugeAt(t, n, spec.AtX(v), o).Hold.TowardsBody)

	// From the headstock's wood the plate hangs over the end: nothing grows
	// there.
	assert.Zero(t, gaugeAt(t, n, spec.AtX(n.Start()), o).Hold.Growth)
}

// TestGaugeHoldValley checks a place where the neck grows both ways: between
// volute and heel of a neck of even depth there is none, but where a volute's
// flank meets a rising neck there is, and the lesser growth is told.
func TestGaugeHoldValley(t *testing.T) {
	s := spec.Demo()
	s.Volute.Centre, s.Volute.Length, s.Volute.Rise = spec.AtX(-12), 20, 6
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 20}, {At: spec.AtFret(12), Total: 30}}
	n, err := neck.New(s)
	require.NoError(t, err)
	o := DefaultOptions()
	o.Thickness = 12
	best := math.Inf(1)
	for x := -12.0; x < 30; x += 0.5 {
		g := gaugeAt(t, n, spec.AtX(x), o)
		// The growth of the depth alone is a lower bound.
		nut, body := n.Depth(x-12)-n.Depth(x), n.Depth(x+12)-n.Depth(x)
		assert.GreaterOrEqual(t, g.Hold.Growth, math.Min(nut, body)-1e-9)
		best = math.Min(best, -math.Min(nut, body))
	}
	assert.Less(t, best, -0.05, "there is such a valley")
}

func TestGaugeErrors(t *testing.T) {
	n := necktest.Demo(t)
	for _, c := range []struct {
		name string
		at   spec.Place
		edit func(o *Options)
		want string
	}{
		{"off the wood", spec.AtX(5000), nil, "off the wood"},
		{"no number", spec.AtX(math.NaN()), nil, "off the wood"},
		{"no board", spec.AtX(-20), func(o *Options) { o.OverBoard = true }, "no board"},
		{"clearance", spec.AtFret(1), func(o *Options) { o.Clearance = -0.1 }, "clearance is -0.1 mm; allowed: 0 mm to 3 mm"},
		{"not a number", spec.AtFret(1), func(o *Options) { o.Allowance = math.NaN() }, "allowance"},
		{"margin", spec.AtFret(1), func(o *Options) { o.Margin = 1 }, "margin is 1 mm; allowed: 3 mm"},
		{"corner", spec.AtFret(1), func(o *Options) { o.Corner = 9 }, "corner radius"},
		{"corners together", spec.AtFret(1), func(o *Options) { o.LegWidth, o.Corner, o.FootCorner = 60, 40, 30 }, "do not fit"},
	} {
		t.Run(c.name, func(t *testing.T) {
			o := DefaultOptions()
			if c.edit != nil {
				c.edit(&o)
			}
			_, err := New(n, c.at, o)
			assert.ErrorContains(t, err, c.want)
		})
	}
}

func BenchmarkGauge(b *testing.B) {
	n := necktest.Demo(b)
	o := DefaultOptions()
	for b.Loop() {
		if _, err := New(n, spec.AtFret(5), o); err != nil {
			b.Fatal(err)
		}
	}
}
