package mesh

import (
	"math"
	"slices"
)

// What tidy leaves are slivers that it cannot mend without moving the surface: short
// edges across a bend, and caps, whose one corner lies next to the edge across from
// it. polish moves the surface, by no more than it may.

const (
	// polishLow is the height below which a triangle is a sliver, and polishShort the
	// length below which one of its edges may be drawn together.
	polishLow   = 5e-3
	polishShort = 2e-2

	// polishBent is the cosine of the angle by which a face may turn on the way.
	polishBent = 0.9
)

// polisher mends slivers.
type polisher struct {
	cleaner
	within float64   // how far the surface may come off what it was
	loose  float64   // how far where a cutter made it
	off    []float64 // by face, how far it has at most
	found  int       // slivers at first
	added  int       // corners
}

// polish mends what slivers it can while no face comes off the surface as it was by
// more than the cutting allows, and reports whether it changed anything. Faces in planes
// square to an axis stay in them to the last bit. It follows on tidy, whose normals it
// takes.
func (p *patchwork) polish(by Cutting) bool {
	c := &polisher{cleaner: cleaner{patchwork: p}, within: by.Within, loose: max(by.Within, by.WithinCuts)}
	if by.Within <= 0 {
		return false
	}
	slivers := c.slivers(nil)
	if len(slivers) == 0 {
		return false
	}
	c.off, c.found = make([]float64, len(p.f)), len(slivers)
	done := false
	for range 8 {
		c.touched = false
		for _, f := range slivers {
			if !p.dead[f] && c.low(f) < polishLow && c.smooth(f) {
				c.touched, done = true, true
			}
		}
		if !c.touched {
			break
		}
		slivers = c.slivers(slivers[:0])
	}
	return done
}

// slivers adds the faces that are too low.
func (c *polisher) slivers(list []int32) []int32 {
	for f := range c.f {
		if c.dead[f] {
			continue
		}
		// As low does it, without its roots.
		a, b, d := c.corners(int32(f))
		u, v, w := b.Sub(a), d.Sub(b), a.Sub(d)
		m := u.Cross(v)
		if m.Dot(m) < polishLow*polishLow*max(u.Dot(u), v.Dot(v), w.Dot(w)) {
			list = append(list, int32(f))
		}
	}
	return list
}

// polished returns the mesh without slivers and valid, or with them where it is valid
// only so.
func (p *patchwork) polished(by Cutting) (*Mesh, error) {
	rough := *p
	rough.v, rough.f, rough.dead = slices.Clone(p.v), slices.Clone(p.f), slices.Clone(p.dead)
	if p.polish(by) {
		if m := p.mesh(); m.Validate() == nil {
			return m, nil
		}
	}
	m := rough.mesh()
	return m, m.Validate()
}

// Mend returns a valid solid with its slivers mended by the cutting, or the solid itself
// where it has none lower than a height, or where they stay.
func (by Cutting) Mend(m *Mesh, least float64) *Mesh {
	for i := range m.Faces {
		a, b, c := m.Triangle(i)
		u, v, w := b.Sub(a), c.Sub(b), a.Sub(c)
		n := u.Cross(v)
		if n.Dot(n) >= least*least*max(u.Dot(u), v.Dot(v), w.Dot(w)) {
			continue
		}
		p, err := newPatchwork(m)
		if err != nil {
			return m
		}
		p.tidy()
		if better, err := p.polished(by); err == nil {
			return better
		}
		return m
	}
	return m
}

// low returns the smallest altitude of a face.
func (c *polisher) low(f int32) float64 {
	a, b, d := c.corners(f)
	return altitude(a, b, d, c.ref[f])
}

// smooth tries to mend one sliver, and reports whether it did: its short sides drawn
// together, its longest edge turned, or its apex moved onto that edge.
func (c *polisher) smooth(f int32) bool {
	long := 3 * f
	for s := 3 * f; s < 3*f+3; s++ {
		if c.length(s) > c.length(long) {
			long = s
		}
	}
	for _, s := range [2]int32{nextSide(long), prevSide(long)} {
		if c.length(s) < polishShort && (c.draw(s) || c.draw(c.twin[s])) {
			return true
		}
	}
	return c.turnOver(long) || c.slide(long) || c.align(f) || c.deepen(f)
}

