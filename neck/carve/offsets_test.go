package carve

import (
	"fmt"
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

// searchOn is a search on a flat back with a long template, so that no bearing
// decides.
func searchOn(n *neck.Neck, allowance float64) Search {
	w := NewTapered(n)
	return Search{Work: w, Plane: BackPlane(w.Taper), Guiding: Guiding{Template: 60}, Allowance: allowance, Unit: n.Spec().Units}
}

// TestShavedByHand holds the area that a bit takes off a rectangle, with its arc
// in the wood as a whole: R² less a quarter circle from each side, and the
// rectangle over the crown.
func TestShavedByHand(t *testing.T) {
	const R, half, flat = 10.0, 22.0, 15.0
	cut := func(R, o, height float64) placed {
		return placed{k: newCutter(tall(R, o), 0, 0), plane: Plane{Nut: flat}, height: height, from: math.Inf(-1), to: math.Inf(1)}
	}
	corner := R*R - math.Pi*R*R/4
	assert.InDelta(t, 2*corner, shaved([]placed{cut(R, 0, 10)}, 100, half, flat), 1e-9)
	assert.InDelta(t, 2*(corner+R*3), shaved([]placed{cut(R, 0, 13)}, 100, half, flat), 1e-9)
	assert.Zero(t, shaved([]placed{cut(R, 0, 0)}, 100, half, flat))
	assert.Zero(t, shaved(nil, 100, half, flat))

	// Held off by o the arc enters at √(R²-(R-o)²); what it takes is the circle's
	// segment over the neck's side less.
	const o = 3.0
	a := math.Acos((R - o) / R)
	slice := (math.Pi/2 - a) / 2 * R * R                 // of the circle between side and crown
	triangle := (R - o) * math.Sqrt(R*R-(R-o)*(R-o)) / 2 // under the entry
	assert.InDelta(t, 2*((R-o)*R-slice-triangle), shaved([]placed{cut(R, o, 10)}, 100, half, flat), 1e-8)

	// Arcs that meet on the centreline of a narrow neck, 12 mm wide, its flat 15
	// deep and the arc's end at 5. Under either arc stands the part of a quarter
	// circle between the distances R - 6 and R from its centre.
	const narrow = 6.0
	c := R - narrow
	stands := math.Pi*R*R/4 - (c*math.Sqrt(R*R-c*c)+R*R*math.Asin(c/R))/2
	assert.InDelta(t, 2*narrow*flat-2*(narrow*5+stands), shaved([]placed{cut(R, 0, 10)}, 100, narrow, flat), 1e-7)

	// Two cuts together take off what either does and no more: here they lie one
	// in the other, and there they meet.
	small, large := cut(4, 0, 6), cut(12, 0, 12)
	assert.InDelta(t, shaved([]placed{large}, 100, half, flat), shaved([]placed{small, large}, 100, half, flat), 1e-9)
}

// TestShavedByStrips sums strips of two arcs that cross: a small one that ends
// deeper, and a large one that is held off. The reach of an arc is √ of its own.
func TestShavedByStrips(t *testing.T) {
	const half, flat = 22.0, 15.0
	for _, c := range []struct{ r0, o0, h0, r1, o1, h1 float64 }{
		{6, 0, 9, 30, 2, 22}, {4, 0, 5, 10, 0.5, 9}, {12, 0, 9, 20, 1, 14}, {40, 1, 17, 5, 0, 8},
	} {
		reach := func(r, o, h, z float64) float64 {
			v := z - (flat - h)
			if v < 0 {
				return 0
			}
			if v > r {
				v = r
			}
			return math.Max(0, r-o-math.Sqrt(r*r-v*v))
		}
		sum := 0.0
		const strips = 400000
		crossed := [2]bool{}
		for i := range strips {
			z := flat * (float64(i) + 0.5) / strips
			a, b := reach(c.r0, c.o0, c.h0, z), reach(c.r1, c.o1, c.h1, z)
			crossed[0], crossed[1] = crossed[0] || a > b, crossed[1] || b > a
			sum += 2 * math.Min(half, math.Max(a, b)) * flat / strips
		}
		assert.True(t, crossed[0] && crossed[1], "%v do not cross", c)
		mk := func(r, o, h float64) placed {
			return placed{k: newCutter(tall(r, o), 0, 0), plane: Plane{Nut: flat}, height: h, from: math.Inf(-1), to: math.Inf(1)}
		}
		assert.InDelta(t, sum, shaved([]placed{mk(c.r0, c.o0, c.h0), mk(c.r1, c.o1, c.h1)}, 100, half, flat), 2e-5, "%v", c)
	}
}

// TestShavedByGrid counts cells that either of two bits, on the move in space,
// takes off, between the stops and at them.
// Without DRAWN=all it takes some of the cases.
func TestShavedByGrid(t *testing.T) {
	n := readNeck(t, "heron")
	w := NewTapered(n)
	p := BackPlane(w.Taper)
	mk := func(R, o, height float64) placed {
		b := tall(R, o)
		return placed{k: w.cutter(b, p), plane: p, height: height, from: 60, to: 400}
	}
	for _, pair := range [][2]placed{{mk(6, 0, 9), mk(25.4, 1.5, 15)}, {mk(16, 0, 10), mk(9, 2, 13)}, {mk(30, 3, 17), mk(12, -0.3, 8)}} {
		for _, x := range drawn.Some([]float64{250, 60, 52, 405}, 2) {
			half, flat := n.Width(x)/2, w.Taper.Depth(x)
			var bits []spinning
			for _, c := range pair {
				for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
					bits = append(bits, spin(n, p, c.k.Bit, side, c.height, c.from, c.to))
				}
			}
			const across, down = 360, 240
			gone := 0
			for i := range across {
				for j := range down {
					q := [3]float64{x, half * (2*(float64(i)+0.5)/across - 1), -flat * (float64(j) + 0.5) / down}
					for k := range bits {
						if bits[k].depth(q) > 0 {
							gone++
							break
						}
					}
				}
			}
			area := float64(gone) * 2 * half * flat / across / down
			got := shaved(pair[:], x, half, flat)
			slack := 0.008*area + 0.05
			if x < 60 || x > 400 {
				// Past a stop it counts where along the axis the stop is: the
				// axis leans, and a tenth of a millimetre of it is left out.
				slack += 0.35
			}
			assert.InDelta(t, area, got, slack, "x = %g", x)
		}
	}
}

