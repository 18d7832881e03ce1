package spec

import (
	"slices"
	"sync"

	"neckloft/neck/outline"
)

// outlineAsked is all that the outline of a headstock depends on.
type outlineAsked struct {
	points  []OutlinePoint
	drawing Drawing
	treble  float64 // the sign of y on the treble side
	from    float64 // u where the shelf ends
	half    float64 // half the width of the neck there
}

// lay lays the outline out.
func (a *outlineAsked) lay() (*outline.Outline, error) {
	p, err := path(a.points, &a.drawing)
	if err != nil {
		return nil, err
	}
	if a.treble < 0 {
		p = p.Map(outline.Scaled(1, a.treble))
	}
	return outline.New(p, a.from, a.half)
}

// laidOutline is an outline, or why there is none, and what it was laid out from.
type laidOutline struct {
	asked outlineAsked
	edge  *outline.Outline
	err   error
}

// answers reports whether the outline is the one that is asked for. The width of the
// neck counts where the path was joined to it, or where there is no outline.
func (l *laidOutline) answers(a *outlineAsked) bool {
	k := &l.asked
	return k.drawing == a.drawing && k.treble == a.treble && k.from == a.from && slices.Equal(k.points, a.points) &&
		(k.half == a.half || l.edge != nil && !l.edge.Joined())
}

// mostOutlines is how many outlines are kept: one is asked for by the checks of a spec
// and by its neck, and again by every neck that differs from it in other keys.
const mostOutlines = 8

// outlinesKept are the outlines that were asked for last, the last one first. They
// take longer to lay out than the neck without its mesh, and nothing changes them.
type outlinesKept struct {
	mu   sync.Mutex
	laid []*laidOutline
}

var keptOutlines outlinesKept

// of returns the outline that is asked for.
func (k *outlinesKept) of(a outlineAsked) (*outline.Outline, error) {
	k.mu.Lock()
	if i := slices.IndexFunc(k.laid, func(l *laidOutline) bool { return l.answers(&a) }); i >= 0 {
		l := k.laid[i]
		copy(k.laid[1:i+1], k.laid[:i])
		k.laid[0] = l
		k.mu.Unlock()
		return l.edge, l.err
	}
	k.mu.Unlock()
	a.points = slices.Clone(a.points)
	l := &laidOutline{asked: a}
	l.edge, l.err = a.lay()
	k.mu.Lock()
	defer k.mu.Unlock()
	k.laid = slices.Insert(k.laid, 0, l)
	k.laid = k.laid[:min(len(k.laid), mostOutlines)]
	return l.edge, l.err
}
