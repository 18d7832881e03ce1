package carve

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/necktest"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/neck/spec/spectest"
)

// farApexNeck is a neck whose deepest line lies 12 mm towards the treble side and
// whose bass shoulder is slim: the bass flat reaches over the centreline.
func farApexNeck() *spec.Spec {
	s := spectest.Straight()
	s.Scale = spec.Scale{Length: 640, Frets: 20}
	s.Width = spec.Width{Nut: 46, End: 56, PastLastFret: 8}
	s.Board.Thickness = 5
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 22}, {At: spec.AtFret(12), Total: 24}}
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 1.4, Treble: 2.6, Apex: 12}}
	s.Wall = 1
	return s
}

// bentNeck is a neck whose depth line bulges: near the nut the flat back lies
// so far over the target that the two flats of the last pair meet below it.
func bentNeck() *spec.Spec {
	s := spectest.Straight()
	s.Scale = spec.Scale{Length: 648, Frets: 22}
	s.Width = spec.Width{Nut: 43, End: 56, PastLastFret: 8}
	s.Board.Thickness = 5
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 20}, {At: spec.AtFret(5), Total: 22}, {At: spec.AtFret(12), Total: 22.5}}
	return s
}

// flatsNecks are necks on which lines cross, change their face, or do neither.
func flatsNecks() []*spec.Spec {
	thin := bentNeck() // the flats are almost level and reach the other side
	thin.Width = spec.Width{Nut: 30, End: 30, PastLastFret: 8}
	thin.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 9}, {At: spec.AtFret(5), Total: 14}, {At: spec.AtFret(12), Total: 14.2}}
	mirrored := farApexNeck()
	mirrored.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 2.6, Treble: 1.4, Apex: -12}}
	return []*spec.Spec{farApexNeck(), bentNeck(), thin, mirrored, spec.Demo()}
}

// carver cuts the flats of a station one after the other and keeps the half
// planes in which wood is left: y·cos + d·sin <= reach.
type carver struct {
	n       *neck.Neck
	a, back float64
	cuts    []cutPlane
}

type cutPlane struct {
	name            string // "2 bass"
	side            neck.Side
	cos, sin, reach float64
}

// span returns where the line through p along (y, d) lies in the wood.
func (c *carver) span(p, way [2]float64, without int) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	in := func(cos, sin, reach float64) {
		at, grow := p[0]*cos+p[1]*sin-reach, way[0]*cos+way[1]*sin
		switch {
		case grow > 1e-12:
			hi = math.Min(hi, -at/grow)
		case grow < -1e-12:
			lo = math.Max(lo, -at/grow)
		}
	}
	in(1, 0, c.a)
	in(-1, 0, c.a)
	in(0, 1, c.back)
	in(0, -1, 0)
	for i, q := range c.cuts {
		if i != without {
			in(q.cos, q.sin, q.reach)
		}
	}
	return lo, hi
}

// draw returns the place of a line as a carver finds it from what a plan says of
// it: the face, the half and one figure. Nothing else of the plan is used. It
// reports false where there is no such face.
func (c *carver) draw(side neck.Side, on string, half neck.Side, figure float64) (neck.YZ, bool) {
	switch on {
	case "back":
		return neck.YZ{Y: half.Sign() * figure, Z: -c.back}, true
	case "side":
		return neck.YZ{Y: side.Sign() * c.a, Z: -figure}, true
	case "bass side":
		return neck.YZ{Y: c.n.Bass().Sign() * c.a, Z: -figure}, true
	case "treble side":
		return neck.YZ{Y: c.n.Treble().Sign() * c.a, Z: -figure}, true
	}
	name := strings.TrimPrefix(on, "flat ")
	if !strings.Contains(name, " ") {
		name += " " + c.n.SideName(side)
	}
	for i, q := range c.cuts {
		if q.name != name {
			continue
		}
		p := [2]float64{q.cos * q.reach, q.sin * q.reach}
		way := [2]float64{-q.sin * q.side.Sign(), math.Abs(q.cos)} // down the flat, away from the board
		lo, hi := c.span(p, way, i)
		if lo > hi {
			return neck.YZ{}, false
		}
		return neck.YZ{Y: p[0] + way[0]*(lo+figure), Z: -(p[1] + way[1]*(lo+figure))}, true
	}
	return neck.YZ{}, false
}

