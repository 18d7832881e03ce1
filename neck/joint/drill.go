package joint

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
)

// Drill returns the templates for the holes of the joint: one for the bolts from
// the heel's back, one for the inserts in the end. There are none where the spec
// gives no holes.
func Drill(n *neck.Neck) []Template {
	var out []Template
	if len(n.BoltHoles()) > 0 {
		out = append(out, boltPlate(n))
	}
	if len(n.InsertHoles()) > 0 {
		out = append(out, insertPlate(n))
	}
	return out
}

// boltPlate is laid on the heel's back: seen from there, so that negative y is
// up. Its edges lie on those of the block.
func boltPlate(n *neck.Neck) Template {
	s := n.Spec()
	h := s.Heel
	half := h.Width / 2
	t := Template{Name: "bolt holes"}
	outer := []corner{
		{mesh.Vec2{X: n.HeelFull(), Y: -half}, 0}, {mesh.Vec2{X: n.FaceX(n.HeelDepth()), Y: -half}, h.EndCorner},
		{mesh.Vec2{X: n.FaceX(n.HeelDepth()), Y: half}, h.EndCorner}, {mesh.Vec2{X: n.HeelFull(), Y: half}, 0},
	}
	t.Region.Outer = rounded(outer, plateChord)
	for _, hole := range n.BoltHoles() {
		// The back seen from below it: negative y up.
		t.hole(mesh.Vec2{X: hole.From[0], Y: -hole.From[1]}, hole.Diameter)
	}
	t.Labels = append(t.Labels, gauge.Label{At: mesh.Vec2{X: (n.HeelFull() + n.End()) / 2, Y: half + 5}, Text: s.Name + ", bolt holes, on the heel's back, " + n.SideName(neck.MinusY) + " side up"})
	u := s.PrintUnit()
	t.Notes = []string{fmt.Sprintf("Laid on the heel's back, its edges on those of the block: %s side up. Mark the centres, drill square to the glue plane.", n.SideName(neck.MinusY))}
	for i := range h.Bolts {
		b := &h.Bolts[i]
		deep := "through to the glue plane"
		if b.Depth != 0 {
			deep = u.Format(b.Depth) + " deep"
		}
		text := fmt.Sprintf("Bolt %d, at x %s: %s, %s.", i+1, u.Rounded(s.X(b.At)), u.Format(b.Diameter), deep)
		if b.Counterbore != 0 {
			text += fmt.Sprintf(" Counterbore %s, %s deep, first.", u.Format(b.Counterbore), u.Format(b.CounterboreDepth))
		}
		t.Notes = append(t.Notes, text)
	}
	return t
}

// insertPlate is laid against the end of the neck: seen from the body, glue plane
// up, positive y on the right.
func insertPlate(n *neck.Neck) Template {
	s := n.Spec()
	t := Template{Name: "insert holes"}
	sec := n.Section(n.Tip())
	t.Region.Outer = faceOutline(&sec)
	rake := s.Heel.Rake
	if s.Joint.Tenoned() {
		rake = 0
	}
	down := func(z float64) float64 { return z / math.Cos(rake) } // along the face
	for i := range t.Region.Outer {
		t.Region.Outer[i].Y = down(t.Region.Outer[i].Y)
	}
	for _, hole := range n.InsertHoles() {
		t.hole(mesh.Vec2{X: hole.From[1], Y: down(hole.From[2])}, hole.Diameter)
	}
	t.Labels = append(t.Labels, gauge.Label{At: mesh.Vec2{Y: 5}, Text: s.Name + ", insert holes, glue plane up, " + n.SideName(neck.PlusY) + " side right"})
	u := s.PrintUnit()
	t.Notes = []string{fmt.Sprintf("Laid on the end that lies against the body, its upper edge on the glue plane: seen from the body, %s side right. Drill square to that end.", n.SideName(neck.PlusY))}
	for i := range s.Joint.Inserts {
		in := &s.Joint.Inserts[i]
		t.Notes = append(t.Notes, fmt.Sprintf("Insert %d, %s below the glue plane: %s, %s deep.", i+1, u.Format(in.Down), u.Format(in.Diameter), u.Format(in.Depth)))
	}
	return t
}

// faceOutline returns a section's outline, y across and z up.
func faceOutline(s *neck.Section) []mesh.Vec2 {
	vec := func(p neck.YZ) mesh.Vec2 { return mesh.Vec2{X: p.Y, Y: p.Z} }
	out := []mesh.Vec2{vec(s.Edge(neck.MinusY))}
	for _, p := range s.Parallel(neck.MinusY, 0, plateChord) {
		out = append(out, vec(p))
	}
	treble := s.Parallel(neck.PlusY, 0, plateChord)
	for i := len(treble) - 1; i >= 0; i-- {
		out = append(out, vec(treble[i]))
	}
	return gauge.Simplify(append(out, vec(s.Edge(neck.PlusY))))
}

// hole adds a hole with a cross over its centre.
func (t *Template) hole(at mesh.Vec2, diameter float64) {
	r := diameter / 2
	t.Region.Holes = append(t.Region.Holes, circle(at, r, plateChord))
	for _, arm := range []mesh.Vec2{{X: r + 2}, {Y: r + 2}} {
		t.Marks = append(t.Marks, gauge.Mark{Name: "centre", Points: []mesh.Vec2{at.Sub(arm), at.Add(arm)}})
	}
}
