package neck

import (
	"fmt"
	"math"

	"neckloft/mesh"
)

const (
	// cutterAir is how far a cutter stands out of the wood, in mm.
	cutterAir = 1.0

	// cutterLift is how far a cutter may reach into the underside of the board
	// where wood and board are one solid, in mm: its top must not lie in the
	// glue plane, where the wood beside the board ends.
	cutterLift = 0.004
)

// cutterTop returns z of the top of a cutter that goes through the glue plane.
func cutterTop(part Part, e float64) float64 {
	if part == PartBoth {
		return math.Min(cutterLift, e/4)
	}
	return cutterAir
}

// heelCutters returns the cutters of heel and joint.
func (n *Neck) heelCutters(part Part, e float64) ([]cutter, error) {
	h := n.spec.Heel
	if h == nil || h.Through() {
		return nil, nil
	}
	top := cutterTop(part, e)
	var out []cutter
	switch {
	case n.tenoned():
		out = n.shoulderCutters(top)
	case h.Rake != 0:
		out = []cutter{n.faceCutter(top)}
	}
	corners := []struct {
		r, end, half float64
	}{{h.EndCorner, n.end, h.Width / 2}}
	if j := n.spec.Joint; j.Tenoned() {
		corners[0].r, corners[0].end, corners[0].half = j.Corner, n.tip, j.Width/2
	}
	for _, c := range corners {
		if c.r == 0 {
			continue
		}
		for _, side := range []Side{MinusY, PlusY} {
			m, err := n.cornerCutter(side, c.end, c.half, c.r, top, e)
			if err != nil {
				return nil, err
			}
			out = append(out, cutter{"corner of the end", m})
		}
	}
	for _, hole := range n.BoltHoles() {
		through := hole.Depth >= n.HeelDepth()
		if through {
			hole.Depth = n.HeelDepth() + top
		}
		out = append(out, cutter{"bolt hole", hole.mesh(e)})
	}
	for _, hole := range n.InsertHoles() {
		out = append(out, cutter{"hole for an insert", hole.mesh(e)})
	}
	for _, c := range out {
		if err := c.mesh.Validate(); err != nil {
			return nil, fmt.Errorf("the cutter for the %s: %w", c.name, err)
		}
	}
	return out, nil
}

// heelFar returns how far out and down the cutters of the heel reach.
func (n *Neck) heelFar() (half, low, far float64) {
	half = n.spec.Heel.Width/2 + 2*cutterAir
	return half, -n.HeelDepth() - 2*cutterAir, n.loftEnd() + cutterAir
}

// facePoint is the point of the heel's face at y and z.
func (n *Neck) facePoint(y, z float64) mesh.Vec { return mesh.Vec{X: n.FaceX(-z), Y: y, Z: z} }

// faceCutter takes what lies past a raked face.
func (n *Neck) faceCutter(top float64) cutter {
	half, low, far := n.heelFar()
	var face, end []mesh.Vec
	for _, p := range []YZ{{half, top}, {half, low}, {-half, low}, {-half, top}} {
		face = append(face, n.facePoint(p.Y, p.Z))
		end = append(end, mesh.Vec{X: far, Y: p.Y, Z: p.Z})
	}
	return cutter{"raked face", prismoid(face, end, []mesh.Face{{0, 1, 2}, {0, 2, 3}})}
}

// shoulderCutters take what lies past the heel's face beside the tenon and, in
// one piece with that, under it.
func (n *Neck) shoulderCutters(top float64) []cutter {
	half, low, far := n.heelFar()
	deep := -n.TenonDepth()
	side := func(x, z, sign float64) mesh.Vec {
		return mesh.Vec{X: x, Y: sign * n.TenonWidth(x, -z) / 2, Z: z}
	}
	// Each corner of the cutter's section at the face and at its far end.
	outer := func(y, z float64) [2]mesh.Vec {
		return [2]mesh.Vec{n.facePoint(y, z), {X: far, Y: y, Z: z}}
	}
	inner := func(z, sign float64) [2]mesh.Vec {
		return [2]mesh.Vec{side(n.FaceX(-z), z, sign), side(far, z, sign)}
	}
	build := func(faces []mesh.Face, corners ...[2]mesh.Vec) *mesh.Mesh {
		var face, end []mesh.Vec
		for _, c := range corners {
			face, end = append(face, c[0]), append(end, c[1])
		}
		return prismoid(face, end, faces)
	}
	if -deep >= n.HeelDepth() {
		var out []cutter
		square := []mesh.Face{{0, 1, 2}, {0, 2, 3}}
		out = append(out,
			cutter{"shoulder of the tenon", build(square, outer(half, top), outer(half, low), inner(low, 1), inner(top, 1))},
			cutter{"shoulder of the tenon", build(square, inner(top, -1), inner(low, -1), outer(-half, low), outer(-half, top))})
		return out
	}
	return []cutter{{"shoulders of the tenon", build(
		[]mesh.Face{{0, 1, 6}, {0, 6, 7}, {1, 2, 5}, {1, 5, 6}, {2, 3, 4}, {2, 4, 5}},
		outer(half, top), outer(half, low), outer(-half, low), outer(-half, top),
		inner(top, -1), inner(deep, -1), inner(deep, 1), inner(top, 1))}}
}

