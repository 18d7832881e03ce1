package exact

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
)

// A kernel's plain rule measures a face at once along it or across it
// ([brep.Patch.PlainError]). A playing length whose profile is sharp, and changes often,
// comes out wrong either way, by some hundred thousandths of the volume. Its patch is
// cut at knots into parts of one surface, which are measured each by itself.

const (
	kernelError = 2e-6 // of the volume, that the rule may be off by
	mostParts   = 6
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
		var cuts []float64
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
	sum := 0.0
	for _, side := range sides {
		for i := range len(cuts) - 1 {
			sum += math.Min(p.backs[side].Between(cuts[i], cuts[i+1]).PlainError(centre))
		}
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
