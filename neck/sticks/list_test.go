package sticks

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// glued returns the list of the demo neck after a change.
func glued(t testing.TB, change func(*spec.Spec)) *List {
	t.Helper()
	s := spec.Demo()
	s.Source = nil
	s.Headstock.Angle = 13 * math.Pi / 180
	change(s)
	n, err := neck.New(s)
	require.NoError(t, err)
	return New(n)
}

// both is a neck with all of it.
func both(s *spec.Spec) {
	s.Blank = &spec.Blank{Thickness: 21, Width: 60, Length: 1200, Grain: spec.GrainQuarter}
	s.Heel.Total = 58
	s.Scarf = &spec.Scarf{Place: spec.ScarfBoard}
	s.Stack = &spec.Stack{}
	s.Laminations = []spec.Lamination{
		{Width: 26, WidthEnd: 28}, {Width: 2, WidthEnd: 2, Wood: spec.Wood{Species: "black walnut"}, Grain: spec.GrainFlat},
		{Width: 6, WidthEnd: 6}, {Width: 2, WidthEnd: 2, Wood: spec.Wood{Species: "black walnut"}}, {Width: 26, WidthEnd: 28},
	}
}

// TestGrainStrength: Hankinson's formula gives P along the grain, Q across it,
// and with the exponent 2 at 45 degrees the harmonic mean 2 P Q / (P + Q). At the
// angles of headstocks: 14 degrees 0.466, 17 degrees 0.397 of P, with Q / P = 0.1
// and n = 1.5 (USDA FPL Wood Handbook, FPL-GTR-190, chapter 5; values computed).
func TestGrainStrength(t *testing.T) {
	assert.InDelta(t, 1, GrainStrength(0), 1e-12)
	assert.InDelta(t, 0.1, GrainStrength(math.Pi/2), 1e-12)
	assert.InDelta(t, 2*0.25/1.25, hankinson(math.Pi/4, 0.25, 2), 1e-12)
	assert.InDelta(t, 0.466, GrainStrength(14*math.Pi/180), 0.0005)
	assert.InDelta(t, 0.397, GrainStrength(17*math.Pi/180), 0.0005)
}

// TestStickHoldsItsPieces: by volume, the two pieces, the blocks, what is
// trimmed, sawn and planed between make up the stick.
func TestStickHoldsItsPieces(t *testing.T) {
	l := glued(t, both)
	require.NotNil(t, l.Scarf)
	require.True(t, l.FromNeck)
	require.Len(t, l.Stack.Blocks, 2, "52.4 mm of heel under a stick of 21")
	sin := math.Sin(13 * math.Pi / 180)
	sum := 2*l.Saw.Trim + (l.Saw.Kerf+2*l.Saw.Plane)/sin
	seen := 0
	for _, p := range l.Pieces {
		switch {
		case p.Use == Buy:
		case math.IsNaN(p.Short):
			assert.InDelta(t, l.Neck.End()-l.Neck.HeelStart(), p.Length, 1e-9)
			sum += p.Length + 2*l.Saw.Trim + l.Saw.Kerf
			seen++
		default:
			assert.InDelta(t, l.Stick/math.Tan(p.Ramp), p.Length-p.Short, 1e-9)
			sum += (p.Length + p.Short) / 2
			seen++
		}
	}
	assert.Equal(t, 4, seen)
	assert.InDelta(t, sum, l.Length, 1e-9)

	// Blocks of another thickness have a stick of their own.
	l = glued(t, func(s *spec.Spec) { both(s); s.Stack.Thickness = 16 })
	assert.False(t, l.FromNeck)
	for _, p := range l.Pieces {
		if p.Name == "heel" {
			assert.InDelta(t, 2*(l.Neck.End()-l.Neck.HeelStart()+20)+3, p.Length, 1e-9)
			assert.Equal(t, 16.0, p.Thickness)
			assert.Equal(t, 18.0, p.RoughThickness)
			assert.GreaterOrEqual(t, p.Width, l.Stack.Blocks[0].Width)
			assert.Less(t, p.Width, l.Stack.Blocks[0].Width+0.5)
		}
	}
	assert.InDelta(t, l.Neck.StickLength(l.Saw), l.Length, 1e-12)
}