// requireDrawable carves the flats of a plan at x by what is said of them, and
// holds every line against where the new flat really meets the wood.
func requireDrawable(t require.TestingT, p *Plan, x float64) {
	sec := p.Neck.Section(x)
	c := carver{n: p.Neck, a: sec.HalfWidth, back: p.Taper.Depth(x)}
	flats := p.Flats.At(x)
	for _, f := range flats {
		what := fmt.Sprintf("x = %g: flat %d %s", x, f.Pair, p.Neck.SideName(f.Side))
		sin, cos := math.Sincos(math.Pi/2 - f.Angle)
		reach := sec.Support(f.Side, math.Pi/2-f.Angle) + p.Options.Allowance
		cut := cutPlane{fmt.Sprintf("%d %s", f.Pair, p.Neck.SideName(f.Side)), f.Side, f.Side.Sign() * cos, sin, reach}
		// The flat's own line through the wood as it is, from the board's end on.
		from := [2]float64{cut.cos * reach, cut.sin * reach}
		way := [2]float64{-f.Side.Sign() * sin, cos}
		lo, hi := c.span(from, way, -1)
		require.Less(t, lo, hi, what)
		for _, back := range []bool{false, true} {
			e := f.Edge(back)
			end := map[bool]float64{false: lo, true: hi}[back]
			want := neck.YZ{Y: from[0] + way[0]*end, Z: -(from[1] + way[1]*end)}
			require.False(t, math.IsNaN(e.Figure()) || e.Figure() < -1e-9, "%s: %g", what, e.Figure())
			got, ok := c.draw(f.Side, e.On, e.Half, e.Figure())
			require.True(t, ok, "%s: no %s to draw on", what, e.On)
			// A line on the centreline counts as the flat's own half.
			require.InDelta(t, want.Y, got.Y, 2*onCentre, "%s on %s", what, e.On)
			require.InDelta(t, want.Z, got.Z, 1e-6, "%s on %s", what, e.On)
			require.InDelta(t, want.Y, e.Y, 1e-6, what)
			require.InDelta(t, want.Z, e.Z, 1e-6, what)
		}
		require.InDelta(t, hi-lo, f.Width, 1e-6, what)
		c.cuts = append(c.cuts, cut)
	}
	// What is left of each when all are cut.
	for i, f := range flats {
		q := c.cuts[i]
		lo, hi := c.span([2]float64{q.cos * q.reach, q.sin * q.reach}, [2]float64{-f.Side.Sign() * q.sin, math.Abs(q.cos)}, i)
		require.InDelta(t, math.Max(0, hi-lo), f.Final, 1e-6, "x = %g: flat %d %s", x, f.Pair, p.Neck.SideName(f.Side))
	}
}

// TestFlatsCanBeDrawn follows what a plan says of every line and finds it where
// the flat meets the wood that is there at that time.
// Without DRAWN=all it takes some of the cases.
func TestFlatsCanBeDrawn(t *testing.T) {
	for _, s := range drawn.Some(flatsNecks(), 1) {
		for pairs := 1; pairs <= 3; pairs++ {
			for _, allowance := range []float64{0, 0.5, 2} {
				if pairs < 3 && allowance != 0.5 {
					continue // the last of three pairs goes through the first two
				}
				p := planOf(t, s, func(o *Options) { o.Pairs, o.Allowance = pairs, allowance })
				for i := range 60 {
					requireDrawable(t, p, numeric.Lerp(p.Stretch.From, p.Stretch.To, float64(i)/59))
				}
			}
		}
	}
	drawn.Checks(t, 100, func(t *rapid.T) {
		n := onePiece(t)
		o := DefaultOptions(spec.Millimetre)
		o.Pairs = rapid.IntRange(1, 3).Draw(t, "pairs")
		p := planOrShort(t, n, o)
		for i := 0; p != nil && i < 9; i++ {
			requireDrawable(t, p, numeric.Lerp(p.Stretch.From, p.Stretch.To, float64(i)/8))
		}
	})
}

