package carve

import (
	"fmt"
	"math"
	"testing"

	"neckloft/neck"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
)

// spinning is a bit that travels along one side of a neck in space, its axis
// square to a plane: built from vectors alone, without the cutter's formulas.
type spinning struct {
	bit      Bit
	axis     [3]float64 // out of the neck, towards the shank
	from, to [3]float64 // places of the arc's end on the axis
}

func spin(n *neck.Neck, p Plane, b Bit, side neck.Side, height, from, to float64) spinning {
	w := n.Spec().Width
	grow := side.Sign() * (w.End - w.Nut) / 2 / n.BoardEnd()
	axis := unit([3]float64{-p.Slope, 0, -1})
	along := unit([3]float64{1, grow, -p.Slope})
	out := cross(axis, along)
	if out[1]*side.Sign() < 0 {
		out = scaled(out, -1)
	}
	place := func(x float64) [3]float64 {
		// A point of the guide's line at the level of the arc's end, and from it
		// out by the bearing's radius.
		q := [3]float64{x, side.Sign() * n.Taper(x) / 2, -(p.Nut + p.Slope*x - height*math.Hypot(1, p.Slope))}
		q = plus(q, scaled(out, b.BodyRadius()-b.Radius+b.Offset))
		return plus(q, scaled(along, (x-q[0])/along[0]))
	}
	return spinning{b, axis, place(from), place(to)}
}

// depth returns how deep a point lies in what the bit has swept; negative
// outside.
func (s *spinning) depth(q [3]float64) float64 {
	d := plus(q, scaled(s.from, -1))
	v := dot(d, s.axis)
	if v <= 0 {
		return math.Inf(-1) // beside the bearing, where there is no edge
	}
	way := plus(s.to, scaled(s.from, -1))
	if len := dot(way, way); len > 0 {
		d = plus(d, scaled(way, -numeric.Clamp(dot(d, way)/len, 0, 1)))
	}
	d = plus(d, scaled(s.axis, -dot(d, s.axis)))
	radius := s.bit.BodyRadius()
	if v < s.bit.Radius {
		radius -= math.Sqrt(s.bit.Radius*s.bit.Radius - v*v)
	}
	return radius - math.Sqrt(dot(d, d))
}

// points visits points of the finished back at x, dense at the walls' feet.
func points(n *neck.Neck, x float64, k int, visit func(q [3]float64)) {
	s := n.Section(x)
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		for i := range k + 1 {
			u := float64(i) / float64(k)
			for _, q := range []neck.YZ{s.PointAlong(side, neck.DirectionOf(numeric.Lerp(-20, 20, u))),
				s.PointAlong(side, neck.AngleDirection(u*math.Pi/2)), {Y: side.Sign() * s.HalfWidth, Z: s.CurveStart() + u*(s.Top-s.CurveStart())*0.999}} {
				visit([3]float64{x, q.Y, q.Z})
			}
		}
	}
}

// deepestCut returns how deep any point of the finished neck lies in the way of
// a bit along both sides.
func deepestCut(n *neck.Neck, p Plane, b Bit, height, from, to float64, k int, xs []float64) (deep, at float64) {
	deep = math.Inf(-1)
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		s := spin(n, p, b, side, height, from, to)
		for _, x := range xs {
			points(n, x, k, func(q [3]float64) {
				if v := s.depth(q); v > deep {
					deep, at = v, x
				}
			})
		}
	}
	return deep, at
}

// wholeNeck are stations over the whole wood, finer about x.
func wholeNeck(n *neck.Neck, x float64) []float64 {
	xs := []float64{}
	for i := range 91 {
		xs = append(xs, numeric.Lerp(n.Start(), n.End(), float64(i)/90))
	}
	for i := -3; i <= 3; i++ {
		xs = append(xs, numeric.Clamp(x+float64(i)*0.3, n.Start(), n.End()))
	}
	return xs
}

// liftedTable returns a table with packing of one thickness that keeps the whole
// neck over its surface, which the neck's own refusals ask for.
func liftedTable(t testing.TB, w Tapered, b Bit) TableSetup {
	table := DefaultTable()
	s := SetTable(w, table, b, 0, math.NaN(), 3, spec.Millimetre)
	lift := 0.0
	for _, r := range s.Refusals {
		if f, ok := r.(Foul); ok {
			lift = math.Max(lift, f.Packing)
		}
	}
	table.Packing = [2]float64{lift, lift}
	return table
}

