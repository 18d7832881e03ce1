package drawing

import (
	"bytes"
	"image"
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
)

var (
	ink   = color.NRGBA{20, 30, 40, 255}
	paper = color.NRGBA{250, 250, 245, 255}
)

// inked returns the bounds of the pixels of img that are not paper, in page
// coordinates.
func inked(img image.Image) (r vg.Rectangle, ok bool) {
	b := img.Bounds()
	r = vg.Rectangle{Min: Pt(math.MaxFloat64, math.MaxFloat64), Max: Pt(-1, -1)}
	for y := range b.Dy() {
		for x := range b.Dx() {
			if color.NRGBAModel.Convert(img.At(x, y)) != color.Color(paper) {
				ok = true
				top := vg.Length(b.Dy() - y)
				r.Min.X, r.Max.X = min(r.Min.X, vg.Length(x)), max(r.Max.X, vg.Length(x+1))
				r.Min.Y, r.Max.Y = min(r.Min.Y, top-1), max(r.Max.Y, top)
			}
		}
	}
	return r, ok
}

// TestTextFillsItsBox draws text and looks where its ink is: within the box
// that the page remembers, and reaching its sides.
func TestTextFillsItsBox(t *testing.T) {
	for _, s := range []string{"Hdlpg", "fret 12", "wood 16.85", "11° · Äß", "(x −1.5)…", "0"} {
		for _, w := range []Weight{Regular, Medium} {
			for _, size := range []float64{0.5, 1, 2.3} {
				p, img := NewPicture(600, 120, 20, ink, paper)
				box := p.DrawText(Pt(300, 60), s, Text{Weight: w, Scale: size, AlignX: 0.5, AlignY: 0.5})
				got, ok := inked(img)
				require.True(t, ok, s)
				assert.GreaterOrEqual(t, float64(got.Min.X), float64(box.Min.X)-1.5, s)
				assert.LessOrEqual(t, float64(got.Max.X), float64(box.Max.X)+1.5, s)
				assert.GreaterOrEqual(t, float64(got.Min.Y), float64(box.Min.Y)-1.5, s)
				assert.LessOrEqual(t, float64(got.Max.Y), float64(box.Max.Y)+1.5+0.12*20*size, s)
				assert.InDelta(t, 300, float64(got.Min.X+got.Max.X)/2, 2+0.1*20*size, s)
				assert.Equal(t, []Label{{Text: s, Box: box}}, p.Labels())
			}
		}
	}
	// The tallest plain letters and the lowest fill the box's height.
	p, img := NewPicture(600, 120, 40, ink, paper)
	box := p.DrawText(Pt(300, 60), "dlpg", Text{AlignX: 0.5, AlignY: 0.5})
	got, _ := inked(img)
	assert.InDelta(t, float64(box.Max.Y), float64(got.Max.Y), 1.5)
	assert.InDelta(t, float64(box.Min.Y), float64(got.Min.Y), 1.5)
	_, img = NewPicture(600, 120, 40, ink, paper)
	_, ok := inked(img)
	assert.False(t, ok, "an empty page has ink")
}

// TestTextWidth holds the table of widths against the font's own measure.
func TestTextWidth(t *testing.T) {
	for _, w := range []Weight{Regular, Medium} {
		for _, s := range []string{"", "AVAToYWa", "total 20.65", "Größe · 11°", "…–x"} {
			f := face(w, 17)
			assert.InDelta(t, float64(f.Width(s)), 17*textWidth(w, s), 1e-9, s)
		}
	}
}

func TestTryTextKeepsClear(t *testing.T) {
	p := NewBlank(300, 100, 10)
	assert.True(t, p.TryText("first", Text{}, Pt(10, 10)))
	assert.True(t, p.TryText("second", Text{}, Pt(12, 12), Pt(10, 50)))
	assert.InDelta(t, 50, float64(p.Labels()[1].Box.Min.Y), 1e-9)
	assert.False(t, p.TryText("third", Text{}, Pt(12, 12), Pt(-5, 70), Pt(290, 70), Pt(10, 95)))
	p.Reserve(Rect(100, 70, 160, 90))
	assert.False(t, p.TryText("fourth", Text{}, Pt(120, 75)))
	assert.True(t, p.TryText("fourth", Text{}, Pt(170, 75)))
	assert.Len(t, p.Labels(), 3)
}

func TestShorten(t *testing.T) {
	p := NewBlank(300, 100, 10)
	assert.Equal(t, "short", p.Shorten("short", 200, Text{}))
	long := p.Shorten("a name that does not fit in here", 80, Text{})
	assert.Regexp(t, `^a name.*…$`, long)
	assert.LessOrEqual(t, float64(p.TextWidth(long, Text{})), 80.0)
	assert.Empty(t, p.Shorten("W", 1, Text{}))
}

