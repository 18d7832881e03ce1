package render

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// comparison compares necks of the test specs at their usual stations, or at
// the given ones.
func comparison(t testing.TB, places []spec.Place, names ...string) *compare.Comparison {
	t.Helper()
	var necks []*neck.Neck
	for _, name := range names {
		s := spec.Demo()
		if name != "demo" {
			var err error
			s, err = spec.ReadFile("../testdata/specs/" + name + ".toml")
			require.NoError(t, err)
		}
		n, err := neck.New(s)
		require.NoError(t, err)
		necks = append(necks, n)
	}
	if places == nil {
		places = compare.Places(necks)
	}
	c, err := compare.New(necks, places)
	require.NoError(t, err)
	return c
}

// TestCompareLabelsKeepClear lays out every view for two to six necks at
// several sizes: no label may leave the page or touch another. Some of the sets only
// with all cases.
func TestCompareLabelsKeepClear(t *testing.T) {
	type set struct {
		places []spec.Place
		necks  string
	}
	sets := map[string]set{
		"two":     {nil, "demo siskin"},
		"bass":    {nil, "heron pipit nightjar"},
		"toy":     {nil, "goldcrest godwit"},
		"six":     {nil, "godwit pipit heron siskin nightjar dunnock"},
		"one":     {[]spec.Place{spec.AtFret(7)}, "demo redshank"},
		"missing": {[]spec.Place{spec.AtX(-20), spec.AtX(400)}, "demo pipit"},
		"four":    {[]spec.Place{spec.AtFret(1), spec.AtFret(3), spec.AtFret(5), spec.AtFret(9)}, "demo sanderling"},
	}
	for _, name := range drawn.Keys(sets, 2) {
		c := comparison(t, sets[name].places, strings.Fields(sets[name].necks)...)
		for _, p := range pagesToLayOut(name) {
			s, err := newCompareSheet(c, p.format, p.CompareOptions)
			require.NoError(t, err)
			page := drawing.NewBlank(vg.Length(s.width), vg.Length(s.height), s.em)
			s.draw(page, nil)
			assert.Empty(t, collisions(page.Labels(), s.width, s.height), "%s, %s %+v", name, p.format, p.CompareOptions)
		}
	}
}

// comparePage is a page of a comparison.
type comparePage struct {
	format string
	CompareOptions
}

// pagesToLayOut returns the pages that are tried for a set of necks. The
// narrowest are the hardest; the widest and the PDF are tried with six necks.
func pagesToLayOut(set string) []comparePage {
	views := []CompareView{CompareSheet, CompareSections, CompareAlong} // all of it holds nothing else
	if drawn.All() && (set == "two" || set == "six") {
		views = append(views, CompareSolids) // its maps take their time
	}
	var pages []comparePage
	for _, view := range views {
		narrow := comparePage{"png", CompareOptions{View: view, Width: 600}}
		pages = append(pages, narrow)
		if view == CompareSolids {
			continue
		}
		inch, wide, pdf := narrow, narrow, narrow
		inch.Unit = spec.Inch
		pages = append(pages, inch)
		if set == "six" {
			wide.Width, pdf.format = DefaultWidth, "pdf"
			pages = append(pages, wide, pdf)
		}
	}
	for _, p := range pages {
		if p.View == CompareSections {
			p.AlignApex = true
			pages = append(pages, p)
		}
	}
	return pages
}

// TestCompareFormats checks that each format is what it says and comes out the
// same twice: all but the first, and the solids, only with all cases.
func TestCompareFormats(t *testing.T) {
	rough(t)
	c := comparison(t, nil, "demo", "siskin")
	for view, formats := range map[CompareView][]string{
		CompareSheet:  {"png", "svg", "pdf"},
		CompareSolids: {"pdf"}, // with pictures in it
	} {
		if view == CompareSolids && !drawn.All() {
			continue // its maps take their time
		}
		for _, format := range formats {
			var out [2]bytes.Buffer
			for i := range out {
				if i > 0 && format != "png" && !drawn.All() {
					out[i] = *bytes.NewBuffer(out[0].Bytes())
					break
				}
				write, err := Compare(c, format, CompareOptions{View: view, Width: 700})
				require.NoError(t, err)
				require.NoError(t, write(&out[i]))
			}
			assert.True(t, bytes.Equal(out[0].Bytes(), out[1].Bytes()), "%s differs from run to run", format)
			switch format {
			case "png":
				img, err := png.Decode(&out[0])
				require.NoError(t, err)
				assert.Equal(t, 700, img.Bounds().Dx())
			case "pdf":
				assert.True(t, bytes.HasPrefix(out[0].Bytes(), []byte("%PDF-")))
				assert.True(t, bytes.HasSuffix(bytes.TrimSpace(out[0].Bytes()), []byte("%%EOF")))
			case "svg":
				d := xml.NewDecoder(&out[0])
				for {
					_, err := d.Token()
					if errors.Is(err, io.EOF) {
						break
					}
					require.NoError(t, err)
				}
			}
		}
	}
}

