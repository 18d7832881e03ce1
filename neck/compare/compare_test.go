package compare

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func compareAt(t *testing.T, frets []float64, necks ...*neck.Neck) *Comparison {
	t.Helper()
	var places []spec.Place
	for _, f := range frets {
		places = append(places, spec.AtFret(f))
	}
	c, err := New(necks, places)
	require.NoError(t, err)
	return c
}

// TestShoulder checks the shoulder against the superellipse with both axes r,
// whose curve meets the 45° line at 2^(-1/n) r in y and in z, so that it
// reaches √2 2^(-1/n) r; and that a stretch by itself gains no shoulder.
func TestShoulder(t *testing.T) {
	const r = 20.0
	full := func(n float64) func(*spec.Spec) {
		return func(s *spec.Spec) { s.Profile[0].Bass, s.Profile[0].Treble = n, n }
	}
	reach := func(n float64) float64 { return math.Sqrt2 * math.Exp2(-1/n) * r }
	a, b := necktest.HalfCylinder(t, r, nil), necktest.HalfCylinder(t, r, full(3))
	c := compareAt(t, []float64{1, 5}, a, b)
	for _, st := range c.Stations {
		for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
			assert.InDelta(t, reach(2), st.Sections[0].Shoulder[side], 1e-9)
			assert.InDelta(t, reach(3), st.Sections[1].Shoulder[side], 1e-9)
			assert.InDelta(t, reach(3)-reach(2), st.Sections[1].FullerBy[side], 1e-9)
			assert.Zero(t, st.Sections[0].FullerBy[side])
		}
	}
	// Deeper and narrower, the same ellipse stretched.
	narrow := necktest.HalfCylinder(t, r, func(s *spec.Spec) {
		s.Width.Nut, s.Width.End = 34, 36
		s.Depth[0].Total += 3
	})
	c = compareAt(t, []float64{1, 5}, a, narrow)
	for _, st := range c.Stations {
		assert.InDelta(t, 0, st.Sections[1].FullerBy[neck.MinusY], 1e-9)
		assert.InDelta(t, 0, st.Sections[1].FullerBy[neck.PlusY], 1e-9)
		assert.NotEqual(t, st.Sections[0].Shoulder, st.Sections[1].Shoulder)
	}
}

// TestCompareWords checks each kind of phrase on necks that differ in one way.
func TestCompareWords(t *testing.T) {
	words := func(change func(*spec.Spec)) string {
		c := compareAt(t, []float64{1, 5, 12}, necktest.HalfCylinder(t, 20, nil), necktest.HalfCylinder(t, 20, change))
		lines := c.Words(spec.Millimetre)
		require.Len(t, lines, 1)
		return lines[0]
	}
	deeper := func(at1, at12 float64) func(*spec.Spec) {
		return func(s *spec.Spec) {
			s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 26 + at1}, {At: spec.AtFret(12), Total: 26 + at12}}
		}
	}
	assert.Equal(t, "B (plain) against A: no difference that a hand would notice.", words(nil))
	assert.Contains(t, words(deeper(0, -0.8)), "0.8 mm thinner at fret 12")
	assert.Contains(t, words(deeper(0.5, 0.5)), "0.5 mm thicker throughout")
	assert.Contains(t, words(deeper(0.4, 0.9)), "thicker throughout, 0.4 mm to 0.9 mm, most at fret 12")
	both := words(deeper(-0.4, 0.9))
	assert.Contains(t, both, "0.4 mm thinner at fret 1")
	assert.Contains(t, both, "0.9 mm thicker at fret 12")
	assert.Less(t, indexOf(both, "thicker"), indexOf(both, "thinner"), "the greatest first")
	assert.NotContains(t, words(deeper(0.29, -0.29)), "thi", "below the threshold")

	assert.Contains(t, words(func(s *spec.Spec) { s.Width.Nut = 39 }), "0.89 mm narrower at fret 1")
	assert.NotContains(t, words(func(s *spec.Spec) { s.Width.Nut = 39.6 }), "narrower")
	fuller := words(func(s *spec.Spec) { s.Profile[0].Bass = 2.4 })
	assert.Contains(t, fuller, "fuller in the shoulder on the bass side throughout")
	assert.NotContains(t, fuller, "treble")
	assert.Contains(t, words(func(s *spec.Spec) { s.Profile[0].Bass, s.Profile[0].Treble = 1.7, 1.7 }), "slimmer in both shoulders throughout")
	assert.Contains(t, words(func(s *spec.Spec) { s.Profile[0].Apex = 1.5 }), "1.5 mm farther to the treble side in the apex throughout")
	assert.Equal(t, "B (plain) against A: 25 % less stiff in the middle third.",
		words(func(s *spec.Spec) { s.Wood.Modulus = 0.75 * 12600 }))
	assert.Contains(t, words(func(s *spec.Spec) { s.Wood.Density = 0.5 * 705.6 }), "50 % lighter in the wood")
	assert.Equal(t, "B (plain) against A: no difference that a hand would notice.",
		words(func(s *spec.Spec) { s.Wood.Modulus = 0.96 * 12600; s.Wood.Density = 1.04 * 705.6 }))
}

