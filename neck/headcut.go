package neck

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck/spec"
)

// airAbove is how far the cutters of the headstock stick out of its face, in
// mm. No two of them end in one plane.
const airAbove = 2.0

// headCutters returns what is cut from the headstock.
func (n *Neck) headCutters(e float64) ([]cutter, error) {
	h := n.spec.Headstock
	if h == nil {
		return nil, nil
	}
	var out []cutter
	veneer := n.faceVeneer()
	top := math.Max(h.Step, veneer) + airAbove // over the cove of a stepped face too
	extrude := func(name string, loop []mesh.Vec2, bottom, top float64) error {
		m, err := mesh.Extrude(mesh.Region{Outer: loop}, bottom, top)
		if err != nil {
			return fmt.Errorf("cutting %s: %w", name, err)
		}
		n.head.place(m)
		out = append(out, cutter{name, m})
		return nil
	}
	below := -n.headBottom()
	if n.head.edge != nil {
		if err := extrude("the headstock's outline", n.outlineCut(e), below-1, top+3); err != nil {
			return nil, err
		}
	}
	for i, s := range n.head.slots {
		top += 0.05
		if err := extrude(fmt.Sprintf("slot %d", i+1), SlotLoop(s, e), below, top); err != nil {
			return nil, err
		}
	}
	if p := h.Pocket; p != nil {
		top += 0.05
		if err := extrude("the pocket", PocketLoop(p, e), veneer-p.Depth, top); err != nil {
			return nil, err
		}
	}
	for i, t := range n.head.tuners {
		top += 0.05
		out = append(out, cutter{fmt.Sprintf("tuner %d", i+1), n.tunerCut(t, e, below-0.1*float64(i+1), top)})
	}
	return out, nil
}

// headBottom returns how far below the face's plane the cutters reach: out of
// the wood everywhere.
func (n *Neck) headBottom() float64 {
	deep := 0.0
	for i := range 101 {
		x := n.start * float64(i) / 100
		_, w := n.head.frame(x, -n.Depth(x))
		deep = math.Max(deep, -w)
	}
	return deep + airAbove
}

// place moves a mesh from the face's frame, u, y and w, into the neck's. The
// frame is left-handed, which turns the faces.
func (f *head) place(m *mesh.Mesh) {
	for i, v := range m.Vertices {
		m.Vertices[i] = f.onFace(v.X, v.Y, v.Z).Steady()
	}
	for i, t := range m.Faces {
		m.Faces[i] = mesh.Face{t[0], t[2], t[1]}
	}
}

// outlineCut returns the region outside of the outline: from beside the shelf
// around the tip. It enters the loft's side by a slanted line, since it must not
// run along it.
func (n *Neck) outlineCut(e float64) []mesh.Vec2 {
	o := n.head.edge
	loop := o.Loop(e)
	const lead = 2.0
	bass, treble := o.Ends()
	k := len(loop)
	// The first chords begin a little beyond the shelf's end, within e of it.
	inset := func(a, b mesh.Vec2) mesh.Vec2 {
		d := b.Sub(a)
		return a.Add(d.Scale(math.Min(0.5, 0.9*e/d.Norm())))
	}
	loop[0], loop[k-1] = inset(loop[0], loop[1]), inset(loop[k-1], loop[k-2])
	wide := math.Max(n.head.wide()[MinusY].most(), n.head.wide()[PlusY].most()) + 5
	tip := o.Tip + beyondTip + 10
	before := o.From - lead
	out := []mesh.Vec2{{X: before, Y: bass - lead}}
	out = append(out, loop...)
	return append(out,
		mesh.Vec2{X: before, Y: treble + lead}, mesh.Vec2{X: before, Y: wide},
		mesh.Vec2{X: tip, Y: wide}, mesh.Vec2{X: tip, Y: -wide}, mesh.Vec2{X: before, Y: -wide})
}

// SlotLoop returns a slot's edge in the plane of the face, within e.
func SlotLoop(s spec.HeadSlot, e float64) []mesh.Vec2 {
	r := s.Width / 2
	return append(roundEnd(mesh.Vec2{X: s.U + r, Y: s.Y}, r, math.Pi/2, 1.5*math.Pi, e),
		roundEnd(mesh.Vec2{X: s.U + s.Length - r, Y: s.Y}, r, -math.Pi/2, math.Pi/2, e)...)
}

// PocketLoop returns the pocket's edge in the plane of the face, within e.
func PocketLoop(p *spec.HeadPocket, e float64) []mesh.Vec2 {
	r := p.Round
	var out []mesh.Vec2
	for i, c := range []mesh.Vec2{
		{X: p.U + p.Length - r, Y: p.Width/2 - r}, {X: p.U + r, Y: p.Width/2 - r},
		{X: p.U + r, Y: r - p.Width/2}, {X: p.U + p.Length - r, Y: r - p.Width/2},
	} {
		if r < 1e-6 {
			out = append(out, c)
			continue
		}
		out = append(out, roundEnd(c, r, math.Pi/2*float64(i), math.Pi/2*float64(i+1), e)...)
	}
	var kept []mesh.Vec2
	for _, v := range out {
		if len(kept) == 0 || v.Sub(kept[len(kept)-1]).Norm() > 1e-6 && v.Sub(kept[0]).Norm() > 1e-6 {
			kept = append(kept, v)
		}
	}
	return kept
}

