package neck

import (
	"math"
	"slices"
)

// StretchKind says what the wood is between two places along the neck.
type StretchKind int

const (
	StretchHead     StretchKind = iota // the headstock where it has left the profile: planes and corners
	StretchIntoHead                    // from there to the nut
	StretchPlain                       // the profile
	StretchIntoHeel                    // from the profile to the heel's block
	StretchHeel                        // the heel's block up to its face
	stretchKinds                       // how many there are
)

// Stretch is a part of the neck along it, with the places in it where the
// surface changes its law.
type Stretch struct {
	Kind     StretchKind
	From, To float64
	Marks    []Mark
}

// Mark is a place where the surface's second derivative along the neck jumps, or
// only its third where it is Smooth.
type Mark struct {
	At     float64
	Smooth bool
}

// Stretches returns the parts of the wood from the headstock to the heel's face,
// none shorter than a hundredth of a millimetre.
func (n *Neck) Stretches() []Stretch {
	cuts := [stretchKinds + 1]float64{n.start, n.headBlockFrom(), n.start, n.end, n.end, n.end}
	if n.spec.Headstock != nil {
		cuts[2] = 0
	}
	if n.spec.Heel != nil {
		cuts[3], cuts[4] = math.Min(n.heelStart, n.end), math.Min(n.heelFull, n.end)
	}
	marks := n.surfaceMarks()
	var out []Stretch
	for k := range stretchKinds {
		s := Stretch{Kind: k, From: cuts[k], To: cuts[k+1]}
		if len(out) > 0 {
			s.From = out[len(out)-1].To // before one too short to be one
		}
		const least = 0.01
		if s.To-s.From < least {
			continue
		}
		for _, m := range marks {
			// A mark next to an end is as good as at it.
			if m.At > s.From+least && m.At < s.To-least {
				if i := len(s.Marks) - 1; i >= 0 && m.At-s.Marks[i].At < least {
					s.Marks[i].Smooth = s.Marks[i].Smooth && m.Smooth
					continue
				}
				s.Marks = append(s.Marks, m)
			}
		}
		out = append(out, s)
	}
	return out
}

// headBlockFrom returns x where the headstock becomes a plain block on the way
// from the nut: the neck's start where it never does.
func (n *Neck) headBlockFrom() float64 {
	h := n.spec.Headstock
	if h == nil {
		return n.start
	}
	x := -math.Max(math.Max(n.headDepth, n.headSection), math.Max(n.headHang, h.Shelf+math.Max(n.headWidth, n.coveRun)))
	if v := n.spec.Volute; v != nil {
		x = math.Min(x, n.voluteCentre-v.Length/2)
	}
	return math.Max(x, n.start)
}

// surfaceMarks returns the places where the back changes its law, in order.
func (n *Neck) surfaceMarks() []Mark {
	var out []Mark
	add := func(smooth bool, xs ...float64) {
		for _, x := range xs {
			out = append(out, Mark{x, smooth})
		}
	}
	for _, l := range []*line{n.total, n.apex, n.fullness[MinusY], n.fullness[PlusY]} {
		if len(l.xs) > 1 {
			add(false, l.xs...)
		}
	}
	if v := n.spec.Volute; v != nil {
		add(true, n.voluteCentre-v.Length/2, n.voluteCentre+v.Length/2)
	}
	if h := n.spec.Headstock; h != nil {
		add(true, -h.Shelf, -h.Shelf-n.coveRun, -h.Shelf-n.headWidth, -n.headDepth, -n.headSection, -n.headHang)
	}
	slices.SortStableFunc(out, func(a, b Mark) int {
		if a.At < b.At {
			return -1
		}
		if a.At > b.At {
			return 1
		}
		return 0
	})
	return out
}