// TestTableInSpace cuts necks on a table by brute force: with the highest bit
// nothing of the finished neck is touched anywhere, headstock, volute and heel
// included, although the bit stops nearer to them than its largest diameter
// would let it; and 0.05 mm more touches it.
// Without DRAWN=all it takes some of the cases.
func TestTableInSpace(t *testing.T) {
	necks := []*neck.Neck{necktest.Demo(t)}
	for _, name := range drawn.Some([]string{"siskin", "heron", "godwit", "sanderling"}, 1) {
		necks = append(necks, readNeck(t, name))
	}
	for _, n := range necks {
		w := NewTapered(n)
		for _, b := range []Bit{tall(8, 0), tall(16, 0.7), tall(25.4, 0), tall(45, 5), {Radius: 19, Offset: 1.5, BearingHeight: 5, Straight: 90, Diameter: 60}} {
			t.Run(fmt.Sprintf("%s/R%g", n.Spec().Name, b.Radius), func(t *testing.T) {
				table := liftedTable(t, w, b)
				s := SetTable(w, table, b, 0, math.NaN(), 3, n.Spec().Units)
				for _, r := range s.Refusals {
					_, foul := r.(Foul)
					require.False(t, foul, "the packing lifts it clear")
				}
				if s.From == s.To {
					t.Skip("no room")
				}
				require.LessOrEqual(t, s.Height, s.Deepest.Height)
				require.Greater(t, s.Height, s.Deepest.Height-0.026)
				deep, at := deepestCut(n, s.Plane, s.Bit, s.Height, s.From, s.To, 60, wholeNeck(n, s.Deepest.X))
				assert.LessOrEqual(t, deep, 1e-6, "touches at x = %.2f", at)
				more := s.Deepest.Height + 0.05
				deep, _ = deepestCut(n, s.Plane, s.Bit, more, s.Deepest.X-1, s.Deepest.X+1, 3000, []float64{s.Deepest.X})
				assert.Greater(t, deep, 1e-6, "0.05 mm more touches nothing")
			})
		}
	}
}

// TestTableStopsInSpace does so without packing, on a table so small that heel
// and headstock hang over its ends: the bit comes nearer to them than its
// largest diameter, which is below the table, would let it, and touches nothing
// of what lies over the table.
// Without DRAWN=all it takes some of the cases.
func TestTableStopsInSpace(t *testing.T) {
	nearer := 0
	for _, name := range drawn.Some([]string{"heron", "nightjar", "siskin", "redshank"}, 2) {
		n := readNeck(t, name)
		w := NewTapered(n)
		for _, b := range []Bit{tall(16, 0), tall(25.4, 0.6), tall(32, 2)} {
			s := SetTable(w, DefaultTable(), b, 0, math.NaN(), 3, spec.Millimetre)
			if s.From == s.To {
				continue
			}
			if s.Above < b.BodyRadius()-1 {
				nearer++
			}
			for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
				bit := spin(n, s.Plane, s.Bit, side, s.Height, s.From, s.To)
				for _, x := range wholeNeck(n, w.Stretch.From) {
					points(n, x, 30, func(q [3]float64) {
						if -q[2] < s.Plane.Depth(x) {
							require.LessOrEqual(t, bit.depth(q), 1e-6, "%s, R %g at x = %g", name, b.Radius, x)
						}
					})
				}
			}
		}
	}
	if drawn.All() {
		assert.Greater(t, nearer, 8)
	}
	assert.Greater(t, nearer, 3)
}

// TestTableOfAnyNeck does so for necks drawn at random.
func TestTableOfAnyNeck(t *testing.T) {
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := onePiece(t)
		w := NewTapered(n)
		b := tall(rapid.Float64Range(2, 40).Draw(t, "radius"), rapid.SampledFrom([]float64{0, 0, 0.8}).Draw(t, "offset"))
		table := DefaultTable()
		table.Packing = [2]float64{rapid.Float64Range(0, 12).Draw(t, "packing nut"), rapid.Float64Range(0, 12).Draw(t, "packing body")}
		s := SetTable(w, table, b, 0, math.NaN(), 3, n.Spec().Units)
		var xs []float64
		for i := range 31 {
			xs = append(xs, numeric.Lerp(w.Stretch.From, w.Stretch.To, float64(i)/30))
		}
		xs = append(xs, s.Deepest.X)
		if deep, at := deepestCut(n, s.Plane, s.Bit, s.Height, w.Stretch.From-2, w.Stretch.To+2, 60, xs); deep > 2e-4 {
			t.Fatalf("touches by %g at x = %g", deep, at)
		}
	})
}

