package scan

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/readings"
	"neckloft/neck/readings/readingstest"
	"neckloft/neck/spec"
)

// turned returns the mesh moved and turned in space, every vertex with a
// normal error of the given size in each coordinate.
func turned(m *mesh.Mesh, seed uint64, noise float64) *mesh.Mesh {
	rng := rand.New(rand.NewPCG(seed, 3))
	axis := mesh.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()}
	axis = axis.Scale(1 / axis.Norm())
	angle := rng.Float64() * 2 * math.Pi
	shift := mesh.Vec{X: 300 * rng.NormFloat64(), Y: 300 * rng.NormFloat64(), Z: 300 * rng.NormFloat64()}
	out := &mesh.Mesh{Faces: m.Faces, Vertices: make([]mesh.Vec, len(m.Vertices))}
	sin, cos := math.Sincos(angle)
	for i, v := range m.Vertices {
		// Rodrigues' formula.
		q := v.Scale(cos).Add(axis.Cross(v).Scale(sin)).Add(axis.Scale(axis.Dot(v) * (1 - cos)))
		out.Vertices[i] = q.Add(shift).Add(mesh.Vec{X: noise * rng.NormFloat64(), Y: noise * rng.NormFloat64(), Z: noise * rng.NormFloat64()})
	}
	return out
}

// torn returns the mesh with round holes in it, as a scanner leaves where it
// saw nothing, and specks that float near by.
func torn(m *mesh.Mesh, seed uint64, holes int) *mesh.Mesh {
	rng := rand.New(rand.NewPCG(seed, 4))
	var centres []mesh.Vec
	for range holes {
		centres = append(centres, m.Vertices[rng.IntN(len(m.Vertices))])
	}
	out := &mesh.Mesh{Vertices: m.Vertices}
	for i, f := range m.Faces {
		a, _, _ := m.Triangle(i)
		in := false
		for _, c := range centres {
			in = in || a.Sub(c).Norm() < 6
		}
		if !in {
			out.Faces = append(out.Faces, f)
		}
	}
	for range 20 {
		k := uint32(len(out.Vertices))
		p := m.Vertices[rng.IntN(len(m.Vertices))]
		for range 3 {
			out.Vertices = append(out.Vertices, p.Add(mesh.Vec{X: 4 * rng.NormFloat64(), Y: 4 * rng.NormFloat64(), Z: 4 * rng.NormFloat64()}))
		}
		out.Faces = append(out.Faces, mesh.Face{k, k + 1, k + 2})
	}
	return out
}

// few asks a fit for two targets and two profile stations, which spares it the trial
// of others where their number is not what is tested.
var few = fit.Options{Targets: 2, Profiles: 2}

// facts returns a set that holds what a scan of the neck does not show.
func facts(n *neck.Neck) *readings.Set {
	s := n.Spec()
	return &readings.Set{File: "scan", Units: s.Units, Scale: s.Scale.Length, Frets: s.Scale.Frets, BoardEnd: s.BoardEnd(),
		Readings: []readings.Reading{{Kind: readings.BoardAt, Value: s.Board.Thickness, Sigma: 0.1}}}
}

// checkScan checks that a scan gave back the neck's depths within 0.05 mm and
// its fullness within 0.05.
func checkScan(t *testing.T, n *neck.Neck, r *Result) {
	t.Helper()
	got, err := neck.New(r.Spec)
	require.NoError(t, err)
	for _, fret := range []float64{1, 4, 8, 12} {
		x := n.Spec().FretX(fret)
		a, b := n.Section(x), got.Section(x)
		assert.InDelta(t, n.Depth(x), got.Depth(x), 0.05, "depth at fret %g", fret)
		assert.InDelta(t, a.Fullness(neck.MinusY), b.Fullness(neck.MinusY), 0.05, "bass at fret %g", fret)
		assert.InDelta(t, a.Fullness(neck.PlusY), b.Fullness(neck.PlusY), 0.05, "treble at fret %g", fret)
		assert.InDelta(t, a.HalfWidth, b.HalfWidth, 0.1, "half width at fret %g", fret)
	}
}

