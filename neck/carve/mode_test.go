package carve

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// clearOf holds a bit at a height over a plane against the finished neck in
// space: nothing of it is nearer than the allowance, but for the rounding of
// the brute force, which looks along the normal of each point.
func clearOf(t testing.TB, n *neck.Neck, p Plane, b Bit, height, from, to float64, what string) {
	t.Helper()
	deep, at := deepestCut(n, p, b, height, from, to, 40, wholeNeck(n, (from+to)/2))
	require.LessOrEqual(t, deep, 1e-6, "%s cuts below the target at x = %.2f", what, at)
}

// spaceHeight returns a height that a plan dials as one over a plane that counts
// towards the glue plane.
func spaceHeight(p *Plan, dialled float64) (Plane, float64) {
	plane := p.Options.Router.plane(p.Tapered)
	if p.Options.Reference.onRails() {
		// A height over glue plane or bench grows away from the glue plane.
		return plane, -dialled
	}
	return plane, dialled
}

// ways are the modes that a plan is tried in, end to end.
func ways() map[string]func(*Options) {
	lifted := func(o *Options) {
		o.Mode, o.Packing = ModeTable, [2]float64{60, 60}
		o.Setup.Half = 2000
	}
	offsets := func(o *Options) {
		o.Offsets = []OffsetOption{{}, {Bearing: 16}, {Layers: 3, Layer: 0.15}, {Bearing: 19}}
	}
	template := func(o *Options) { o.Guide, o.Template = GuideTemplate, 12 }
	return map[string]func(*Options){
		"table":          lifted,
		"table, wedge":   func(o *Options) { lifted(o); o.Packing = [2]float64{63, 60} },
		"table, offsets": func(o *Options) { lifted(o); offsets(o) },
		"table, template, overhang": func(o *Options) {
			lifted(o)
			template(o)
			o.Offsets = []OffsetOption{{Overhang: 1.5}, {Overhang: 3}}
		},
		"table, board":  func(o *Options) { lifted(o); o.BoardOn = true },
		"hand, offsets": offsets,
		"hand, template, overhang": func(o *Options) {
			template(o)
			o.Offsets = []OffsetOption{{Overhang: 2}}
		},
		"hand, board":         func(o *Options) { o.BoardOn = true },
		"hand, board, rails":  func(o *Options) { o.BoardOn, o.Under, o.Reference = true, 1.2, ReferenceGlue },
		"hand, rails, offset": func(o *Options) { o.Reference = ReferenceGlue; offsets(o) },
	}
}

// TestNoWayCutsBelowTarget plans necks in every mode and cuts them by brute force
// in space with what the plan prints: the setting, every pass, and both settings
// of the best pair.
// Without DRAWN=all it takes some of the cases.
func TestNoWayCutsBelowTarget(t *testing.T) {
	owned := []Bit{tall(10, 0), tall(16, 0), tall(25.4, 0)}
	possible := 0
	for which, name := range []string{"heron", "siskin", "dunnock", "redshank", "pipit"} {
		n := readNeck(t, name)
		all := ways()
		for i, way := range slices.Sorted(maps.Keys(all)) {
			change := all[way]
			if (i+which)%8 != 0 && !drawn.All() {
				continue
			}
			t.Run(fmt.Sprintf("%s/%s", name, way), func(t *testing.T) {
				o := DefaultOptions(n.Spec().Units)
				o.Owned = owned
				change(&o)
				p, err := New(n, o)
				require.NoError(t, err)
				if p.Refuses(StageRound) {
					t.Skip(p.In(o.Unit).Why(StageRound))
				}
				possible++
				r := &p.Round
				plane, height := spaceHeight(p, r.Setting.Height)
				clearOf(t, n, plane, r.Bit, height, r.From, r.To, "the setting")
				for i, pass := range r.Passes {
					_, h := spaceHeight(p, pass.Height)
					assert.LessOrEqual(t, h, height+1e-9)
					if i == 0 {
						clearOf(t, n, plane, r.Bit, h, r.From, r.To, "the first pass")
					}
				}
				// The arc's end is where the drawing puts it.
				mid := (r.From + r.To) / 2
				assert.InDelta(t, plane.depth(mid, height), p.ArcEnd(mid), 1e-9)
				for _, pair := range p.Pairs[:min(1, len(p.Pairs))] {
					for _, c := range []Choice{pair.First, pair.Second} {
						clearOf(t, n, plane, c.Bit, c.Height, c.From, c.To, "one of a pair")
					}
				}
				text := strings.Join(allWords(p), "\n")
				for _, bad := range []string{"NaN", "Inf", "%!", "e-0", "--"} {
					assert.NotContains(t, text, bad)
				}
			})
		}
	}
	if drawn.All() {
		assert.Greater(t, possible, 12)
	}
	assert.Greater(t, possible, 2)
}

