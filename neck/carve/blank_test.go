package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// flatOf returns the stretch and the flat back of a neck.
func flatOf(n *neck.Neck) (Stretch, Taper) {
	st := StretchOf(n)
	return st, taperOf(n)
}

func woodOf(t *testing.T, n *neck.Neck, b BlankState) *Wood {
	t.Helper()
	w, err := WoodNow(n, StretchOf(n), b)
	require.NoError(t, err)
	return w
}

// deepestOf returns the greatest depth of a neck by a close search.
func deepestOf(n *neck.Neck) float64 {
	d := 0.0
	for i := range 20001 {
		d = math.Max(d, n.Depth(numeric.Lerp(n.Start(), n.End(), float64(i)/20000)))
	}
	return d
}

// stepped returns the demo neck with a flat headstock.
func stepped(t *testing.T) *neck.Neck {
	s := spec.Demo()
	s.Volute = nil
	s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 6, 15
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// plain returns a neck without headstock, heel and volute, whose back deepens
// evenly from 16 mm at the nut to 18 mm at its end.
func plain(t *testing.T) *neck.Neck {
	s := spectest.Straight()
	end := s.BoardEnd()
	s.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: 16 + s.Board.Thickness}, {At: spec.AtX(end), Total: 18 + s.Board.Thickness}}
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestWoodOfSquaredBlank holds a squared blank and a plain neck to numbers by
// hand.
func TestWoodOfSquaredBlank(t *testing.T) {
	n := plain(t)
	st, tp := flatOf(n)
	w := woodOf(t, n, Squared(20))
	assert.Equal(t, []WoodPoint{{0, 20}, {st.To, 20}}, w.Points(1))
	assert.Equal(t, 20.0, w.Depth(100))
	assert.True(t, math.IsNaN(w.Depth(-1)))
	assert.Equal(t, 0.0, w.Start())
	assert.Equal(t, n.End(), w.End())
	got := w.Shares(tp)
	require.Len(t, got, 1)
	assert.Equal(t, "run", got[0].Part)
	assert.InDelta(t, 4, got[0].Most, 1e-9)
	assert.InDelta(t, 0, got[0].MostAt, 1e-6)
	assert.InDelta(t, 2, got[0].Least, 1e-9)
	assert.InDelta(t, st.To, got[0].LeastAt, 1e-6)
	assert.InDelta(t, 4, got[0].Sled, 1e-9)
	assert.Zero(t, got[0].Saw)

	// Both sides of what is sawn first: 16 + 6 mm.
	s := woodOf(t, n, Squared(22)).Shares(tp)[0]
	assert.InDelta(t, 6, s.Sled, 1e-9)
	assert.Zero(t, s.Saw)
	s = woodOf(t, n, Squared(22.001)).Shares(tp)[0]
	assert.InDelta(t, 3, s.Sled, 1e-9)
	assert.InDelta(t, 3.001, s.Saw, 1e-9)
	assert.InDelta(t, s.Most, s.Saw+s.Sled, 1e-9)
	s = woodOf(t, n, Squared(111)).Shares(tp)[0]
	assert.InDelta(t, 92, s.Saw, 1e-9)
	assert.InDelta(t, 3, s.Sled, 1e-9)

	// Nothing comes off a blank that is the flat back.
	assert.Empty(t, woodOf(t, n, BlankState{Measured: []WoodPoint{{0, 16}, {st.To, 18}}}).Shares(tp))

	// 18 mm is just enough, less is not.
	woodOf(t, n, Squared(18))
	_, err := WoodNow(n, st, Squared(17.9))
	assert.ErrorContains(t, err, "the blank is 17.9 mm deep at")
	assert.ErrorContains(t, err, "the finished neck needs 18 mm there; allowed: 18 mm or more")
}

