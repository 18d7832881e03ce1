package neck

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck/outline"
	"neckloft/neck/spec"
)

// faceFrame is the frame of the headstock's face: u, y and w.
func (n *Neck) faceFrame() brep.Frame {
	f := &n.head
	o := f.onFace(0, 0, 0)
	return brep.Frame{Origin: o, X: f.onFace(1, 0, 0).Sub(o), Y: mesh.Vec{Y: 1}, Z: f.onFace(0, 0, 1).Sub(o)}
}

// FaceCutter returns what lies over the finished face of the headstock, veneer
// included, below a level top at the glue plane: nil where there is no face of its
// own.
func (n *Neck) FaceCutter() (*brep.Solid, error) {
	h, f, l := n.spec.Headstock, &n.head, n.head.lean
	if h == nil || f.sin == 0 && h.Step == 0 {
		return nil, nil
	}
	if f.sin == 0 && n.coveRun < 1e-9 && math.Abs(n.faceVeneer()-h.Step) <= VeneerLevel {
		return nil, nil
	}
	const name = "face of the headstock"
	w := f.most() + 40
	far := -n.loftStart() + 30
	if f.sin == 0 {
		x0, slope := -f.shelf, 0.0
		if l != nil {
			x0, slope = l.x0, l.slope
		}
		k := math.Hypot(1, slope)
		frame := brep.Frame{Origin: mesh.Vec{X: x0}, X: mesh.Vec{X: -1 / k, Y: slope / k}, Y: mesh.Vec{Z: 1}, Z: mesh.Vec{X: slope / k, Y: 1 / k}}
		return brep.Prism(name, frame, n.exactCove(far+math.Abs(slope)*w), -w-far*math.Abs(slope), w+far*math.Abs(slope))
	}
	plane := func(x float64) float64 { return f.sin/f.cos*(x+f.shelf) + n.faceVeneer()/f.cos }
	if l == nil {
		const over = 3.0
		begin := (over-n.faceVeneer()/f.cos)*f.cos/f.sin - f.shelf
		line := []mesh.Vec2{{X: begin, Y: over}, {X: -far, Y: over}, {X: -far, Y: plane(-far)}}
		frame := brep.Frame{X: mesh.Vec{X: 1}, Y: mesh.Vec{Z: 1}, Z: mesh.Vec{Y: -1}}
		return brep.Prism(name, frame, polygon(line), -w, w)
	}
	top := math.Max(3, plane(math.Max(l.at(w), l.at(-w)))+3)
	var low, high []mesh.Vec
	for _, p := range []mesh.Vec2{{X: -far, Y: -w}, {X: l.at(-w), Y: -w}, {X: l.at(w), Y: w}, {X: -far, Y: w}} {
		low, high = append(low, mesh.Vec{X: p.X, Y: p.Y, Z: plane(p.X)}), append(high, mesh.Vec{X: p.X, Y: p.Y, Z: top})
	}
	return brep.Prismoid(name, low, high)
}

// polygon returns the closed outline through points.
func polygon(points []mesh.Vec2) []outline.Segment {
	var out []outline.Segment
	for i, p := range points {
		out = append(out, outline.NewLine(p, points[(i+1)%len(points)]))
	}
	return out
}

// VeneerLevel is how far, in mm, a veneer's face on a stepped headstock may be off the
// glue plane for the exact solid to have it level with that: only the cove is cut then.
const VeneerLevel = 0.004

