package carve

import (
	"math"
	"neckloft/mesh/drawn"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stepWords returns all that a step says.
func stepWords(p *Plan, kind StageKind) string {
	for _, s := range p.In(spec.Millimetre).Steps() {
		if s.Kind == kind && len(s.Do) > 0 {
			return strings.Join(append(s.Do, s.Ticks...), " ")
		}
	}
	return ""
}

// TestBearingAndBench works out by hand how far the bearing reaches past the
// face that the neck lies on. The section is half a circle of 20 mm radius under
// walls of 2 mm; a bit of 20 mm radius may come down to the walls' foot, so that
// its end lies 2 mm below the glue plane. A bearing 5 mm high then reaches 3 mm
// past the glue face; a template of 4 mm leaves it 1 mm, and one of 12 mm 9 mm.
func TestBearingAndBench(t *testing.T) {
	for _, ref := range []Reference{ReferenceBack, ReferenceGlue} {
		plan := func(template float64) string {
			return stepWords(planOf(t, ellipticNeck(20, 20, 2), func(o *Options) {
				o.Allowance, o.Bit, o.Reference = 0, DefaultBit(20), ref
				if template > 0 {
					o.Guide, o.Template = GuideTemplate, template
				}
			}), StageRound)
		}
		assert.Contains(t, plan(0), "The bearing's foot reaches up to 3 mm past the glue face, and its screw farther")
		assert.Contains(t, plan(0), "raise the neck on a block narrower than it")
		assert.Contains(t, plan(2), "The bearing's foot reaches up to 1 mm past the template")
		assert.Contains(t, plan(4), "The bearing's foot stays only 1 mm short of the foot of the template: measure its screw")
		assert.NotContains(t, plan(12), "The bearing's foot")
	}
}

// TestRailsClear checks the height of rails against the wood that stands.
func TestRailsClear(t *testing.T) {
	p := planOf(t, spec.Demo(), func(o *Options) { o.Reference, o.StockDepth = ReferenceGlue, 70 })
	assert.Contains(t, stepWords(p, StageRound), "Rails at least 70 mm above the glue plane clear the blank with volute, headstock and heel.")
	p = planOf(t, spec.Demo(), func(o *Options) { o.Reference = ReferenceGlue })
	deepest := 0.0
	for i := range 4001 {
		deepest = math.Max(deepest, p.Neck.Depth(numeric.Lerp(p.Neck.Start(), p.Neck.End(), float64(i)/4000)))
	}
	require.Greater(t, deepest, p.Stock.Depth)
	assert.Contains(t, stepWords(p, StageRound), "Rails at least "+spec.Millimetre.Rounded(math.Ceil(deepest*100)/100)+" above the glue plane")
	p = planOf(t, spectest.Straight(), func(o *Options) { o.Reference = ReferenceGlue })
	assert.Contains(t, stepWords(p, StageRound), "clear the blank.")
	assert.NotContains(t, stepWords(p, StageRound)+stepWords(p, StageTaper)+stepWords(p, StageFinal), "volute")
}

// TestExtremesOfEveryNeck compares the most wood and the ridge between the
// stops, past them, and after the flats with a close search.
// Without DRAWN=all it takes some of the cases.
func TestExtremesOfEveryNeck(t *testing.T) {
	for _, n := range drawn.Some(necktest.All(t), 8) {
		name, p := n.Spec().Name, planInPairs(t, n, DefaultOptions(n.Spec().Units).Pairs)
		r := p.Round
		var most, past, flats, wide float64
		narrow := math.Inf(1)
		for _, x := range stretchStations(p.Neck, p.Stretch, 300) {
			st := p.StationAt(x)
			flats = math.Max(flats, st.FlatsRemaining)
			if !r.Possible() {
				continue
			}
			if !st.Full {
				past = math.Max(past, st.Remaining)
				continue
			}
			most = math.Max(most, st.Remaining)
			wide, narrow = math.Max(wide, st.Ridge), math.Min(narrow, st.Ridge)
		}
		assert.InDelta(t, flats, p.Flats.Most, 0.02, name)
		if !r.Possible() {
			continue
		}
		assert.InDelta(t, most, r.Most, 0.03, name)
		assert.InDelta(t, wide, r.RidgeMost, 0.15, name)
		assert.InDelta(t, narrow, r.RidgeLeast, 0.15, name)
		assert.InDelta(t, past, r.PastMost, 0.1, name)
	}
}

// TestStationLimits checks that the deepest height of every station keeps what
// bearing and straight edge ask for, and that none is shallower than the one
// for the whole neck.
func TestStationLimits(t *testing.T) {
	for _, ref := range []Reference{ReferenceBack, ReferenceGlue} {
		p := planOf(t, spec.Demo(), func(o *Options) {
			o.Bit, o.Reference = DefaultBit(6), ref
			o.Bit.Straight = 1
		})
		require.Equal(t, ContactStraight, p.Round.Greatest.Touch)
		for _, st := range p.Stations {
			deepest := 6 + 1.0 // the arc and the straight edge, out of the base
			if ref == ReferenceGlue {
				deepest -= st.Flat
			}
			assert.LessOrEqual(t, p.Options.Reference.dial(st.Greatest), deepest+1e-3, "%s", st.Label)
			assert.GreaterOrEqual(t, p.Options.Reference.dial(st.Greatest), p.Options.Reference.dial(p.Round.Greatest.Height)-1e-9)
		}
	}
}

// TestMuchToScrape checks what is said about wood that the flat leaves over a
// bent depth line.
func TestMuchToScrape(t *testing.T) {
	for bend, want := range map[float64]string{0.15: "scrape it out", 2: "plane it down to the finished depth"} {
		s := spectest.Straight()
		end := s.BoardEnd()
		s.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: 21}, {At: spec.AtX(end / 2), Total: 21.5 - bend}, {At: spec.AtX(end * 0.97), Total: 22}}
		assert.Contains(t, strings.Join(planOf(t, s, nil).In(spec.Millimetre).NoteLines(), " "), want)
	}
}