func allWords(p *Plan) []string {
	var out []string
	for _, s := range p.In(p.Options.Unit).Steps() {
		out = append(out, s.Title, s.Refused)
		out = append(out, append(s.Do, s.Ticks...)...)
	}
	return out
}

// TestTablePlanIsTheTables holds a plan in table mode against the table's own
// reckoning and against a hand router on the same back: without packing the
// same bit may stand as far out of a base as over a table.
func TestTablePlanIsTheTables(t *testing.T) {
	n := readNeck(t, "dunnock") // no heel, no headstock: nothing fouls
	o := DefaultOptions(spec.Millimetre)
	o.Bit = tall(12.7, 0)
	hand, err := New(n, o)
	require.NoError(t, err)
	o.Mode = ModeTable
	p, err := New(n, o)
	require.NoError(t, err)
	require.False(t, p.Refuses(StageRound), p.In(spec.Millimetre).Why(StageRound))
	require.NotNil(t, p.Table)
	assert.Equal(t, ReferenceTable, p.Options.Reference)
	assert.Equal(t, "above the table", p.Options.Reference.CountsFrom())
	assert.InDelta(t, hand.Round.Greatest.Height, p.Round.Greatest.Height, 2e-3, "two ways to the same limit")
	assert.InDelta(t, p.Table.Height, p.Round.Setting.Height, 1e-12)
	assert.InDelta(t, hand.Round.Remaining, p.Round.Remaining, 0.01*hand.Round.Remaining)
	// Packing lifts every height by its thickness, and leaves the same wood.
	o.Packing = [2]float64{7, 7}
	up, err := New(n, o)
	require.NoError(t, err)
	rise := math.Hypot(1, up.Taper.Slope)
	assert.InDelta(t, p.Round.Greatest.Height+7/rise, up.Round.Greatest.Height, 2e-3)
	assert.InDelta(t, p.Round.Remaining, up.Round.Remaining, 0.005*p.Round.Remaining)
	for i, pass := range up.Round.Passes {
		assert.InDelta(t, up.Table.Passes[i], pass.Height, 1e-12)
	}
	sum := 0.0
	for _, pass := range up.Round.Passes {
		sum += pass.Removed
	}
	before := up.Stage(StageTaper).Remaining
	assert.InDelta(t, before-up.Round.Remaining, sum, 1e-6*before)
}

// TestBoardOnCountsFromTheBench holds the heights over the bench against those
// over the glue plane: the board and what lies under it are added, and the guide
// goes on over the board's edge.
func TestBoardOnCountsFromTheBench(t *testing.T) {
	n := readNeck(t, "heron")
	o := DefaultOptions(spec.Millimetre)
	o.Bit, o.Reference = tall(12.7, 0), ReferenceGlue
	bare, err := New(n, o)
	require.NoError(t, err)
	o.BoardOn, o.Under = true, 1
	p, err := New(n, o)
	require.NoError(t, err)
	crown := n.Spec().Board.Thickness + 1
	assert.InDelta(t, bare.Round.Greatest.Height+crown, p.Round.Greatest.Height, 1e-6)
	assert.InDelta(t, bare.Round.Setting.Height+crown, p.Round.Setting.Height, 0.011)
	// It agrees with the search that knows boards alone.
	height, _ := BoardOn{Neck: n, Under: 1}.DeepestOnBoard(p.Tapered, o.Bit, o.Allowance, spec.Millimetre)
	assert.InDelta(t, height, p.Round.Setting.Height, 0.011)
	assert.InDelta(t, -crown, p.CountsAt(100), 1e-12)
	require.Len(t, p.OnBoard, 2)
	assert.InDelta(t, p.Taper.DepthFrom+n.Spec().Board.Thickness, p.OnBoard[0].Thickness, 1e-9)
	words := strings.Join(allWords(p), "\n")
	assert.Contains(t, words, "Every height counts up from the bench")
	assert.NotContains(t, words, "above the glue plane")
	assert.Contains(t, words, "Sled, board down")
	// A height of one's own counts from the bench too.
	o.Height = p.Round.Greatest.Height - 0.2
	_, err = New(n, o)
	require.ErrorContains(t, err, "above the bench is refused")
}

