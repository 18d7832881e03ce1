package neck

import (
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Channel returns the extent in x of the rod channel, and false where the
// neck has none.
func (n *Neck) Channel() (from, to float64, ok bool) {
	return n.rodFrom, n.rodTo, n.spec.Rod != nil
}

// rodSupport returns how far the channel's section reaches in the direction d on
// either side (it is symmetrical): its support function.
func rodSupport(r *spec.Rod, d Direction) float64 {
	half := r.Width / 2
	if r.Floor == spec.FloorRound {
		return half + (r.Depth-half)*d.sin
	}
	return half*d.cos + r.Depth*d.sin
}

// RodSupport returns how far the channel's section reaches, on either side, in
// the direction phi below the horizontal: its support function, to hold against
// that of the Section.
func RodSupport(r *spec.Rod, phi float64) float64 { return rodSupport(r, AngleDirection(phi)) }

// Gap returns the distance in the section's plane between the channel, taken
// to run through, and the back's surface at x: negative where the channel cuts
// through. Both are convex and the channel lies inside, so that it is the least
// difference of their support functions.
func (n *Neck) Gap(x float64) float64 {
	s := n.Section(x)
	least := math.Inf(1)
	for _, side := range []Side{Bass, Treble} {
		best, _ := numeric.Maximize(func(a float64) float64 {
			d := AngleDirection(a)
			return rodSupport(n.spec.Rod, d) - s.SupportAlong(side, d)
		}, 0, math.Pi/2, 18)
		least = math.Min(least, -best)
	}
	return least
}

// Cover returns the least distance from the rod channel's section at x to the
// back of the wood, measured in space and not only in the plane of the
// section, and false where there is no channel at x. It is negative where the
// channel cuts through.
func (n *Neck) Cover(x float64) (float64, bool) {
	if n.spec.Rod == nil || x < n.rodFrom || x > n.rodTo {
		return 0, false
	}
	d, _ := n.cover(x, x, 12)
	return d, true
}

// LeastCover returns the least distance from the whole channel to the back,
// and where along the neck it lies; false where there is no channel.
func (n *Neck) LeastCover() (cover, x float64, ok bool) {
	if n.spec.Rod == nil {
		return 0, 0, false
	}
	n.coverOnce.Do(func() {
		steps := int(numeric.Clamp(math.Ceil((n.rodTo-n.rodFrom)/3), 12, 400))
		n.coverLeast, n.coverAt = n.cover(n.rodFrom, n.rodTo, steps)
	})
	return n.coverLeast, n.coverAt, true
}

// cover returns the least distance from the channel between from and to to
// the back, and where it lies. A point of the back at x' is at least the
// section's gap away across, and as far along as x' lies outside the stretch.
func (n *Neck) cover(from, to float64, steps int) (float64, float64) {
	distance := func(x float64) float64 {
		g := n.Gap(x)
		out := math.Max(0, math.Max(from-x, x-to))
		if g < 0 {
			// Cut through: the depth of it, where it belongs to the stretch.
			return g + out
		}
		return math.Hypot(out, g)
	}
	reach := math.Max(0, math.Min(distance(from), distance(to)))
	lo := math.Max(n.start, from-reach)
	hi := math.Min(n.tip, to+reach)
	best, at := numeric.Maximize(func(x float64) float64 { return -distance(x) }, lo, hi, steps)
	return -best, numeric.Clamp(at, from, to)
}

// RodOutline returns the channel's section from the treble lip down, across the
// floor and up to the bass lip, with chords within e of a round floor.
func RodOutline(r *spec.Rod, e float64) []YZ {
	half := r.Width / 2
	if r.Floor == spec.FloorFlat {
		return []YZ{{half, 0}, {half, -r.Depth}, {-half, -r.Depth}, {-half, 0}}
	}
	k := max(4, int(math.Ceil(math.Pi/(2*math.Acos(1-math.Min(e/half, 0.5))))))
	out := []YZ{{half, 0}}
	for i := range k + 1 {
		sin, cos := math.Sincos(math.Pi * float64(i) / float64(k))
		out = append(out, YZ{half * cos, -(r.Depth - half) - half*sin})
	}
	return append(out, YZ{-half, 0})
}

// rodArea returns the area of the channel's section in mm².
func rodArea(r *spec.Rod) float64 {
	if r.Floor == spec.FloorRound {
		half := r.Width / 2
		return r.Width*(r.Depth-half) + math.Pi*half*half/2
	}
	return r.Width * r.Depth
}

// rodMoments returns the moments of the channel's section.
func rodMoments(r *spec.Rod) Moments {
	half := r.Width / 2
	if r.Floor == spec.FloorFlat {
		return rectangle(-half, -r.Depth, half, 0)
	}
	// Half a disc under a rectangle. About its diameter a half disc has the
	// first moment 2 r³/3 and both second moments π r⁴/8.
	bottom := half - r.Depth
	disc := Moments{
		Area: math.Pi * half * half / 2,
		SZ:   2 * half * half * half / 3,
		SYY:  math.Pi * math.Pow(half, 4) / 8,
		SZZ:  math.Pi * math.Pow(half, 4) / 8,
	}
	return rectangle(-half, bottom, half, 0).Plus(1, disc.placed(0, 1, bottom, -1))
}

// RodDistance returns the distance in the section's plane of a point outside the
// channel from it.
func RodDistance(r *spec.Rod, q YZ) float64 {
	half, depth := r.Width/2, -q.Z
	if r.Floor == spec.FloorFlat {
		return math.Hypot(math.Max(0, math.Abs(q.Y)-half), math.Max(0, depth-r.Depth))
	}
	return math.Hypot(q.Y, math.Max(0, depth-(r.Depth-half))) - half
}