// cornerCutter takes one corner of an end in the top view: the wood is half wide
// to its side, and ends at x = end.
func (n *Neck) cornerCutter(side Side, end, half, r, top, e float64) (*mesh.Mesh, error) {
	steps := arcSteps(r, math.Pi/2, e)
	var loop []mesh.Vec2
	for i := range steps + 1 {
		sin, cos := math.Sincos(math.Pi / 2 * float64(i) / float64(steps))
		loop = append(loop, mesh.Vec2{X: end - r + r*cos, Y: half - r + r*sin})
	}
	// The arc is tangent to end and side. Its first and last chords, carried on,
	// leave the wood at an angle.
	out := func(a, b mesh.Vec2) mesh.Vec2 {
		d := mesh.Vec2{X: a.X - b.X, Y: a.Y - b.Y}
		k := math.Min(0.05/math.Min(math.Abs(d.X), math.Abs(d.Y)), 0.9/math.Hypot(d.X, d.Y))
		return mesh.Vec2{X: a.X + k*d.X, Y: a.Y + k*d.Y}
	}
	first, last := out(loop[0], loop[1]), out(loop[steps], loop[steps-1])
	_, low, _ := n.heelFar()
	loop = append(append([]mesh.Vec2{first}, loop...), last,
		mesh.Vec2{X: last.X, Y: half + cutterAir},
		mesh.Vec2{X: end + cutterAir, Y: half + cutterAir},
		mesh.Vec2{X: end + cutterAir, Y: first.Y})
	for i := range loop {
		loop[i].Y *= side.Sign()
	}
	return mesh.Extrude(mesh.Region{Outer: loop}, low, top)
}

// arcSteps returns how many chords keep within e of an arc of radius r.
func arcSteps(r, angle, e float64) int {
	return max(3, int(math.Ceil(angle/(2*math.Acos(1-math.Min(e/r, 0.5))))))
}

// prismoid is the solid between two polygons of equally many corners, whose
// sides are planes. The faces cut the first polygon into triangles and, as the
// corners do, run clockwise as seen from the second.
func prismoid(first, second []mesh.Vec, faces []mesh.Face) *mesh.Mesh {
	m := &mesh.Mesh{}
	k := uint32(len(first))
	for _, p := range append(append([]mesh.Vec(nil), first...), second...) {
		m.Vertices = append(m.Vertices, p.Settle())
	}
	for _, f := range faces {
		m.Faces = append(m.Faces, mesh.Face{f[0], f[1], f[2]}, mesh.Face{k + f[0], k + f[2], k + f[1]})
	}
	for i := range k {
		j := (i + 1) % k
		m.Faces = append(m.Faces, mesh.Face{i, k + i, k + j}, mesh.Face{i, k + j, j})
	}
	return m
}

// rings returns the rings of the hole as a turned body along Into, which begins in
// the air.
func (h *Hole) rings() []turnedRing {
	r := h.Diameter / 2
	if h.Counterbore != 0 {
		wide := h.Counterbore / 2
		return []turnedRing{{-cutterAir, wide}, {h.CounterboreDepth, wide}, {h.CounterboreDepth, r}, {h.Depth, r}}
	}
	return []turnedRing{{-cutterAir, r}, {h.Depth, r}}
}

// mesh returns the hole as a cutter that begins in the air before its surface.
func (h *Hole) mesh(e float64) *mesh.Mesh {
	rings := h.rings()
	widest := rings[0].radius
	k := arcSteps(widest, 2*math.Pi, e)
	from := mesh.Vec{X: h.From[0], Y: h.From[1], Z: h.From[2]}
	into := mesh.Vec{X: h.Into[0], Y: h.Into[1], Z: h.Into[2]}
	u := mesh.Vec{Y: 1}
	v := into.Cross(u)
	var b mesh.Builder
	var loops [][]uint32
	for _, r := range rings {
		var loop []uint32
		for i := range k {
			// Half a step on, so that no corner lies on the centreline.
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / float64(k))
			loop = append(loop, b.Vertex(from.Add(into.Scale(r.at)).Add(u.Scale(r.radius*cos)).Add(v.Scale(r.radius*sin))))
		}
		loops = append(loops, loop)
	}
	fan := func(at float64, loop []uint32, forward bool) {
		c := b.Vertex(from.Add(into.Scale(at)))
		for i := range loop {
			j := (i + 1) % len(loop)
			if forward {
				b.Triangle(c, loop[i], loop[j])
			} else {
				b.Triangle(c, loop[j], loop[i])
			}
		}
	}
	fan(rings[0].at, loops[0], false)
	for i := 0; i+1 < len(loops); i++ {
		a, c := append(loops[i], loops[i][0]), append(loops[i+1], loops[i+1][0])
		b.Stitch(a, c)
	}
	fan(rings[len(rings)-1].at, loops[len(loops)-1], true)
	m, _ := b.Mesh() // nothing is filled, which alone could fail
	return m
}

// loftEnd returns x where the loft of the wood ends, from which the cutters
// take the rest: a raked face is cut from a block that goes on past it.
func (n *Neck) loftEnd() float64 {
	if h := n.spec.Heel; h != nil && h.Rake != 0 && !n.tenoned() {
		return n.lastX() + 2*cutterAir
	}
	return n.tip
}
