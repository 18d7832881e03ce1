package render

import (
	"fmt"
	"image"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
)

// layout is the arrangement of a page.
type layout struct {
	n      *neck.Neck
	view   View
	scene  *scene
	facts  []string // for the header
	cuts   []cut    // for the sections
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
	// Open the gaps a little with the height that is left over, and centre the
	// rest.
	spare := vg.Length(h - need)
	each := min(vg.Length(int(spare)/(len(l.panels)+1)), whole(1.5*l.em))
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
	ps := []panel{&header{n: n, phrases: l.facts}}
	switch l.view {
	case ViewSheet:
		ps = append(ps,
			newHero(l.scene, 0.36),
			newSide(n, 0.3),
			newPlan(n, ViewBack, 0.3),
			newSections(n, l.cuts, 0.3))
	case ViewThreeQuarter:
		ps = append(ps, newHero(l.scene, single))
	case ViewSide:
		ps = append(ps, newSide(n, single))
	case ViewBack, ViewFront, ViewBare:
		ps = append(ps, newPlan(n, l.view, single))
	case ViewSections:
		ps = append(ps, newSections(n, l.cuts, single))
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