// TestWoodOfSideProfile checks a blank whose side profile is cut: only the slope
// and the allowance come off the run, and the allowance beside it.
func TestWoodOfSideProfile(t *testing.T) {
	for _, n := range append(necktest.All(t), stepped(t), plain(t)) {
		st, tp := flatOf(n)
		w := woodOf(t, n, SideProfile(tp, 1.5))
		for i := range 3001 {
			x := numeric.Lerp(n.Start(), n.End(), float64(i)/3000)
			want := math.Max(tp.DepthFrom, tp.DepthTo) + 1.5
			if x < st.From || x > st.To {
				want = n.Depth(x) + 1.5
			}
			require.InDelta(t, want, w.Depth(x), 1e-9, "%s x = %v", n.Spec().Name, x)
		}
		for _, s := range w.Shares(tp) {
			if s.Part == "run" {
				assert.InDelta(t, 1.5+math.Abs(tp.Drop()), s.Most, 1e-6)
				assert.InDelta(t, 1.5, s.Least, 1e-6)
				assert.InDelta(t, s.Most, s.Saw+s.Sled, 1e-9)
				assert.Equal(t, s.Most > SledMost, s.Saw > 0)
				continue
			}
			assert.InDelta(t, 1.5, s.Most, 1e-6)
			assert.InDelta(t, 1.5, s.Least, 1e-6)
			assert.InDelta(t, 1.5, s.Saw, 1e-6)
			assert.Zero(t, s.Sled)
		}
	}
}

// TestWoodOfScarf works the scarf out by hand: a headstock as thick as the shaft
// meets its back half the angle's tangent times the thickness from the shelf's
// end, and lies parallel to its face.
func TestWoodOfScarf(t *testing.T) {
	n := necktest.Demo(t)
	h := n.Spec().Headstock
	w := woodOf(t, n, BlankState{Depth: 20, Head: EndScarfed, Heel: EndStacked})
	meets := -h.Shelf + 20*math.Tan(h.Angle/2)
	pts := w.Points(1)
	assert.InDelta(t, meets, pts[1].X, 1e-9)
	assert.InDelta(t, 20, pts[1].Depth, 1e-9)
	for _, x := range []float64{-160, -100, -20} {
		// Square to the face, from a point of the back to the face's line.
		face := -math.Tan(h.Angle) * (-h.Shelf - x)
		assert.InDelta(t, 20, (w.Depth(x)+face)*math.Cos(h.Angle), 1e-9)
	}
	assert.Equal(t, 20.0, w.Depth(meets+1))

	// Thinner than the shaft it meets the back farther out.
	thin := woodOf(t, n, BlankState{Depth: 20, Head: EndScarfed, HeadThickness: 16, Heel: EndStacked}).Points(1)[1]
	assert.Less(t, thin.X, meets)
	assert.InDelta(t, (16-20*math.Cos(h.Angle))/math.Sin(h.Angle)-h.Shelf, thin.X, 1e-9)

	// The finished thickness is enough, less is not.
	woodOf(t, n, BlankState{Depth: 20, Head: EndScarfed, HeadThickness: h.Thickness, Heel: EndStacked})
	_, err := WoodNow(n, StretchOf(n), BlankState{Depth: 20, Head: EndScarfed, HeadThickness: h.Thickness - 0.1, Heel: EndStacked})
	assert.ErrorContains(t, err, "the scarfed headstock is 14.4 mm thick and the finished one 14.5 mm")

	_, err = WoodNow(stepped(t), StretchOf(stepped(t)), BlankState{Depth: 32, Head: EndScarfed})
	assert.ErrorContains(t, err, "the headstock is flat, so that it is not scarfed")
	_, err = WoodNow(plain(t), StretchOf(plain(t)), BlankState{Depth: 32, Head: EndScarfed})
	assert.ErrorContains(t, err, "the neck has no headstock")
	_, err = WoodNow(n, StretchOf(n), BlankState{Depth: 20, Head: EndScarfed, HeadThickness: 200, Heel: EndStacked})
	assert.ErrorContains(t, err, "runs past the run")
	_, err = WoodNow(n, StretchOf(n), BlankState{Depth: 20, Head: EndStacked})
	assert.ErrorContains(t, err, "a headstock is not stacked")
}

