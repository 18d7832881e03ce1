package brep

import (
	"math"

	"neckloft/mesh"
)

// Shrunk returns the solid with each patch cut down to about what its face takes of it.
// Programs reckon boxes from the points of a surface, and cutters reach far. Parameters
// stay what they are.
func (s *Solid) Shrunk() *Solid {
	out := &Solid{Name: s.Name}
	for _, f := range s.Faces {
		g := *f
		if p, ok := f.Surface.(*Patch); ok {
			g.Surface = f.shrink(p)
		}
		out.Faces = append(out.Faces, &g)
	}
	return out
}

// shrinkSteps is at how many places an edge is looked at, and shrinkMargin what is
// left beside a face, as a part of its extent; a patch of which a face takes more than
// the part shrinkFrom stays as long as it is.
const (
	shrinkSteps  = 32
	shrinkMargin = 0.02
	shrinkFrom   = 0.95
)

// shrink returns the part of the face's patch that it lies in.
func (f *Face) shrink(p *Patch) *Patch {
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	u, v := p.Middle()
	for _, l := range f.Loops {
		for _, use := range l {
			for k := range shrinkSteps + 1 {
				u, v = p.Place(use.Point(float64(k)/shrinkSteps), u, v)
				lo[0], hi[0] = math.Min(lo[0], u), math.Max(hi[0], u)
				lo[1], hi[1] = math.Min(lo[1], v), math.Max(hi[1], v)
			}
		}
	}
	u0, u1 := p.U.Ends()
	v0, v1 := p.V.Ends()
	ends := [2][2]float64{{u0, u1}, {v0, v1}}
	for i, e := range ends {
		more := shrinkMargin * (hi[i] - lo[i])
		grid := math.Exp2(math.Round(math.Log2(more)) - 6)
		lo[i], hi[i] = math.Max(roundTo(lo[i]-more, grid), e[0]), math.Min(roundTo(hi[i]+more, grid), e[1])
		if hi[i]-lo[i] > shrinkFrom*(e[1]-e[0]) {
			lo[i], hi[i] = e[0], e[1]
		}
	}
	if lo == [2]float64{u0, v0} && hi == [2]float64{u1, v1} {
		return p
	}
	return p.Between(lo[0], hi[0]).Swapped().Between(lo[1], hi[1]).Swapped()
}

// Swapped returns the patch with u and v in each other's place.
func (s *Patch) Swapped() *Patch {
	out := &Patch{U: s.V, V: s.U, Points: make([][]mesh.Vec, len(s.Points[0]))}
	for _, row := range s.Points {
		for j, p := range row {
			out.Points[j] = append(out.Points[j], p)
		}
	}
	return out
}

// roundTo rounds a parameter to a coarse grid, so that processors that differ in its
// last digits agree.
func roundTo(t, grid float64) float64 { return math.Round(t/grid) * grid }
