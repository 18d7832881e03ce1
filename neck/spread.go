package neck

import "math"

// chords looks whether chords of the sides of many sections, all from one
// normal on, keep within a distance of their curves.
type chords struct {
	sections []Section
	within   float64
	from     Direction
	points   [][2]YZ // of the sections' sides, at from
	worst    int     // the section that reaches least far, as far as is known
}

func newChords(sections []Section, within float64) *chords {
	return &chords{sections: sections, within: within, points: make([][2]YZ, len(sections))}
}

// start moves the beginning of the chords.
func (c *chords) start(from Direction) {
	c.from = from
	for i := range c.sections {
		for _, side := range []Side{MinusY, PlusY} {
			c.points[i][side] = c.sections[i].PointAlong(side, from)
		}
	}
}

// reach says whether the chords of all sections may end at a normal. Where some
// may not, the one that fails most is the worst from then on.
func (c *chords) reach(to Direction) bool {
	if !c.keeps(to) {
		return false
	}
	most := c.within
	worst := c.worst
	for i := range c.sections {
		if i != c.worst {
			if miss := c.miss(i, to); miss > most {
				worst, most = i, miss
			}
		}
	}
	c.worst = worst
	return !(most > c.within)
}

// keeps says whether the chords of the worst section may end at a normal.
func (c *chords) keeps(to Direction) bool { return !(c.miss(c.worst, to) > c.within) }

// miss returns how far the chords of a section are from its sides.
func (c *chords) miss(i int, to Direction) float64 {
	s := &c.sections[i]
	most := 0.0
	for _, side := range []Side{MinusY, PlusY} {
		if miss := s.chordError(side, c.from, to, c.points[i][side], s.PointAlong(side, to)); miss > most {
			most = miss
		}
	}
	return most
}

// farthest is where u ends. It runs over the whole line; a fullness far from 2
// leaves the curve's ends only for a large |u|.
const farthest = 1500.0

// spread returns normals from the wall to the apex such that no chord between
// neighbours, on either side of any of the sections, is farther than e from
// the curve. Each step is as long as the worst section lets it be.
//
// A chord from one point to a farther one misses more of the curve: the curve
// turns by less than a right angle, so that what a chord cuts off grows with it.
// So the step is sought by the section that reaches least far, and then looked at
// in all; where another fails, that one reaches less far, and it is sought again.
func spread(sections []Section, e float64) []Direction {
	c := newChords(sections, e)
	dirs := []Direction{level}
	u, stride := -farthest, farthest
	for c.start(level); !c.reach(plumb); c.start(dirs[len(dirs)-1]) {
		to, forced := c.longest(u, stride)
		// Each time another section is the worst.
		for i := 0; i < len(sections) && !forced && !c.reach(DirectionOf(to)); i++ {
			to, forced = c.longest(u, stride)
		}
		u, stride = to, to-u
		dirs = append(dirs, DirectionOf(u))
	}
	return append(dirs, plumb)
}

// longest returns the end of the longest step from u of the worst section's
// chords. The step before was a stride long. It is forced where the chord cannot
// be kept in float64, and ends at the nearest normal that differs.
func (c *chords) longest(u, stride float64) (to float64, forced bool) {
	lo, hi := u, u+stride
	for hi < farthest && c.keeps(DirectionOf(hi)) {
		lo = hi
		stride *= 2
		hi = u + stride
	}
	hi = math.Min(hi, farthest)
	for range 60 {
		mid := (lo + hi) / 2
		if c.keeps(DirectionOf(mid)) {
			lo = mid
		} else {
			hi = mid
		}
		if hi-lo < 0.02*(lo-u) || hi-lo < 1e-9 {
			break
		}
	}
	if lo <= u {
		return hi, true
	}
	return lo, false
}
