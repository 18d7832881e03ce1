package mesh

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
)

// cut takes one cutter out of a base. It follows the curves in which the two
// surfaces cross: each crossing of an edge of one with a face of the other is
// one point, each pair of faces that cross one piece of a curve.
type cut struct {
	side      [2]*patchwork // 0 the base, 1 the cutter
	faces     [2][]int32    // those that may meet the other solid
	crossings []piercing
	order     [2][]int32 // crossings by edge, along it
	on        [2][]int32 // by edge, 1 + where its crossings begin in order
	regionOf  [2][]int32 // by face, 1 + its region, 0 for none
	regions   [2][]region
	inside    [2][]bool         // corners of faces that may meet the other solid, within it
	apart     map[[2]int32]bool // faces that are cut one by one: solid, face

	// Corners of the base, of the cutter, and crossings are nodes, one after
	// another; node has the first of each.
	node  [3]uint32
	after []int32 // by node, 1 + index of the piece of border that starts there
	in    []Face  // the faces that come in, of nodes, and the normals of their regions
	ref   []Vec
	made  []bool // which of them the cutter makes
}

// piercing is where an edge of one solid runs through a face of the other.
type piercing struct {
	owner  int   // the solid of the edge
	edge   int32 // its lower side
	face   int32 // of the other solid
	enters bool  // whether the lower side runs into the other solid here
	along  float64
	at     Vec // not rounded

	// The curve goes on from here to next, between a face of each solid.
	next  int32
	faces [2]int32

	gone bool  // on a straight stretch of the curve, within a flat region
	to   int32 // the next that is not gone
}

// errAligned says that the solids lie so that what they cut cannot be told
// from rounding.
var errAligned = errors.New("the surfaces touch or run along each other")

func stepOf(owner int) step {
	if owner == 0 {
		return stepBase
	}
	return stepCutter
}

// findCrossings fills in the crossings and links them to curves. tree holds
// the faces of the cutter.
func (c *cut) findCrossings(tree *bvh) error {
	var known [2]map[uint64]int32
	known[0], known[1] = map[uint64]int32{}, map[uint64]int32{}
	var near []int32
	for _, f := range c.faces[0] {
		near = tree.query(&c.side[0].box[f], near[:0])
		slices.Sort(near)
		for _, g := range near {
			if err := c.cross(f, g, &known); err != nil {
				return err
			}
		}
	}
	for i := range c.crossings {
		if x := &c.crossings[i]; x.next < 0 {
			return c.aligned(x.at)
		}
	}
	return nil
}

func (c *cut) aligned(at Vec) error {
	return fmt.Errorf("%w near (%.3f, %.3f, %.3f)", errAligned, at.X, at.Y, at.Z)
}

// cross finds the piece of the curve in a pair of faces.
func (c *cut) cross(f, g int32, known *[2]map[uint64]int32) error {
	pair := [2]int32{f, g}
	var sides [2][3]int // of the corners of each face, by the plane of the other
	for o := range 2 {
		own, other := c.side[o], c.side[1-o]
		a, b, d := other.corners(pair[1-o])
		p, q, r := own.corners(pair[o])
		s := stepOf(o)
		sides[o] = [3]int{s.planeSide(a, b, d, p), s.planeSide(a, b, d, q), s.planeSide(a, b, d, r)}
		if sides[o][0] == sides[o][1] && sides[o][1] == sides[o][2] {
			return nil
		}
	}
	from, to := int32(-1), int32(-1)
	found := 0
	for o := range 2 {
		for k := range 3 {
			sp, sq := sides[o][k], sides[o][(k+1)%3]
			if sp == sq {
				continue
			}
			s := 3*pair[o] + int32(k)
			i := c.pierce(o, s, pair[1-o], sp, sq, known)
			if i < 0 {
				continue
			}
			found++
			// The curve leaves the border of what is kept of this face where
			// the border, along the face, leaves what is kept: into the
			// cutter from the base, out of the base from the cutter.
			if (sp > 0) == (o == 0) {
				from = i
			} else {
				to = i
			}
		}
	}
	if found == 0 {
		return nil
	}
	if found != 2 || from < 0 || to < 0 || c.crossings[from].next >= 0 {
		a, _, _ := c.side[1].corners(g)
		return c.aligned(a)
	}
	x := &c.crossings[from]
	x.next, x.faces = to, pair
	return nil
}