// exactCove returns what is cut over a stepped face, seen along the end of its
// shelf: square to that from it on, and up.
func (n *Neck) exactCove(far float64) []outline.Segment {
	h := n.spec.Headstock
	const top = 3.0
	run := n.coveRun / n.head.lean.stretch()
	floor := n.faceVeneer() - h.Step
	p := func(x, y float64) mesh.Vec2 { return mesh.Vec2{X: x, Y: y} }
	if run < 1e-9 {
		return polygon([]mesh.Vec2{p(0, top), p(0, floor), p(far, floor), p(far, top)})
	}
	// The cove goes on up over the shelf, where there is no wood: its end must not lie
	// in the glue plane.
	centre := p(run, h.Cove-h.Step)
	start := math.Asin(math.Min(1, run/h.Cove))
	up := start + math.Min(0.7/h.Cove, 0.5)
	arc := outline.NewArc(centre, h.Cove, -math.Pi/2-up, -math.Pi/2)
	lip := arc.Start()
	out := []outline.Segment{outline.NewLine(p(lip.X, top), lip), arc}
	at := arc.End()
	if math.Abs(floor) <= VeneerLevel {
		return append(out, outline.NewLine(at, p(run, top)), outline.NewLine(p(run, top), p(lip.X, top)))
	}
	if n.faceVeneer() > 0 {
		out = append(out, outline.NewLine(at, p(run, floor)))
		at = p(run, floor)
	}
	return append(out, outline.NewLine(at, p(far, floor)), outline.NewLine(p(far, floor), p(far, top)), outline.NewLine(p(far, top), p(lip.X, top)))
}

// outlineOff is how far beside the wood's edge an exact outline begins at the end of
// the shelf, in mm, where it would touch it, and run along it under a tilted face; it
// is on the outline itself outlineLead further on.
const (
	outlineOff  = 0.004
	outlineLead = 1.0
)