func (c *polisher) length(s int32) float64 { return c.v[c.dest(s)].Sub(c.v[c.org(s)]).Norm() }

// strays returns by how much a face comes off its plane at most when a corner of it
// moves by d, +Inf where that is more than it may.
func (c *polisher) strays(f int32, d Vec) float64 {
	if p, q, r := c.corners(f); leaves(p, q, r, p.Add(d)) {
		return math.Inf(1)
	}
	by := math.Abs(c.ref[f].Dot(d))
	if by+c.off[f] > c.limit(f) {
		return math.Inf(1)
	}
	return by
}

// limit returns how far a face may come off what it was.
func (c *polisher) limit(f int32) float64 {
	if c.made[f] {
		return c.loose
	}
	return c.within
}

// mix notes that two faces have become two others, off the one or the other by so much
// more.
func (c *polisher) mix(f, g int32, by float64) {
	off, made := by+max(c.off[f], c.off[g]), c.made[f] && c.made[g]
	c.off[f], c.off[g], c.made[f], c.made[g] = off, off, made, made
}

// sound reports whether a face with its corners at a, b and d is a good one in the
// place of face f, no lower than a height.
func (c *polisher) sound(a, b, d Vec, f int32, least float64) bool {
	m := b.Sub(a).Cross(d.Sub(a))
	bent := polishBent
	if c.low(f) < polishLow {
		bent = 0.5 // float32 leaves little of the normal of a sliver
	}
	return m.Dot(c.ref[f]) > bent*m.Norm() && altitude(a, b, d, Vec{}) > least
}

// near reports whether the faces around a corner, which moves, are near enough to what
// they were, but for two that go: the corner and the middles of its edges. Off a sharp
// edge they may be farther from the faces than from their planes.
func (c *polisher) near(from, to Vec, ring []int32, but, and int32) bool {
	limit := 0.0
	for _, r := range ring {
		limit = max(limit, c.limit(r/3)-c.off[r/3])
	}
	for _, r := range ring {
		end := c.v[c.dest(r)]
		if c.fan(from.Add(end).Scale(0.5), to, ring, but, and) > limit || c.fan(to.Add(end).Scale(0.5), from, ring, -1, -1) > limit {
			return false
		}
	}
	return c.fan(from, to, ring, but, and) <= limit
}

// fan returns the distance of a place from the faces of a ring with its middle at
// another, but for two.
func (c *polisher) fan(p, middle Vec, ring []int32, but, and int32) float64 {
	least := math.Inf(1)
	for _, r := range ring {
		if r/3 != but && r/3 != and {
			d := nearestOnTriangle(p, &[3]Vec{middle, c.v[c.dest(r)], c.v[c.apex(r)]}).Sub(p)
			least = min(least, d.Dot(d))
		}
	}
	return math.Sqrt(least)
}

// draw moves the start of a side to its end, if that leaves no face lower than the
// lowest was.
func (c *polisher) draw(s int32) bool {
	u, w := c.org(s), c.dest(s)
	d := c.v[w].Sub(c.v[u])
	ring := c.ring(s)
	if len(ring) < 3 || len(ring) > 1000 || c.commonNeighbours(s, ring) != 2 {
		return false
	}
	least := math.Inf(1)
	for _, r := range ring {
		f := r / 3
		least = min(least, max(c.low(f), 0))
		if f != s/3 && f != c.twin[s]/3 && math.IsInf(c.strays(f, d), 1) {
			return false
		}
	}
	for _, r := range ring {
		f := r / 3
		if f != s/3 && f != c.twin[s]/3 && !c.sound(c.v[w], c.v[c.dest(r)], c.v[c.apex(r)], f, min(least, polishLow)/4) {
			return false
		}
	}
	if !c.near(c.v[u], c.v[w], ring, s/3, c.twin[s]/3) {
		return false
	}
	for _, r := range ring {
		c.off[r/3] += math.Abs(c.ref[r/3].Dot(d))
	}
	c.unite(s, ring)
	return true
}

