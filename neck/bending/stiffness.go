package bending

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"sort"
)

// Stiffness is what a station opposes to bending by the strings, about the
// line across the neck through its neutral axis. Stiffnesses are modulus times
// second moment of area, in N·mm².
//
// The board, if there is one, counts as glued on without slip and without fret
// slots: a transformed section, its width multiplied by the ratio of the two
// moduli (Gere, Mechanics of Materials, composite beams). Slots cost some of
// what it adds, so that a real neck lies between EIWood and EI.
//
// Bending to the side is left aside: where the two sides differ the neutral
// axis is not quite level, which changes the stiffness by a hundredth or two
// for sides that are far from alike.
//
// Bars and strips in the channels count in the same way, as glued in without
// slip. A rod counts for nothing: it is slack.
type Stiffness struct {
	X           float64
	Wood        neck.Moments // of the wood, its channel cut out
	EIWood      float64      // of the wood alone, with what is glued into its channels
	NeutralWood float64      // z of its neutral axis
	EI          float64      // of wood and board together
	Neutral     float64      // z of their common neutral axis
}

// StiffnessAt returns the stiffness of the neck at x.
func StiffnessAt(n *neck.Neck, x float64) Stiffness {
	e := n.Spec().Wood.Material().Modulus
	wood := n.WoodMoments(x)
	m := weighted(n, x, wood, e)
	if e > 0 {
		for _, i := range n.Inlays(x) {
			m = m.Plus(i.Modulus/e, i.Moments)
		}
	}
	s := Stiffness{X: x, Wood: wood, EIWood: e * m.Bending(), NeutralWood: m.Centroid().Z}
	s.EI, s.Neutral = s.EIWood, s.NeutralWood
	if b, ok := n.BoardMoments(x); ok && e > 0 {
		both := m.Plus(n.Spec().BoardMaterial().Modulus/e, b)
		s.EI, s.Neutral = e*both.Bending(), both.Centroid().Z
	}
	return s
}

// MeanStiffness returns the stiffness, in N·mm², of an even neck that would
// bend as much between a and b under an even moment: the harmonic mean of EI
// with the board, since it is 1/EI that adds up to the bend.
func MeanStiffness(n *neck.Neck, a, b float64) float64 {
	return (b - a) / n.VolumeBetween(a, b, func(x float64) float64 { return 1 / StiffnessAt(n, x).EI })
}

// Joint returns x where the body takes over: the place that [strings] names,
// or else where the heel is the full block, or the end of a neck without a
// heel. The neck is free to bend from the nut to there.
func Joint(n *neck.Neck) float64 {
	s := n.Spec()
	switch {
	case s.Strings != nil && s.Strings.Joint != nil:
		return s.X(*s.Strings.Joint)
	case s.Heel != nil:
		return math.Min(n.HeelFull(), n.End())
	}
	return math.Min(n.End(), n.BoardEnd())
}

// ThirdStiffness returns the mean stiffness, in N·mm², of the three thirds of
// the free length between nut and body joint, from the nut on.
func ThirdStiffness(n *neck.Neck) [3]float64 {
	var out [3]float64
	third := Joint(n) / 3
	for i := range out {
		out[i] = MeanStiffness(n, third*float64(i), third*float64(i+1))
	}
	return out
}

// bent is the line that a straight beam takes when it is bent and laid on two
// supports at its ends: heights over the straight line between them, positive
// away from the side that is in compression.
type bent struct{ xs, ws []float64 }

// bend integrates curvature, in 1/mm, twice from the first of marks to the
// last, and takes the line between the two ends off. Curvature may jump at a
// mark and has to be smooth between them.
//
// Between two nodes at x0 and x1 the slope grows by ∫ κ dt and the height by
// the slope at x0 times the step and ∫ (x1 - t) κ dt, both by a Gauss rule.
func bend(marks []float64, curvature func(x float64) float64) bent {
	const longest = 8.0 // mm between nodes
	b := bent{xs: []float64{marks[0]}, ws: []float64{0}}
	slope, w := 0.0, 0.0
	for i := 1; i < len(marks); i++ {
		a, c := marks[i-1], marks[i]
		steps := max(1, int(math.Ceil((c-a)/longest)))
		if c <= a {
			continue
		}
		for k := range steps {
			x0, x1 := numeric.Lerp(a, c, float64(k)/float64(steps)), numeric.Lerp(a, c, float64(k+1)/float64(steps))
			h := x1 - x0
			dSlope, dw := 0.0, slope*h
			for j, t := range bendRule.X {
				kappa := curvature(x0+h*t) * bendRule.W[j] * h
				dSlope += kappa
				dw += kappa * h * (1 - t)
			}
			slope += dSlope
			w += dw
			b.xs = append(b.xs, x1)
			b.ws = append(b.ws, w)
		}
	}
	x0, x1 := b.xs[0], b.xs[len(b.xs)-1]
	for i, x := range b.xs {
		b.ws[i] -= w * (x - x0) / (x1 - x0)
	}
	return b
}

// bendRule integrates curvature between two nodes.
var bendRule = numeric.NewRule(4)

// at returns the height at x by the cubic through the four nodes around it.
func (b *bent) at(x float64) float64 {
	last := len(b.xs) - 1
	if x < b.xs[0] || x > b.xs[last] {
		return math.NaN()
	}
	i := min(max(sort.SearchFloat64s(b.xs, x)-2, 0), max(last-3, 0))
	j := min(i+3, last)
	// Lagrange's form.
	sum := 0.0
	for p := i; p <= j; p++ {
		term := b.ws[p]
		for q := i; q <= j; q++ {
			if q != p {
				term *= (x - b.xs[q]) / (b.xs[p] - b.xs[q])
			}
		}
		sum += term
	}
	return sum
}

// deepest returns the lowest point: its depth below the line between the ends,
// as a positive number, and where it is.
func (b *bent) deepest() (depth, x float64) {
	best := 0
	for i, w := range b.ws {
		if w < b.ws[best] {
			best = i
		}
	}
	if best == 0 || best == len(b.ws)-1 {
		return -b.ws[best], b.xs[best]
	}
	lo, hi := b.xs[best-1], b.xs[best+1]
	depth, x = numeric.Maximize(func(x float64) float64 { return -b.at(x) }, lo, hi, 4)
	if -b.ws[best] > depth {
		return -b.ws[best], b.xs[best]
	}
	return depth, x
}

// marksBetween returns a, the landmarks between a and b in order, and b.
func marksBetween(n *neck.Neck, a, b float64) []float64 {
	xs := []float64{a}
	marks := append(n.Landmarks(), n.ChannelMarks()...)
	sort.Float64s(marks)
	for _, x := range marks {
		if x > xs[len(xs)-1] && x < b {
			xs = append(xs, x)
		}
	}
	return append(xs, b)
}
