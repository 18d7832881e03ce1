package gauge

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// HeadViews returns the drilling sheet of the headstock, its true size in the
// plane of its face and not as the top view shows it, and after it a list of its
// places and sizes, on as many sheets as it takes. The tip is on the left and the treble side up, as in the top view.
// It is an error if the neck has no headstock.
func HeadViews(n *neck.Neck) ([]Sheet, error) {
	s := n.Spec()
	h := s.Headstock
	if h == nil {
		return nil, fmt.Errorf("%s has no headstock, and so no sheet of one; allowed: a spec with [headstock]", s.Name)
	}
	d := headDrawing{n: n, s: s}
	d.sheet = Sheet{Name: "headstock", Note: "The headstock in the plane of its face, true to size, seen square on it: " + n.SideName(neck.PlusY) + " side up, tip on the left. " +
		"Full: outline, slots and holes to cut, break of the face. Dashed: nut, centreline, strings, wider parts of holes. " +
		"Places are from the nut's front along the face and from the centreline, bass -, treble +. Measure both check lines before you drill."}
	d.edge()
	d.lines()
	d.cuts()
	d.strings()
	d.checkLines()
	return append([]Sheet{d.sheet}, listSheets(d.list())...), nil
}

// headDrawing is the drilling sheet while it is made.
type headDrawing struct {
	n     *neck.Neck
	s     *spec.Spec
	sheet Sheet
	tip   float64 // u of the tip
	least float64 // the least and the greatest y of the wood
	most  float64
}

// onSheet returns the point of the sheet at u along the face and y across.
func onSheet(p mesh.Vec2) mesh.Vec2 { return mesh.Vec2{X: -p.X, Y: p.Y} }

func (d *headDrawing) mark(name string, dashed bool, points ...mesh.Vec2) {
	for i := range points {
		points[i] = onSheet(points[i])
	}
	d.sheet.Marks = append(d.sheet.Marks, Mark{name, points, dashed})
}

func (d *headDrawing) label(u, y float64, text string) {
	d.sheet.Labels = append(d.sheet.Labels, Label{onSheet(mesh.Vec2{X: u, Y: y}), text})
}

// len prints a length to the hundredth of a millimetre.
func (d *headDrawing) len(mm float64) string { return d.s.Units.Rounded(mm) }

// edge lays the outline: from the nut over the shelf, and around the tip.
func (d *headDrawing) edge() {
	n := d.n
	loop := HeadLoop(n, sheetTolerance)
	for i := range loop {
		loop[i] = onSheet(loop[i])
	}
	d.sheet.Outline = Simplify(loop)
	lo, hi := mesh.LoopBounds(loop)
	d.tip, d.least, d.most = -lo.X, lo.Y, hi.Y
	if e := n.HeadEdge(); e != nil {
		d.tip, d.least, d.most = e.Tip, math.Min(d.least, e.Least), math.Max(d.most, e.Most)
	}
}

// HeadLoop returns the edge of a headstock with its shelf in the plane of its
// face, X along it from the nut and Y across, from the nut's bass end around
// the tip to its treble end, with chords within e.
func HeadLoop(n *neck.Neck, e float64) []mesh.Vec2 {
	var bass, treble []mesh.Vec2
	h, shelf := n.Spec().Headstock, n.Spec().ShelfReachU()
	// From the end of a nut that leans that lies nearest to the body.
	first := 0.0
	if k := n.Spec().FretSlope(0); k != 0 {
		first = -math.Abs(k) * n.BoardHalfWidth(0)
	}
	side := func(u float64) {
		b, t := n.Edges(n.HeadX(u))
		bass, treble = append(bass, mesh.Vec2{X: u, Y: b}), append(treble, mesh.Vec2{X: u, Y: t})
	}
	const steps = 24
	for i := range steps + 1 {
		side(first + (shelf-first)*float64(i)/steps)
	}
	if edge := n.HeadEdge(); edge != nil {
		bass = append(bass, edge.Loop(e)...)
	} else {
		// The paddle widens along the neck; along its face these are the same.
		const step = 0.5
		for u := shelf + step; u < h.Length; u += step {
			side(u)
		}
		side(h.Length)
	}
	slices.Reverse(treble)
	return append(bass, treble...)
}

