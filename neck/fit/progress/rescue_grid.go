package progress

import (
	"math"
	"slices"

	"neckloft/neck"
	"neckloft/neck/readings"
)

const gridDirections = 7 // a side, from level to straight down

// grid lays the stations and directions at which surfaces are compared.
func (r *rescuer) grid(goal *neck.Neck) {
	n := r.p.Neck
	for i := range gridDirections {
		a := math.Pi / 2 * float64(i) / (gridDirections - 1)
		r.dirs, r.normals = append(r.dirs, a), append(r.normals, neck.AngleDirection(a))
	}
	r.xs = r.gridStations()
	spots := r.p.Stations()
	for k, x := range r.xs {
		long := (r.xs[min(k+1, len(r.xs)-1)] - r.xs[max(k-1, 0)]) / 2
		sec, aim := n.Section(x), goal.Section(x)
		var was, to []float64
		for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
			for _, a := range r.dirs {
				was = append(was, sec.Support(side, a)-lowSpot(spots, x, side, a))
				to = append(to, aim.Support(side, a))
			}
		}
		face := r.faces(&sec, long)
		for _, v := range face {
			r.whole += v
		}
		r.was, r.goal, r.face = append(r.was, was), append(r.goal, to), append(r.face, face)
		r.tight = append(r.tight, make([]float64, len(was)))
	}
	for _, c := range r.p.Checks {
		// What lies inside the old target lies inside every reading above it. A
		// girth tells of no place, and a low width is seen to before, by narrow.
		if c.Remaining < 0 && c.Kind != readings.Girth && (c.Kind != readings.Width || c.Status == Below) {
			r.low = append(r.low, c)
		}
	}
	r.bind()
}

// gridStations returns even steps along the neck, the stations that were read,
// those of the spec where it was given more, and the middles between these.
func (r *rescuer) gridStations() []float64 {
	n := r.p.Neck
	var out []float64
	lo, hi := math.Max(n.Start(), 0), n.End()
	if h := n.Spec().Headstock; h != nil {
		lo = math.Max(n.Start(), -60)
	}
	for i := range 25 {
		out = append(out, lo+(hi-lo)*float64(i)/24)
	}
	middles := func(xs []float64) {
		slices.Sort(xs)
		for k, x := range xs {
			out = append(out, x)
			if k > 0 {
				out = append(out, (x+xs[k-1])/2)
			}
		}
	}
	var read, depth, profile []float64
	for _, checks := range r.p.Stations() {
		read = append(read, checks[0].X)
	}
	middles(read)
	if len(r.spec.Depth) > len(n.Spec().Depth) || len(r.spec.Profile) > len(n.Spec().Profile) {
		for _, d := range r.spec.Depth {
			depth = append(depth, r.spec.X(d.At))
		}
		for _, q := range r.spec.Profile {
			profile = append(profile, r.spec.X(q.At))
		}
		middles(depth)
		middles(profile)
	}
	slices.Sort(out)
	out = slices.Compact(out)
	return slices.DeleteFunc(out, func(x float64) bool { return x < n.Start() || x > n.End() })
}

// faces returns the part of the surface about a section, so long, that each
// direction of the grid stands for.
func (r *rescuer) faces(sec *neck.Section, long float64) []float64 {
	var out []float64
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		last := sec.Edge(side)
		for i, a := range r.dirs {
			next := sec.Point(side, math.Pi/2)
			if i+1 < len(r.dirs) {
				next = sec.Point(side, (a+r.dirs[i+1])/2)
			} else {
				next.Y = 0 // half of the flat, if there is one
			}
			out = append(out, math.Hypot(next.Y-last.Y, next.Z-last.Z)*long)
			last = next
		}
	}
	return out
}

// bind sorts the readings that bind by stations of the grid.
func (r *rescuer) bind() {
	r.at = make([][]Check, len(r.xs))
	for _, c := range r.low {
		k, _ := slices.BinarySearch(r.xs, c.X)
		r.at[k] = append(r.at[k], c)
	}
}

// runOut is how far beyond the outermost station a low spot is taken to run, in
// mm.
const runOut = 25.0

// lowSpot returns how far the carved wood is taken to lie below the target at
// x, in a direction: straight between the readings of a station by angle, and
// between stations by distance; beyond the outermost reading it runs out over
// 30 degrees, beyond the outermost station over 25 mm.
func lowSpot(spots [][]Check, x float64, side neck.Side, phi float64) float64 {
	const out = runOut
	type station struct{ x, low float64 }
	var at []station
	for _, checks := range spots {
		low := spotsOf(checks)
		for i := range low {
			if low[i].width {
				low[i].remaining = 0 // low ones have narrowed the neck already
			}
		}
		at = append(at, station{checks[0].X, lowAt(low, side, phi)})
	}
	switch first, last := at[0], at[len(at)-1]; {
	case x <= first.x:
		return first.low * math.Max(0, 1-(first.x-x)/out)
	case x >= last.x:
		return last.low * math.Max(0, 1-(x-last.x)/out)
	}
	for i := 1; i < len(at); i++ {
		if a, b := at[i-1], at[i]; x <= b.x {
			return a.low + (b.low-a.low)*(x-a.x)/(b.x-a.x)
		}
	}
	return 0
}

// lowAt is lowSpot at a station.
func lowAt(spots []spot, side neck.Side, phi float64) float64 {
	// The low spots run straight among themselves; wood that is still to come
	// off beside them does not make them higher.
	low := slices.Clone(spots)
	for i := range low {
		low[i].remaining = math.Min(0, low[i].remaining)
	}
	remaining, beyond := remainingAt(low, turn(side, phi))
	if math.IsInf(beyond, 1) {
		return 0
	}
	return -remaining * math.Max(0, 1-beyond/untold)
}
