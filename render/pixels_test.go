package render

import (
	"context"
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/fogleman/fauxgl"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// taken draws a view and returns it with its layout.
func taken(t *testing.T, n *neck.Neck, opts Options) (*layout, *drawing.Page, image.Image) {
	t.Helper()
	l, err := newLayout(n, opts)
	require.NoError(t, err)
	page, img, err := l.picture(context.Background())
	require.NoError(t, err)
	return l, page, img
}

// findLabel returns the first label with the given text.
func findLabel(t *testing.T, p *drawing.Page, text string) drawing.Label {
	t.Helper()
	for _, l := range p.Labels() {
		if l.Text == text {
			return l
		}
	}
	require.Fail(t, "no label", text)
	return drawing.Label{}
}

// run returns the extent of the row y in which pixels have the colour c, from
// x0 to x1.
func run(img image.Image, y, x0, x1 int, c color.NRGBA) (lo, hi int) {
	lo, hi = -1, -1
	for x := x0; x < x1; x++ {
		if nrgba(img, x, y) == c {
			if lo < 0 {
				lo = x
			}
			hi = x + 1
		}
	}
	return lo, hi
}

// TestSectionsToScale measures the picture as a builder would with a ruler: the
// width of a section over that of the scale bar.
func TestSectionsToScale(t *testing.T) {
	n := demo(t)
	l, page, img := taken(t, n, Options{View: ViewSections})
	row := func(y float64) int { return l.height - 1 - int(y) }

	// The foot of the bar is a line of ink from its zero to its end.
	zero := findLabel(t, page, "0").Box
	end := findLabel(t, page, "50 mm").Box
	left := int(zero.Min.X+zero.Max.X) / 2
	var bar0, bar1 int
	for y := row(float64(zero.Min.Y)); y < l.height; y++ {
		a, b := run(img, y, left-4, int(end.Max.X), inkColor)
		if b-a > bar1-bar0 {
			bar0, bar1 = a, b
		}
	}
	perMillimetre := float64(bar1-bar0) / 50

	c := l.cuts[0]
	s := l.panels[1].(*sections)
	f := s.frame(0)
	// The glue plane of the first section, from the label of its width.
	width := findLabel(t, page, number(n.Width(c.x), spec.Millimetre)+" wide").Box
	level := float64(width.Min.Y+width.Max.Y) / 2
	middle := int(f.Origin.X)
	glue := -1
	for y := row(level); y < l.height; y++ {
		if nrgba(img, middle+int(0.7*20), y) == boardFill {
			glue = y + 1
		}
	}
	require.Positive(t, glue)

	// Through the board a few pixels above the glue plane. The outline covers
	// half its weight on either side.
	outline := 0.09 * float64(l.em)
	x0, x1 := run(img, glue-12, middle-int(s.cell/2), middle+int(s.cell/2), boardFill)
	assert.InDelta(t, 2*n.BoardHalfWidth(c.x), (float64(x1-x0)+outline)/perMillimetre, 2/perMillimetre)

	// Down through the wood, between the channel and the edge.
	y := c.channel.Y + 4
	depth, ok := sectionAt(n, c.x).DepthAt(y)
	require.True(t, ok)
	column := int(math.Round(float64(f.X(y))))
	last := 0
	for py := glue; py < l.height; py++ {
		switch p := nrgba(img, column, py); {
		case p == woodFill:
			last = py
		case p == paperColor:
			py = l.height
		}
	}
	assert.InDelta(t, depth, (float64(last+1-glue)+outline)/perMillimetre, 5/perMillimetre)

	// In the channel is nothing; below the section neither.
	assert.Equal(t, paperColor, nrgba(img, int(f.X(n.Spec().Rod.Width/4)), glue+int(4*perMillimetre)))
}

func sectionAt(n *neck.Neck, x float64) *neck.Section {
	s := n.Section(x)
	return &s
}

// TestElevationsToScale measures the solid's pictures: their silhouettes must
// be those of the exact surface.
// Without DRAWN=all it takes some of the cases.
func TestElevationsToScale(t *testing.T) {
	specs := map[string]*spec.Spec{"demo": spec.Demo(), "inches": readSpec(t, "siskin")}
	for _, name := range drawn.Keys(specs, 1) {
		spec := specs[name]
		n, err := neck.New(spec)
		require.NoError(t, err)
		s, err := newScene(n, 0.05)
		require.NoError(t, err)
		x := spec.X(spec.Depth[1].At)

		elevation := newSide(n, 1)
		elevation.e.fit(0, 1500, 1e6)
		back := newTopView(n, ViewBack, 1)
		back.e.fit(0, 1500, 1e6)
		bare := newTopView(n, ViewBare, 1)
		bare.e.fit(0, 1500, 1e6)
		imgs, err := take(context.Background(), s, []shot{elevation.e.shot(), back.e.shot(), bare.e.shot()}, func() {})
		require.NoError(t, err)

		assert.InDelta(t, n.Total(x), coverage(imgs[0], elevation.e, x), 0.1, "%s: total at %g", name, x)
		assert.InDelta(t, n.Width(x), coverage(imgs[1], back.e, x), 0.1, "%s: width at %g", name, x)
		assert.InDelta(t, n.Width(-1), coverage(imgs[2], bare.e, -1), 0.1, "%s: width before the nut", name)

		// The channel is darker than the wood around it, and just as wide.
		r := spec.Rod
		column := int(math.Round(float64(bare.e.frame.X(x) - bare.e.pixelX)))
		dark, floor := 0, imgs[2].NRGBAAt(column, imgs[2].Rect.Dy()/2)
		for y := range imgs[2].Rect.Dy() {
			if p := imgs[2].NRGBAAt(column, y); p.A == 255 && math.Abs(float64(p.R)-float64(floor.R)) < 12 {
				dark++
			}
		}
		assert.InDelta(t, r.Width*float64(bare.e.frame.Scale), float64(dark), 2.5, name)
		assert.Less(t, floor.R, imgs[2].NRGBAAt(column, imgs[2].Rect.Dy()/4).R)
	}
}

// readSpec reads a spec of the test data.
func readSpec(t *testing.T, name string) *spec.Spec {
	t.Helper()
	s, err := spec.ReadFile("../testdata/specs/" + name + ".toml")
	require.NoError(t, err)
	return s
}

// coverage returns how much of the column at x the solid covers, in mm.
func coverage(img *image.NRGBA, e elevation, x float64) float64 {
	column := int(math.Floor(float64(e.frame.X(x) - e.pixelX)))
	sum := 0.0
	for y := range img.Rect.Dy() {
		sum += float64(img.NRGBAAt(column, y).A) / 255
	}
	return sum / float64(e.frame.Scale)
}

// TestEdgesAreSmooth draws a slanted edge: its pixels take intermediate
// coverage, and the mean coverage is the area of the solid.
func TestEdgesAreSmooth(t *testing.T) {
	n := demo(t)
	s, err := newScene(n, 0.05)
	require.NoError(t, err)
	back := newTopView(n, ViewBack, 1)
	back.e.fit(0, 900, 1e6)
	imgs, err := take(context.Background(), s, []shot{back.e.shot()}, func() {})
	require.NoError(t, err)
	shades := map[uint8]bool{}
	sum := 0.0
	for i := 3; i < len(imgs[0].Pix); i += 4 {
		shades[imgs[0].Pix[i]] = true
		sum += float64(imgs[0].Pix[i]) / 255
	}
	assert.GreaterOrEqual(t, len(shades), 9)
	// The silhouette's area: the wood's width integrated along the neck (the
	// demo's board nowhere overhangs it).
	area := 0.0
	const steps = 20000
	dx := (n.End() - n.Start()) / steps
	for i := range steps {
		area += dx * n.Width(n.Start()+dx*(float64(i)+0.5))
	}
	k := float64(back.e.frame.Scale)
	assert.InEpsilon(t, area, sum/(k*k), 5e-4)
}

// TestHeroShowsTheBack checks the camera of the three-quarter view: it sees the
// back, the treble side and the headstock's end, the headstock nearer.
func TestHeroShowsTheBack(t *testing.T) {
	n := demo(t)
	s, err := newScene(n, 0.1)
	require.NoError(t, err)
	c := newHero(s, 0.4).camera
	for _, pair := range [][2]mesh.Vec{{c.right, c.up}, {c.up, c.back}, {c.back, c.right}} {
		assert.InDelta(t, 0, pair[0].Dot(pair[1]), 1e-12)
		assert.InDelta(t, 1, pair[0].Norm(), 1e-12)
	}
	assert.InDelta(t, 1, c.right.Cross(c.up).Dot(c.back), 1e-12)
	assert.Negative(t, c.back.Z)
	assert.Positive(t, c.back.Y)
	assert.Negative(t, c.back.X)
	head, heel := c.eye(mesh.Vec{X: n.Start()}), c.eye(mesh.Vec{X: n.End()})
	assert.Greater(t, head.Z, heel.Z)
	assert.Less(t, head.X, heel.X)
	assert.Less(t, head.Y, heel.Y)
}

// TestMatrixProjects holds the matrix of the shader against the plain
// projection.
func TestMatrixProjects(t *testing.T) {
	lo, hi := mesh.Vec2{X: -31, Y: -7}, mesh.Vec2{X: 44, Y: 19}
	for _, distance := range []float64{0, 900} {
		c := threeQuarter(0.9, 0.5, 0.2, mesh.Vec{X: 10, Y: 2, Z: -3}, distance)
		m := c.matrix(lo, hi, 300, -300)
		for _, p := range []mesh.Vec{{X: 5, Y: 6, Z: 7}, {X: -170, Y: 30, Z: -40}, {X: 200, Y: 0, Z: 1}} {
			q := c.project(p)
			w := m.MulPositionW(fauxgl.Vector(p))
			x := lo.X + (w.X/w.W+1)/2*(hi.X-lo.X)
			y := lo.Y + (w.Y/w.W+1)/2*(hi.Y-lo.Y)
			assert.InDelta(t, q.X, x, 1e-9)
			assert.InDelta(t, q.Y, y, 1e-9)
		}
		depth := func(z float64) float64 {
			w := m.MulPositionW(fauxgl.Vector(c.target.Add(c.back.Scale(z))))
			return w.Z / w.W
		}
		assert.InDelta(t, -1, depth(300), 1e-9)
		assert.InDelta(t, 1, depth(-300), 1e-9)
		assert.Less(t, depth(10), depth(-10))
	}
}
