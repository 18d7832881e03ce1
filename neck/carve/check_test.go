package carve

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// gluedDemo is the demo neck after a change, with wood to be told.
func gluedDemo(change func(*spec.Spec)) *spec.Spec {
	s := spec.Demo()
	s.Source, s.Blank = nil, nil
	change(s)
	return s
}

// TestCheckSaysWhatThePlanRefuses draws sticks, scarfs and stacks of any size:
// where the plan refuses the wood there is a warning, mostly in the plan's own
// sentence, and where it does not there is none in it.
// Without DRAWN=all it takes some of the cases.
func TestCheckSaysWhatThePlanRefuses(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 8))
	f := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
	yes := func() bool { return r.IntN(2) == 0 }
	refused, sentences := 0, map[string]int{}
	cases, least := 100, 8
	if drawn.All() {
		cases, least = 250, 20
	}
	for range cases {
		s := gluedDemo(func(s *spec.Spec) {
			s.Headstock.Angle = f(0.05, 0.35)
			s.Heel.Total = f(22, 50)
			if yes() {
				s.Blank = &spec.Blank{Thickness: f(14, 30), Width: 90, Length: 2000, Build: []string{"", "one piece", "scarfed", "stacked heel", "both"}[r.IntN(5)]}
			}
			if yes() {
				s.Scarf = &spec.Scarf{Place: spec.ScarfPlace(r.IntN(2)), Thickness: []float64{0, f(6, 25)}[r.IntN(2)]}
			}
			if yes() {
				p := spec.AtX(f(150, 450))
				s.Stack = &spec.Stack{Thickness: f(5, 20), Blocks: r.IntN(4), From: []*spec.Place{nil, &p}[r.IntN(2)]}
			}
		})
		n, problems := Check(s)
		if n == nil {
			continue
		}
		text := problems.Error()
		own := strings.Contains(text, "the carving plan refuses the wood: ")
		begun := &Plan{Options: OptionsFor(s), Tapered: NewTapered(n)} // a whole plan takes its time
		if begun.beginFrom() == nil {
			assert.False(t, own, text)
			continue
		}
		_, err := New(n, OptionsFor(s))
		require.Error(t, err)
		refused++
		sentence := err.Error()
		if _, after, ok := strings.Cut(sentence, ": "); ok && (strings.HasPrefix(sentence, "blank: ") || strings.HasPrefix(sentence, "stack: ")) {
			sentence = after
		}
		if own {
			assert.Contains(t, text, "the carving plan refuses the wood: "+sentence)
			sentences[strings.Join(strings.Fields(sentence)[:2], " ")]++
		} else {
			assert.Contains(t, text, "blank.thickness: ", sentence)
		}
	}
	assert.Greater(t, refused, least)
	for _, begin := range []string{"the wood", "stick and", "the blank"} {
		assert.Positive(t, sentences[begin], "%s: %v", begin, sentences)
	}
}

// TestStockUnderBlocks: where a stacked heel's blocks stand in the run the stick
// is deep enough that reaches the flat back up to their fronts; what comes off
// past them counts from the blocks.
func TestStockUnderBlocks(t *testing.T) {
	at := spec.AtX(180)
	s := gluedDemo(func(s *spec.Spec) {
		s.Depth[1].Total = 23
		s.Headstock, s.Volute = nil, nil
		s.Heel.Total = 44
		s.Stack = &spec.Stack{From: &at, Thickness: 14}
	})
	n, err := neck.New(s)
	require.NoError(t, err)
	p, err := New(n, OptionsFor(s))
	require.NoError(t, err)
	assert.Less(t, p.Stock.Depth, p.Taper.DepthTo-0.5, "the stick alone is not so deep")
	assert.GreaterOrEqual(t, p.Stock.Depth, p.Taper.Depth(180))
	assert.Less(t, p.Stock.Depth, p.Taper.Depth(180)+0.5)
	assert.Equal(t, p.Stock.Depth, n.StickThickness())
	assert.Equal(t, p.Stock.Depth, p.Stock.At(179))
	assert.Equal(t, p.Stock.Depth+28, p.Stock.At(181))
	assert.InDelta(t, p.Stock.Depth+28, p.Now.Depth(300), 1e-9, "two blocks of 14")
	assert.InDelta(t, p.Now.Depth(300)-p.Taper.Depth(300), p.StationAt(300).Taper, 1e-9)
	assert.InDelta(t, p.Now.Depth(100)-p.Taper.Depth(100), p.StationAt(100).Taper, 1e-9)

	// What the taper takes off, by columns of the wood now.
	sum := 0.0
	const step = 0.05
	for x := p.Stretch.From + step/2; x < p.Stretch.To; x += step {
		sum += step * n.Width(x) * (p.Now.Depth(x) - p.Taper.Depth(x))
	}
	assert.InEpsilon(t, sum, p.Stage(StageTaper).Removed, 1e-3)

	_, err = StockFor(p.Tapered, p.Taper.Depth(180)-0.1, spec.Millimetre)
	assert.ErrorContains(t, err, "the flat back needs")
	assert.ErrorContains(t, err, "(x = 180 mm)")
}

// TestCheckOfTheWood: each kind of too little wood is told once, under the key
// that mends it.
func TestCheckOfTheWood(t *testing.T) {
	for _, c := range []struct {
		change func(*spec.Spec)
		want   []string
	}{
		{func(s *spec.Spec) { s.Scarf = &spec.Scarf{} }, nil},
		{func(s *spec.Spec) {
			s.Scarf = &spec.Scarf{}
			s.Blank = &spec.Blank{Thickness: 17.3, Width: 90, Length: 2000}
			s.Heel.Total = 22
			s.Volute = &spec.Volute{Rise: 6, Centre: spec.AtX(-45), Length: 40}
		}, []string{"warning: blank: the carving plan refuses the wood: shaft and headstock's piece are 26.672 mm deep at x = -45 mm", ", of a thicker stick or piece"}},
		{func(s *spec.Spec) { s.Scarf, s.Heel.Total, s.Stack = &spec.Scarf{}, 60, &spec.Stack{Blocks: 1} },
			[]string{"warning: stack: the carving plan refuses the wood: stick and blocks are ", "allowed: 3 blocks of "}},
		{func(s *spec.Spec) {
			s.Blank = &spec.Blank{Thickness: 26, Width: 90, Length: 2000, Build: "stacked heel"}
		},
			[]string{"warning: blank: the carving plan refuses the wood: the blank is 26 mm deep at x = -"}},
		{func(s *spec.Spec) { s.Blank = &spec.Blank{Thickness: 17, Width: 90, Length: 2000, Build: "both"} },
			[]string{"warning: blank: the carving plan refuses the wood: the wood is 17 mm deep and the flat back needs 17.172 mm at fret 15.5"}},
	} {
		s := gluedDemo(c.change)
		if s.Scarf != nil {
			s.Headstock.Angle = 0.22
		}
		n, problems := Check(s)
		require.NotNil(t, n, problems)
		text := problems.Error()
		assert.Equal(t, min(1, len(c.want)), strings.Count(text, "refuses the wood"), text)
		for _, want := range c.want {
			assert.Contains(t, text, want)
		}
	}
}
