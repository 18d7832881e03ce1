package jig

import (
	"errors"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// Sizes of the guide on the side of a slotted headstock, in mm: common practice, no
// published source.
const (
	sideThick = 14.0 // that a drill is held by
	sideLip   = 12.0 // over the face
	sideUp    = 5.0  // thickness of the lip
	sideUnder = 6.0  // below the holes
)

// sideOf returns y of the headstock's side at u along the face, and false where it
// has none that is square to the face.
func (m *maker) sideOf(side neck.Side, u float64) (float64, bool) {
	if o := m.n.HeadEdge(); o != nil {
		ys := o.Across(u)
		if len(ys) < 2 {
			return 0, false
		}
		if side == neck.MinusY {
			return ys[0], true
		}
		return ys[len(ys)-1], true
	}
	// Of a paddle, where it is as wide as it gets.
	half := m.s.Headstock.Width / 2
	a, b := m.n.Edges(m.n.HeadX(u))
	if math.Abs(b-half) > 0.05 || math.Abs(a+half) > 0.05 {
		return 0, false
	}
	return side.Sign() * half, true
}

// sideGuide makes the guide for the holes of one side, which lie across. It hooks
// over the face's edge and follows the side; from is where it begins along the face.
func (m *maker) sideGuide(side neck.Side, tuners []spec.Tuner) (p Part, from float64, err error) {
	from, to, under, out := math.Inf(1), 0.0, 0.0, 0.0
	for _, t := range tuners {
		r := t.Hole / 2
		from, to = math.Min(from, t.U-r-guideEdge), math.Max(to, t.U+r+guideEdge)
		under = math.Max(under, t.Below+r+sideUnder)
	}
	const steps = 64
	for i := range steps + 1 {
		y, ok := m.sideOf(side, from+(to-from)*float64(i)/steps)
		if !ok {
			return p, 0, errors.New("beside the tuners that lie across the headstock has no side square to its face; allowed: tuners where it has")
		}
		out = math.Max(out, math.Abs(y))
	}
	out += sideThick
	sign, e := side.Sign(), m.Tolerance/4
	// Along -u: the frame of the face is left-handed.
	solid, err := sweep(rings(-to, -from, nil, e, func(x float64) []neck.YZ {
		y, _ := m.sideOf(side, -x)
		in := math.Abs(y) + 2*e // chords lie on the wood's side of it
		ring := []neck.YZ{{Y: in, Z: -under}, {Y: out, Z: -under}, {Y: out, Z: sideUp}, {Y: in - sideLip, Z: sideUp}, {Y: in - sideLip}, {Y: in}}
		if sign < 0 {
			for i, j := 0, len(ring)-1; i < j; i, j = i+1, j-1 {
				ring[i], ring[j] = ring[j], ring[i]
			}
			for i := range ring {
				ring[i].Y = -ring[i].Y
			}
		}
		return ring
	}))
	if err != nil {
		return p, 0, err
	}
	var drills []*mesh.Mesh
	for i, t := range tuners {
		more := 0.05 * float64(i)
		y, _ := m.sideOf(side, t.U)
		drills = append(drills, rod(mesh.Vec{X: -t.U, Y: sign * (math.Abs(y) - 4 - more), Z: -t.Below}, mesh.Vec{X: -t.U, Y: sign * (out + 2 + more), Z: -t.Below}, t.Hole/2+guideBore/2))
	}
	if solid, err = mesh.Subtract(solid, drills...); err != nil {
		return p, 0, err
	}
	for i, v := range solid.Vertices {
		solid.Vertices[i] = m.n.OnFace(-v.X, v.Y, v.Z)
	}
	back := m.n.OnFace(-1, 0, 0).Sub(m.n.OnFace(0, 0, 0))
	in := mesh.Vec{Y: -sign}
	p = laid("drilling guide, "+m.n.SideName(side)+" side", solid, Frame{X: back, Y: in.Cross(back), Z: in})
	m.sideWords(&p, side, tuners)
	return p, from, nil
}

// sideWords puts the label on the outer side, which lies on the bed, between two
// holes.
func (m *maker) sideWords(p *Part, side neck.Side, tuners []spec.Tuner) {
	_, hi := p.Mesh.Bounds()
	room, mid := 0.0, hi.X/2
	for i, t := range tuners {
		for _, o := range tuners[:i] {
			d := math.Abs(t.U-o.U) - (t.Hole+o.Hole)/2 - 2*labelEdge
			between := false
			for _, q := range tuners {
				between = between || (q.U-t.U)*(q.U-o.U) < 0
			}
			if !between && d > room {
				room = d
				at := p.Home.In(m.n.OnFace((t.U+o.U)/2, 0, 0))
				mid = at.X
			}
		}
	}
	letter := m.n.SideLetter(side)
	p.Label = Label{
		Words: []string{"TUNERS " + letter, "TUN " + letter, letter},
		Width: room, Height: hi.Y - 2*labelEdge,
	}
	if side == neck.PlusY { // the bed's Y goes up with the face
		p.Label.At, p.Label.Along, p.Label.Up = mesh.Vec{X: mid + room/2, Y: labelEdge}, mesh.Vec{X: -1}, mesh.Vec{Y: 1}
		return
	}
	p.Label.At, p.Label.Along, p.Label.Up = mesh.Vec{X: mid - room/2, Y: hi.Y - labelEdge}, mesh.Vec{X: 1}, mesh.Vec{Y: -1}
}