// TestPlanBeginsFromTheBlank holds what a plan says of the wood now: a side
// profile that is cut leaves only the slope and its allowance to take off.
func TestPlanBeginsFromTheBlank(t *testing.T) {
	s := spec.Demo()
	s.Blank.Thickness = 95
	n, err := neck.New(s)
	require.NoError(t, err)
	thick, err := New(n, DefaultOptions(spec.Millimetre))
	require.NoError(t, err)
	assert.InDelta(t, 95, thick.Stock.Depth, 1e-12)
	assert.Contains(t, strings.Join(allWords(thick), "\n"), "Saw first, along a line 17.84 mm deep at the nut end of the run and 20.18 mm at the body end") // 14.84 and 17.17, and 3, up

	s.Blank.State, s.Blank.Allowance = spec.BlankProfile, 1.5
	p, err := New(n, DefaultOptions(spec.Millimetre))
	require.NoError(t, err)
	assert.InDelta(t, p.Taper.DepthTo+1.5, p.Stock.Depth, 1e-9)
	words := strings.Join(allWords(p), "\n")
	assert.Contains(t, words, "The blank now: its side profile is cut, headstock and heel with it, 1.5 mm over the finished back.")
	assert.NotContains(t, words, "Saw ")
	require.NotNil(t, p.Now)
	for _, x := range []float64{n.Start() + 1, p.Taper.From - 2, p.Taper.To + 5, n.End() - 1} {
		assert.InDelta(t, n.Depth(x)+1.5, p.Now.Depth(x), 1e-9)
	}

	// A scarfed head and a stacked heel, and the two of them.
	s.Blank = &spec.Blank{Thickness: 22, Width: 90, Length: 760, Build: spec.BlankBoth}
	p, err = New(n, DefaultOptions(spec.Millimetre))
	require.NoError(t, err)
	assert.Equal(t, EndScarfed, p.Blank.Head)
	assert.Equal(t, EndStacked, p.Blank.Heel)
	assert.Contains(t, strings.Join(allWords(p), "\n"), "headstock end scarfed, heel end stacked")

	// A template on the glue face guides the bearing, and lifts the cutter.
	s.Blank.Template = 9
	o := OptionsFor(s)
	assert.Equal(t, GuideTemplate, o.Guide)
	assert.InDelta(t, 9, o.Template, 0)
	p, err = New(n, o)
	require.NoError(t, err)
	require.NotNil(t, p.Dials)
	assert.InDelta(t, p.Taper.DepthTo+9, p.Dials.Near.OverBed, 1e-9)
}

// TestTableRefusalsInWords holds the words of a table that an end fouls and of a
// bearing that loses its guide.
func TestTableRefusalsInWords(t *testing.T) {
	n := readNeck(t, "heron")
	o := DefaultOptions(spec.Millimetre)
	o.Mode, o.Bit = ModeTable, tall(12.7, 0)
	p, err := New(n, o)
	require.NoError(t, err)
	require.True(t, p.Refuses(StageRound))
	why := p.In(spec.Millimetre).Why(StageRound)
	assert.Contains(t, why, "below the table at")
	assert.Equal(t, 1, strings.Count(why, "or put packing under the flat back"), "one cure for all: %s", why)
	// With the packing that it asks for the table takes it.
	most := 0.0
	for _, r := range p.Table.Refusals {
		if f, ok := r.(Foul); ok {
			most = math.Max(most, f.Packing)
		}
	}
	o.Packing = [2]float64{most + 0.01, most + 0.01}
	p, err = New(n, o)
	require.NoError(t, err)
	assert.False(t, p.Refuses(StageRound), p.In(spec.Millimetre).Why(StageRound))
	assert.NotContains(t, strings.Join(allWords(p), "\n"), "out of the base")

	// A big arc on a shallow neck lifts the bearing past the glue plane: the
	// template that is asked for mends it.
	s := spec.Demo()
	s.Headstock, s.Volute, s.Heel, s.Rod = nil, nil, nil, nil
	for i := range s.Depth {
		s.Depth[i].Total = s.Board.Thickness + 9
	}
	n, err = neck.New(s)
	require.NoError(t, err)
	o = DefaultOptions(spec.Millimetre)
	o.Mode, o.Bit, o.Allowance = ModeTable, tall(22, 4), 0
	p, err = New(n, o)
	require.NoError(t, err)
	var lost *LostGuide
	for _, r := range p.Table.Refusals {
		if l, ok := r.(LostGuide); ok {
			lost = &l
		}
	}
	require.NotNil(t, lost, p.In(spec.Millimetre).Why(StageRound))
	assert.Contains(t, p.In(spec.Millimetre).Why(StageRound), "a template")
	o.Guide, o.Template = GuideTemplate, math.Ceil(100*lost.Template)/100
	p, err = New(n, o)
	require.NoError(t, err)
	for _, r := range p.Table.Refusals {
		_, is := r.(LostGuide)
		assert.False(t, is, "the template mends it")
	}
}