// roundEnd returns points of an arc, both ends among them.
func roundEnd(c mesh.Vec2, r, from, to, e float64) []mesh.Vec2 {
	k := max(2, int(math.Ceil((to-from)/chordAngle(r, e))))
	out := make([]mesh.Vec2, k+1)
	for i := range out {
		sin, cos := math.Sincos(from + (to-from)*float64(i)/float64(k))
		out[i] = c.Add(mesh.Vec2{X: r * cos, Y: r * sin})
	}
	return out
}

// chordAngle returns the angle of a chord that lies e from its arc of radius r.
func chordAngle(r, e float64) float64 { return 2 * math.Acos(1-math.Min(e/r, 0.5)) }

// ring is a circle of a turned body: its place along the axis and its radius.
type turnedRing struct{ at, radius float64 }

// turned returns the closed mesh of a body turned about the axis through origin
// along dir, with the radii of the rings, the first and the last closed by a
// disc. The side vector is square to dir and of length 1, as dir is.
func turned(origin, dir, side mesh.Vec, rings []turnedRing, e float64) *mesh.Mesh {
	most := 0.0
	for _, r := range rings {
		most = math.Max(most, r.radius)
	}
	k := max(12, int(math.Ceil(2*math.Pi/chordAngle(most, e))))
	other := dir.Cross(side)
	m := &mesh.Mesh{}
	for _, r := range rings {
		c := origin.Add(dir.Scale(r.at))
		for j := range k {
			sin, cos := math.Sincos(2 * math.Pi * float64(j) / float64(k))
			m.Vertices = append(m.Vertices, c.Add(side.Scale(r.radius*cos)).Add(other.Scale(r.radius*sin)))
		}
	}
	at := func(ring, j int) uint32 { return uint32(ring*k + j%k) }
	for i := range len(rings) - 1 {
		for j := range k {
			a, b, c, d := at(i, j), at(i, j+1), at(i+1, j), at(i+1, j+1)
			m.Faces = append(m.Faces, mesh.Face{a, b, d}, mesh.Face{a, d, c})
		}
	}
	last := len(rings) - 1
	for j := 1; j+1 < k; j++ {
		m.Faces = append(m.Faces, mesh.Face{at(0, 0), at(0, j+1), at(0, j)}, mesh.Face{at(last, 0), at(last, j), at(last, j+1)})
	}
	return m
}

// tunerCut returns what a tuner's hole takes out, between two heights over the
// face that lie in the air.
func (n *Neck) tunerCut(t spec.Tuner, e, below, top float64) *mesh.Mesh {
	along := n.head.onFace(1, 0, 0).Sub(n.head.onFace(0, 0, 0))
	origin, dir, rings := n.tunerBody(t, below, top)
	return turned(origin, dir, along, rings, e)
}

// tunerBody returns the axis of what tunerCut takes out, and its rings.
func (n *Neck) tunerBody(t spec.Tuner, below, top float64) (origin, dir mesh.Vec, rings []turnedRing) {
	f := &n.head
	r, face := t.Hole/2, n.faceVeneer()
	if t.Across() {
		_, sign, end := n.acrossHole(t)
		out := n.head.most() + airAbove
		return f.onFace(t.U, 0, face-t.Below), mesh.Vec{Y: sign}, []turnedRing{{sign * end, r}, {out, r}}
	}
	rings = []turnedRing{{below, r}}
	if t.BackDepth > 0 {
		rings[0].radius = t.BackDiameter / 2
		floor := n.backFloor(t)
		rings = append(rings, turnedRing{floor, t.BackDiameter / 2}, turnedRing{floor, r})
	}
	if t.FaceDepth > 0 {
		rings = append(rings, turnedRing{face - t.FaceDepth, r}, turnedRing{face - t.FaceDepth, t.FaceDiameter / 2}, turnedRing{top, t.FaceDiameter / 2})
	} else {
		rings = append(rings, turnedRing{top, r})
	}
	return f.onFace(t.U, t.Y, 0), f.onFace(0, 0, 1).Sub(f.onFace(0, 0, 0)), rings
}

// acrossHole returns the slot of a hole that lies across, the sign of the side
// that it comes from, and y of its end.
func (n *Neck) acrossHole(t spec.Tuner) (s spec.HeadSlot, sign, end float64) {
	s, _ = spec.SlotAt(n.head.slots, t.U, t.Y) // Validate has seen to it
	sign = math.Copysign(1, t.Y)
	return s, sign, s.Y - sign*(s.Width/2+t.Into)
}

// HoleAcross returns y of both ends of the hole of tuner i, counted from 0, that
// lies across: where it ends in the wood and where it comes out at the side.
func (n *Neck) HoleAcross(i int) (end, side float64) {
	t := n.head.tuners[i]
	_, sign, end := n.acrossHole(t)
	side = sign * n.head.paddle
	if o := n.head.edge; o != nil {
		side = 0
		for _, y := range o.Across(t.U) {
			side = sign * math.Max(sign*side, sign*y)
		}
	}
	return end, side
}

// most returns how far the headstock's loft reaches to either side, at most.
func (f *head) most() float64 {
	if f.edge == nil {
		return f.paddle
	}
	return math.Max(f.wide()[MinusY].most(), f.wide()[PlusY].most())
}
