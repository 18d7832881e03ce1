package brep

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

// traceWithin is how close a spline along a chain is to both surfaces, in mm,
// where it is looked at: at three places between its points.
const traceWithin = 1e-5

// trace finds the edge along a chain.
func (c *cutting) trace(ch *course) error {
	t := &tracer{course: ch, reach: c.net.reach()}
	for side := range 2 {
		t.feet[side] = &foot{face: c.skins[side].faces[ch.faces[side]]}
	}
	e, err := t.edge()
	if err != nil {
		return among(err, t.feet[0].face, t.feet[1].face)
	}
	ch.edge = e
	var faces []*Face
	for _, f := range t.feet {
		faces = append(faces, f.face)
	}
	c.net.sample(e, faces)
	return nil
}

// tracer follows one chain.
type tracer struct {
	*course
	feet  [2]*foot
	reach float64
	along []float64   // the length to each point
	off   [2]mesh.Vec // how far the vertices are off the surfaces' crossing
}

// node is a point where the surfaces cross: how far along the chain, where, and
// which way the crossing runs.
type node struct {
	s       float64
	at, dir mesh.Vec
}

// edge returns the edge along the chain.
func (t *tracer) edge() (*Edge, error) {
	sum := 0.0
	for i, p := range t.points {
		if i > 0 {
			sum += p.Sub(t.points[i-1]).Norm()
		}
		t.along = append(t.along, sum)
	}
	closed := t.from == nil
	if closed {
		return t.ring()
	}
	first, last, err := t.ends()
	if err != nil {
		return nil, err
	}
	if e := t.straight(first, last); e != nil {
		return e, nil
	}
	if e := t.circle(first); e != nil {
		return e, nil
	}
	nodes, err := t.grow([]node{first}, first, last, 0)
	if err != nil {
		return nil, err
	}
	return t.spline(nodes), nil
}

// ends returns the nodes at both vertices.
func (t *tracer) ends() (first, last node, err error) {
	length := t.along[len(t.along)-1]
	var out [2]node
	for i, v := range []*Vertex{t.from, t.to} {
		s := length * float64(i)
		n, err := t.crossing(v.At, t.direction(s), t.reach)
		if err != nil {
			return first, last, err
		}
		t.off[i] = v.At.Sub(n.at)
		if d := t.off[i].Norm(); d > OnSurface {
			return first, last, fmt.Errorf("faces %q and %q cross %.4f mm from an edge's end at %s", t.feet[0].face.Name, t.feet[1].face.Name, d, place(v.At))
		}
		n.s, n.at = s, v.At
		out[i] = n
	}
	lean := t.off[1].Sub(t.off[0]).Scale(1 / math.Max(length, 1e-9))
	for i := range out {
		out[i].dir = out[i].dir.Add(lean).Unit()
	}
	return out[0], out[1], nil
}

// point returns a point of the chain as chords have it.
func (t *tracer) point(s float64) mesh.Vec {
	lo, hi := 0, len(t.along)-1
	for hi-lo > 1 {
		if mid := (lo + hi) / 2; t.along[mid] <= s {
			lo = mid
		} else {
			hi = mid
		}
	}
	a, b := t.points[lo], t.points[hi]
	k := 0.0
	if d := t.along[hi] - t.along[lo]; d > 0 {
		k = math.Min(math.Max((s-t.along[lo])/d, 0), 1)
	}
	return a.Add(b.Sub(a).Scale(k))
}

// direction returns which way the chain runs, as chords have it.
func (t *tracer) direction(s float64) mesh.Vec {
	length := t.along[len(t.along)-1]
	h := length / 50
	d := t.point(math.Min(s+h, length)).Sub(t.point(math.Max(s-h, 0)))
	if u := d.Unit(); u != (mesh.Vec{}) {
		return u
	}
	return t.points[len(t.points)-1].Sub(t.points[0]).Unit()
}

// crossing returns where the surfaces cross in the plane through p square to
// dir, no farther than reach. The chain runs as what it bounds of the first side,
// outside the second, has it.
func (t *tracer) crossing(p, dir mesh.Vec, reach float64) (node, error) {
	at, na, nb, err := meet(t.feet[0], t.feet[1], p, dir)
	if err != nil {
		return node{}, err
	}
	n := node{at: at, dir: nb.Cross(na).Unit()}
	if n.dir.Dot(dir) <= 0 || at.Sub(p).Norm() > reach {
		return n, t.touch(p)
	}
	return n, nil
}

// touch is the error of surfaces that cannot be told where they cross.
func (t *tracer) touch(p mesh.Vec) error {
	return fmt.Errorf("faces %q and %q: %w", t.feet[0].face.Name, t.feet[1].face.Name, touchAt(p))
}

// node returns the node between two others, at a fraction of the way. Where the
// chain runs on simply it lies beside the cubic between both, and else beside the
// chords.
func (t *tracer) node(a, b node, k float64) (node, error) {
	s := a.s + k*(b.s-a.s)
	var n node
	err := error(nil)
	simple := t.simple(a, b)
	if simple {
		h := newArch(a, b)
		p, slope := h.at(k)
		n, err = t.crossing(p.Sub(t.offAt(s)), slope.Unit(), h.length/4)
	}
	if !simple || err != nil {
		n, err = t.crossing(t.point(s), t.direction(s), t.reach)
	}
	if err != nil {
		return n, err
	}
	lean := t.off[1].Sub(t.off[0]).Scale(1 / t.along[len(t.along)-1])
	n.s, n.at, n.dir = s, n.at.Add(t.offAt(s)), n.dir.Add(lean).Unit()
	return n, nil
}

