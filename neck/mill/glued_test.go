package mill

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestGluedUpStock sets up a neck whose spec has a scarf and a stack: its stick is
// not asked to be as thick as the whole, and the sheet says what is glued first.
func TestGluedUpStock(t *testing.T) {
	s, err := spec.ReadFile("../../testdata/specs/wagtail.toml")
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	u, err := New(n, DefaultOptions())
	require.NoError(t, err)
	assert.True(t, u.GluedUp())
	for _, short := range u.Short {
		assert.NotContains(t, short, "thickness:")
		assert.NotContains(t, short, "length:")
	}
	first := u.Steps(spec.Millimetre)[0]
	stick := spec.Millimetre.Rounded(n.StickThickness())
	for _, want := range []string{"neckloft sticks", "The stick of the shaft is " + stick + " thick", "headstock's piece stands below"} {
		assert.Contains(t, first, want)
	}
	head, blocks := u.gluedDepth()
	k, ok := n.HeelStack()
	require.True(t, ok)
	assert.InDelta(t, k.Stick+k.Thickness*float64(len(k.Blocks)), blocks, 1e-9)
	require.Greater(t, head, u.Deepest-1)
	assert.LessOrEqual(t, u.Lo.Z, -math.Max(head, blocks))
	assert.Contains(t, first, spec.Millimetre.Rounded(head)+" under the glue plane at its end")
	assert.False(t, u.Waste, "no wood at the glue plane over the headstock")
	// Pins too thick for the wood under the board go into waste that is glued on.
	o := DefaultOptions()
	o.Pin = 20
	u, err = New(n, o)
	require.NoError(t, err)
	require.True(t, u.Waste)
	assert.Contains(t, u.Steps(spec.Millimetre)[0], "Glue waste on over its end")
}

// TestThinBlankPlansAScarf: where the angled headstock alone asks for a thicker
// blank in one piece, the sheet says what check says.
func TestThinBlankPlansAScarf(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	u, err := New(n, DefaultOptions())
	require.NoError(t, err)
	all := strings.Join(u.Short, "\n")
	assert.Contains(t, all, "thickness: the blank has 32 mm")
	assert.Contains(t, all, "plan a scarf joint")
	assert.NotContains(t, u.Steps(spec.Millimetre)[0], "Glue the blank up")
}

// TestOutlineComesLast: the tabs stand from the glue plane down, so that the
// outline is cut from the back, when the back is done, and the tabs are sawn after
// it, for any number of tabs.
func TestOutlineComesLast(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	for _, tabs := range []int{0, 3} {
		o := DefaultOptions()
		o.Tabs = tabs
		u, err := New(n, o)
		require.NoError(t, err)
		steps := u.Steps(spec.Millimetre)
		at := func(words string) int {
			for i, s := range steps {
				if strings.Contains(s, words) {
					return i
				}
			}
			t.Fatalf("%d tabs: no step says %q", tabs, words)
			return 0
		}
		assert.Less(t, at("Leave the outline"), at("Turn the stock over"))
		assert.Less(t, at("finish the back"), at("still from the back, go round the outline"))
		assert.Less(t, at("still from the back, go round the outline"), at("Take the stock off the bed"))
		assert.Contains(t, steps[3], "down to 3 mm over the bed")
		last := steps[4]
		if tabs == 0 {
			assert.Contains(t, last, "a skin from the bed up to 1.5 mm over it")
			continue
		}
		assert.Contains(t, last, "from the bed up to 3 mm over it")
		assert.Contains(t, last, "by default")
	}
}

// TestStockSide holds the blank in the side view against the wood: the whole of it
// lies in the pieces, which reach the stock's corners and no farther.
func TestStockSide(t *testing.T) {
	for _, place := range []spec.ScarfPlace{spec.ScarfHeadstock, spec.ScarfBoard} {
		s, err := spec.ReadFile("../../testdata/specs/wagtail.toml")
		require.NoError(t, err)
		s.Scarf.Place = place
		n, err := neck.New(s)
		require.NoError(t, err)
		for _, where := range []PinPlace{PinsWaste, PinsBoard} {
			o := DefaultOptions()
			o.PinsWhere = where
			u, err := New(n, o)
			require.NoError(t, err)
			pieces := u.StockSide()
			require.Len(t, pieces, 3+int(1-where/PinsBoard))
			lo, hi := mesh.Vec2{X: 1e9, Y: 1e9}, mesh.Vec2{X: -1e9, Y: -1e9}
			for _, piece := range pieces {
				for _, p := range piece.Points {
					lo = mesh.Vec2{X: math.Min(lo.X, p.Y), Y: math.Min(lo.Y, p.Z)}
					hi = mesh.Vec2{X: math.Max(hi.X, p.Y), Y: math.Max(hi.Y, p.Z)}
				}
			}
			assert.InDelta(t, u.Lo.X, lo.X, 1e-9)
			assert.InDelta(t, u.Hi.X, hi.X, 1e-9)
			assert.InDelta(t, u.Lo.Z, lo.Y, 1e-9)
			assert.InDelta(t, 0, hi.Y, 1e-9)
			for x := n.Start() + 0.1; x < n.End(); x += 3 {
				for _, z := range []float64{n.Top(x) - 0.05, -n.Depth(x) + 0.01} {
					in := false
					for _, piece := range pieces {
						var loop []mesh.Vec2
						for _, p := range piece.Points {
							loop = append(loop, mesh.Vec2{X: p.Y, Y: p.Z})
						}
						// On the glue lines the pieces meet.
						in = in || inside(loop, mesh.Vec2{X: x, Y: z}) || distanceToLoop(loop, mesh.Vec2{X: x, Y: z}) < 1e-6
					}
					assert.True(t, in, "x %g, z %g", x, z)
				}
				assert.GreaterOrEqual(t, u.StockUnder(x), n.Depth(x)-1e-9)
			}
			for _, p := range u.Pins {
				if where == PinsWaste {
					assert.Greater(t, u.StockUnder(p.X), n.StickThickness()-1e-9)
				}
			}
		}
	}
}
