package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// cutRule integrates over the arc of a cut.
var cutRule = numeric.NewRule(20)

// cut is what the round-over leaves of the section at one station. Both sides
// are cut alike, so that it is symmetrical about the centreline.
type cut struct {
	k     *cutter
	half  float64 // half the wood's width
	flat  float64 // depth of the flat back
	level float64 // depth of the arc's end
	run   travel  // of the bit's axis
	bass  neck.Side

	begin, end float64 // of the arc in the wood
	any        bool    // something is cut
	step       float64 // straight side above the crown
}

// cutAt returns the cut at x of a cutter with the given room.
func (g *rig) cutAt(k *cutter, run axisRun, x, room float64) cut {
	c := cut{
		k:     k,
		half:  g.Neck.Width(x) / 2,
		flat:  g.Taper.Depth(x),
		level: g.level(k, x, room),
		run:   travel{x - run.to, x - run.from},
		bass:  g.Neck.Bass(),
	}
	c.begin, c.any = k.begin(c.run)
	if !c.any {
		return c
	}
	// Where the arc comes out of the back.
	s := (c.flat - c.level) / k.rise / k.Radius
	c.end = math.Pi / 2
	switch {
	case s <= math.Sin(c.begin):
		c.any = false
	case s < 1:
		c.end = math.Asin(s)
	default:
		c.step = c.flat - c.level - k.Radius*k.rise
	}
	// Two arcs that meet on the centreline end there.
	if l, _ := k.arc(c.end, c.run); c.any && l > c.half {
		in := func(beta float64) float64 { l, _ := k.arc(beta, c.run); return l - c.half }
		c.end, c.step = numeric.Crossing(in, c.begin, c.end, in(c.begin), in(c.end)), 0
	}
	return c
}

// at returns the point of the cut on one side at the angle beta.
func (c *cut) at(side neck.Side, beta float64) neck.YZ {
	l, d := c.k.arc(beta, c.run)
	return neck.YZ{Y: side.Sign() * (c.half - math.Max(0, l)), Z: -(c.level + d)}
}

// ridge returns the width of the back that remains flat.
func (c *cut) ridge() float64 {
	if !c.any {
		return 2 * c.half
	}
	l, d := c.k.arc(c.end, c.run)
	if c.level+d < c.flat-c.step-1e-7 {
		return 0 // the arcs meet below the back
	}
	return 2 * math.Max(0, c.half-l)
}

// edge returns the depth below the glue plane at which the cut begins on the
// neck's side; NaN if nothing is cut.
func (c *cut) edge() float64 {
	if !c.any {
		return math.NaN()
	}
	_, d := c.k.arc(c.begin, c.run)
	return c.level + d
}

// removed returns the area that is cut off the tapered section, both sides,
// in mm².
func (c *cut) removed() float64 {
	if !c.any {
		return 0
	}
	// In the angle, d(depth) = R cos β; all is smooth but for a stop's
	// square root, which is away from the ends.
	area := cutRule.Integrate(func(b float64) float64 {
		l, _ := c.k.arc(b, c.run)
		return math.Max(0, math.Min(c.half, l)) * c.k.Radius * c.k.rise * math.Cos(b)
	}, c.begin, c.end)
	l, d := c.k.arc(c.end, c.run)
	top := c.flat - c.level - d
	return 2 * (area + math.Min(c.half, l)*math.Max(0, top))
}

// corners returns the points of one side where the most wood can remain
// over a convex target besides the arc.
func (c *cut) corners(side neck.Side) []neck.YZ {
	if !c.any {
		return []neck.YZ{{Y: side.Sign() * c.half, Z: -c.flat}}
	}
	q := c.at(side, c.end)
	if c.step > 0 || c.ridge() > 0 {
		return []neck.YZ{q, {Y: q.Y, Z: -c.flat}}
	}
	return []neck.YZ{q}
}

// most returns the most wood that the cut leaves over the target, square to
// its surface, and where.
func (c *cut) most(cs *[2]curve) (remaining float64, at neck.YZ) {
	var places []leftover
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		for _, q := range c.corners(side) {
			places = append(places, leftover{distance(cs, q), q})
		}
		if !c.any {
			continue
		}
		d := func(b float64) float64 { return distance(cs, c.at(side, b)) }
		best, b := numeric.Climb(d, c.begin, c.end, 6)
		places = append(places, leftover{best, c.at(side, b)})
	}
	return mostOf(places, c.bass)
}

// outline returns the section that the cut leaves, from the bass edge over the
// back to the treble edge, the arcs by k points each.
func (c *cut) outline(k int) []neck.YZ {
	half := func(side neck.Side) []neck.YZ {
		out := []neck.YZ{{Y: side.Sign() * c.half, Z: 0}}
		if !c.any {
			return append(out, neck.YZ{Y: side.Sign() * c.half, Z: -c.flat})
		}
		e := c.edge()
		out = append(out, neck.YZ{Y: side.Sign() * c.half, Z: -e})
		for i := range k + 1 {
			out = append(out, c.at(side, numeric.Lerp(c.begin, c.end, float64(i)/float64(k))))
		}
		if q := out[len(out)-1]; q.Z > -c.flat+1e-9 && c.ridge() > 0 {
			out = append(out, neck.YZ{Y: q.Y, Z: -c.flat})
		}
		return out
	}
	out, plus := half(neck.MinusY), half(neck.PlusY)
	for i := len(plus) - 1; i >= 0; i-- {
		out = append(out, plus[i])
	}
	return out
}

// removedBy returns the wood that a cutter with the given room takes off in the
// stretch while its axis is in the run, in mm³.
func (g *rig) removedBy(k *cutter, run axisRun, room float64) float64 {
	sum := 0.0
	bands := g.bands(k.Bit, run)
	for i := 0; i+1 < len(bands); i++ {
		sum += shortRule.Integrate(func(x float64) float64 {
			c := g.cutAt(k, run, x, room)
			return c.removed()
		}, bands[i], bands[i+1])
	}
	return sum
}

// shortRule integrates over the bands of a round-over.
var shortRule = numeric.NewRule(6)

// bands cuts the stretch where the law of the cut changes along the neck: at
// the stops, and where a stopped cutter ends.
func (g *rig) bands(b Bit, run axisRun) []float64 {
	st := g.Stretch
	marks := []float64{st.From, st.To}
	body := b.BodyRadius()
	for _, x := range []float64{run.from, run.to} {
		for _, d := range []float64{-body, -body * 0.9, -body / 2, 0, body / 2, body * 0.9, body} {
			if v := x + d; v > st.From && v < st.To {
				marks = append(marks, v)
			}
		}
	}
	return ascending(marks)
}