// TestRankByTryingAll compares the ranking with the wood that every choice
// leaves by a plain sum of sections, and cuts the best of them in space.
func TestRankByTryingAll(t *testing.T) {
	for _, name := range []string{"siskin", "heron"} {
		n := readNeck(t, name)
		s := searchOn(n, 0.4)
		bits := []Bit{tall(8, 0), tall(16, 0), tall(25.4, 0), {Radius: 31.75, BearingHeight: 5, Straight: 40, Diameter: 80}}
		options := []OffsetOption{{}, {Layers: 3, Layer: 0.15}, {Overhang: 1.5}, {Bearing: 16}, {Bearing: 22}}
		choices := s.Rank(bits, options)
		require.Len(t, choices, len(bits)*len(options))
		last := 0.0
		usable := 0
		for i, c := range choices {
			if c.Refusal != nil {
				continue
			}
			usable++
			require.GreaterOrEqual(t, c.Remaining, last)
			last = c.Remaining
			// It leaves what was asked for, everywhere in space.
			if i < 6 {
				deep, at := deepestCut(n, s.Plane, c.Bit, c.Height, c.From, c.To, 40, wholeNeck(n, c.Deepest.X))
				assert.LessOrEqual(t, deep, -0.4+0.02, "%s: touches at %g", name, at)
			}
			sum := 0.0
			const k = 120
			for j := range k {
				x := numeric.Lerp(s.Work.Stretch.From, s.Work.Stretch.To, (float64(j)+0.5)/k)
				v := s.Work.sliceAt(x)
				sum += (v.over - shaved([]placed{c.cut}, x, v.half, v.flat)) * s.Work.Stretch.Length() / k
			}
			assert.InDelta(t, sum, c.Remaining, 3e-3*sum+1, "%s: R %g, %v", name, c.Bit.Radius, c.Option)
		}
		assert.Greater(t, usable, 12)
		// An offset is worth something: the best of all is not a bit's own bearing.
		own := s.Rank(bits, []OffsetOption{{}})
		assert.Less(t, choices[0].Remaining, own[0].Remaining)
	}
}

