package scan

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// scanPlaces returns the stations at which a scan is sliced: every half fret.
func scanPlaces(s *spec.Spec, scan Options) []spec.Place {
	from, to := scan.From, scan.To
	if from == 0 && to == 0 {
		from, to = 1, math.Min(12, float64(s.LastNamed()))
	}
	if h := s.Heel; h != nil && scan.To == 0 {
		to = math.Min(to, math.Floor(2*s.FretAt(s.X(h.Start)))/2)
	}
	var out []spec.Place
	for f := from; f <= to+1e-9; f += 0.5 {
		out = append(out, spec.AtFret(f))
	}
	return out
}

// slice cuts the mesh at the places and returns the points of the back, in the
// section's frame.
func slice(m *mesh.Mesh, frame Frame, s *spec.Spec, places []spec.Place) [][]neck.YZ {
	xs := make([]float64, len(places))
	for i, at := range places {
		xs[i] = s.X(at)
	}
	local := make([]mesh.Vec, len(m.Vertices))
	for i, v := range m.Vertices {
		local[i] = frame.to(v)
	}
	cut := make([][]neck.YZ, len(places))
	for _, t := range m.Faces {
		a, b, c := local[t[0]], local[t[1]], local[t[2]]
		lo := math.Min(a.X, math.Min(b.X, c.X))
		hi := math.Max(a.X, math.Max(b.X, c.X))
		i, _ := slices.BinarySearch(xs, lo)
		for ; i < len(xs) && xs[i] < hi; i++ {
			x := xs[i]
			// Each crossed edge is that of two triangles, so that one of the
			// two ends is enough: the one where the mesh goes upward.
			for _, e := range [3][2]mesh.Vec{{a, b}, {b, c}, {c, a}} {
				if e[0].X <= x && e[1].X > x {
					u := (x - e[0].X) / (e[1].X - e[0].X)
					cut[i] = append(cut[i], neck.YZ{Y: e[0].Y + u*(e[1].Y-e[0].Y), Z: e[0].Z + u*(e[1].Z-e[0].Z)})
				}
			}
		}
	}
	for i := range cut {
		cut[i] = outer(cut[i])
	}
	return cut
}

// outer returns the points of a slice that lie on the back, in order from bass
// to treble and no more than slicePoints: it leaves out the rod channel, the
// top, and specks far from the rest.
func outer(pts []neck.YZ) []neck.YZ {
	type polar struct {
		neck.YZ
		angle, r float64
	}
	const (
		bins  = 45
		depth = 2.0 // mm inside the outermost points that still is the back
	)
	var below []polar
	for _, q := range pts {
		if q.Z < -0.4 && math.Abs(q.Y) < 150 {
			below = append(below, polar{q, math.Atan2(-q.Z, -q.Y), math.Hypot(q.Y, q.Z)})
		}
	}
	slices.SortFunc(below, func(a, b polar) int {
		if a.angle < b.angle {
			return -1
		}
		return 1
	})
	var kept []neck.YZ
	for lo := 0; lo < len(below); {
		bin := int(below[lo].angle / math.Pi * bins)
		hi := lo
		var rs []float64
		for hi < len(below) && int(below[hi].angle/math.Pi*bins) == bin {
			rs = append(rs, below[hi].r)
			hi++
		}
		slices.Sort(rs)
		// The outermost radius that another point confirms.
		edge := rs[len(rs)-1]
		for k := len(rs) - 1; k > 0; k-- {
			if rs[k]-rs[k-1] < 0.8 {
				edge = rs[k]
				break
			}
		}
		for _, q := range below[lo:hi] {
			if q.r > edge-depth && q.r <= edge+1e-9 {
				kept = append(kept, q.YZ)
			}
		}
		lo = hi
	}
	if len(kept) <= slicePoints {
		return kept
	}
	out := make([]neck.YZ, slicePoints)
	for i := range out {
		out[i] = kept[i*(len(kept)-1)/(slicePoints-1)]
	}
	return out
}
