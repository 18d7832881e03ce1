package neck

import (
	"cmp"
	"math"
	"slices"

	"neckloft/neck/numeric"
)

// HalfSection is one side of a section by the length along it: down the wall
// from a height, around the curve, and along the level bottom to the line in the
// middle of it, where the section has one. The length runs evenly along the
// curve, to a ten thousandth, whatever the fullness; each point lies exactly on
// the section. So its points at even parts of the length form smooth lines along
// the neck, which points of even normals do not where the fullness changes.
type HalfSection struct {
	s     *Section
	side  Side
	nodes []halfNode
	start YZ      // the upper end of the wall
	wall  float64 // its length
	end   YZ
}

// halfNode is a place on the curve.
type halfNode struct {
	d        Direction
	phi      float64 // of d, below the horizontal
	along    float64 // of the profile: the part of its height that the ray of the point has, over both
	short    float64 // 1 - along
	at       YZ
	length   float64 // from the start to here
	straight bool    // the way here from the node before is straight
}

// halfNodes is the number of steps by the normal's angle, and of those by the
// place on the profile, that a curve is cut into.
const halfNodes = 24

// Half returns one side of the section, its wall from the height top on.
func (s *Section) Half(side Side, top float64) *HalfSection {
	h := &HalfSection{s: s, side: side}
	h.layNodes()
	first := h.nodes[0].at
	h.start = YZ{first.Y, top}
	h.wall = top - first.Z
	f0, f1 := s.Flat()
	last := h.nodes[len(h.nodes)-1].at
	h.end = YZ{(f0 + f1) / 2, last.Z}
	h.nodes[0].length = h.wall
	for i := 1; i < len(h.nodes); i++ {
		a, b := &h.nodes[i-1], &h.nodes[i]
		b.length = a.length + arc(a, b.d, b.at, b.straight)
	}
	return h
}

// layNodes places the nodes.
func (h *HalfSection) layNodes() {
	s := h.s
	c := &s.curve[h.side]
	for i := range halfNodes + 1 {
		part := float64(i) / halfNodes
		d := AngleDirection(math.Pi / 2 * part)
		h.nodes = append(h.nodes, c.node(d))
		if s.blend < 1 && i > 0 && i < halfNodes {
			n := halfNode{along: part, short: 1 - part}
			n.d = c.onRay(n.along, n.short)
			n.phi = math.Atan2(n.d.sin, n.d.cos)
			h.nodes = append(h.nodes, n)
		}
	}
	leans := false
	if _, _, ok := s.leaningSide(h.side); ok {
		h.nodes, leans = append(h.nodes, c.node(s.lean.side)), true
	}
	slices.SortStableFunc(h.nodes, func(a, b halfNode) int { return cmp.Compare(a.d.u, b.d.u) })
	for i := range h.nodes {
		h.nodes[i].at = s.PointAlong(h.side, h.nodes[i].d)
	}
	if leans {
		h.nodes = s.withStraight(h.nodes, h.side)
	}
}

// withStraight puts the upper end of a leaning side before its lower one.
func (s *Section) withStraight(nodes []halfNode, side Side) []halfNode {
	upper, _, _ := s.leaningSide(side)
	i := slices.IndexFunc(nodes, func(n halfNode) bool { return n.d.u >= s.lean.side.u })
	first := nodes[i]
	first.at = upper
	nodes[i].straight = true
	return slices.Insert(nodes, i, first)
}

// node returns the node of a normal, without its point.
func (c *Quarter) node(d Direction) halfNode {
	n := halfNode{d: d, phi: math.Atan2(d.sin, d.cos)}
	lq := (d.u + c.logBA) * c.k // the logarithm of z/b : y/a
	n.along, n.short = 1/(1+numeric.Exp(-lq)), 1/(1+numeric.Exp(lq))
	return n
}

// onRay returns the normal of the profile's point where z/b and y/a are as along
// to short.
func (c *Quarter) onRay(along, short float64) Direction {
	switch {
	case along <= 0:
		return level
	case short <= 0:
		return plumb
	}
	return DirectionOf(c.normalAt(numeric.Log(along / short)))
}

// arc returns the length from a node to a point with its normal, by the circle
// that turns as far.
func arc(a *halfNode, d Direction, at YZ, straight bool) float64 {
	chord := math.Hypot(at.Y-a.at.Y, at.Z-a.at.Z)
	if straight {
		return chord
	}
	turn := math.Asin(numeric.Clamp(a.d.cos*d.sin-a.d.sin*d.cos, -1, 1))
	t2 := turn * turn
	return chord * (1 + t2/24*(1+7*t2/240))
}

// Length returns the length of the half.
func (h *HalfSection) Length() float64 { return h.CurveEnd() + h.flat() }

// CurveEnd returns the length at which the level bottom begins.
func (h *HalfSection) CurveEnd() float64 { return h.nodes[len(h.nodes)-1].length }

// Wall returns the length of the wall.
func (h *HalfSection) Wall() float64 { return h.wall }

func (h *HalfSection) flat() float64 {
	return math.Abs(h.end.Y - h.nodes[len(h.nodes)-1].at.Y)
}

// Points returns the points at rising lengths from the start.
func (h *HalfSection) Points(lengths []float64) []YZ {
	out := make([]YZ, len(lengths))
	i := 1
	last := &h.nodes[len(h.nodes)-1]
	for k, l := range lengths {
		switch {
		case l <= h.wall:
			out[k] = YZ{h.start.Y, h.start.Z - math.Max(l, 0)}
			if l == h.wall {
				out[k] = h.nodes[0].at
			}
			continue
		case l >= last.length:
			out[k] = h.end
			if f := h.flat(); f > 0 {
				out[k].Y = numeric.Lerp(last.at.Y, h.end.Y, math.Min(1, (l-last.length)/f))
			}
			continue
		}
		for h.nodes[i].length < l {
			i++
		}
		out[k] = h.between(&h.nodes[i-1], &h.nodes[i], l)
	}
	return out
}

// between returns the point at a length between two nodes.
func (h *HalfSection) between(a, b *halfNode, l float64) YZ {
	want := l - a.length
	whole := b.length - a.length
	if b.straight {
		k := want / whole
		return YZ{numeric.Lerp(a.at.Y, b.at.Y, k), numeric.Lerp(a.at.Z, b.at.Z, k)}
	}
	// By the place on the profile, or by the angle where the block's corner has
	// more of the way.
	c := &h.s.curve[h.side]
	profile := (1 - h.s.blend) * math.Hypot(c.a, c.b) * math.Min(math.Abs(b.along-a.along), math.Abs(b.short-a.short))
	byAngle := h.s.blend*h.s.corner*(b.phi-a.phi) > profile
	at := func(k float64) (Direction, YZ) {
		var d Direction
		if byAngle {
			d = AngleDirection(numeric.Lerp(a.phi, b.phi, k))
		} else {
			d = c.onRay(numeric.Lerp(a.along, b.along, k), numeric.Lerp(a.short, b.short, k))
		}
		return d, h.s.PointAlong(h.side, d)
	}
	miss := func(k float64) float64 {
		d, p := at(k)
		return arc(a, d, p, false) - want
	}
	_, p := at(numeric.Crossing(miss, 0, 1, -want, whole-want))
	return p
}

// Corner returns the lengths at which the curve begins, below the wall and what
// leans straight below it, and where it ends in the level bottom.
func (h *HalfSection) Corner() (from, to float64) {
	from = h.wall
	for i := range h.nodes {
		if h.nodes[i].straight {
			from = h.nodes[i].length
		}
	}
	return from, h.CurveEnd()
}