func TestCompareRefuses(t *testing.T) {
	c := comparison(t, nil, "demo", "siskin")
	for want, o := range map[string]CompareOptions{
		"cannot be 100 pixels wide": {Width: 100},
		"view 17 is unknown":        {View: 17},
	} {
		_, err := Compare(c, "png", o)
		assert.ErrorContains(t, err, want)
	}
	_, err := Compare(c, "bmp", CompareOptions{})
	assert.ErrorContains(t, err, `picture format "bmp" is unknown`)
	_, err = Compare(nil, "png", CompareOptions{})
	assert.Error(t, err)
	_, err = ParseCompareView("top")
	assert.ErrorContains(t, err, "allowed: sheet, sections, along, solids, all")
	_, err = ThicknessMap(c.Necks[0], 10, nil)
	assert.ErrorContains(t, err, "cannot be 10 pixels wide")
}

// TestCommon checks the intersection of two sections by counting random points.
func TestCommon(t *testing.T) {
	c := comparison(t, []spec.Place{spec.AtFret(3)}, "sanderling", "redshank")
	a := backOutline(&c.Stations[0].Sections[0].Section)
	b := backOutline(&c.Stations[0].Sections[1].Section)
	both := common(a, b)
	require.NotNil(t, both)
	r := rand.New(rand.NewPCG(1, 2))
	for range 20000 {
		p := neck.YZ{Y: 60 * (r.Float64() - 0.5), Z: -22 * r.Float64()}
		assert.Equal(t, holds(a, p) && holds(b, p), holds(both, p), "%v", p)
	}
	// In either direction, and apart.
	for i, j := 0, len(b)-1; i < j; i, j = i+1, j-1 {
		b[i], b[j] = b[j], b[i]
	}
	assert.InDelta(t, loopArea(both), loopArea(common(a, b)), 1e-9)
	for i := range b {
		b[i].Y += 500
	}
	assert.Nil(t, common(a, b))
}

// holds reports whether p lies in a polygon, by the crossings of a ray.
func holds(loop []neck.YZ, p neck.YZ) bool {
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Z > p.Z) != (b.Z > p.Z) && p.Y < a.Y+(p.Z-a.Z)/(b.Z-a.Z)*(b.Y-a.Y) {
			in = !in
		}
	}
	return in
}

func loopArea(loop []neck.YZ) float64 {
	sum := 0.0
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		sum += (a.Y*b.Z - b.Y*a.Z) / 2
	}
	return math.Abs(sum)
}

// TestOverlayTints looks for the tints of the differences where one section
// stands out, by the grid's own scale.
func TestOverlayTints(t *testing.T) {
	c := comparison(t, []spec.Place{spec.AtFret(7)}, "sanderling", "redshank")
	s, err := newCompareSheet(c, "png", CompareOptions{View: CompareSections, Width: 1200})
	require.NoError(t, err)
	page, img := drawing.NewPicture(s.width, s.height, s.em, inkColor, paperColor)
	s.draw(page, make([][]*image.NRGBA, len(s.panels)))

	f := s.panels[1].(*overlays).frames[0]
	look := func(y, z float64) color.NRGBA {
		return nrgba(img, int(f.X(y)), s.height-1-int(f.Y(z)))
	}
	// The figures of the grid stand where the frame says.
	found := 0
	for _, l := range page.Labels() {
		if l.Text == "-10" {
			x, y := (l.Box.Min.X+l.Box.Max.X)/2, (l.Box.Min.Y+l.Box.Max.Y)/2
			if math.Abs(float64(x-f.X(-10))) < 1 || math.Abs(float64(y-f.Y(-10))) < 1 {
				found++
			}
		}
	}
	assert.Equal(t, 2, found, "one under the grid and one beside it")
	secA, secB := &c.Stations[0].Sections[0], &c.Stations[0].Sections[1]
	dA, _ := secA.Section.DepthAt(0)
	dB, _ := secB.Section.DepthAt(0)
	require.Greater(t, dB, dA+2)
	near := func(got, want color.NRGBA) bool {
		d := func(a, b uint8) int { return int(a) - int(b) }
		return d(got.R, want.R)*d(got.R, want.R)+d(got.G, want.G)*d(got.G, want.G)+d(got.B, want.B)*d(got.B, want.B) < 400
	}
	// Hatching covers a part of it: look around.
	found = 0
	for i := range 40 {
		if near(look(1+0.07*float64(i), -(dA+dB)/2), styleOf(1).tint(0.22)) {
			found++
		}
	}
	assert.Greater(t, found, 15, "only B below A's apex")
	found = 0
	for i := range 40 {
		if near(look(1+0.07*float64(i), -dA/2), sharedFill) {
			found++
		}
	}
	assert.Greater(t, found, 35, "both inside")
}