// TestScanRoundTrip checks that the mesh of a known spec, moved, turned and
// with errors of 0.05 mm in every coordinate, gives its depth and fullness
// back: with the board on, and bare wood with the rod channel. That, and the second
// turn of each, only with all cases.
func TestScanRoundTrip(t *testing.T) {
	t.Parallel()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	for _, part := range drawn.Some([]neck.Part{neck.PartBoth, neck.PartWood}, 1) {
		m, err := n.Solid(part, 0.005)
		require.NoError(t, err)
		for seed := range uint64(2) {
			if seed > 0 && !drawn.All() {
				break
			}
			scan := Options{}
			if part == neck.PartBoth {
				scan.Board = n.Spec().Board.Thickness
			}
			r, err := Scan(turned(m, seed, 0.05), facts(n), nil, scan, fit.Options{})
			require.NoError(t, err)
			checkScan(t, n, r)
			if part == neck.PartBoth {
				assert.InDelta(t, 305, r.Spec.Board.RadiusNut, 15)
				assert.InDelta(t, 406, r.Spec.Board.RadiusEnd, 20)
			}
		}
	}
}

// TestTornScan checks a scan with holes, specks and a coarser mesh, and one in
// inches. The torn ones only with all cases.
func TestTornScan(t *testing.T) {
	t.Parallel()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	m, err := n.Solid(neck.PartWood, 0.01)
	require.NoError(t, err)
	for seed := range uint64(2) {
		if !drawn.All() {
			break
		}
		r, err := Scan(torn(turned(m, 40+seed, 0.05), seed, 60), facts(n), nil, Options{}, fit.Options{})
		require.NoError(t, err)
		checkScan(t, n, r)
	}
	small := turned(m, 1, 0.03)
	for i, v := range small.Vertices {
		small.Vertices[i] = v.Scale(1 / spec.MillimetresPerInch)
	}
	r, err := Scan(small, facts(n), nil, Options{Millimetres: spec.MillimetresPerInch}, few)
	require.NoError(t, err)
	checkScan(t, n, r)
	_, err = Scan(small, facts(n), nil, Options{}, fit.Options{})
	assert.ErrorContains(t, err, "are the units of --units those of the scan?")
}

// TestGivenFrame checks a scan whose place is given, and that the place that is
// found elsewhere is the one that was hidden.
func TestGivenFrame(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	m, err := n.Solid(neck.PartWood, 0.01)
	require.NoError(t, err)
	frame, err := NewFrame(mesh.Vec{}, mesh.Vec{X: 2}, mesh.Vec{Z: 1})
	require.NoError(t, err)
	r, err := Scan(m, facts(n), nil, Options{Frame: &frame}, few)
	require.NoError(t, err)
	checkScan(t, n, r)

	f, err := findFrame(m, 0, nil, endClues{})
	require.NoError(t, err)
	assert.InDelta(t, 0, f.Origin.X, 0.5)
	assert.InDelta(t, 0, f.Origin.Y, 0.05)
	assert.InDelta(t, 0, f.Origin.Z, 0.02)
	assert.InDelta(t, 1, f.Along.X, 1e-6)
	assert.InDelta(t, 1, f.Up.Z, 1e-6)

	_, err = NewFrame(mesh.Vec{}, mesh.Vec{X: 1}, mesh.Vec{X: 1})
	assert.Error(t, err)
	_, err = NewFrame(mesh.Vec{}, mesh.Vec{}, mesh.Vec{X: 1})
	assert.Error(t, err)
}

