package gauge

import (
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/numeric"
)

// Sizes of a gauge's small features, in mm: common practice, no published
// source.
const (
	notchWidth   = 3.0 // the centreline's notch in the plate's outer edge
	notchDepth   = 1.8
	pointerTip   = 1.2 // plate between opening and the pointer at the centreline
	pointerDepth = 2.2
	pointerWidth = 2.4
	labelSide    = 2.5 // solid plate beside a label
)

// open lays out the opening.
func (g *Gauge) open(n *neck.Neck) {
	var sides [2][]neck.YZ
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		sides[side] = g.half(n, side)
	}
	slices.Reverse(sides[neck.MinusY])
	all := append(sides[neck.PlusY], sides[neck.MinusY]...)
	all = g.trim(all)
	for i, p := range all {
		q := g.place(p)
		// The feet stand on the datum, to the last bit.
		if p == all[0] && g.spans[neck.PlusY] || p == all[len(all)-1] && g.spans[neck.MinusY] {
			q.Y = 0
		}
		g.apex = math.Max(g.apex, q.Y)
		if k := len(g.Open); k > 0 && q.Sub(g.Open[k-1]).Norm() < 0.001 {
			if i == len(all)-1 {
				g.Open[k-1] = q
			}
			continue
		}
		g.Open = append(g.Open, q)
	}
}

// half returns one side of the opening, seated, from the foot to the deepest
// point.
func (g *Gauge) half(n *neck.Neck, side neck.Side) []neck.YZ {
	o := g.Options
	d := o.Offset()
	s := g.origin
	curve := s.Parallel(side, d, gaugeTolerance)
	for i := range curve {
		curve[i].Z += g.Seat
	}
	sign := side.Sign()
	wall := sign * curve[0].Y
	if edge := g.boardEdge(n, side) + o.Clearance + o.BoardGap; o.OverBoard && edge > wall {
		// The opening steps out to clear the board's edge, and does so below
		// its underside, which may overhang.
		step := -math.Min(o.Clearance+o.BoardGap, 0.3*g.Deepest())
		return append([]neck.YZ{{Y: sign * edge, Z: g.Datum}, {Y: sign * edge, Z: step}}, g.below(curve, side, step)...)
	}
	return g.below(curve, side, g.Datum)
}

// below returns the part of one side's seated curve below the level z, from
// its point on the level on. Above the curve's first point stands the wall.
func (g *Gauge) below(curve []neck.YZ, side neck.Side, z float64) []neck.YZ {
	for i, p := range curve {
		if p.Z >= z {
			continue
		}
		y := p.Y
		if i > 0 {
			y = g.origin.Across(side, z-g.Seat, g.Options.Offset())
		}
		return append([]neck.YZ{{Y: y, Z: z}}, curve[i:]...)
	}
	return curve[len(curve)-1:]
}

// trim cuts the opening, which runs from greater y to lower, at the centreline for
// a half gauge.
func (g *Gauge) trim(all []neck.YZ) []neck.YZ {
	if g.spans.whole() {
		return all
	}
	cut := neck.YZ{Y: 0, Z: g.origin.Bottom(0, g.Options.Offset()) + g.Seat}
	var out []neck.YZ
	for _, p := range all {
		if g.spans[neck.PlusY] && p.Y > 0 || g.spans[neck.MinusY] && p.Y < 0 {
			out = append(out, p)
		}
	}
	if g.spans[neck.PlusY] {
		return append(out, cut)
	}
	return append([]neck.YZ{cut}, out...)
}

// plate lays the plate around the opening, counter-clockwise.
func (g *Gauge) plate() error {
	o := g.Options
	foot := math.Max(math.Abs(g.Open[0].X), math.Abs(g.Open[len(g.Open)-1].X))
	outer := math.Max(foot+o.LegWidth, o.Corner+notchWidth)
	room := o.LabelWidth + 2*labelSide
	if o.Half == WholeGauge {
		room /= 2
	}
	outer = math.Max(outer, room)
	top := g.apex + o.Margin
	if o.LabelDepth > 0 {
		top += o.LabelDepth + o.Margin
	}
	if o.Corner+o.FootCorner > top {
		return fmt.Errorf("corner radii of %s and %s do not fit a plate %s high; allowed: %s together",
			g.unit.Format(o.Corner), g.unit.Format(o.FootCorner), g.unit.Format(top), g.unit.Format(top))
	}
	left, right := -outer, outer
	if !g.spans[neck.PlusY] {
		left = 0
	}
	if !g.spans[neck.MinusY] {
		right = 0
	}
	g.Room = [2]mesh.Vec2{
		{X: left + labelSide, Y: g.apex + o.Margin},
		{X: right - labelSide, Y: g.apex + o.Margin + o.LabelDepth},
	}

	g.outline(left, right, top)
	if o.Half == WholeGauge {
		g.centre(top)
	}
	return nil
}