// lines marks nut, breaks and centreline.
func (d *headDrawing) lines() {
	n, h := d.n, d.s.Headstock
	across := func(name string, u float64, dashed bool) {
		b, t := d.least, d.most
		if u <= d.s.ShelfReachU() || n.HeadEdge() == nil {
			b, t = n.Edges(n.HeadX(u))
		} else if ys := n.HeadEdge().Across(u); len(ys) > 1 {
			b, t = ys[0], ys[len(ys)-1]
		}
		d.mark(name, dashed, mesh.Vec2{X: u, Y: b}, mesh.Vec2{X: u, Y: t})
	}
	ends := n.ShelfLine()
	for i := range ends {
		ends[i].X = n.HeadU(ends[i].X)
	}
	d.mark("break of the face", false, ends[:]...)
	if h.FaceVeneer > 0 && h.Angle > 0 {
		if _, u := n.VeneerBreak(); u < d.tip {
			across("break of the veneer's face", u, true)
		}
	}
	d.mark("centreline", true, mesh.Vec2{X: -6}, mesh.Vec2{X: d.tip + 6})
	d.label(-5, d.most+labelOff, "nut")
	_, t := n.Edges(0)
	beside := -15.0
	if k := n.Y(d.s.FretSlope(0)); k != 0 { // no longer than the nut
		d.mark("nut", true, mesh.Vec2{X: k * t, Y: -t}, mesh.Vec2{X: -k * t, Y: t})
		beside -= math.Abs(k) * t
	} else {
		d.mark("nut", true, mesh.Vec2{Y: d.least}, mesh.Vec2{Y: d.most})
	}
	d.label(beside, t/2, n.SideName(neck.PlusY)+" side")
	d.label(beside, -t/2, n.SideName(neck.MinusY)+" side")
}

// circle returns a circle as a closed loop.
func circle(u, y, diameter float64) []mesh.Vec2 {
	r := diameter / 2
	k := max(16, int(math.Ceil(math.Pi/math.Acos(1-math.Min(sheetTolerance/r, 0.5)))))
	out := make([]mesh.Vec2, k)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(k))
		out[i] = mesh.Vec2{X: u + r*cos, Y: y + r*sin}
	}
	return out
}

// cuts lays holes and slots as what is cut, the rest as lines.
func (d *headDrawing) cuts() {
	h := d.s.Headstock
	cut := func(loop []mesh.Vec2) {
		for i := range loop {
			loop[i] = onSheet(loop[i])
		}
		d.sheet.Holes = append(d.sheet.Holes, loop)
	}
	ring := func(name string, u, y, diameter float64) {
		loop := circle(u, y, diameter)
		d.mark(name, true, append(loop, loop[0])...)
	}
	for _, s := range d.n.HeadSlots() {
		cut(neck.SlotLoop(s, sheetTolerance))
	}
	if p := h.Pocket; p != nil {
		loop := neck.PocketLoop(p, sheetTolerance)
		d.mark("pocket", true, append(loop, loop[0])...)
	}
	for i, t := range d.n.Tuners() {
		name := fmt.Sprintf("tuner %d", i+1)
		if t.Across() {
			a, b := d.n.HoleAcross(i)
			r := t.Hole / 2
			d.mark(name, true, mesh.Vec2{X: t.U, Y: a}, mesh.Vec2{X: t.U, Y: b})
			for _, off := range []float64{-r, r} {
				d.mark(name, true, mesh.Vec2{X: t.U + off, Y: a}, mesh.Vec2{X: t.U + off, Y: b})
			}
			d.label(t.U, b+math.Copysign(labelOff, b), fmt.Sprint(i+1))
			continue
		}
		cut(circle(t.U, t.Y, t.Hole))
		if t.FaceDepth > 0 {
			ring(name, t.U, t.Y, t.FaceDiameter)
		}
		if t.BackDepth > 0 {
			ring(name, t.U, t.Y, t.BackDiameter)
		}
		arm := 0.75 * math.Max(t.Hole, math.Max(t.FaceDiameter, t.BackDiameter))
		d.mark(name, false, mesh.Vec2{X: t.U - arm, Y: t.Y}, mesh.Vec2{X: t.U + arm, Y: t.Y})
		d.mark(name, false, mesh.Vec2{X: t.U, Y: t.Y - arm}, mesh.Vec2{X: t.U, Y: t.Y + arm})
		d.label(t.U+arm+1.5, t.Y+math.Copysign(arm*0.8, t.Y), fmt.Sprint(i+1))
	}
}

// strings marks the strings.
func (d *headDrawing) strings() {
	for _, r := range d.n.StringRuns() {
		d.mark(fmt.Sprintf("string %d", r.String), true, r.NutFace, r.PostFace)
	}
}