// TestOtherNecks checks scans of other invented necks, with their own specs as
// a base for what a scan does not show. Their shapes change at other stations
// than those that the fit chooses, so that sections between differ a little. It runs
// only with DRAWN=all.
func TestOtherNecks(t *testing.T) {
	drawn.Only(t)
	t.Parallel()
	for _, name := range []string{"siskin", "heron", "redshank", "godwit"} {
		s, err := spec.ReadFile("../../../testdata/specs/" + name + ".toml")
		require.NoError(t, err)
		n, err := neck.New(s)
		require.NoError(t, err)
		// A scanner's points lie close, those of a coarse loft far apart along.
		m, err := n.Solid(neck.PartWood, 0.01)
		require.NoError(t, err)
		base := *s
		base.Depth = []spec.DepthTarget{{At: spec.AtFret(1), Total: 20}}
		base.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 2, Treble: 2}}
		if _, problems := neck.Check(&base); problems.Err() != nil {
			base = *s
		}
		r, err := Scan(turned(m, 5, 0.03), facts(n), &base, Options{}, fit.Options{})
		if !assert.NoError(t, err, name) {
			continue
		}
		got, err := neck.New(r.Spec)
		require.NoError(t, err)
		for _, fret := range []float64{2, 6, 10} {
			x := s.FretX(fret)
			a, b := n.Section(x), got.Section(x)
			if a.Blend() > 0 {
				continue
			}
			assert.InDelta(t, n.Depth(x), got.Depth(x), 0.08, "%s: depth at fret %g", name, fret)
			assert.InDelta(t, a.Area(), b.Area(), 0.008*a.Area(), "%s: area at fret %g", name, fret)
		}
	}
}

// TestNoScan checks what is said of a mesh that shows no neck.
func TestNoScan(t *testing.T) {
	n := readingstest.Known(t)
	rng := rand.New(rand.NewPCG(1, 2))
	soup := &mesh.Mesh{}
	for i := range 3000 {
		soup.Vertices = append(soup.Vertices, mesh.Vec{X: 500 * rng.Float64(), Y: 90 * rng.Float64(), Z: 90 * rng.Float64()})
		if i%3 == 2 {
			soup.Faces = append(soup.Faces, mesh.Face{uint32(i - 2), uint32(i - 1), uint32(i)})
		}
	}
	_, err := Scan(soup, facts(n), nil, Options{}, fit.Options{})
	assert.ErrorContains(t, err, "--origin")
	_, err = Scan(&mesh.Mesh{Vertices: []mesh.Vec{{}, {}, {}}, Faces: []mesh.Face{{0, 1, 2}}}, facts(n), nil, Options{}, fit.Options{})
	assert.ErrorContains(t, err, "no area")
	_, err = Scan(soup, &readings.Set{File: "scan"}, nil, Options{}, fit.Options{})
	assert.ErrorContains(t, err, "scale length")
	far := &Frame{Origin: mesh.Vec{X: 1e5}, Along: mesh.Vec{X: 1}, Up: mesh.Vec{Z: 1}}
	_, err = Scan(soup, facts(n), nil, Options{Frame: far}, fit.Options{})
	assert.ErrorContains(t, err, "no neck in the scan")
}

// TestPoorScan checks that a scan taken the wrong way round, whose heel passes
// for the neck, is said to be none. TestScanIsSteady takes it the right way.
func TestPoorScan(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	m, err := n.Solid(neck.PartWood, 0.05)
	require.NoError(t, err)
	r, err := Scan(turned(m, 3, 0.05), facts(n), nil, Options{Flip: true}, few)
	require.NoError(t, err)
	assert.Regexp(t, `^the scan lies [\d.]+ mm from the fitted neck (in the mean|at fret [\d.]+, most of its points there left out), which is far: do not carve by this spec`, r.Notes[0])
}

// TestScanIsSteady checks that the same scan gives the same neck.
func TestScanIsSteady(t *testing.T) {
	t.Parallel()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	m, err := n.Solid(neck.PartWood, 0.05)
	require.NoError(t, err)
	m = turned(m, 3, 0.05)
	var first string
	for range 2 {
		r, err := Scan(m, facts(n), nil, Options{}, few)
		require.NoError(t, err)
		assert.NotContains(t, strings.Join(r.Notes, "\n"), "which is far")
		var b strings.Builder
		require.NoError(t, r.WriteTOML(&b, strings.Join(r.Found, "\n")))
		if first == "" {
			first = b.String()
		}
		assert.Equal(t, first, b.String())
	}
}

