package carve

import (
	"math"
	"neckloft/neck/numeric"
	"sort"
)

// placed is a bit at a height over a plane, with the travel of its axis.
type placed struct {
	k        cutter
	plane    Plane
	height   float64
	from, to float64 // of the axis, in x
}

// end returns the depth of the arc's end below the glue plane at x.
func (c *placed) end(x float64) float64 { return c.plane.depth(x, c.height) }

// travel returns where the axis comes, seen from the section at x.
func (c *placed) travel(x float64) travel { return travel{x - c.to, x - c.from} }

// inward returns how far from the neck's side the cut reaches at x at the given
// depth below the glue plane.
func (c *placed) inward(x, depth float64) float64 {
	return c.k.inward(depth-c.end(x), c.travel(x))
}

// wall returns the depth below the glue plane at which the cut begins on the
// neck's side at x: that of the flat where it does not cut.
func (c *placed) wall(x, flat float64) float64 {
	beta, ok := c.k.begin(c.travel(x))
	if !ok {
		return flat
	}
	_, d := c.k.arc(beta, c.travel(x))
	return math.Min(flat, c.end(x)+d)
}

// inward returns how far from the guide's line the cut reaches at the depth
// below its arc's end, at most as far as its crown; 0 where it does not cut.
func (c *cutter) inward(depth float64, t travel) float64 {
	sin := depth / c.rise / c.Radius
	if sin < 0 {
		return 0
	}
	l, _ := c.arc(math.Asin(math.Min(1, sin)), t)
	return math.Max(0, l)
}

// cuts reports whether a cutter with its arc's end at the given height takes
// off anything of the workpiece.
func (w *Tapered) cuts(k *cutter, p Plane, height float64) bool {
	for _, x := range []float64{w.Stretch.From, w.Stretch.To} {
		if k.inward(w.Taper.Depth(x)-p.depth(x, height), through) > 0.005 {
			return true
		}
	}
	return false
}

// shaveRule integrates over the depth of a cut.
var shaveRule = numeric.NewRule(8)

// shaved returns the area that cuts take off the flat section at x together,
// both sides, in mm². The section is half wide on each side and flat deep; where
// several cuts meet, the one that reaches farthest in counts.
func shaved(cuts []placed, x, half, flat float64) float64 {
	in := func(z float64) float64 {
		most := 0.0
		for i := range cuts {
			most = math.Max(most, cuts[i].inward(x, z))
		}
		return math.Min(half, most)
	}
	// The law changes where a cut begins, ends at its crown, meets another one,
	// or meets the one of the other side on the centreline.
	marks := []float64{flat}
	first := flat
	for i := range cuts {
		c := &cuts[i]
		begin, crown := c.wall(x, flat), c.end(x)+c.k.Radius*c.k.rise
		first = math.Min(first, begin)
		marks = append(marks, begin, crown)
	}
	marks = append(marks, first)
	const pieces = 3
	sort.Float64s(marks)
	var fine []float64
	for i := 0; i+1 < len(marks); i++ {
		a, b := math.Max(marks[i], first), math.Min(marks[i+1], flat)
		if b-a < 1e-9 {
			continue
		}
		for j := range pieces {
			lo, hi := numeric.Lerp(a, b, float64(j)/pieces), numeric.Lerp(a, b, float64(j+1)/pieces)
			fine = append(fine, lo)
			if len(cuts) > 1 {
				fine = append(fine, crossings(func(z float64) float64 { return cuts[0].inward(x, z) - cuts[1].inward(x, z) }, lo, hi)...)
			}
			fine = append(fine, crossings(func(z float64) float64 {
				most := -half
				for i := range cuts {
					most = math.Max(most, cuts[i].inward(x, z)-half)
				}
				return most
			}, lo, hi)...)
		}
		fine = append(fine, b)
	}
	sort.Float64s(fine)
	sum := 0.0
	for i := 0; i+1 < len(fine); i++ {
		a, b := fine[i], fine[i+1]
		if b-a < 1e-12 {
			continue
		}
		// An arc comes up to its crown level, as a square root: the variable
		// u² is the distance from it.
		span := b - a
		sum += shaveRule.Integrate(func(u float64) float64 { return in(b-span*u*u) * 2 * span * u }, 0, 1)
	}
	return 2 * sum
}

// crossings returns where f changes its sign between a and b.
func crossings(f func(float64) float64, a, b float64) []float64 {
	const tiny = 1e-9
	fa, fb := f(a+tiny), f(b-tiny)
	if fa == 0 || fb == 0 || (fa > 0) == (fb > 0) {
		return nil
	}
	return []float64{numeric.Crossing(f, a+tiny, b-tiny, fa, fb)}
}

// slice is a station of an integral along the stretch.
type slice struct {
	x, weight  float64 // weight in mm
	half, flat float64
	over       float64 // area of the flat section over the target, mm²
}

// slices returns the stations at which wood is reckoned along the workpiece: a
// rule of four between the landmarks and the marks given.
func (w *Tapered) slices(marks ...float64) []slice {
	st := w.Stretch
	cuts := []float64{st.From, st.To}
	for _, x := range append(w.Neck.Landmarks(), marks...) {
		if x > st.From && x < st.To {
			cuts = append(cuts, x)
		}
	}
	cuts = ascending(cuts)
	var out []slice
	for i := 0; i+1 < len(cuts); i++ {
		a, b := cuts[i], cuts[i+1]
		for j, u := range sliceRule.X {
			s := w.sliceAt(numeric.Lerp(a, b, u))
			s.weight = sliceRule.W[j] * (b - a)
			out = append(out, s)
		}
	}
	return out
}

// sliceRule is a rule on 0 to 1.
var sliceRule = numeric.NewRule(4)

func (w *Tapered) sliceAt(x float64) slice {
	sec := w.Neck.Section(x)
	s := slice{x: x, half: sec.HalfWidth, flat: w.Taper.Depth(x)}
	s.over = 2*s.half*s.flat - sec.Area()
	return s
}

// remaining returns the wood that cuts leave over the target in the stretch, in
// mm³, and all that was over it before.
func (w *Tapered) remaining(cuts []placed) (left, before float64) {
	var marks []float64
	for _, c := range cuts {
		body := c.k.BodyRadius()
		for _, x := range []float64{c.from, c.to} {
			for _, d := range []float64{-body, -body / 2, 0, body / 2, body} {
				marks = append(marks, x+d)
			}
		}
	}
	for _, s := range w.slices(marks...) {
		before += s.weight * s.over
		left += s.weight * (s.over - shaved(cuts, s.x, s.half, s.flat))
	}
	return left, before
}