// TestWoodOfStackedHeel checks the block's place and depth, its default and its
// limits.
func TestWoodOfStackedHeel(t *testing.T) {
	n := necktest.Demo(t)
	st := StretchOf(n)
	b := BlankState{Depth: 18, Head: EndCut, Heel: EndStacked, HeelFrom: st.To - 10, HeelDepth: 40}
	w := woodOf(t, n, b)
	assert.Equal(t, 18.0, w.Depth(st.To-11))
	assert.Equal(t, 40.0, w.Depth(st.To-10)) // at the step the deeper one
	assert.Equal(t, 40.0, w.Depth(n.End()))

	b.HeelFrom, b.HeelDepth, b.Allowance = 0, 0, 1
	w = woodOf(t, n, b)
	assert.Equal(t, 18.0, w.Depth(st.To-0.1))
	most := 0.0
	for i := range 10001 {
		most = math.Max(most, n.Depth(numeric.Lerp(st.To, n.End(), float64(i)/10000)))
	}
	assert.InDelta(t, most+1, w.Depth(n.End()), 1e-6)

	for want, change := range map[string]func(*BlankState){
		"the stacked block begins at x = -200 mm":                                       func(b *BlankState) { b.HeelFrom = -200 },
		"the stacked block begins at x = 900 mm":                                        func(b *BlankState) { b.HeelFrom = 900 },
		"the stacked block is 17 mm deep; allowed: the blank's 18 mm or more":           func(b *BlankState) { b.HeelDepth = 17 },
		"a heel is not scarfed":                                                         func(b *BlankState) { b.Heel = EndScarfed },
		"the blank's depth below the glue plane is 0 mm; allowed: 1 mm to 500 mm":       func(b *BlankState) { b.Depth = 0 },
		"the blank's depth below the glue plane is 501 mm":                              func(b *BlankState) { b.Depth = 501 },
		"the allowance of the side profile is -1 mm":                                    func(b *BlankState) { b.Allowance = -1 },
		"the template's thickness is NaN mm":                                            func(b *BlankState) { b.Template = math.NaN() },
		"the blank is 18 mm deep at":                                                    func(b *BlankState) { b.HeelFrom = n.HeelFull() },
		"the blank's back is measured at 1 places":                                      func(b *BlankState) { b.Measured = []WoodPoint{{0, 30}} },
		"the blank's back is measured 0.5 mm deep at x = 1 mm; allowed: 1 mm to 500 mm": func(b *BlankState) { b.Measured = []WoodPoint{{1, 0.5}, {2, 3}} },
		"the blank's back is measured at x = 1 mm after x = 2 mm":                       func(b *BlankState) { b.Measured = []WoodPoint{{2, 5}, {1, 5}} },
		"the blank's back is measured from x = 0 mm to 500 mm and the neck's wood runs": func(b *BlankState) { b.Measured = []WoodPoint{{0, 50}, {500, 50}} },
	} {
		c := b
		change(&c)
		_, err := WoodNow(n, st, c)
		assert.ErrorContains(t, err, want)
	}
	// Too short at the body end, and just long enough.
	p := plain(t)
	_, err := WoodNow(p, StretchOf(p), BlankState{Measured: []WoodPoint{{0, 30}, {p.End() - 0.01, 30}}})
	assert.ErrorContains(t, err, "and the neck's wood runs from 0 mm to")
	woodOf(t, p, BlankState{Measured: []WoodPoint{{0, 30}, {p.End(), 30}}})
	_, err = WoodNow(p, StretchOf(p), BlankState{Depth: 32, Heel: EndStacked})
	assert.ErrorContains(t, err, "the neck has no heel")
}

