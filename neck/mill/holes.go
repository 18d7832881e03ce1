package mill

import (
	"math"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

// Names of layers of holes that are not drilled from the glue face or the face.
const (
	LayerBackHoles       = "BACK_HOLES" // seen from the glue face, through the wood
	LayerBackCounterbore = "BACK_COUNTERBORES"
	LayerSideHoles       = "SIDE_HOLES_" // and the side that they are drilled from; in the plane of the side view
	LayerSideOutline     = "SIDE_OUTLINE"
	LayerEndHoles        = "END_HOLES" // in the plane of the end at the body, seen from the body
)

// Plane is a plane that layers are drawn in, apart from the top view.
type Plane struct {
	At    mesh.Vec2 // of its datum, from that of the top view
	Words string    // which one it is
	Layer []Layer   // from its own datum
}

// Planes returns those that the neck has holes in besides the glue face: that of an
// angled headstock's face, that of the side view and that of the end. They lie below
// the top view, each under the one before.
func (s *Setup) Planes(u spec.Unit) []Plane {
	var out []Plane
	step := 50 * math.Ceil((2*s.Hi.Y+10)/50)
	drop := 0.0
	add := func(p Plane) {
		if len(p.Layer) > 0 {
			drop -= step
			p.At = mesh.Vec2{Y: drop}
			out = append(out, p)
		}
	}
	if face := full(s.face()); s.tilted() {
		for i := range face {
			face[i].Name = FaceLayers + face[i].Name
		}
		add(Plane{Words: join("in the plane of the headstock's face, x along it from the nut", s.faceDepths(u)), Layer: face})
	}
	add(s.sidePlane(u))
	add(s.endPlane(u))
	return out
}

// tilted reports whether the headstock's face lies at an angle to the glue plane.
func (s *Setup) tilted() bool {
	h := s.Neck.Spec().Headstock
	return h != nil && h.Angle != 0
}

// full returns the layers with something on them.
func full(layers []Layer) []Layer {
	var out []Layer
	for _, l := range layers {
		if len(l.Loops)+len(l.Lines) > 0 {
			out = append(out, l)
		}
	}
	return out
}

// backHoles returns the layers of holes that are drilled from the back of the heel, in
// the top view.
func (s *Setup) backHoles() []Layer {
	holes, wide := Layer{Name: LayerBackHoles}, Layer{Name: LayerBackCounterbore}
	for _, h := range s.Neck.BoltHoles() {
		at := mesh.Vec2{X: h.From[0], Y: h.From[1]}
		holes.Loops = append(holes.Loops, Circle(at, h.Diameter))
		if h.CounterboreDepth > 0 {
			wide.Loops = append(wide.Loops, Circle(at, h.Counterbore))
		}
	}
	return []Layer{holes, wide}
}

// sidePlane returns the holes that lie across the headstock: x along the neck, y up.
func (s *Setup) sidePlane(u spec.Unit) Plane {
	n := s.Neck
	p := Plane{Words: "in the plane of the side view, z up, seen from the " + n.SideName(neck.MinusY) + " side"}
	var depths []string
	for _, side := range n.Sides() {
		l := Layer{Name: LayerSideHoles + strings.ToUpper(n.SideName(side))}
		for i, t := range n.Tuners() {
			if !t.Across() {
				continue
			}
			end, out := n.HoleAcross(i)
			if (out < 0) != (side == neck.MinusY) {
				continue
			}
			at := n.OnFace(t.U, 0, n.Spec().Headstock.FaceVeneer-t.Below)
			l.Loops = append(l.Loops, Circle(mesh.Vec2{X: at.X, Y: at.Z}, t.Hole))
			depths = append(depths, u.Rounded(math.Abs(out-end)))
		}
		if len(l.Loops) > 0 {
			p.Layer = append(p.Layer, l)
		}
	}
	if len(depths) > 0 {
		view := gauge.SideView(n).Outline
		p.Layer = append(p.Layer, Layer{Name: LayerSideOutline, Lines: [][]mesh.Vec2{append(view[:len(view):len(view)], view[0])}})
		p.Words = join(p.Words, "holes as deep from the outline as "+strings.Join(once(depths), ", "))
	}
	return p
}

// endPlane returns the holes in the end at the body: x to the side of positive y, y up
// along the end from the glue plane.
func (s *Setup) endPlane(u spec.Unit) Plane {
	p := Plane{Words: "in the plane of the end at the body, up along it from the glue plane, seen from the body"}
	l := Layer{Name: LayerEndHoles}
	var depths []string
	for _, h := range s.Neck.InsertHoles() {
		cos := math.Abs(h.Into[0])
		l.Loops = append(l.Loops, Circle(mesh.Vec2{X: h.From[1], Y: h.From[2] / cos}, h.Diameter))
		depths = append(depths, u.Rounded(h.Depth))
	}
	if len(l.Loops) > 0 {
		p.Layer = []Layer{l}
		p.Words = join(p.Words, "holes as deep as "+strings.Join(once(depths), ", "))
	}
	return p
}

// faceDepths says how deep the wider parts of the headstock's holes are.
func (s *Setup) faceDepths(u spec.Unit) string {
	var face, back []string
	for _, t := range s.Neck.Tuners() {
		if t.Across() {
			continue
		}
		if t.FaceDepth > 0 {
			face = append(face, u.Rounded(t.FaceDepth))
		}
		if t.BackDepth > 0 {
			back = append(back, u.Rounded(t.BackDepth))
		}
	}
	var out []string
	if len(face) > 0 {
		out = append(out, "counterbores "+strings.Join(once(face), ", ")+" deep")
	}
	if len(back) > 0 {
		out = append(out, "those of the back "+strings.Join(once(back), ", ")+" deep from the back")
	}
	return strings.Join(out, ", ")
}

// BackWords says of the holes in the top view that are drilled from the back how deep
// they are, "" where there are none.
func (s *Setup) BackWords(u spec.Unit) string {
	var out []string
	if holes := s.Neck.BoltHoles(); len(holes) > 0 {
		var deep, wide []string
		for _, h := range holes {
			deep = append(deep, u.Rounded(h.Depth))
			if h.CounterboreDepth > 0 {
				wide = append(wide, u.Rounded(h.CounterboreDepth))
			}
		}
		words := "BACK_: drilled from the back of the heel, seen through the wood; holes " + strings.Join(once(deep), ", ") + " deep"
		if len(wide) > 0 {
			words += ", counterbores " + strings.Join(once(wide), ", ")
		}
		out = append(out, words)
	}
	if !s.tilted() {
		if words := s.faceDepths(u); words != "" {
			out = append(out, "headstock: "+words)
		}
	}
	return strings.Join(out, "; ")
}

func join(a, b string) string {
	if b == "" {
		return a
	}
	return a + "; " + b
}

// once returns each word once, in the order of their first places.
func once(words []string) []string {
	var out []string
	known := map[string]bool{}
	for _, w := range words {
		if !known[w] {
			known[w] = true
			out = append(out, w)
		}
	}
	return out
}