// TestLineBeyondTheCentreline finds by brute force where the first bass flat of a
// neck with a far apex meets the back: 2.6 mm on the treble side at fret 1. The
// plan says so at every station, in its lines, and on the full-size sheets.
func TestLineBeyondTheCentreline(t *testing.T) {
	p := planOf(t, farApexNeck(), nil)
	for _, st := range p.Stations {
		f := st.Flats[0]
		require.Equal(t, "1B", FlatName(p.Neck, f.Pair, f.Side))
		sec := p.Neck.Section(st.X)
		sin, cos := math.Sincos(math.Pi/2 - f.Angle)
		reach := math.Inf(-1)
		for i := range 8001 {
			y := numeric.Lerp(-sec.HalfWidth, sec.HalfWidth, float64(i)/8000)
			if d, ok := sec.DepthAt(y); ok {
				reach = math.Max(reach, -y*cos+d*sin)
			}
		}
		y := -(reach + 0.5 - p.Taper.Depth(st.X)*sin) / cos
		require.Greater(t, y, 2.0)
		assert.InDelta(t, y, f.Back.Y, 0.01)
		assert.Equal(t, neck.PlusY, f.Back.Half)
		assert.Equal(t, "treble", f.Beside(p.Neck, true, "back"))
		assert.Equal(t, "back treble", f.Beside(p.Neck, true, ""))
		assert.Empty(t, f.Beside(p.Neck, false, "side"))
		if st.Label == "fret 1" {
			assert.InDelta(t, 2.625, f.Back.Y, 0.001)
		}
	}
	assert.Contains(t, stepWords(p, StageFlats), "The line of 1B towards the back lies on the treble side of the centreline.")
	for _, l := range p.Flats.Lines {
		assert.Equal(t, l.Flat == "1B" && l.Back, l.Half != l.Side, "%s", l.Flat)
	}
	side, plan, _, byPlan := markedSheets(p)
	assert.Positive(t, byPlan["1B"].Points[0].Y)
	assert.Equal(t, 1, count(plan, "1B treble"))
	assert.Zero(t, count(plan, "1B"))
	assert.Equal(t, 1, count(side, "1B"))
	assert.Contains(t, plan.Note, "A name with bass or treble: the line lies there, over the centreline.")
	assert.NotContains(t, side.Note, "over the centreline")

	// The mirrored neck says the mirrored.
	q := planOf(t, flatsNecks()[3], nil)
	_, plan, _, _ = markedSheets(q)
	assert.Equal(t, 1, count(plan, "1T bass"))
	assert.Contains(t, stepWords(q, StageFlats), "The line of 1T towards the back lies on the bass side of the centreline.")
}

func count(t gauge.Sheet, label string) (n int) {
	for _, l := range t.Labels {
		if l.Text == label {
			n++
		}
	}
	return n
}

