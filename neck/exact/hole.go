package exact

import (
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
)

// bore is a round hole from one plane face into the wood, square to it: its radii
// by the depth that each ends at. It comes out of a plane face where it is
// through, and ends in a floor where not.
type bore struct {
	name       string
	entry      mesh.Vec
	into       mesh.Vec
	steps      []boreStep
	from, exit string // names of the faces; no exit where it is blind
}

type boreStep struct{ depth, radius float64 }

// most returns the greatest radius.
func (b *bore) most() float64 {
	r := 0.0
	for _, s := range b.steps {
		r = math.Max(r, s.radius)
	}
	return r
}

// deep returns the whole depth.
func (b *bore) deep() float64 { return b.steps[len(b.steps)-1].depth }

// Names of the faces that holes begin and end in.
const (
	faceHeel  = "heel, back"
	faceBack  = "headstock, back"
	faceGlue  = "glue plane"
	faceFront = "face of the headstock"
)

// bores returns the holes of a neck, and false where one does not lie wholly in
// plane faces.
func bores(n *neck.Neck) ([]bore, bool) {
	var out []bore
	ok := true
	for _, h := range n.BoltHoles() {
		b := bore{name: "bolt hole", entry: vec(h.From), into: vec(h.Into), from: faceHeel}
		if h.Counterbore > 0 {
			b.steps = append(b.steps, boreStep{h.CounterboreDepth, h.Counterbore / 2})
		}
		b.steps = append(b.steps, boreStep{h.Depth, h.Diameter / 2})
		if h.Depth >= n.HeelDepth()-brep.Same {
			b.steps[len(b.steps)-1].depth, b.exit = n.HeelDepth(), faceGlue
		}
		ok = ok && inHeel(n, &b)
		out = append(out, b)
	}
	for _, t := range n.Tuners() {
		if t.Across() {
			return nil, false
		}
		thick := n.SquareThickness(t.U, t.Y)
		b := bore{name: "tuner hole", entry: n.OnFace(t.U, t.Y, 0), from: faceFront, exit: faceBack}
		b.into = n.OnFace(t.U, t.Y, -1).Sub(b.entry)
		if h := n.Spec().Headstock; h.Angle == 0 && h.Step == 0 {
			b.from = faceGlue // which goes on over the headstock
		}
		if t.FaceDepth > 0 {
			b.steps = append(b.steps, boreStep{t.FaceDepth, t.FaceDiameter / 2})
		}
		if t.BackDepth > 0 {
			b.steps = append(b.steps, boreStep{thick - t.BackDepth, t.Hole / 2}, boreStep{thick, t.BackDiameter / 2})
		} else {
			b.steps = append(b.steps, boreStep{thick, t.Hole / 2})
		}
		ok = ok && inHead(n, &b)
		out = append(out, b)
	}
	return out, ok
}

func vec(p [3]float64) mesh.Vec { return mesh.Vec{X: p[0], Y: p[1], Z: p[2]} }

// clear is how far holes keep from the edges of faces, in mm.
const clear = 0.01

// inHeel reports whether a hole begins in the plane of the heel's back, and
// meets no channel.
func inHeel(n *neck.Neck, b *bore) bool {
	r := b.most() + clear
	x, y := b.entry.X, math.Abs(b.entry.Y)
	s := n.Loft(n.End())
	if _, to := s.Flat(); x-r < n.HeelFull() || x+r > n.End() || y+r > to {
		return false
	}
	for _, c := range n.Channels() {
		if x+r > c.From && x-r < c.To && y-r < c.Width()/2 && b.deep() > n.HeelDepth()-c.DepthAlong(0)-clear {
			return false
		}
	}
	return true
}

// inHead reports whether a hole lies in the plane parts of a headstock that is as
// thick all over.
func inHead(n *neck.Neck, b *bore) bool {
	if n.Spec().Headstock.TipThickness != 0 {
		return false
	}
	r := b.most() + clear
	for _, s := range n.Stretches() {
		if s.Kind != neck.StretchHead {
			continue
		}
		sec := n.Section(s.From)
		_, flat := sec.Flat()
		out := b.entry.Add(b.into.Scale(b.deep()))
		return math.Abs(b.entry.Y)+r < flat &&
			math.Min(b.entry.X, out.X)-r > s.From && math.Max(b.entry.X, out.X)+r < s.To
	}
	return false
}

// layBores makes the faces of the holes, and keeps the loops that they cut into
// others.
func (w *wood) layBores(list []bore) {
	for i := range list {
		b := &list[i]
		depth := 0.0
		var last []*brep.Edge // of the step before
		for k, s := range b.steps {
			first := w.circle(b, depth, s.radius)
			end := w.circle(b, s.depth, s.radius)
			if k == 0 {
				w.loops[b.from] = append(w.loops[b.from], first)
			} else if s.radius < b.steps[k-1].radius {
				w.b.Face(b.name+", shoulder", brep.NewPlane(b.at(depth), b.into.Scale(-1)), false, last, first)
			} else {
				w.b.Face(b.name+", shoulder", brep.NewPlane(b.at(depth), b.into), false, first, last)
			}
			for half, ref := range b.refs() {
				c := brep.Circle{Centre: b.at(depth), Axis: b.into, Ref: ref, Radius: s.radius}
				p, q := first[half], end[half]
				w.b.Face(b.name, brep.Swept{Circle: c, Direction: b.into}, true,
					[]*brep.Edge{p, w.b.Line(p.To.At, q.To.At), q, w.b.Line(p.From.At, q.From.At)})
			}
			depth, last = s.depth, end
		}
		if b.exit != "" {
			w.loops[b.exit] = append(w.loops[b.exit], last)
		} else {
			w.b.Face(b.name+", floor", brep.NewPlane(b.at(depth), b.into.Scale(-1)), false, last)
		}
	}
}

// at returns the point of the axis at a depth.
func (b *bore) at(depth float64) mesh.Vec { return b.entry.Add(b.into.Scale(depth)) }

// refs returns the middles of the two halves that a hole is made of.
func (b *bore) refs() [2]mesh.Vec { return [2]mesh.Vec{{Y: 1}, {Y: -1}} }

// circle returns a circle of a hole as two edges.
func (w *wood) circle(b *bore, depth, radius float64) []*brep.Edge {
	var out []*brep.Edge
	for _, ref := range b.refs() {
		c := brep.Circle{Centre: b.at(depth), Axis: b.into, Ref: ref, Radius: radius}
		out = append(out, w.b.Edge(c, -math.Pi/2, math.Pi/2))
	}
	return out
}
