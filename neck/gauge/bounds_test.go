package gauge

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// TestGaugeOutlineTolerance holds the opening's chords to a hundredth of a
// millimetre, half of what the neck's own mesh is held to, by the closed form of
// ellipses: pressed to a circle, one shows the point farthest from a chord, the
// one halfway in its angle. Sparing points is worth something too: chords come
// near to that hundredth, and few fall far below it.
func TestGaugeOutlineTolerance(t *testing.T) {
	o := DefaultOptions()
	o.Clearance = 0 // the opening is the section itself
	worst, chords, near := 0.0, 0, 0
	for a := 20.0; a < 36; a += 0.5 {
		b := 0.7 * a
		sp := spectest.Straight()
		sp.Width.Nut, sp.Width.End = 2*a, 2*a
		sp.Wall, sp.Depth[0].Total = 8, 8+b+sp.Board.Thickness
		n, err := neck.New(sp)
		require.NoError(t, err)
		g := gaugeAt(t, n, spec.AtFret(5), o)
		for i := 2; i+1 < len(g.Open); i++ { // the first and the last chord are the legs
			p, q := g.At(g.Open[i-1]), g.At(g.Open[i])
			t0, t1 := math.Atan2((-p.Z-8)/b, p.Y/a), math.Atan2((-q.Z-8)/b, q.Y/a)
			sin, cos := math.Sincos((t0 + t1) / 2)
			y, z := a*cos, -8-b*sin
			e := math.Abs((q.Y-p.Y)*(z-p.Z)-(q.Z-p.Z)*(y-p.Y)) / math.Hypot(q.Y-p.Y, q.Z-p.Z)
			worst = math.Max(worst, e)
			chords++
			if e > 0.002 {
				near++
			}
		}
	}
	assert.LessOrEqual(t, worst, 0.01+1e-9)
	assert.Greater(t, worst, 0.0095)
	assert.Greater(t, near, chords*2/3)
}

// TestGaugeCornerTolerance holds the plate's rounded corners to 0.02 mm of the
// circle.
func TestGaugeCornerTolerance(t *testing.T) {
	for _, r := range []float64{0.5, 4, 20, 60} {
		centre := mesh.Vec2{X: 3, Y: 7}
		line := arc(centre, r, 0.3, 1.9)
		worst := 0.0
		for i, p := range line {
			assert.InDelta(t, r, p.Sub(centre).Norm(), 1e-12)
			if i > 0 {
				worst = math.Max(worst, r-p.Add(line[i-1]).Scale(0.5).Sub(centre).Norm())
			}
		}
		assert.LessOrEqual(t, worst, 0.02+1e-12, "radius %g", r)
		assert.Greater(t, worst, 0.004, "radius %g", r)
		assert.InDelta(t, 0.3, math.Atan2(line[0].Y-7, line[0].X-3), 1e-12)
		assert.InDelta(t, 1.9, math.Atan2(line[len(line)-1].Y-7, line[len(line)-1].X-3), 1e-12)
	}
}

// TestGaugeDatum checks the plane that the feet stand on and the height that a
// depth gauge reads: legs of any height, over the wood, over the board and on a
// headstock's face.
func TestGaugeDatum(t *testing.T) {
	n := necktest.Demo(t)
	board := n.Spec().Board.Thickness
	head := n.Start() + 30
	require.Less(t, n.Top(head), -5.0)
	for _, c := range []struct {
		x    float64
		over bool
		legs float64
		want float64
	}{
		{100, false, 0, 0}, {100, false, 12, 12}, {100, true, 0, board}, {100, true, 12, board + 12},
		{0, true, 3, board + 3}, {n.BoardEnd(), true, 3, board + 3},
		{head, false, 0, n.Top(head)}, {head, false, 4, n.Top(head) + 4},
	} {
		o := DefaultOptions()
		o.OverBoard, o.LegHeight = c.over, c.legs
		g := gaugeAt(t, n, spec.AtX(c.x), o)
		assert.InDelta(t, c.want, g.Datum, 1e-12, "%+v", c)
		assert.InDelta(t, c.want+n.Depth(c.x), g.Height(), 1e-9, "%+v", c)
		// The feet are at v = 0, which At puts on the datum.
		for _, foot := range []int{0, len(g.Open) - 1} {
			assert.InDelta(t, c.want, g.At(g.Open[foot]).Z, 1e-12, "%+v", c)
		}
	}
}

