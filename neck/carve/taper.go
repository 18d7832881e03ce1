package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"sort"
)

// Taper is the flat of the back: the plane, square to the sides, that the back
// is brought to before it is rounded.
//
// It is the plane that leaves least wood of all those that never cut below the
// target between From and To. Wood is width times height, so that the wider end
// counts for more. Where the depth line is straight it is that line; over a
// depth line that bulges it is the tangent at the middle of the outline's area,
// and over a hollow one the chord.
type Taper struct {
	From, To           float64 // the stretch, in x
	DepthFrom, DepthTo float64 // wood depth at its ends
	Slope              float64 // depth gained per mm of x
	Angle              float64 // radians; positive where the wood deepens towards the body

	// Over is the most that the flat leaves over the line of the apex of the
	// target, at the station OverAt.
	Over, OverAt float64
}

// Depth returns the depth of the flat at x.
func (t Taper) Depth(x float64) float64 { return t.DepthFrom + t.Slope*(x-t.From) }

// Drop returns how much deeper the wood is at To than at From.
func (t Taper) Drop() float64 { return t.DepthTo - t.DepthFrom }

// Length returns the length of the run in mm.
func (t Taper) Length() float64 { return t.To - t.From }

// Tapered is a neck with its flat back: what router and carver begin from.
type Tapered struct {
	Neck    *neck.Neck
	Stretch Stretch
	Taper   Taper
}

// NewTapered returns the neck with the taper that leaves least wood.
func NewTapered(n *neck.Neck) Tapered {
	st := StretchOf(n)
	return Tapered{n, st, taperOf(n, st)}
}

// Areas of the section at x, in mm²: with the flat back, and of the target.
func (w *Tapered) tapered(x float64) float64 { return w.Neck.Width(x) * w.Taper.Depth(x) }
func (w *Tapered) target(x float64) float64 {
	s := w.Neck.Section(x)
	return s.Area()
}

// stretchVolume integrates an area over the stretch.
func (w *Tapered) stretchVolume(area func(float64) float64) float64 {
	return w.Neck.VolumeBetween(w.Stretch.From, w.Stretch.To, area)
}

// sideSlope returns how much the half-width grows per mm of x.
func (w *Tapered) sideSlope() float64 {
	width := w.Neck.Spec().Width
	return (width.End - width.Nut) / 2 / w.Neck.BoardEnd()
}

// taperOf returns the taper of the stretch.
func taperOf(n *neck.Neck, st Stretch) Taper {
	xs := stretchStations(n, st, 160)
	mid := areaMiddle(n, st)

	// Under a straight line lies the outline's area times the line's depth at
	// the area's middle, whatever its slope. So of all lines that lie on or above
	// every point the one that is lowest there leaves least wood, and that is the
	// upper hull's edge over it.
	type pt struct{ x, d float64 }
	var hull []pt
	for _, x := range xs {
		p := pt{x, n.Depth(x)}
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
	i := sort.Search(len(hull), func(i int) bool { return hull[i].x >= mid })
	i = max(1, min(i, len(hull)-1))
	a, b := hull[i-1], hull[i]
	t := Taper{From: st.From, To: st.To}
	t.Slope = (b.d - a.d) / (b.x - a.x)
	t.DepthFrom = a.d + t.Slope*(st.From-a.x)

	// Between the points the depth line may still stand out: lift the plane by
	// as much.
	lift, over := 0.0, 0.0
	for i := 0; i+1 < len(xs); i++ {
		above, _ := numeric.Peak(func(x float64) float64 { return n.Depth(x) - t.Depth(x) }, xs[i], (xs[i]+xs[i+1])/2, xs[i+1])
		lift = math.Max(lift, above)
	}
	t.DepthFrom += lift
	for _, x := range xs {
		if o := t.Depth(x) - n.Depth(x); o > over {
			over, t.OverAt = o, x
		}
	}
	if over < 1e-6 { // rounding
		over, t.OverAt = 0, st.From
	}
	t.Over = over
	t.DepthTo = t.Depth(st.To)
	t.Angle = math.Atan(t.Slope)
	return t
}

// areaMiddle returns where the outline's area balances along the stretch: x
// weighted by the width.
func areaMiddle(n *neck.Neck, st Stretch) float64 {
	area := n.VolumeBetween(st.From, st.To, n.Width)
	moment := n.VolumeBetween(st.From, st.To, func(x float64) float64 { return (x - st.From) * n.Width(x) })
	return st.From + moment/area
}

// stretchStations returns stations over the stretch in order, at least k
// steps, with every landmark of the neck in it.
func stretchStations(n *neck.Neck, st Stretch, k int) []float64 {
	var xs []float64
	for i := range k + 1 {
		xs = append(xs, numeric.Lerp(st.From, st.To, float64(i)/float64(k)))
	}
	for _, x := range n.Landmarks() {
		if x > st.From && x < st.To {
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
	out[len(out)-1] = st.To
	return out
}
