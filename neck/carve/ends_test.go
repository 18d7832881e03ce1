package carve

import (
	"math"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// block is a neck 16 to 18 mm deep with a back measured to numbers for work by
// hand: 24 mm deep up to x = -40 beyond the nut, a step down to 20 mm, and at
// the body 10 mm of wood 19 mm deep beyond the end.
func blockWood(t *testing.T) (*neck.Neck, Taper, *Wood) {
	n := plain(t)
	_, tp := flatOf(n)
	end := n.End()
	w := woodOf(t, n, BlankState{Measured: []WoodPoint{{-100, 24}, {-40, 24}, {-40, 16}, {end, 18}, {end, 19}, {end + 10, 19}}})
	return n, tp, w
}

// TestProudByHand finds the proud ends of a blank by numbers.
func TestProudByHand(t *testing.T) {
	n, tp, w := blockWood(t)
	end := n.End()
	slope := 2 / end
	got := w.Proud(tp, 0)
	require.Len(t, got, 2)
	// From -40 to 0 the back runs from 16 to the flat's own 16 at the nut, a
	// little over the flat that goes on rising: proud by up to 40 mm of slope.
	p := got[0]
	assert.False(t, p.BodyEnd)
	assert.Equal(t, -100.0, p.From)
	assert.InDelta(t, 0, p.To, 1e-2)
	assert.InDelta(t, 24-(16-100*slope), p.By, 1e-9)
	assert.InDelta(t, -100, p.At, 1e-6)
	b := got[1]
	assert.True(t, b.BodyEnd)
	assert.Equal(t, end, b.From)
	assert.InDelta(t, end+(1/slope)*1, math.Max(b.To, end+1/slope), 1e-6) // the plane would meet it beyond its end
	assert.Equal(t, end+10, b.To)
	assert.InDelta(t, 1, b.By, 1e-9)

	// With a clearance of 5 mm the step alone stands proud, and of more nothing
	// does; both sides of it.
	got = w.Proud(tp, 5)
	require.Len(t, got, 1)
	assert.Equal(t, [2]float64{-100, -40}, [2]float64{got[0].From, got[0].To})
	assert.Len(t, w.Proud(tp, 8+100*slope-1e-4), 1)
	assert.Empty(t, w.Proud(tp, 8+100*slope+1e-4))
	// Within it where the plane has risen: 24 less 15.9 and so on.
	half := w.Proud(tp, 8+70*slope)
	require.Len(t, half, 1)
	assert.InDelta(t, -70, half[0].To, 1e-3)
}

// TestReachByHand works out how far tools go on that blank, with a clearance
// that only the step at -40 takes.
func TestReachByHand(t *testing.T) {
	_, tp, w := blockWood(t)
	r := w.Reach(tp, EndTool{Half: 75, Clearance: 5})
	assert.True(t, r.Possible)
	assert.InDelta(t, 35, r.From, 1e-9)
	assert.InDelta(t, 35, r.LostNut, 1e-9)
	assert.Equal(t, tp.To, r.To)
	assert.Zero(t, r.LostBody)
	assert.True(t, math.IsNaN(r.StopBody))
	assert.Equal(t, -40.0, r.StopNut)
	assert.InDelta(t, 8+100*tp.Slope-5, r.ByNut, 1e-9)
	assert.Zero(t, r.ByBody)
	// A plate of 40 mm or less does not come near it.
	assert.Zero(t, w.Reach(tp, EndTool{Half: 40, Clearance: 5}).LostNut)
	assert.InDelta(t, 0.1, w.Reach(tp, EndTool{Half: 40.1, Clearance: 5}).LostNut, 1e-9)
	// On the flat back itself the wood at both ends stops the plate.
	r = w.Reach(tp, HandRouter(75))
	assert.InDelta(t, 75, r.LostNut, 1e-2)
	assert.InDelta(t, 75, r.LostBody, 1e-9)
	// Wood that stands farther out than the plate reaches does not shorten the
	// reach, nor lengthen it.
	n := plain(t)
	far := woodOf(t, n, BlankState{Measured: []WoodPoint{{0, 20}, {n.End(), 18}, {n.End() + 60, 18}, {n.End() + 60, 30}, {n.End() + 80, 30}}})
	r = far.Reach(tp, EndTool{Half: 50, Clearance: 2})
	assert.Equal(t, tp.To, r.To)
	assert.Zero(t, r.LostBody)
	assert.InDelta(t, n.End()+60, r.StopBody, 1e-9)
	assert.InDelta(t, 20, far.Reach(tp, EndTool{Half: 80, Clearance: 2}).LostBody, 1e-9)
	// A table without an end is not possible.
	r = w.Reach(tp, RouterTable(0))
	assert.False(t, r.Possible)
	assert.True(t, math.IsInf(r.LostNut, 1))
	half := tp.Length() / 2
	assert.False(t, w.Reach(tp, RouterTable(half+0.1)).Possible)
	assert.True(t, w.Reach(tp, RouterTable(half-0.1)).Possible)
}

// TestProudAndReachBySampling compares proud ends, reach and margins with plain
// sampling of the side view, for every neck, blank and several tools.
//
// Long, since its cases share what is set up first.
// Without DRAWN=all it takes some of the cases.
func TestProudAndReachBySampling(t *testing.T) {
	for _, n := range append(drawn.Some(necktest.All(t), 3), stepped(t), plain(t)) {
		_, tp := flatOf(n)
		for _, b := range blanksFor(n) {
			w := woodOf(t, n, b)
			const grain = 0.25
			depth := func(x float64) float64 { return w.Depth(x) }
			for _, tool := range []EndTool{HandRouter(45), HandRouter(80), RouterTable(0), RouterTable(120), SledCarriage(150, 30), SledCarriage(60, 4)} {
				r := w.Reach(tp, tool)
				nut, body := math.Inf(-1), math.Inf(1) // nearest wood in the way
				nutClear, bodyClear := tp.From, tp.To  // and nearest place before it that is clear beyond doubt
				proud := w.Proud(tp, tool.Clearance)
				inside := func(x float64) bool {
					for _, p := range proud {
						if x > p.From && x < p.To {
							return true
						}
					}
					return false
				}
				by := 0.0
				for i := 0; ; i++ {
					x := n.Start() + grain*float64(i) + 1e-7
					if x >= n.End() {
						break
					}
					if x >= tp.From && x <= tp.To {
						continue
					}
					over := depth(x) - tp.Depth(x) - tool.Clearance
					if math.Abs(over) > 2e-6 {
						require.Equal(t, over > 0, inside(x), "%s %v x = %v over = %v", n.Spec().Name, b, x, over)
					}
					if over < -2e-6 {
						if x < tp.From {
							nutClear = math.Min(nutClear, x)
						} else if math.IsInf(body, 1) {
							bodyClear = x
						}
					}
					if over <= 2e-6 {
						continue
					}
					by = math.Max(by, over)
					if x < tp.From {
						nut, nutClear = x, tp.From
					} else if math.IsInf(body, 1) {
						body = x
					}
				}
				require.InDelta(t, by, math.Max(r.ByNut, r.ByBody), 0.1)
				if math.IsInf(nut, -1) {
					require.True(t, math.IsNaN(r.StopNut))
					require.Equal(t, tp.From, r.From)
				} else {
					require.GreaterOrEqual(t, r.StopNut, nut-1e-6)
					require.LessOrEqual(t, r.StopNut, nutClear+1e-6)
					if !math.IsInf(tool.Half, 1) {
						require.InDelta(t, math.Max(tp.From, r.StopNut+tool.Half), r.From, 1e-6)
					}
				}
				if math.IsInf(body, 1) {
					require.True(t, math.IsNaN(r.StopBody))
				} else {
					require.GreaterOrEqual(t, r.StopBody, bodyClear-1e-6)
					require.LessOrEqual(t, r.StopBody, body+1e-6)
				}
				checkThin(t, n, tp, w, tool)
			}
		}
	}
}

// checkThin compares the thinnings for a tool with sampling.
func checkThin(t *testing.T, n *neck.Neck, tp Taper, w *Wood, tool EndTool) {
	t.Helper()
	cure := w.Thin(tp, tool)
	possible := true
	for _, th := range cure.Ends {
		possible = possible && th.Possible
		margin, most, free := math.Inf(1), math.Inf(-1), math.Inf(1)
		for i := range 1001 {
			x := numeric.Lerp(th.From+1e-7, th.To-1e-7, float64(i)/1000)
			plane := tp.Depth(x) + tool.Clearance
			margin = math.Min(margin, math.Min(plane, w.Depth(x))-n.Depth(x))
			most = math.Max(most, w.Depth(x)-plane)
			if x > th.FreeFrom && x < th.FreeTo {
				free = math.Min(free, plane-n.Depth(x))
			}
		}
		name := n.Spec().Name
		require.InDelta(t, margin, th.Margin, 1e-2, name)
		require.InDelta(t, most, th.Most, 1e-2, name)
		require.Equal(t, th.Margin >= -1e-6, th.Possible)
		if th.FreeTo > th.FreeFrom {
			require.GreaterOrEqual(t, free, -1e-5, name)
		}
		if th.Possible {
			require.Equal(t, [2]float64{th.From, th.To}, [2]float64{th.FreeFrom, th.FreeTo})
		} else {
			require.Less(t, th.FreeTo-th.FreeFrom, th.To-th.From)
		}
		require.InDelta(t, tp.Depth(th.From)+tool.Clearance, th.AfterFrom, 1e-2)
		require.InDelta(t, tp.Depth(th.To)+tool.Clearance, th.AfterTo, 1e-2)
		// It lies next to the run and no farther than the plate reaches.
		if th.BodyEnd {
			require.True(t, th.From >= tp.To && th.To <= tp.To+tool.Half)
			require.Equal(t, "heel", th.Feature)
		} else {
			require.True(t, th.To <= tp.From && th.From >= tp.From-tool.Half)
		}
	}
	after := cure.Reach
	before := w.Reach(tp, tool)
	require.True(t, after.From <= before.From+1e-6 && after.To >= before.To-1e-6)
	if possible {
		require.NoError(t, cure.Error(spec.Millimetre))
		require.InDelta(t, 0, math.Max(after.LostNut, after.LostBody), 1e-2, n.Spec().Name)
	} else {
		require.Error(t, cure.Error(spec.Millimetre))
		require.Greater(t, math.Max(after.LostNut, after.LostBody), 0.0)
	}
}

// TestThinByHand thins the ends of a neck whose flat headstock can be thinned to
// the plane and of one with a volute, which cannot.
func TestThinByHand(t *testing.T) {
	n, tp, w := blockWood(t)
	cure := w.Thin(tp, EndTool{Half: 75, Clearance: 5})
	require.Len(t, cure.Ends, 1)
	th := cure.Ends[0]
	assert.Equal(t, [2]float64{-75, -40}, [2]float64{th.From, th.To})
	assert.Equal(t, [2]float64{24, 24}, [2]float64{th.NowFrom, th.NowTo})
	assert.InDelta(t, 16-75*tp.Slope+5, th.AfterFrom, 1e-9)
	assert.InDelta(t, 16-40*tp.Slope+5, th.AfterTo, 1e-9)
	assert.True(t, th.Possible)
	assert.Zero(t, cure.Reach.LostBody)
	assert.Equal(t, n.Start(), 0.0) // all of it lies beyond the neck

	// The volute of the demo rises 3.2 mm at -12; its slope is that of the flat.
	demo := necktest.Demo(t)
	_, tp = flatOf(demo)
	cure = woodOf(t, demo, Squared(60)).Thin(tp, HandRouter(30))
	require.Len(t, cure.Ends, 2)
	th = cure.Ends[0]
	assert.False(t, th.Possible)
	assert.Equal(t, [2]float64{tp.From - 30, tp.From}, [2]float64{th.From, th.To})
	assert.Equal(t, [2]float64{60, 60}, [2]float64{th.NowFrom, th.NowTo})
	short := 0.0
	for i := range 30001 {
		x := th.From + float64(i)/1000
		short = math.Max(short, demo.Depth(x)-tp.Depth(x))
	}
	assert.InDelta(t, -short, th.Margin, 1e-6)
	assert.Equal(t, "volute", th.Feature)
	assert.Equal(t, "heel", cure.Ends[1].Feature)
	assert.ErrorContains(t, cure.Error(spec.Millimetre), "into the volute, at x = -")
	assert.Contains(t, cure.Error(spec.Inch).Error(), " in into the volute")
}

// TestThinWithDip thins a blank with a dip on its headstock and two blocks at its
// body end: the dip stays as it is and its margin counts, and the nearer block
// stops the tool.
func TestThinWithDip(t *testing.T) {
	n := necktest.Demo(t)
	_, tp := flatOf(n)
	x := tp.To + 30
	w := woodOf(t, n, BlankState{Measured: []WoodPoint{{n.Start(), 70}, {-60, 70}, {-60, 34}, {-20, 34}, {-20, 70}, {10, 70}, {10, 30},
		{x, 30}, {x, 70}, {x + 10, 70}, {x + 10, 30}, {x + 30, 30}, {x + 30, 80}, {n.End(), 80}}})
	tool := SledCarriage(100, 40)
	checkThin(t, n, tp, w, tool)
	th := w.Thin(tp, tool).Ends[0]
	assert.InDelta(t, 34-n.Depth(-60), th.Margin, 1e-6)
	assert.InDelta(t, -60, th.MarginAt, 1e-4)
	r := w.Reach(tp, tool)
	assert.InDelta(t, x, r.StopBody, 1e-9)
	assert.InDelta(t, x-100, r.To, 1e-9)
	assert.InDelta(t, 80-40-tp.Depth(x+30), r.ByBody, 1e-9)
}

// TestFeatureNames names what stands beside the run.
func TestFeatureNames(t *testing.T) {
	s := spec.Demo()
	assert.Equal(t, "volute", featureAt(s, -12, -12, false))
	assert.Equal(t, "volute", featureAt(s, -12, -12+21.9, false))
	assert.Equal(t, "headstock", featureAt(s, -12, -12-22.1, false))
	s.Volute = nil
	assert.Equal(t, "headstock", featureAt(s, 0, 0, false))
	assert.Equal(t, "heel", featureAt(s, 0, 400, true))
}

// TestOnTableByHand lays a blank on a table with its back down: it has an arm of
// 10 mm at one end only, 100 mm from the flat's near end.
func TestOnTableByHand(t *testing.T) {
	n := plain(t)
	_, tp := flatOf(n)
	end := n.End()
	w := woodOf(t, n, BlankState{Measured: []WoodPoint{{-110, 26}, {-100, 26}, {-100, 16}, {end, 20}}})
	r := w.OnTable(tp)
	assert.False(t, r.Flat)
	// It rests on the arm's edge at -100 and the flat's body end, 18 mm deep.
	assert.InDelta(t, -100, r.RestNut, 1e-9)
	assert.InDelta(t, end, r.RestBody, 1e-9)
	line := math.Atan2(18-26, end+100)
	assert.InDelta(t, line-math.Atan(tp.Slope), r.Angle, 1e-9)
	// The nut end of the flat is 16 mm deep, the line there 26 less its fall.
	assert.InDelta(t, (26+math.Tan(line)*100-16)*math.Cos(line), r.GapFrom, 1e-9)
	assert.InDelta(t, 0, r.GapTo, 1e-9)

	// Nothing proud, it lies flat.
	w = woodOf(t, n, Squared(20))
	assert.True(t, w.OnTable(tp).Flat)
}

// TestOnTableByTurning turns every neck and blank by each line through two of its
// points, keeps those with all wood on one side, and takes the one with the
// centre lowest. The centre is summed over small squares.
// Without DRAWN=all it takes some of the cases.
func TestOnTableByTurning(t *testing.T) {
	for _, n := range append(drawn.Some(necktest.All(t), 5), stepped(t)) {
		_, tp := flatOf(n)
		for _, b := range blanksFor(n) {
			w := woodOf(t, n, b)
			cut := w.AtFlat(tp)
			var pts []WoodPoint
			for i := range 241 {
				x := numeric.Lerp(n.Start(), n.End(), float64(i)/240)
				pts = append(pts, WoodPoint{x, cut.Depth(x)})
			}
			pts = append(pts, WoodPoint{tp.From, cut.Depth(tp.From)}, WoodPoint{tp.To, cut.Depth(tp.To)})
			var mass, mx, md float64
			for i := range 4000 {
				x := numeric.Lerp(n.Start(), n.End(), (float64(i)+0.5)/4000)
				lo, hi := -n.Top(x), cut.Depth(x)
				m := (hi - lo) * n.Width(x)
				mass, mx, md = mass+m, mx+m*x, md+m*(lo+hi)/2
			}
			mx, md = mx/mass, md/mass
			c := cut.centre()
			require.InDelta(t, mx, c.X, 0.1)
			require.InDelta(t, md, c.Depth, 0.02)

			lowest, gapFrom, gapTo := math.Inf(1), 0.0, 0.0
			for i, p := range pts {
				for _, q := range pts[i+1:] {
					l := math.Hypot(q.X-p.X, q.Depth-p.Depth)
					if q.X <= p.X || l == 0 {
						continue
					}
					over := func(r WoodPoint) float64 {
						return ((q.Depth-p.Depth)*(r.X-p.X) - (q.X-p.X)*(r.Depth-p.Depth)) / l
					}
					ok := true
					for _, r := range pts {
						if over(r) < -1e-9 {
							ok = false
							break
						}
					}
					if h := over(WoodPoint{mx, md}); ok && h < lowest {
						lowest = h
						gapFrom, gapTo = over(WoodPoint{tp.From, tp.DepthFrom}), over(WoodPoint{tp.To, tp.DepthTo})
					}
				}
			}
			r := w.OnTable(tp)
			require.InDelta(t, gapFrom, r.GapFrom, 0.1, "%s %v", n.Spec().Name, b)
			require.InDelta(t, gapTo, r.GapTo, 0.1, "%s %v", n.Spec().Name, b)
			require.Equal(t, r.Flat, math.Max(r.GapFrom, r.GapTo) < 1e-6)
		}
	}
}

// TestPackingPiece checks that with the piece under it the neck lies level and
// clear of the table, and that one end just is, by turning all points of its
// back.
func TestPackingPiece(t *testing.T) {
	for _, n := range append(necktest.All(t), stepped(t), plain(t)) {
		_, tp := flatOf(n)
		for _, b := range blanksFor(n) {
			w := woodOf(t, n, b)
			cut := w.AtFlat(tp)
			for _, level := range []PackLevel{LevelBack, LevelGlue} {
				for _, clear := range []float64{0, 2} {
					p := w.Packing(tp, level, clear)
					// The table's line in the neck's plane: at the run's ends the
					// piece's thickness away from the back, square to the table.
					turn := 0.0
					if level == LevelBack {
						turn = math.Atan(tp.Slope)
					}
					sin, cos := math.Sincos(turn)
					height := func(x, depth float64) float64 { return depth*cos - (x-tp.From)*sin }
					table := height(tp.From, tp.DepthFrom) + p.ThicknessFrom
					require.InDelta(t, table, height(tp.To, tp.DepthTo)+p.ThicknessTo, 1e-9)
					require.InDelta(t, math.Hypot(tp.Length(), 0)/cos, p.Length, 1e-9)
					least := math.Inf(1)
					for i := range 2001 {
						x := numeric.Lerp(n.Start(), n.End(), float64(i)/2000)
						least = math.Min(least, table-height(x, cut.Depth(x)))
					}
					require.InDelta(t, clear, least, 5e-3, "%s %v", n.Spec().Name, b)
					require.InDelta(t, clear, table-height(p.Lowest, cut.Depth(p.Lowest)), 1e-6)
					d := p.ThicknessFrom - p.ThicknessTo
					switch {
					case level == LevelBack:
						require.Empty(t, p.Thick)
						require.Zero(t, d)
					case tp.Drop() > 0.01:
						require.Equal(t, "nut end", p.Thick)
						require.InDelta(t, tp.Drop(), d, 1e-9)
						require.InDelta(t, tp.Drop()/tp.Length(), math.Tan(p.Angle), 1e-9)
					case tp.Drop() < -0.01:
						require.Equal(t, "body end", p.Thick)
					default:
						require.Empty(t, p.Thick)
					}
				}
			}
		}
	}
}

// TestPackingByHand gives the wedge of a plain neck, 16 mm deep at the nut and
// 18 mm at its end: 2 mm and nothing. A blank that is 25 mm deep beyond its end
// asks for 9 mm and 7 mm.
func TestPackingByHand(t *testing.T) {
	n := plain(t)
	_, tp := flatOf(n)
	end := n.End()
	p := woodOf(t, n, Squared(20)).Packing(tp, LevelGlue, 0)
	assert.InDelta(t, 2, p.ThicknessFrom, 1e-9)
	assert.InDelta(t, 0, p.ThicknessTo, 1e-9)
	assert.Equal(t, "nut end", p.Thick)
	w := woodOf(t, n, BlankState{Measured: []WoodPoint{{0, 20}, {end, 20}, {end, 25}, {end + 20, 25}}})
	p = w.Packing(tp, LevelGlue, 1)
	assert.InDelta(t, 10, p.ThicknessFrom, 1e-9)
	assert.InDelta(t, 8, p.ThicknessTo, 1e-9)
	assert.InDelta(t, 0, woodOf(t, n, Squared(20)).Packing(tp, LevelBack, 0).ThicknessTo, 1e-9)
	p = w.Packing(tp, LevelBack, 0)
	assert.InDelta(t, 7, p.ThicknessFrom, 1e-3)
	assert.Equal(t, p.ThicknessFrom, p.ThicknessTo)
}
