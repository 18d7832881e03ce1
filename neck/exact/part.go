package exact

import (
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
)

// partKind says how a part of the neck along it is built.
type partKind int

const (
	partBlock partKind = iota // planes and corners
	partPlain                 // the profile
	partLeave                 // where the profile begins to turn into a block
	partTurn                  // the rest of the way: wall, curve and level bottom each by itself
)

// part is a part of the neck along it.
type part struct {
	neck.Stretch
	kind partKind

	// wall tells whether walls are faces of their own: always but where they
	// begin at nothing.
	wall bool

	backs   [2]*brep.Patch  // the curves
	outline [2]*brep.Spline // the line of the walls in the glue plane, by x
	top     [2][]topEdge
	miss    float64
}

// leaving is how wide half of the section's level bottom is, in mm, where that
// and the walls become faces of their own: at first they are too thin for it.
const leaving = 0.2

// parts cuts the stretches of a neck into parts.
func parts(n *neck.Neck) []part {
	var out []part
	from, to := n.LoftEnds()
	list := n.Stretches()
	list[0].From, list[len(list)-1].To = math.Min(from, n.Start()), math.Max(to, n.End())
	for _, s := range list {
		p := part{Stretch: s, wall: n.Spec().Wall > brep.Same}
		switch s.Kind {
		case neck.StretchHead, neck.StretchHeel:
			p.kind = partBlock
			out = append(out, p)
		case neck.StretchPlain:
			p.kind = partPlain
			out = append(out, p)
		default:
			out = append(out, p.split(n)...)
		}
	}
	return creased(n, out)
}

// creased cuts the part in two where the sides of the block that an outline is cut
// from leave those of the neck: they have a crease there.
func creased(n *neck.Neck, list []part) []part {
	if n.HeadEdge() == nil {
		return list
	}
	x := -n.Spec().ShelfReach()
	for i, p := range list {
		const apart = 0.01
		if x > p.From+apart && x < p.To-apart {
			before, after := p, p
			before.To, after.From = x, x
			return slices.Concat(list[:i], []part{before.marked(), after.marked()}, list[i+1:])
		}
	}
	return list
}

// split cuts a way from the profile to a block in two, where it is leaving the
// profile no longer.
func (p part) split(n *neck.Neck) []part {
	profile, block := p.From, p.To
	if p.Kind == neck.StretchIntoHead {
		profile, block = block, profile
	}
	p.kind = partLeave
	level := func(x float64) float64 {
		s := n.Loft(x)
		from, to := s.Flat()
		return (to - from) / 2
	}
	if level(block) <= leaving {
		return []part{p}
	}
	lo, hi := profile, block
	for range 60 {
		if mid := (lo + hi) / 2; level(mid) < leaving {
			lo = mid
		} else {
			hi = mid
		}
	}
	turn := p
	turn.kind = partTurn
	if h := n.Spec().Heel; p.Kind == neck.StretchIntoHead || !h.Capped() {
		turn.wall = true // the block's sides are upright
	}
	if p.Kind == neck.StretchIntoHead {
		p.From, turn.To = hi, hi
		return []part{turn.marked(), p.marked()}
	}
	p.To, turn.From = hi, hi
	return []part{p.marked(), turn.marked()}
}

// marked returns the part with those marks only that lie in it.
func (p part) marked() part {
	marks := p.Marks
	p.Marks = nil
	const apart = 0.01
	for _, m := range marks {
		if m.At > p.From+apart && m.At < p.To-apart {
			p.Marks = append(p.Marks, m)
		}
	}
	return p
}

// half returns one side of the section at x, as the part's patch has it, and the
// lengths that this begins and ends at.
func (p *part) half(n *neck.Neck, x float64, side neck.Side) (h *neck.HalfSection, from, to float64) {
	s := n.Loft(x)
	h = s.Half(side, 0)
	to = h.Length()
	if p.kind == partTurn {
		to = h.CurveEnd()
	}
	if p.wall || p.kind == partPlain {
		from = h.Wall()
	}
	return h, from, to
}

// upright returns the wall of a side: from the glue plane down to the edge of
// the curve. The break of a headstock's face must not crease the sides: their
// faces are cut along it.
func (p *part) upright(side neck.Side) *brep.Patch {
	foot := p.backs[side].Column(false)
	top := make([]mesh.Vec, len(foot.Points))
	for i, p := range foot.Points {
		top[i] = mesh.Vec{X: p.X, Y: p.Y}
	}
	return brep.Ruled(foot.Basis, top, foot.Points)
}

// bottom returns the level bottom between the curves of both sides.
func (p *part) bottom() *brep.Patch {
	minus, plus := p.backs[neck.MinusY].Column(true), p.backs[neck.PlusY].Column(true)
	return brep.Ruled(minus.Basis, minus.Points, plus.Points)
}

// layOutline makes the line of the walls.
func (p *part) layOutline() {
	for _, side := range sides {
		edge := p.backs[side].Column(false)
		p.outline[side] = &brep.Spline{Basis: edge.Basis}
		for _, q := range edge.Points {
			q.Z = 0
			p.outline[side].Points = append(p.outline[side].Points, q)
		}
	}
}
