package gauge

import (
	"fmt"

	"neckloft/mesh"
	"neckloft/neck"
)

// headAbove draws slots, pocket and tuner holes of the headstock as the top view
// shows them, where they open at its face. It reports whether there are any.
func headAbove(n *neck.Neck, add func(name string, dashed bool, points ...mesh.Vec2)) bool {
	h := n.Spec().Headstock
	if h == nil {
		return false
	}
	seen := func(loop []mesh.Vec2) []mesh.Vec2 {
		out := make([]mesh.Vec2, len(loop))
		for i, p := range loop {
			out[i] = mesh.Vec2{X: n.OnFace(p.X, 0, h.FaceVeneer).X, Y: p.Y}
		}
		return out
	}
	closed := func(name string, dashed bool, loop []mesh.Vec2) {
		loop = seen(loop)
		add(name, dashed, append(loop, loop[0])...)
	}
	for i, s := range n.HeadSlots() {
		closed(fmt.Sprintf("slot %d", i+1), false, neck.SlotLoop(s, sheetTolerance))
	}
	if p := h.Pocket; p != nil {
		closed("pocket", false, neck.PocketLoop(p, sheetTolerance))
	}
	for i, t := range n.Tuners() {
		name := fmt.Sprintf("tuner %d", i+1)
		if t.Across() {
			a, b := n.HoleAcross(i)
			for _, off := range []float64{-t.Hole / 2, t.Hole / 2} {
				add(name, true, seen([]mesh.Vec2{{X: t.U + off, Y: a}, {X: t.U + off, Y: b}})...)
			}
			continue
		}
		closed(name, false, circle(t.U, t.Y, t.Hole))
		if t.FaceDepth > 0 {
			closed(name, false, circle(t.U, t.Y, t.FaceDiameter))
		}
		if t.BackDepth > 0 {
			closed(name, true, circle(t.U, t.Y, t.BackDiameter))
		}
	}
	return len(n.HeadSlots()) > 0 || h.Pocket != nil || len(n.Tuners()) > 0
}

// headHolesNote says what the holes of the headstock are in the top view.
func headHolesNote(n *neck.Neck) string {
	if n.Spec().Headstock.Angle == 0 {
		return " What is cut into the headstock is drawn; the sheet of the headstock has its sizes and places."
	}
	return " What is cut into it is drawn at that angle too, where it opens at the face: do not drill by this sheet."
}

// veneersBeside draws the veneers of the headstock in the side view, and reports
// whether there are any.
func veneersBeside(n *neck.Neck, add func(name string, points []mesh.Vec2)) bool {
	h := n.Spec().Headstock
	if h == nil || h.FaceVeneer == 0 && h.BackVeneer == 0 {
		return false
	}
	tip := n.HeadU(n.Start())
	line := func(from float64, over func(u float64) float64) []mesh.Vec2 {
		const steps = 600
		var out []mesh.Vec2
		for i := range steps + 1 {
			u := from + (tip-from)*float64(i)/steps
			p := n.OnFace(u, 0, over(u))
			out = append(out, mesh.Vec2{X: p.X, Y: p.Z})
		}
		return Simplify(out)
	}
	if h.FaceVeneer > 0 {
		top := line(n.Spec().FaceBegins(), n.VeneerOver)
		foot := n.OnFace(tip, 0, 0)
		add("face veneer", append(top, mesh.Vec2{X: foot.X, Y: foot.Z}))
	}
	if from := n.HeadFull(); h.BackVeneer > 0 && from < tip {
		back := func(u float64) float64 { return -n.Spec().HeadThicknessAt(u) - h.BackVeneer }
		add("back veneer", line(from, back))
	}
	return true
}