// TestGaugeOverBoardEnds checks where a gauge over the board is refused: a hair
// off either end.
func TestGaugeOverBoardEnds(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions()
	for x, ok := range map[float64]bool{-0.001: false, 0: true, n.BoardEnd(): true, n.BoardEnd() + 0.001: false} {
		for over, allowed := range map[bool]bool{true: ok, false: true} {
			o.OverBoard = over
			_, err := New(n, spec.AtX(x), o)
			assert.Equal(t, allowed, err == nil, "x = %g, over the board: %v", x, over)
		}
	}
	o.OverBoard = false
	for x, ok := range map[float64]bool{n.Start() - 1e-6: false, n.Start(): true, n.End(): true, n.End() + 1e-6: false} {
		_, err := New(n, spec.AtX(x), o)
		assert.Equal(t, ok, err == nil, "x = %g", x)
	}
}

// TestGaugePlate checks the plate's size by hand on an even neck 44 wide and 15
// deep with walls that the legs go straight down from: legs as wide as asked for or wider, beside the wall, the
// board's edge or the label.
func TestGaugePlate(t *testing.T) {
	sp := spectest.Straight()
	sp.Wall = 5
	n, err := neck.New(sp)
	require.NoError(t, err)
	for _, c := range []struct {
		name    string
		edit    func(o *Options)
		lo, hi  float64 // u of the plate's sides
		top     float64
		from    float64 // u of the label's room
		room    float64 // v of it
		holes   int
		refused bool
	}{
		{name: "plain", edit: func(o *Options) {}, lo: -30.15, hi: 30.15, top: 20, from: -27.65, room: 20},
		{name: "slim legs", edit: func(o *Options) { o.LegWidth, o.Corner = 3, 3 }, lo: -25.15, hi: 25.15, top: 20, from: -22.65, room: 20},
		{name: "loose", edit: func(o *Options) { o.Clearance, o.Allowance = 0.5, 2 }, lo: -32.5, hi: 32.5, top: 22, from: -30, room: 22},
		{name: "over the board", edit: func(o *Options) { o.OverBoard = true }, lo: -30.65, hi: 30.65, top: 26, from: -28.15, room: 26},
		{name: "wide label", edit: func(o *Options) { o.LabelWidth, o.LabelDepth = 60, 7 }, lo: -32.5, hi: 32.5, top: 32, from: -30, room: 20, holes: 1},
		{name: "narrow label", edit: func(o *Options) { o.LabelWidth, o.LabelDepth = 55, 7 }, lo: -30.15, hi: 30.15, top: 32, from: -27.65, room: 20, holes: 1},
		{name: "bass half", edit: func(o *Options) { o.Half = BassHalfGauge }, lo: 0, hi: 30.15, top: 20, from: 2.5, room: 20},
		{name: "treble half", edit: func(o *Options) { o.Half, o.LabelWidth = TrebleHalfGauge, 40 }, lo: -45, hi: 0, top: 20, from: -42.5, room: 20},
		{name: "room for the pointer", edit: func(o *Options) { o.Margin = 6.2 }, lo: -30.15, hi: 30.15, top: 21.2, from: -27.65, room: 21.2, holes: 1},
		{name: "no room for the pointer", edit: func(o *Options) { o.Margin = 6.19 }, lo: -30.15, hi: 30.15, top: 21.19, from: -27.65, room: 21.19},
		{name: "corners that fit", edit: func(o *Options) { o.LegWidth, o.Corner, o.FootCorner = 15, 15, 5 }, lo: -37.15, hi: 37.15, top: 20, from: -34.65, room: 20},
		{name: "corners that do not", edit: func(o *Options) { o.LegWidth, o.Corner, o.FootCorner = 15, 15, 5.01 }, refused: true},
		{name: "corners wider than the legs", edit: func(o *Options) { o.Corner, o.LegWidth, o.Half = 12, 12, WholeGauge }, lo: -34.15, hi: 34.15, top: 20, from: -31.65, room: 20},
	} {
		o := DefaultOptions()
		c.edit(&o)
		g, err := New(n, spec.AtFret(4), o)
		assert.Equal(t, c.refused, err != nil, c.name)
		if err != nil || c.refused {
			continue
		}
		lo, hi := g.Region.Bounds()
		assert.InDelta(t, c.lo, lo.X, 1e-9, c.name)
		assert.InDelta(t, c.hi, hi.X, 1e-9, c.name)
		assert.InDelta(t, 0, lo.Y, 1e-12, c.name)
		assert.InDelta(t, c.top, hi.Y, 1e-9, c.name)
		assert.InDelta(t, c.from, g.Room[0].X, 1e-9, c.name)
		assert.InDelta(t, c.room, g.Room[0].Y, 1e-9, c.name)
		assert.InDelta(t, o.LabelDepth, g.Room[1].Y-g.Room[0].Y, 1e-9, c.name)
		assert.InDelta(t, c.hi-2.5, g.Room[1].X, 1e-9, c.name)
		assert.Len(t, g.Region.Holes, c.holes, c.name)
	}
}
