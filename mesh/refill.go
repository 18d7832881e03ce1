package mesh

import (
	"errors"
	"slices"
)

// border is a directed piece of the border of what is kept of a region.
type border struct{ from, to uint32 }

var errBorder = errors.New("the border of a flat region touches itself")

// refill adds what is kept of one region. It returns an error if the border of
// that makes no polygons.
func (c *cut) refill(o int, t *region) error {
	pieces, err := c.borders(o, t)
	if err != nil {
		return err
	}
	loops, err := c.chain(pieces)
	if err != nil {
		return err
	}
	// What is triangulated is what is kept, rounded to float32. Where points
	// come so close that this makes their loops cross they are taken as they
	// were; the faces that rounding then turns over are mended later.
	first := len(c.in)
	err = c.fillLoops(o, t, loops, func(i uint32) Vec { return c.at(i).Round() })
	if err != nil {
		c.in, c.ref, c.made = c.in[:first], c.ref[:first], c.made[:first]
		err = c.fillLoops(o, t, loops, c.at)
	}
	return err
}

// at returns where a node lies, before rounding.
func (c *cut) at(i uint32) Vec {
	switch {
	case i >= c.node[2]:
		return c.crossings[i-c.node[2]].at
	case i >= c.node[1]:
		return c.side[1].v[i-c.node[1]]
	}
	return c.side[0].v[i]
}

// borders collects the pieces: of the region's own border what lies outside
// the cutter, or within the base, and the curve.
func (c *cut) borders(o int, t *region) ([]border, error) {
	own := c.side[o]
	var out []border
	for _, f := range t.faces {
		for s := 3 * f; s < 3*f+3; s++ {
			if c.regionOf[o][own.twin[s]/3] == c.regionOf[o][f] {
				continue
			}
			at, end := own.org(s), own.dest(s)
			kept := c.inside[o][at] == (o == 1)
			last := c.inside[o][end] == (o == 1)
			at, end = at+c.node[o], end+c.node[o]
			e := own.edge(s)
			on := c.along(o, e)
			for k := range on {
				i := on[k]
				if e != s {
					i = on[len(on)-1-k]
				}
				next := c.node[2] + uint32(i)
				if (c.crossings[i].enters == (e == s)) == (kept == (o == 1)) {
					return nil, c.aligned(c.crossings[i].at)
				}
				if kept {
					out = append(out, border{at, next})
				}
				kept, at = !kept, next
			}
			if kept {
				out = append(out, border{at, end})
			}
			if kept != last {
				return nil, c.aligned(own.v[own.org(s)])
			}
		}
	}
	for _, i := range t.starts {
		out = append(out, border{c.node[2] + uint32(i), c.node[2] + uint32(c.crossings[i].to)})
	}
	return out, nil
}

// chain links the pieces to loops of nodes.
func (c *cut) chain(pieces []border) ([][]uint32, error) {
	for i, p := range pieces {
		if c.after[p.from] != 0 {
			clearAfter(c.after, pieces)
			return nil, errBorder
		}
		c.after[p.from] = int32(i + 1)
	}
	var loops [][]uint32
	for _, p := range pieces {
		var loop []uint32
		for i := c.after[p.from]; i != 0; i = c.after[p.from] {
			loop = append(loop, p.from)
			c.after[p.from] = 0
			p = pieces[i-1]
			p.from = p.to
		}
		if len(loop) == 0 {
			continue
		}
		if p.from != loop[0] || len(loop) < 3 {
			clearAfter(c.after, pieces)
			return nil, errBorder
		}
		loops = append(loops, loop)
	}
	return loops, nil
}

func clearAfter(after []int32, pieces []border) {
	for _, p := range pieces {
		after[p.from] = 0
	}
}

// fillLoops triangulates the loops, with points as given, seen from outside the
// region: those that turn left bound an area, the others a hole in one.
func (c *cut) fillLoops(o int, t *region, loops [][]uint32, at func(uint32) Vec) error {
	flat := make([][]Vec2, len(loops))
	var outer, holes []int
	for i, loop := range loops {
		for _, n := range loop {
			flat[i] = append(flat[i], t.flat(at(n)))
		}
		if Area2(flat[i]) > 0 {
			outer = append(outer, i)
		} else {
			holes = append(holes, i)
		}
	}
	within := make([][]int, len(loops)) // the holes of an outer loop
	for _, h := range holes {
		best := -1
		for _, i := range outer {
			if (len(outer) == 1 || insideLoop(flat[h][0], flat[i])) &&
				(best < 0 || Area2(flat[i]) < Area2(flat[best])) {
				best = i
			}
		}
		if best < 0 {
			return errBorder
		}
		within[best] = append(within[best], h)
	}
	for _, i := range outer {
		nodes := slices.Clone(loops[i])
		var inner [][]Vec2
		for _, h := range within[i] {
			nodes = append(nodes, loops[h]...)
			inner = append(inner, flat[h])
		}
		triangles, err := triangulateLoops(flat[i], inner)
		if err != nil {
			return err
		}
		for _, f := range triangles {
			c.add(o, t, Face{nodes[f[0]], nodes[f[1]], nodes[f[2]]})
		}
	}
	return nil
}

// add adds a face seen from outside its region; the cutter's look the other
// way in what it leaves.
func (c *cut) add(o int, t *region, f Face) {
	n := t.normal
	if o == 1 {
		f[1], f[2] = f[2], f[1]
		n = n.Scale(-1)
	}
	c.in, c.ref, c.made = append(c.in, f), append(c.ref, n), append(c.made, o == 1)
}

// triangulateLoops is Triangulate with a short way for a triangle.
func triangulateLoops(outer []Vec2, holes [][]Vec2) ([][3]int, error) {
	if len(outer) == 3 && len(holes) == 0 && orient2d(outer[0], outer[1], outer[2]) > 0 {
		return [][3]int{{0, 1, 2}}, nil
	}
	return Triangulate(outer, holes...)
}

// insideLoop reports whether p, which does not lie on the loop, is inside it.
func insideLoop(p Vec2, loop []Vec2) bool {
	in := false
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		if (a.Y > p.Y) == (b.Y > p.Y) {
			continue
		}
		if (orient2d(a, b, p) > 0) == (b.Y > a.Y) {
			in = !in
		}
	}
	return in
}