// TestRankOnHalfCircle: a quarter circle as large as the back leaves nothing,
// held off or not any other leaves more.
func TestRankOnHalfCircle(t *testing.T) {
	n := necktest.HalfCylinder(t, 22, nil)
	s := searchOn(n, 0)
	var options []OffsetOption
	for i := range 9 {
		options = append(options, OffsetOption{Layers: i, Layer: 0.5})
	}
	choices := s.Rank([]Bit{tall(16, 0), tall(22, 0), tall(25.4, 0)}, options)
	best := choices[0]
	assert.Equal(t, 22.0, best.Bit.Radius)
	assert.Zero(t, best.Option.Layers)
	assert.InDelta(t, 0, best.Remaining, 1)
	assert.InDelta(t, 0, best.Share, 1e-5)
	// The inch bit of 25.4 leaves least where its crown comes nearest to the
	// middle, with an offset between none and R - r = 3.4.
	for _, c := range choices {
		if c.Bit.Radius == 25.4 {
			assert.Greater(t, c.Bit.Offset, 0.0)
			break
		}
	}
}

// TestRankRefusals says why a choice cannot be used.
func TestRankRefusals(t *testing.T) {
	n := necktest.HalfCylinder(t, 22, nil)
	s := searchOn(n, 0.5)
	s.Guiding = Guiding{}
	why := func(b Bit, o OffsetOption) string {
		c := s.Rank([]Bit{b}, []OffsetOption{o})[0]
		if c.Refusal == nil {
			return ""
		}
		assert.True(t, math.IsNaN(c.Remaining))
		return ReasonWords(c.Refusal, n, spec.Millimetre)
	}
	assert.Equal(t, "it needs a template, 2 mm proud of the neck's side", why(tall(16, 0), OffsetOption{Overhang: 2}))
	assert.Equal(t, "", why(tall(10, 0), OffsetOption{Bearing: 2*16.35 - 0.2 - 2*2}))
	assert.Equal(t, "an offset of 10 mm holds an arc of 10 mm radius off the wood", why(tall(10, 0), OffsetOption{Bearing: 2 * 16.35}))
	// The bearing needs a millimetre of the side: the height goes no farther than
	// 21, and not to 21.5.
	c := s.Rank([]Bit{tall(25.4, 0)}, []OffsetOption{{Layers: 2, Layer: 0.25}})[0]
	assert.True(t, c.Held)
	assert.InDelta(t, 21, c.Height, 1e-9)
	assert.Greater(t, c.Deepest.Height, 21.5)
	s.Guiding = Guiding{Template: 3}
	c = s.Rank([]Bit{tall(25.4, 0)}, []OffsetOption{{Layers: 2, Layer: 0.25}})[0]
	assert.False(t, c.Held)
	assert.InDelta(t, c.Deepest.Height, c.Height, 0.01)
	// A proud template over a bit that stands too low to reach it.
	s.Guiding = Guiding{Template: 6}
	thin := tall(6, 0)
	thin.BearingHeight = 3
	assert.Contains(t, why(thin, OffsetOption{Overhang: 1}), "a bearing ")
	// A bit with no room, and one that keeps less off than its diameter.
	demo := necktest.Demo(t)
	s = searchOn(demo, 0.5)
	room := s.Work.Stretch.Length()
	wide := tall(16, 0)
	wide.Diameter = room + 0.1
	require.IsType(t, NoRoom{}, s.Rank([]Bit{wide}, []OffsetOption{{}})[0].Refusal)
	s.Keep = Bit.RadiusAbove
	keeps := s.Rank([]Bit{tall(16, 0)}, []OffsetOption{{Layers: 4, Layer: 1}})[0]
	assert.InDelta(t, s.Work.Stretch.From+tall(16, 0).RadiusAbove(keeps.Height), keeps.From, 1e-9)
	assert.Nil(t, s.Rank([]Bit{wide}, []OffsetOption{{}})[0].Refusal)
}