// TestFaceOfALineChanges walks along a neck whose second flats meet below the
// back near the nut, and lie on the back farther on. What is said of a station
// is true there, and the lines break where the face changes.
//
// Long, since its cases share what is set up first.
func TestFaceOfALineChanges(t *testing.T) {
	p := planOf(t, bentNeck(), nil)
	assert.Empty(t, p.FlatFace(2, neck.PlusY, true), "no heading can name it")
	assert.Equal(t, "back", p.FlatFace(2, neck.MinusY, true))
	assert.Equal(t, "back", p.FlatFace(1, neck.PlusY, true))
	assert.Equal(t, "side", p.FlatFace(1, neck.MinusY, false))
	assert.Equal(t, "flat 1", p.FlatFace(2, neck.PlusY, false))
	assert.Empty(t, p.FlatFace(3, neck.MinusY, true))
	backs := 0
	for _, st := range p.Stations {
		require.Len(t, st.Flats, 4)
		f := st.Flats[3]
		if f.Back.On == "back" {
			backs++
			assert.InDelta(t, p.Taper.Depth(st.X), -f.Back.Z, 1e-9)
			assert.Equal(t, "back", f.Beside(p.Neck, true, ""))
			assert.False(t, f.OnPartner(true))
			continue
		}
		assert.Equal(t, "flat 2 bass", f.Back.On)
		assert.Equal(t, "flat 2 bass", f.Beside(p.Neck, true, ""))
		assert.True(t, f.OnPartner(true))
		assert.False(t, f.OnPartner(false))
		assert.Equal(t, neck.PlusY, st.Flats[2].Back.Half)
	}
	assert.Greater(t, backs, 20)
	assert.Less(t, backs, len(p.Stations))
	words := stepWords(p, StageFlats)
	assert.Contains(t, words, "bass side before treble")
	assert.Contains(t, words, "The line of 2B towards the back lies in places on the treble side of the centreline; the table says where.")
	assert.Contains(t, words, "The line of 2T towards the back lies in places on 2B, which has to be cut first; the table says where.")
	assert.NotContains(t, words, "of 1")

	// One edge's pieces follow each other without a gap, each on its face.
	for i, l := range p.Flats.Lines {
		require.GreaterOrEqual(t, len(l.Points), 2)
		for _, q := range l.Points[1 : len(l.Points)-1] {
			for _, f := range p.Flats.At(q.X) {
				if f.Pair == l.Pair && f.Side == l.Side {
					assert.Equal(t, l.On, f.Edge(l.Back).On, "%s at %g", l.Flat, q.X)
					assert.Equal(t, l.Half, f.Edge(l.Back).Half, "%s at %g", l.Flat, q.X)
				}
			}
		}
		if i == 0 {
			continue
		}
		k := p.Flats.Lines[i-1]
		if k.Pair == l.Pair && k.Side == l.Side && k.Back == l.Back {
			a, b := k.Points[len(k.Points)-1], l.Points[0]
			assert.InDelta(t, 0, math.Hypot(math.Hypot(a.X-b.X, a.Y-b.Y), a.Z-b.Z), 1e-4)
			assert.False(t, k.On == l.On && k.Half == l.Half)
			assert.InDelta(t, p.Stretch.To, l.Points[len(l.Points)-1].X, 1e-9)
		} else {
			assert.InDelta(t, p.Stretch.From, l.Points[0].X, 1e-9)
		}
	}

	// On the plan the treble line is dashed where it lies on a flat, and full
	// where it lies on the back.
	_, plan, _, _ := markedSheets(p)
	var dashed, full []mesh.Vec2
	for _, m := range plan.Marks {
		if m.Name == "flat 2T" && math.Abs(m.Points[0].Y) < 7 {
			if m.Dashed {
				dashed = append(dashed, m.Points...)
			} else {
				full = append(full, m.Points...)
			}
		}
	}
	require.NotEmpty(t, dashed)
	require.NotEmpty(t, full)
	assert.InDelta(t, p.Stretch.From, dashed[0].X, 1e-9)
	assert.InDelta(t, p.Stretch.To, full[len(full)-1].X, 1e-9)
	assert.InDelta(t, dashed[len(dashed)-1].X, full[0].X, 1e-3)
	// Both ends of the bass line have a name: it lies on either half.
	assert.Equal(t, 1, count(plan, "2Bc treble"))
	assert.Equal(t, 1, count(plan, "2Bc"))
}

// TestLineOnTheOtherWall cuts flats so level that they come out at the neck's
// other side.
func TestLineOnTheOtherWall(t *testing.T) {
	p := planOf(t, flatsNecks()[2], nil)
	walls := 0
	for _, l := range p.Flats.Lines {
		wall, ok := l.Wall()
		assert.Equal(t, strings.HasSuffix(l.On, "side"), ok)
		if l.On != "side" && ok {
			walls++
			assert.Equal(t, p.Neck.SideName(wall)+" side", l.On)
			assert.NotEqual(t, l.Side, wall)
			assert.Equal(t, wall, l.Half)
			assert.Contains(t, stepWords(p, StageFlats), "on the neck's "+p.Neck.SideName(wall)+" side")
		}
	}
	require.Positive(t, walls)
	// Its partner is drawn on the flat that is left.
	f := p.Flats.At(p.Stretch.From + 1)
	require.Equal(t, "1T", FlatName(p.Neck, f[1].Pair, f[1].Side))
	assert.Equal(t, "flat 1 bass", f[1].Back.On)
	assert.True(t, f[1].OnPartner(true))
	assert.False(t, f[0].OnPartner(true))
	assert.Contains(t, stepWords(p, StageFlats), "on 1B, which has to be cut first")
}

