package export

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"strings"
	"testing"

	"github.com/hpinc/go3mf"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

func demoNeck(t testing.TB) *neck.Neck {
	t.Helper()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	return n
}

// allNecks returns the demo neck and those of the test specs.
func allNecks(t testing.TB) []*neck.Neck {
	t.Helper()
	out := necktest.All(t)
	require.Greater(t, len(out), 5)
	return out
}

// toSegment returns the distance from p to the segment from a to b.
func toSegment(p, a, b mesh.Vec2) float64 {
	d := b.Sub(a)
	t := 0.0
	if l := d.Dot(d); l > 0 {
		t = math.Max(0, math.Min(1, p.Sub(a).Dot(d)/l))
	}
	return p.Sub(a.Add(d.Scale(t))).Norm()
}

// apart returns the least distance between two loops that do not cross.
func apart(a, b []mesh.Vec2) float64 {
	least := math.Inf(1)
	for i := range a {
		for j := range b {
			least = math.Min(least, toSegment(a[i], b[j], b[(j+1)%len(b)]))
			least = math.Min(least, toSegment(b[j], a[i], a[(i+1)%len(a)]))
		}
	}
	return least
}

// requirePiece checks a labelled gauge: a valid solid of one piece with a hole
// for every opening, and no web of plate thinner than a nozzle lays down twice.
func requirePiece(t require.TestingT, p Piece) {
	m, err := p.Solid()
	require.NoError(t, err, p.Name)
	require.NoError(t, m.Validate(), p.Name)
	topology := m.Topology()
	require.Len(t, topology.Shells, 1, p.Name)
	require.Equal(t, len(p.Region.Holes), topology.Genus(), p.Name)
	require.InEpsilon(t, p.Region.Area()*p.Thick, m.Volume(), 1e-5, p.Name)
	for i, h := range p.Region.Holes {
		require.Greater(t, apart(h, p.Region.Outer), 0.85, "%s: opening %d and the edge", p.Name, i)
		for j, o := range p.Region.Holes[:i] {
			require.Greater(t, apart(h, o), 0.79, "%s: openings %d and %d", p.Name, i, j)
		}
	}
}

// TestGauges makes every kind of gauge for every test spec.
// Without DRAWN=all it takes some of the cases.
func TestGauges(t *testing.T) {
	for _, n := range drawn.Some(allNecks(t), 5) {
		for _, half := range []gauge.Half{gauge.WholeGauge, gauge.BassHalfGauge, gauge.TrebleHalfGauge} {
			set := DefaultGaugeSet(n)
			set.Halves = []gauge.Half{half}
			set.Allowances = []float64{0, 1.5}
			pieces, gauges, err := Gauges(n, set)
			require.NoError(t, err)
			require.Len(t, pieces, 2*len(set.Places))
			require.Len(t, gauges, len(pieces))
			for i, p := range pieces {
				if i%5 == 0 {
					requirePiece(t, p)
				}
			}
			_, err = DefaultBed().Lay(pieces)
			require.NoError(t, err, n.Spec().Name)
		}
	}
}

// TestGaugesAnywhere makes gauges off the frets, in the headstock, the heel and
// over the board.
func TestGaugesAnywhere(t *testing.T) {
	n := demoNeck(t)
	set := DefaultGaugeSet(n)
	set.Places = []spec.Place{
		spec.AtX(n.Start()), spec.AtX(-60), spec.AtX(-12), spec.AtX(-2), spec.AtFret(0), spec.AtFret(2.5),
		spec.AtX(123.4567), spec.AtFret(16), spec.AtX(n.End()),
	}
	pieces, _, err := Gauges(n, set)
	require.NoError(t, err)
	for _, p := range pieces {
		requirePiece(t, p)
	}
	set.Places = set.Places[4:8]
	set.Options.OverBoard = true
	pieces, _, err = Gauges(n, set)
	require.NoError(t, err)
	for _, p := range pieces {
		requirePiece(t, p)
		assert.Contains(t, p.Name, "over the board")
	}
}

// TestGaugesRandom draws dimensions and stations on the test specs.
// Without DRAWN=all it takes some of the cases.
func TestGaugesRandom(t *testing.T) {
	necks := allNecks(t)
	drawn.Checks(t, 200, func(t *rapid.T) {
		n := rapid.SampledFrom(necks).Draw(t, "neck")
		f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
		set := DefaultGaugeSet(n)
		x := f(n.Start(), n.End(), "x")
		set.Places = []spec.Place{spec.AtX(x)}
		if fret := n.Spec().FretAt(x); x > 0 && fret < 30 && rapid.Bool().Draw(t, "by fret") {
			set.Places[0] = spec.AtFret(fret)
		}
		set.Halves = []gauge.Half{gauge.Half(rapid.IntRange(0, 2).Draw(t, "half"))}
		set.Allowances = []float64{rapid.SampledFrom([]float64{0, 0.5, 12.345}).Draw(t, "allowance")}
		set.Letters = f(MinStencilHeight, 12, "letters")
		o := &set.Options
		o.Clearance, o.Margin, o.LegWidth = f(0, 1, "clearance"), f(3, 10, "margin"), f(4, 15, "leg")
		o.Thickness = f(1, 6, "thickness")
		o.OverBoard = x >= 0 && x <= n.BoardEnd() && rapid.Bool().Draw(t, "over board")
		pieces, _, err := Gauges(n, set)
		s := n.Section(n.Spec().X(set.Places[0]))
		if s.Stepped() {
			require.ErrorContains(t, err, "where the shelf of the headstock ends")
			return
		}
		if s.CutLine() != nil {
			require.ErrorContains(t, err, "where the outline of the headstock cuts the section")
			return
		}
		require.NoError(t, err)
		requirePiece(t, pieces[0])
	})
}