// TestOffsetWords reads the options and what they cost.
func TestOffsetWords(t *testing.T) {
	o := OffsetOption{Bearing: 15.875, Layers: 2, Layer: 0.15, Overhang: 1.5}
	assert.Equal(t, "a bearing 15.88 mm across, 2 layers of tape and a template 1.5 mm proud of the neck's side", OffsetWords(o, spec.Millimetre))
	assert.Equal(t, "a bearing 0.625 in across, 2 layers of tape and a template 0.059 in proud of the neck's side", OffsetWords(o, spec.Inch))
	assert.Equal(t, "1 layer of tape", OffsetWords(OffsetOption{Layers: 1, Layer: 0.1}, spec.Millimetre))
	assert.Equal(t, "the bit's own bearing", OffsetWords(OffsetOption{}, spec.Millimetre))
	assert.Empty(t, OffsetCost(OffsetOption{}, spec.Millimetre))
	assert.Contains(t, OffsetCost(o, spec.Millimetre), "a bearing to buy, with the bit's bore; tape along both sides, 0.3 mm in all")
	assert.Contains(t, OffsetCost(o, spec.Inch), "a template of its own, 0.059 in larger")

	// A bearing of 19 mm on a bit 25.4 + 12.7 mm across, whose smallest cutting
	// radius is 6.35: 9.5 - 6.35.
	b, ok := OffsetOption{Bearing: 19}.Fit(tall(12.7, 0.2))
	assert.True(t, ok)
	assert.InDelta(t, 3.15, b.Offset, 1e-12)
	b, _ = OffsetOption{}.Fit(tall(12.7, 0.2))
	assert.InDelta(t, 0.2, b.Offset, 1e-12)
	g := o.Guiding(Guiding{Template: 6, Tape: 0.1})
	assert.InDelta(t, 0.1+0.3+1.5, g.Offset(), 1e-12)

	c := Choice{Bit: tall(12.7, 3.15), Option: OffsetOption{Bearing: 19}, Height: 12.34, Share: 0.416}
	assert.Equal(t, "1/2 in radius, a bearing 19 mm across, arc's end at 12.34 mm: leaves 42 %", ChoiceWords(c, spec.Millimetre))
	second := Choice{Bit: tall(6, 0), Height: 9.5}
	assert.Equal(t, "first 1/2 in radius, a bearing 0.748 in across, arc's end at 0.486 in; then 6 mm radius, the bit's own bearing, arc's end at 0.374 in: together they leave 38 %",
		TwoPassWords(TwoPass{First: c, Second: second, Share: 0.375}, spec.Inch))
	c.Refusal = CutsNothing{}
	assert.Equal(t, "1/2 in radius, a bearing 19 mm across: refused", ChoiceWords(c, spec.Millimetre))

	seen := map[string]bool{}
	for _, o := range CommonOffsets(0.15) {
		w := OffsetWords(o, spec.Millimetre)
		assert.False(t, seen[w], w)
		seen[w] = true
	}
	assert.True(t, seen["6 layers of tape"])
	assert.Len(t, CommonOffsets(0), len(CommonOffsets(0.15))-6)
}

// TestTwoHeightsOfOneOffset: a second height of one bit with one offset takes
// off nothing that the higher one does not.
func TestTwoHeightsOfOneOffset(t *testing.T) {
	w := NewTapered(readNeck(t, "siskin"))
	p := BackPlane(w.Taper)
	for _, b := range []Bit{tall(6, 0), tall(19, 1.2)} {
		mk := func(h float64) placed {
			return placed{k: w.cutter(b, p), plane: p, height: h, from: 60, to: 300}
		}
		for _, x := range []float64{58, 100, 200} {
			half, flat := w.Neck.Width(x)/2, w.Taper.Depth(x)
			one := shaved([]placed{mk(11)}, x, half, flat)
			for _, lower := range []float64{3, 7, 10.5} {
				assert.InDelta(t, one, shaved([]placed{mk(11), mk(lower)}, x, half, flat), 1e-6*one)
			}
		}
	}
}

