package render

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
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
	p, img, err := preview(ctx, n, opts)
	_ = p
	return img, err
}

// preview draws a picture and returns the page too.
func preview(ctx context.Context, n *neck.Neck, opts Options) (*drawing.Page, image.Image, error) {
	if n == nil {
		return nil, nil, errors.New("there is no neck to draw")
	}
	if opts.View < 0 || int(opts.View) >= len(viewNames) {
		_, err := ParseView(opts.View.String())
		return nil, nil, err
	}
	if opts.Width == 0 {
		opts.Width = DefaultWidth
	}
	if err := checkSize(opts.Width, opts.Height); err != nil {
		return nil, nil, err
	}
	l := &layout{n: n, view: opts.View}
	if needsScene(opts.View) {
		s, err := newScene(n, sceneTolerance(n, opts.Width))
		if err != nil {
			return nil, nil, fmt.Errorf("the neck cannot be drawn: %w", err)
		}
		l.scene = s
	}
	if err := l.fit(opts.Width, opts.Height); err != nil {
		return nil, nil, err
	}
	var shots []shot
	for _, p := range l.panels {
		shots = append(shots, p.shots()...)
	}
	total := len(shots)*passes + 1
	done := 0
	step := func() {
		done++
		if opts.Progress != nil {
			opts.Progress(done, total)
		}
	}
	var images []*image.NRGBA
	if l.scene != nil {
		var err error
		if images, err = take(ctx, l.scene, shots, step); err != nil {
			return nil, nil, err
		}
	}
	page, img := drawing.NewPicture(l.width, l.height, l.em, inkColor, paperColor)
	l.draw(page, images)
	step()
	return page, img, ctx.Err()
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

// layout is the arrangement of a page.
type layout struct {
	n      *neck.Neck
	view   View
	scene  *scene
	panels []panel
	tall   []vg.Length // heights of the panels
	gaps   vg.Length   // between panels
	em     vg.Length
	edge   vg.Length // margin of the page
	width  int
	height int
	spare  vg.Length // empty height above and below
}

// fit lays the page out for a picture of w by h pixels, h being 0 for as high
// as it needs.
func (l *layout) fit(w, h int) error {
	l.width = w
	need, err := l.try(w, w)
	if err != nil {
		return err
	}
	if h == 0 {
		h = need
		if h > MaxSide || w*h > maxPixels {
			return fmt.Errorf("this neck needs a picture of %d x %d pixels, which is too large; give a smaller width, or a height", w, h)
		}
	}
	l.height = h
	if need > h {
		// Narrow the contents until they are low enough.
		lo, hi := MinWidth-1, w
		for hi-lo > 1 {
			mid := (lo + hi) / 2
			if need, err = l.try(mid, w); err != nil || need > h {
				hi = mid
			} else {
				lo = mid
			}
		}
		if lo < MinWidth {
			need, _ = l.try(MinWidth, w)
			return fmt.Errorf("the %s view needs more than %d x %d pixels; allowed: a height of at least %d, or 0 for as high as it needs", l.view, w, h, need)
		}
		if need, err = l.try(lo, w); err != nil {
			return err
		}
	}
	// Share the height that is left over among the gaps and the margins.
	spare := vg.Length(h - need)
	each := vg.Length(int(spare) / (len(l.panels) + 1))
	l.gaps += each
	l.spare = vg.Length(int(spare-each*vg.Length(len(l.panels)-1)) / 2)
	return nil
}

// try lays out contents as wide as a page of content pixels has, in the middle
// of one w wide, and returns the height they need.
func (l *layout) try(content, w int) (int, error) {
	// Text is a ninetieth of the width, but never too small to read.
	l.em = max(10.5, vg.Length(content)/90)
	l.edge = whole(l.em * 2)
	l.gaps = whole(l.em * 1.5)
	left := vg.Length((w-content)/2) + l.edge
	right := left + vg.Length(content) - 2*l.edge
	l.panels = l.make()
	l.tall = l.tall[:0]
	page := drawing.NewBlank(vg.Length(w), vg.Length(MaxSide), l.em)
	total := 2*l.edge + l.gaps*vg.Length(len(l.panels)-1)
	for _, p := range l.panels {
		h := whole(p.lay(page, left, right))
		l.tall = append(l.tall, h)
		total += h
	}
	return int(total), nil
}

// make returns the panels of the view.
func (l *layout) make() []panel {
	n := l.n
	const single = 0.8 // greatest height of a picture that stands alone
	ps := []panel{&header{n: n}}
	switch l.view {
	case ViewSheet:
		ps = append(ps,
			newHero(l.scene, 0.36),
			newSide(n, 0.3),
			newPlan(n, ViewBack, 0.3, false),
			newSections(n, pickCuts(n), 0.3))
	case ViewThreeQuarter:
		ps = append(ps, newHero(l.scene, single))
	case ViewSide:
		ps = append(ps, newSide(n, single))
	case ViewBack, ViewFront, ViewBare:
		ps = append(ps, newPlan(n, l.view, single, true))
	case ViewSections:
		ps = append(ps, newSections(n, pickCuts(n), single))
	}
	return append(ps, &footer{})
}

// draw draws the page.
func (l *layout) draw(p *drawing.Page, images []*image.NRGBA) {
	y := vg.Length(l.height) - l.edge - l.spare
	for i, panel := range l.panels {
		k := len(panel.shots())
		var own []*image.NRGBA
		if images == nil {
			own = make([]*image.NRGBA, k)
		} else {
			own, images = images[:k], images[k:]
		}
		panel.draw(p, y, own)
		y -= l.tall[i] + l.gaps
	}
}

// WritePNG writes a picture as PNG. The same picture gives the same bytes.
func WritePNG(w io.Writer, img image.Image) error {
	e := png.Encoder{CompressionLevel: png.BestSpeed}
	return e.Encode(w, img)
}
