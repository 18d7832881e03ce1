package mesh

import (
	"cmp"
	"math"
	"slices"
)

// flatWithin is how far the corners of a flat region may lie from its plane.
// It covers the rounding to float32 of a tilted plane some hundred long.
const flatWithin = 1e-4

// region is a part of a surface that is cut as one piece: a face, or the faces
// around it that lie in its plane.
type region struct {
	faces  []int32
	normal Vec
	axis   int  // along which it is seen, as by Vec.drop
	mirror bool // the normal points down that axis
	starts []int32
}

// findRegions divides the faces that cross the other solid, and what lies in
// one plane with them, into regions. The largest faces come first: their
// planes are known best.
func (c *cut) findRegions(o int) {
	own := c.side[o]
	c.regionOf[o] = make([]int32, len(own.f))
	c.regions[o] = nil
	var touched []int32
	for i := range c.crossings {
		touched = append(touched, c.crossings[i].faces[o])
	}
	slices.Sort(touched)
	touched = slices.Compact(touched)
	area := func(f int32) float64 {
		a, b, d := own.corners(f)
		return b.Sub(a).Cross(d.Sub(a)).Norm()
	}
	slices.SortStableFunc(touched, func(f, g int32) int { return cmp.Compare(area(g), area(f)) })
	for _, f := range touched {
		if c.regionOf[o][f] == 0 {
			c.growRegion(o, f)
		}
	}
}

func (c *cut) growRegion(o int, f int32) {
	own := c.side[o]
	a, b, d := own.corners(f)
	r := region{faces: []int32{f}, normal: b.Sub(a).Cross(d.Sub(a)), axis: flatAxis(a, b, d)}
	if n := r.normal.Norm(); n > 0 {
		r.normal = r.normal.Scale(1 / n)
	}
	r.mirror = orient2d(a.drop(r.axis), b.drop(r.axis), d.drop(r.axis)) < 0
	number := int32(len(c.regions[o]) + 1)
	c.regionOf[o][f] = number
	if !c.apart[[2]int32{int32(o), f}] {
		for i := 0; i < len(r.faces); i++ {
			for s := 3 * r.faces[i]; s < 3*r.faces[i]+3; s++ {
				g := own.twin[s] / 3
				if c.regionOf[o][g] == 0 && !c.apart[[2]int32{int32(o), g}] && r.holds(own, g, a) {
					c.regionOf[o][g] = number
					r.faces = append(r.faces, g)
				}
			}
		}
	}
	c.regions[o] = append(c.regions[o], r)
}

// holds reports whether a face lies in the region's plane through a and faces
// the same way.
func (r *region) holds(own *patchwork, f int32, a Vec) bool {
	p, q, t := own.corners(f)
	for _, v := range [3]Vec{p, q, t} {
		if math.Abs(r.normal.Dot(v.Sub(a))) > flatWithin {
			return false
		}
	}
	return orient2d(r.flat(p), r.flat(q), r.flat(t)) > 0
}

// flat returns a point as seen from outside the region.
func (r *region) flat(v Vec) Vec2 {
	p := v.drop(r.axis)
	if r.mirror {
		return Vec2{p.Y, p.X}
	}
	return p
}

// dropStraight passes over the crossings that lie on edges within a region:
// the curve runs straight on there, and the edge goes. It reports false when
// nothing but one crossing would be left of a curve; the faces along it are
// then to be cut one by one.
func (c *cut) dropStraight() bool {
	for i := range c.crossings {
		x := &c.crossings[i]
		own := c.side[x.owner]
		x.gone = c.regionOf[x.owner][x.edge/3] == c.regionOf[x.owner][own.twin[x.edge]/3]
	}
	passed := make([]bool, len(c.crossings))
	for i := range c.crossings {
		x := &c.crossings[i]
		if x.gone {
			continue
		}
		passed[i] = true
		for x.to = x.next; c.crossings[x.to].gone; x.to = c.crossings[x.to].next {
			passed[x.to] = true
		}
		passed[i] = x.to != int32(i)
		for o := range 2 {
			r := c.regionAt(o, x.faces[o])
			r.starts = append(r.starts, int32(i))
		}
	}
	ok := true
	for i := range passed {
		if !passed[i] {
			ok = false
			c.cutApart(0, c.regionAt(0, c.crossings[i].faces[0]))
			c.cutApart(1, c.regionAt(1, c.crossings[i].faces[1]))
		}
	}
	return ok
}

func (c *cut) regionAt(o int, f int32) *region {
	return &c.regions[o][c.regionOf[o][f]-1]
}

// cutApart has the faces of a region cut one by one. It reports false if they
// are already.
func (c *cut) cutApart(o int, r *region) bool {
	news := false
	for _, g := range r.faces {
		key := [2]int32{int32(o), g}
		news = news || !c.apart[key]
		c.apart[key] = true
	}
	return news
}