// TestGaugeSides checks that a gauge tells bass from treble the right way
// round: as it stands on the neck seen from the body, z down the page, the bass
// side (y < 0) is on the right. T and B are told by their areas.
func TestGaugeSides(t *testing.T) {
	n := demoNeck(t)
	set := DefaultGaugeSet(n)
	set.Places = []spec.Place{spec.AtFret(12)} // where the demo's apex lies towards the bass
	pieces, gauges, err := Gauges(n, set)
	require.NoError(t, err)
	p, g := pieces[0], gauges[0]
	require.Negative(t, n.Spec().Profile[len(n.Spec().Profile)-1].Apex)
	// The deepest point of the opening is on the bass side, at u > 0.
	deepest := mesh.Vec2{}
	for _, q := range g.Open {
		if q.Y > deepest.Y {
			deepest = q
		}
	}
	assert.Positive(t, deepest.X)
	// The outermost openings of the upper row.
	area := func(loops ...[]mesh.Vec2) float64 {
		sum := 0.0
		for _, l := range loops {
			sum += math.Abs(mesh.Area2(l)) / 2
		}
		return sum
	}
	left, right := 0.0, 0.0
	for _, h := range p.Region.Holes {
		lo, hi := mesh.LoopBounds(h)
		if lo.Y < g.Room[1].Y-set.Letters-1e-6 {
			continue
		}
		if hi.X < g.Room[0].X+StencilLength("T", set.Letters)+0.5 {
			left += area(h)
		}
		if lo.X > g.Room[1].X-StencilLength("B", set.Letters)-0.5 {
			right += area(h)
		}
	}
	wantT, _ := Stencil("T", set.Letters)
	wantB, _ := Stencil("B", set.Letters)
	assert.InDelta(t, area(wantT...), left, 1e-6, "T")
	assert.InDelta(t, area(wantB...), right, 1e-6, "B")
}

func TestLabelWords(t *testing.T) {
	s := spec.Demo()
	s.Name = "Long-tailed tit, third of three"
	o := gauge.DefaultOptions()
	wide := layLabel(s, spec.AtFret(12), o, 6, 300)
	assert.Equal(t, "FRET 12", wide.station)
	assert.Equal(t, "LONG-TAILED TIT, THIRD OF THREE", wide.rest)
	narrow := layLabel(s, spec.AtFret(12), o, 6, 70)
	assert.Equal(t, "FRET 12", narrow.station)
	assert.Equal(t, "LONG-TAILED TIT,", narrow.rest)
	tiny := layLabel(s, spec.AtFret(12), o, 6, 10)
	assert.Equal(t, "F12", tiny.station)
	assert.Empty(t, tiny.rest, "the name goes only where it fits")
	assert.Greater(t, tiny.width, 10.0, "the station asks for room")
	o.Allowance, o.OverBoard = 0.5, true
	tiny = layLabel(s, spec.AtFret(2.5), o, 6, 10)
	assert.Equal(t, "F2.5", tiny.station)
	assert.Equal(t, "+0.5 BOARD", tiny.rest)
	assert.GreaterOrEqual(t, tiny.width, StencilLength(tiny.rest, 6))
	s.Units = spec.Inch
	o.Allowance = 0.508
	inch := layLabel(s, spec.AtX(120.65), o, 6, 10)
	assert.Equal(t, `X=4.75"`, inch.station)
	assert.Equal(t, `+0.02" BOARD`, inch.rest)
	assert.Equal(t, []string{"NUT"}, stationWords(s, spec.AtFret(0)))
}

func TestGaugesErrors(t *testing.T) {
	n := demoNeck(t)
	for _, c := range []struct {
		edit func(s *GaugeSet)
		want string
	}{
		{func(s *GaugeSet) { s.Letters = 5 }, "letters 5 mm high; allowed: 5.6 mm"},
		{func(s *GaugeSet) { s.Letters = math.NaN() }, "letters"},
		{func(s *GaugeSet) { s.Places = nil }, "no station"},
		{func(s *GaugeSet) { s.Places = make([]spec.Place, 501) }, "501 gauges are too many"},
		{func(s *GaugeSet) { s.Places = []spec.Place{spec.AtX(9999)} }, "off the wood"},
		{func(s *GaugeSet) { s.Allowances = []float64{-1} }, "allowance is -1 mm"},
	} {
		set := DefaultGaugeSet(n)
		c.edit(&set)
		_, _, err := Gauges(n, set)
		assert.ErrorContains(t, err, c.want)
	}
}