// divided returns the mesh with every triangle cut into four.
func divided(m *mesh.Mesh) *mesh.Mesh {
	out := &mesh.Mesh{Vertices: append([]mesh.Vec(nil), m.Vertices...)}
	mid := make(map[[2]uint32]uint32)
	half := func(a, b uint32) uint32 {
		k := [2]uint32{min(a, b), max(a, b)}
		if i, ok := mid[k]; ok {
			return i
		}
		i := uint32(len(out.Vertices))
		out.Vertices = append(out.Vertices, m.Vertices[a].Add(m.Vertices[b]).Scale(0.5))
		mid[k] = i
		return i
	}
	for _, f := range m.Faces {
		a, b, c := half(f[0], f[1]), half(f[1], f[2]), half(f[2], f[0])
		out.Faces = append(out.Faces, mesh.Face{f[0], a, c}, mesh.Face{a, f[1], b}, mesh.Face{c, b, f[2]}, mesh.Face{a, b, c})
	}
	return out
}

func BenchmarkScan300k(b *testing.B) {
	n, err := neck.New(spec.Demo())
	require.NoError(b, err)
	m, err := n.Solid(neck.PartWood, 0.0023)
	require.NoError(b, err)
	m = turned(divided(m), 1, 0.05)
	for b.Loop() {
		_, err := Scan(m, facts(n), nil, Options{}, fit.Options{})
		require.NoError(b, err)
	}
	b.ReportMetric(float64(len(m.Faces)), "triangles")
}

// TestBoardOn checks that a scan with the board on is not taken for bare wood: a
// crowned board is refused, a flat one spoken of first. Without DRAWN=all it looks at
// the flattest crown, the hardest to tell, alone.
func TestBoardOn(t *testing.T) {
	t.Parallel()
	s := *spec.Demo()
	for _, radius := range []float64{184, 305, 508, 0} {
		if radius != 508 && !drawn.All() {
			continue
		}
		s.Board.RadiusNut, s.Board.RadiusEnd = radius, radius
		n, err := neck.New(&s)
		require.NoError(t, err)
		m, err := n.Solid(neck.PartBoth, 0.01)
		require.NoError(t, err)
		if radius == 0 {
			m = divided(m) // a scan has points all over a flat
		}
		r, err := Scan(turned(m, 3, 0.04), facts(n), nil, Options{}, fit.Options{})
		if radius > 0 {
			require.ErrorContains(t, err, "give --part both and the board's thickness with --board", "radius %g", radius)
			continue
		}
		require.NoError(t, err)
		assert.Contains(t, r.Notes[0], "does the scan show the board too?")
	}
	if !drawn.All() {
		return
	}
	// Bare wood is not taken for a board, dense as its flat may be.
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	m, err := n.Solid(neck.PartWood, 0.01)
	require.NoError(t, err)
	r, err := Scan(turned(divided(m), 4, 0.08), facts(n), nil, Options{}, fit.Options{})
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(r.Notes, " "), "--part both")
}

// TestScanWithDebris checks that a scan that shows more than the neck does not
// pass for one. It runs only with DRAWN=all.
func TestScanWithDebris(t *testing.T) {
	drawn.Only(t)
	t.Parallel()
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	m, err := n.Solid(neck.PartWood, 0.01)
	require.NoError(t, err)
	warned := 0
	for _, specks := range []int{1200, 12000, 60000} {
		// A vise's jaws about the middle of the neck, just off the wood.
		jaw := &mesh.Mesh{Vertices: append([]mesh.Vec(nil), m.Vertices...), Faces: append([]mesh.Face(nil), m.Faces...)}
		for i := range specks {
			x, a := 40+float64(i%250), 0.1+2.9*float64(i/250)*250/float64(specks)
			p := mesh.Vec{X: x, Y: -28 * math.Cos(a), Z: -19 * math.Sin(a)}
			k := uint32(len(jaw.Vertices))
			jaw.Vertices = append(jaw.Vertices, p, p.Add(mesh.Vec{X: 1.5}), p.Add(mesh.Vec{Y: 1, Z: -0.5}))
			jaw.Faces = append(jaw.Faces, mesh.Face{k, k + 1, k + 2})
		}
		r, err := Scan(turned(jaw, 5, 0.05), facts(n), nil, Options{}, fit.Options{})
		if err != nil || strings.Contains(strings.Join(r.Notes, "\n"), "o not carve by this spec") {
			warned++
			continue
		}
		checkScan(t, n, r) // else it must be right
	}
	assert.Positive(t, warned)
	clean, err := Scan(turned(m, 5, 0.05), facts(n), nil, Options{}, fit.Options{})
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(clean.Notes, "\n"), "Do not carve")
}

