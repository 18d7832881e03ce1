package brep

import "neckloft/mesh"

// course is where a face of one side crosses one of the other: from a vertex to
// another, or closed.
type course struct {
	faces    [2]int // of both sides
	from, to *Vertex
	points   []mesh.Vec // about; of a closed one the first comes last again
	edge     *Edge
}

// follow finds the chains, and their curves.
func (c *cutting) follow() error {
	seen := make([]bool, len(c.x.List))
	for i := range c.x.List {
		if seen[i] {
			continue
		}
		var ring []int
		start := -1
		for k := i; !seen[k]; k = c.x.List[k].Next {
			seen[k] = true
			if start < 0 && c.at[k] != nil {
				start = len(ring)
			}
			ring = append(ring, k)
		}
		if start > 0 {
			ring = append(ring[start:], ring[:start]...)
		}
		if err := c.addChains(append(ring, ring[0])); err != nil {
			return err
		}
	}
	// Chains that are nothing first: they join vertices.
	kept := c.chains[:0]
	for _, ch := range c.chains {
		if ch.from != nil && ch.nothing() {
			c.join(ch.from, ch.to)
			continue
		}
		kept = append(kept, ch)
	}
	c.chains = kept
	for _, ch := range c.chains {
		if ch.from != nil {
			ch.from, ch.to = c.one(ch.from), c.one(ch.to)
		}
		if err := c.trace(ch); err != nil {
			return err
		}
	}
	return nil
}

// nothing reports whether a chain has no length.
func (ch *course) nothing() bool {
	if ch.from.At.Sub(ch.to.At).Norm() > merge {
		return false
	}
	for _, p := range ch.points[1 : len(ch.points)-1] {
		if p.Sub(ch.from.At).Norm() > 0.01 {
			return false
		}
	}
	return true
}

// addChains cuts a ring of crossings, the first of which comes last again, into
// chains.
func (c *cutting) addChains(ring []int) error {
	tags := func(k int) [2]int {
		f := c.x.List[k].Faces
		return [2]int{c.skins[0].tag[f[0]], c.skins[1].tag[f[1]]}
	}
	ch := &course{faces: tags(ring[0]), from: c.at[ring[0]], points: []mesh.Vec{c.x.List[ring[0]].At}}
	for i := 1; i < len(ring); i++ {
		k := ring[i]
		ch.points = append(ch.points, c.x.List[k].At)
		v := c.at[k]
		if v != nil || i == len(ring)-1 {
			ch.to = v
			c.chains = append(c.chains, ch)
			ch = &course{faces: tags(k), from: v, points: []mesh.Vec{c.x.List[k].At}}
			continue
		}
		if tags(k) != ch.faces {
			return touchAt(c.x.List[k].At)
		}
	}
	return nil
}
