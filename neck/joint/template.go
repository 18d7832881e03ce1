package joint

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

// Template is a plate for the body or for the neck, at full size. Its plane is
// the top view, x along the neck and y across, the side of positive y up, or for the heel's face
// y across and the glue plane at y = 0, seen from the body.
type Template struct {
	Name   string
	Region mesh.Region // the plate with its opening or holes
	Marks  []gauge.Mark
	Labels []gauge.Label
	Notes  []string // what it is for, and what the cutter does not reach

	Depth float64 // of the pocket or mortise under the body's top, mm; 0 for a plate of holes
}

// Sizes of a template, in mm.
const (
	plateMargin = 35.0  // of plate round the opening, for a router's base and a clamp
	edgeMark    = 10.0  // length of the line at the body's edge, on either side
	runOut      = 12.0  // of the opening before the body's edge, for the bit to come in
	plateChord  = 0.005 // what chords may miss of an arc
)

// Pocket returns the template for the pocket or mortise in the body, and an
// error where the neck has none.
func Pocket(n *neck.Neck) (Template, error) {
	s := n.Spec()
	h, of := s.Heel, Of(s)
	j := &of
	switch {
	case h == nil:
		return Template{}, fmt.Errorf("a template needs a heel; add [heel] to the spec")
	case h.Through():
		return Template{}, fmt.Errorf("a neck-through lies in no pocket")
	case InPocket(s):
	case !j.Tenoned():
		return Template{}, fmt.Errorf("a butt joint has no pocket; its holes are the other template")
	}
	o := pocketOutline(n, j)
	t := Template{Name: "pocket", Depth: n.HeelDepth() - j.Stand}
	if j.Tenoned() {
		t.Name, t.Depth = "mortise", n.TenonDepth()-j.Stand
	}
	opening := rounded(o.corners, plateChord)
	lo, hi := mesh.LoopBounds(opening)
	a, b := lo.Sub(mesh.Vec2{X: plateMargin, Y: plateMargin}), hi.Add(mesh.Vec2{X: plateMargin, Y: plateMargin})
	t.Region = mesh.Region{
		Outer: []mesh.Vec2{a, {X: b.X, Y: a.Y}, b, {X: a.X, Y: b.Y}},
		Holes: [][]mesh.Vec2{opening},
	}
	line := func(name string, dashed bool, points ...mesh.Vec2) {
		t.Marks = append(t.Marks, gauge.Mark{Name: name, Points: points, Dashed: dashed})
	}
	line("centreline", true, mesh.Vec2{X: a.X}, mesh.Vec2{X: lo.X})
	line("centreline", true, mesh.Vec2{X: hi.X}, mesh.Vec2{X: b.X})
	line("body's edge", true, mesh.Vec2{X: o.from, Y: lo.Y - edgeMark}, mesh.Vec2{X: o.from, Y: lo.Y})
	line("body's edge", true, mesh.Vec2{X: o.from, Y: hi.Y}, mesh.Vec2{X: o.from, Y: hi.Y + edgeMark})
	line("the neck", true, append(o.neck, o.neck[0])...)
	t.Labels = []gauge.Label{
		{At: mesh.Vec2{X: (a.X + b.X) / 2, Y: b.Y - plateMargin/2 + 4}, Text: s.Name + ", " + t.Name},
		{At: mesh.Vec2{X: (a.X + b.X) / 2, Y: b.Y - plateMargin/2 - 4}, Text: "clearance " + s.PrintUnit().Format(j.Clearance) + ", bit " + bitWords(s, j)},
		{At: mesh.Vec2{X: (a.X + b.X) / 2, Y: a.Y + plateMargin/2}, Text: n.SideName(neck.MinusY) + " side"},
		{At: mesh.Vec2{X: (a.X + o.from) / 2, Y: 3.5}, Text: "nut"},
	}
	t.Notes = pocketNotes(s, j, t, o)
	return t, nil
}

func bitWords(s *spec.Spec, j *spec.Joint) string {
	if j.Cutter == 0 {
		return "none, corners square"
	}
	return s.PrintUnit().Format(j.Cutter)
}

// outline is the opening of a pocket or mortise in the top view.
type outline struct {
	corners []corner
	neck    []mesh.Vec2 // what lies in it, closed
	from    float64     // x of the body's edge
	tight   float64     // radius that the neck's corners need at least to go in; 0 where they go in as they are
	has     float64     // radius that they have
}

