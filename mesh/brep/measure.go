package brep

import (
	"math"

	"neckloft/neck/numeric"
)

// Volume returns the volume of the solid in mm³, by integrals over its faces:
// three times the volume is the integral of p·n over the surface (Gauss), which
// over a face is one around its loops in the parameters of its surface (Green).
func (s *Solid) Volume() float64 {
	sum := 0.0
	for _, f := range s.Faces {
		sum += f.flux() / 3
	}
	return sum
}

// edgeRule and innerRule integrate along edges and across faces, piece by
// piece; the latter is exact for a patch.
var edgeRule, innerRule = numeric.NewRule(3), numeric.NewRule(5)

// flux returns the integral of p·n over the face.
//
// Of a turned face the loops run clockwise as the surface sees them, and its
// normal is the inward one: the two signs make up for each other.
func (f *Face) flux() float64 {
	sum := 0.0
	for _, l := range f.Loops {
		u, v := f.Surface.Middle()
		for _, use := range l {
			u, v = f.Surface.Place(use.Point(0.5), u, v)
			pieces := use.Edge.pieces()
			for i := range pieces {
				for k, x := range edgeRule.X {
					const h = 1e-4
					at := (float64(i) + x) / float64(pieces)
					h0, h1 := math.Max(at-h, 0), math.Min(at+h, 1)
					u0, _ := f.Surface.Place(use.Point(h0), u, v)
					u1, _ := f.Surface.Place(use.Point(h1), u, v)
					u, v = f.Surface.Place(use.Point(at), u, v)
					if du := (u1 - u0) / (h1 - h0); math.Abs(du) > 1e-9 {
						sum -= f.across(u, v) * du * edgeRule.W[k] / float64(pieces)
					}
				}
			}
		}
	}
	return sum
}

// pieces returns into how many pieces an edge is cut for integrals.
func (e *Edge) pieces() int {
	switch c := e.Curve.(type) {
	case Line:
		return 1
	case *Spline:
		return 2 * len(c.Basis.Spans())
	}
	return loopSteps
}

// across integrates p·(du x dv) along v, up to v.
func (f *Face) across(u, v float64) float64 {
	cuts := []float64{0, v}
	if s, ok := f.Surface.(*Patch); ok {
		cuts = cuts[:0]
		for _, k := range s.V.Spans() {
			if k < v {
				cuts = append(cuts, k)
			}
		}
		cuts = append(cuts, v)
	}
	sum := 0.0
	for i := 0; i+1 < len(cuts); i++ {
		sum += innerRule.Integrate(func(v float64) float64 {
			p, du, dv := f.Surface.At(u, v)
			return p.Dot(du.Cross(dv))
		}, cuts[i], cuts[i+1])
	}
	return sum
}
