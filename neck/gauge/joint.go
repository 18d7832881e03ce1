package gauge

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck"
)

// endTop returns the outline of the heel's end in the top view, from the bass
// side to the treble side: its corners, or the tenon past the face.
func endTop(n *neck.Neck) []mesh.Vec2 {
	h, j := n.Spec().Heel, n.Spec().Joint
	bass := []mesh.Vec2{}
	corner := func(end, half, r float64) {
		if r == 0 {
			bass = append(bass, mesh.Vec2{X: end, Y: -half})
			return
		}
		steps := max(3, int(math.Ceil(math.Pi/4/math.Acos(1-math.Min(sheetTolerance/r, 0.5)))))
		for i := range steps + 1 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i) / float64(steps))
			bass = append(bass, mesh.Vec2{X: end - r + r*sin, Y: -half + r - r*cos})
		}
	}
	if n.TenonDepth() > 0 {
		bass = append(bass, mesh.Vec2{X: n.End(), Y: -h.Width / 2}, mesh.Vec2{X: n.End(), Y: -n.TenonWidth(n.End(), 0) / 2})
		corner(n.Tip(), n.TenonWidth(n.Tip(), 0)/2, j.Corner)
	} else {
		corner(n.End(), h.Width/2, h.EndCorner)
	}
	out := bass
	for i := len(bass) - 1; i >= 0; i-- {
		out = append(out, mesh.Vec2{X: bass[i].X, Y: -bass[i].Y})
	}
	return out
}

// before returns the points of a line along the neck that lie before x.
func before(points []mesh.Vec2, x float64) []mesh.Vec2 {
	var out []mesh.Vec2
	for _, p := range points {
		if p.X < x-1e-9 {
			out = append(out, p)
		}
	}
	return out
}

// holesAbove draws the holes of the joint in the top view, hidden in the wood.
func holesAbove(n *neck.Neck, add func(name string, points []mesh.Vec2)) {
	for _, h := range n.BoltHoles() {
		at := mesh.Vec2{X: h.From[0], Y: h.From[1]}
		for _, d := range []float64{h.Diameter, h.Counterbore} {
			if d == 0 {
				continue
			}
			var ring []mesh.Vec2
			for i := range 33 {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 32)
				ring = append(ring, at.Add(mesh.Vec2{X: d / 2 * cos, Y: d / 2 * sin}))
			}
			add("bolt", ring)
		}
		for _, arm := range []mesh.Vec2{{X: h.Diameter/2 + 2}, {Y: h.Diameter/2 + 2}} {
			add("bolt's centre", []mesh.Vec2{at.Sub(arm), at.Add(arm)})
		}
	}
	for _, h := range n.InsertHoles() {
		r := h.Diameter / 2
		add("insert", []mesh.Vec2{
			{X: h.From[0], Y: h.From[1] - r}, {X: h.From[0] + h.Depth*h.Into[0], Y: h.From[1] - r},
			{X: h.From[0] + h.Depth*h.Into[0], Y: h.From[1] + r}, {X: h.From[0], Y: h.From[1] + r},
		})
	}
}

// holesBeside draws the holes of the joint in the side view.
func holesBeside(n *neck.Neck, add func(name string, points []mesh.Vec2)) {
	draw := func(name string, h *neck.Hole) {
		from := mesh.Vec2{X: h.From[0], Y: h.From[2]}
		into := mesh.Vec2{X: h.Into[0], Y: h.Into[2]}
		off := mesh.Vec2{X: -into.Y, Y: into.X}
		box := func(d, deep float64) {
			a := off.Scale(d / 2)
			end := from.Add(into.Scale(deep))
			add(name, []mesh.Vec2{from.Sub(a), end.Sub(a), end.Add(a), from.Add(a)})
		}
		box(h.Diameter, h.Depth)
		if h.Counterbore != 0 {
			box(h.Counterbore, h.CounterboreDepth)
		}
	}
	for _, h := range n.BoltHoles() {
		draw("bolt", &h)
	}
	for _, h := range n.InsertHoles() {
		draw("insert", &h)
	}
}