// TestSticks: a stick for each strip, of its wood, as wide as at its wider end,
// with what the plane takes; ears where the headstock is wider than they are
// together.
func TestSticks(t *testing.T) {
	l := glued(t, both)
	n := l.Neck
	var names []string
	for _, p := range l.Pieces {
		if p.Use != Buy {
			continue
		}
		names = append(names, p.Name+" of "+p.Wood)
		assert.InDelta(t, p.Width+2, p.RoughWidth, 1e-12)
		assert.InDelta(t, p.Thickness+2, p.RoughThickness, 1e-12)
		if p.Strip > 0 {
			assert.Equal(t, l.Length, p.Length)
			assert.Equal(t, 21.0, p.Thickness)
		}
		assert.Equal(t, p.Strip == 1 || p.Strip == 5, p.Tapered(), p.Name)
	}
	assert.Equal(t, []string{"lamination 1 of sugar maple", "lamination 2 of black walnut", "lamination 3 of sugar maple",
		"lamination 4 of black walnut", "lamination 5 of sugar maple", "ear of the headstock of sugar maple"}, names)
	first := l.Pieces[0]
	// The taper, which is set on all the length that is sawn, is that of the neck.
	assert.InDelta(t, 2/n.BoardEnd(), (first.Width-first.NarrowWidth)/l.Length, 1e-12)
	// From the end at the body come the blocks, then what is trimmed and the shaft.
	body := n.End() + 10 + 2*(l.blockLength+3)
	assert.InDelta(t, 26+2*body/n.BoardEnd(), first.Width, 1e-9)
	assert.InDelta(t, 26+2*(body-l.Length)/n.BoardEnd(), first.NarrowWidth, 1e-9)
	assert.Equal(t, spec.GrainFlat, l.Pieces[1].Grain, "its own")
	assert.Equal(t, spec.GrainQuarter, l.Pieces[3].Grain, "the blank's")
	assert.Len(t, l.Grains(), 2)

	// The ears, against a walk along the headstock.
	ear := l.Pieces[5]
	assert.Equal(t, 2, ear.Count)
	widest, from := 0.0, 0.0
	for i := range 20000 {
		x := n.Start() * float64(i) / 20000
		if lack := (n.Width(x) - n.LaminationsWidth(x)) / 2; lack > 0 {
			widest, from = math.Max(widest, lack), x
			_ = from
		}
	}
	last := n.Start()
	for i := range 20000 {
		if x := n.Start() * (1 - float64(i)/20000); n.Width(x) > n.LaminationsWidth(x) {
			last = x
		}
	}
	assert.InDelta(t, widest, ear.Width, 0.01)
	sin, cos := math.Sincos(13 * math.Pi / 180)
	assert.InDelta(t, (last-n.Start())/cos+14.5*sin/cos+20, ear.Length, 1)
	assert.Equal(t, 21.0, ear.Thickness, "as thick as the headstock's piece when they are glued on")

	// Without laminations it is one stick, of the blank's width or the neck's.
	l = glued(t, func(s *spec.Spec) { s.Volute = nil })
	require.Len(t, l.Pieces, 1)
	assert.Equal(t, []float64{90, 32, l.Neck.End() - l.Neck.Start() + 20}, []float64{l.Pieces[0].Width, l.Pieces[0].Thickness, l.Pieces[0].Length})
	l = glued(t, func(s *spec.Spec) { s.Blank = nil; s.Scarf = &spec.Scarf{} })
	assert.Equal(t, "neck", l.Pieces[0].Name)
	assert.True(t, l.Pieces[0].Width >= 56.2 && l.Pieces[0].Width < 56.7+0.5, "as wide as the heel")
}

