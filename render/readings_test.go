package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/fit/progress"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// carvedSet returns readings of a workpiece at some frets: a total each, and
// points points from side to side, with remaining(fret, angle) still to come off.
func carvedSet(n *neck.Neck, frets []float64, points int, remaining func(fret, angle float64) float64) *readings.Set {
	s := n.Spec()
	set := &readings.Set{File: "carve.csv", Units: s.Units}
	add := func(r readings.Reading) {
		r.Placed, r.Sigma, r.Line = true, r.Kind.Sigma(), len(set.Readings)+2
		set.Readings = append(set.Readings, r)
	}
	for _, fret := range frets {
		at := spec.AtFret(fret)
		x := s.X(at)
		sec := n.Section(x)
		add(readings.Reading{Kind: readings.Total, At: at, Value: n.Total(x) + remaining(fret, math.Pi/2)})
		add(readings.Reading{Kind: readings.Width, At: at, Value: n.Width(x) + 0.2})
		for i := range points {
			angle := math.Pi * (float64(i) + 0.5) / float64(points)
			side, a := neck.MinusY, angle
			if angle > math.Pi/2 {
				side, a = neck.PlusY, math.Pi-angle
			}
			q, d := sec.Point(side, a), remaining(fret, angle)
			add(readings.Reading{Kind: readings.Point, At: at, Y: q.Y + side.Sign()*d*math.Cos(a), Value: math.Max(0, -(q.Z - d*math.Sin(a)))})
		}
	}
	return set
}

// readingSheets are pages of every kind: few and many stations, dense points,
// wild readings, a spec in inches, a long name.
func readingSheets(t *testing.T) map[string]func() *readingSheet {
	t.Helper()
	rng := rand.New(rand.NewPCG(8, 1))
	noise := make([]float64, 4000)
	for i := range noise {
		noise[i] = rng.NormFloat64()
	}
	out := make(map[string]func() *readingSheet)
	follow := func(name string, n *neck.Neck, set *readings.Set) {
		p, err := progress.Follow(n, set, progress.DefaultTolerance)
		require.NoError(t, err, name)
		out[name] = func() *readingSheet { return progressSheet(p, p.Neck.Spec().Units) }
	}
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	k := 0
	rough := func(size, mean float64) func(float64, float64) float64 {
		return func(float64, float64) float64 { k++; return mean + size*noise[k%len(noise)] }
	}
	follow("one station", n, carvedSet(n, []float64{5}, 9, rough(0.2, 0.3)))
	follow("dense", n, carvedSet(n, []float64{1, 5, 12}, 31, rough(0.3, 0.2)))
	follow("wild", n, carvedSet(n, []float64{1, 3, 5, 7, 9, 12}, 7, rough(3, 0)))
	follow("on target", n, carvedSet(n, []float64{1, 12}, 9, rough(0, 0)))
	var every []float64
	for f := range 23 {
		every = append(every, float64(f))
	}
	follow("every fret", n, carvedSet(n, every, 7, rough(0.3, 0.4)))
	s := *spec.Demo()
	s.Units, s.Name = spec.Inch, strings.Repeat("A long name ", 8)
	inches, err := neck.New(&s)
	require.NoError(t, err)
	follow("inches", inches, carvedSet(inches, []float64{1, 2, 3, 4, 5, 6, 7, 8, 9}, 7, rough(0.3, 0.4)))

	set, err := readings.ReadFile("../testdata/readings/old-flat-top.csv")
	require.NoError(t, err)
	r, err := fit.Fit(set, nil, fit.Options{})
	require.NoError(t, err)
	out["fit"] = func() *readingSheet {
		sheet, err := fitSheet(r, r.Spec.Units)
		require.NoError(t, err)
		return sheet
	}
	set, err = readings.ReadFile("../testdata/readings/tern-third-evening.csv")
	require.NoError(t, err)
	follow("example", n, set)
	return out
}

// TestReadingLabelsKeepClear checks that no figure or caption leaves the page
// or touches another, at several sizes, and that a figure is left out only
// where points lie as dense as figures.
// Without DRAWN=all it takes some of the cases.
func TestReadingLabelsKeepClear(t *testing.T) {
	sheets := readingSheets(t)
	for _, name := range drawn.Keys(sheets, 3) {
		sheet := sheets[name]
		for _, w := range []int{MinWidth, 900, DefaultWidth} {
			s := sheet()
			p, img, err := s.page(w)
			require.NoError(t, err, "%s, %d wide", name, w)
			h := img.Bounds().Dy()
			assert.Empty(t, collisions(p.Labels(), w, h), "%s, %d x %d", name, w, h)
			if w == DefaultWidth && name != "dense" {
				assert.Zero(t, s.silent, name)
			}
		}
	}
}