// TestWoodInInches speaks the spec's unit.
func TestWoodInInches(t *testing.T) {
	s := spectest.Straight()
	s.Units = spec.Inch
	n, err := neck.New(s)
	require.NoError(t, err)
	_, err = WoodNow(n, StretchOf(n), Squared(0.25*25.4))
	assert.ErrorContains(t, err, "the blank is 0.25 in deep at")
	assert.NotContains(t, err.Error(), "mm")
}

// TestWoodMeasured reads a back that was measured, with a step in it and more
// wood than the neck is long, and brings its run to the flat back.
func TestWoodMeasured(t *testing.T) {
	n := plain(t)
	st, tp := flatOf(n)
	end := n.End()
	w := woodOf(t, n, BlankState{Depth: 1, Measured: []WoodPoint{{-50, 30}, {10, 24}, {10, 20}, {end + 30, 20}}})
	assert.InDelta(t, 27, w.Depth(-20), 1e-9)
	assert.InDelta(t, 24, w.Depth(10), 1e-9)
	assert.InDelta(t, 20, w.Depth(10.1), 1e-9)
	cut := w.AtFlat(tp)
	for i := range 2001 {
		x := numeric.Lerp(-50, end+30, float64(i)/2000)
		want := w.Depth(x)
		if x > st.From && x < st.To {
			want = tp.Depth(x)
		}
		require.InDelta(t, want, cut.Depth(x), 1e-9)
	}
	s := w.Shares(tp)[0]
	assert.InDelta(t, math.Max(24-tp.Depth(10), 25-16), s.Most, 1e-9)
}

// TestSharesBySampling compares what comes off with a close search, for every
// neck and every kind of blank.
func TestSharesBySampling(t *testing.T) {
	for _, n := range append(necktest.All(t), stepped(t), plain(t)) {
		st, tp := flatOf(n)
		for _, b := range blanksFor(n) {
			w := woodOf(t, n, b)
			seen := map[string]bool{}
			for _, s := range w.Shares(tp) {
				seen[s.Part] = true
				most, least := math.Inf(-1), math.Inf(1)
				for i := range 8001 {
					x := numeric.Lerp(s.From+1e-9, s.To-1e-9, float64(i)/8000)
					over := w.Depth(x) - n.Depth(x)
					if s.Part == "run" {
						over = w.Depth(x) - tp.Depth(x)
					}
					most, least = math.Max(most, over), math.Min(least, over)
				}
				require.InDelta(t, most, s.Most, 2e-3, "%s %s %v", n.Spec().Name, s.Part, b)
				require.InDelta(t, least, s.Least, 2e-3, "%s %s %v", n.Spec().Name, s.Part, b)
				require.InDelta(t, s.Most, s.Saw+s.Sled, 1e-9)
				require.LessOrEqual(t, s.Sled, SledMost)
			}
			require.True(t, seen["run"] || b.Depth < math.Max(tp.DepthFrom, tp.DepthTo)+0.01, "%s %v", n.Spec().Name, b)
			require.True(t, !seen["headstock"] || st.From > n.Start())
		}
	}
}

// blanksFor returns blanks of every kind that a neck can be cut from, thick and
// thin.
func blanksFor(n *neck.Neck) []BlankState {
	_, tp := flatOf(n)
	shaft := math.Max(tp.DepthFrom, tp.DepthTo) + 2
	deep := deepestOf(n)
	out := []BlankState{Squared(deep + 0.001), Squared(deep + 20), SideProfile(tp, 0), SideProfile(tp, 1.2)}
	s := n.Spec()
	b := BlankState{Depth: shaft, Head: EndCut, Heel: EndCut}
	if s.Headstock != nil && s.Headstock.Angle != 0 {
		b.Head, b.HeadThickness = EndScarfed, s.Headstock.Thickness+8
		if _, err := WoodNow(n, StretchOf(n), b); err == nil {
			out = append(out, b)
		}
		b.Head = EndCut
	}
	if s.Heel != nil {
		b.Heel = EndStacked
		if _, err := WoodNow(n, StretchOf(n), b); err == nil {
			out = append(out, b)
		}
	}
	return out
}