// tableNeck is a straight neck 15 mm deep with a heel whose block is 25 mm deep,
// so that all of its heights can be worked out by hand.
func tableNeck(t testing.TB, change func(*spec.Spec)) *neck.Neck {
	s := spectest.Straight()
	end := s.BoardEnd()
	s.Heel = &spec.Heel{Start: spec.AtX(end - 80), Full: spec.AtX(end - 40), End: spec.AtX(end), Total: 31, Width: 44, Corner: 4}
	if change != nil {
		change(s)
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

// TestTableHeightsByHand works out the setting of a half circle of 22 mm by
// hand. A bit of 10 mm radius touches with its crown 12 mm off the middle, where
// the back is √(22²-12²) = 18.4391 mm deep: its arc's end lies 8.4391 below the
// glue plane and 13.5609 over the table, its crown 3.5609 over the table. It
// cuts below its crown with its whole diameter of 20 + 12.7 mm.
func TestTableHeightsByHand(t *testing.T) {
	w := NewTapered(necktest.HalfCylinder(t, 22, nil))
	s := SetTable(w, DefaultTable(), DefaultBit(10), 0, math.NaN(), 3, spec.Millimetre)
	require.Empty(t, s.Refusals)
	assert.InDelta(t, 13.5609, s.Deepest.Height, 1e-4)
	assert.InDelta(t, 13.56, s.Height, 1e-12)
	assert.InDelta(t, 3.56, s.Crown, 1e-12)
	assert.InDelta(t, 18.56, s.BearingTop, 1e-12)
	assert.InDelta(t, 22.56, s.Tip, 1e-12)
	assert.InDelta(t, 16.35, s.Above, 1e-12)
	assert.InDelta(t, 22, s.Bearing[0].Glue, 1e-12)
	assert.InDelta(t, 5, s.Bearing[0].Side, 1e-12)
	// The flat is 44 mm wide, 34 after one side and 24 after both.
	assert.InDelta(t, 44, s.Standing.Whole, 1e-9)
	assert.InDelta(t, 34, s.Standing.First, 1e-9)
	assert.InDelta(t, 24, s.Standing.Second, 1e-9)
	assert.Zero(t, s.Standing.Packing)
	require.Len(t, s.Cautions, 3)
	assert.Equal(t, NarrowStanding{X: s.Standing.At, Width: s.Standing.Second}, s.Cautions[2])
	// Nothing lies beyond: the bit runs out over both ends.
	assert.Empty(t, s.Stops)
	assert.InDelta(t, -16.35, s.From, 1e-9)
	assert.Equal(t, RunsOut{End: NutEnd, Beyond: s.Above}, s.Cautions[0])

	// In inches the height is 0.533, to the side of the shallower cut.
	s = SetTable(w, DefaultTable(), DefaultBit(10), 0, math.NaN(), 3, spec.Inch)
	assert.InDelta(t, 0.533*25.4, s.Height, 1e-12)

	// With half a millimetre left the crown stays off a circle of 22.5: its arc's
	// end is at √(22.5²-12²) - 10 = 9.0329 below the glue plane.
	s = SetTable(w, DefaultTable(), DefaultBit(10), 0.5, math.NaN(), 3, spec.Millimetre)
	assert.InDelta(t, 12.9671, s.Leaves.Height, 1e-4)
	assert.InDelta(t, 12.96, s.Height, 1e-12)
}

// TestTableStopsByHand holds the stops: a bit of an inch whose arc's end stands
// 12 mm over the table has, in its surface, a radius of 6.35 + 25.4 -
// √(25.4²-12²) = 9.3634, and over packing of 3 mm, 15 over the table, 11.2522.
func TestTableStopsByHand(t *testing.T) {
	n := tableNeck(t, nil)
	w := NewTapered(n)
	table := DefaultTable()
	table.Half = 30
	s := SetTable(w, table, DefaultBit(25.4), 0, 12, 3, spec.Millimetre)
	assert.InDelta(t, 9.3634, s.Above, 1e-4)
	require.Len(t, s.Stops, 1)
	heel := n.HeelStart()
	assert.Equal(t, TableStop{End: BodyEnd, Feature: "heel", Limit: heel, Axis: heel - s.Above}, s.Stops[0])
	assert.InDelta(t, heel-s.Above, s.To, 1e-12)
	assert.InDelta(t, -s.Above, s.From, 1e-12)
	table.Packing = [2]float64{3, 3}
	s = SetTable(w, table, DefaultBit(25.4), 0, 15, 3, spec.Millimetre)
	assert.InDelta(t, 11.2522, s.Above, 1e-4)
	// The packing stays clear of the bit, which comes 11.2522 - 6.35 past the side
	// of a neck 44 mm wide.
	assert.InDelta(t, 44-2*(11.2522-6.35), s.Standing.Packing, 2e-4)
	assert.True(t, s.Standing.Packed)
	assert.InDelta(t, 44-2*(9.3634-6.35), s.Standing.Second, 2e-4)
	// A bearing that is wider than the edge in the table's surface decides.
	wide := DefaultBit(25.4)
	wide.Offset = 6
	assert.InDelta(t, 12.35, wide.RadiusAbove(12), 1e-12)
	assert.InDelta(t, 6.35+25.4-math.Sqrt(25.4*25.4-400), wide.RadiusAbove(20), 1e-12)
	assert.InDelta(t, 6.35+25.4, wide.RadiusAbove(25.5), 1e-12)
	assert.InDelta(t, 6.35, DefaultBit(10).RadiusAbove(-1), 1e-12)
	// A proud template and tape hold the bit off and make no bearing wider.
	proud := DefaultTable()
	proud.Half, proud.Guiding = 30, Guiding{Template: 20, Overhang: 4, Tape: 1}
	off := SetTable(w, proud, DefaultBit(25.4), 0, 12, 3, spec.Millimetre)
	assert.InDelta(t, 9.3634, off.Above, 1e-4)
	assert.InDelta(t, 5, off.Bit.Offset, 1e-12)
	// The bit is as wide somewhere over the table as it says, and nowhere wider.
	for h := 0.5; h < 30; h += 0.7 {
		most := 0.0
		for i := range 2001 {
			z := h * float64(i) / 2000
			most = math.Max(most, wide.radiusAt(h-z))
		}
		assert.InDelta(t, math.Max(most, 12.35), wide.RadiusAbove(h), 1e-12)
	}
	// A stretch too short for the bit, and one just long enough.
	n = necktest.Demo(t)
	w = NewTapered(n)
	room := w.Stretch.Length()
	s = SetTable(w, table, Bit{Radius: 10, BearingHeight: 5, Straight: 60, Diameter: room - 0.1}, 0, 13, 3, spec.Millimetre)
	assert.InDelta(t, 0.1, s.To-s.From, 1e-9)
	s = SetTable(w, table, Bit{Radius: 10, BearingHeight: 5, Straight: 60, Diameter: room + 0.1}, 0, 13, 3, spec.Millimetre)
	assert.Empty(t, s.Stops)
	assert.Contains(t, s.Refusals, NoRoom{Across: room + 0.1, Room: room, FromWhat: "volute", ToWhat: "heel"})
}

// TestTableFeed follows an edge of the bit by vectors: where it meets the wood it
// moves against the neck.
func TestTableFeed(t *testing.T) {
	// The table's x runs as the neck's, and y and z with it: the neck lies on its
	// back, so that its glue face looks up as z does.
	turn := [3]float64{0, 0, 1} // counterclockwise seen from above
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		f := feed(side)
		// The bit stands beside this side of the neck: the wood is the other way.
		toWood := [3]float64{0, -side.Sign(), 0}
		edge := cross(turn, toWood)
		assert.Negative(t, edge[0]*f.Towards, "%s side", side)
		// Moving towards x of the body its body end leads.
		assert.Equal(t, f.Towards > 0, f.Leads == BodyEnd)
		assert.Equal(t, side, f.Side)
	}
	n := necktest.Demo(t)
	assert.Contains(t, FeedWords(n, feed(neck.MinusY)), "bass side on the bit: push the neck body end first")
	assert.Contains(t, FeedWords(n, feed(neck.PlusY)), "treble side on the bit: push the neck nut end first")
	// The bit turns no other way for a left-handed neck.
	n, err := n.Mirrored()
	require.NoError(t, err)
	assert.Contains(t, FeedWords(n, feed(neck.MinusY)), "treble side on the bit: push the neck body end first")
	assert.Contains(t, FeedWords(n, feed(neck.PlusY)), "bass side on the bit: push the neck nut end first")
}

// TestTableFouls holds a heel 10 mm deeper than the flat back on both sides of
// every bound.
//
// Long, since its cases share what is set up first.
func TestTableFouls(t *testing.T) {
	n := tableNeck(t, nil)
	w := NewTapered(n)
	set := func(change func(*TableSetup)) (fouls []Foul, s TableSetting) {
		table := DefaultTable()
		if change != nil {
			change(&table)
		}
		s = SetTable(w, table, DefaultBit(10), 0.5, math.NaN(), 3, spec.Millimetre)
		for _, r := range s.Refusals {
			if f, ok := r.(Foul); ok {
				fouls = append(fouls, f)
			}
		}
		return fouls, s
	}
	fouls, s := set(nil)
	require.Len(t, fouls, 1)
	f := fouls[0]
	assert.Equal(t, "heel", f.What)
	assert.Equal(t, BodyEnd, f.End)
	assert.InDelta(t, 10, f.By, 1e-9)
	assert.InDelta(t, 10, f.Finished, 1e-9)
	assert.InDelta(t, 10, f.Packing, 1e-9)
	assert.InDelta(t, 10, f.Level[0], 1e-9)
	assert.InDelta(t, 10, f.Level[1], 1e-9)
	assert.InDelta(t, n.End(), f.To, 1e-9)
	// The heel begins with a level slope: it comes below the table a little past
	// its start.
	assert.InDelta(t, n.HeelStart(), f.From, 3)
	assert.Zero(t, f.Half, "a table that ends within the bit is none")
	assert.Contains(t, ReasonWords(f, n, spec.Millimetre), "the heel reaches 10 mm below the table at fret 10.9 (x = 280 mm), and the neck does not lie down")
	assert.Contains(t, ReasonWords(f, n, spec.Millimetre), "thinning does not help, since the finished shape itself reaches 10 mm below it; or put packing under the flat back, 10 mm thicker than now")
	assert.Contains(t, ReasonWords(f, n, spec.Inch), "reaches 0.394 in below the table")
	// Of several, each is a sentence that names the table.
	head := Foul{End: NutEnd, What: "headstock", X: -100, By: 4, Finished: 3, Packing: 4}
	assert.Regexp(t, `^the headstock reaches 4 mm below the table at x = -100 mm, and the finished shape does too\. The heel reaches 10 mm below the table at `,
		reasonsWords([]Reason{head, f}, n, spec.Millimetre))

	fouls, _ = set(func(r *TableSetup) { r.Packing = [2]float64{10, 10} })
	assert.Empty(t, fouls)
	fouls, _ = set(func(r *TableSetup) { r.Packing = [2]float64{9.9, 9.9} })
	require.Len(t, fouls, 1)
	assert.InDelta(t, 0.1, fouls[0].By, 1e-9)
	assert.InDelta(t, 10, fouls[0].Level[0], 1e-9, "with the packing that is there")

	// A table that ends just before the heel, and one that goes on under it.
	reach := f.From - s.To
	fouls, _ = set(func(r *TableSetup) { r.Half = reach - 0.01 })
	assert.Empty(t, fouls)
	fouls, _ = set(func(r *TableSetup) { r.Half = reach + 5 })
	require.Len(t, fouls, 1)
	assert.Less(t, fouls[0].By, 10.0)
	assert.InDelta(t, s.To+reach+5, fouls[0].To, 2)

	// A blank 30 mm deep at the heel, and one at the nut, where there is no wood
	// beyond the stretch.
	fouls, _ = set(func(r *TableSetup) {
		r.Wood = func(float64) float64 { return 30 }
	})
	require.Len(t, fouls, 1)
	assert.Equal(t, "heel", fouls[0].What)
	assert.InDelta(t, 15, fouls[0].By, 1e-9)
	assert.InDelta(t, 10, fouls[0].Finished, 1e-9)
	// A profiled one with something on it.
	fouls, _ = set(func(r *TableSetup) { r.Wood = func(x float64) float64 { return n.Depth(x) + 2 } })
	require.Len(t, fouls, 1)
	assert.InDelta(t, 12, fouls[0].By, 1e-9)
}

// TestTableFoulsOfHead measures what reaches below the table by trying all
// stations, and levels it with a wedge.
func TestTableFoulsOfHead(t *testing.T) {
	for _, n := range necktest.All(t) {
		w := NewTapered(n)
		b := DefaultBit(12.7)
		table := DefaultTable()
		s := SetTable(w, table, b, 0.5, math.NaN(), 3, spec.Millimetre)
		most := map[NeckEnd]float64{}
		var level [2]float64
		found := map[NeckEnd]float64{}
		for _, r := range s.Refusals {
			if f, ok := r.(Foul); ok {
				found[f.End] = math.Max(found[f.End], f.By)
				level = f.Level
				assert.InDelta(t, f.By, f.Finished, 1e-9)
			}
		}
		xs := n.Landmarks() // a heel's cap begins in an edge
		for i := range 4001 {
			xs = append(xs, numeric.Lerp(n.Start(), n.End(), float64(i)/4000))
		}
		for _, x := range xs {
			end := NutEnd
			if x > n.End() {
				continue
			}
			if x > w.Stretch.To {
				end = BodyEnd
			}
			if !w.Stretch.Holds(x) {
				by := (n.Depth(x) - w.Taper.Depth(x)) / math.Hypot(1, w.Taper.Slope)
				most[end] = math.Max(most[end], by)
			}
		}
		for end := range most {
			if most[end] > 0 {
				assert.GreaterOrEqual(t, found[end], most[end]-1e-6, "%s, %s", n.Spec().Name, end)
				assert.InDelta(t, most[end], found[end], 1e-3, "%s, %s", n.Spec().Name, end)
			}
		}
		if len(found) == 0 {
			continue
		}
		// The wedge lays the glue face level, and nothing reaches below it.
		table.Packing = level
		s = SetTable(w, table, b, 0.5, math.NaN(), 3, spec.Millimetre)
		assert.InDelta(t, 0, s.Plane.Slope, 1e-12)
		for _, r := range s.Refusals {
			_, foul := r.(Foul)
			assert.False(t, foul, n.Spec().Name)
		}
	}
}

// TestTableThinning: a squared end over a finished shape that clears the table
// may be thinned.
func TestTableThinning(t *testing.T) {
	n := tableNeck(t, func(s *spec.Spec) { s.Heel.Total = 20 })
	w := NewTapered(n)
	table := DefaultTable()
	depth := 18.0
	table.Wood = func(float64) float64 { return depth }
	s := SetTable(w, table, DefaultBit(10), 0.5, math.NaN(), 3, spec.Millimetre)
	require.Len(t, s.Refusals, 1)
	f := s.Refusals[0].(Foul)
	assert.InDelta(t, 3, f.By, 1e-9)
	assert.Zero(t, f.Finished)
	assert.Contains(t, ReasonWords(f, n, spec.Millimetre), "the blank at the body end reaches 3 mm below the table")
	assert.Contains(t, ReasonWords(f, n, spec.Millimetre), "; thin it there by 3 mm or more; or put packing")
	depth = 15
	s = SetTable(w, table, DefaultBit(10), 0.5, math.NaN(), 3, spec.Millimetre)
	assert.Empty(t, s.Refusals)
}

// TestTableRefusals holds the other refusals on both sides of their bounds.
func TestTableRefusals(t *testing.T) {
	n := necktest.HalfCylinder(t, 22, nil)
	w := NewTapered(n)
	words := func(table TableSetup, b Bit, height float64, u spec.Unit) []string {
		var out []string
		for _, r := range SetTable(w, table, b, 0, height, 3, u).Refusals {
			out = append(out, ReasonWords(r, n, u))
		}
		return out
	}
	plain := DefaultTable()
	assert.Empty(t, words(plain, DefaultBit(10), 13.56, spec.Millimetre))
	assert.Equal(t, []string{"a height of 13.57 mm lies 0.01 mm beyond the one at which the arc's crown touches the target at fret 0.8 (x = 26.67 mm), bass side; allowed: up to 13.56 mm"},
		words(plain, DefaultBit(10), 13.57, spec.Millimetre))
	short := DefaultBit(10)
	short.Straight = 3
	assert.Equal(t, []string{"a height of 0.52 in lies 0.008 in beyond the one at which the bit's straight length ends there; allowed: up to 0.511 in"},
		words(plain, short, 0.52*25.4, spec.Inch))
	assert.Equal(t, []string{"at a height of 0 mm the bit takes off nothing"}, words(plain, DefaultBit(10), 0, spec.Millimetre))
	assert.Empty(t, words(plain, DefaultBit(10), 1, spec.Millimetre))

	plain.Opening = 16.35
	assert.Empty(t, words(plain, DefaultBit(10), 13, spec.Millimetre))
	plain.Opening = 16.34
	assert.Equal(t, []string{"the table's opening, 32.68 mm across, is too small: at the table's surface the bit is 32.7 mm across"},
		words(plain, DefaultBit(10), 13, spec.Millimetre))
	plain.Opening = 0

	plain.Guiding = Guiding{Template: 20, Overhang: 10}
	assert.Equal(t, []string{"an offset of 10 mm holds an arc of 10 mm radius off the wood"}, words(plain, DefaultBit(10), 13, spec.Millimetre))
	plain.Guiding.Overhang = 9.9
	assert.NotContains(t, words(plain, DefaultBit(10), 13, spec.Millimetre), "holds an arc")
	plain.Guiding = Guiding{}

	// A bit larger than the back ends at the glue face: its bearing stands over
	// it, with nothing beside it.
	assert.Equal(t, []string{"at the nut (x = 0 mm) the bearing has 0 mm of its guide to run on and needs 1 mm more; a template 1 mm thick or more mends it, and without that it holds up to a height of 21 mm"},
		words(plain, DefaultBit(25.4), 22, spec.Millimetre))
	assert.Empty(t, words(plain, DefaultBit(25.4), 21, spec.Millimetre))
	plain.Guiding.Template = 1
	assert.Empty(t, words(plain, DefaultBit(25.4), 22, spec.Millimetre))
	// A proud template that the bearing does not reach.
	plain.Guiding = Guiding{Template: 6, Overhang: 1}
	assert.Equal(t, []string{"at the nut (x = 0 mm) the bearing has 0 mm of its guide to run on and needs 1 mm more; a bearing 13 mm high or more mends it, and without that it holds from a height of 18 mm to 27 mm"},
		words(plain, DefaultBit(10), 10, spec.Millimetre))

	// The cuts of both sides meet in a thin neck.
	thin := necktest.HalfCylinder(t, 7, nil)
	wt := NewTapered(thin)
	s := SetTable(wt, DefaultTable(), tall(9, 0), 0, math.NaN(), 3, spec.Millimetre)
	found := false
	for _, r := range s.Refusals {
		if v, ok := r.(NothingToStandOn); ok {
			found = true
			assert.LessOrEqual(t, s.Standing.Second, 0.0)
			assert.Contains(t, ReasonWords(v, thin, spec.Millimetre), "the cuts of both sides meet")
		}
	}
	assert.Equal(t, s.Standing.Second <= 0, found)
}

// TestTablePasses holds the passes by hand: from the first touch, at the flat
// back, by steps to the height.
func TestTablePasses(t *testing.T) {
	w := NewTapered(necktest.HalfCylinder(t, 22, nil))
	passes := func(b Bit, packing, height, step float64, u spec.Unit) []float64 {
		table := DefaultTable()
		table.Packing = [2]float64{packing, packing}
		return SetTable(w, table, b, 0, height, step, u).Passes
	}
	near := func(want []float64, got []float64) {
		t.Helper()
		require.Len(t, got, len(want))
		for i := range want {
			assert.InDelta(t, want[i], got[i], 1e-9)
		}
	}
	near([]float64{3, 6, 9, 12, 13.56}, passes(DefaultBit(10), 0, math.NaN(), 3, spec.Millimetre))
	near([]float64{5, 8, 11, 14, 15.56}, passes(DefaultBit(10), 2, 15.56, 3, spec.Millimetre))
	// The last would take 0.2 mm: the one before it leaves it 0.5.
	near([]float64{3, 6, 9, 11.7, 12.2}, passes(DefaultBit(10), 0, 12.2, 3, spec.Millimetre))
	near([]float64{2}, passes(DefaultBit(10), 0, 2, 3, spec.Millimetre))
	// Held off by 2 mm an arc of 10 comes into the wood 6 mm over its end.
	b := DefaultBit(10)
	b.Offset = 2
	near([]float64{9, 11.5}, passes(b, 0, 11.5, 3, spec.Millimetre))
	assert.Empty(t, passes(b, 0, 5.9, 3, spec.Millimetre), "the bit takes off nothing")
	// 0.125 in is a whole number of thousandths.
	near([]float64{0.125 * 25.4, 0.2 * 25.4}, passes(DefaultBit(10), 0, 0.2*25.4, 0.125*25.4, spec.Inch))
}

// TestTablePackingRoom: where the bit leaves packing no room, or little.
func TestTablePackingRoom(t *testing.T) {
	n := necktest.HalfCylinder(t, 9, nil)
	w := NewTapered(n)
	set := func(packing, height float64) TableSetting {
		table := DefaultTable()
		table.Packing = [2]float64{packing, packing}
		table.Guiding.Template = 5
		return SetTable(w, table, tall(12, 0), 0, height, 3, spec.Millimetre)
	}
	// The arc's crown comes 12 mm in from either side of a neck 18 mm wide: over
	// packing of 4 mm an arc's end at 8 leaves 18 - 2 (12 - √(12²-8²)).
	s := set(4, 8)
	room := 18 - 2*(12-math.Sqrt(12*12-8*8))
	assert.InDelta(t, room, s.Standing.Packing, 1e-9)
	require.Len(t, s.Cautions, 3)
	assert.Equal(t, NarrowStanding{X: s.Standing.At, Width: s.Standing.Packing, Packed: true}, s.Cautions[2])
	assert.Contains(t, ReasonWords(s.Cautions[2], n, spec.Millimetre), "the packing may be only 11.88 mm wide")
	s = set(4, 12.5)
	assert.Zero(t, s.Standing.Packing)
	require.Len(t, s.Refusals, 1)
	assert.Contains(t, ReasonWords(s.Refusals[0], n, spec.Millimetre), "there is no room between them for packing; set the bit lower")
}

// TestTableCheck holds the limits of a table's measures on both sides.
func TestTableCheck(t *testing.T) {
	check := func(change func(*TableSetup)) string {
		table := DefaultTable()
		change(&table)
		if err := table.Check(spec.Millimetre); err != nil {
			return err.Error()
		}
		return ""
	}
	assert.Empty(t, check(func(*TableSetup) {}))
	assert.Empty(t, check(func(r *TableSetup) { r.Half, r.Opening = 20, 19.9 }))
	assert.Equal(t, "the table's reach from the bit's axis is 19.9 mm; allowed: 20 mm to 3000 mm", check(func(r *TableSetup) { r.Half = 19.9 }))
	assert.Equal(t, "the table's opening has a radius of 20 mm and the table reaches only 20 mm from the bit's axis; allowed: an opening within the table",
		check(func(r *TableSetup) { r.Half, r.Opening = 20, 20 }))
	assert.Contains(t, check(func(r *TableSetup) { r.Screw = -0.1 }), "the screw's height over the bearing is -0.1 mm")
	assert.Contains(t, check(func(r *TableSetup) { r.Packing[BodyEnd] = math.NaN() }), "the packing's thickness at the body end")
	assert.Empty(t, check(func(r *TableSetup) { r.Guiding = Guiding{Template: 0.5, Overhang: 50, Tape: 10} }))
	assert.Contains(t, check(func(r *TableSetup) { r.Guiding = Guiding{Template: 0.4} }), "the template's thickness is 0.4 mm")
	assert.Equal(t, "an overhang of 2 mm goes with a template; give the template's thickness too", check(func(r *TableSetup) { r.Guiding.Overhang = 2 }))
	assert.Contains(t, check(func(r *TableSetup) { r.Guiding.Tape = 10.1 }), "the tape's thickness is 10.1 mm")
	table := DefaultTable()
	table.Screw = 51
	assert.EqualError(t, table.Check(spec.Inch), "the screw's height over the bearing is 2.0079 in; allowed: 0 in to 1.9685 in")
}