// TestHatchCoversTheArea adds up the lengths of hatching: times the spacing it
// is the area, for a square with a hole at any angle.
func TestHatchCoversTheArea(t *testing.T) {
	square := func(r vg.Length) []vg.Point {
		return []vg.Point{Pt(50-r, 50-r), Pt(50+r, 50-r), Pt(50+r, 50+r), Pt(50-r, 50+r)}
	}
	for _, angle := range []float64{0, 0.3, math.Pi / 4, math.Pi / 2, 2.5} {
		c := &lengths{}
		p := NewPage(c, 10)
		const spacing = 0.05
		p.Hatch([][]vg.Point{square(40), square(15)}, angle, spacing, Line{})
		assert.InEpsilon(t, 80*80-30*30, c.total*spacing, 2e-3, "angle %g", angle)
	}
	p := NewBlank(10, 10, 1)
	p.Hatch(nil, 1, 1, Line{})
	p.Hatch([][]vg.Point{square(3)}, 1, 0, Line{})
}

// lengths is a canvas that adds up the lengths of stroked lines.
type lengths struct {
	blank
	total float64
}

func (l *lengths) Stroke(p vg.Path) {
	var last vg.Point
	for _, c := range p {
		if c.Type == vg.LineComp {
			l.total += math.Hypot(float64(c.Pos.X-last.X), float64(c.Pos.Y-last.Y))
		}
		last = c.Pos
	}
}

func TestRound(t *testing.T) {
	for _, c := range [][2]float64{{1, 1}, {1.99, 1}, {2, 2}, {4.9, 2}, {5, 5}, {9.99, 5}, {10, 10}, {0.1, 0.1}, {0.19, 0.1}, {0.3, 0.2}, {73, 50}, {1234, 1000}} {
		assert.InEpsilon(t, c[1], Round(c[0]), 1e-12, "%g", c[0])
	}
}

func TestScaleBar(t *testing.T) {
	for _, c := range []struct {
		width, scale vg.Length
		length       float64
		divided      int
	}{{400, 2.6, 100, 5}, {400, 7, 50, 5}, {400, 1.5, 200, 4}, {400, 66, 5, 5}, {300, 600, 0.5, 5}} {
		b := NewScaleBar(c.width, c.scale, "mm")
		assert.InEpsilon(t, c.length, b.Length, 1e-12)
		assert.Equal(t, c.divided, b.Divided)
		assert.InEpsilon(t, float64(c.scale)*c.length, float64(b.Width), 1e-12)
		assert.LessOrEqual(t, float64(b.Width), float64(c.width))
	}
	p, img := NewPicture(500, 60, 20, ink, paper)
	b := NewScaleBar(400, 3, "mm")
	b.Draw(p, Pt(20, 10), Text{})
	box := b.Box(p, Pt(20, 10), Text{})
	got, _ := inked(img)
	assert.GreaterOrEqual(t, float64(got.Min.X), float64(box.Min.X)-1)
	assert.LessOrEqual(t, float64(got.Max.X), float64(box.Max.X)+1)
	assert.LessOrEqual(t, float64(got.Max.Y), float64(box.Max.Y)+1)
	for _, l := range p.Labels() {
		assert.GreaterOrEqual(t, float64(l.Box.Min.X), float64(box.Min.X)-1e-9)
		assert.LessOrEqual(t, float64(l.Box.Max.X), float64(box.Max.X)+1e-9)
		assert.LessOrEqual(t, float64(l.Box.Max.Y), float64(box.Max.Y)+1e-9)
	}
	assert.Equal(t, "100 mm", p.Labels()[1].Text)
}

// TestDimensions checks where the text of dimensions goes: into the line if it
// fits, beside it if not, nowhere if there is no room.
func TestDimensions(t *testing.T) {
	p := NewBlank(400, 200, 10)
	require.True(t, p.Horizontal(50, 200, 20, 20, 60, "56.2", Text{}, Line{}))
	box := p.Labels()[0].Box
	assert.InDelta(t, 125, float64(box.Min.X+box.Max.X)/2, 1e-9)
	assert.InDelta(t, 60, float64(box.Min.Y+box.Max.Y)/2, 1e-9)

	require.True(t, p.Horizontal(230, 250, 20, 20, 100, "56.2 wide", Text{}, Line{}))
	assert.Greater(t, float64(p.Labels()[1].Box.Min.X), 250.0)
	require.True(t, p.Horizontal(395, 375, 20, 20, 140, "56.2 wide", Text{}, Line{}))
	assert.Less(t, float64(p.Labels()[2].Box.Max.X), 375.0)
	q := NewBlank(60, 200, 10)
	assert.False(t, q.Horizontal(20, 40, 20, 20, 140, "56.2 wide", Text{}, Line{}))
	assert.Empty(t, q.Labels())

	require.True(t, p.Vertical(20, 120, 300, 300, 320, []string{"total", "22.4"}, 1, Text{}, Line{}))
	a, b := p.Labels()[3].Box, p.Labels()[4].Box
	assert.Greater(t, float64(a.Min.X), 320.0)
	assert.Greater(t, float64(a.Min.Y), float64(b.Max.Y))
	assert.InDelta(t, 70, float64(a.Max.Y+b.Min.Y)/2, 1e-9)
}