// HeadCutters returns what outline, slots and pocket take from the headstock.
func (n *Neck) HeadCutters() ([]*brep.Solid, error) {
	h := n.spec.Headstock
	if h == nil {
		return nil, nil
	}
	frame := n.faceFrame()
	var out []*brep.Solid
	add := func(name string, path []outline.Segment, below, top float64) error {
		s, err := brep.Prism(name, frame, path, below, top)
		if err != nil {
			return fmt.Errorf("cutting %s: %w", name, err)
		}
		out = append(out, s)
		return nil
	}
	veneer, below := n.faceVeneer(), -n.headBottom()
	top := math.Max(h.Step, veneer) + airAbove
	if n.head.edge != nil {
		// Past all of the block that it is cut from.
		if err := add("outline of the headstock", n.exactOutline(), below-1, top+3+n.exactRaw()); err != nil {
			return nil, err
		}
	}
	for i, s := range n.head.slots {
		top += 0.05
		if err := add(fmt.Sprintf("slot %d", i+1), slotPath(s), below, top); err != nil {
			return nil, err
		}
	}
	if p := h.Pocket; p != nil {
		top += 0.05
		if err := add("pocket of the headstock", pocketPath(p), veneer-p.Depth, top); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// exactRaw is how high over the face the top of the block may stand that the face is
// cut from.
func (n *Neck) exactRaw() float64 {
	if n.head.sin == 0 {
		return 0
	}
	return (n.head.edge.Tip + 10) * n.head.sin
}

// exactOutline returns what lies outside of the outline: from beside the shelf
// around the tip, entering the wood's side by a slanted line.
func (n *Neck) exactOutline() []outline.Segment {
	o := n.head.edge
	segs := append([]outline.Segment(nil), o.Segments...)
	segs = append(besideEdge(segs[0], -1), segs[1:]...)
	k := len(segs) - 1
	last := besideEdge(segs[k].Reversed(), 1)
	segs = segs[:k]
	for i := range last {
		segs = append(segs, last[len(last)-1-i].Reversed())
	}
	k = len(segs) - 1
	const lead = 2.0
	bass, treble := o.Ends()
	wide := n.ExactHeadHalf() + 5
	tip, before := o.Tip+beyondTip+10, o.From-lead
	points := []mesh.Vec2{segs[k].End(), {X: before, Y: treble + lead}, {X: before, Y: wide}, {X: tip, Y: wide},
		{X: tip, Y: -wide}, {X: before, Y: -wide}, {X: before, Y: bass - lead}, segs[0].Start()}
	for i := range len(points) - 1 {
		segs = append(segs, outline.NewLine(points[i], points[i+1]))
	}
	return segs
}

// besideEdge returns the first piece of an outline so that it begins beside the wood's
// edge, towards side.
func besideEdge(s outline.Segment, side float64) []outline.Segment {
	length := s.At(1e-3).Sub(s.Start()).Norm() * 1e3
	t := math.Min(1, outlineLead/length)
	lead := s.Between(0, t)
	off := mesh.Vec2{Y: side * outlineOff}
	if s.Kind == outline.Line {
		lead = outline.NewLine(lead.Start().Add(off), lead.End())
	} else {
		p, q := lead.Start(), lead.End()
		const h = 1e-4
		a, b := lead.At(h).Sub(p).Scale(1/(3*h)), q.Sub(lead.At(1-h)).Scale(1/(3*h))
		lead = outline.NewCubic(p.Add(off), p.Add(a).Add(off.Scale(2./3)), q.Sub(b), q)
	}
	if t == 1 {
		return []outline.Segment{lead}
	}
	return []outline.Segment{lead, s.Between(t, 1)}
}

// ExactHeadHalf returns half the width of the block that an outline is cut from in an
// exact solid.
func (n *Neck) ExactHeadHalf() float64 { return n.head.most() + 3 }

// slotPath returns a slot's edge in the plane of the face.
func slotPath(s spec.HeadSlot) []outline.Segment {
	r := s.Width / 2
	a, b := mesh.Vec2{X: s.U + r, Y: s.Y}, mesh.Vec2{X: s.U + s.Length - r, Y: s.Y}
	first, last := outline.NewArc(a, r, math.Pi/2, 1.5*math.Pi), outline.NewArc(b, r, -math.Pi/2, math.Pi/2)
	return []outline.Segment{first, outline.NewLine(first.End(), last.Start()), last, outline.NewLine(last.End(), first.Start())}
}

// pocketPath returns the pocket's edge in the plane of the face.
func pocketPath(p *spec.HeadPocket) []outline.Segment {
	r := p.Round
	var out []outline.Segment
	var at, first mesh.Vec2
	for i, c := range []mesh.Vec2{
		{X: p.U + p.Length - r, Y: p.Width/2 - r}, {X: p.U + r, Y: p.Width/2 - r},
		{X: p.U + r, Y: r - p.Width/2}, {X: p.U + p.Length - r, Y: r - p.Width/2},
	} {
		arc := outline.NewArc(c, math.Max(r, 1e-9), math.Pi/2*float64(i), math.Pi/2*float64(i+1))
		if i == 0 {
			first = arc.Start()
		} else {
			out = append(out, outline.NewLine(at, arc.Start()))
		}
		if r > 1e-6 {
			out = append(out, arc)
		}
		at = arc.End()
	}
	return append(out, outline.NewLine(at, first))
}

// TunerCutters returns what the tuners' holes take out.
func (n *Neck) TunerCutters() ([]*brep.Solid, error) {
	h := n.spec.Headstock
	if h == nil {
		return nil, nil
	}
	below := -n.headBottom()
	top := math.Max(h.Step, n.faceVeneer()) + airAbove + 0.5
	var out []*brep.Solid
	for i, t := range n.head.tuners {
		top += 0.05
		origin, dir, rings := n.tunerBody(t, below-0.1*float64(i+1), top)
		s, err := exactTurned(fmt.Sprintf("tuner %d", i+1), origin, dir, rings)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// exactTurned returns a turned body as an exact solid. Places along its axis may fall.
func exactTurned(name string, origin, dir mesh.Vec, rings []turnedRing) (*brep.Solid, error) {
	if rings[0].at > rings[len(rings)-1].at {
		dir = dir.Scale(-1)
		flipped := make([]turnedRing, len(rings))
		for i, r := range rings {
			flipped[i] = turnedRing{-r.at, r.radius}
		}
		rings = flipped
	}
	var list []brep.Ring
	for _, r := range rings {
		list = append(list, brep.Ring{At: r.at, Radius: r.radius})
	}
	return brep.Turned(name, origin, dir, list...)
}
