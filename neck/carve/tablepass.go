package carve

import "math"

// first returns the height at which a cutter just touches the workpiece's flat
// back: from there the passes begin.
func (w *Tapered) first(k *cutter, p Plane) float64 {
	least := math.Inf(1)
	beta, ok := k.begin(through)
	if !ok {
		return least
	}
	_, below := k.arc(beta, through)
	for _, x := range []float64{w.Stretch.From, w.Stretch.To} {
		least = math.Min(least, p.height(x, w.Taper.Depth(x)-below))
	}
	return least
}

// passHeights returns the heights of the passes from the first touch to the
// last, each a step deeper than the one before. A last pass too thin to cut
// would rub and burn: the one before it gives way.
func passHeights(first, last, step float64) []float64 {
	const thin = 0.5
	count := max(1, int(math.Ceil((last-first)/step-1e-6)))
	out := make([]float64, count)
	for i := range out {
		v := first + float64(i+1)*step
		switch i {
		case count - 1:
			v = last
		case count - 2:
			v = math.Max(math.Min(v, last-thin), v-step/2)
		}
		out[i] = v
	}
	return out
}
