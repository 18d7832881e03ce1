package live

import (
	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
)

// compared is another neck that lies beside the page's own.
type compared struct {
	neck  *neck.Neck
	along compare.Along // what the two have in the same place
}

// beside is the section of another neck that stands for one of the page's, in its
// own place.
type beside struct {
	X       float64         `json:"x"`                 // mm from its nut
	Section *sectionDrawing `json:"section,omitempty"` // nil where it has no wood
}

// compared returns the neck of a text, turned to the hand of n, so that bass lies
// on bass. It is nil where there is no text, or none that can be built.
func (e *Engine) compared(n *neck.Neck, text string, along compare.Along) *compared {
	if text == "" {
		return nil
	}
	other := e.judged(text).turned(n.Spec().Hand)
	if other.neck == nil {
		return nil
	}
	return &compared{other.neck, along}
}

// beside returns the section that stands for the one of n at x, and its numbers.
func (c *compared) beside(n *neck.Neck, x float64) (*beside, []measured) {
	at := compare.SamePlace(c.along, n, c.neck, x)
	const ends = 1e-6 // mm, for what is reckoned by frets
	if at < c.neck.Start()-ends || at > c.neck.End()+ends {
		return &beside{X: at}, nil
	}
	d, st := drawCut(c.neck, at)
	return &beside{at, d}, measures(c.neck, &st, len(d.Board) > 0, n.Spec().Units)
}

// turned returns what judging the same neck for a hand gives.
func (j *judgement) turned(hand spec.Hand) *judgement {
	if j.neck == nil || j.spec.Hand == hand {
		return j
	}
	j.work.mu.Lock()
	defer j.work.mu.Unlock()
	if j.work.turned == nil {
		n, err := j.neck.Mirrored()
		if err != nil {
			return j
		}
		j.work.turned = &judgement{spec: j.spec.Mirrored(), neck: n, problems: j.problems}
	}
	return j.work.turned
}

// handOf is the hand of a name, and that of a judgement's own spec for another word.
func handOf(name string, j *judgement) spec.Hand {
	switch {
	case name == spec.LeftHand.String():
		return spec.LeftHand
	case name == spec.RightHand.String() || j.spec == nil:
		return spec.RightHand
	}
	return j.spec.Hand
}
