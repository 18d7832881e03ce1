package neck

import (
	"math"

	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// headVolume integrates the section's area over a headstock with an outline, in
// steps that no corner of it can hide between.
func (n *Neck) headVolume() float64 {
	const step = 0.5
	rule := numeric.NewRule(2)
	stop := math.Min(0, -n.head.far+n.headLow*n.head.sin)
	k := int(math.Ceil((stop - n.start) / step))
	parts := make([]float64, max(k, 0))
	eachAtOnce(len(parts), func(i int) {
		a, b := numeric.Lerp(n.start, stop, float64(i)/float64(k)), numeric.Lerp(n.start, stop, float64(i+1)/float64(k))
		parts[i] = rule.Integrate(func(x float64) float64 {
			s := n.Section(x)
			return s.Area()
		}, a, b)
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

// HeadHoles returns the volume in mm³ of what slots, pocket and tuner holes take
// out of the headstock and the veneer of its face. Validate keeps them apart.
func (n *Neck) HeadHoles() float64 {
	h := n.spec.Headstock
	if h == nil {
		return 0
	}
	sum := 0.0
	for _, s := range n.head.slots {
		// Across by its width, along by a rule; the wood is even across.
		r := s.Width / 2
		wide := func(u float64) float64 {
			off := math.Max(0, math.Max(s.U+r-u, u-(s.U+s.Length-r)))
			return 2 * math.Sqrt(math.Max(0, r*r-off*off))
		}
		take := func(u float64) float64 { return wide(u) * (n.SquareThickness(u, s.Y) + n.VeneerOver(u)) }
		for _, part := range [][2]float64{{s.U, s.U + r}, {s.U + r, s.U + s.Length - r}, {s.U + s.Length - r, s.U + s.Length}} {
			sum += numeric.Unit.Integrate(take, part[0], part[1])
		}
	}
	if p := h.Pocket; p != nil {
		sum += p.Depth * (p.Length*p.Width - (4-math.Pi)*p.Round*p.Round)
		if v := n.faceVeneer(); v > 0 {
			// Less where the veneer is planed off towards the break.
			r, from, to := p.Round, p.U, p.U+p.Length
			lacks := func(u float64) float64 {
				off := math.Max(0, math.Max(from+r-u, u-(to-r)))
				wide := p.Width - 2*r + 2*math.Sqrt(math.Max(0, r*r-off*off))
				return wide * math.Min(p.Depth, v-n.VeneerOver(u))
			}
			sum -= numeric.Unit.Integrate(lacks, from, to)
		}
	}
	for _, t := range n.head.tuners {
		sum += n.tunerVolume(t)
	}
	return sum
}

// tunerVolume returns what a tuner's hole takes out.
func (n *Neck) tunerVolume(t spec.Tuner) float64 {
	disc := func(d float64) float64 { return math.Pi * d * d / 4 }
	if !t.Across() {
		// The face is plane and the back nearly so: the mean over the hole is
		// that at its middle.
		v := disc(t.Hole) * (n.SquareThickness(t.U, t.Y) + n.VeneerOver(t.U))
		if t.FaceDepth > 0 {
			v += t.FaceDepth * (disc(t.FaceDiameter) - disc(t.Hole))
		}
		if t.BackDepth > 0 {
			v += t.BackDepth * (disc(t.BackDiameter) - disc(t.Hole))
		}
		return v
	}
	s, sign, end := n.acrossHole(t)
	into := math.Abs(end - (s.Y - sign*s.Width/2))
	outer := s.Y + sign*s.Width/2
	r := t.Hole / 2
	// Lines along the hole, over strips of its width.
	return numeric.Unit.Integrate(func(a float64) float64 {
		edge := n.head.paddle
		if o := n.head.edge; o != nil {
			edge = 0
			for _, y := range o.Across(t.U + a) {
				edge = math.Max(edge, sign*y)
			}
		}
		return 2 * math.Sqrt(r*r-a*a) * (edge - sign*outer + into)
	}, -r, r)
}
