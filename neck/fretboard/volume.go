package fretboard

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

// alongRule and acrossRule integrate over the board, between places where its
// laws change.
var alongRule, acrossRule = numeric.NewRule(6), numeric.NewRule(6)

// Volume returns the volume in mm³ of the board's own wood: the blank in its
// outline under its top, less the slots, the hollows, the channels of the
// binding, the pockets of markers and the holes of side dots and pins. It is by
// integrals over the exact shapes; where two cuts meet that Validate warns of, what
// both take counts twice.
func (b *Board) Volume() float64 {
	v := b.blankVolume() - b.bindingVolume()
	for i := range b.Frets {
		v -= b.slotVolume(&b.Frets[i])
	}
	v -= b.nutVolume()
	for n := range b.hollows() {
		v -= b.hollowVolume(n)
	}
	for _, p := range b.Pockets(0.001) {
		v -= b.pocketVolume(&p)
	}
	for _, d := range b.SideDots() {
		v -= math.Pi * d.Diameter * d.Diameter / 4 * b.dotDepth(&d)
	}
	if pins, err := b.Pins(); err == nil {
		for _, p := range pins {
			v -= math.Pi * b.s.Pins.Diameter * b.s.Pins.Diameter / 4 * p.InBoard
		}
	}
	return v
}

// blankVolume returns the volume of the board before anything is cut into it,
// by lines that all lie at the same share of its width.
func (b *Board) blankVolume() float64 {
	if b.s.SquareEnds() {
		return b.n.BoardVolume()
	}
	const panels = 24
	sum := 0.0
	for i := range panels {
		lo, hi := -1+2*float64(i)/panels, -1+2*float64(i+1)/panels
		sum += acrossRule.Integrate(func(v float64) float64 {
			at := func(end func(y float64) float64, x float64) float64 {
				for range 60 {
					next := end(v * b.n.BoardHalfWidth(x))
					if math.Abs(next-x) < 1e-10 {
						break
					}
					x = next
				}
				return x
			}
			return b.along1(at(b.s.BoardStartAt, 0), at(b.s.BoardEndAt, b.s.BoardEnd()), func(x float64) float64 {
				a := b.n.BoardHalfWidth(x)
				return a * b.top(x, v*a)
			})
		}, lo, hi)
	}
	return sum
}

// along1 integrates along the board, in pieces that a fall-away parts.
func (b *Board) along1(from, to float64, f func(x float64) float64) float64 {
	marks := []float64{from, to}
	if g := b.s.FallAway; g != nil {
		if x := b.s.X(g.From); x > from && x < to {
			marks = []float64{from, x, to}
		}
	}
	const panels = 3
	sum := 0.0
	for i := range len(marks) - 1 {
		for j := range panels {
			sum += alongRule.Integrate(f, numeric.Lerp(marks[i], marks[i+1], float64(j)/panels), numeric.Lerp(marks[i], marks[i+1], float64(j+1)/panels))
		}
	}
	return sum
}

// across1 integrates across the board, in equal panels.
func across1(from, to float64, f func(y float64) float64) float64 {
	const panels = 4
	sum := 0.0
	for i := range panels {
		sum += acrossRule.Integrate(f, numeric.Lerp(from, to, float64(i)/panels), numeric.Lerp(from, to, float64(i+1)/panels))
	}
	return sum
}

// slotVolume returns what the slot of a fret takes. What the channel of a binding
// has taken already does not count.
func (b *Board) slotVolume(f *Fret) float64 {
	t := b.s.Slots
	if t == nil {
		return 0
	}
	floor := b.slotFloor(f)
	deep := func(y float64) float64 { return b.top(f.At(y), y) - floor(f.At(y), y) }
	wide := t.Kerf * math.Hypot(1, f.Slope)
	in := b.boundWidth()
	lo, hi := f.EdgeBass+in, f.EdgeTreble-in
	if f.Partial {
		whole := b.whole(*f)
		lo, hi = whole.EdgeBass+in, whole.EdgeTreble-in
	}
	sum := wide * across1(math.Max(f.From, lo), math.Min(f.To, hi), deep)
	if in == 0 {
		return sum
	}
	for _, part := range [][2]float64{{f.From, math.Min(lo, f.To)}, {math.Max(hi, f.From), f.To}} {
		if part[1] > part[0] {
			sum += wide * across1(part[0], part[1], func(y float64) float64 {
				x := f.At(y)
				return math.Max(0, b.bindingFloor(x)-floor(x, y))
			})
		}
	}
	return sum
}

