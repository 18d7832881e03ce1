package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Plane is a plane that carries a tool or the wood, square to the neck's sides:
// its depth below the glue plane at x is Nut + Slope x, in mm. A plane on the
// board's side of the glue plane has a depth below 0.
type Plane struct{ Nut, Slope float64 }

// Depth returns the plane's depth below the glue plane at x.
func (p Plane) Depth(x float64) float64 { return p.Nut + p.Slope*x }

// rise is how much longer a length across the glue plane is than the same
// length square to the plane: heights count square to it.
func (p Plane) rise() float64 { return math.Sqrt(1 + p.Slope*p.Slope) }

// BackPlane returns the plane of a flat back.
func BackPlane(t Taper) Plane { return Plane{Nut: t.DepthFrom - t.Slope*t.From, Slope: t.Slope} }

// height returns the height over the plane, towards the glue plane, of a depth
// below the glue plane at x; depth is the reverse.
func (p Plane) height(x, depth float64) float64 { return (p.Depth(x) - depth) / p.rise() }
func (p Plane) depth(x, height float64) float64 { return p.Depth(x) - height*p.rise() }

// cutter returns the bit that runs along the workpiece's side with its axis
// square to the plane.
func (w *Tapered) cutter(b Bit, p Plane) cutter {
	return newCutter(b, w.sideSlope(), p.Slope)
}

// Deepest is the greatest height of a bit over the plane at which nothing of
// it comes nearer to the target than an allowance: the higher the arc's end,
// the deeper the cut.
type Deepest struct {
	Height float64 // of the arc's end over the plane, not rounded
	X      float64 // station that decides
	Side   neck.Side
	Touch  Contact // ContactNone where the straight length decides
	Y      float64 // of the contact

	// Straight says that the bit's straight length, which has to reach the flat
	// back, ends there, and not the target.
	Straight bool
}

// target is the surface that is kept clear, as a search sees it.
type target struct {
	w         *Tapered
	allowance float64
	curves    []curve // both sides in turn, along the stretch
}

// newTarget samples the target along the stretch.
func newTarget(w *Tapered, allowance float64) target {
	t := target{w: w, allowance: allowance}
	for _, x := range stretchStations(w.Neck, w.Stretch, 24) {
		s := w.Neck.Section(x)
		t.curves = append(t.curves, newCurve(&s, neck.MinusY, allowance), newCurve(&s, neck.PlusY, allowance))
	}
	return t
}

// DeepestHeight returns how far the bit may stand over the plane with the
// allowance, in mm, kept everywhere in the stretch. It looks at the target and
// at the straight length above the bit's arc, and at no bearing. The bit's offset
// is less than its radius.
func DeepestHeight(w Tapered, p Plane, b Bit, allowance float64) Deepest {
	t := newTarget(&w, allowance)
	return t.deepest(p, b)
}

func (t *target) deepest(p Plane, b Bit) Deepest {
	k := t.w.cutter(b, p)
	best := Deepest{Height: math.Inf(1)}
	take := func(c *curve) float64 {
		e, touch, y := c.deepest(&k, t.allowance, false)
		h := p.height(c.s.X, e)
		if h < best.Height {
			best = Deepest{Height: h, X: c.s.X, Side: c.side, Touch: touch, Y: c.side.Sign() * y}
		}
		return h
	}
	// A rough look, which finds heights up to the margin too great, tells where
	// a closer one is worth its while. Between two stations there may be a dip, and
	// it is no deeper below them than they differ from their neighbours.
	const margin = 0.1
	heights := make([]float64, len(t.curves))
	least := math.Inf(1)
	for i := range t.curves {
		e, _, _ := t.curves[i].deepest(&k, t.allowance, true)
		heights[i] = p.height(t.curves[i].s.X, e)
		least = math.Min(least, heights[i])
	}
	beside := func(i int) (lo, hi int, slack float64) {
		lo, hi = max(i-2, i%2), min(i+2, len(t.curves)-2+i%2)
		return lo, hi, math.Max(math.Abs(heights[lo]-heights[i]), math.Abs(heights[hi]-heights[i]))
	}
	var near []int
	for i := range t.curves {
		if _, _, slack := beside(i); heights[i] <= least+margin+slack {
			near = append(near, i)
		}
	}
	for _, i := range near {
		heights[i] = take(&t.curves[i])
	}
	for _, i := range near {
		lo, hi, slack := beside(i)
		if heights[lo] < heights[i] || heights[hi] < heights[i] || slack < 1e-7 || heights[i] > best.Height+slack {
			continue
		}
		numeric.Peak(func(x float64) float64 {
			s := t.w.Neck.Section(x)
			c := newCurve(&s, t.curves[i].side, t.allowance)
			return -take(&c)
		}, t.curves[lo].s.X, t.curves[i].s.X, t.curves[hi].s.X)
	}
	// The straight length above the arc has to reach the flat back. Both planes
	// are straight, so that an end of the stretch decides.
	for _, x := range []float64{t.w.Stretch.From, t.w.Stretch.To} {
		if h := p.height(x, t.w.Taper.Depth(x)-(b.Radius+b.Straight)*k.rise); h < best.Height {
			best = Deepest{Height: h, X: x, Straight: true}
		}
	}
	return best
}

// roundDown returns a height that is not above h and can be dialled: in whole
// hundredths of a millimetre or thousandths of an inch. A height that is one
// but for a rounding error stays.
func roundDown(u spec.Unit, h float64) float64 {
	step := dialStep(u)
	return math.Floor(h/step+1e-6) * step
}

// roundUp is roundDown to the other side.
func roundUp(u spec.Unit, h float64) float64 {
	step := dialStep(u)
	return math.Ceil(h/step-1e-6) * step
}

func dialStep(u spec.Unit) float64 {
	if u == spec.Inch {
		return 0.001 * spec.MillimetresPerInch
	}
	return 0.01
}