// TestRankPairs compares the best pairs with all pairs, sums what they leave by
// plain sections, and cuts both of a pair in space.
//
// Long, since its cases share what is set up first.
// Without DRAWN=all it takes some of the cases.
func TestRankPairs(t *testing.T) {
	for _, name := range drawn.Some([]string{"siskin", "heron"}, 1) {
		n := readNeck(t, name)
		s := searchOn(n, 0.4)
		s.Guiding.Template = 0 // the side has to be enough
		bits := []Bit{tall(6, 0), tall(12.7, 0), tall(25.4, 0)}
		for i := range bits {
			bits[i].Straight = 20
		}
		var options []OffsetOption
		for _, d := range []float64{0, 14, 16, 19, 22} {
			options = append(options, OffsetOption{Bearing: d})
		}
		choices := s.Rank(bits, options)
		pairs := s.RankPairs(choices, 5)
		require.NotEmpty(t, pairs)
		require.LessOrEqual(t, len(pairs), 5)
		best := math.Inf(1)
		oneBit, idle := false, false
		for i := range choices {
			for j := range i {
				a, b := &choices[i], &choices[j]
				if a.Refusal != nil || b.Refusal != nil {
					continue
				}
				p, ok := s.pair(a, b)
				left, _ := s.Work.remaining([]placed{a.cut, b.cut})
				worth := left <= 0.98*math.Min(a.Remaining, b.Remaining)
				idle = idle || !worth && left <= 0.98*math.Max(a.Remaining, b.Remaining)
				assert.False(t, ok && !worth, "a second setting that gains next to nothing")
				if ok {
					best = math.Min(best, p.Remaining)
					oneBit = oneBit || p.OneBit
				}
			}
		}
		assert.InDelta(t, best, pairs[0].Remaining, 1e-9, name)
		assert.True(t, idle, "no pair is worth less than its better half and more than the other")
		assert.True(t, oneBit, "no bit gains from a second height with another offset")
		last := 0.0
		for i, p := range pairs {
			label := fmt.Sprintf("%s: R %g off %g and R %g off %g", name, p.First.Bit.Radius, p.First.Bit.Offset, p.Second.Bit.Radius, p.Second.Bit.Offset)
			assert.GreaterOrEqual(t, p.Remaining, last, label)
			last = p.Remaining
			assert.Less(t, p.Remaining, math.Min(p.First.Remaining, p.Second.Remaining), label)
			assert.Equal(t, p.OneBit, p.First.Bit.Radius == p.Second.Bit.Radius, label)
			assert.InDelta(t, p.Share*p.First.Remaining, p.First.Share*p.Remaining, 1e-3*p.Remaining, label)
			for _, c := range []Choice{p.First, p.Second} {
				if i > 1 {
					break // these have been cut already, or are near to it
				}
				deep, at := deepestCut(n, s.Plane, c.Bit, c.Height, c.From, c.To, 40, wholeNeck(n, c.Deepest.X))
				assert.LessOrEqual(t, deep, -0.4+0.02, "%s: touches at %g", label, at)
			}
			// The first leaves the second one's bearing its guide: it begins nearer
			// the flat back.
			mid := (s.Work.Stretch.From + s.Work.Stretch.To) / 2
			flat := s.Work.Taper.Depth(mid)
			assert.GreaterOrEqual(t, p.First.cut.wall(mid, flat), p.Second.cut.wall(mid, flat), label)
			for _, x := range s.Work.way(p.Second.From, p.Second.To) {
				flat := s.Work.Taper.Depth(x)
				r := p.Second.Guiding.RunsAt(n, s.Plane, p.Second.Bit, x, p.Second.Height, p.First.cut.wall(x, flat))
				assert.GreaterOrEqual(t, r.Holds, 1-1e-9, label)
			}
			sum := 0.0
			const k = 120
			for j := range k {
				x := numeric.Lerp(s.Work.Stretch.From, s.Work.Stretch.To, (float64(j)+0.5)/k)
				v := s.Work.sliceAt(x)
				sum += (v.over - shaved([]placed{p.First.cut, p.Second.cut}, x, v.half, v.flat)) * s.Work.Stretch.Length() / k
			}
			assert.InDelta(t, sum, p.Remaining, 3e-3*sum+1, label)
		}
		// The same twice.
		again := s.RankPairs(choices, 5)
		for i := range pairs {
			assert.Equal(t, pairs[i].Remaining, again[i].Remaining)
		}
		assert.Len(t, s.RankPairs(choices, 1), 1)
		assert.Empty(t, s.RankPairs(nil, 3))
	}
}