// nutVolume returns what the slot of the nut takes.
func (b *Board) nutVolume() float64 {
	n := b.s.Nut
	if n == nil || n.Slot == 0 {
		return 0
	}
	k := b.s.FretSlope(0)
	front := -n.ZeroFret * math.Hypot(1, k)
	back := front - n.Thickness*math.Hypot(1, k)
	mid := (front + back) / 2
	floor := b.straightFloor(mid, k, n.Slot)
	in := b.boundWidth()
	lo, hi := b.edge(-1, mid, k), b.edge(1, mid, k)
	take := func(y float64) float64 { return b.top(mid+k*y, y) - floor(mid, y) }
	sum := across1(lo+in, hi-in, take)
	if in > 0 {
		bound := func(y float64) float64 { return math.Max(0, b.bindingFloor(mid+k*y)-floor(mid, y)) }
		sum += across1(lo, lo+in, bound) + across1(hi-in, hi, bound)
	}
	return sum * (front - back)
}

// hollows returns the frets after which the board is hollowed.
func (b *Board) hollows() map[int]bool {
	out := map[int]bool{}
	if g := b.s.Scallop; g != nil {
		for n := g.From; n < b.s.Scale.Frets; n++ {
			out[n] = true
		}
	}
	return out
}

// hollow returns the depth of the hollow after fret n at (x, y), 0 beside it.
func (b *Board) hollow(n int, x, y float64) float64 {
	g := b.s.Scallop
	near, far := b.Line(float64(n)), b.Line(float64(n+1))
	x0, x1 := near.At(y)+g.Land*math.Hypot(1, near.Slope), far.At(y)-g.Land*math.Hypot(1, far.Slope)
	u := (x - x0) / (x1 - x0)
	return math.Max(0, 4*g.Depth*u*(1-u))
}

// hollowVolume returns what the hollow after fret n takes, a parabola along the
// neck. What the channel of a binding has taken already does not count.
func (b *Board) hollowVolume(n int) float64 {
	g := b.s.Scallop
	near, far := b.Line(float64(n)), b.Line(float64(n+1))
	mid := Fret{X: (near.X + far.X) / 2, Slope: (near.Slope + far.Slope) / 2}
	long := func(y float64) float64 {
		return far.At(y) - near.At(y) - g.Land*(math.Hypot(1, near.Slope)+math.Hypot(1, far.Slope))
	}
	in := b.boundWidth() // in the binding nothing of the board is left to be hollowed
	return across1(b.edge(-1, mid.X, mid.Slope)+in, b.edge(1, mid.X, mid.Slope)-in, func(y float64) float64 { return 2.0 / 3 * g.Depth * long(y) })
}

// pocketVolume returns what the pocket of a marker takes, by the triangles between
// its first corner and its sides.
func (b *Board) pocketVolume(p *Pocket) float64 {
	deep := func(q mesh.Vec2) float64 {
		z := b.top(q.X, q.Y)
		if g := b.s.Scallop; g != nil && p.Fret > g.From {
			z -= b.hollow(p.Fret-1, q.X, q.Y)
		}
		return math.Max(0, z-p.Floor)
	}
	sum := 0.0
	for i := 1; i+1 < len(p.Outline); i++ {
		a, c, d := p.Outline[0], p.Outline[i], p.Outline[i+1]
		// The middles of the sides are a rule for a quadratic.
		mean := (deep(a.Add(c).Scale(0.5)) + deep(c.Add(d).Scale(0.5)) + deep(d.Add(a).Scale(0.5))) / 3
		sum += c.Sub(a).Cross(d.Sub(a)) / 2 * mean
	}
	return sum
}

// dotDepth returns how deep in the board's own wood the hole of a side dot is.
func (b *Board) dotDepth(d *SideDot) float64 {
	g := b.s.Binding
	if g == nil || d.Z < b.bindingFloor(d.X) {
		return d.Depth
	}
	return math.Max(0, d.Depth-g.Width)
}

// bindingFloor returns the height of the floor of the binding's channel at x, 0
// where the binding is as high as the edge.
func (b *Board) bindingFloor(x float64) float64 {
	if b.s.Binding.Depth == 0 {
		return 0
	}
	return b.EdgeThickness(x) - b.s.Binding.Depth
}

// bindingVolume returns what the channels of the binding take, along both sides
// and across the end.
func (b *Board) bindingVolume() float64 {
	if b.s.Binding == nil {
		return 0
	}
	in := b.boundWidth()
	sb, st, eb, et := b.s.BoardCorners()
	sum := 0.0
	for _, side := range []float64{-1, 1} {
		from, to := sb, eb
		if side > 0 {
			from, to = st, et
		}
		// Its inner edge begins and ends a little elsewhere where an end leans.
		shift := func(x float64, end func(float64) float64, by float64) float64 {
			return x + end(side*(b.n.BoardHalfWidth(x)-by)) - end(side*b.n.BoardHalfWidth(x))
		}
		sum += acrossRule.Integrate(func(by float64) float64 {
			return b.along1(shift(from, b.s.BoardStartAt, by), shift(to, b.s.BoardEndAt, by), func(x float64) float64 {
				return b.top(x, b.n.BoardHalfWidth(x)-by) - b.bindingFloor(x)
			})
		}, 0, in)
	}
	return sum + b.endBindingVolume()
}