// TestScanEnds checks which end of a scan is taken for the nut, and that a neck
// whose two ends could both be it is not fitted nut for heel: one that narrows
// towards the body. A headstock, a width, a base or --flip tells.
//
// Long, since it is one table of cases.
// Without DRAWN=all it takes some of the cases.
func TestScanEnds(t *testing.T) {
	t.Parallel()
	solid := func(change func(s *spec.Spec)) (*neck.Neck, *mesh.Mesh) {
		s := *readingstest.Known(t).Spec()
		s.Depth = slices.Clone(s.Depth)
		change(&s)
		n, err := neck.New(&s)
		require.NoError(t, err)
		m, err := n.Solid(neck.PartWood, 0.02)
		require.NoError(t, err)
		return n, turned(divided(m), 6, 0.03)
	}
	narrows := func(s *spec.Spec) { s.Width.Nut, s.Width.End = 54, 45 }
	even := func(s *spec.Spec) { s.Depth[1].Total = s.Depth[0].Total }
	headed := func(s *spec.Spec) { s.Headstock = spec.Demo().Headstock }
	both := func(a, b func(*spec.Spec)) func(*spec.Spec) {
		return func(s *spec.Spec) { a(s); b(s) }
	}
	width := func(x, value float64) func(*readings.Set, *neck.Neck, *Options) *spec.Spec {
		return func(set *readings.Set, _ *neck.Neck, _ *Options) *spec.Spec {
			set.Readings = append(set.Readings, readings.Reading{Kind: readings.Width, At: spec.AtX(x), Placed: true, Value: value, Sigma: 0.1, Line: 2})
			return nil
		}
	}
	flip := func(wide bool) func(*readings.Set, *neck.Neck, *Options) *spec.Spec {
		return func(_ *readings.Set, _ *neck.Neck, o *Options) *spec.Spec {
			o.Flip, o.Ends = wide, true
			return nil
		}
	}
	cases := map[string]struct {
		change func(*spec.Spec)
		tell   func(*readings.Set, *neck.Neck, *Options) *spec.Spec
		errors []string
		note   bool
		whole  bool // fitted too
	}{
		"narrower to the body":            {change: narrows, errors: []string{"may be at either end", "the end that is 45.0", "but it is the thicker one", "--flip", "width at the nut"}},
		"the same with --flip":            {change: narrows, tell: flip(true), whole: true},
		"with a width at the nut":         {change: narrows, tell: width(0, 54), whole: true},
		"with a width at the body":        {change: narrows, tell: width(400, 46)},
		"with a headstock":                {change: both(narrows, headed)},
		"with its spec as base":           {change: narrows, tell: func(_ *readings.Set, n *neck.Neck, _ *Options) *spec.Spec { return n.Spec() }},
		"with a width that tells nothing": {change: narrows, tell: width(230, 49.5), errors: []string{"either end"}},
		"as usual":                        {change: func(*spec.Spec) {}, note: true, whole: true},
		"as usual, with a width":          {change: func(*spec.Spec) {}, tell: width(0, 42.8)},
		"as usual, and even":              {change: even, errors: []string{"as thick at the one as at the other", "--flip=false"}},
		"as usual, even, --flip=false":    {change: even, tell: flip(false)},
	}
	for _, name := range drawn.Keys(cases, 4) {
		c := cases[name]
		n, m := solid(c.change)
		set, scan := facts(n), Options{}
		var base *spec.Spec
		if c.tell != nil {
			base = c.tell(set, n, &scan)
		}
		f, err := findFrame(m, 0, nil, scan.clues(set, n.Spec(), base))
		if len(c.errors) > 0 {
			for _, want := range c.errors {
				assert.ErrorContains(t, err, want, name)
			}
			continue
		}
		if !assert.NoError(t, err, name) {
			continue
		}
		assert.InDelta(t, n.Spec().Width.Nut, f.width(0), 0.5, name)
		assert.Equal(t, c.note, strings.Contains(f.doubt, "no headstock and no width tell"), name)
		if !c.whole {
			continue
		}
		r, err := Scan(m, set, base, scan, few)
		require.NoError(t, err, name)
		got, err := neck.New(r.Spec)
		require.NoError(t, err)
		for _, fret := range []float64{1, 11} {
			x := n.Spec().FretX(fret)
			assert.InDelta(t, n.Depth(x), got.Depth(x), 0.1, "%s: fret %g", name, fret)
			assert.InDelta(t, n.Width(x), got.Width(x), 0.3, "%s: fret %g", name, fret)
		}
		assert.Equal(t, c.note, strings.Contains(strings.Join(r.Notes, "\n"), "no headstock and no width tell"), name)
	}
}