// checkLines lays a dimension along the face and one across, to be measured on
// the paper: under the drawing and on its left.
func (d *headDrawing) checkLines() {
	const off, tick = 13.0, 2.0
	y := d.least - off
	d.mark("check line", false, mesh.Vec2{Y: y}, mesh.Vec2{X: d.tip, Y: y})
	d.label(d.tip/2, y-labelOff+1, "check line: nut to tip along the face "+d.len(d.tip))
	for _, u := range []float64{0, d.tip} {
		d.mark("check line", false, mesh.Vec2{X: u, Y: y - tick}, mesh.Vec2{X: u, Y: y + tick})
	}
	u := d.tip + off
	d.mark("check line", false, mesh.Vec2{X: u, Y: d.least}, mesh.Vec2{X: u, Y: d.most})
	d.label(u, d.most+labelOff, "check line: "+d.len(d.most-d.least))
	for _, v := range []float64{d.least, d.most} {
		d.mark("check line", false, mesh.Vec2{X: u - tick, Y: v}, mesh.Vec2{X: u + tick, Y: v})
	}
}

// list returns the places and sizes, one to a row.
func (d *headDrawing) list() (rows []string) {
	h := d.s.Headstock
	row := func(text string) { rows = append(rows, text) }
	if h.Angle > 0 {
		row(fmt.Sprintf("angle %s°: the face is %s from nut to tip, and %s in the top view", spec.Number(h.Angle*180/math.Pi, 2), d.len(d.tip), d.len(-d.n.HeadX(d.tip))))
	} else {
		row(fmt.Sprintf("flat, stepped down by %s", d.len(h.Step)))
	}
	row(d.thickness())
	if e := d.n.HeadEdge(); e != nil {
		unit, area := "cm²", e.Area()/100
		if d.s.Units == spec.Inch {
			unit, area = "in²", e.Area()/(spec.MillimetresPerInch*spec.MillimetresPerInch)
		}
		row(fmt.Sprintf("the face beyond the shelf, holes counted in: %.1f %s", area, unit))
	}
	if h.FaceVeneer > 0 && h.Angle > 0 {
		along, _ := d.n.VeneerBreak()
		row(fmt.Sprintf("in the glue plane the wood breaks %s from the nut, the veneer's face %s farther, at %s", d.len(d.s.Break()), d.len(along), d.len(d.s.Break()+along)))
	}
	for i, s := range h.Slots {
		row(fmt.Sprintf("slot %d: u %s to %s, middle at y %s; %s wide, round ends", i+1, d.len(s.U), d.len(s.U+s.Length), d.len(s.Y), d.len(s.Width)))
	}
	if p := h.Pocket; p != nil {
		row(fmt.Sprintf("pocket: u %s to %s; %s wide, %s deep, corners %s", d.len(p.U), d.len(p.U+p.Length), d.len(p.Width), d.len(p.Depth), d.len(p.Round)))
	}
	for i, t := range d.s.Tuners {
		row("tuner " + d.tuner(i, t))
	}
	for _, r := range d.n.StringRuns() {
		deg := func(rad float64) string {
			return fmt.Sprintf("%.1f°", math.Round(rad*1800/math.Pi)/10+0) // + 0: no minus sign before 0
		}
		row(fmt.Sprintf("string %d to tuner %d: %s to the centreline in the top view, breaks by %s over the nut, presses with %s N",
			r.String, r.Tuner, deg(r.Angle), deg(r.Break), fmt.Sprintf("%.1f", r.Force)))
	}
	return rows
}

// thickness says how thick the headstock is.
func (d *headDrawing) thickness() string {
	h := d.s.Headstock
	text := fmt.Sprintf("wood square to the face: %s", d.len(h.Thickness))
	if h.TipThickness != 0 {
		text += fmt.Sprintf(" at u = %s, %s at u = %s", d.len(d.s.Break()), d.len(h.TipThickness), d.len(h.Length))
	}
	for _, v := range []struct {
		mm float64
		on string
	}{{h.FaceVeneer, "face"}, {h.BackVeneer, "back"}} {
		if v.mm > 0 {
			text += fmt.Sprintf("; veneer on the %s %s more", v.on, d.len(v.mm))
		}
	}
	if h.FaceVeneer > 0 || h.BackVeneer > 0 {
		text += "; depths count with veneers on"
	}
	return text
}

// tuner says where a tuner's hole is, and what it is.
func (d *headDrawing) tuner(i int, t spec.Tuner) string {
	words := []string{fmt.Sprintf("%d: u %s, y %s", i+1, d.len(t.U), d.len(t.Y))}
	add := func(format string, args ...any) { words = append(words, fmt.Sprintf(format, args...)) }
	if t.Across() {
		add("hole %s across, %s under the face", d.len(t.Hole), d.len(t.Below))
	} else {
		add("hole %s", d.len(t.Hole))
	}
	if t.FaceDepth > 0 {
		add("face %s, %s deep", d.len(t.FaceDiameter), d.len(t.FaceDepth))
	}
	if t.BackDepth > 0 {
		add("back %s, %s deep", d.len(t.BackDiameter), d.len(t.BackDepth))
	}
	return strings.Join(words, "; ")
}
