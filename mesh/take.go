package mesh

import (
	"errors"
	"slices"
)

var errNothingLeft = errors.New("nothing would be left")

// plan works out how a cutter is taken out of the solid, and changes nothing.
// boxes hold the cutter, each a part of it.
func (p *patchwork) plan(cutter *Mesh, boxes []box) (*cut, error) {
	tool, err := newPatchwork(cutter)
	if err != nil {
		return nil, err
	}
	c := newCut(p, tool, boxes)
	if err := c.findCurves(boxes); err != nil {
		return nil, err
	}
	return c, c.refillRegions()
}

// newCut returns the cut of one solid by another, which boxes hold.
func newCut(base, tool *patchwork, boxes []box) *cut {
	c := &cut{side: [2]*patchwork{base, tool}, apart: map[[2]int32]bool{}}
	c.node[1] = uint32(len(base.v))
	c.node[2] = c.node[1] + uint32(len(tool.v))
	for i := range base.box {
		if !base.dead[i] && meetsAny(&base.box[i], boxes) {
			c.faces[0] = append(c.faces[0], int32(i))
		}
	}
	for i := range tool.f {
		c.faces[1] = append(c.faces[1], int32(i))
	}
	return c
}

// findCurves finds where the surfaces cross, and what of each lies inside the
// other.
func (c *cut) findCurves(boxes []box) error {
	base, tool := c.side[0], c.side[1]
	if err := c.findCrossings(newBVH(&Mesh{Vertices: tool.v, Faces: tool.f})); err != nil {
		return err
	}
	if err := c.sortCrossings(); err != nil {
		return err
	}
	if err := c.findInside(0, boxes); err != nil {
		return err
	}
	return c.findInside(1, []box{base.bounds()})
}

func meetsAny(b *box, boxes []box) bool {
	for i := range boxes {
		if b.meets(&boxes[i]) {
			return true
		}
	}
	return false
}

// refillRegions refills all regions. A flat one whose border touches itself is
// cut face by face instead.
func (c *cut) refillRegions() error {
	c.after = make([]int32, int(c.node[2])+len(c.crossings))
	for {
		c.findRegions(0)
		c.findRegions(1)
		again := !c.dropStraight()
		c.in, c.ref, c.made = c.in[:0], c.ref[:0], c.made[:0]
		for o := range 2 {
			for i := range c.regions[o] {
				if again {
					break
				}
				r := &c.regions[o][i]
				err := c.refill(o, r)
				if err == nil {
					continue
				}
				if len(r.faces) == 1 || !c.cutApart(o, r) {
					return err
				}
				again = true
			}
		}
		if !again {
			return nil
		}
	}
}

// commit puts the new faces in the place of the old and cleans them. The result
// is not validated; after an error the solid is spoilt, unless it says that
// nothing would be left.
func (c *cut) commit() error {
	base, tool := c.side[0], c.side[1]
	var out []int32
	for i := range c.regions[0] {
		out = append(out, c.regions[0][i].faces...)
	}
	for _, f := range c.faces[0] {
		if c.regionOf[0][f] == 0 && c.inside[0][base.f[f][0]] {
			out = append(out, f)
		}
	}
	for _, f := range c.faces[1] {
		if t := tool.f[f]; c.regionOf[1][f] == 0 && c.inside[1][t[0]] {
			a, b, d := tool.corners(f)
			n := b.Sub(a).Cross(d.Sub(a))
			c.in = append(c.in, Face{c.node[1] + t[0], c.node[1] + t[2], c.node[1] + t[1]})
			c.ref = append(c.ref, n.Scale(-1/n.Norm()))
			c.made = append(c.made, true)
		}
	}
	if len(c.in) == 0 && len(out) > 0 && len(out) == base.count() {
		return errNothingLeft
	}
	slices.Sort(out)
	base.v = append(base.v, tool.v...)
	for i := range c.crossings {
		base.v = append(base.v, c.crossings[i].at.Settle())
	}
	if err := base.replace(out, c.in, c.ref, c.made); err != nil {
		return err
	}
	base.clean(c.node[1], c.node[2])
	copy(base.look[base.first:], base.ref) // some faces were turned
	return nil
}
