package fretboard

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// made returns the board of a straight neck with a change.
func made(t testing.TB, change func(s *spec.Spec)) *Board {
	t.Helper()
	s := spectest.Straight()
	s.Scale = spec.Scale{Length: 648, Frets: 22}
	s.Width = spec.Width{Nut: 43, End: 57, PastLastFret: 10}
	s.Board = spec.Board{Thickness: 6}
	if change != nil {
		change(s)
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	return New(n)
}

// twoScales are 685.8 and 647.7 mm, square at fret 7.
func twoScales(s *spec.Spec) {
	s.Scale = spec.Scale{Length: 685.8, Treble: 647.7, SquareFret: 7, Frets: 24}
	s.Spacing = &spec.Spacing{Nut: 35.5, Bridge: 52.5}
}

// The places of frets on a board of two scales are found by drawing: the outer
// strings as lines, each divided by the rule that a fret takes off one
// 17.8171537th of what is left, and the fret through both marks.
func TestTwoScalesByDrawing(t *testing.T) {
	b := made(t, twoScales)
	s := b.s
	const nut, bridge = 35.5 / 2, 52.5 / 2
	type pt = mesh.Vec2
	divide := func(from, to pt) []pt { // the published divisor, fret by fret
		out := []pt{from}
		for range 24 {
			last := out[len(out)-1]
			out = append(out, last.Add(to.Sub(last).Scale(1/17.8171537)))
		}
		return out
	}
	// Lay the bass string with its nut end at x = 0, and the treble one with its
	// own fret 7 level with the bass string's.
	lay := func(length, sign float64) (pt, pt) {
		run := math.Sqrt(length*length - (bridge-nut)*(bridge-nut))
		return pt{X: 0, Y: sign * nut}, pt{X: run, Y: sign * bridge}
	}
	bass, treble := divide(lay(685.8, -1)), divide(lay(647.7, 1))
	shift := bass[7].X - treble[7].X
	for i := range treble {
		treble[i].X += shift
	}
	cross := func(p, q pt) float64 { return p.X + (q.X-p.X)*(0-p.Y)/(q.Y-p.Y) }
	zero := cross(bass[0], treble[0])
	for n, f := range b.Frets {
		p, q := bass[n+1], treble[n+1]
		assert.InDelta(t, cross(p, q)-zero, f.X, 2e-5, "fret %s", f.Label)
		assert.InDelta(t, p.X-zero, f.At(p.Y), 2e-5)
		assert.InDelta(t, q.X-zero, f.At(q.Y), 2e-5)
		assert.InDelta(t, math.Hypot(p.X-bass[0].X, p.Y-bass[0].Y), b.Along(&f, false), 2e-5)
		assert.InDelta(t, math.Hypot(q.X-treble[0].X, q.Y-treble[0].Y), b.Along(&f, true), 2e-5)
		if f.Label == "7" {
			assert.InDelta(t, 0, f.Lean(), 1e-7)
		}
	}
	// Skew along the strings: computed, as the references have it.
	assert.InDelta(t, 12.671, s.Skew(0), 5e-4)
	assert.InDelta(t, 25.429, -s.Skew(math.Inf(1)), 5e-4)
	assert.InDelta(t, 685.8, s.OwnLength(5), 1e-9)
	assert.InDelta(t, 647.7, s.OwnLength(0), 1e-9)
}

// A 25 in scale, distance from the bridge: table on "Guitar bits 'n' bobs",
// stuphi.co.uk. 25.5 in, nut to frets 1 to 6: computed.
func TestPublishedFrets(t *testing.T) {
	b := made(t, func(s *spec.Spec) { s.Scale.Length = 635 })
	for i, d := range []float64{599.360, 565.721, 533.969, 504.000, 475.712, 449.013, 423.812, 400.025, 377.573, 356.382} {
		assert.InDelta(t, d, 635-b.Frets[i].X, 6e-4)
	}
	b = made(t, func(s *spec.Spec) { s.Scale.Length = 25.5 * 25.4 })
	for i, d := range []float64{1.431, 2.782, 4.057, 5.261, 6.397, 7.469} {
		assert.InDelta(t, d, b.Frets[i].X/25.4, 6e-4)
	}
}

// A slot 0.1 mm off at 648 mm: 1200 log2, computed in the references.
func TestCentsOff(t *testing.T) {
	b := made(t, nil)
	for n, want := range map[int]float64{1: 0.28, 12: 0.53, 22: 0.95} {
		assert.InDelta(t, want, b.CentsOff(&b.Frets[n-1], 0.1), 0.005)
	}
	// Against the frequencies of the string itself.
	f := b.Frets[11]
	assert.InDelta(t, 1200*math.Log2((648-f.X)/(648-f.X-0.3)), b.CentsOff(&f, 0.3), 1e-12)
}

// The cone that the strings lie along is made by turning a line about an axis:
// the generator through the outer string's ends at the nut and the bridge. Its
// sections square to the axis are circles, whose radius is read off at points.
func TestConeByTurning(t *testing.T) {
	b := made(t, func(s *spec.Spec) {
		s.Board.RadiusNut, s.Board.RadiusEnd, s.Board.Surface = 254, 254, spec.SurfaceConical
		s.Spacing = &spec.Spacing{Nut: 35.5, Bridge: 52.5}
	})
	assert.InDelta(t, 375.6, b.n.BoardRadius(648), 0.05) // R. M. Mottola, value computed
	// Under each string the board is straight: the height at a third of the
	// way is a third of the rise from end to end.
	under := func(share, x float64) float64 {
		return b.n.BoardTop(x, share*b.s.Spacing.OuterSpread(x/648))
	}
	for _, share := range []float64{0.2, 0.6, 1} {
		for _, x := range []float64{100, 216, 400} {
			assert.InDelta(t, under(share, 0)+(under(share, 648)-under(share, 0))*x/648, under(share, x), 1e-9, "%g at %g", share, x)
		}
	}
	// The other reading of a compound radius is not.
	c := made(t, func(s *spec.Spec) {
		s.Board.RadiusNut, s.Board.RadiusEnd = 254, 406
		s.Spacing = &spec.Spacing{Nut: 35.5, Bridge: 52.5}
	})
	hollow := c.Straightness()
	assert.InDelta(t, 0, b.Straightness(), 1e-9)
	// By hand: the drop under the outer string at both ends and midway.
	drop := func(x float64) float64 {
		r, y := 254+(406-254)*x/c.s.BoardEnd(), (35.5+17*x/648)/2
		return r - math.Sqrt(r*r-y*y)
	}
	last := c.s.FretX(22)
	assert.InDelta(t, (drop(0)+drop(last))/2-drop(last/2), hollow, 2e-4)

	// Turning: the point of the cone is where the strings meet, R = 0; the
	// axis of circles with centres (x, 0, t - R(x)). Turn the crown's own line
	// about that axis circle by circle, and every point is on the board.
	point := -648 * 35.5 / (52.5 - 35.5)
	for _, turn := range []float64{-0.06, 0.02, 0.07} {
		for _, x := range []float64{0, 150, 350} {
			r := 254 * (x - point) / (0 - point)
			y, z := r*math.Sin(turn), 6-r+r*math.Cos(turn)
			assert.InDelta(t, z, b.n.BoardTop(x, y), 1e-9)
		}
	}
}

// An even edge is as thick at the end as at the nut, and between.
func TestEvenEdge(t *testing.T) {
	b := made(t, func(s *spec.Spec) {
		s.Board.RadiusNut, s.Board.RadiusEnd, s.Board.Surface = 254, 254, spec.SurfaceEvenEdge
	})
	edge := func(x float64) float64 { return b.n.BoardTop(x, b.n.BoardHalfWidth(x)) }
	drop := 254 - math.Sqrt(254*254-21.5*21.5)
	for _, x := range []float64{0, 77, 300, b.s.BoardEnd()} {
		assert.InDelta(t, 6-drop, edge(x), 1e-9)
	}
}

// volume of a solid that must be sound.
func volume(t testing.TB, b *Board, part neck.Part, tolerance float64) float64 {
	t.Helper()
	m, err := Solid(b.n, part, tolerance)
	require.NoError(t, err)
	require.NoError(t, m.Validate())
	v := m.Volume()
	return v
}

// Slots take their kerf times their depth times their length off a flat board.
func TestSlotVolume(t *testing.T) {
	plain := made(t, nil)
	b := made(t, func(s *spec.Spec) { s.Slots = &spec.Slots{Kerf: 0.6, Depth: 2} })
	want := volume(t, plain, neck.PartBoard, 0.02)
	k := 14.0 / 2 / b.s.BoardEnd() // lean of the edge
	for _, f := range b.Frets {
		// A trapezium between the edges.
		want -= 2 * 0.6 * 2 * (21.5 + k*f.X)
	}
	assert.InDelta(t, want, volume(t, b, neck.PartBoard, 0.02), 0.05)
	both := volume(t, plain, neck.PartBoth, 0.02) - volume(t, plain, neck.PartBoard, 0.02)
	assert.InDelta(t, want+both, volume(t, b, neck.PartBoth, 0.02), 0.1)
}

// Slots that follow the crown take the same off a radiused board; with a flat
// floor they take the segment over it too.
func TestSlotFloors(t *testing.T) {
	radiused := func(floor string) *Board {
		return made(t, func(s *spec.Spec) {
			s.Width.End = 43
			s.Board.RadiusNut, s.Board.RadiusEnd = 200, 200
			s.Slots = &spec.Slots{Kerf: 0.6, Depth: 1.8, Floor: floor, Short: 3}
		})
	}
	plain := made(t, func(s *spec.Spec) {
		s.Width.End = 43
		s.Board.RadiusNut, s.Board.RadiusEnd = 200, 200
	})
	whole := volume(t, plain, neck.PartBoard, 0.002)
	const a, long = 21.5, 2 * (21.5 - 3)
	assert.InDelta(t, 22*0.6*1.8*long, whole-volume(t, radiused(spec.SlotCrown), neck.PartBoard, 0.002), 1.5)
	// Between the arc and the level of the edge, over the slot: the integral of
	// sqrt(R² - y²) less that of the edge's level.
	g := func(y float64) float64 { return (y*math.Sqrt(200*200-y*y) + 200*200*math.Asin(y/200)) / 2 }
	more := 2*g(a-3) - long*math.Sqrt(200*200-a*a)
	assert.InDelta(t, 22*0.6*(1.8*long+more), whole-volume(t, radiused(spec.SlotFlat), neck.PartBoard, 0.002), 1.5)
}

// A leaning start and end, a curve, an extension: the board's volume is its
// thickness times the area between the lines, integrated here across.
func TestEndsVolume(t *testing.T) {
	for name, change := range map[string]func(s *spec.Spec){
		"leaning":  func(s *spec.Spec) { twoScales(s); s.Board.End = spec.EndFret },
		"square":   twoScales,
		"curved":   func(s *spec.Spec) { s.Board.EndCurve = 8 },
		"hollow":   func(s *spec.Spec) { s.Board.EndCurve = -6 },
		"extended": func(s *spec.Spec) { s.Board.Extension, s.Board.ExtensionWidth = 25, 20 },
		"nut":      func(s *spec.Spec) { s.Nut = &spec.Nut{Thickness: 5, Slot: 3, Before: 4, ZeroFret: 3} },
		"all": func(s *spec.Spec) {
			twoScales(s)
			s.Board.End, s.Board.EndCurve, s.Board.Extension = spec.EndFret, 5, 18
			s.Nut = &spec.Nut{Thickness: 5, ZeroFret: 4}
		},
	} {
		b := made(t, change)
		s := b.s
		k := 14.0 / 2 / s.BoardEnd()
		area := 0.0
		const steps = 40000
		const wide = 40.0
		for i := range steps {
			y := wide * (2*(float64(i)+0.5)/steps - 1)
			from, to := s.BoardStartAt(y), s.BoardEndAt(y)
			// On the board where |y| < 21.5 + k x.
			from = math.Max(from, (math.Abs(y)-21.5)/k)
			area += math.Max(0, to-from) * 2 * wide / steps
		}
		want := 6 * area
		if n := s.Nut; n != nil && n.Slot > 0 {
			mid := -n.ZeroFret - n.Thickness/2
			want -= n.Slot * n.Thickness * 2 * (21.5 + k*mid)
		}
		assert.InDelta(t, want, volume(t, b, neck.PartBoard, 0.01), 0.0002*want, name)
	}
}

// Scallops take two thirds of their depth off, over their length, and a
// fall-away a wedge.
func TestHollows(t *testing.T) {
	plain := volume(t, made(t, nil), neck.PartBoard, 0.01)
	b := made(t, func(s *spec.Spec) { s.Scallop = &spec.Scallop{From: 12, Depth: 1.5, Land: 2} })
	gone := 0.0
	k := 14.0 / 2 / b.s.BoardEnd()
	for n := 12; n < 22; n++ {
		x0, x1 := b.s.FretX(float64(n))+2, b.s.FretX(float64(n+1))-2
		gone += 2.0 / 3 * 1.5 * (x1 - x0) * 2 * (21.5 + k*(x0+x1)/2)
	}
	assert.InDelta(t, gone, plain-volume(t, b, neck.PartBoard, 0.01), 0.006*gone)

	b = made(t, func(s *spec.Spec) { s.FallAway = &spec.FallAway{From: spec.AtFret(12), Drop: 0.5} })
	x0, x1 := 324.0, b.s.BoardEnd()
	// The integral of the drop times the width.
	w0, w1 := 2*(21.5+k*x0), 57.0
	assert.InDelta(t, 0.5*(x1-x0)*(w0+2*w1)/6, plain-volume(t, b, neck.PartBoard, 0.01), 0.5)
}

// A binding's channel takes its width times its depth off both edges.
func TestBindingVolume(t *testing.T) {
	plain := volume(t, made(t, nil), neck.PartBoard, 0.01)
	for _, depth := range []float64{0, 4} {
		b := made(t, func(s *spec.Spec) { s.Binding = &spec.Binding{Width: 1.5, Depth: depth} })
		deep := depth
		if deep == 0 {
			deep = 6
		}
		slope := 7 / b.s.BoardEnd()
		assert.InDelta(t, 2*1.5*deep*b.s.BoardEnd()*math.Hypot(1, slope), plain-volume(t, b, neck.PartBoard, 0.01), 1)
		assert.InDelta(t, volume(t, made(t, nil), neck.PartBoth, 0.01), volume(t, b, neck.PartBoth, 0.01), 1e-9, "the binding is in")
		nut, end := b.WoodWidths()
		assert.InDelta(t, 43-2*1.5*math.Hypot(1, slope), nut, 1e-9)
		assert.InDelta(t, 57-2*1.5*math.Hypot(1, slope), end, 1e-9)
	}
}

// Random boards are sound, as parts and as one with their wood.
func TestRandomBoards(t *testing.T) {
	count, raked, leaning := 0, 0, 0
	drawn.Checks(t, 500, func(t *rapid.T) {
		s := spectest.Draw(t)
		drawCuts(t, s)
		n, problems := neck.Check(s)
		if problems.Err() != nil {
			t.Skip("not buildable: " + strings.SplitN(problems.Err().Error(), "\n", 2)[0])
		}
		part := rapid.SampledFrom([]neck.Part{neck.PartBoard, neck.PartBoth, neck.PartBoth, neck.PartWood}).Draw(t, "part")
		if _, err := New(n).Pins(); err != nil {
			t.Skip("no room for pins")
		}
		m, err := Solid(n, part, 0.1)
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		lo, hi := m.Bounds()
		from, to := n.BoardExtent()
		veneer := 0.0 // stands out over an angled headstock's tip
		if h := s.Headstock; h != nil {
			veneer = h.FaceVeneer * math.Sin(h.Angle)
		}
		assert.GreaterOrEqual(t, lo.X, math.Min(from, n.Start()-veneer)-0.01)
		if part == neck.PartWood {
			assert.InEpsilon(t, n.WoodVolume(), m.Volume(), 0.01)
		}
		if part == neck.PartBoard {
			assert.LessOrEqual(t, hi.X, to+0.01)
		}
		count++
		if h := s.Heel; h != nil && h.Rake != 0 && part == neck.PartBoth {
			raked++
		}
		if n.Spec().Headstock != nil && s.ShelfLeans() && part != neck.PartBoard {
			leaning++
		}
	})
	require.Positive(t, count)
	if drawn.All() {
		require.Positive(t, raked)
		require.Positive(t, leaning)
	}
}

// drawCuts draws what is cut into a board.
//
// Long, since there are many kinds of cuts.
func drawCuts(t *rapid.T, s *spec.Spec) {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }
	thick, nut := s.Board.Thickness, s.Width.Nut
	if rapid.IntRange(0, 5).Draw(t, "channels") > 0 { // to seek their least cover takes longest
		s.Rod, s.Channels = nil, nil
	}
	s.Spacing = &spec.Spacing{Nut: nut * f(0.5, 0.85, "spacing nut"), Bridge: nut * f(0.8, 1.2, "spacing bridge")}
	if yes("two scales") {
		s.Scale.Treble = s.Scale.Length * f(0.93, 0.999, "treble")
		s.Scale.SquareFret = rapid.SampledFrom([]float64{0, 5, 7, 9.5, 12}).Draw(t, "square")
		if yes("end along the fret") {
			s.Board.End = spec.EndFret
		}
	}
	if s.Headstock != nil {
		s.Headstock.Shelf += 0.25 * nut
		s.Headstock.Length += 0.5 * nut
		if yes("square break") {
			s.Headstock.Break = spec.BreakSquare
		}
	}
	if s.Board.RadiusNut != 0 && yes("another surface") {
		s.Board.RadiusEnd = s.Board.RadiusNut
		s.Board.Surface = rapid.SampledFrom([]string{spec.SurfaceConical, spec.SurfaceEvenEdge}).Draw(t, "surface")
	}
	if yes("slots") {
		s.Slots = &spec.Slots{Kerf: f(0.2, 0.7, "kerf"), Depth: thick * f(0.1, 0.4, "slot depth")}
		s.Slots.Floor = rapid.SampledFrom([]string{"", spec.SlotFlat}).Draw(t, "floor")
		if yes("short") {
			s.Slots.Short = f(0.5, 2, "short by")
		}
	}
	if yes("nut slot") {
		s.Nut = &spec.Nut{Thickness: f(1, 4, "nut") * nut / 45, Slot: thick * f(0.1, 0.5, "nut slot"), Before: rapid.SampledFrom([]float64{0, 1.5}).Draw(t, "before")}
	}
	if yes("bound") {
		s.Binding = &spec.Binding{Width: nut * 0.03, Depth: rapid.SampledFrom([]float64{0, 0.5 * thick}).Draw(t, "binding"), End: yes("end bound")}
		if s.Binding.End {
			s.Width.PastLastFret += 0.1 * nut
		}
	}
	if yes("curved end") {
		s.Board.EndCurve = nut * f(-0.1, 0.2, "curve")
		s.Width.PastLastFret += 0.3 * nut
	}
	if yes("extended") {
		s.Board.Extension = nut * f(0.1, 0.6, "extension")
	}
	if yes("markers") {
		near := s.FretX(float64(s.Scale.Frets)) - s.FretX(float64(s.Scale.Frets)-1)
		s.Markers = []spec.Marker{
			{Frets: "3 5 7x2", Along: f(0.2, 0.6, "dot") * near, Depth: f(0.1, 0.4, "pocket") * thick},
			{Frets: "4", Shape: rapid.SampledFrom([]string{spec.MarkerBar, spec.MarkerBlock}).Draw(t, "shape"), Along: 0.1 * near, Across: 0.2 * nut, Depth: 0.3 * thick},
		}
		s.SideDots = &spec.SideDots{Frets: "3 5x2", Diameter: 0.2 * thick, Depth: 0.1 * nut}
	}
	if yes("pins") {
		s.Pins = &spec.Pins{Diameter: 0.03 * nut, BoardDepth: 0.3 * thick, WoodDepth: 0.5 * thick}
	}
	if yes("falls away") {
		s.FallAway = &spec.FallAway{From: spec.AtFret(float64(s.Scale.Frets) * 0.6), Drop: 0.1 * thick}
	}
}