// TestSpread places labels in order, apart, within bounds and as near as they
// can be.
func TestSpread(t *testing.T) {
	got, ok := Spread([]vg.Length{10, 50, 52, 90}, []vg.Length{10, 10, 10, 10}, 2, 0, 100)
	require.True(t, ok)
	for i, want := range []float64{10, 45, 57, 90} {
		assert.InDelta(t, want, float64(got[i]), 1e-9)
	}
	// Pushed in from the ends.
	got, ok = Spread([]vg.Length{0, 1, 100}, []vg.Length{20, 20, 30}, 5, 0, 100)
	require.True(t, ok)
	for i, want := range []float64{10, 35, 85} {
		assert.InDelta(t, want, float64(got[i]), 1e-9)
	}
	_, ok = Spread([]vg.Length{10, 20}, []vg.Length{60, 60}, 0, 0, 100)
	assert.False(t, ok)
	_, ok = Spread(nil, nil, 1, 0, 1)
	assert.True(t, ok)
}

// sample draws a little of everything.
func sample(p *Page) {
	box := []vg.Point{Pt(50, 50), Pt(200, 50), Pt(200, 120), Pt(50, 120)}
	p.Polygon(box, color.NRGBA{230, 210, 170, 255})
	p.Hatch([][]vg.Point{box}, math.Pi/4, 6, Line{})
	p.Outline(box, Line{Width: 0.1})
	p.Stroke(Pt(20, 85), Pt(240, 85), Line{Dash: ChainDash})
	p.Horizontal(50, 200, 120, 120, 140, "150.0", Text{}, Line{})
	p.Vertical(50, 120, 200, 200, 220, []string{"wood", "70.0"}, 1, Text{}, Line{})
	p.Dot(Pt(60, 60), 3, nil)
	p.DrawText(Pt(20, 180), "Größe 11° · plan", Text{Weight: Medium, Scale: 1.4})
	p.Image(Rect(250, 50, 290, 90), image.NewNRGBA(image.Rect(0, 0, 40, 40)))
	NewScaleBar(150, 1.2, "mm").Draw(p, Pt(50, 15), Text{})
	r := p.LayRow([]Callout{{Tip: Pt(60, 50), From: 45, Lines: []string{"a", "b"}}}, 20, 280, Text{})
	p.DrawRow(r, 45)
}

// TestVectorFiles writes SVG and PDF: whole files with the fonts in them, and
// the same bytes each time.
func TestVectorFiles(t *testing.T) {
	write := func(kind string) []byte {
		var buf bytes.Buffer
		page, w := NewSVG(300, 220, 10, ink, paper)
		if kind == "pdf" {
			page, w = NewPDF(300, 220, 10, ink, paper)
		}
		sample(page)
		_, err := w.WriteTo(&buf)
		require.NoError(t, err)
		return buf.Bytes()
	}
	svg := write("svg")
	assert.Equal(t, svg, write("svg"))
	assert.Contains(t, string(svg), "Größe 11° · plan")
	assert.Contains(t, string(svg), "@font-face")
	assert.True(t, bytes.HasSuffix(bytes.TrimSpace(svg), []byte("</svg>")))

	pdf := write("pdf")
	assert.Equal(t, pdf, write("pdf"))
	assert.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	assert.True(t, bytes.HasSuffix(bytes.TrimSpace(pdf), []byte("%%EOF")))
	assert.Contains(t, string(pdf), "/FontFile2")
	assert.Equal(t, 2, bytes.Count(pdf, []byte("/Type /FontDescriptor")), "two weights embedded")
}

// TestImagePixelForPixel lays a picture down without filtering it.
func TestImagePixelForPixel(t *testing.T) {
	p, img := NewPicture(50, 40, 10, ink, paper)
	src := image.NewNRGBA(image.Rect(0, 0, 8, 6))
	for i := range src.Pix {
		src.Pix[i] = uint8(37 * i)
	}
	for i := 3; i < len(src.Pix); i += 4 {
		src.Pix[i] = 255
	}
	p.Image(Rect(10, 20, 18, 26), src)
	for y := range 6 {
		for x := range 8 {
			assert.Equal(t, color.NRGBAModel.Convert(src.At(x, y)), color.NRGBAModel.Convert(img.At(10+x, 40-26+y)))
		}
	}
}