// TestReadingFigures checks that the pictures say what the tables say.
func TestReadingFigures(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	set := carvedSet(n, []float64{5}, 3, func(_, angle float64) float64 {
		return map[bool]float64{true: 0.47, false: -0.83}[angle < 1]
	})
	p, err := progress.Follow(n, set, 0.1)
	require.NoError(t, err)
	page, img, err := progressSheet(p, p.Neck.Spec().Units).page(0)
	require.NoError(t, err)
	var text []string
	for _, l := range page.Labels() {
		text = append(text, l.Text)
	}
	all := strings.Join(text, "\n")
	for _, want := range []string{
		"Tern 636: what is still to come off", "2 to come off, 0 on target, 3 below", "fret 5",
		"0.47", "0.83", "total 20.56, target 21.39: 0.83 below", "0.10 off each side",
		"target", "to come off", "below target", "bars drawn", "bass", "treble", "lengths in millimetres",
	} {
		assert.Contains(t, all, want)
	}
	assert.NotContains(t, all, "without room")
	// Both colours are on the page, and none of what is on target but the key.
	assert.Greater(t, inked(img, remainingColor), 100)
	assert.Greater(t, inked(img, belowColor), 100)
}

// TestBarsStandOnTheSurface looks at the pixels where a bar of a known length
// must end: so many times its length outside the target as the key says.
func TestBarsStandOnTheSurface(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	set := carvedSet(n, []float64{5}, 0, func(float64, float64) float64 { return 0.6 })
	set.Readings = set.Readings[:1]
	p, err := progress.Follow(n, set, 0.1)
	require.NoError(t, err)
	s := progressSheet(p, p.Neck.Spec().Units)
	page, img, err := s.page(1200)
	require.NoError(t, err)
	require.Greater(t, s.magnify, 1.0)
	// The rows that the bar's colour reaches in its column, from the foot down.
	sec := n.Section(n.Spec().FretX(5))
	f0, f1 := sec.Flat()
	x := float64(s.edge+s.cell/2) + float64(s.scale)*(f0+f1)/2
	top := float64(img.Bounds().Dy()) // find the extent of the colour
	bottom := 0.0
	line, gap := 0, 0
	for y := range img.Bounds().Dy() {
		if !near(img.At(int(math.Round(x)), y), remainingColor) {
			gap++
			continue
		}
		if line == 0 || gap < 3 { // the figure stands apart
			line, gap = line+1, 0
			top, bottom = math.Min(top, float64(y)), math.Max(bottom, float64(y))
		}
	}
	want := 0.6 * s.magnify * float64(s.scale)
	assert.InDelta(t, want, bottom-top, 0.5*float64(page.Em), "from the target to the reading")
}

func near(c color.Color, want color.NRGBA) bool {
	r, g, b, _ := c.RGBA()
	d := func(a uint32, b uint8) int { return int(math.Abs(float64(a>>8) - float64(b))) }
	return d(r, want.R)+d(g, want.G)+d(b, want.B) < 12
}

func inked(img image.Image, want color.NRGBA) int {
	n := 0
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if near(img.At(x, y), want) {
				n++
			}
		}
	}
	return n
}

// TestReadingPicturesAreSteady checks that the same readings give the same
// pixels.
func TestReadingPicturesAreSteady(t *testing.T) {
	for name, sheet := range readingSheets(t) {
		if name == "every fret" || name == "dense" {
			continue
		}
		first, err := sheet().draw(700)
		require.NoError(t, err)
		again, err := sheet().draw(700)
		require.NoError(t, err)
		assert.True(t, reflect.DeepEqual(first, again), name)
	}
}

