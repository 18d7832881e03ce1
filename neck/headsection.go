package neck

import (
	"cmp"
	"math"
	"slices"

	"neckloft/neck/numeric"
)

// A section that an outline cuts is no longer convex: what is asked of it goes
// by lines across. Of each the wood lies within the loft's section and within
// the outline, which is cut square to the face.

// slice is a line across at the height z: the wood on it in pairs of y.
type slice struct {
	z  float64
	dz float64 // the weight of its height, 0 at the ends
	ys []float64
}

// sliceRule and slicePanels place the lines: a Gauss rule over equal steps.
var sliceRule = numeric.NewRule(3)

const slicePanels = 32

// slices returns the lines across from the top to the bottom, with those at both
// ends.
func (s *Section) slices() []slice {
	curve := s.rims()
	most := 2*slicePanels*len(sliceRule.X) + 2
	room := make([]float64, 0, 4*most) // of all lines together
	cut := func(z, dz float64) slice {
		lo, hi := s.loftAt(curve, z)
		from := len(room)
		room = s.trim.appendAt(room, z)
		ys := appendBetween(room[from:from], room[from:], lo, hi)
		room = room[:from+len(ys)]
		return slice{z, dz, slices.Clip(ys)}
	}
	out := append(make([]slice, 0, most), cut(s.Top-1e-9, 0))
	for _, part := range [][2]float64{{s.Top, s.CurveStart()}, {s.CurveStart(), -s.Depth}} {
		h := (part[0] - part[1]) / slicePanels
		if h <= 0 {
			continue
		}
		for i := range slicePanels {
			for j, t := range sliceRule.X {
				out = append(out, cut(part[0]-h*(float64(i)+t), h*sliceRule.W[j]))
			}
		}
	}
	out = append(out, cut(-s.Depth+1e-9, 0))
	slices.SortStableFunc(out, func(a, b slice) int { return cmp.Compare(b.z, a.z) })
	return out
}

// between returns the parts of pairs of y that lie between lo and hi.
func between(ys []float64, lo, hi float64) []float64 { return appendBetween(nil, ys, lo, hi) }

// appendBetween appends what between returns; out may be the beginning of ys.
func appendBetween(out, ys []float64, lo, hi float64) []float64 {
	for i := 0; i+1 < len(ys); i += 2 {
		if a, b := math.Max(ys[i], lo), math.Min(ys[i+1], hi); b > a {
			out = append(out, a, b)
		}
	}
	return out
}

// rims are points of both sides of the loft's curve, from the wall down.
func (s *Section) rims() (out [2][]YZ) {
	for _, side := range []Side{MinusY, PlusY} {
		out[side] = make([]YZ, len(rimSteps))
		for i, d := range rimSteps {
			out[side][i] = s.PointAlong(side, d)
		}
	}
	return out
}

// rimSteps are normals at equal steps from the wall to the deepest point.
var rimSteps = func() (out [161]Direction) {
	for i := range out {
		out[i] = AngleDirection(math.Pi / 2 * float64(i) / float64(len(out)-1))
	}
	return out
}()

// loftAt returns how far the loft's section reaches at the height z.
func (s *Section) loftAt(rims [2][]YZ, z float64) (lo, hi float64) {
	var at [2]float64
	for side, rim := range rims {
		switch k := len(rim) - 1; {
		case z >= rim[0].Z:
			at[side] = rim[0].Y
		case z <= rim[k].Z:
			at[side] = rim[k].Y
		default:
			a, b := 0, k
			for b-a > 1 {
				if m := (a + b) / 2; rim[m].Z > z {
					a = m
				} else {
					b = m
				}
			}
			at[side] = numeric.Lerp(rim[a].Y, rim[b].Y, (rim[a].Z-z)/(rim[a].Z-rim[b].Z))
		}
	}
	return at[MinusY], at[PlusY]
}

// cutMoments are the moments of a section that an outline cuts.
func (s *Section) cutMoments() Moments {
	var m Moments
	for _, l := range s.slices() {
		for i := 0; i+1 < len(l.ys); i += 2 {
			a, b := l.ys[i], l.ys[i+1]
			y, yy := (b*b-a*a)/2, (b*b*b-a*a*a)/3
			m.Area += l.dz * (b - a)
			m.SY += l.dz * y
			m.SYY += l.dz * yy
			m.SZ += l.dz * (b - a) * l.z
			m.SZZ += l.dz * (b - a) * l.z * l.z
			m.SYZ += l.dz * y * l.z
		}
	}
	return m
}

// cutGirth is the length of the back of a section that an outline cuts, from
// its outermost edges down.
func (s *Section) cutGirth() float64 {
	sum := 0.0
	var before []float64
	last := 0.0
	for _, l := range s.slices() {
		k := len(l.ys)
		if k == 0 || l.ys[k-1]-l.ys[0] < 1e-6 {
			continue // at the tip's very point there is nothing to go round
		}
		ends := []float64{l.ys[0], l.ys[k-1]}
		if before != nil {
			sum += math.Hypot(ends[0]-before[0], l.z-last) + math.Hypot(ends[1]-before[1], l.z-last)
		}
		before, last = ends, l.z
	}
	if before == nil {
		return 0
	}
	return sum + before[1] - before[0]
}

// cutDepth returns the wood's depth below the glue plane at y, where an outline
// cuts the section: to the loft's back, or to the first way out of the side.
func (s *Section) cutDepth(y float64) (float64, bool) {
	inside := func(z float64) bool {
		ys := s.trim.at(z)
		for i := 0; i+1 < len(ys); i += 2 {
			if y >= ys[i]-1e-9 && y <= ys[i+1]+1e-9 {
				return true
			}
		}
		return false
	}
	d, ok := s.loftDepth(y)
	top := s.Top - 1e-9
	if !ok || !inside(top) {
		return 0, false
	}
	const steps = 64
	last := top
	for i := 1; i <= steps; i++ {
		z := numeric.Lerp(top, -d, float64(i)/steps)
		if !inside(z) {
			lo, hi := last, z
			for range 40 {
				if mid := (lo + hi) / 2; inside(mid) {
					lo = mid
				} else {
					hi = mid
				}
			}
			return -lo, true
		}
		last = z
	}
	return d, true
}

// Trim returns what an outline leaves of the line across at the height z: pairs
// of y, and false where no outline cuts the section.
func (s *Section) Trim(z float64) ([]float64, bool) {
	if s.trim == nil {
		return nil, false
	}
	return s.trim.at(z), true
}

// CutLine returns the back of a section that an outline cuts, from the bass edge
// down and round to the treble edge by its outermost points, and nil where none
// does.
func (s *Section) CutLine() []YZ {
	if s.trim == nil {
		return nil
	}
	var bass, treble []YZ
	for _, l := range s.slices() {
		if k := len(l.ys); k > 0 {
			bass, treble = append(bass, YZ{l.ys[0], l.z}), append(treble, YZ{l.ys[k-1], l.z})
		}
	}
	slices.Reverse(treble)
	return append(bass, treble...)
}
