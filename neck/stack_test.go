package neck

import (
	"neckloft/neck/spec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// stacked returns the demo neck with a deep heel of stacked blocks.
func stacked(t testing.TB, k spec.Stack, change func(*spec.Spec)) (*Neck, spec.Problems) {
	t.Helper()
	s := spec.Demo()
	s.Source = nil
	s.Heel.Total = 72
	s.Blank.Thickness = 20
	s.Stack = &k
	if change != nil {
		change(s)
	}
	n, problems := Check(s)
	require.NotNil(t, n, "%v", problems)
	return n, problems
}

// TestHeelStack: a heel 66.4 mm deep on a stick of 20 takes three blocks of 20,
// or four of 12; each glue line lies at its depth, on the surface, from where
// the heel is as deep.
func TestHeelStack(t *testing.T) {
	for _, c := range []struct {
		k     spec.Stack
		count int
		thick float64
	}{{spec.Stack{}, 3, 20}, {spec.Stack{Thickness: 12}, 4, 12}, {spec.Stack{Blocks: 2, Thickness: 25}, 2, 25}} {
		n, _ := stacked(t, c.k, nil)
		k, ok := n.HeelStack()
		require.True(t, ok)
		assert.Len(t, k.Blocks, c.count)
		assert.Equal(t, c.thick, k.Thickness)
		assert.Equal(t, n.HeelStart(), k.From)
		assert.InDelta(t, 20+float64(c.count)*c.thick, k.Depth(), 1e-12)
		for i, b := range k.Blocks {
			assert.InDelta(t, 20+float64(i)*c.thick, b.Top, 1e-12)
			assert.InDelta(t, b.Top, n.Depth(b.Need), 1e-6)
			require.Len(t, b.Lines, 1)
			l := b.Lines[0]
			assert.True(t, l.OutFirst && !l.OutLast)
			assert.InDelta(t, b.Need, l.Points[0].X, 1e-6)
			widest := 0.0
			for _, p := range l.Points {
				sec := n.Section(p.X)
				from, to, _ := sec.Level(-b.Top)
				assert.Equal(t, from, p.From)
				widest = max(widest, to-from)
			}
			assert.Equal(t, widest, b.Width)
		}
	}
	_, ok := demo(t).HeelStack()
	assert.False(t, ok)
}

// TestStackWarnings: fronts that stand too far in the heel, and blocks that
// nothing needs.
func TestStackWarnings(t *testing.T) {
	at := spec.AtX(430)
	for _, c := range []struct {
		k      spec.Stack
		change func(*spec.Spec)
		want   string
	}{
		{spec.Stack{}, nil, ""},
		{spec.Stack{From: &at}, nil, "stack.from: the blocks' fronts stand at fret 19.5 (x = 430 mm), and the heel is deeper than the stick of 20 mm from fret 16.1"},
		{spec.Stack{}, func(s *spec.Spec) { s.Blank.Thickness = 68 }, "stack: the stick is 68 mm thick and the heel nowhere deeper, so that it needs no block"},
	} {
		_, problems := stacked(t, c.k, c.change)
		text := ""
		for _, p := range problems {
			text += p.Key + ": " + p.Message + "\n"
		}
		if c.want == "" {
			assert.NotContains(t, text, "stack")
		}
		assert.Contains(t, text, c.want)
	}
}

// TestStickThickness: the blank's, or what the neck has to have.
func TestStickThickness(t *testing.T) {
	n, _ := stacked(t, spec.Stack{}, nil)
	assert.Equal(t, 20.0, n.StickThickness())
	n, _ = stacked(t, spec.Stack{}, func(s *spec.Spec) { s.Blank = nil; s.Headstock, s.Volute = nil, nil })
	most := n.Depth(n.HeelStart())
	assert.True(t, n.StickThickness() >= most && n.StickThickness() < most+0.5, "up to the heel")
	assert.Equal(t, n.StickThickness(), float64(int(2*n.StickThickness()))/2, "in half millimetres")
	n, _ = stacked(t, spec.Stack{}, func(s *spec.Spec) { s.Blank = nil; s.Scarf = &spec.Scarf{} })
	j, ok := n.Scarf()
	require.True(t, ok)
	assert.LessOrEqual(t, n.scarfShort(&j, n.HeelStart()), 0.0, "thick enough for the volute too")
	thinner, _ := n.scarfOf(j.Stick - 0.5)
	assert.Greater(t, n.scarfShort(&thinner, n.HeelStart()), 0.0, "and no thicker")
	n, _ = stacked(t, spec.Stack{}, func(s *spec.Spec) { s.Blank, s.Stack, s.Units = nil, nil, spec.Inch })
	assert.GreaterOrEqual(t, n.StickThickness(), n.Depth(n.Start()), "in one piece the headstock's tip decides")
	assert.InDelta(t, 0, n.StickThickness()/25.4*64-float64(int(n.StickThickness()/25.4*64+0.5)), 1e-9, "in 64ths of an inch")
}

// TestLaminationsChecked: a taper that comes to nothing is refused, and strips
// that do not reach the sides are told.
func TestLaminationsChecked(t *testing.T) {
	check := func(l []spec.Lamination) (*Neck, string) {
		s := spec.Demo()
		s.Source, s.Laminations = nil, l
		n, problems := Check(s)
		text := ""
		for _, p := range problems {
			text += p.Key + ": " + p.Message + "\n"
		}
		return n, text
	}
	wide := spec.Lamination{Width: 45, WidthEnd: 45}
	n, text := check([]spec.Lamination{wide, wide})
	assert.NotNil(t, n)
	assert.NotContains(t, text, "lamination")
	n, text = check([]spec.Lamination{wide, {Width: 2, WidthEnd: 9}})
	assert.Nil(t, n)
	assert.Contains(t, text, "lamination[2]: its taper goes on straight and comes to -0.68 mm at x = -178.7 mm, an end of the wood; allowed: 0.2 mm or more there")
	n, text = check([]spec.Lamination{{Width: 20, WidthEnd: 20}, {Width: 30, WidthEnd: 30}})
	assert.NotNil(t, n)
	assert.Contains(t, text, "lamination: the laminations are 50 mm wide together at fret ")
	assert.Contains(t, text, "blank.width: the laminations are 50 mm wide together, and the blank 90 mm")
	_, text = check([]spec.Lamination{wide, {Width: 46.9, WidthEnd: 46.9}})
	assert.NotContains(t, text, "blank.width", "planed to the blank's width")
	_, text = check([]spec.Lamination{wide, {Width: 47.1, WidthEnd: 47.1}})
	assert.Contains(t, text, "blank.width: the laminations are 92.1 mm wide together, and the blank 90 mm")
}

// TestBlankIsAsLongAsItsStick: with heel's blocks off the same stick, and of one
// whose side profile is cut already.
func TestBlankIsAsLongAsItsStick(t *testing.T) {
	text := func(long float64, change func(*spec.Spec)) string {
		_, problems := stacked(t, spec.Stack{}, func(s *spec.Spec) {
			s.Blank.Length = long
			if change != nil {
				change(s)
			}
		})
		return problems.Error()
	}
	n, _ := stacked(t, spec.Stack{}, nil)
	saw := n.Spec().Saw()
	need, blocks := n.WholeStickLength(saw)
	assert.Equal(t, 3, blocks)
	assert.InDelta(t, n.StickLength(saw)+3*(n.End()-n.HeelStart()+20+3), need, 1e-9)
	assert.Contains(t, text(need-0.01, nil), "blank.length: for the neck and the heel's 3 blocks, with 10 mm trimmed at each end, the stick has to be "+n.Rounded(need)+" long")
	assert.NotContains(t, text(need, nil), "blank.length")
	assert.NotContains(t, text(need-0.01, func(s *spec.Spec) { s.Blank.State = spec.BlankProfile }), "blank.length")
	assert.NotContains(t, text(n.StickLength(saw), func(s *spec.Spec) { s.Stack.Thickness = 15 }), "blank.length", "blocks of a stick of their own")
}
