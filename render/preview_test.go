package render

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// encode returns a picture as PNG.
func encode(t *testing.T, img image.Image) []byte {
	t.Helper()
	var buf bytes.Buffer
	require.NoError(t, WritePNG(&buf, img))
	return buf.Bytes()
}

// TestPreviewSameBytes draws the sheet on one processor and on several: the
// files must not differ.
// Without DRAWN=all it takes some of the cases.
func TestPreviewSameBytes(t *testing.T) {
	n := demo(t)
	var first []byte
	for _, procs := range drawn.Some([]int{1, 5, 2}, 2) {
		old := runtime.GOMAXPROCS(procs)
		img, err := Preview(n, Options{Width: 700})
		runtime.GOMAXPROCS(old)
		require.NoError(t, err)
		b := encode(t, img)
		if first == nil {
			first = b
		}
		assert.True(t, bytes.Equal(first, b), "the sheet differs on %d processors", procs)
	}
}

func TestPreviewSize(t *testing.T) {
	rough(t)
	n := demo(t)
	for i, c := range []struct {
		view View
		w, h int
	}{
		{ViewSheet, 900, 0}, {ViewSheet, 640, 1000}, {ViewSide, 600, 0}, {ViewBack, 800, 500},
		{ViewThreeQuarter, 500, 0}, {ViewFront, 640, 0}, {ViewBare, 640, 0}, {ViewSections, 0, 0},
	} {
		img, err := Preview(n, Options{View: c.view, Width: c.w, Height: c.h})
		require.NoError(t, err)
		w, h := c.w, c.h
		if w == 0 {
			w = DefaultWidth
		}
		if h == 0 {
			h = img.Bounds().Dy()
		}
		assert.Equal(t, image.Rect(0, 0, w, h), img.Bounds(), "%s view", c.view)
		if i == 0 || drawn.All() {
			decoded, err := png.Decode(bytes.NewReader(encode(t, img)))
			require.NoError(t, err)
			assert.Equal(t, img.Bounds(), decoded.Bounds())
		}
		// Nothing touches the border of the page.
		for x := range w {
			require.Equal(t, paperColor, nrgba(img, x, 0))
			require.Equal(t, paperColor, nrgba(img, x, h-1))
		}
		for y := range h {
			require.Equal(t, paperColor, nrgba(img, 0, y))
			require.Equal(t, paperColor, nrgba(img, w-1, y))
		}
	}
}

// nrgba returns the colour of a pixel.
func nrgba(img image.Image, x, y int) color.NRGBA {
	return color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
}

func TestPreviewRefusesSizes(t *testing.T) {
	n := demo(t)
	for _, c := range []struct {
		view View
		w, h int
		want string
	}{
		{ViewSheet, 10, 0, "a preview cannot be 10 pixels wide; allowed: 480 to 8000"},
		{ViewSheet, -5, 0, "a preview cannot be -5 pixels wide; allowed: 480 to 8000"},
		{ViewSheet, 9000, 0, "a preview cannot be 9000 pixels wide; allowed: 480 to 8000"},
		{ViewSheet, 1800, 20, "a preview cannot be 20 pixels high; allowed: 160 to 8000, or 0 for as high as it needs"},
		{ViewSheet, 1800, -1, "a preview cannot be -1 pixels high; allowed: 160 to 8000, or 0 for as high as it needs"},
		{ViewSheet, 8000, 8000, "a preview of 8000 x 8000 pixels is too large; allowed: 40 million pixels"},
		{View(42), 1800, 0, `view "View(42)" is unknown; allowed: sheet, three-quarter, side, back, front, bare, sections`},
	} {
		_, err := Preview(n, Options{View: c.view, Width: c.w, Height: c.h})
		assert.EqualError(t, err, c.want)
	}
	_, err := Preview(n, Options{Width: 1800, Height: 200})
	require.Error(t, err)
	var low int
	_, scanErr := fmt.Sscanf(err.Error(), "the sheet view needs more than 1800 x 200 pixels; allowed: a height of at least %d,", &low)
	require.NoError(t, scanErr, err.Error())
	_, err = Preview(n, Options{Width: 1800, Height: low})
	assert.NoError(t, err, "the height that the message allows")
	_, err = Preview(n, Options{Width: 1800, Height: low - 1})
	assert.Error(t, err)
	_, err = Preview(nil, Options{})
	assert.Error(t, err)
}

func TestPreviewProgress(t *testing.T) {
	last, of := 0, 0
	_, err := Preview(demo(t), Options{Width: 500, View: ViewSide, Progress: func(done, total int) {
		assert.Equal(t, last+1, done)
		last, of = done, total
	}})
	require.NoError(t, err)
	assert.Equal(t, of, last)
	assert.Greater(t, of, 5)
}

func TestPreviewCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	_, err := PreviewContext(ctx, demo(t), Options{Width: 500, View: ViewSide, Progress: func(done, _ int) { cancel() }})
	assert.ErrorIs(t, err, context.Canceled)
}

func TestParseView(t *testing.T) {
	for _, v := range Views() {
		got, err := ParseView(v.String())
		require.NoError(t, err)
		assert.Equal(t, v, got)
	}
	_, err := ParseView("top")
	assert.EqualError(t, err, `view "top" is unknown; allowed: sheet, three-quarter, side, back, front, bare, sections`)
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		unit spec.Unit
		want string
	}{
		{20.6, spec.Millimetre, "20.6"},
		{15, spec.Millimetre, "15.0"},
		{35.695, spec.Millimetre, "35.7"},
		{18.256, spec.Millimetre, "18.26"},
		{-0.001, spec.Millimetre, "0.0"},
		{-12, spec.Millimetre, "-12.0"},
		// The inch is exactly 25.4 mm (NIST).
		{25.4, spec.Inch, "1.000"},
		{-1e-9, spec.Inch, "0.000"},
	} {
		assert.Equal(t, c.want, number(c.mm, c.unit))
	}
	assert.Equal(t, "636", plain(636, spec.Millimetre))
	assert.Equal(t, "24.625", plain(24.625*25.4, spec.Inch))
	assert.Equal(t, "10", plain(254, spec.Inch))
}