// TestReadingPictureSizes checks the widths that are refused, and the stations
// that are not shown.
func TestReadingPictureSizes(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	set := &readings.Set{}
	for i := range 40 {
		at := spec.AtX(10 + 10*float64(i))
		set.Readings = append(set.Readings, readings.Reading{Kind: readings.Wood, At: at, Placed: true, Value: n.Depth(at.X) + 0.3, Line: i})
	}
	p, err := progress.Follow(n, set, 0.1)
	require.NoError(t, err)
	for _, w := range []int{-1, 1, MaxSide + 1} {
		_, err := ProgressPicture(p, spec.Millimetre, w)
		assert.ErrorContains(t, err, "allowed", "%d", w)
	}
	page, _, err := progressSheet(p, p.Neck.Spec().Units).page(900)
	require.NoError(t, err)
	found := false
	for _, l := range page.Labels() {
		found = found || strings.Contains(l.Text, fmt.Sprintf("%d stations more not shown", 40-maxReadingCells))
	}
	assert.True(t, found, "what is not shown is said")
}

// TestReadingFiguresApart checks that figures of a contour of 13 points leave
// room between them, and that none stands on the middle line of its section.
func TestReadingFiguresApart(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	set := &readings.Set{}
	at := spec.AtFret(5)
	sec := n.Section(n.Spec().X(at))
	for i := range 15 {
		a := math.Pi * (float64(i) + 0.5) / 15
		side := neck.MinusY
		if a > math.Pi/2 {
			side, a = neck.PlusY, math.Pi-a
		}
		q := sec.Point(side, a)
		d := 0.45 + 0.05*float64(i%2)
		set.Readings = append(set.Readings, readings.Reading{Kind: readings.Point, At: at, Placed: true, Line: i + 2,
			Y: q.Y + side.Sign()*d*math.Cos(a), Value: -q.Z + d*math.Sin(a)})
	}
	p, err := progress.Follow(n, set, progress.DefaultTolerance)
	require.NoError(t, err)
	for _, unit := range []spec.Unit{spec.Millimetre, spec.Inch} {
		page, _, err := progressSheet(p, unit).page(0)
		require.NoError(t, err)
		var figures []drawing.Label
		for _, l := range page.Labels() {
			if strings.HasPrefix(l.Text, "0.") {
				figures = append(figures, l)
			}
		}
		require.Greater(t, len(figures), 10)
		for i, a := range figures {
			for _, b := range figures[:i] {
				apart := max(a.Box.Min.X-b.Box.Max.X, b.Box.Min.X-a.Box.Max.X)
				level := min(a.Box.Max.Y, b.Box.Max.Y) > max(a.Box.Min.Y, b.Box.Min.Y)
				assert.False(t, level && apart < page.Em*0.25, "%s and %s", a.Text, b.Text)
			}
		}
	}
}

// TestCentreMark checks that a thickness on the centreline is drawn there, from
// the target's surface down to where the back was read, and not at the deepest
// point.
func TestCentreMark(t *testing.T) {
	s := spec.Demo()
	s.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 1.5, Treble: 2.5, Apex: 8}}
	n, err := neck.New(s)
	require.NoError(t, err)
	x := s.FretX(5)
	sec := n.Section(x)
	deep, _ := sec.DepthAt(0)
	for _, remaining := range []float64{0.7, -0.7} {
		at := spec.AtFret(5)
		set := &readings.Set{File: "carve.csv", Readings: []readings.Reading{
			{Kind: readings.Centre, At: at, Placed: true, Sigma: 0.1, Line: 2, Value: deep + s.Board.Thickness + remaining},
			{Kind: readings.Total, At: at, Placed: true, Sigma: 0.1, Line: 3, Value: n.Total(x) + remaining},
		}}
		p, err := progress.Follow(n, set, 0.1)
		require.NoError(t, err)
		sheet := progressSheet(p, spec.Millimetre)
		cell := sheet.cells[0]
		require.Len(t, cell.marks, 2)
		m := cell.marks[0]
		assert.InDelta(t, 0, m.foot.Y, 1e-12)
		assert.InDelta(t, -deep, m.foot.Z, 1e-9)
		assert.InDelta(t, 0, m.at.Y, 1e-12)
		assert.InDelta(t, -deep-remaining, m.at.Z, 1e-9)
		assert.InDelta(t, remaining, m.off, 1e-9)
		assert.InDelta(t, math.Pi/2, m.phi, 1e-12, "straight down")
		assert.Equal(t, "0.7", m.label)
		assert.InDelta(t, 8, cell.marks[1].foot.Y, 1e-9)
		text := cell.captions[0].text
		assert.Contains(t, text, "centre ")
		assert.Contains(t, text, "0.7")
	}
}
