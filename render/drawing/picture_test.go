package drawing

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"
)

var red, blue = color.NRGBA{220, 30, 30, 255}, color.NRGBA{30, 30, 220, 255}

// checkRedOverBlue looks for both pictures on a page of 100 by 100.
func checkRedOverBlue(t *testing.T, img image.Image) {
	t.Helper()
	b := img.Bounds()
	look := func(x, y float64) color.Color { // y up
		return img.At(int(x/100*float64(b.Dx())), int((100-y)/100*float64(b.Dy())))
	}
	for _, c := range []struct {
		x, y float64
		want color.NRGBA
	}{{30, 80, red}, {30, 60, blue}, {70, 40, red}, {70, 20, blue}, {30, 30, color.NRGBA{255, 255, 255, 255}}} {
		r, g, bl, _ := look(c.x, c.y).RGBA()
		assert.InDelta(t, c.want.R, r>>8, 6, "red at %g, %g", c.x, c.y)
		assert.InDelta(t, c.want.G, g>>8, 6, "green at %g, %g", c.x, c.y)
		assert.InDelta(t, c.want.B, bl>>8, 6, "blue at %g, %g", c.x, c.y)
	}
}

// TestPicturesStandUpright draws two pictures, red above blue, to each format
// and has independent readers show them.
func TestPicturesStandUpright(t *testing.T) {
	pic := image.NewNRGBA(image.Rect(0, 0, 40, 40))
	for y := range 40 {
		for x := range 40 {
			pic.Set(x, y, red)
			if y >= 20 {
				pic.Set(x, y, blue)
			}
		}
	}
	sketch := func(p *Page) {
		p.Image(Rect(10, 50, 50, 90), pic)
		p.Image(Rect(50, 10, 90, 50), pic)
	}
	page, img := NewPicture(100, 100, 10, color.Black, color.White)
	sketch(page)
	checkRedOverBlue(t, img)

	for _, c := range []struct {
		format, reader string
		make           func(w, h, em vg.Length, ink, paper color.Color) (*Page, io.WriterTo)
		args           func(in, out string) []string
	}{
		{"pdf", "pdftoppm", NewPDF, func(in, out string) []string {
			return []string{"-png", "-r", "144", "-singlefile", in, out[:len(out)-len(".png")]}
		}},
		{"svg", "rsvg-convert", NewSVG, func(in, out string) []string { return []string{"-w", "200", "-o", out, in} }},
	} {
		t.Run(c.format, func(t *testing.T) {
			if _, err := exec.LookPath(c.reader); err != nil {
				t.Skipf("%s is not here to read the file", c.reader)
			}
			p, w := c.make(100, 100, 10, color.Black, color.White)
			sketch(p)
			var b bytes.Buffer
			_, err := w.WriteTo(&b)
			require.NoError(t, err)
			in, out := filepath.Join(t.TempDir(), "in."+c.format), filepath.Join(t.TempDir(), "out.png")
			require.NoError(t, os.WriteFile(in, b.Bytes(), 0o666))
			message, err := exec.Command(c.reader, c.args(in, out)...).CombinedOutput()
			require.NoError(t, err, string(message))
			f, err := os.Open(out)
			require.NoError(t, err)
			defer f.Close()
			shown, err := png.Decode(f)
			require.NoError(t, err)
			checkRedOverBlue(t, shown)
		})
	}
}

// TestWindows1252 checks what the fonts of a PDF can show.
func TestWindows1252(t *testing.T) {
	assert.Equal(t, "a\xb0\xb2\xfc", windows1252("a°²ü"))
	assert.Equal(t, "\x96 \x85 ?", windows1252("− … 木"))
}