// outline walks around the plate, counter-clockwise: the feet, the opening
// between them and the upper corners.
func (g *Gauge) outline(left, right, top float64) {
	o := g.Options
	var loop []mesh.Vec2
	if left < 0 {
		loop = append(loop, arc(mesh.Vec2{X: left + o.FootCorner, Y: o.FootCorner}, o.FootCorner, math.Pi, 1.5*math.Pi)...)
	}
	loop = append(loop, g.Open...)
	if right > 0 {
		loop = append(loop, arc(mesh.Vec2{X: right - o.FootCorner, Y: o.FootCorner}, o.FootCorner, 1.5*math.Pi, 2*math.Pi)...)
		loop = append(loop, arc(mesh.Vec2{X: right - o.Corner, Y: top - o.Corner}, o.Corner, 0, math.Pi/2)...)
	} else {
		loop = append(loop, mesh.Vec2{X: 0, Y: top})
	}
	if o.Half == WholeGauge {
		loop = append(loop, mesh.Vec2{X: notchWidth / 2, Y: top}, mesh.Vec2{X: 0, Y: top - notchDepth}, mesh.Vec2{X: -notchWidth / 2, Y: top})
	}
	if left < 0 {
		loop = append(loop, arc(mesh.Vec2{X: left + o.Corner, Y: top - o.Corner}, o.Corner, math.Pi/2, math.Pi)...)
	} else {
		loop = append(loop, mesh.Vec2{X: 0, Y: top})
	}
	g.Region = mesh.Region{Outer: loop}
}

// centre marks the centreline of a whole gauge: a pointer at the opening, where
// there is room for it, and lines to draw.
func (g *Gauge) centre(top float64) {
	o := g.Options
	spare := o.Margin
	if o.LabelDepth == 0 {
		spare -= notchDepth // which then is what lies above
	}
	if spare >= pointerTip+pointerDepth+1 {
		tip := g.apex + pointerTip
		g.Region.Holes = append(g.Region.Holes, []mesh.Vec2{
			{X: 0, Y: tip}, {X: pointerWidth / 2, Y: tip + pointerDepth}, {X: -pointerWidth / 2, Y: tip + pointerDepth},
		})
	}
	// The centreline, but not across the label.
	from := mesh.Vec2{Y: g.Datum - g.Seat - g.origin.Bottom(0, o.Offset())}
	to := mesh.Vec2{Y: top - notchDepth}
	if o.LabelDepth > 0 {
		g.Marks = append(g.Marks, []mesh.Vec2{{Y: g.Room[1].Y + 1}, to})
		to.Y = g.Room[0].Y - 1
	}
	g.Marks = append(g.Marks, []mesh.Vec2{from, to})
}

// arc returns points on a circle from one angle to another, counter-clockwise,
// with chords within the tolerance of it; for no radius, its centre.
func arc(centre mesh.Vec2, r, from, to float64) []mesh.Vec2 {
	if r == 0 {
		return []mesh.Vec2{centre}
	}
	steps := int(math.Ceil((to - from) / (2 * math.Acos(1-math.Min(1, gaugeCornerTolerance/r)))))
	out := make([]mesh.Vec2, steps+1)
	for i := range out {
		sin, cos := math.Sincos(numeric.Lerp(from, to, float64(i)/float64(steps)))
		out[i] = mesh.Vec2{X: centre.X + r*cos, Y: centre.Y + r*sin}
	}
	return out
}

// seat returns how far the parallel curve at the distance rough + clearance can
// move up before it touches the one at the distance rough, where a gauge of the
// given half has its opening.
//
// The gap between two parallel curves, measured straight down, is least at the
// deepest point, where it is the clearance, and grows from there to either
// side: below any y the outer curve has the slope that the inner one has nearer
// to the deepest point. A half that does not hold the deepest point touches at
// the centreline.
func seat(s *neck.Section, legs spans, rough, clearance float64) float64 {
	f0, f1 := s.Flat()
	if !legs[neck.PlusY] && f0 > 0 || !legs[neck.MinusY] && f1 < 0 {
		return s.Bottom(0, rough) - s.Bottom(0, rough+clearance)
	}
	return clearance
}
