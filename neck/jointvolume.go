package neck

import (
	"math"
	"sort"

	"neckloft/neck/numeric"
)

// bore is a hole of the joint by columns across the glue plane: what it takes at a
// place along and across.
type bore struct {
	Hole
	from, to float64 // along the neck
}

func boreOf(h Hole) bore {
	r := math.Max(h.Diameter, h.Counterbore) / 2
	end := h.From[0] + h.Into[0]*h.Depth
	lean := r * math.Abs(h.Into[2]) // of its round ends
	return bore{h, math.Min(h.From[0], end) - lean, math.Max(h.From[0], end) + lean}
}

// half returns half the width of the hole at a station: no less than that of its
// shadow there.
func (b *bore) half(x float64) float64 {
	r := math.Max(b.Diameter, b.Counterbore) / 2
	if b.upright() {
		return halfChord(r, x-b.From[0])
	}
	return r
}

func (b *bore) upright() bool { return b.Into[0] == 0 }

// column returns the stretch of z that the hole takes at x, y. An upright one begins
// at its wider part, if it has one.
func (b *bore) column(x, y float64) (lo, hi float64) {
	dx, dy := x-b.From[0], y-b.From[1]
	if b.upright() {
		deep, r := 0.0, math.Hypot(dx, dy)
		if r < b.Counterbore/2 {
			deep = b.CounterboreDepth
		}
		if r < b.Diameter/2 {
			deep = b.Depth // more than the counterbore has
		}
		return b.From[2], b.From[2] + deep
	}
	h := halfChord(b.Diameter/2, dy)
	// Along the axis from 0 to the depth, and no farther off it than h.
	cos, sin := -b.Into[0], b.Into[2]
	lo, hi = (-h-dx*sin)/cos, (h-dx*sin)/cos
	if sin != 0 {
		a, c := dx*cos/sin, (b.Depth+dx*cos)/sin
		lo, hi = math.Max(lo, math.Min(a, c)), math.Min(hi, math.Max(a, c))
	}
	return b.From[2] + lo, b.From[2] + math.Max(lo, hi)
}

// halfChord returns half the length of a chord of a circle that is off its centre.
func halfChord(r, off float64) float64 { return math.Sqrt(math.Max(0, r*r-off*off)) }

// holesShared returns the volume in mm³ that a hole of the joint takes where a channel,
// or a hole before it, has taken the wood already.
func (n *Neck) holesShared(h Hole, before []bore) float64 {
	b := boreOf(h)
	marks := []float64{b.from, b.to}
	mark := func(x float64) {
		if x > b.from && x < b.to {
			marks = append(marks, x)
		}
	}
	for i := range before {
		mark(before[i].from)
		mark(before[i].to)
	}
	for _, c := range n.channels {
		for _, p := range c.corners() {
			mark(p.X)
		}
	}
	sort.Float64s(marks)
	// As the edge of a disc goes, and so closely that corners do not count.
	const steps = 48
	sum := 0.0
	for k := range len(marks) - 1 {
		mid, long := (marks[k]+marks[k+1])/2, (marks[k+1]-marks[k])/2
		for i := range steps {
			sin, cos := math.Sincos(math.Pi * ((float64(i)+0.5)/steps - 0.5))
			sum += long * cos * math.Pi / steps * n.holeSharedAt(&b, before, mid+long*sin)
		}
	}
	return sum
}

// holeSharedAt returns the area in a section of what a hole shares with channels and
// the holes before it.
func (n *Neck) holeSharedAt(b *bore, before []bore, x float64) float64 {
	half := b.half(x)
	lo, hi := b.From[1]-half, b.From[1]+half
	met := false
	ys := []float64{lo, hi}
	mark := func(from, to float64) {
		if from < hi && to > lo {
			met = true
		}
		ys = append(ys, numeric.Clamp(from, lo, hi), numeric.Clamp(to, lo, hi))
	}
	for i := 0; i < len(n.channels); {
		group := n.group(i)
		i += len(group)
		at := breaks(group, x)
		for k := range max(len(at)-1, 0) {
			mark(at[k], at[k+1])
		}
	}
	for i := range before {
		if o := &before[i]; x > o.from && x < o.to {
			mark(o.From[1]-o.half(x), o.From[1]+o.half(x))
		}
	}
	if !met {
		return 0
	}
	for _, o := range append([]bore{*b}, before...) {
		if in := halfChord(o.Diameter/2, x-o.From[0]); o.upright() && o.Counterbore != 0 {
			mark(o.From[1]-in, o.From[1]+in)
		}
	}
	sort.Float64s(ys)
	sum := 0.0
	for i := range len(ys) - 1 {
		mid, half := (ys[i]+ys[i+1])/2, (ys[i+1]-ys[i])/2
		if half < 1e-9 {
			continue
		}
		sum += faceRule.Integrate(func(phi float64) float64 { // by angle, for round edges
			sin, cos := math.Sincos(phi)
			return half * cos * n.takenBefore(b, before, x, mid+half*sin)
		}, -math.Pi/2, math.Pi/2)
	}
	return sum
}

// takenBefore returns how much of a hole's column at x, y channels and the holes before
// it have taken.
func (n *Neck) takenBefore(b *bore, before []bore, x, y float64) float64 {
	lo, hi := b.column(x, y)
	var cuts [][2]float64
	for _, c := range n.channels {
		if from, to, ok := c.column(x, y); ok {
			cuts = append(cuts, [2]float64{from, to})
		}
	}
	for i := range before {
		from, to := before[i].column(x, y)
		if x > before[i].from && x < before[i].to {
			cuts = append(cuts, [2]float64{from, to})
		}
	}
	return measured(cuts, func(from, to float64) float64 {
		return math.Max(0, math.Min(to, hi)-math.Max(from, lo))
	})
}

// jointHoles returns the volume in mm³ that the holes of the joint take, less what
// channels have taken already; what two of them share counts once.
func (n *Neck) jointHoles() float64 {
	sum := 0.0
	var before []bore
	for _, h := range append(n.BoltHoles(), n.InsertHoles()...) {
		sum += disc(h.Diameter) * h.Depth
		if h.Counterbore != 0 {
			sum += (disc(h.Counterbore) - disc(h.Diameter)) * h.CounterboreDepth
		}
		sum -= n.holesShared(h, before)
		before = append(before, boreOf(h))
	}
	return sum
}