// TestGaugePlate writes a bed as STL and 3MF and reads both back by the
// libraries for them.
func TestGaugePlate(t *testing.T) {
	n := demoNeck(t)
	set := DefaultGaugeSet(n)
	set.Allowances = []float64{0, 0.5}
	pieces, _, err := Gauges(n, set)
	require.NoError(t, err)
	bed := DefaultBed()
	bed.Width = 260
	plates, err := bed.Lay(pieces)
	require.NoError(t, err)
	require.Equal(t, 1, len(plates))
	m, err := plates[0].Solid()
	require.NoError(t, err)
	var stl bytes.Buffer
	require.NoError(t, WriteSTL(&stl, m, STLOptions{Name: "gauges"}))
	back, err := ReadSTL(bytes.NewReader(stl.Bytes()))
	require.NoError(t, err)
	require.NoError(t, back.Validate())
	want, holes := 0.0, 0
	for _, p := range pieces {
		want += p.Region.Area() * p.Thick
		holes += len(p.Region.Holes)
	}
	assert.InEpsilon(t, want, back.Volume(), 1e-5)
	assert.Len(t, back.Topology().Shells, len(pieces))
	assert.Equal(t, holes, back.Topology().Genus())
	lo, hi := back.Bounds()
	assert.GreaterOrEqual(t, lo.X, 0.0)
	assert.LessOrEqual(t, hi.X, bed.Width)
	assert.Equal(t, 0.0, lo.Z)
	assert.Equal(t, 3.0, hi.Z)

	objects, err := plates[0].Objects()
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, Write3MF(&b, objects, Metadata{Title: "gauges"}))
	var model go3mf.Model
	require.NoError(t, go3mf.NewDecoder(bytes.NewReader(b.Bytes()), int64(b.Len())).Decode(&model))
	var names []string
	for _, o := range model.Resources.Objects {
		names = append(names, o.Name)
	}
	assert.Len(t, names, 12)
	assert.Equal(t, "fret 1", names[0])
	assert.Equal(t, "fret 12, 0.5 mm allowance", names[11])
	assert.Len(t, model.Build.Items, 12)
}

// TestGaugesAreDeterministic writes everything twice.
func TestGaugesAreDeterministic(t *testing.T) {
	write := func() string {
		n := demoNeck(t)
		pieces, _, err := Gauges(n, DefaultGaugeSet(n))
		require.NoError(t, err)
		plates, err := DefaultBed().Lay(pieces)
		require.NoError(t, err)
		var b bytes.Buffer
		m, err := plates[0].Solid()
		require.NoError(t, err)
		require.NoError(t, WriteSTL(&b, m, STLOptions{}))
		require.NoError(t, WriteSVG(&b, plates[0].Sheet("x")))
		require.NoError(t, WriteDXF(&b, plates[0].Sheet("x")))
		require.NoError(t, WriteGaugePDF(&b, "x", pieces, Papers()[0]))
		require.NoError(t, WriteSheetPDF(&b, "x", FullSizeSheets(n), Papers()[1]))
		return b.String()
	}
	first := write()
	for range 3 {
		require.True(t, first == write(), "other bytes")
	}
	// Packed bytes may spell anything: look at what they hold.
	plain, packed, found := strings.Cut(first, "%PDF")
	require.True(t, found)
	assert.False(t, strings.Contains(plain, "NaN"))
	pages := 0
	for _, part := range strings.Split(packed, "\nstream\n")[1:] {
		z, err := zlib.NewReader(strings.NewReader(part))
		if err != nil {
			continue // not a packed one
		}
		content, err := io.ReadAll(z)
		require.NoError(t, err)
		if strings.Contains(string(content), " Tf ") { // a page, and no font
			pages++
			assert.False(t, strings.Contains(string(content), "NaN"))
		}
	}
	assert.Greater(t, pages, 3)
}

// BenchmarkGaugeSet makes gauges for 24 frets with labels and writes them as
// STL, validated.
func BenchmarkGaugeSet(b *testing.B) {
	sp := spec.Demo()
	sp.Scale.Frets = 24
	sp.Heel.End = spec.AtFret(24.2)
	n, err := neck.New(sp)
	require.NoError(b, err)
	set := DefaultGaugeSet(n)
	set.Places = sp.FretPlaces()[1:]
	require.Len(b, set.Places, 24)
	bed := DefaultBed()
	bed.Depth = 2000
	size := 0
	for b.Loop() {
		pieces, _, err := Gauges(n, set)
		require.NoError(b, err)
		plates, err := bed.Lay(pieces)
		require.NoError(b, err)
		m, err := plates[0].Solid()
		require.NoError(b, err)
		var out bytes.Buffer
		require.NoError(b, WriteSTL(&out, m, STLOptions{}))
		size = len(m.Faces)
	}
	b.ReportMetric(float64(size), "triangles")
}
