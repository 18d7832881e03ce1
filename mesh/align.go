package mesh

import "slices"

// Two planes square to an axis, all but one, leave slivers between them that nothing
// mends while each plane stays where it is.

// align moves the plane at one end of a short side of a face, which runs along an
// axis, to that at the other, and draws together what then coincides. It changes
// nothing where that does not come out sound.
func (c *polisher) align(f int32) bool {
	for s := 3 * f; s < 3*f+3; s++ {
		a, b := c.v[c.org(s)], c.v[c.dest(s)]
		d := b.Sub(a)
		for axis := range 3 {
			by := d.along(axis)
			if by == 0 || d.drop(axis) != (Vec2{}) || max(by, -by) > c.loose {
				continue
			}
			if c.shift(axis, a.along(axis), b.along(axis)) {
				return true
			}
		}
	}
	return false
}

// along returns a coordinate.
func (v Vec) along(axis int) float64 { return *v.coordinate(axis) }

// coordinate returns where a coordinate stands.
func (v *Vec) coordinate(axis int) *float64 { return [3]*float64{&v.X, &v.Y, &v.Z}[axis] }

// shift moves all corners at one place along an axis to another.
func (c *polisher) shift(axis int, from, to float64) bool {
	var d Vec
	*d.coordinate(axis) = to - from
	var touched []int32
	for f := range c.f {
		if c.dead[f] {
			continue
		}
		moved := 0
		for _, v := range c.f[f] {
			if c.v[v].along(axis) == from {
				moved++
			}
		}
		if moved == 0 {
			continue
		}
		if by := max(c.ref[f].Dot(d), -c.ref[f].Dot(d)); by+c.off[f] > c.limit(int32(f)) {
			return false
		}
		touched = append(touched, int32(f))
	}
	back := *c.patchwork
	back.v, back.f, back.twin, back.dead = slices.Clone(c.v), slices.Clone(c.f), slices.Clone(c.twin), slices.Clone(c.dead)
	for _, f := range touched {
		for _, v := range c.f[f] {
			if p := c.v[v].coordinate(axis); *p == from {
				*p = to
			}
		}
	}
	if !c.gather(touched) {
		c.v, c.f, c.twin, c.dead = back.v, back.f, back.twin, back.dead
		return false
	}
	for _, f := range touched {
		c.off[f] += max(c.ref[f].Dot(d), -c.ref[f].Dot(d))
		c.box[f] = triangleBox(c.corners(f))
	}
	return true
}

// gather draws the sides of no length of some faces together, and reports whether all
// of the faces are sound then.
func (c *polisher) gather(faces []int32) bool {
	for _, f := range faces {
		for s := 3 * f; s < 3*f+3 && !c.dead[f]; s++ {
			if c.v[c.org(s)] != c.v[c.dest(s)] {
				continue
			}
			ring := c.ring(s)
			if len(ring) < 3 || len(ring) > 1000 || c.commonNeighbours(s, ring) != 2 {
				return false
			}
			c.unite(s, ring)
		}
	}
	for _, f := range faces {
		if a, b, d := c.corners(f); !c.dead[f] && altitude(a, b, d, c.ref[f]) < flatGap {
			return false
		}
	}
	return true
}