func indexOf(text, part string) int {
	for i := range text {
		if len(text)-i >= len(part) && text[i:i+len(part)] == part {
			return i
		}
	}
	return -1
}

// TestThresholdsAreStated checks that the sentence has the numbers in use.
func TestThresholdsAreStated(t *testing.T) {
	text := Thresholds(spec.Millimetre)
	for _, want := range []string{"thickness under 0.3 mm", "width under 0.5 mm", "shoulder under 0.3 mm", "apex under 1 mm", "under 5 %"} {
		assert.Contains(t, text, want)
	}
	assert.Contains(t, Thresholds(spec.Inch), "width under 0.02 in")
}

// TestCompareErrors checks what cannot be compared, and a station that only
// the first neck has.
func TestCompareErrors(t *testing.T) {
	n := necktest.Demo(t)
	short := necktest.HalfCylinder(t, 20, nil)
	_, err := New([]*neck.Neck{n}, nil)
	assert.ErrorContains(t, err, "1 necks cannot be compared; allowed: 2 to 6")
	_, err = New([]*neck.Neck{n, n, n, n, n, n, n}, nil)
	assert.ErrorContains(t, err, "allowed: 2 to 6")
	_, err = New([]*neck.Neck{short, n}, []spec.Place{spec.AtX(400)})
	assert.ErrorContains(t, err, "off the wood")
	c, err := New([]*neck.Neck{n, short}, []spec.Place{spec.AtX(400)})
	require.NoError(t, err)
	assert.True(t, c.Stations[0].Sections[0].On())
	assert.False(t, c.Stations[0].Sections[1].On())
	assert.Len(t, c.Words(spec.Millimetre), 1)
	assert.Equal(t, []spec.Place{spec.AtFret(1), spec.AtFret(5), spec.AtFret(9), spec.AtFret(12)}, Places([]*neck.Neck{n, short}))
	assert.Equal(t, "F", LetterOf(5))
}

// TestTotals checks the totals against the neck's own numbers.
func TestTotals(t *testing.T) {
	n, plain := necktest.Demo(t), necktest.HalfCylinder(t, 20, nil)
	totals := compareAt(t, []float64{1}, n, plain).Totals()
	b, _ := bending.BowOf(n)
	assert.Equal(t, b.Relief, totals[0].Bow.Relief)
	assert.True(t, totals[0].Strung)
	assert.False(t, totals[1].Strung)
	assert.InEpsilon(t, math.Pi*200*plain.End()*705.6e-6, totals[1].WoodMass, 1e-9)
	assert.InEpsilon(t, bending.StiffnessAt(plain, 10).EI, totals[1].Thirds[2], 1e-9)
}

// TestBackDistance checks signed distances between half cylinders about one
// axis, and of a neck to itself.
func TestBackDistance(t *testing.T) {
	a, b := necktest.HalfCylinder(t, 20, nil), necktest.HalfCylinder(t, 21.5, nil)
	inner, outer := a.Back(4), b.Back(4)
	for _, row := range inner.DistanceTo(b, 4) {
		for _, d := range row {
			assert.InDelta(t, -1.5, d, 0.01)
		}
	}
	for _, row := range outer.DistanceTo(a, 4) {
		for _, d := range row {
			assert.InDelta(t, 1.5, d, 0.01)
		}
	}
	n := necktest.Demo(t)
	back := n.Back(5)
	for i, row := range back.DistanceTo(n, 5) {
		for _, d := range row {
			require.InDelta(t, 0, d, 1e-9, "row %d", i)
		}
	}
}