// pocketOutline returns the opening. Its sides lie the clearance outside those of
// the neck, and its corners have the cutter's radius, or that of the neck's own
// corner let out by the clearance if that is larger.
func pocketOutline(n *neck.Neck, j *spec.Joint) outline {
	s := n.Spec()
	c := j.Clearance
	o := outline{from: s.X(s.BodyAt()), has: s.Heel.EndCorner}
	from, end := s.X(s.BodyAt()), n.End()
	root, tail := s.Heel.Width/2, s.Heel.Width/2
	if j.Tenoned() {
		from, end = n.End(), n.Tip()
		root, tail = n.TenonWidth(from, 0)/2, n.TenonWidth(end, 0)/2
		o.from, o.has = from, j.Corner
	}
	r := math.Max(j.Cutter/2, o.has+c*boolTo(o.has > 0))
	if j.Kind != spec.JointDovetail {
		o.tight = leastCorner(j.Cutter/2, c)
		if o.tight <= o.has+1e-9 {
			o.tight = 0
		}
	} else if j.Cutter > 0 {
		o.tight = j.Cutter / 2
	}
	// The sides slope by the flare: moved out square to themselves.
	slope := (tail - root) / (end - from)
	out := c * math.Hypot(1, slope)
	at := func(x float64) float64 { return root + slope*(x-from) + out }
	mouth, far := o.from-runOut, end+c
	o.corners = []corner{
		{mesh.Vec2{X: mouth, Y: -at(from)}, 0},
	}
	if slope != 0 {
		o.corners = append(o.corners, corner{mesh.Vec2{X: from, Y: -at(from)}, 0})
	}
	o.corners = append(o.corners,
		corner{mesh.Vec2{X: far, Y: -at(far)}, r},
		corner{mesh.Vec2{X: far, Y: at(far)}, r})
	if slope != 0 {
		o.corners = append(o.corners, corner{mesh.Vec2{X: from, Y: at(from)}, 0})
	}
	o.corners = append(o.corners, corner{mesh.Vec2{X: mouth, Y: at(from)}, 0})
	o.neck = rounded([]corner{
		{mesh.Vec2{X: from, Y: -root}, 0}, {mesh.Vec2{X: end, Y: -tail}, o.has},
		{mesh.Vec2{X: end, Y: tail}, o.has}, {mesh.Vec2{X: from, Y: root}, 0},
	}, plateChord)
	return o
}

func boolTo(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// leastCorner returns the least radius of the neck's square corner that goes into
// a pocket whose corner has the radius R, with a clearance c on both sides. The
// neck's arc of radius r has its centre c + r from both sides, and must lie in
// the pocket's, whose centre is R from both: (R - c - r) √2 + r <= R.
func leastCorner(R, c float64) float64 {
	if R == 0 {
		return 0
	}
	return math.Max(0, ((R-c)*math.Sqrt2-R)/(math.Sqrt2-1))
}

// pocketNotes say how the template is used, and what its cutter leaves.
func pocketNotes(s *spec.Spec, j *spec.Joint, t Template, o outline) []string {
	u := s.PrintUnit()
	what := "block"
	if j.Tenoned() {
		what = j.Kind
	}
	notes := []string{
		fmt.Sprintf("For a bit with a bearing as wide as itself: the opening is the %s, let out by the clearance of %s on each side.", t.Name, u.Format(j.Clearance)),
		fmt.Sprintf("Depth under the body's top: %s. The dashed line across is the body's edge; the opening goes on before it, for the bit to come in.", u.Rounded(t.Depth)),
	}
	switch {
	case j.Cutter == 0:
		notes = append(notes, "No cutter is named, and the corners are square: a bit does not reach them; cut them with a chisel, or give cutter under [joint].")
	case o.tight > 0 && j.Kind == spec.JointDovetail:
		notes = append(notes, fmt.Sprintf("A bit of %s does not reach into the corners: it leaves a radius of %s there. Cut them with a chisel; do not round the dovetail's edges, which hold the joint.", u.Format(j.Cutter), u.Format(j.Cutter/2)))
	case o.tight > 0:
		notes = append(notes, fmt.Sprintf("A bit of %s does not reach into the corners: it leaves a radius of %s, and the %s has corners of %s. Round those to %s or more, or square the %s's with a chisel.",
			u.Format(j.Cutter), u.Format(j.Cutter/2), what, u.Format(o.has), u.Limit(o.tight, math.Ceil), t.Name))
	}
	if j.Taper != 0 {
		notes = append(notes, fmt.Sprintf("The opening is that of the top. The sides lean in by %s° downwards: tilt the template, or pare them to lines on both ends.", spec.Number(j.Taper*180/math.Pi, 2)))
	}
	if s.Heel.Rake != 0 {
		notes = append(notes, fmt.Sprintf("The heel's face is raked by %s, and so is the %s to the body's top.", s.Heel.RakeWords(), t.Name))
	}
	return notes
}

// Of returns a copy of a spec's joint, that of a plain pocket where it has none.
func Of(s *spec.Spec) spec.Joint {
	if s.Joint == nil {
		return spec.Joint{}
	}
	return *s.Joint
}