// TestFacts: what is told of joints and woods, with the numbers that the neck
// has.
func TestFacts(t *testing.T) {
	l := glued(t, both)
	text := ""
	for _, f := range l.Facts(spec.Millimetre) {
		text += f.Name + ": " + f.Text + "\n"
	}
	for _, want := range []string{
		"scarf: under the board, a ramp of 13° on the shaft: glue line 93.35 mm long, 90.96 mm along the piece",
		"under the board: the glue line comes up at fret 2.6 (x = 88.4 mm)",
		"on the back: the glue line comes out on the apex at fret 0.7 (x = 23.7 mm), 35.71 mm towards the body from the volute's crest, and runs up both sides from there",
		"rod channel: it runs through the glue line from fret 1.4 (x = 48.1 mm) to fret 2.6 (x = 88.4 mm): cut it after the glue-up",
		"grain: the headstock's runs along it; in one piece it would run out at 13°, which keeps 0.493 of the strength along the grain",
		"stacked heel: 2 blocks of 21 mm, grain along the neck, front at fret 15.5 (x = 376.2 mm); a glue line shows 21 mm below the glue plane from fret 16.2 (x = 386.7 mm) on, and one 42 mm from fret",
		"edges: from the centreline, bass side negative: at the nut -31, -5, -3, 3, 5, 31 mm; at the board's end -33, -5, -3, 3, 5, 33 mm",
		"all of black walnut: ",
	} {
		assert.Contains(t, text, want)
	}
	assert.Equal(t, 1, strings.Count(text, "as laminated: "))
	steps := strings.Join(l.Steps(spec.Millimetre), "\n")
	for _, want := range []string{
		"Plane the 5 strips", "Saw the heel's 2 blocks off the end at the body", "Mark the slanting cut at 13°", "Glue the ears to the sides of the headstock's piece",
		"Glue the heel's 2 blocks under the shaft",
	} {
		assert.Contains(t, steps, want)
	}
	// From the end at the body to the cut: the shaft's sides, 10 mm to trim and
	// 1 mm to plane off the slope.
	p := l.Halves
	extra := 10 + 1/math.Sin(13*math.Pi/180)
	for _, side := range []float64{p.ShaftShort, p.ShaftLong} {
		assert.Contains(t, steps, spec.Millimetre.Rounded(side+extra))
	}
	inches := l.Facts(spec.Inch)
	assert.Contains(t, inches[0].Text, "0.1181 in for a saw cut")

	l = glued(t, func(s *spec.Spec) { both(s); s.Scarf.Place = spec.ScarfHeadstock })
	text = ""
	for _, f := range l.Facts(spec.Millimetre) {
		text += f.Name + ": " + f.Text + "\n"
	}
	assert.Contains(t, text, "on the face: the glue line crosses it square, 93.35 mm from its break")
	assert.Contains(t, text, "rod channel: clear of the glue line by ")
	l = glued(t, func(s *spec.Spec) {})
	assert.Contains(t, l.Facts(spec.Millimetre)[1].Text, "in one piece the headstock's runs out at 13°")
}

// TestHeadstocksPieceRollsOver turns the wedge of the headstock's piece, as it lies
// in the stick, by all quarter turns about the three axes and by its ramp's angle:
// of those that bring its ramp up against the shaft with its tip away from it,
// every one swaps its sides.
func TestHeadstocksPieceRollsOver(t *testing.T) {
	const ramp = 13 * math.Pi / 180
	sin, cos := math.Sincos(ramp)
	// In the stick, x towards the body: the piece lies under the slanting cut,
	// which faces down and to the body, and its square end faces the other way.
	type vec [3]float64
	face, tip, bass := vec{sin, 0, -cos}, vec{-1, 0, 0}, vec{0, -1, 0}
	about := func(axis int, angle float64, v vec) vec {
		s, c := math.Sincos(angle)
		i, j := (axis+1)%3, (axis+2)%3
		out := v
		out[i], out[j] = c*v[i]-s*v[j], s*v[i]+c*v[j]
		return out
	}
	swapped, kept := 0, 0
	for a := range 4 {
		for b := range 4 {
			for c := range 4 {
				for _, tilt := range []float64{-ramp, ramp} {
					turn := func(v vec) vec {
						for axis, k := range []int{a, b, c} {
							v = about(axis, float64(k)*math.Pi/2, v)
						}
						return about(1, tilt, v)
					}
					// The ramp faces up to the level underside of the shaft, and the
					// piece falls away from it towards its tip.
					up, away := turn(face), turn(tip)
					if math.Abs(up[2]-1) > 1e-9 || math.Abs(away[0]+cos) > 1e-9 || math.Abs(away[2]+sin) > 1e-9 {
						continue
					}
					if side := turn(bass); side[1] > 0.5 {
						swapped++
					} else {
						kept++
					}
				}
			}
		}
	}
	assert.Positive(t, swapped)
	assert.Zero(t, kept)

	steps := func(change func(*spec.Spec)) string {
		return strings.Join(glued(t, func(s *spec.Spec) { both(s); change(s) }).Steps(spec.Millimetre), "\n")
	}
	even := steps(func(*spec.Spec) {})
	assert.Contains(t, even, "its left and its right side change places, and the strips, which are the same from both sides, run on.")
	uneven := func(s *spec.Spec) { s.Laminations[1].Wood.Species = "purpleheart" }
	assert.NotContains(t, even, "of its own instead")
	assert.Contains(t, steps(uneven), "whose strips are glued up in the order from treble to bass")
	assert.Contains(t, steps(func(s *spec.Spec) { s.Laminations = nil }), "change places. Lay it on the shaft")
	_, problems := neck.Check(glued(t, func(s *spec.Spec) { both(s); uneven(s) }).Neck.Spec())
	assert.Contains(t, problems.Error(), "lamination: the headstock's piece of a scarf is rolled over")
}