// TestProudTemplateKeepsPassesHigh holds that no pass stands so low that the
// bearing would run under a template that stands proud, by hand and on a table.
func TestProudTemplateKeepsPassesHigh(t *testing.T) {
	n := readNeck(t, "dunnock")
	for _, mode := range []Mode{ModeHand, ModeTable} {
		o := DefaultOptions(spec.Millimetre)
		o.Mode, o.Guide, o.Template, o.Step = mode, GuideTemplate, 20, 1
		o.Owned = []Bit{tall(16, 0)}
		o.Offsets = []OffsetOption{{Overhang: 2}}
		p, err := New(n, o)
		require.NoError(t, err)
		require.NotNil(t, p.Choice)
		require.False(t, p.Refuses(StageRound), p.In(spec.Millimetre).Why(StageRound))
		if o.Mode == ModeHand { // nor may a height of one's own
			own := o
			own.Height = p.Round.Passes[0].Height - 5
			_, err := New(n, own)
			require.ErrorContains(t, err, "run under the template")
		}
		g := p.Choice.Guiding
		for _, pass := range p.Round.Passes {
			for i := range 20 {
				x := numeric.Lerp(p.Taper.From, p.Taper.To, float64(i)/19)
				b := g.RunsAt(n, BackPlane(p.Taper), p.Round.Bit, x, pass.Height, p.Taper.Depth(x))
				assert.GreaterOrEqual(t, b.Template, leastContact-0.011, "%s: pass at %g, x = %g", mode, pass.Height, x)
			}
		}
	}
}

// TestNoChoiceIsRefused holds that a plan with no offset that can be used has no
// setting: a short bearing does not reach a template that stands proud.
func TestNoChoiceIsRefused(t *testing.T) {
	n := readNeck(t, "dunnock")
	for _, mode := range []Mode{ModeHand, ModeTable} {
		for _, own := range []Bit{{}, DefaultBit(6)} {
			o := DefaultOptions(spec.Millimetre)
			o.Mode, o.Guide, o.Template = mode, GuideTemplate, 20
			own.BearingHeight = 2
			o.Bit, o.Owned = own, []Bit{{Radius: 6, BearingHeight: 2, Straight: 60}}
			o.Offsets = []OffsetOption{{Overhang: 2}}
			p, err := New(n, o)
			require.NoError(t, err)
			require.True(t, p.Refuses(StageRound), mode)
			assert.Contains(t, p.In(spec.Millimetre).Why(StageRound), "no bit with an offset that can be had does it")
			assert.Empty(t, p.Round.Passes)
			assert.Nil(t, p.Choice)
		}
	}
}

// TestShopIsJudged holds what does not go together.
func TestShopIsJudged(t *testing.T) {
	n := readNeck(t, "dunnock")
	for want, change := range map[string]func(*Options){
		"there are no rails":                  func(o *Options) { o.Mode, o.Reference = ModeTable, ReferenceGlue },
		"has no base plate":                   func(o *Options) { o.Mode, o.Base = ModeTable, 60 },
		"go with a router table":              func(o *Options) { o.Packing = [2]float64{3, 3} },
		"goes with a board that is glued on":  func(o *Options) { o.Under = 2 },
		"goes with a template":                func(o *Options) { o.Offsets = []OffsetOption{{Overhang: 2}} },
		"a layer of tape is 5 mm":             func(o *Options) { o.Offsets = []OffsetOption{{Layers: 1, Layer: 5}} },
		"the bearing's diameter is 2 mm":      func(o *Options) { o.Offsets = []OffsetOption{{Bearing: 2}} },
		"the table's reach from the bit's":    func(o *Options) { o.Mode, o.Setup.Half = ModeTable, 5 },
		"the packing's thickness at the body": func(o *Options) { o.Mode, o.Packing = ModeTable, [2]float64{0, 300} },
	} {
		o := DefaultOptions(spec.Millimetre)
		change(&o)
		_, err := New(n, o)
		require.ErrorContains(t, err, want)
	}
}
