package carve

import (
	"neckloft/mesh/drawn"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// TestShareWords never sends a sled to take off a blank's depth.
func TestShareWords(t *testing.T) {
	n := plain(t)
	_, tp := flatOf(n)
	u := spec.Millimetre
	end := u.Rounded(n.End())
	words := func(depth float64) string { return woodOf(t, n, Squared(depth)).Shares(tp)[0].Words(u) }
	assert.Equal(t, "run, x = 0 mm to "+end+": take off 2 mm to 4 mm by sled or plane.", words(20))
	assert.Equal(t, "run, x = 0 mm to "+end+": take off up to 2 mm by sled or plane.", words(18))
	assert.Equal(t, "run, x = 0 mm to "+end+": 93 mm to 95 mm comes off. Saw along a line 3 mm off the flat back first and leave that for sled or plane.", words(111))
	assert.Contains(t, woodOf(t, n, Squared(20)).Shares(tp)[0].Words(spec.Inch), "take off 0.079 in to 0.157 in by sled")
	demo := necktest.Demo(t)
	_, tp = flatOf(demo)
	var all []string
	for _, s := range woodOf(t, demo, SideProfile(tp, 1.5)).Shares(tp) {
		all = append(all, s.Words(u))
	}
	assert.Equal(t, []string{
		"headstock, x = -178.75 mm to 10 mm: saw off 1.5 mm.",
		"run, x = 10 mm to 376.21 mm: take off 1.5 mm to 3.83 mm by sled or plane.",
		"heel, x = 376.21 mm to 474 mm: saw off 1.5 mm.",
	}, all)
}

// TestEndWords reads what is said of ends, tools and cures of the blank that is
// worked out by hand. The flat rises 2 mm over 320 mm, so that the step at -100,
// 24 mm deep, stands 8.625 mm over it.
func TestEndWords(t *testing.T) {
	_, tp, w := blockWood(t)
	u := spec.Millimetre
	proud := w.Proud(tp, 0)
	assert.Contains(t, proud[0].Words(u), "At the nut end the wood stands up to 8.63 mm prouder than the flat back, from x = -100 mm to x = ")
	assert.NotContains(t, proud[0].Words(u), "finished neck")
	assert.Contains(t, proud[1].Words(u), "At the body end the wood stands up to 1 mm prouder")

	tool := EndTool{Name: "sled", Half: 75, Clearance: 5}
	assert.Equal(t, "The sled reaches with its axis from x = 35 mm to x = "+roundedDown(u, tp.To)+" and not the last 35 mm at the nut end of the run: the wood at the nut end stands in its way by 3.63 mm.",
		w.Reach(tp, tool).Words(u))
	assert.Contains(t, w.Reach(tp, HandRouter(75)).Words(u), "and not the last 75 mm at the nut end and 75 mm at the body end of the run: the wood at the nut end stands in its way by 8.63 mm and that at the body end by 1 mm.")
	assert.Contains(t, w.Reach(tp, RouterTable(0)).Words(u), "The router table does not reach the run: the wood at the nut end")
	assert.Equal(t, "The sled reaches the whole run.", w.Reach(tp, EndTool{Name: "sled", Half: 10, Clearance: 10}).Words(u))
	cure := w.Thin(tp, tool)
	assert.True(t, cure.Gains())
	got := cure.Words(u)
	assert.Len(t, got, 2)
	assert.True(t, strings.HasPrefix(got[0], "Thin the nut end from x = -75 mm to x = -40 mm: from a depth of 24 mm and 24 mm to 20.53 mm and 20.75 mm, up to 3.47 mm off. Nothing of the finished neck lies there."), got[0])
	assert.Equal(t, "With the ends thinned as far as they can be: the sled reaches the whole run.", got[1])
	assert.Empty(t, w.Thin(tp, EndTool{Name: "sled", Half: 75, Clearance: 50}).Words(u))

	demo := necktest.Demo(t)
	_, tp = flatOf(demo)
	w = woodOf(t, demo, Squared(60))
	cure = w.Thin(tp, HandRouter(75))
	assert.False(t, cure.Gains())
	got = cure.Words(u)
	assert.Len(t, got, 3)
	assert.Contains(t, got[0], "Thin the nut end from x = -65 mm to x = 10 mm: not possible, it would cut ")
	assert.Contains(t, got[1], "into the finished heel at x = ")
	assert.Equal(t, "Thinning gains the hand router nothing: the finished neck itself stands in its way.", got[2])
	assert.Contains(t, w.Proud(tp, 0)[1].Words(u), "; the finished neck too, up to 2.98 mm at x = ")
	assert.Contains(t, w.OnTable(tp).Words(u), "Back down on a table it rests at x = -178.75 mm and x = 474 mm: the flat back stands 45.16 mm clear at its nut end and 42.83 mm at its body end, tilted by 0.37 degrees.")
}

// TestPackingWords reads what is said of both kinds of packing.
func TestPackingWords(t *testing.T) {
	n := plain(t)
	_, tp := flatOf(n)
	end := n.End()
	u := spec.Millimetre
	w := woodOf(t, n, Squared(20))
	assert.Equal(t, "No packing: the neck lies level on its flat back.", w.Packing(tp, LevelBack, 0).Words(u))
	assert.Equal(t, "Back down on a table it lies on its flat back.", w.OnTable(tp).Words(u))
	got := w.Packing(tp, LevelGlue, 0).Words(u)
	assert.Contains(t, got, "A packing wedge 2 mm thick at the nut end and 0 mm at the body end under the flat back from x = 0 mm to x = "+u.Rounded(end))
	assert.Contains(t, got, "its thick end towards the nut and its sloping face up against the back")
	w = woodOf(t, n, BlankState{Measured: []WoodPoint{{0, 20}, {end, 20}, {end, 25}, {end + 20, 25}}})
	got = w.Packing(tp, LevelBack, 0).Words(u)
	assert.Contains(t, got, "A packing piece 7 mm thick at both ends under the flat back")
	assert.Contains(t, got, "Heights counted from the table grow by its thickness.")
	got = w.Packing(tp, LevelGlue, 1).Words(spec.Inch)
	assert.Contains(t, got, "0.394 in thick at the nut end and 0.315 in at the body end")
	assert.Equal(t, "body", towards("body end"))
	assert.Equal(t, "abc", lower("abc"))
	assert.Equal(t, "abc", lower("Abc"))
	assert.Empty(t, lower(""))
}

// TestEndWordsNameNoOtherUnit looks for the other unit in all that is said, for
// every neck and blank.
// Without DRAWN=all it takes some of the cases.
func TestEndWordsNameNoOtherUnit(t *testing.T) {
	for _, n := range append(drawn.Some(necktest.All(t), 5), stepped(t), plain(t)) {
		_, tp := flatOf(n)
		for _, b := range blanksFor(n) {
			w := woodOf(t, n, b)
			for u, other := range map[spec.Unit]string{spec.Millimetre: " in ", spec.Inch: " mm"} {
				var all []string
				for _, s := range w.Shares(tp) {
					all = append(all, s.Words(u))
				}
				for _, p := range w.Proud(tp, 0) {
					all = append(all, p.Words(u))
				}
				for _, tool := range []EndTool{HandRouter(60), RouterTable(0), SledCarriage(100, 30)} {
					all = append(all, w.Reach(tp, tool).Words(u))
					all = append(all, w.Thin(tp, tool).Words(u)...)
				}
				all = append(all, w.OnTable(tp).Words(u), w.Packing(tp, LevelBack, 1).Words(u), w.Packing(tp, LevelGlue, 1).Words(u))
				for _, line := range all {
					line = strings.ReplaceAll(line, "stands in its", "stands")
					assert.NotContains(t, line, other)
					assert.NotContains(t, line, "NaN")
					assert.NotContains(t, line, "Inf")
					assert.True(t, strings.HasSuffix(line, "."), line)
				}
			}
		}
	}
}