// TestEveryFlatHasItsName counts the names on both full-size sheets of every neck,
// those without heel and headstock among them: each line that is drawn has one,
// which stands clear of the others and of the flats' lines.
// Without DRAWN=all it takes some of the cases.
func TestEveryFlatHasItsName(t *testing.T) {
	necks := drawn.Some(necktest.All(t), 3)
	for _, s := range append(flatsNecks(), spectest.Straight()) {
		n, err := neck.New(s)
		require.NoError(t, err)
		necks = append(necks, n)
	}
	for _, n := range necks {
		for pairs := 1; pairs <= 3; pairs++ {
			p := planInPairs(t, n, pairs)
			if p.In(spec.Millimetre).Why(StageFlats) != "" {
				continue
			}
			side, plan := gauge.SideView(n), gauge.TopView(n)
			for _, tpl := range []*gauge.Sheet{&side, &plan} {
				before := len(tpl.Labels)
				if tpl == &side {
					p.Flats.MarkSideView(tpl)
				} else {
					p.Flats.MarkTopView(tpl)
				}
				names := map[string]bool{}
				for i, l := range tpl.Labels[before:] {
					flat, _, _ := strings.Cut(l.Text, " ")
					names[strings.TrimRight(flat, "cs")] = true
					half := nameHalf(l.Text)
					for _, other := range tpl.Labels[before : before+i] {
						assert.True(t, math.Abs(l.At.X-other.At.X) >= half+nameHalf(other.Text)-1e-9 || math.Abs(l.At.Y-other.At.Y) >= nameAlong,
							"%s: %v over %v", n.Spec().Name, l, other)
					}
					for _, m := range tpl.Marks {
						if !strings.HasPrefix(m.Name, "flat ") {
							continue
						}
						for _, q := range m.Points {
							assert.False(t, math.Abs(q.X-l.At.X) < half && math.Abs(q.Y-l.At.Y) < 1.5, "%s: %v on a line at %v", n.Spec().Name, l, q)
						}
						if a, b := m.Points[0].X, m.Points[len(m.Points)-1].X; l.At.X > a && l.At.X < b {
							assert.Greater(t, math.Abs(heightAt(m.Points, l.At.X)-l.At.Y), 1.5, "%s: %v on a line", n.Spec().Name, l)
						}
					}
				}
				for _, m := range tpl.Marks {
					if name, ok := strings.CutPrefix(m.Name, "flat "); ok {
						assert.True(t, names[name], "%s, %d pairs, %s: no name for %s", n.Spec().Name, pairs, tpl.Name, name)
					}
				}
			}
		}
	}
}

// TestNameWithoutRoom fills the places past both ends of a line with other
// names: its own then stands beside the line, and none is left out.
func TestNameWithoutRoom(t *testing.T) {
	p := planOf(t, spectest.Straight(), nil)
	tpl := gauge.TopView(p.Neck)
	line := []mesh.Vec2{{X: 0, Y: 10}, {X: p.Neck.End(), Y: 16}}
	rise := 6 / p.Neck.End()
	for _, way := range []float64{-1, 1} {
		end := nameEnd{line[0], -1, "1B treble"}
		if way > 0 {
			end = nameEnd{line[1], 1, "1B treble"}
		}
		at := p.Flats.nameSpot(&tpl, line, []nameEnd{end}, nil)
		assert.InDelta(t, end.at.Y, at.At.Y, 1e-9)
		half := nameHalf(end.name)
		assert.InDelta(t, 2.1*9/2, half, 1e-9)
		assert.InDelta(t, half+0.15, way*(at.At.X-end.at.X), 0.5, "past the end of the wood")
		assert.GreaterOrEqual(t, way*(at.At.X-end.at.X), half+0.15-1e-9)

		var full []gauge.Label
		for d := 0.0; d < 70; d++ {
			full = append(full, gauge.Label{At: mesh.Vec2{X: end.at.X + way*d, Y: end.at.Y}, Text: "1B"})
		}
		at = p.Flats.nameSpot(&tpl, line, []nameEnd{end}, full)
		assert.Equal(t, "1B treble", at.Text)
		assert.Greater(t, at.At.X, half-1e-9)
		assert.Less(t, at.At.X, p.Neck.End()-half+1e-9)
		assert.InDelta(t, 3, math.Abs(at.At.Y-(10+rise*at.At.X)), 1e-9)
		assert.Less(t, math.Abs(at.At.X-end.at.X), 150.0, "near its end")
	}
	assert.InDelta(t, 3.25, nameHalf("1B"), 1e-9)
}
