package mill

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// TestScallop holds the ridges against the circles of two passes drawn point by
// point, and against the published example of the rule of thumb.
func TestScallop(t *testing.T) {
	assert.InDelta(t, 0.00984, ScallopAbout(6.35/2, 0.5), 5e-6)
	assert.InDelta(t, 0.00986, Scallop(6.35/2, 0.5), 5e-6)
	for _, r := range []float64{1.5, 3.175, 6.35} {
		for _, s := range []float64{0.1, 0.5, 1.3, 2} {
			assert.InDelta(t, r-math.Sqrt(r*r-s*s/4), Scallop(r, s), 1e-12)
			assert.GreaterOrEqual(t, Scallop(r, s), ScallopAbout(r, s))
			assert.InDelta(t, s, StepFor(r, Scallop(r, s)), 1e-9)
			// The wood that remains under two balls is highest in the middle.
			worst := 0.0
			for y := -s / 2; y <= s/2; y += s / 1000 {
				under := func(middle float64) float64 { return r - math.Sqrt(math.Max(0, r*r-(y-middle)*(y-middle))) }
				worst = math.Max(worst, math.Min(under(-s/2), under(s/2)))
			}
			assert.InDelta(t, worst, Scallop(r, s), 1e-5)
			// On a round the wood stands highest where two balls cross.
			const back = 18.0
			worst = 0
			for turn := -s / 2 / back; turn <= s/2/back; turn += s / back / 1000 {
				high := math.Inf(1)
				for _, ball := range []float64{-s / 2 / back, s / 2 / back} {
					// The nearer point of the ball on the ray.
					along, off := (back+r)*math.Cos(turn-ball), (back+r)*math.Sin(turn-ball)
					high = math.Min(high, along-math.Sqrt(math.Max(0, r*r-off*off))-back)
				}
				worst = math.Max(worst, high)
			}
			assert.InDelta(t, worst, ScallopRound(r, s, back), 1e-5)
			assert.InDelta(t, Scallop(r, s), ScallopRound(r, s, 1e6), 1e-5)
		}
	}
	assert.Equal(t, 3.0, Scallop(3, 6), "passes that only touch")
	assert.Equal(t, 3.0, ScallopRound(3, 9, 20), "passes that do not reach each other")
}

