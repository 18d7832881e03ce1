package spectest

import (
	"math"

	"neckloft/neck/spec"

	"pgregory.net/rapid"
)

// drawHeelKind turns a drawn block into another kind of heel, with a joint or
// without. It may make a spec that is refused.
func drawHeelKind(t *rapid.T, s *spec.Spec, size float64) {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }
	const degree = math.Pi / 180
	h := s.Heel
	if yes("plain block") {
		return
	}
	wood := func() float64 { return h.Total - s.Board.Thickness }
	long := func() float64 { return s.X(h.End) - s.X(h.Full) }
	h.Kind = rapid.SampledFrom([]string{"", spec.HeelBlock, spec.HeelCap, spec.HeelBoltOn, spec.HeelThrough}).Draw(t, "heel kind")
	switch h.Kind {
	case spec.HeelThrough:
		h.End = spec.AtX(s.Scale.Length * f(1.05, 1.4, "tail"))
		return
	case spec.HeelBoltOn:
		drawBolts(t, s)
		return
	case spec.HeelCap:
		h.Total = s.Board.Thickness + f(25, 90, "heel height")*math.Sqrt(size)
		h.CapWidth = h.Width * f(0.4, 1, "cap width")
		h.Corner = math.Min(h.Corner, h.CapWidth/5)
		if yes("sweep") {
			h.Sweep, h.Cheeks = f(2, 5, "sweep power"), f(1, 3, "cheeks")
		}
	}
	if yes("rake") {
		h.Rake = math.Min(f(0.2, 4, "rake angle")*degree, math.Atan(0.6*long()/wood()))
	}
	j := &spec.Joint{Kind: rapid.SampledFrom([]string{spec.JointButt, spec.JointTenon, spec.JointDovetail}).Draw(t, "joint")}
	s.Joint = j
	narrow := h.Width
	if h.Capped() {
		narrow = h.CapWidth - 2*h.Corner
	}
	switch j.Kind {
	case spec.JointTenon:
		j.Width, j.Length = narrow*f(0.4, 0.9, "tenon width"), f(6, 60, "tenon length")*size
		if yes("shoulder below") {
			j.Depth = wood() * f(0.3, 0.9, "tenon depth")
		}
		if yes("tenon corners") {
			j.Corner = math.Min(j.Width, j.Length) * f(0.05, 0.3, "tenon corner")
		}
	case spec.JointDovetail:
		j.Width, j.Length = narrow*f(0.4, 0.7, "tail width"), f(6, 18, "tail length")*size
		j.Flare, j.Depth = f(5, 16, "flare")*degree, wood()*f(0.4, 0.9, "tail depth")
		if yes("taper") {
			j.Taper = f(0.5, 5, "taper angle") * degree
		}
	}
	if yes("inserts") {
		j.Inserts = []spec.Insert{{
			Offset: narrow * f(-0.1, 0.1, "insert offset"),
			Down:   wood() * f(0.3, 0.5, "insert down"), Diameter: narrow * f(0.1, 0.2, "insert"), Depth: long() * f(0.2, 0.7, "insert depth"),
		}}
	}
}

// drawBolts draws bolts in the block, and the corners of its end.
func drawBolts(t *rapid.T, s *spec.Spec) {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	h := s.Heel
	from, end, wood := s.X(h.Full), s.X(h.End), h.Total-s.Board.Thickness
	if rapid.Bool().Draw(t, "end corners") {
		h.EndCorner = math.Min(h.Width/2, end-from) * f(0.05, 0.6, "end corner")
	}
	for _, at := range []float64{0.25, 0.75} {
		b := spec.Bolt{
			At: spec.AtX(from + at*(end-from)), Apart: h.Width * f(0.3, 0.6, "apart"),
			Diameter: math.Min(h.Width*0.08, (end-from)*0.1), Depth: wood * f(0.3, 0.7, "bolt depth"),
		}
		if rapid.Bool().Draw(t, "one alone") {
			b.Apart, b.Offset = 0, h.Width*f(-0.2, 0.2, "bolt offset")
		}
		if rapid.Bool().Draw(t, "counterbore") {
			b.Counterbore, b.CounterboreDepth = 1.5*b.Diameter, 0.4*b.Depth
		}
		h.Bolts = append(h.Bolts, b)
	}
}
