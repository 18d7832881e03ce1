package neck

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// leastAtInsert is the least wood, in mm, all round the hole for an insert, from
// its mouth to its bottom: under the board, over the back and at the sides.
const leastAtInsert = 1.0

// checkInserts refuses holes for inserts that are so deep that they come out of
// the wood: of a raked face they rise towards the board, and past the block the
// heel gets shallower.
func (n *Neck) checkInserts() spec.Problems {
	s, j := n.spec, n.spec.Joint
	if j == nil {
		return nil
	}
	holes := n.InsertHoles()
	for i := range j.Inserts {
		in := &j.Inserts[i]
		own := holes[:len(in.Holes())]
		holes = holes[len(own):]
		most, where := in.Depth, ""
		for k := range own {
			if m, by := n.holeRoom(&own[k]); m < most {
				most, where = m, by
			}
		}
		if where == "" {
			continue
		}
		return spec.Problems{s.Problem(insertKey(i, "depth"), "a hole %s deep, %s below the glue plane at the face, does not keep %s of wood %s; allowed: up to %s",
			s.Length(in.Depth), s.Length(in.Down), s.Length(leastAtInsert), where, s.Units.Limit(most, math.Floor))}
	}
	return nil
}

// holeRoom returns how deep a hole may be, at most as deep as it is, and which
// surface of the wood it would come too near to if it were deeper: "" for none.
func (n *Neck) holeRoom(h *Hole) (most float64, near string) {
	// What the wood round the hole has to hold, at a distance along it: a ring
	// about the wall, and about the bottom's edge.
	from := mesh.Vec{X: h.From[0], Y: h.From[1], Z: h.From[2]}
	into := mesh.Vec{X: h.Into[0], Y: h.Into[1], Z: h.Into[2]}
	side := mesh.Vec{Y: 1}
	up := side.Cross(into)
	if up.Z < 0 {
		up = up.Scale(-1)
	}
	ring := func(radius, along float64) string {
		const around = 16
		for k := range around {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / around)
			p := from.Add(into.Scale(along)).Add(side.Scale(radius * cos)).Add(up.Scale(radius * sin))
			if at := n.outside(p); at != "" {
				return at
			}
		}
		return ""
	}
	deep := func(depth float64) string {
		const steps = 3
		for k := range steps + 1 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(k) / steps)
			if at := ring(h.Diameter/2+leastAtInsert*cos, depth+leastAtInsert*sin); at != "" {
				return at
			}
		}
		return ""
	}
	// On the way from the block to the neck the wood gets shallower. Some places,
	// then the first where it is too little, to a few thousandths.
	const places = 8
	last := 0.0
	for k := 1; k <= places; k++ {
		d := h.Depth * float64(k) / places
		at := deep(d)
		if at == "" {
			last = d
			continue
		}
		for hi := d; hi-last > 0.002; {
			if mid := (last + hi) / 2; deep(mid) == "" {
				last = mid
			} else {
				hi = mid
			}
		}
		return last, at
	}
	return h.Depth, ""
}

// outside says by which surface of the wood a point lies outside it: "" for a
// point within. A hair is forgiven.
func (n *Neck) outside(p mesh.Vec) string {
	const hair = 0.003
	switch {
	case p.X < 0:
		return "before the nut"
	case p.Z > hair:
		return "under the board"
	}
	sec := n.Section(p.X)
	if p.X > n.end && !n.tenoned() {
		sec = n.uncut(n.end)
	}
	d, side, phi := sec.Nearest(YZ{p.Y, math.Min(p.Z, -1e-6)})
	switch {
	case d <= hair:
		return ""
	case phi < math.Pi/4:
		return "beside it on the " + n.SideName(side) + " side"
	}
	return "over the back"
}