// offAt returns how far the edge is off the surfaces' crossing at s: this is
// spread from its ends, where the vertices may be off it, over the whole.
func (t *tracer) offAt(s float64) mesh.Vec {
	k := s / t.along[len(t.along)-1]
	return t.off[0].Scale(1 - k).Add(t.off[1].Scale(k))
}

// deepest bounds how often a chain is halved.
const deepest = 16

// grow adds nodes after a, the last of them b, so close that a cubic between
// two follows the chain.
func (t *tracer) grow(nodes []node, a, b node, depth int) ([]node, error) {
	mid, err := t.node(a, b, 0.5)
	if err != nil {
		return nil, err
	}
	ok := t.simple(a, b)
	if ok {
		h := newArch(a, b)
		ok = h.off(mid.at, 0.5) < traceWithin
		for _, k := range []float64{0.25, 0.75} {
			if !ok {
				break
			}
			n, err := t.node(a, b, k)
			if err != nil {
				return nil, err
			}
			ok = h.off(n.at, k) < traceWithin
		}
	}
	if ok {
		return append(nodes, b), nil
	}
	if depth == deepest {
		return nil, t.touch(mid.at)
	}
	if nodes, err = t.grow(nodes, a, mid, depth+1); err != nil {
		return nil, err
	}
	return t.grow(nodes, mid, b, depth+1)
}

// simple reports whether the chain runs on from a to b with little of a turn, as
// both have it.
func (t *tracer) simple(a, b node) bool {
	d := b.at.Sub(a.at)
	l := d.Norm()
	return d.Dot(a.dir) > 0.8*l && d.Dot(b.dir) > 0.8*l && a.dir.Dot(b.dir) > 0.5 && b.s-a.s < 1.5*l+t.reach/4
}

// arch is the cubic between two nodes that has their directions, as long as the
// curve between them about: so its parameter is about the length.
type arch struct {
	p, d   [2]mesh.Vec
	length float64
}

func newArch(a, b node) arch {
	h := arch{p: [2]mesh.Vec{a.at, b.at}, d: [2]mesh.Vec{a.dir, b.dir}}
	// With this length the cubic is as fast in its middle as at its ends.
	w, s := b.at.Sub(a.at), a.dir.Add(b.dir)
	k, m := 16-s.Dot(s), 6*w.Dot(s)
	h.length = 36 * w.Dot(w) / (m + math.Sqrt(m*m+36*k*w.Dot(w)))
	return h
}

// points returns the two inner Bezier points.
func (h arch) points() (p, q mesh.Vec) {
	return h.p[0].Add(h.d[0].Scale(h.length / 3)), h.p[1].Sub(h.d[1].Scale(h.length / 3))
}

// at returns the point and the derivative at a fraction.
func (h arch) at(t float64) (at, slope mesh.Vec) {
	p, q := h.points()
	s := 1 - t
	at = h.p[0].Scale(s * s * s).Add(p.Scale(3 * s * s * t)).Add(q.Scale(3 * s * t * t)).Add(h.p[1].Scale(t * t * t))
	slope = p.Sub(h.p[0]).Scale(3 * s * s).Add(q.Sub(p).Scale(6 * s * t)).Add(h.p[1].Sub(q).Scale(3 * t * t))
	return at, slope
}

// off returns the distance of a point from the cubic, sought from a fraction.
func (h arch) off(x mesh.Vec, t float64) float64 {
	var at, slope mesh.Vec
	for range 3 {
		at, slope = h.at(t)
		t = math.Min(math.Max(t+x.Sub(at).Dot(slope)/slope.Dot(slope), 0), 1)
	}
	at, _ = h.at(t)
	return at.Sub(x).Norm()
}

// span rounds the length of a span, if it is not very short, so coarsely that what
// processors differ by seldom shows: a knot that is off moves points along the edge.
func span(length float64) float64 {
	const grid, short = 1 << 20, 0.01
	if length < short {
		return steady(length)
	}
	return math.Round(length*grid) / grid
}

// spline returns the edge through nodes, its numbers rounded so that processors that
// differ in their last bits agree.
func (t *tracer) spline(nodes []node) *Edge {
	c := &Spline{Basis: &Basis{Knots: []float64{0, 0, 0, 0}}, Points: []mesh.Vec{nodes[0].at}}
	at := 0.0
	for i := 1; i < len(nodes); i++ {
		h := newArch(nodes[i-1], nodes[i])
		p, q := h.points()
		c.Points = append(c.Points, p.Steady(), q.Steady())
		at += span(h.length)
		c.Basis.Knots = append(c.Basis.Knots, at, at)
	}
	c.Basis.Knots = append(c.Basis.Knots, at, at)
	c.Points = append(c.Points, nodes[len(nodes)-1].at)
	return &Edge{t.from, t.to, c, 0, at}
}
