package exact

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// Kernels measure a face by Gauss's rule over all of its length at once, however many
// spans it has: a playing length whose profile changes often comes out wrong by more
// than a hundred thousandth of the volume. Such a patch is cut at knots into parts of
// one surface, which are measured each by itself.

const (
	kernelPlaces = 61   // the most that such a rule has: OpenCASCADE's, from its source
	kernelError  = 2e-6 // of the volume, that the rule may be off by
	mostParts    = 6
)

// divide cuts the parts of the playing length as far as kernels need it.
func (w *wood) divide() {
	volume := w.n.VolumeBetween(w.n.Start(), w.n.End(), func(x float64) float64 { s := w.n.Loft(x); return s.Area() })
	var out []part
	for _, p := range w.parts {
		if p.kind != partPlain {
			out = append(out, p)
			continue
		}
		cuts := []float64{p.From, p.To}
		for k := 1; k <= mostParts; k++ {
			cuts = p.evenCuts(k)
			if w.misread(&p, cuts) < kernelError*volume {
				break
			}
		}
		for i := range len(cuts) - 1 {
			out = append(out, p.between(cuts[i], cuts[i+1]))
		}
	}
	w.parts = out
}

// evenCuts returns the ends of k parts that have about as many spans each.
func (p *part) evenCuts(k int) []float64 {
	spans := p.backs[neck.MinusY].U.Spans()
	var out []float64
	for i := range k + 1 {
		out = append(out, spans[(len(spans)-1)*i/k])
	}
	return slices.Compact(out)
}

// misread returns by how much, in mm³, a kernel is off over a part with cuts.
func (w *wood) misread(p *part, cuts []float64) float64 {
	centre := mesh.Vec{X: (w.n.Start() + w.n.End()) / 2}
	coarse, fine := numeric.NewRule(kernelPlaces), numeric.NewRule(5)
	across := numeric.NewRule(24)
	sum := 0.0
	for _, side := range sides {
		s := p.backs[side]
		flux := func(u float64) float64 {
			return across.Integrate(func(v float64) float64 {
				at, du, dv := s.At(u, v)
				return at.Sub(centre).Dot(du.Cross(dv)) / 3
			}, 0, 1)
		}
		off := 0.0
		for i := range len(cuts) - 1 {
			off += coarse.Integrate(flux, cuts[i], cuts[i+1])
		}
		spans := s.U.Spans()
		for i := range len(spans) - 1 {
			off -= fine.Integrate(flux, spans[i], spans[i+1])
		}
		sum += math.Abs(off)
	}
	return sum
}

// between returns the part of a plain part from a to b.
func (p *part) between(a, b float64) part {
	out := *p
	out.From, out.To = a, b
	for _, side := range sides {
		out.backs[side] = p.backs[side].Between(a, b)
	}
	out = out.marked()
	out.outline = [2]*brep.Spline{}
	out.layOutline()
	return out
}
