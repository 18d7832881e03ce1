package neck

import (
	"math"
	"neckloft/neck/numeric"
	"sort"
)

// FlatBack is the flat that the back is brought to before it is rounded: a
// plane, square to the sides, over the part of the neck whose back is the plain
// profile.
//
// It is the plane that leaves least wood of all those that never cut below the
// finished back between From and To. Wood is width times height, so that the
// wider end counts for more. Where the depth line is straight it is that line;
// over a depth line that bulges it is the tangent at the middle of the
// outline's area, and over a hollow one the chord.
type FlatBack struct {
	From, To  float64 // the run, in x
	DepthFrom float64 // of the plane below the glue plane at From
	Slope     float64 // depth gained per mm of x

	// Over is the most that the plane leaves over the line of the apex, at the
	// station OverAt.
	Over, OverAt float64
}

// Depth returns the depth of the plane at x.
func (f FlatBack) Depth(x float64) float64 { return f.DepthFrom + f.Slope*(x-f.From) }

// Run returns where the part of the neck begins and ends whose back is the plain
// profile, clear of volute, headstock and heel.
func (n *Neck) Run() (from, to float64) {
	from, to = math.Max(0, n.start), math.Min(n.end, n.boardEnd)
	if v := n.spec.Volute; v != nil {
		from = math.Max(from, n.voluteCentre+v.Length/2)
	}
	if n.spec.Heel != nil {
		to = n.heelStart
	}
	return from, to
}

// FlatBack returns the neck's flat back. It is worked out once.
func (n *Neck) FlatBack() FlatBack {
	n.flatOnce.Do(func() { n.flat = n.findFlat() })
	return n.flat
}

// leastRun is how short a run has no flat back of its own, in mm.
const leastRun = 0.01

// findFlat works the flat back out.
//
// Under a straight line lies the outline's area times the line's depth at the
// area's middle, whatever its slope. So of all lines that lie on or above every
// point the one that is lowest there leaves least wood, and that is the upper
// hull's edge over it.
func (n *Neck) findFlat() FlatBack {
	f := FlatBack{}
	f.From, f.To = n.Run()
	if !(f.To-f.From > leastRun) { // no plane to speak of
		f.DepthFrom, f.OverAt = n.Depth(f.From), f.From
		return f
	}
	xs := n.Spread(f.From, f.To, 160)
	hull := n.depthHull(xs)
	mid := n.areaMiddle(f.From, f.To)
	i := sort.Search(len(hull), func(i int) bool { return hull[i].x >= mid })
	i = max(1, min(i, len(hull)-1))
	a, b := hull[i-1], hull[i]
	f.Slope = (b.d - a.d) / (b.x - a.x)
	f.DepthFrom = a.d + f.Slope*(f.From-a.x)

	// Between the points the depth line may still stand out: lift the plane by
	// as much.
	lift := 0.0
	for i := 0; i+1 < len(xs); i++ {
		above, _ := numeric.Peak(func(x float64) float64 { return n.Depth(x) - f.Depth(x) }, xs[i], (xs[i]+xs[i+1])/2, xs[i+1])
		lift = math.Max(lift, above)
	}
	f.DepthFrom += lift
	for _, x := range xs {
		if o := f.Depth(x) - n.Depth(x); o > f.Over {
			f.Over, f.OverAt = o, x
		}
	}
	if f.Over < 1e-6 { // rounding
		f.Over, f.OverAt = 0, f.From
	}
	return f
}

// depthPoint is a point of the depth line.
type depthPoint struct{ x, d float64 }

// depthHull returns the upper hull of the depth line at the given stations.
func (n *Neck) depthHull(xs []float64) []depthPoint {
	var hull []depthPoint
	for _, x := range xs {
		p := depthPoint{x, n.Depth(x)}
		for len(hull) >= 2 {
			a, b := hull[len(hull)-2], hull[len(hull)-1]
			// A point within a nanometre of the chord is on it.
			if b.d > a.d+(p.d-a.d)*(b.x-a.x)/(p.x-a.x)+1e-6 {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	return hull
}

// areaMiddle returns where the outline's area balances between two stations: x
// weighted by the width.
func (n *Neck) areaMiddle(from, to float64) float64 {
	area := n.VolumeBetween(from, to, n.Width)
	moment := n.VolumeBetween(from, to, func(x float64) float64 { return (x - from) * n.Width(x) })
	return from + moment/area
}

// Spread returns stations between two others in order, k steps or more, with
// every landmark of the neck between them.
func (n *Neck) Spread(from, to float64, k int) []float64 {
	var xs []float64
	for i := range k + 1 {
		xs = append(xs, numeric.Lerp(from, to, float64(i)/float64(k)))
	}
	for _, x := range n.Landmarks() {
		if x > from && x < to {
			xs = append(xs, x)
		}
	}
	sort.Float64s(xs)
	out := xs[:1]
	for _, x := range xs[1:] {
		if x-out[len(out)-1] > 1e-6 {
			out = append(out, x)
		}
	}
	out[len(out)-1] = to
	return out
}