// TestBackGrid checks that the points lie on the back, the normals look out and
// the grid as a mesh has the area of the back.
func TestBackGrid(t *testing.T) {
	n := necktest.Demo(t)
	b := n.Back(3)
	for i, row := range b.Points {
		s := n.Section(row[0].X)
		for j, p := range row {
			if math.Abs(p.Y) < s.HalfWidth-1e-6 {
				assert.InDelta(t, 0, s.Distance(neck.YZ{Y: p.Y, Z: p.Z}), 0.02, "x = %g, y = %g", p.X, p.Y)
			}
			normal := b.Normals[i][j]
			assert.InDelta(t, 1, normal.Norm(), 1e-9)
			q := p.Add(normal.Scale(0.2))
			at := n.Section(q.X)
			if q.X > n.Start() && q.X < n.End() && q.Z < at.Top {
				assert.Greater(t, at.Distance(neck.YZ{Y: q.Y, Z: q.Z}), 0.1, "x = %g, y = %g", p.X, p.Y)
			}
		}
		girth := 0.0
		for j := 1; j < len(row); j++ {
			girth += row[j].Sub(row[j-1]).Norm()
		}
		assert.InEpsilon(t, s.Girth(), girth, 2e-3)
	}
	half := necktest.HalfCylinder(t, 20, nil)
	assert.InEpsilon(t, math.Pi*20*half.End(), half.Back(3).Mesh().Area(), 1e-3)
}

// TestThickness: in half a cylinder every line square to the back meets the
// glue plane on the axis, r away. With a channel the least value of the map is
// the least cover.
func TestThickness(t *testing.T) {
	n := necktest.HalfCylinder(t, 20, nil)
	for _, row := range n.Thickness(n.Back(5)) {
		for j, v := range row {
			if j == 0 || j == len(row)-1 {
				assert.InDelta(t, 40, v, 1e-3, "at the edges the far side is the end")
				continue
			}
			assert.InDelta(t, 20, v, 0.05)
		}
	}
	for _, floor := range []spec.Floor{spec.FloorFlat, spec.FloorRound} {
		rod := necktest.HalfCylinder(t, 20, func(s *spec.Spec) {
			s.Rod = &spec.Rod{Width: 6, Depth: 9, From: spec.AtX(40), To: spec.AtX(200), Floor: floor}
		})
		least := math.Inf(1)
		for _, row := range rod.Thickness(rod.Back(2)) {
			for _, v := range row {
				least = math.Min(least, v)
			}
		}
		cover, _, ok := rod.LeastCover()
		require.True(t, ok)
		assert.InDelta(t, cover, least, 0.02)
	}
	// The demo's headstock is as thick as its spec says.
	d := necktest.Demo(t)
	back := d.Back(2)
	values := d.Thickness(back)
	for i, row := range back.Points {
		if x := row[0].X; x > d.Start()+20 && x < d.Start()+60 {
			assert.InDelta(t, 14.5, values[i][len(row)/2], 0.01, "x = %g", x)
		}
	}
}

func BenchmarkDifference(b *testing.B) {
	n := necktest.Demo(b)
	back := n.Back(2)
	for b.Loop() {
		back.DistanceTo(n, 2)
	}
}

func BenchmarkThickness(b *testing.B) {
	n := necktest.Demo(b)
	back := n.Back(2)
	for b.Loop() {
		n.Thickness(back)
	}
}

// TestTotalsOfInlays checks that wood leaves out what is glued into the channels,
// which is weighed by itself: a bar of known size and density.
func TestTotalsOfInlays(t *testing.T) {
	s := spectest.Straight()
	s.Limits.Cover = 1
	s.Channels = []spec.Channel{{Name: "bar", Width: 4, Depth: 8, DepthEnd: 8, From: spec.AtX(20), To: spec.AtX(220),
		Bar: spec.Bar{Width: 4, Height: 7, Below: 1, Modulus: 120000, Density: 1600}}}
	n, err := neck.New(s)
	require.NoError(t, err)
	c := compareAt(t, []float64{1}, n, n)
	total := c.Totals()[0]
	assert.InDelta(t, 4*7*200*1600e-6, total.InlayMass, 1e-9)
	assert.InDelta(t, bending.WoodMass(n), total.WoodMass, 1e-9)
	heavier := total
	heavier.InlayMass += 0.2 * total.WoodMass
	assert.Contains(t, compareTotals(total, heavier)[0], "heavier in the wood with its bars and strips (")
}