// TestScanPlaces checks where a scan is sliced: at every half fret from the
// first to the twelfth, to the last fret of a short neck, as asked, and no
// farther than the last half fret before the heel of a base.
func TestScanPlaces(t *testing.T) {
	s := *readingstest.Known(t).Spec()
	ends := func(o Options) [3]float64 {
		places := scanPlaces(&s, o)
		for i := range places[1:] {
			assert.InDelta(t, 0.5, places[i+1].Fret-places[i].Fret, 1e-12)
		}
		return [3]float64{places[0].Fret, places[len(places)-1].Fret, float64(len(places))}
	}
	assert.Equal(t, [3]float64{1, 12, 23}, ends(Options{}))
	assert.Equal(t, [3]float64{2, 9.5, 16}, ends(Options{From: 2, To: 9.5}))
	for _, c := range []struct{ start, last float64 }{{9.4, 9}, {9.6, 9.5}, {9.5, 9.5}, {14, 12}} {
		s.Heel = &spec.Heel{Start: spec.AtX(s.FretX(c.start) + 1e-6)}
		assert.Equal(t, c.last, ends(Options{})[1], "heel at fret %g", c.start)
	}
	assert.Equal(t, 11.0, ends(Options{From: 1, To: 11})[1], "as asked, heel or not")
	s.Heel, s.Scale.Frets = nil, 10
	assert.Equal(t, 10.0, ends(Options{})[1])
}

// TestScanPlaceDecimals checks that the place of a scan is printed to about a
// thousandth of a millimetre, whatever its unit, and to no more.
func TestScanPlaceDecimals(t *testing.T) {
	for unit, c := range map[string]struct {
		mm       float64
		decimals int
	}{"mm": {1, 3}, "": {0, 3}, "cm": {10, 4}, "in": {25.4, 5}, "m": {1000, 6}} {
		f := &found{width: func(float64) float64 { return 42 }}
		f.Frame = Frame{Origin: mesh.Vec{X: 1234.567891234, Y: -7.1, Z: 0}, Along: mesh.Vec{X: 1}, Up: mesh.Vec{Z: 1}}
		lines := f.describe(spec.Millimetre, Options{Millimetres: c.mm, Unit: unit})
		origin := strings.Fields(lines[len(lines)-1])
		xyz := strings.Split(origin[slices.Index(origin, "--origin")+1], ",")
		require.Len(t, xyz, 3)
		_, decimals, _ := strings.Cut(xyz[0], ".")
		assert.Len(t, decimals, c.decimals, unit)
		x, err := strconv.ParseFloat(xyz[0], 64)
		require.NoError(t, err)
		assert.InDelta(t, 1234.567891234, x*math.Max(1, c.mm), 0.0006+1e-9, unit)
	}
}
