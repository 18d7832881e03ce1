package render

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"

	"neckloft/neck"
)

// DefaultWidth is the width of a preview in pixels.
const DefaultWidth = 1800

// Limits of a preview's size in pixels.
const (
	MinWidth  = 480
	MinHeight = 160
	MaxSide   = 8000
	maxPixels = 40_000_000
)

// Options say what a preview shows and how large it is.
type Options struct {
	View View

	// Width and Height are in pixels. A Width of 0 is DefaultWidth; a Height
	// of 0 is as high as the drawing needs.
	Width, Height int

	// Progress, if not nil, is called after each step of the work with the
	// number of steps done and of all steps.
	Progress func(done, total int)
}

// Preview draws a picture of the neck. It is an error if the size is not
// possible or too small for the drawing.
func Preview(n *neck.Neck, opts Options) (image.Image, error) {
	return PreviewContext(context.Background(), n, opts)
}

// PreviewContext is Preview, given up with the context's error as soon as ctx
// is done.
func PreviewContext(ctx context.Context, n *neck.Neck, opts Options) (image.Image, error) {
	l, err := newLayout(n, opts)
	if err != nil {
		return nil, err
	}
	_, img, err := l.picture(ctx)
	return img, err
}

// newLayout lays out the page that opts ask for.
func newLayout(n *neck.Neck, opts Options) (*layout, error) {
	if n == nil {
		return nil, errors.New("there is no neck to draw")
	}
	if opts.View < 0 || int(opts.View) >= len(viewNames) {
		_, err := ParseView(opts.View.String())
		return nil, err
	}
	if opts.Width == 0 {
		opts.Width = DefaultWidth
	}
	if err := checkSize(opts.Width, opts.Height); err != nil {
		return nil, err
	}
	l := &layout{n: n, view: opts.View, facts: facts(n)}
	l.progress = opts.Progress
	if opts.View == ViewSheet || opts.View == ViewSections {
		l.cuts = pickCuts(n)
	}
	if needsScene(opts.View) {
		s, err := newScene(n, sceneTolerance(n, opts.Width))
		if err != nil {
			return nil, fmt.Errorf("the neck cannot be drawn: %w", err)
		}
		l.scene = s
	}
	return l, l.fit(opts.Width, opts.Height)
}

// checkSize reports sizes that no preview can have.
func checkSize(w, h int) error {
	switch {
	case w < MinWidth || w > MaxSide:
		return fmt.Errorf("a preview cannot be %d pixels wide; allowed: %d to %d", w, MinWidth, MaxSide)
	case h != 0 && (h < MinHeight || h > MaxSide):
		return fmt.Errorf("a preview cannot be %d pixels high; allowed: %d to %d, or 0 for as high as it needs", h, MinHeight, MaxSide)
	case w*h > maxPixels:
		return fmt.Errorf("a preview of %d x %d pixels is too large; allowed: %d million pixels", w, h, maxPixels/1_000_000)
	}
	return nil
}

// needsScene reports whether a view shows the solid.
func needsScene(v View) bool { return v != ViewSections }

// sceneTolerance returns how finely to mesh the neck for pictures of w pixels:
// to a quarter of a pixel.
func sceneTolerance(n *neck.Neck, w int) float64 {
	x0, x1 := xExtent(n, true)
	return min(0.1, max(0.005, 0.25*(x1-x0)/float64(w)))
}

// WritePNG writes a picture as PNG. The same picture gives the same bytes.
func WritePNG(w io.Writer, img image.Image) error {
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	return e.Encode(w, img)
}
