package neck

import (
	"math"
	"sort"

	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// HeadHoles returns the volume in mm³ of what slots, pocket and tuner holes take
// out of the headstock and the veneer of its face, besides what channels have taken
// where a cut square to the face runs into one. Validate keeps them apart from
// each other.
func (n *Neck) HeadHoles() float64 {
	h := n.spec.Headstock
	if h == nil {
		return 0
	}
	sum := 0.0
	deep, high := math.Inf(-1), math.Inf(1)
	ends := n.coveEnds()
	through := func(u, y float64) float64 {
		if n.SquareThickness(u, y) == 0 {
			return 0 // beside the wood, where there is no veneer
		}
		return n.faceTop(u, y) + n.underFace(u, y)
	}
	for _, s := range n.head.slots {
		o := stadiumOf(s)
		sum += o.integrate(through, ends...) - n.shared(o, deep, high)
	}
	if p := h.Pocket; p != nil {
		o := stadium{p.U, p.U + p.Length, 0, p.Width / 2, p.Round}
		sum += o.integrate(n.overFloor(p.Depth), ends...) - n.shared(o, n.faceVeneer()-p.Depth, high)
	}
	var across []spec.Tuner
	for _, t := range n.head.tuners {
		if t.Across() {
			sum += n.acrossVolume(t, across)
			across = append(across, t)
			continue
		}
		hole := tunerDisc(t, t.Hole)
		sum += hole.integrate(through, ends...) - n.shared(hole, deep, high)
		if t.FaceDepth > 0 {
			over, floor := n.overFloor(t.FaceDepth), n.faceVeneer()-t.FaceDepth
			wide := tunerDisc(t, t.FaceDiameter)
			sum += wide.integrate(over, ends...) - n.shared(wide, floor, high)
			sum -= hole.integrate(over, ends...) - n.shared(hole, floor, high)
		}
		if t.BackDepth > 0 {
			floor := n.backFloor(t)
			under := func(u, y float64) float64 { return math.Max(0, floor+n.underFace(u, y)) }
			wide := tunerDisc(t, t.BackDiameter)
			sum += wide.integrate(under, ends...) - n.shared(wide, deep, floor)
			sum -= hole.integrate(under, ends...) - n.shared(hole, deep, floor)
		}
	}
	return sum
}

// coveEnds returns where along the face the cove of a stepped one begins and ends:
// there its slope changes, and the veneer begins with its whole thickness.
func (n *Neck) coveEnds() []float64 {
	if n.head.sin != 0 || n.head.lean != nil {
		return nil
	}
	return []float64{n.head.shelf, n.head.shelf + n.coveRun}
}

// woodTop returns how high the wood stands over the plane of the headstock's face at
// u along it and y across: on the cove of a stepped face, and 0 elsewhere.
func (n *Neck) woodTop(u, y float64) float64 {
	if n.head.sin != 0 {
		return 0
	}
	return n.TopAt(-u, y) - n.head.z
}

// faceTop is woodTop with the veneer, which begins where the cove ends.
func (n *Neck) faceTop(u, y float64) float64 {
	if top := n.woodTop(u, y); top > 1e-9 {
		return top
	}
	return n.VeneerOver(u)
}

// underFace returns how much wood lies under the plane of the headstock's face at u
// along it and y across, square to it. It is SquareThickness but on a cove.
func (n *Neck) underFace(u, y float64) float64 {
	thick := n.SquareThickness(u, y)
	if thick == 0 {
		return 0
	}
	return thick - n.woodTop(u, y)
}

// overFloor returns how high the finished face stands over a floor so deep in it,
// at u and y.
func (n *Neck) overFloor(deep float64) func(u, y float64) float64 {
	floor := n.faceVeneer() - deep
	return func(u, y float64) float64 { return math.Max(0, n.faceTop(u, y)-floor) }
}

// backFloor returns the height over the face's plane of the floor of a tuner's wider
// part at the back, whose depth counts on the axis of the hole.
func (n *Neck) backFloor(t spec.Tuner) float64 { return t.BackDepth - n.underFace(t.U, t.Y) }

// acrossVolume returns what a tuner's hole that lies across takes out, by lines
// along it: from its end to where they leave the side of the wood, whose width,
// profile or outline may change over the hole, less what other cuts have taken, and the
// holes across before it.
func (n *Neck) acrossVolume(t spec.Tuner, before []spec.Tuner) float64 {
	f := &n.head
	_, sign, end := n.acrossHole(t)
	axis, r := n.faceVeneer()-t.Below, t.Hole/2
	line := func(u, w float64) float64 {
		p := f.onFace(u, 0, w)
		ys := n.woodAcross(p.X, p.Z)
		within := func(lo, hi float64) float64 {
			sum := 0.0
			for i := 0; i+1 < len(ys); i += 2 {
				sum += math.Max(0, math.Min(hi, ys[i+1])-math.Max(lo, ys[i]))
			}
			return sum
		}
		from, to := math.Inf(-1), end
		if sign > 0 {
			from, to = end, math.Inf(1)
		}
		length := within(from, to)
		return length - n.cutAcross(u, w, from, to, before, within)
	}
	return stadium{t.U - r, t.U + r, axis, r, r}.integrate(line)
}

// cutAcross returns how much of a line across the headstock, at u along the face and a
// height over it, other cuts have taken between two places: slots, holes, the pocket,
// channels, and the holes across that come before. within measures the wood between two
// places.
func (n *Neck) cutAcross(u, w, from, to float64, before []spec.Tuner, within func(lo, hi float64) float64) float64 {
	var cuts [][2]float64
	add := func(lo, hi float64) {
		if lo, hi = math.Max(lo, from), math.Min(hi, to); lo < hi {
			cuts = append(cuts, [2]float64{lo, hi})
		}
	}
	over := func(o stadium) {
		if h := o.half(u); h > 0 {
			add(o.y-h, o.y+h)
		}
	}
	for _, s := range n.head.slots {
		over(stadiumOf(s))
	}
	if p := n.spec.Headstock.Pocket; p != nil && w > n.faceVeneer()-p.Depth {
		over(stadium{p.U, p.U + p.Length, 0, p.Width / 2, p.Round})
	}
	for _, t := range n.head.tuners {
		if t.Across() {
			continue
		}
		over(tunerDisc(t, t.Hole))
		if t.FaceDepth > 0 && w > n.faceVeneer()-t.FaceDepth {
			over(tunerDisc(t, t.FaceDiameter))
		}
		if t.BackDepth > 0 && w < n.backFloor(t) {
			over(tunerDisc(t, t.BackDiameter))
		}
	}
	for _, t := range before {
		if axis := n.faceVeneer() - t.Below; math.Hypot(u-t.U, w-axis) < t.Hole/2 {
			_, sign, end := n.acrossHole(t)
			if sign > 0 {
				add(end, math.Inf(1))
			} else {
				add(math.Inf(-1), end)
			}
		}
	}
	p := n.head.onFace(u, 0, w)
	for _, c := range n.channels {
		if lo, hi, ok := c.span(p.X, p.Z); ok {
			add(lo, hi)
		}
	}
	return measured(cuts, within)
}

// measured adds up what lies in any of several stretches of a line.
func measured(cuts [][2]float64, within func(lo, hi float64) float64) float64 {
	sort.Slice(cuts, func(i, k int) bool { return cuts[i][0] < cuts[k][0] })
	sum, done := 0.0, math.Inf(-1)
	for _, c := range cuts {
		if c[1] > done {
			sum += within(math.Max(c[0], done), c[1])
			done = c[1]
		}
	}
	return sum
}

// woodAcross returns the wood of the headstock on the line across at x and z, in
// pairs of y; the veneer on top of it is as wide as the wood under it.
func (n *Neck) woodAcross(x, z float64) []float64 {
	s := n.Section(x)
	if z < -s.Depth {
		return nil
	}
	lo, hi := s.Edge(MinusY).Y, s.Edge(PlusY).Y
	if z < s.CurveStart() {
		lo, hi = s.across(MinusY, z), s.across(PlusY, z)
	}
	if s.trim == nil {
		return []float64{lo, hi}
	}
	return between(s.trim.at(z), lo, hi)
}

// stadium is what a cut covers of a plane: from one place along it to another, to
// half its width on either side of y, with corners of that radius.
type stadium struct{ from, to, y, wide, round float64 }

// stadiumOf is what a slot covers of the face, with round ends.
func stadiumOf(s spec.HeadSlot) stadium {
	return stadium{s.U, s.U + s.Length, s.Y, s.Width / 2, s.Width / 2}
}

// tunerDisc is what a round part of a tuner's hole covers of the face.
func tunerDisc(t spec.Tuner, d float64) stadium {
	return stadium{t.U - d/2, t.U + d/2, t.Y, d / 2, d / 2}
}

// half returns half the width at a place along, 0 beyond the ends.
func (o stadium) half(u float64) float64 {
	if u < o.from || u > o.to {
		return 0
	}
	off := math.Max(0, math.Max(o.from+o.round-u, u-(o.to-o.round)))
	return o.wide - o.round + math.Sqrt(math.Max(0, o.round*o.round-off*off))
}

// integrate returns the integral of f, of a place along and one across, which may
// jump at given places along.
func (o stadium) integrate(f func(u, y float64) float64, jumps ...float64) float64 {
	const longest = 6.0 // of a piece
	marks := []float64{o.from}
	if a, b := o.from+o.round, o.to-o.round; b-a > 1e-9 {
		k := math.Ceil((b - a) / longest)
		for i := 0.0; i <= k; i++ {
			marks = append(marks, numeric.Lerp(a, b, i/k))
		}
	}
	marks = append(marks, o.to)
	for _, u := range jumps {
		if u > o.from && u < o.to {
			marks = append(marks, u)
		}
	}
	sort.Float64s(marks)
	sum := 0.0
	for i := range len(marks) - 1 {
		sum += o.piece(f, marks[i], marks[i+1])
	}
	return sum
}

// faceRule integrates over a piece of a stadium, along and across.
var faceRule = numeric.NewRule(12)

// piece integrates f from a to b along: over a plane of it by the centroid, else by
// a rule, whose steps along go by a cosine, as the edge of a round end does.
func (o stadium) piece(f func(u, y float64) float64, a, b float64) float64 {
	if b-a < 1e-9 {
		return 0
	}
	along := func(g func(u float64) float64) float64 {
		return faceRule.Integrate(func(phi float64) float64 {
			return g((a+b)/2-(b-a)/2*math.Cos(phi)) * (b - a) / 2 * math.Sin(phi)
		}, 0, math.Pi)
	}
	if at, ok := o.plane(f, a, b); ok {
		area := along(func(u float64) float64 { return 2 * o.half(u) })
		return area * at(along(func(u float64) float64 { return 2 * u * o.half(u) })/area)
	}
	return along(func(u float64) float64 {
		h := o.half(u)
		line := func(y float64) float64 { return f(u, y) }
		return faceRule.Integrate(line, o.y-h, o.y) + faceRule.Integrate(line, o.y, o.y+h)
	})
}

// plane returns f along the middle line from a to b where it is a plane over the
// stadium there, and false where it is not.
func (o stadium) plane(f func(u, y float64) float64, a, b float64) (func(u float64) float64, bool) {
	const near = 1e-7
	mid := (a + b) / 2
	h := o.half(mid)
	at0, ata, atb := f(mid, o.y), f(a, o.y), f(b, o.y)
	lo, hi := f(mid, o.y-h), f(mid, o.y+h)
	slope, side := (atb-ata)/(b-a), (hi-lo)/(2*h)
	ok := math.Abs(ata+atb-2*at0) < near && math.Abs(lo+hi-2*at0) < near
	for _, t := range []float64{-0.7, 0.7} {
		u := mid + t*(b-a)/2
		for _, y := range []float64{-o.half(u), o.half(u)} {
			ok = ok && math.Abs(at0+slope*(u-mid)+side*y-f(u, o.y+y)) < near
		}
	}
	return func(u float64) float64 { return at0 + slope*(u-mid) }, ok
}