// pierce returns the crossing of a side of solid o and a face of the other, -1
// if there is none.
func (c *cut) pierce(o int, s, face int32, sp, sq int, known *[2]map[uint64]int32) int32 {
	own := c.side[o]
	e := own.edge(s)
	key := uint64(e)<<32 | uint64(face)
	if i, ok := known[o][key]; ok {
		return i
	}
	p, q := own.v[own.org(s)], own.v[own.dest(s)]
	if e != s {
		p, q, sp, sq = q, p, sq, sp
	}
	a, b, d := c.side[1-o].corners(face)
	i := int32(-1)
	if stepOf(o).pierces(p, q, sp, sq, a, b, d) {
		i = int32(len(c.crossings))
		t, at := piercePoint(p, q, a, b, d)
		c.crossings = append(c.crossings, piercing{
			owner: o, edge: e, face: face, enters: sp > 0, along: t, at: at, next: -1,
		})
		known[o][key] = i
	}
	return i
}

// piercePoint returns about where the edge p q meets the plane of a b c, and
// how far along. A coordinate that all corners of the face share, or both ends
// of the edge, is kept as it is.
func piercePoint(p, q, a, b, c Vec) (t float64, at Vec) {
	n := b.Sub(a).Cross(c.Sub(a))
	hp, hq := n.Dot(p.Sub(a)), n.Dot(q.Sub(a))
	t = 0.5
	if hp != hq {
		t = min(max(hp/(hp-hq), 0), 1)
	}
	at = p.Add(q.Sub(p).Scale(t))
	keep := func(x *float64, p, q, a, b, c float64) {
		if a == b && b == c {
			*x = a
		} else if p == q {
			*x = p
		}
	}
	keep(&at.X, p.X, q.X, a.X, b.X, c.X)
	keep(&at.Y, p.Y, q.Y, a.Y, b.Y, c.Y)
	keep(&at.Z, p.Z, q.Z, a.Z, b.Z, c.Z)
	return t, at
}

// sortCrossings lists the crossings along each edge in order. Along an edge
// the ways in and out take turns; two that lie within rounding of each other
// are put in that order.
func (c *cut) sortCrossings() error {
	for o := range 2 {
		c.on[o] = make([]int32, 3*len(c.side[o].f))
		var order []int32
		for i := range c.crossings {
			if c.crossings[i].owner == o {
				order = append(order, int32(i))
			}
		}
		slices.SortFunc(order, func(i, j int32) int {
			x, y := &c.crossings[i], &c.crossings[j]
			return cmp.Or(cmp.Compare(x.edge, y.edge), cmp.Compare(x.along, y.along), cmp.Compare(i, j))
		})
		c.order[o] = order
		for i, k := range order {
			e := c.crossings[k].edge
			if c.on[o][e] != 0 {
				continue
			}
			c.on[o][e] = int32(i + 1)
			if err := c.alternate(c.along(o, e)); err != nil {
				return err
			}
		}
	}
	return nil
}

// along returns the crossings of an edge, in order from its lower side's start.
func (c *cut) along(o int, edge int32) []int32 {
	first := c.on[o][edge]
	if first == 0 {
		return nil
	}
	list := c.order[o][first-1:]
	for i, k := range list {
		if c.crossings[k].edge != edge {
			return list[:i]
		}
	}
	return list
}

func (c *cut) alternate(list []int32) error {
	const close = 1e-9
	for k := 1; k < len(list); k++ {
		before, x := &c.crossings[list[k-1]], &c.crossings[list[k]]
		if x.enters != before.enters {
			continue
		}
		if k+1 < len(list) {
			if y := &c.crossings[list[k+1]]; y.enters != before.enters && y.along-x.along < close {
				list[k], list[k+1] = list[k+1], list[k]
				continue
			}
		}
		return c.aligned(x.at)
	}
	return nil
}

// query appends to out the faces whose boxes meet b.
func (t *bvh) query(b *box, out []int32) []int32 {
	if len(t.items) == 0 {
		return out
	}
	var room [bvhDepth + 1]int32
	stack := append(room[:0], 0)
	for len(stack) > 0 {
		i := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		node := &t.nodes[i]
		if !node.box.meets(b) {
			continue
		}
		if node.count == 0 {
			stack = append(stack, i+1, node.first)
			continue
		}
		for k := node.first; k < node.first+node.count; k++ {
			if item := &t.items[k]; item.box.meets(b) {
				out = append(out, item.face)
			}
		}
	}
	return out
}
