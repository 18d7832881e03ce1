package neck

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck/outline"
)

// HeelCutters returns what gives heel and tenon their shape: what lies past a raked
// face or beside and under a tenon, and the corners of the end.
func (n *Neck) HeelCutters() ([]*brep.Solid, error) {
	h := n.spec.Heel
	if h == nil || h.Through() {
		return nil, nil
	}
	const top = cutterAir
	half, low, far := n.heelFar()
	var out []*brep.Solid
	add := func(s *brep.Solid, err error) error {
		out = append(out, s)
		return err
	}
	switch {
	case n.tenoned():
		list, err := n.exactShoulders(top)
		if err != nil {
			return nil, err
		}
		out = list
	case h.Rake != 0:
		var face, end []mesh.Vec
		for _, p := range []YZ{{half, top}, {half, low}, {-half, low}, {-half, top}} {
			face, end = append(face, n.facePoint(p.Y, p.Z)), append(end, mesh.Vec{X: far, Y: p.Y, Z: p.Z})
		}
		if err := add(brep.Prismoid("raked face", face, end)); err != nil {
			return nil, err
		}
	}
	r, end, wide := h.EndCorner, n.end, h.Width/2
	if j := n.spec.Joint; j.Tenoned() {
		r, end, wide = j.Corner, n.tip, j.Width/2
	}
	if r == 0 {
		return out, nil
	}
	for _, side := range []Side{MinusY, PlusY} {
		if err := add(brep.Prism("corner of the end", brep.World, exactCorner(side, end, wide, r), low, top)); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// exactShoulders returns what lies past the heel's face beside the tenon and, in one
// piece with that, under it.
func (n *Neck) exactShoulders(top float64) ([]*brep.Solid, error) {
	half, low, far := n.heelFar()
	deep := -n.TenonDepth()
	outer := func(y, z float64) [2]mesh.Vec { return [2]mesh.Vec{n.facePoint(y, z), {X: far, Y: y, Z: z}} }
	inner := func(z, sign float64) [2]mesh.Vec {
		at := func(x float64) mesh.Vec { return mesh.Vec{X: x, Y: sign * n.TenonWidth(x, -z) / 2, Z: z} }
		return [2]mesh.Vec{at(n.FaceX(-z)), at(far)}
	}
	build := func(corners ...[2]mesh.Vec) (*brep.Solid, error) {
		var face, end []mesh.Vec
		for _, c := range corners {
			face, end = append(face, c[0]), append(end, c[1])
		}
		return brep.Prismoid("shoulder of the tenon", face, end)
	}
	if -deep < n.HeelDepth() {
		s, err := build(outer(half, top), outer(half, low), outer(-half, low), outer(-half, top),
			inner(top, -1), inner(deep, -1), inner(deep, 1), inner(top, 1))
		return []*brep.Solid{s}, err
	}
	a, err := build(outer(half, top), outer(half, low), inner(low, 1), inner(top, 1))
	if err != nil {
		return nil, err
	}
	b, err := build(inner(top, -1), inner(low, -1), outer(-half, low), outer(-half, top))
	return []*brep.Solid{a, b}, err
}

// cornerOff is how far the lines in which the arc of an end's corner goes on out of
// the wood may lie from the arc, in mm: that is tangent to end and side, and a cut
// cannot be.
const cornerOff = 0.001

// exactCorner returns the outline in the top view of what a corner of an end loses.
func exactCorner(side Side, end, half, r float64) []outline.Segment {
	lost := math.Acos(1 - cornerOff/r)
	c := mesh.Vec2{X: end - r, Y: half - r}
	arc := outline.NewArc(c, r, lost, math.Pi/2-lost)
	out := cornerAirOut(lost)
	sin, cos := math.Sincos(lost)
	first := arc.Start().Add(mesh.Vec2{X: sin, Y: -cos}.Scale(out))
	last := arc.End().Add(mesh.Vec2{X: -cos, Y: sin}.Scale(out))
	points := []mesh.Vec2{arc.End(), last, {X: last.X, Y: half + cutterAir}, {X: end + cutterAir, Y: half + cutterAir}, {X: end + cutterAir, Y: first.Y}, first, arc.Start()}
	path := []outline.Segment{arc}
	for i := range len(points) - 1 {
		path = append(path, outline.NewLine(points[i], points[i+1]))
	}
	m := outline.Scaled(1, side.Sign())
	for i := range path {
		path[i] = path[i].Map(m)
	}
	return path
}

// cornerAirOut returns how long a line is that leaves the wood at an angle by a
// twentieth of a millimetre.
func cornerAirOut(angle float64) float64 { return 0.05/math.Sin(angle) + 0.5 }

// BoltCutters returns the holes for bolts, and InsertCutters those for inserts.
func (n *Neck) BoltCutters() ([]*brep.Solid, error) {
	list := n.BoltHoles()
	for i := range list {
		if h := &list[i]; h.Depth >= n.HeelDepth() {
			h.Depth = n.HeelDepth() + cutterAir
		}
	}
	return exactHoles("bolt hole", list)
}

func (n *Neck) InsertCutters() ([]*brep.Solid, error) {
	return exactHoles("hole for an insert", n.InsertHoles())
}

func exactHoles(name string, holes []Hole) ([]*brep.Solid, error) {
	var out []*brep.Solid
	for _, h := range holes {
		s, err := exactTurned(name, mesh.Vec{X: h.From[0], Y: h.From[1], Z: h.From[2]}, mesh.Vec{X: h.Into[0], Y: h.Into[1], Z: h.Into[2]}, h.rings())
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}