// turnOver turns an edge within its two faces, where these come off the surface by no
// more than they may, and the lower of them is higher for it.
func (c *polisher) turnOver(s int32) bool {
	f, g := s/3, c.twin[s]/3
	by := c.gap(s)
	limit := min(c.limit(f), c.limit(g)) - max(c.off[f], c.off[g])
	if by > limit || !c.turnsNear(s, limit) || !c.turn(s, c.lowest) {
		return false
	}
	c.mix(f, g, by)
	return true
}

// turnsNear reports whether an edge is no farther than a limit from the two faces that
// turning it would make: where these do not lie under it, it may be farther than the gap.
func (c *polisher) turnsNear(s int32, limit float64) bool {
	a, b, d, e := c.v[c.org(s)], c.v[c.dest(s)], c.v[c.apex(s)], c.v[c.apex(c.twin[s])]
	for _, k := range [3]float64{0.25, 0.5, 0.75} {
		p := a.Add(b.Sub(a).Scale(k))
		one := nearestOnTriangle(p, &[3]Vec{a, e, d}).Sub(p).Norm()
		if one > limit && nearestOnTriangle(p, &[3]Vec{e, b, d}).Sub(p).Norm() > limit {
			return false
		}
	}
	return true
}

// slide moves the corner across from a side onto it, and splits the face on its other
// side there.
func (c *polisher) slide(s int32) bool {
	t := c.twin[s]
	f, g := s/3, t/3
	a, b, v, e := c.org(s), c.dest(s), c.apex(s), c.apex(t)
	along := c.v[b].Sub(c.v[a])
	part := c.v[v].Sub(c.v[a]).Dot(along) / along.Dot(along)
	at := onEdge(c.v[a], c.v[b], part)
	d := at.Sub(c.v[v])
	ring := c.ring(prevSide(s))
	if v == e || len(ring) > 1000 {
		return false
	}
	least := c.low(g)
	for _, r := range ring {
		least = min(least, c.low(r/3))
		if c.dest(r) == e {
			return false // they are neighbours already
		}
		if r/3 != f && math.IsInf(c.strays(r/3, d), 1) {
			return false
		}
	}
	if p, q, r := c.corners(g); leaves(p, q, r, at) {
		return false
	}
	least = max(min(least, polishLow), 0)
	for _, r := range ring {
		if r/3 != f && !c.sound(at, c.v[c.dest(r)], c.v[c.apex(r)], r/3, least) {
			return false
		}
	}
	if !c.sound(c.v[a], c.v[e], at, g, least) || !c.sound(c.v[e], c.v[b], at, g, least) {
		return false
	}
	if !c.near(c.v[v], at, ring, f, f) {
		return false
	}
	c.v[v] = at
	for _, r := range ring {
		c.off[r/3] += math.Abs(c.ref[r/3].Dot(d))
		c.box[r/3] = triangleBox(c.corners(r / 3))
	}
	c.off[f], c.made[f] = c.off[g], c.made[g]
	c.relink(s, c.ref[g])
	return true
}

// leaves reports whether a place is off the plane of a face that is square to an axis.
func leaves(p, q, r, at Vec) bool {
	return p.X == q.X && q.X == r.X && at.X != p.X || p.Y == q.Y && q.Y == r.Y && at.Y != p.Y || p.Z == q.Z && q.Z == r.Z && at.Z != p.Z
}

// onEdge returns the point a part of the way from a to b. A coordinate that both
// share is kept.
func onEdge(a, b Vec, part float64) Vec {
	mix := func(p, q float64) float64 { return p + float64(part*(q-p)) }
	return Vec{mix(a.X, b.X), mix(a.Y, b.Y), mix(a.Z, b.Z)}.Settle()
}