// lab converts a colour to CIE L*a*b* (D65), by the formulas of sRGB (IEC
// 61966-2-1) and CIE 15.
func lab(rgb [3]float64) (l, a, b float64) {
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	x := (0.4124*rgb[0] + 0.3576*rgb[1] + 0.1805*rgb[2]) / 0.95047
	y := 0.2126*rgb[0] + 0.7152*rgb[1] + 0.0722*rgb[2]
	z := (0.0193*rgb[0] + 0.1192*rgb[1] + 0.9505*rgb[2]) / 1.08883
	return 116*f(y) - 16, 500 * (f(x) - f(y)), 200 * (f(y) - f(z))
}

func linear(c color.NRGBA) [3]float64 {
	one := func(v uint8) float64 {
		s := float64(v) / 255
		if s <= 0.04045 {
			return s / 12.92
		}
		return math.Pow((s+0.055)/1.055, 2.4)
	}
	return [3]float64{one(c.R), one(c.G), one(c.B)}
}

// deficiencies are the matrices of Machado, Oliveira and Fernandes, "A
// physiologically-based model for simulation of color vision deficiency"
// (2009), at full severity, from memory, for linear RGB.
var deficiencies = map[string][3][3]float64{
	"none":          {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protanopia":    {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deuteranopia":  {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritanopia":    {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	"achromatopsia": {{0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}, {0.2126, 0.7152, 0.0722}},
}

// TestStylesAreDistinct checks every pair of the six lines: apart in colour for
// each kind of eye, or, for one that sees only grey, by lightness; dashes
// differ in every case, and each line stands out from the paper.
func TestStylesAreDistinct(t *testing.T) {
	for kind, m := range deficiencies {
		seen := func(c color.NRGBA) [3]float64 {
			v, out := linear(c), [3]float64{}
			for i := range out {
				for j := range v {
					out[i] += m[i][j] * v[j]
				}
				out[i] = math.Max(0, math.Min(1, out[i]))
			}
			return out
		}
		lp, ap, bp := lab(seen(paperColor))
		for i, s := range styles {
			l1, a1, b1 := lab(seen(s.color))
			assert.Greater(t, math.Sqrt((l1-lp)*(l1-lp)+(a1-ap)*(a1-ap)+(b1-bp)*(b1-bp)), 30.0, "%s: %s on paper", kind, compare.LetterOf(i))
			for j, o := range styles[:i] {
				l2, a2, b2 := lab(seen(o.color))
				d := math.Sqrt((l1-l2)*(l1-l2) + (a1-a2)*(a1-a2) + (b1-b2)*(b1-b2))
				// 2.3 is a just noticeable difference (Mahy, Van Eycken and
				// Oosterlinck 1994).
				assert.Greater(t, d, 7.0, "%s: %s and %s", kind, compare.LetterOf(j), compare.LetterOf(i))
				assert.NotEqual(t, s.dash, o.dash, "%s and %s", compare.LetterOf(j), compare.LetterOf(i))
			}
		}
	}
}

// TestRampsRise checks that the colours of maps get lighter from band to band,
// enough to be told apart in grey.
func TestRampsRise(t *testing.T) {
	for _, stops := range [][]color.NRGBA{differenceStops, thicknessStops} {
		r := &ramp{lo: -4.5, hi: 4.5, bands: 9, stops: stops}
		last := -10.0
		for i := range r.bands {
			l, _, _ := lab(linear(r.color(i)))
			assert.Greater(t, l, last+4, "band %d", i)
			last = l
		}
		assert.Equal(t, 0, r.band(-100))
		assert.Equal(t, 8, r.band(100))
		assert.Equal(t, 4, r.band(0))
		assert.Equal(t, 5, r.band(0.51))
		assert.InDelta(t, -4.5, r.edge(0), 1e-12)
		assert.InDelta(t, 0.5, r.edge(5), 1e-12)
	}
}

// TestDifferenceMapColors draws the map of a half cylinder against one a
// millimetre wider: every pixel of the back has the colour of -1.
func TestDifferenceMapColors(t *testing.T) {
	rough(t)
	cylinder := func(r float64) *neck.Neck {
		s := &spec.Spec{
			Name:    "plain",
			Scale:   spec.Scale{Length: 600, Frets: 12},
			Width:   spec.Width{Nut: 2 * r, End: 2 * r, PastLastFret: 20},
			Board:   spec.Board{Thickness: 6},
			Depth:   []spec.DepthTarget{{At: spec.AtFret(1), Total: r + 6}},
			Profile: []spec.ProfileStation{{At: spec.AtFret(0), Bass: 2, Treble: 2}},
			Wood:    spec.Wood{Species: "sugar maple"},
		}
		n, err := neck.New(s)
		require.NoError(t, err)
		return n
	}
	c, err := compare.New([]*neck.Neck{cylinder(20), cylinder(21)}, []spec.Place{spec.AtFret(1)})
	require.NoError(t, err)
	h := newDifferenceMap(c, 1, spec.Millimetre)
	band := h.ramp.band(-1)
	assert.InDelta(t, -1, (h.ramp.edge(band)+h.ramp.edge(band+1))/2, (h.ramp.hi-h.ramp.lo)/9)
	s := &sheet{look: mapLook, width: 480, density: 1}
	require.NoError(t, s.lay([]panel{h}))
	images, err := s.take(t.Context())
	require.NoError(t, err)
	back := images[0][1]
	want := h.ramp.color(band)
	got := nrgba(back, back.Bounds().Dx()/2, back.Bounds().Dy()/2)
	assert.InDelta(t, want.R, got.R, 3)
	assert.InDelta(t, want.G, got.G, 3)
	assert.InDelta(t, want.B, got.B, 3)
}

// TestSigned checks the figures of differences.
func TestSigned(t *testing.T) {
	assert.Equal(t, "+0.8", signed(0.8, spec.Millimetre))
	assert.Equal(t, "−1.25", signed(-1.25, spec.Millimetre))
	assert.Equal(t, "0", signed(-0.001, spec.Millimetre))
	assert.Equal(t, "+0.031", signed(0.8, spec.Inch))
}

func BenchmarkCompare(b *testing.B) {
	c := comparison(b, nil, "demo", "siskin")
	for _, view := range []CompareView{CompareSheet, CompareSolids, CompareAll} {
		b.Run(compareViewNames[view], func(b *testing.B) {
			for b.Loop() {
				write, err := Compare(c, "png", CompareOptions{View: view})
				if err == nil {
					err = write(io.Discard)
				}
				if err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkThicknessMap(b *testing.B) {
	n := demo(b)
	for b.Loop() {
		if _, err := ThicknessMap(n, 0, nil); err != nil {
			b.Fatal(err)
		}
	}
}

// TestChord clips lines by a square in either direction.
func TestChord(t *testing.T) {
	square := []vg.Point{{X: 0, Y: 0}, {X: 10, Y: 0}, {X: 10, Y: 10}, {X: 0, Y: 10}}
	for range 2 {
		a, b, ok := chord(square, vg.Point{X: -5, Y: 5}, vg.Point{X: 15, Y: 5})
		assert.True(t, ok)
		assert.Equal(t, []vg.Point{{X: 0, Y: 5}, {X: 10, Y: 5}}, []vg.Point{a, b})
		a, b, ok = chord(square, vg.Point{X: 5, Y: 5}, vg.Point{X: 5, Y: 20})
		assert.True(t, ok)
		assert.Equal(t, []vg.Point{{X: 5, Y: 5}, {X: 5, Y: 10}}, []vg.Point{a, b})
		_, _, ok = chord(square, vg.Point{X: -5, Y: 11}, vg.Point{X: 15, Y: 11})
		assert.False(t, ok)
		_, _, ok = chord(square, vg.Point{X: -5, Y: 4}, vg.Point{X: 4, Y: -5})
		assert.False(t, ok)
		square[1], square[3] = square[3], square[1]
	}
}

// The facts of a neck are in the unit that its tools print in.
func TestCompareFactsUnit(t *testing.T) {
	s := spec.Demo()
	for print, want := range map[string]string{"": "636 mm scale", "mm": "636 mm scale", "in": "25.0394 in scale"} {
		s.Tools = &spec.Tools{Print: print}
		n, err := neck.New(s)
		require.NoError(t, err)
		assert.Contains(t, compareFacts(n), want)
	}
}
