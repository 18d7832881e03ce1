package neck

import (
	"math"

	"neckloft/neck/numeric"
)

// drilled is a cut into the headstock square to its face: over a stadium, between two
// heights over the face.
type drilled struct {
	stadium
	from, to float64
}

// shared returns the volume in mm³ of what channels have taken already where a cut
// into the headstock runs into them, by columns across the glue plane.
func (n *Neck) shared(o stadium, from, to float64) float64 {
	d := drilled{o, from, to}
	sum := 0.0
	for i := 0; i < len(n.channels); {
		group := n.group(i)
		i += len(group)
		a, b := n.reachOf(&d)
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, c := range group {
			lo, hi = math.Min(lo, c.From), math.Max(hi, c.To)
		}
		if a, b = math.Max(a, lo), math.Min(b, hi); a >= b {
			continue
		}
		const step = 0.2
		k := math.Ceil((b - a) / step)
		for i := 0.0; i < k; i++ {
			x := numeric.Lerp(a, b, (i+0.5)/k)
			sum += (b - a) / k * n.sharedAt(&d, group, x)
		}
	}
	return sum
}

// reachOf returns between which x a cut lies, in wood that channels reach.
func (n *Neck) reachOf(d *drilled) (from, to float64) {
	const deep, over = -60, 10 // mm, of the face: more than any wood
	from, to = math.Inf(1), math.Inf(-1)
	for _, u := range []float64{d.stadium.from, d.stadium.to} {
		for _, w := range []float64{math.Max(d.from, deep), math.Min(d.to, over)} {
			x := n.head.onFace(u, 0, w).X
			from, to = math.Min(from, x), math.Max(to, x)
		}
	}
	return from, to
}

// sharedAt returns the area in a section of what a cut and a group of channels share.
func (n *Neck) sharedAt(d *drilled, group []*Channel, x float64) float64 {
	ys := breaks(group, x)
	for i, y := range ys {
		ys[i] = numeric.Clamp(y, d.y-d.wide, d.y+d.wide)
	}
	sum := 0.0
	for i := 0; i+1 < len(ys); i++ {
		if ys[i+1]-ys[i] < 1e-9 {
			continue
		}
		sum += faceRule.Integrate(func(y float64) float64 {
			lo, hi := n.column(d, x, y)
			high := 0.0
			for _, s := range columns(group, x, y, n.finishedTop(x, y)) {
				high += math.Max(0, math.Min(hi, s[1])-math.Max(lo, s[0]))
			}
			return high
		}, ys[i], ys[i+1])
	}
	return sum
}

// finishedTop is TopAt with the veneer of an angled face.
func (n *Neck) finishedTop(x, y float64) float64 {
	top := n.TopAt(x, y)
	if n.head.sin == 0 || x >= -n.head.shelf {
		return top
	}
	return math.Max(top, math.Min(0, n.Top(x)+n.faceVeneer()/n.head.cos))
}

// column returns the stretch of z that a cut takes at x, y.
func (n *Neck) column(d *drilled, x, y float64) (lo, hi float64) {
	f := &n.head
	off := math.Max(0, math.Abs(y-d.y)-(d.wide-d.round))
	in := d.round - math.Sqrt(math.Max(0, d.round*d.round-off*off))
	ua, ub := d.stadium.from+in, d.stadium.to-in
	dx := x + f.shelf
	lo, hi = f.z+(d.from+dx*f.sin)/f.cos, f.z+(d.to+dx*f.sin)/f.cos
	level := f.shelf - dx*f.cos // u at the height of the frame's origin
	if f.sin == 0 {
		if level < ua || level > ub {
			return 0, 0
		}
		return lo, hi
	}
	return math.Max(lo, f.z+(level-ub)/f.sin), math.Min(hi, f.z+(level-ua)/f.sin)
}

// span returns what the channel takes of the line across at x and z.
func (c *Channel) span(x, z float64) (lo, hi float64, ok bool) {
	in := func(y float64) bool {
		a, b, ok := c.column(x, y)
		return ok && z > a && z < b
	}
	mid := c.AxisY(x)
	if !in(mid) {
		return 0, 0, false
	}
	return numeric.Border(mid, mid-4*c.half, in), numeric.Border(mid, mid+4*c.half, in), true
}
