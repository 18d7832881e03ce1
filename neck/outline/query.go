package outline

import (
	"math"
	"sort"

	"neckloft/mesh"
	"neckloft/neck/numeric"
)

const bins = 256

// index prepares what the questions ask.
func (o *Outline) index() {
	lo, hi := mesh.LoopBounds(o.loop)
	o.Tip, o.Least, o.Most = hi.X, lo.Y, hi.Y
	o.bins = make([][]int32, bins)
	for i := range o.loop {
		a, b := o.edge(i)
		for k := o.bin(math.Min(a.X, b.X)); k <= o.bin(math.Max(a.X, b.X)); k++ {
			o.bins[k] = append(o.bins[k], int32(i))
		}
	}
}

func (o *Outline) bin(u float64) int {
	return int(numeric.Clamp((u-o.From)/(o.Tip-o.From)*bins, 0, bins-1))
}

// edge returns an edge of the loop, the last being the line that closes it.
func (o *Outline) edge(i int) (a, b mesh.Vec2) {
	return o.loop[i], o.loop[(i+1)%len(o.loop)]
}

// Across returns where the wood lies on the line across at u: pairs of y, in
// order.
func (o *Outline) Across(u float64) []float64 { return o.AppendAcross(nil, u) }

// AppendAcross appends what Across returns.
func (o *Outline) AppendAcross(ys []float64, u float64) []float64 {
	before := len(ys)
	o.crossings(u, func(y float64) { ys = append(ys, y) })
	sort.Float64s(ys[before:])
	return ys
}

// crossings tells where the loop crosses the line across at u, in no order.
func (o *Outline) crossings(u float64, add func(y float64)) {
	if !(u >= o.From && u <= o.Tip) {
		return
	}
	for _, i := range o.bins[o.bin(u)] {
		a, b := o.edge(int(i))
		if (a.X <= u) != (b.X <= u) {
			add(a.Y + (b.Y-a.Y)*(u-a.X)/(b.X-a.X))
		}
	}
}

// Reach returns the outermost wood between u = a and u = b, and false where
// there is none.
func (o *Outline) Reach(a, b float64) (lower, higher float64, ok bool) {
	lower, higher = math.Inf(1), math.Inf(-1)
	add := func(y float64) {
		if y < lower {
			lower = y
		}
		if y > higher {
			higher = y
		}
	}
	for _, u := range []float64{a, b} {
		o.crossings(u, add)
	}
	for k := o.bin(a); k <= o.bin(b); k++ {
		for _, i := range o.bins[k] {
			if p := o.loop[i]; p.X >= a && p.X <= b {
				add(p.Y)
			}
		}
	}
	return lower, higher, lower <= higher
}

// Contains reports whether a point lies in the wood.
func (o *Outline) Contains(p mesh.Vec2) bool {
	inside := false
	for _, y := range o.Across(p.X) {
		if y < p.Y {
			inside = !inside
		}
	}
	return inside
}

// Distance returns how far a point is from the edge of the wood, the closing
// line left aside: positive inside.
func (o *Outline) Distance(p mesh.Vec2) float64 {
	least := math.Inf(1)
	for i := range len(o.loop) - 1 {
		a, b := o.edge(i)
		// Most edges lie farther off by one of their coordinates alone.
		if farther(p.X, a.X, b.X, least) || farther(p.Y, a.Y, b.Y, least) {
			continue
		}
		if d := toSegment(p, a, b); d < least {
			least = d
		}
	}
	if !o.Contains(p) {
		return -least
	}
	return least
}

// farther reports whether v is farther than d from all between a and b.
func farther(v, a, b, d float64) bool {
	return v-a > d && v-b > d || a-v > d && b-v > d
}

// DistanceTo returns how far a convex polygon in the wood is from its edge, the
// closing line left aside, and the polygon's point that is nearest. It is
// negative where a corner lies outside: by how much the farthest does.
func (o *Outline) DistanceTo(polygon []mesh.Vec2) (float64, mesh.Vec2) {
	out, far := 0.0, mesh.Vec2{}
	for _, p := range polygon {
		if d := o.Distance(p); p.X > o.From && d < out {
			out, far = d, p
		}
	}
	if out < 0 {
		return out, far
	}
	lo, hi := mesh.LoopBounds(polygon)
	least, at := math.Inf(1), polygon[0]
	for i := range len(o.loop) - 1 {
		a, b := o.edge(i)
		dx := math.Max(math.Min(a.X, b.X)-hi.X, lo.X-math.Max(a.X, b.X))
		dy := math.Max(math.Min(a.Y, b.Y)-hi.Y, lo.Y-math.Max(a.Y, b.Y))
		if math.Max(dx, dy) >= least {
			continue
		}
		for j, p := range polygon {
			q := polygon[(j+1)%len(polygon)]
			if d := Apart(a, b, p, q); d < least {
				least, at = d, nearestOn(p, q, a, b)
			}
		}
	}
	return least, at
}

// nearestOn returns the point of the line from p to q that is nearest to that from
// a to b, of those at an end of one of them.
func nearestOn(p, q, a, b mesh.Vec2) mesh.Vec2 {
	out := p
	d := q.Sub(p)
	for _, v := range []mesh.Vec2{q, p.Add(d.Scale(along(a, p, q))), p.Add(d.Scale(along(b, p, q)))} {
		if toSegment(v, a, b) < toSegment(out, a, b) {
			out = v
		}
	}
	return out
}

// along returns how far along the straight line from a to b the point of it that
// is nearest to p lies, from 0 to 1.
func along(p, a, b mesh.Vec2) float64 {
	d := b.Sub(a)
	if l := d.Dot(d); l > 0 {
		return numeric.Clamp(p.Sub(a).Dot(d)/l, 0, 1)
	}
	return 0
}

// toSegment returns the distance of p from the straight line between a and b.
func toSegment(p, a, b mesh.Vec2) float64 {
	return p.Sub(a.Add(b.Sub(a).Scale(along(p, a, b)))).Norm()
}

// Apart returns the least distance between two straight lines, from a to b and
// from c to d.
func Apart(a, b, c, d mesh.Vec2) float64 {
	r, s, ac := b.Sub(a), d.Sub(c), c.Sub(a)
	if cross := r.Cross(s); cross != 0 {
		t, u := ac.Cross(s)/cross, ac.Cross(r)/cross
		if t >= 0 && t <= 1 && u >= 0 && u <= 1 {
			return 0
		}
	}
	return math.Min(math.Min(toSegment(a, c, d), toSegment(b, c, d)), math.Min(toSegment(c, a, b), toSegment(d, a, b)))
}
