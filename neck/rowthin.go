package neck

import (
	"math"

	"neckloft/neck/numeric"
)

// All rows have a point for each direction of the loft, so that the row which
// needs the most decides for all: where a headstock's block ends in a narrow
// round, all points crowd into that. What follows leaves points of single rows
// out. Each of them is stood for by the kept point before or after it, whichever
// the chord between the two turns away from, and so the strip of faces to the
// next row pairs sides of about the same normal.
//
// A mesh misses the surface by what its chords across miss and what its quads
// along do. The stations are settled before, and the quads' part with them: a
// chord across may have the rest of the tolerance.

// nearby is how far apart, in parts of the loft's merge, two points of a row lie
// at most when one of them goes that the rest of the tolerance alone would keep.
const nearby = 40

// thin leaves out points of the rows, see above.
func (l *loft) thin(rows []row) {
	if l.part == PartBoard {
		return
	}
	within := make([]float64, len(l.dirs))
	for i := range rows {
		r := &rows[i]
		if r.back[MinusY] == nil {
			continue
		}
		for _, side := range []Side{MinusY, PlusY} {
			l.remaining(rows, i, side, within)
			r.stand[side] = l.stands(r, side, within)
		}
	}
}

// remaining fills in what the chords across a row may miss at each of its points:
// what the quads before and after it have left of the tolerance there. Quads too short
// for a look at their middle miss next to nothing, and are given half of it.
func (l *loft) remaining(rows []row, i int, side Side, within []float64) {
	for j := range within {
		within[j] = 2.0 * l.chord
	}
	for k := i; k <= i+1 && k < len(rows); k++ {
		if k == 0 || rows[k-1].back[side] == nil || rows[k].back[side] == nil {
			continue
		}
		for j, e := range rows[k].along[side] {
			if !rows[k].looked {
				e = l.chord
			}
			within[j] = math.Min(within[j], 2*l.chord-e)
		}
	}
}

// stands returns, for each point of one side of a row, the kept one that stands
// for it.
func (l *loft) stands(r *row, side Side, within []float64) []int {
	last := len(l.dirs) - 1
	kept := []int{0}
	for k := 0; k < last; {
		m := k + 1
		for least := math.Min(within[k], within[m]); m < last; m++ {
			least = math.Min(least, within[m+1])
			if !l.bridges(r, side, k, m+1, least) {
				break
			}
		}
		kept = append(kept, m)
		k = m
	}
	kept = l.withoutNear(r, side, kept, within)
	stand := make([]int, last+1)
	for i := 0; i+1 < len(kept); i++ {
		k, m := kept[i], kept[i+1]
		p, q := r.back[side][k], r.back[side][m]
		u := numeric.Log(math.Abs(p.Y-q.Y) / math.Abs(p.Z-q.Z))
		for j := k; j < m; j++ {
			if stand[j] = k; j > k && l.dirs[j].u > u {
				stand[j] = m
			}
		}
	}
	stand[last] = last
	return stand
}

// withoutNear drops of the kept points those that lie next to another and that
// joining the two, which the loft does in any case with points nearer still, can
// spare.
func (l *loft) withoutNear(r *row, side Side, kept []int, within []float64) []int {
	out := kept[:1]
	for i := 1; i+1 < len(kept); i++ {
		k, j, m := out[len(out)-1], kept[i], kept[i+1]
		p, q, t := r.back[side][k], r.back[side][j], r.back[side][m]
		gap := math.Min(math.Hypot(p.Y-q.Y, p.Z-q.Z), math.Hypot(t.Y-q.Y, t.Z-q.Z))
		if gap < nearby*l.merge {
			least := within[k]
			for _, w := range within[k : m+1] {
				least = math.Min(least, w)
			}
			if l.bridges(r, side, k, m, least+l.merge/2) {
				continue
			}
		}
		out = append(out, j)
	}
	return append(out, kept[len(kept)-1])
}

// footless reports whether the foot of a row's wall, its first point, lies next to the
// wall's edge and may go: the chord from the edge on passes it closely.
func (l *loft) footless(r *row, side Side) bool {
	e, p := r.s.Edge(side), r.back[side][0]
	if math.Hypot(e.Y-p.Y, e.Z-p.Z) >= nearby*l.merge {
		return false
	}
	k := 1
	for r.stand[side] != nil && r.stand[side][k] != k {
		k++
	}
	q := r.back[side][k]
	long := math.Hypot(q.Y-e.Y, q.Z-e.Z)
	return long > 0 && math.Abs((q.Y-e.Y)*(p.Z-e.Z)-(q.Z-e.Z)*(p.Y-e.Y)) <= l.merge*long
}

// pointed reports whether the flat between a row's two apexes is too narrow for faces
// and may go: the chords from its middle on pass its ends closely.
func (l *loft) pointed(r *row) bool {
	last := len(l.dirs) - 1
	p, q := r.back[MinusY][last], r.back[PlusY][last]
	wide := math.Abs(p.Y - q.Y)
	if wide > l.narrow {
		return false
	}
	for _, side := range []Side{MinusY, PlusY} {
		k := last - 1
		for k > 0 && r.stand[side] != nil && r.stand[side][k] != k {
			k--
		}
		end, next := r.back[side][last], r.back[side][k]
		if math.Abs(end.Z-next.Z)*wide/2 > l.merge/2*math.Abs(end.Y-next.Y) {
			return false
		}
	}
	return true
}

// flatTo reports whether a point lies next to the apex, about level with it: it may go
// there.
func (l *loft) flatTo(p, apex YZ) bool {
	return math.Abs(p.Y-apex.Y) < l.narrow && math.Abs(p.Z-apex.Z) < l.merge/4
}

// bridges reports whether the chord from point k of a row's side to point m is
// within a distance of the curve. What the points between or the tangents at both
// ends can tell needs no closer look.
func (l *loft) bridges(r *row, side Side, k, m int, within float64) bool {
	p, q := r.back[side][k], r.back[side][m]
	dy, dz := math.Abs(p.Y-q.Y), math.Abs(p.Z-q.Z)
	long := math.Hypot(dy, dz)
	if long == 0 {
		return true
	}
	cos, sin := dz/long, dy/long // of the chord's normal
	out := side.Sign()
	for _, t := range r.back[side][k+1 : m] {
		if out*(t.Y-p.Y)*cos-(t.Z-p.Z)*sin > within {
			return false
		}
	}
	// The curve lies within the triangle of the chord and the two tangents.
	a, b := l.dirs[k], l.dirs[m]
	before := sin*a.cos - cos*a.sin // sines of the turns to and from the chord
	after := b.sin*cos - b.cos*sin
	if turn := b.sin*a.cos - b.cos*a.sin; turn > 0 && before >= 0 && after >= 0 && before*after/turn*long <= within {
		return true
	}
	return r.s.chordError(side, a, b, p, q) <= within
}
