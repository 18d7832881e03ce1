package brep

import (
	"math"
	"slices"

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
var edgeRule, innerRule = numeric.NewRule(5), numeric.NewRule(5)

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
			cuts := use.Edge.cuts(use.Back)
			for i := range len(cuts) - 1 {
				long := cuts[i+1] - cuts[i]
				h := 1e-3 * long
				for k, x := range edgeRule.X {
					at := cuts[i] + x*long
					h0, h1 := math.Max(at-h, 0), math.Min(at+h, 1)
					u0, _ := f.Surface.Place(use.Point(h0), u, v)
					u1, _ := f.Surface.Place(use.Point(h1), u, v)
					u, v = f.Surface.Place(use.Point(at), u, v)
					if du := (u1 - u0) / (h1 - h0); math.Abs(du) > 1e-9 {
						sum -= f.across(u, v) * du * edgeRule.W[k] * long
					}
				}
			}
		}
	}
	return sum
}

// cuts returns where an edge is cut for integrals, as fractions of it: a spline
// at its knots.
func (e *Edge) cuts(back bool) []float64 {
	out := []float64{0}
	switch c := e.Curve.(type) {
	case Line:
	case *Spline:
		for _, k := range c.Basis.Spans() {
			if k > e.T0 && k < e.T1 {
				out = append(out, (k-e.T0)/(e.T1-e.T0))
			}
		}
	default:
		for i := 1; i < loopSteps; i++ {
			out = append(out, float64(i)/loopSteps)
		}
	}
	out = append(out, 1)
	if back {
		slices.Reverse(out)
		for i := range out {
			out[i] = 1 - out[i]
		}
	}
	return out
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