// TestPinsMeetNothing sets random necks up. No pin comes near a channel, a hole or
// the edge, in points that are tried one by one in space; the tabs lie on the edge,
// and the stock holds neck, cutter and pins.
//
// Many ifs, as all that a pin might meet is tried in turn.
func TestPinsMeetNothing(t *testing.T) {
	boards := 0
	drawn.Checks(t, 60, func(rt *rapid.T) {
		n, problems := neck.Check(spectest.Draw(rt))
		if problems.Err() != nil {
			rt.Skip("no neck")
		}
		o := DefaultOptions()
		o.PinsWhere = PinPlace(rapid.IntRange(0, 2).Draw(rt, "where"))
		o.Tabs = rapid.IntRange(0, 5).Draw(rt, "tabs")
		s, err := New(n, o)
		if err != nil {
			require.Contains(rt, err.Error(), "under the board")
			return
		}
		require.Len(rt, s.Pins, 2)
		require.Greater(rt, s.Pins[1].X-s.Pins[0].X, math.Min(99, n.End()-n.Start()))
		for _, p := range s.Pins {
			for i := range 24 {
				sin, cos := math.Sincos(math.Pi / 12 * float64(i))
				r := p.Diameter/2 + pinWeb - 0.1
				at := mesh.Vec{X: p.X + r*cos, Y: p.Y + r*sin}
				for _, c := range n.Channels() {
					require.False(rt, c.Over(at, 0), "%v over a channel", p)
				}
				for _, tuner := range n.Tuners() {
					if !tuner.Across() {
						d := math.Hypot(at.X-n.HeadX(tuner.U), at.Y-tuner.Y)
						require.Greater(rt, d, tuner.Hole/2)
					}
				}
				if s.Waste {
					continue
				}
				minus, plus := n.Edges(at.X)
				require.True(rt, at.Y > minus && at.Y < plus && math.Abs(at.Y) < n.BoardHalfWidth(at.X), "%v at the edge", p)
				// At the hole's rim and a little less deep than the cover asks for.
				section := n.Section(p.X + p.Diameter/2*cos)
				q := neck.YZ{Y: p.Y + p.Diameter/2*sin, Z: -p.Depth}
				require.Less(rt, section.Distance(q), -s.cover()+1e-6)
			}
			require.True(rt, s.Lo.X < p.X-p.Diameter/2 && s.Hi.X > p.X+p.Diameter/2)
			if s.Waste {
				require.Less(rt, math.Abs(p.Y), s.Hi.Y)
				require.True(rt, p.X+p.Diameter/2+o.Cutter < n.Start() || p.X-p.Diameter/2-o.Cutter > n.End())
				continue
			}
			boards++
		}
		for _, tab := range s.Tabs {
			minus, plus := n.Edges(tab.X)
			require.True(rt, tab.Y == minus || tab.Y == plus)
			require.True(rt, tab.X > 0 && tab.X < n.End())
		}
		veneer := 0.0 // glued on after the mill's work; the solid has it
		if h := n.Spec().Headstock; h != nil {
			veneer = h.BackVeneer / math.Cos(h.Angle)
		}
		m, err := n.Solid(neck.PartWood, 0.3)
		require.NoError(rt, err)
		for _, v := range m.Vertices {
			require.True(rt, s.Lo.Y < v.Y-o.Cutter && s.Hi.Y > v.Y+o.Cutter)
			require.True(rt, s.Lo.X < v.X-o.Cutter && s.Hi.X > v.X+o.Cutter)
			require.GreaterOrEqual(rt, s.Deepest+veneer+0.01, -v.Z)
			require.True(rt, s.Lo.Z-veneer < v.Z && s.Hi.Z > v.Z)
		}
	})
	if drawn.All() {
		assert.Positive(t, boards, "no pins under a board were tried")
	}
}

func TestOptions(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	o := DefaultOptions()
	o.Step = 0
	_, err = New(n, o)
	require.ErrorContains(t, err, "the step is 0 mm; allowed: 0.01 mm to 6.35 mm")
	inch := *n.Spec()
	inch.Units = spec.Inch
	inches, err := neck.New(&inch)
	require.NoError(t, err)
	_, err = New(inches, o)
	require.ErrorContains(t, err, "the step is 0 in; allowed: 0.0004 in to 0.25 in")
	o = DefaultOptions()
	o.Tabs = 40
	_, err = New(n, o)
	require.ErrorContains(t, err, "allowed: 0 to 12")
	// The demo's blank is long enough for pins in its waste, and too thin.
	s, err := New(n, DefaultOptions())
	require.NoError(t, err)
	assert.True(t, s.Waste)
	require.Len(t, s.Short, 2)
	assert.Contains(t, s.Short[0], "width: the blank has 90 mm and the set-up asks for 98.7 mm")
	assert.Contains(t, s.Short[1], "thickness: the blank has 32 mm")
	// A shorter one is not.
	short := *n.Spec()
	blank := *short.Blank
	blank.Length = 670
	short.Blank = &blank
	n, err = neck.New(&short)
	require.NoError(t, err)
	s, err = New(n, DefaultOptions())
	require.NoError(t, err)
	assert.False(t, s.Waste)
	assert.Len(t, s.Short, 3)
}

// TestRoundest takes the radius of a back that is half a circle.
func TestRoundest(t *testing.T) {
	s := spec.Demo()
	s.Heel, s.Volute, s.Headstock, s.Rod, s.Wall = nil, nil, nil, nil, 0
	s.Width.Nut, s.Width.End = 44, 44
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 22 + s.Board.Thickness}}
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 2, Treble: 2}}
	n, err := neck.New(s)
	require.NoError(t, err)
	u, err := New(n, DefaultOptions())
	require.NoError(t, err)
	assert.InDelta(t, 22, u.Roundest(), 0.3)
}
