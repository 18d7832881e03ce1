package neck

import (
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"sort"
)

// StickThickness returns the thickness of the stick that the neck, or the shaft
// of a scarfed one, is cut from: that of the blank, or without one the greatest
// depth that it has to have, finished and on the way there with a flat back, up
// to the next half millimetre or 64th of an inch.
func (n *Neck) StickThickness() float64 {
	s := n.spec
	if s.Blank != nil {
		return s.Blank.Thickness
	}
	from, to := n.start, n.end
	if s.Scarf != nil && s.Headstock != nil {
		from = -n.head.far
	}
	if s.Stack != nil {
		to = n.stackFrom()
	}
	grain := 0.5
	if s.Units == spec.Inch {
		grain = spec.MillimetresPerInch / 64
	}
	most := n.deepest(from, to)
	flat := n.FlatBack()
	for _, x := range []float64{flat.From, math.Min(flat.To, to)} {
		most = math.Max(most, flat.Depth(x))
	}
	if k := s.Scarf; k != nil && k.Thickness == 0 && s.Headstock != nil {
		most = math.Max(most, s.Headstock.Thickness) // the headstock's piece is of the stick too
	}
	thick := math.Ceil(most/grain-1e-9) * grain
	for all := n.deepest(n.start, to); thick < all; thick += grain {
		if j, ok := n.scarfOf(thick); !ok || n.scarfShort(&j, to) <= 0 {
			break
		}
	}
	return thick
}

// scarfShort returns how much wood a scarfed neck lacks, at the most, before a
// station; 0 or less where it lacks none.
func (n *Neck) scarfShort(j *ScarfJoint, to float64) float64 {
	short, _ := numeric.Maximize(func(x float64) float64 { return n.Depth(x) - j.Room(x) }, n.start, to, 400)
	return short
}

// deepest returns the greatest depth of the wood between two stations.
func (n *Neck) deepest(from, to float64) float64 {
	marks := []float64{from, to}
	for _, x := range n.Landmarks() {
		if x > from && x < to {
			marks = append(marks, x)
		}
	}
	sort.Float64s(marks)
	most := math.Max(n.Depth(from), n.Depth(to))
	for i := 0; i+1 < len(marks); i++ {
		if marks[i] < marks[i+1] {
			d, _ := numeric.ClimbAll(n.Depth, marks[i], marks[i+1], 10)
			most = math.Max(most, d)
		}
	}
	return most
}

// stackFrom returns x of the fronts of the heel's blocks: where the heel begins,
// unless the spec has another place.
func (n *Neck) stackFrom() float64 {
	if k := n.spec.Stack; k.From != nil {
		return n.spec.X(*k.From)
	}
	return n.heelStart
}

// HeelStack are the blocks under the heel.
type HeelStack struct {
	Stick     float64 // thickness of the stick that they are glued to
	Thickness float64 // of each block
	From, To  float64 // x of their fronts, and of the end of the wood
	Blocks    []HeelBlock
}

// HeelBlock is a block of a stacked heel. Its faces lie Top and Bottom below the
// glue plane.
type HeelBlock struct {
	Top, Bottom float64
	Need        float64 // x from where the heel needs it; the end of the wood where nowhere
	Width       float64 // of the heel at its widest below Top, or of all of it where nothing is below
	Lines       []GlueLine
}

// Depth returns how deep below the glue plane the blocks reach.
func (k *HeelStack) Depth() float64 { return k.Stick + k.Thickness*float64(len(k.Blocks)) }

// HeelStack returns the blocks of the heel, and false for a neck whose spec
// gives none.
func (n *Neck) HeelStack() (HeelStack, bool) {
	s := n.spec
	if s.Stack == nil || s.Heel == nil {
		return HeelStack{}, false
	}
	k := HeelStack{Stick: n.StickThickness(), Thickness: s.Stack.Thickness, From: n.stackFrom(), To: n.end}
	if n.TenonDepth() > k.Stick {
		k.To = n.stickEnd() // the tenon is of the blocks too
	}
	if k.Thickness == 0 {
		k.Thickness = k.Stick
	}
	count := s.Stack.Blocks
	if count == 0 {
		count = max(1, int(math.Ceil((n.deepest(k.From, n.end)-k.Stick)/k.Thickness-1e-9)))
	}
	for i := range count {
		top := k.Stick + k.Thickness*float64(i)
		b := HeelBlock{Top: top, Bottom: top + k.Thickness, Need: n.deeperFrom(top)}
		b.Lines = n.glueLines(func(float64) float64 { return -top }, k.From, n.end)
		for _, l := range b.Lines {
			for _, p := range l.Points {
				b.Width = math.Max(b.Width, p.To-p.From)
			}
		}
		if b.Width == 0 { // of a block that the heel does not need
			b.Width, _ = numeric.Maximize(n.Width, k.From, n.end, 100)
		}
		k.Blocks = append(k.Blocks, b)
	}
	return k, true
}

// deeperFrom returns the first station past the nut from where the wood is
// deeper than a depth, on its way into the heel; the end of the wood where it is
// so nowhere.
func (n *Neck) deeperFrom(depth float64) float64 {
	const steps = 400
	at := func(i int) float64 { return numeric.Lerp(0, n.end, float64(i)/steps) }
	for i := steps; i >= 0; i-- {
		if n.Depth(at(i)) > depth {
			continue
		}
		if i == steps {
			return n.end
		}
		lo, hi := at(i), at(i+1)
		for range 50 {
			if mid := (lo + hi) / 2; n.Depth(mid) > depth {
				hi = mid
			} else {
				lo = mid
			}
		}
		return hi
	}
	return 0
}
