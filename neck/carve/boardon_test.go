package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// boardNeck is a neck to work out by hand: its board is 6 mm on the crown, 40
// mm wide at the nut and 50 at its end, and rounded to 200 mm at the nut and
// 400 at its end.
func boardNeck(t testing.TB) *neck.Neck {
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 40, 50
	s.Board.RadiusNut, s.Board.RadiusEnd = 200, 400
	end := s.BoardEnd()
	s.Depth = []spec.DepthTarget{{At: spec.AtX(0), Total: 20}, {At: spec.AtX(end), Total: 22}}
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestBoardEdgeByHand: the face falls by 200 - √(200²-20²) = 1.0025 mm to the
// edge at the nut, and by 400 - √(400²-25²) = 0.7820 at the board's end; halfway
// the radius is 300 and the half width 22.5: 300 - √(300²-22.5²) = 0.8450.
func TestBoardEdgeByHand(t *testing.T) {
	n := boardNeck(t)
	o := BoardOn{Neck: n}
	nut, end := o.Steady()
	assert.InDelta(t, 1.0025, nut.Gap, 1e-4)
	assert.InDelta(t, 4.9975, nut.Edge, 1e-4)
	assert.InDelta(t, 40, nut.Width, 1e-9)
	assert.InDelta(t, 0.7820, end.Gap, 1e-4)
	assert.InDelta(t, 5.2180, end.Edge, 1e-4)
	assert.InDelta(t, 50, end.Width, 1e-9)
	mid := o.Edge(n.BoardEnd() / 2)
	assert.InDelta(t, 0.8450, mid.Gap, 1e-4)
	assert.InDelta(t, 45, mid.Width, 1e-9)
	// Past its ends the board is as at its ends.
	assert.Equal(t, nut, o.Edge(-20))
	assert.Equal(t, end, o.Edge(n.BoardEnd()+20))
	// The neck's width along the board is the board's.
	assert.InDelta(t, n.Width(200), o.Edge(200).Width, 1e-12)
	// A flat board has its edges on the bench.
	flat := BoardOn{Neck: necktest.HalfCylinder(t, 22, nil)}
	nut, _ = flat.Steady()
	assert.Zero(t, nut.Gap)
	assert.InDelta(t, 6, nut.Edge, 1e-12)

	// Board included the flat back stands 20 mm over the face at the nut and 22
	// at its end.
	w := NewTapered(n)
	assert.InDelta(t, 20, o.Thickness(w.Taper, 0), 1e-6)
	assert.InDelta(t, 22, o.Thickness(w.Taper, n.BoardEnd()), 1e-6)
}

// TestBoardHeightsByHand: a bit of 10 mm radius with a bearing 5 mm high and a
// screw of 4, at the nut, where the board is 6 mm high and 4.9975 at its edge.
func TestBoardHeightsByHand(t *testing.T) {
	n := boardNeck(t)
	b := DefaultBit(10)
	o := BoardOn{Neck: n, Screw: 4}
	const edge = 4.9975
	for _, c := range []struct{ glue, side, board, nothing float64 }{
		{8, 5, 0, 0},
		{5, 5, 0, 0},
		{2, 2, 3, 0},
		{0, 0, edge, 5 - edge},
		{-1, 0, edge - 1, 5 - (edge - 1)},
		{-4.5, 0, edge - 4.5, 5 - (edge - 4.5)},
		{-6, 0, 0, 5},
	} {
		h := o.FromGlue(0, c.glue, b)
		assert.InDelta(t, c.glue+6, h.ArcEnd, 1e-12)
		assert.InDelta(t, c.glue+16, h.Crown, 1e-12)
		assert.InDelta(t, c.glue+1, h.Foot, 1e-12)
		assert.InDelta(t, c.glue-3, h.Tip, 1e-12)
		assert.InDelta(t, math.Max(0, 3-c.glue), h.Raise(), 1e-12)
		assert.InDelta(t, c.side, h.OnSide, 1e-4)
		assert.InDelta(t, c.board, h.OnBoard, 1e-4)
		assert.InDelta(t, c.nothing, h.Nothing, 1e-4)
		// The bands of a bearing over any plane say the same.
		g := Guiding{Board: true}
		if c.glue > -20 {
			r := g.RunsAt(n, Plane{Nut: 30}, b, 0, 30-c.glue, 30)
			assert.InDelta(t, r.Side, h.OnSide, 1e-9)
			assert.InDelta(t, r.Board, h.OnBoard, 1e-9)
			assert.InDelta(t, r.Nothing, h.Nothing, 1e-9)
		}
	}
	// On a strip 18 mm high everything lies higher by it, and the screw clears.
	o.Under = 18
	h := o.FromGlue(0, 2, b)
	assert.InDelta(t, 26, h.ArcEnd, 1e-12)
	assert.InDelta(t, 17, h.Tip, 1e-12)
	assert.Zero(t, h.Raise())
	assert.InDelta(t, 3, h.OnBoard, 1e-9)
	assert.InDelta(t, -24, o.Plane().Depth(100), 1e-12)

	// From the flat back, which is 14 mm below the glue plane at the nut and 16 at
	// the board's end: a height of 12 out of a base on it is 2 over the glue plane
	// at the nut and 4 at the end, but for the slope of 2 in 438.
	o.Under = 0
	w := NewTapered(n)
	lean := math.Hypot(1, 2/n.BoardEnd())
	h = o.FromBack(w.Taper, 0, 12, b)
	assert.InDelta(t, 14-12*lean+6, h.ArcEnd, 1e-6)
	assert.InDelta(t, 5-(14-12*lean), h.OnBoard, 1e-6)
	h = o.FromBack(w.Taper, n.BoardEnd(), 12, b)
	assert.InDelta(t, 16-12*lean+6, h.ArcEnd, 1e-6)
	assert.InDelta(t, 16-12*lean, h.OnSide, 1e-6)
}

// TestDeepestOnBoard holds the setting over the bench on a half circle: the arc
// of 10 mm radius ends 8.4391 over the glue plane, 14.4391 over the bench; in
// inches that is 0.569.
func TestDeepestOnBoard(t *testing.T) {
	n := necktest.HalfCylinder(t, 22, nil)
	w := NewTapered(n)
	o := BoardOn{Neck: n, Screw: 4}
	h, d := o.DeepestOnBoard(w, DefaultBit(10), 0, spec.Millimetre)
	assert.InDelta(t, 14.4391, d.Height, 1e-4)
	assert.InDelta(t, 14.44, h, 1e-9)
	short := DefaultBit(10)
	short.Straight = 3
	h, d = o.DeepestOnBoard(w, short, 0, spec.Millimetre)
	assert.InDelta(t, 6+22-13, h, 1e-9)
	assert.True(t, d.Straight)
	h, _ = o.DeepestOnBoard(w, DefaultBit(10), 0, spec.Inch)
	assert.InDelta(t, 0.569*25.4, h, 1e-9)
	o.Under = 10
	h, _ = o.DeepestOnBoard(w, DefaultBit(10), 0, spec.Millimetre)
	assert.InDelta(t, 24.44, h, 1e-9)

	// In space, on tapered and lopsided necks, it touches nothing, and 0.05 mm
	// lower touches.
	for _, name := range []string{"heron", "siskin", "godwit"} {
		n := readNeck(t, name)
		w := NewTapered(n)
		o := BoardOn{Neck: n, Under: 12}
		for _, b := range []Bit{tall(10, 0), tall(25.4, 1)} {
			h, d := o.DeepestOnBoard(w, b, 0, n.Spec().Units)
			p := o.Plane()
			// Heights over the bench count the other way from its plane.
			over := func(height float64) float64 { return -height }
			xs := wholeNeck(n, d.X)
			st := w.Stretch
			deep, at := deepestCut(n, p, b, over(h), st.From+b.BodyRadius(), st.To-b.BodyRadius(), 60, xs)
			assert.LessOrEqual(t, deep, 1e-6, "%s touches at %g", name, at)
			deep, _ = deepestCut(n, p, b, over(d.Height-0.05), d.X-1, d.X+1, 3000, []float64{d.X})
			assert.Greater(t, deep, 1e-6, name)
		}
	}
}

// TestOnBench holds what is wrong with a height over the bench on both sides of
// its bounds.
func TestOnBench(t *testing.T) {
	n := boardNeck(t)
	w := NewTapered(n)
	o := BoardOn{Neck: n, Screw: 4}
	b := DefaultBit(10)
	words := func(height float64, u spec.Unit) []string {
		along, wrong := o.OnBench(w, b, height)
		require.NotEmpty(t, along)
		var out []string
		for _, r := range wrong {
			out = append(out, ReasonWords(r, n, u))
		}
		return out
	}
	// Foot at the height less 5, screw 4 farther.
	assert.Empty(t, words(9, spec.Millimetre))
	assert.Equal(t, []string{"at the nut (x = 0 mm) the bearing and its screw reach 0.01 mm into the bench: raise the neck by that much on a strip narrower than it, or let the side that is cut overhang"},
		words(8.99, spec.Millimetre))
	// On a strip the bearing holds as long as it has a millimetre of the edge, which
	// begins 1.0025 over the crown at the nut: from 2.0025 over it.
	o.Under = 20
	assert.Empty(t, words(22.01, spec.Millimetre))
	assert.Equal(t, []string{"at the nut (x = 0 mm) the bearing has 0.99 mm of the board's edge to run on and needs 0.01 mm more; it holds from a height of 22.01 mm over the bench"},
		words(22.0, spec.Millimetre))
	assert.Equal(t, []string{"at the nut (x = 0 in) the bearing has 0 in of the board's edge to run on and needs 0.04 in more; it holds from a height of 0.867 in over the bench"},
		words(20, spec.Inch))
}

// TestOnBenchWorstAtTheEnd: a board that is rounder at its end is the worst
// there.
func TestOnBenchWorstAtTheEnd(t *testing.T) {
	s := spectest.Straight()
	s.Width.Nut, s.Width.End = 40, 50
	s.Board.RadiusNut, s.Board.RadiusEnd = 400, 200
	n, err := neck.New(s)
	require.NoError(t, err)
	o := BoardOn{Neck: n, Under: 20}
	_, wrong := o.OnBench(NewTapered(n), DefaultBit(10), 22)
	// The face falls by 200 - √(200²-25²) = 1.5687 mm to its edge at the end.
	require.Len(t, wrong, 1)
	lost := wrong[0].(LostOnBoard)
	assert.InDelta(t, n.BoardEnd(), lost.X, 1e-6)
	assert.InDelta(t, 0.5687, lost.Missing, 1e-4)
	assert.InDelta(t, 0.4313, lost.Has, 1e-4)
	assert.InDelta(t, 22.5687, lost.From, 1e-4)
}

// TestBoardAsGuideOfTable: the board's edge mends what a bare neck lacks, as much
// of it as there is.
func TestBoardAsGuideOfTable(t *testing.T) {
	n := necktest.HalfCylinder(t, 22, func(s *spec.Spec) { s.Board.RadiusNut, s.Board.RadiusEnd = 242, 242 })
	w := NewTapered(n)
	table := DefaultTable()
	s := SetTable(w, table, DefaultBit(25.4), 0, math.NaN(), 3, spec.Millimetre)
	require.Len(t, s.Refusals, 1)
	require.IsType(t, LostGuide{}, s.Refusals[0])
	table.Guiding.Board = true
	s = SetTable(w, table, DefaultBit(25.4), 0, math.NaN(), 3, spec.Millimetre)
	assert.Empty(t, s.Refusals)
	assert.InDelta(t, 22, s.Height, 1e-9)
	edge := 6 - (242 - math.Sqrt(242*242-22*22))
	for _, r := range s.Bearing {
		assert.InDelta(t, edge, r.Board, 1e-9)
		assert.InDelta(t, 5-edge, r.Nothing, 1e-9)
	}
	// It holds up to a millimetre short of the edge's upper corner.
	keeps := table.Guiding.Keeps(w, s.Plane, s.Bit, w.way(math.Inf(-1), math.Inf(1)))
	assert.InDelta(t, 22+edge-1, keeps.Most, 1e-9)
}
