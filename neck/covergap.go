package neck

import (
	"math"
	"slices"

	"neckloft/neck/numeric"
)

// gap returns the distance in a section's plane between a channel's section and
// the back: negative where the channel cuts through. Both are convex and the
// channel lies inside, so that it is the least difference of their support
// functions.
func (s *channelSlice) gap(wood *Section) float64 {
	return -math.Max(s.over(wood, MinusY), s.over(wood, PlusY))
}

// gapAngles are normals at equal angles from the wall to the deepest point, and
// gapSpread how the others are spread about where the profile turns: by u of the
// profile's normal over its fullness less 1.
var (
	gapAngles = func() (out [10]Direction) {
		for i := range out {
			out[i] = AngleDirection(math.Pi / 2 * float64(i) / float64(len(out)-1))
		}
		return out
	}()
	gapSpread = [...]float64{-3, -1, 0, 1, 3}
)

// gapNormals puts normals of one side in order such that no part of its curve,
// of whatever fullness, and no corner hides between them.
func (s *Section) gapNormals(side Side, buf []Direction) []Direction {
	out := append(buf, gapAngles[:]...)
	if s.blend < 1 {
		q := &s.curve[side]
		for _, v := range gapSpread {
			out = append(out, DirectionOf((q.n-1)*v-q.logBA))
		}
	}
	if s.lean.ok {
		out = append(out, s.lean.side)
	}
	slices.SortFunc(out, func(a, b Direction) int {
		switch {
		case a.u < b.u:
			return -1
		case a.u > b.u:
			return 1
		}
		return 0
	})
	return out
}

// over returns the most by which the channel's section reaches over one of the
// wood's supporting lines on one side: negative inside of all of them.
//
// The difference may have several peaks. Each normal that is no lower than those
// beside it is followed to the peak, unless it is lower than the best by more
// than it rises from one normal to the next.
func (s *channelSlice) over(wood *Section, side Side) float64 {
	diff := func(d Direction) float64 { return s.support(side, d) - wood.SupportAlong(side, d) }
	var buf [len(gapAngles) + len(gapSpread) + 1]Direction
	normals := wood.gapNormals(side, buf[:0])
	var values [len(buf)]float64
	best := math.Inf(-1)
	for i, d := range normals {
		values[i] = diff(d)
		best = math.Max(best, values[i])
	}
	last := len(normals) - 1
	for i, v := range values[:last+1] {
		before, after := values[max(0, i-1)], values[min(last, i+1)]
		if before > v || after > v || v+2*math.Max(v-before, v-after) < best {
			continue
		}
		angle := func(i int) float64 { d := normals[i]; return math.Atan2(d.sin, d.cos) }
		peak, _ := numeric.Peak(func(a float64) float64 { return diff(AngleDirection(a)) },
			angle(max(0, i-1)), angle(i), angle(min(last, i+1)))
		best = math.Max(best, peak)
	}
	return best
}