// TestAlternatives: the same neck of one wood weighs and bends as one that was
// never laminated.
func TestAlternatives(t *testing.T) {
	l := glued(t, both)
	got, err := bending.Alternatives(l.Neck)
	require.NoError(t, err)
	require.Len(t, got, 3)
	assert.Equal(t, "sugar maple", got[1].Wood.Name)
	plain := glued(t, func(s *spec.Spec) { both(s); s.Laminations = nil })
	assert.InDelta(t, bending.WoodMass(plain.Neck), got[1].Mass, 1e-9)
	b, _ := bending.BowOf(plain.Neck)
	assert.InDelta(t, b.Relief, got[1].Bow.Relief, 1e-12)
	for _, a := range got {
		assert.True(t, a.Mass >= got[2].Mass-1e-9 && a.Mass <= got[1].Mass+1e-9, "between its lightest and its heaviest wood")
		assert.True(t, a.Middle >= got[2].Middle-1e-6 && a.Middle <= got[1].Middle+1e-6)
	}
}

// TestStripsShare: the strips' stiffnesses add up to that of the wood.
func TestStripsShare(t *testing.T) {
	l := glued(t, both)
	for _, x := range []float64{-100, 10, 200, 450} {
		ei, share := 0.0, 0.0
		strips := bending.StripsAt(l.Neck, x)
		require.Len(t, strips, 5)
		for i, s := range strips {
			ei += s.EI
			share += s.Share
			if i > 0 {
				assert.Equal(t, strips[i-1].Treble, s.Bass)
			}
		}
		k := bending.StiffnessAt(l.Neck, x)
		assert.InEpsilon(t, k.EIWood, ei, 1e-9)
		assert.InDelta(t, 1, share, 1e-9)
		assert.InDelta(t, l.Neck.Width(x), strips[4].Treble-strips[0].Bass, 1e-9)
	}
	assert.Nil(t, bending.StripsAt(glued(t, func(*spec.Spec) {}).Neck, 100))
}

// TestAnyNeckHasSticks lists random necks: every piece has a size, no piece is
// longer than what it is cut from, and words are found for all.
func TestAnyNeckHasSticks(t *testing.T) {
	seen := map[string]int{}
	drawn.Checks(t, 100, func(t *rapid.T) {
		n, _ := neck.Check(spectest.Draw(t))
		if n == nil {
			return
		}
		l := New(n)
		if l.Scarf != nil {
			seen["scarf"]++
		}
		if l.Stack != nil {
			seen["stack"]++
		}
		if len(l.Masses) > 0 {
			seen["laminated"]++
		}
		longest := l.Length
		for _, p := range l.Pieces {
			for what, v := range map[string]float64{"length": p.Length, "width": p.Width, "thickness": p.Thickness, "narrow width": p.NarrowWidth} {
				require.True(t, v > 0 && v < 5000, "%s: %s %g", p.Name, what, v)
			}
			if p.Use == Buy && p.Name == "heel" {
				longest = math.Max(longest, p.Length)
			}
			require.True(t, p.Use == Buy || p.Length <= longest, "%s: %g of %g", p.Name, p.Length, longest)
		}
		for _, u := range []spec.Unit{spec.Millimetre, spec.Inch} {
			for _, f := range l.Facts(u) {
				require.NotContains(t, f.Text, "NaN")
				require.NotContains(t, f.Text, "Inf")
			}
			for _, step := range l.Steps(u) {
				require.NotContains(t, step, "NaN")
			}
		}
		for _, line := range n.ScarfLines() {
			for _, p := range line.Points {
				require.LessOrEqual(t, p.From, p.To+1e-9)
			}
		}
	})
	if drawn.All() {
		assert.Positive(t, seen["scarf"])
		assert.Positive(t, seen["stack"])
		assert.Positive(t, seen["laminated"])
	}
}

// TestRoundUp: sizes that a rule has, never smaller than what is needed.
func TestRoundUp(t *testing.T) {
	s := &spec.Spec{}
	for mm, want := range map[float64]float64{12.01: 12.5, 12.5: 12.5, 12.51: 13, 13.0000000001: 13} {
		assert.InDelta(t, want, roundUp(s, mm), 1e-9)
	}
	s.Units = spec.Inch
	for sixtyFourths, want := range map[float64]float64{31.2: 32, 32: 32, 63.99: 64} {
		assert.InDelta(t, want*25.4/64, roundUp(s, sixtyFourths*25.4/64), 1e-9)
	}
}
