package neck

import (
	"math"
	"sort"

	"neckloft/neck/numeric"
)

// headVolume integrates the section's area over a headstock with an outline, between
// the places where its corners come and go. There the area may begin as steeply as a
// circle's chord, and steps go by a cosine.
func (n *Neck) headVolume() float64 {
	const step, least = 0.75, 3
	rule := numeric.NewRule(3)
	stop := math.Min(0, -n.head.far+n.headLow*n.head.sin)
	type piece struct{ a, b, from, to float64 } // of the stretch from a to b that between two angles
	var pieces []piece
	marks := n.outlineMarks(n.start, stop)
	for i := range len(marks) - 1 {
		a, b := marks[i], marks[i+1]
		k := math.Max(least, math.Ceil((b-a)/step-1e-6)) // the same for the other hand, whose marks differ in last bits
		for j := 0.0; j < k; j++ {
			pieces = append(pieces, piece{a, b, math.Pi * j / k, math.Pi * (j + 1) / k})
		}
	}
	parts := make([]float64, len(pieces))
	numeric.EachAtOnce(len(parts), func(i int) {
		p := pieces[i]
		mid, half := (p.a+p.b)/2, (p.b-p.a)/2
		parts[i] = rule.Integrate(func(phi float64) float64 {
			sin, cos := math.Sincos(phi)
			s := n.Section(mid - half*cos)
			return s.Area() * half * sin
		}, p.from, p.to)
	})
	sum := 0.0
	for _, v := range parts {
		sum += v
	}
	return sum + n.VolumeBetween(stop, 0, func(x float64) float64 {
		s := n.Section(x)
		return s.Area()
	})
}

// outlineMarks returns two stations and those between them, in order, where a corner of
// the outline, or a place where it turns back, lies in the face or the back.
func (n *Neck) outlineMarks(from, to float64) []float64 {
	marks := []float64{from, to}
	add := func(u float64) {
		for _, w := range []float64{0, -n.spec.HeadThicknessAt(u)} {
			if x := n.head.onFace(u, 0, w).X; x > from && x < to {
				marks = append(marks, x)
			}
		}
	}
	path := n.head.edge.Segments // which end where it turns back, too
	add(path[0].Start().X)
	for i := range len(path) - 1 {
		const near, smooth = 0.01, 0.02
		at := path[i].End()
		in, out := at.Sub(path[i].At(1-near)), path[i+1].At(near).Sub(at)
		if in.X*out.X <= 0 || math.Abs(in.Cross(out)) > smooth*in.Norm()*out.Norm() {
			add(at.X)
		}
	}
	add(path[len(path)-1].End().X)
	sort.Float64s(marks)
	apart := marks[:1]
	for _, x := range marks[1:] {
		if x-apart[len(apart)-1] > 1e-6 {
			apart = append(apart, x)
		}
	}
	return apart
}
