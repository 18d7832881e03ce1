package render

import (
	"fmt"

	"neckloft/neck"
)

// previewLook is how previews look: text is a ninetieth of the width, but never
// too small to read.
var previewLook = look{ems: 90, smallest: 10.5, gap: 1.5}

// layout is the page of a preview.
type layout struct {
	sheet
	n     *neck.Neck
	view  View
	facts []string // for the header
	cuts  []cut    // for the sections
}

// fit lays the page out for a picture of w by h pixels, h being 0 for as high
// as it needs.
func (l *layout) fit(w, h int) error {
	l.look, l.density = previewLook, 1
	if h == 0 {
		l.width = w
		l.height = l.arrange(l.make(), w)
		if l.height > MaxSide || w*l.height > maxPixels {
			return fmt.Errorf("this neck needs a picture of %d x %d pixels, which is too large; give a smaller width, or a height", w, l.height)
		}
		return nil
	}
	if need := l.sheet.fit(l.make, w, h); need > h {
		return fmt.Errorf("the %s view needs more than %d x %d pixels; allowed: a height of at least %d, or 0 for as high as it needs", l.view, w, h, need)
	}
	return nil
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
			newTopView(n, ViewBack, 0.3),
			newSections(n, l.cuts, 0.3))
	case ViewThreeQuarter:
		ps = append(ps, newHero(l.scene, single))
	case ViewSide:
		ps = append(ps, newSide(n, single))
	case ViewBack, ViewFront, ViewBare:
		ps = append(ps, newTopView(n, l.view, single))
	case ViewSections:
		ps = append(ps, newSections(n, l.cuts, single))
	}
	return append(ps, &footer{})
}
