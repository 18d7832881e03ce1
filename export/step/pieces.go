package step

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
)

// Kernels measure a face by rules that take it, and each edge of it, at once
// ([brep.Patch.PlainError]). So edges are written in pieces, of no more spans than these:
// those that such a rule runs along, those that only bound plane faces or lie across the
// way it goes, and crossings of faces, whose spans are many and short.
const (
	alongSpans    = 3
	acrossSpans   = 10
	crossingSpans = 20
)

// plan is how the faces of a solid are written.
type plan struct {
	swapped map[brep.Surface]bool // with u and v in each other's place
	most    map[*brep.Edge]int    // spans of a piece, where it is not acrossSpans
}

// newPlan finds out how to write a solid. A patch is gone through along its shorter
// side at once, unless it is sharp there.
func newPlan(s *brep.Solid) *plan {
	p := &plan{swapped: map[brep.Surface]bool{}}
	for _, f := range s.Faces {
		if _, ok := f.Surface.(*brep.Patch); ok {
			p.swapped[f.Surface] = true
		}
	}
	p.findMost(s)
	about := p.middle(s)
	for of := range p.swapped {
		u, v := of.(*brep.Patch).PlainError(about)
		p.swapped[of] = v <= u
	}
	p.findMost(s)
	return p
}

// findMost finds the edges that a rule runs along.
func (p *plan) findMost(s *brep.Solid) {
	p.most = map[*brep.Edge]int{}
	for _, f := range s.Faces {
		patch, ok := f.Surface.(*brep.Patch)
		if !ok {
			continue
		}
		b := patch.V
		if p.swapped[f.Surface] {
			b = patch.U
		}
		lo, hi := b.Ends()
		for _, l := range f.Loops {
			u, v := patch.Middle()
			for _, use := range l {
				if _, ok := use.Edge.Curve.(*brep.Spline); !ok {
					continue
				}
				var at [3]float64
				for k := range at {
					u, v = patch.Place(use.Point(float64(k)/2), u, v)
					at[k] = v
					if p.swapped[f.Surface] {
						at[k] = u
					}
				}
				if math.Max(math.Abs(at[1]-at[0]), math.Abs(at[2]-at[1])) > 1e-6*(hi-lo) {
					p.most[use.Edge] = alongSpans
				}
			}
		}
	}
}

// middle returns the mean of the corners of a solid, as often as its faces have them:
// kernels measure from there.
func (p *plan) middle(s *brep.Solid) mesh.Vec {
	var sum mesh.Vec
	count := 0.0
	for _, f := range s.Faces {
		for _, l := range f.Loops {
			for _, u := range l {
				cuts := p.pieces(u.Edge)
				for i, t := range cuts {
					by := 2.0
					if i == 0 || i == len(cuts)-1 {
						by = 1
					}
					sum = sum.Add(u.Edge.Curve.Point(t).Scale(by))
					count += by
				}
			}
		}
	}
	return sum.Scale(1 / count)
}

// pieces returns where an edge is cut, by its parameter: at knots where its curvature
// jumps, and where it has many spans.
func (p *plan) pieces(e *brep.Edge) []float64 {
	s, ok := e.Curve.(*brep.Spline)
	if !ok {
		return []float64{e.T0, e.T1}
	}
	knots := []float64{e.T0}
	var bent []int // the indices of knots that count twice
	for _, k := range s.Basis.Knots {
		switch {
		case k <= e.T0 || k >= e.T1:
		case k > knots[len(knots)-1]:
			knots = append(knots, k)
		case len(bent) == 0 || bent[len(bent)-1] < len(knots)-1:
			bent = append(bent, len(knots)-1)
		}
	}
	knots = append(knots, e.T1)
	most := p.most[e]
	switch {
	case 2*len(bent) > len(knots)-2:
		bent, most = nil, crossingSpans // its spans are all joined so
	case most == 0:
		bent, most = nil, acrossSpans
	}
	out := []float64{e.T0}
	last := 0
	for _, next := range append(bent, len(knots)-1) {
		n := (next - last + most - 1) / most
		for k := 1; k <= n; k++ {
			out = append(out, knots[last+(next-last)*k/n])
		}
		last = next
	}
	return out
}
