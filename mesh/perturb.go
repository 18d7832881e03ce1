package mesh

import "cmp"

// The predicates of this file see the cutter moved by an infinitesimal step:
// along x, by far less along y and by still less along z. Under that step no
// corner of one solid lies in the plane of a face of the other and no two edges
// meet, whatever their coordinates, so that every answer is 1 or -1 and all
// answers agree with one another (H. Edelsbrunner, E. P. Mücke, "Simulation of
// Simplicity", ACM Transactions on Graphics 9 (1990) 66-104).

// step says which way the second of two solids is moved against the first.
type step int

const (
	stepCutter step = 1  // the second is the cutter
	stepBase   step = -1 // the second is the base
)

// planeSide is orient3d of a face of the first solid and a corner d of the
// second.
func (s step) planeSide(a, b, c, d Vec) int {
	if o := orient3d(a, b, c, d); o != 0 {
		return o
	}
	for k := range 3 {
		if o := orient2d(a.drop(k), b.drop(k), c.drop(k)); o != 0 {
			return int(s) * o
		}
	}
	return 0
}

// edgeSide is orient3d of an edge p q of the first solid and an edge a b of the
// second. It is 0 only for edges that are parallel and in one plane.
func (s step) edgeSide(p, q, a, b Vec) int {
	if o := orient3d(p, q, a, b); o != 0 {
		return o
	}
	for k := range 3 {
		if o := crossSign(a.drop(k), b.drop(k), p.drop(k), q.drop(k)); o != 0 {
			return int(s) * o
		}
	}
	return 0
}

// crossSign returns the sign of (b - a) x (d - c).
func crossSign(a, b, c, d Vec2) int {
	ux, ok1 := exactDiff(b.X, a.X)
	uy, ok2 := exactDiff(b.Y, a.Y)
	vx, ok3 := exactDiff(d.X, c.X)
	vy, ok4 := exactDiff(d.Y, c.Y)
	if ok1 && ok2 && ok3 && ok4 {
		var h [4]float64
		return expansionSign(crossExpansion(&h, ux, uy, vx, vy))
	}
	v := bigInts(a.X, a.Y, b.X, b.Y, c.X, c.Y, d.X, d.Y)
	return bigCross(bigSub(v[2], v[0]), bigSub(v[3], v[1]), bigSub(v[6], v[4]), bigSub(v[7], v[5])).Sign()
}

// pierces reports whether the edge p q of the second solid runs through the
// face a b c of the first, given the sides of its plane on which p and q lie.
func (s step) pierces(p, q Vec, sp, sq int, a, b, c Vec) bool {
	if sp == sq {
		return false
	}
	o := s.edgeSide(a, b, p, q)
	return o != 0 && s.edgeSide(b, c, p, q) == o && s.edgeSide(c, a, p, q) == o
}

// columnCrosses reports whether the ray upward from a corner p of the second
// solid runs through the face a b c of the first.
func (s step) columnCrosses(p, a, b, c Vec) bool {
	o := s.columnSide(p, a, b)
	if o == 0 || s.columnSide(p, b, c) != o || s.columnSide(p, c, a) != o {
		return false
	}
	return s.planeSide(a, b, c, p) == -o
}

func (s step) columnSide(p, a, b Vec) int {
	if o := orient2d(a.drop(2), b.drop(2), p.drop(2)); o != 0 {
		return o
	}
	if o := cmp.Compare(a.Y, b.Y); o != 0 {
		return int(s) * o
	}
	return int(s) * cmp.Compare(b.X, a.X)
}
