package gauge

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Sheet is an outline of the whole neck at full size, with lines to mark on
// the wood.
type Sheet struct {
	Name    string
	Outline []mesh.Vec2 // closed, counter-clockwise
	Holes   [][]mesh.Vec2
	Marks   []Mark
	Labels  []Label
	Note    string // from where it is seen, and what its lines mean
}

// Mark is a line of a sheet that is not its outline.
type Mark struct {
	Name   string
	Points []mesh.Vec2
	Dashed bool // hidden in the view, or not an edge
}

// Label names a point of a sheet.
type Label struct {
	At   mesh.Vec2 // middle of the text
	Text string
}

// sheetTolerance is the largest distance, in mm, of a sheet's outline from
// the true curve.
const sheetTolerance = 0.005

// labelOff is the distance, in mm, of a sheet's labels from its outline.
const labelOff = 4.0

// labelLetter is about the width of a letter of a label.
const labelLetter = 2.0

// labelRow is the distance between two rows of them.
const labelRow = 5.0

// SideView returns the side view of the wood, x along and z up: the
// glue plane and the headstock's face above, and the line of the deepest
// points, with volute and heel, below. It marks the board, the rod channel, the
// nut and the frets, and where the depth is given.
func SideView(n *neck.Neck) Sheet {
	t := Sheet{Name: "side view", Note: fmt.Sprintf("Seen from the %s side, glue face up. Full: outline, nut and frets. "+
		"Dashed: what is hidden or off the wood, and where volute and heel lie.", n.SideName(neck.MinusY))}
	if fretless(n) {
		t.Note = strings.Replace(t.Note, "nut and frets. Dashed:", "nut. Dashed: where frets would be,", 1)
	}
	bottom := traceFrom(n, backStart(n), func(x float64) float64 { return -n.Depth(x) })
	top := trace(n, n.SideTop)
	if n.ShapedEnd() {
		bottom = append(before(bottom, n.FaceX(n.HeelDepth())), n.EndSide()...)
	}
	slices.Reverse(top)
	t.Outline = Simplify(append(bottom, top...))

	s := n.Spec()
	upright := func(name string, x, lo, hi float64, dashed bool) {
		t.Marks = append(t.Marks, Mark{name, []mesh.Vec2{{X: x, Y: lo}, {X: x, Y: hi}}, dashed})
	}
	thick := s.Board.Thickness
	from, to := n.BoardExtent()
	t.Marks = append(t.Marks, Mark{"board", []mesh.Vec2{
		{X: from, Y: 0}, {X: from, Y: thick}, {X: to, Y: thick}, {X: to, Y: 0},
	}, true})
	if h := s.Headstock; h != nil && s.ShelfLeans() {
		// The face beside the shelf's step, from its near end on.
		const steps = 24
		var face []mesh.Vec2
		for i := range steps + 1 {
			x := numeric.Lerp(-s.Break(), -s.ShelfReach(), float64(i)/steps)
			face = append(face, mesh.Vec2{X: x, Y: n.Top(x)})
		}
		t.Marks = append(t.Marks, Mark{"face beside the shelf", Simplify(face), true})
	}
	for _, c := range n.Channels() {
		t.Marks = append(t.Marks, Mark{c.Name, n.ChannelSide(c, sheetTolerance), true})
	}
	if d := n.TenonDepth(); d > 0 {
		t.Marks = append(t.Marks, Mark{"heel's face", []mesh.Vec2{{X: n.End()}, {X: n.FaceX(d), Y: -d}}, false})
	}
	if veneersBeside(n, func(name string, points []mesh.Vec2) { t.Marks = append(t.Marks, Mark{name, points, true}) }) {
		t.Note = strings.Replace(t.Note, "off the wood,", "off the wood, the headstock's veneers,", 1)
	}
	holesBeside(n, func(name string, points []mesh.Vec2) {
		t.Marks = append(t.Marks, Mark{name, points, true})
	})
	eachFret(n, func(fret int, x float64, named bool) {
		upright(fretName(fret), x, -n.Depth(x), n.Top(x), fret > 0 && fretless(n))
		if named {
			t.Labels = append(t.Labels, Label{mesh.Vec2{X: x, Y: thick + labelOff}, fretLabel(fret)})
		}
	})
	eachLandmark(n, func(name string, x, off float64) {
		upright(name, x, -n.Depth(x), n.Top(x), true)
		t.Labels = append(t.Labels, Label{mesh.Vec2{X: x, Y: -n.Depth(x) - off}, name})
	})
	return t
}

// TopView returns the outline of the wood seen from the board's side, x
// along and y across, y up. It marks the centreline, the nut and the
// frets, the rod channel, the board's edges, and the line of the apex where it
// leaves the centreline.
func TopView(n *neck.Neck) Sheet {
	t := Sheet{Name: "top view", Note: fmt.Sprintf("Seen from the board's side, %s side up; on the back it lies the other way round, "+
		"%s side up. Full: outline, nut, frets, rod channel. Dashed: centreline, board, and where volute and heel lie.", n.SideName(neck.PlusY), n.SideName(neck.MinusY))}
	if fretless(n) {
		t.Note = strings.Replace(t.Note, "nut, frets, rod channel. Dashed:", "nut, rod channel. Dashed: where frets would be,", 1)
	}
	t.Note += headNote(n)
	half := func(x float64) float64 { return n.Width(x) / 2 }
	t.Outline = topOutline(n)

	line := func(name string, dashed bool, points ...mesh.Vec2) {
		t.Marks = append(t.Marks, Mark{name, points, dashed})
	}
	line("centreline", true, mesh.Vec2{X: n.Start()}, mesh.Vec2{X: n.End()})
	for _, c := range n.Channels() {
		outline := c.Outline()
		line(c.Name, false, append(outline, outline[0])...)
		if len(n.Spec().Channels) > 0 && !c.Pocket {
			_, to := c.Ends()
			if x := to + 2 + labelLetter*float64(len([]rune(c.Name)))/2; x+labelLetter < n.End() {
				y := c.AxisY(to)
				if math.Abs(y) < labelRow/2 { // clear of the centreline
					y = labelRow / 2
				}
				t.Labels = append(t.Labels, Label{mesh.Vec2{X: x, Y: y}, c.Name})
			}
		}
	}
	t.Note = channelsInNote(n, t.Note)
	line("board", true, BoardOutline(n)...)
	if headAbove(n, line) {
		t.Note += headHolesNote(n)
	}
	holesAbove(n, func(name string, points []mesh.Vec2) { line(name, true, points...) })
	if slices.ContainsFunc(n.Spec().Profile, func(p spec.ProfileStation) bool { return p.Apex != 0 }) {
		apex := trace(n, func(x float64) float64 {
			s := n.Section(x)
			f0, f1 := s.Flat()
			return (f0 + f1) / 2
		})
		line("line of the apex", true, Simplify(apex)...)
	}
	// Between the frets whose numbers stand on the upper side.
	x := numeric.Clamp(n.Spec().FretX(1), n.Start(), n.End())
	off := math.Max(half(x), n.BoardHalfWidth(x)) + labelOff
	t.Labels = append(t.Labels, Label{mesh.Vec2{X: x, Y: off}, n.SideName(neck.PlusY) + " side"}, Label{mesh.Vec2{X: x, Y: -off}, n.SideName(neck.MinusY) + " side"})
	eachFret(n, func(fret int, x float64, named bool) {
		a := half(x)
		lean := n.Y(n.Spec().FretSlope(float64(fret)) * a)
		line(fretName(fret), fret > 0 && fretless(n), mesh.Vec2{X: x - lean, Y: -a}, mesh.Vec2{X: x + lean, Y: a})
		if named {
			t.Labels = append(t.Labels, Label{mesh.Vec2{X: x, Y: math.Max(a, n.BoardHalfWidth(x)) + labelOff}, fretLabel(fret)})
		}
	})
	t.landmarks(n)
	return t
}

// landmarks marks and names the stations besides the frets on a top view, and
// where the headstock's shelf ends.
func (t *Sheet) landmarks(n *neck.Neck) {
	eachLandmark(n, func(name string, x, off float64) {
		a := n.Width(x) / 2
		ends := [2]mesh.Vec2{{X: x, Y: -a}, {X: x, Y: a}}
		if name == faceMark {
			ends = n.ShelfLine()
		}
		t.Marks = append(t.Marks, Mark{name, ends[:], true})
		t.Labels = append(t.Labels, Label{mesh.Vec2{X: x, Y: -math.Max(a, n.BoardHalfWidth(numeric.Clamp(x, 0, n.BoardEnd()))) - off}, name})
	})
}

// BoardOutline returns the board's outline in the top view, closed.
func BoardOutline(n *neck.Neck) []mesh.Vec2 {
	s := n.Spec()
	startBass, startTreble, endBass, endTreble := s.BoardCorners()
	out := []mesh.Vec2{{X: startBass, Y: -n.BoardHalfWidth(startBass)}, {X: endBass, Y: -n.BoardHalfWidth(endBass)}}
	if !s.PlainEnd() {
		const steps = 200
		for i := 1; i < steps; i++ {
			y := numeric.Lerp(out[1].Y, n.BoardHalfWidth(endTreble), float64(i)/steps)
			out = append(out, mesh.Vec2{X: s.BoardEndAt(y), Y: y})
		}
	}
	out = append(out, mesh.Vec2{X: endTreble, Y: n.BoardHalfWidth(endTreble)}, mesh.Vec2{X: startTreble, Y: n.BoardHalfWidth(startTreble)}, out[0])
	for i := range out {
		out[i].Y = n.Y(out[i].Y) // it was counted from the bass side
	}
	return out
}

// backStart returns x where the back begins at the headstock: an outline is cut
// square to the face, so that the back of an angled one begins after its tip.
func backStart(n *neck.Neck) float64 {
	e := n.HeadEdge()
	if e == nil {
		return n.Start()
	}
	return n.OnFace(e.Tip, 0, -n.SquareThickness(e.Tip-0.001, 0)).X
}

// topOutline returns the outline of the wood in the top view.
func topOutline(n *neck.Neck) []mesh.Vec2 {
	edge := n.HeadEdge()
	from := n.Start()
	if edge != nil {
		from = -n.Spec().ShelfReach()
	}
	minus := traceFrom(n, from, func(x float64) float64 { from, _ := n.Edges(x); return from })
	plus := traceFrom(n, from, func(x float64) float64 { _, to := n.Edges(x); return to })
	if n.ShapedEnd() {
		square := n.End() - n.Spec().Heel.EndCorner
		minus, plus = append(before(minus, square), endTop(n)...), before(plus, square)
	}
	slices.Reverse(plus)
	out := append(minus, plus...)
	if edge != nil {
		// Around the tip, from the side of higher y.
		loop := edge.Loop(sheetTolerance)
		slices.Reverse(loop)
		for _, p := range loop[:len(loop)-1] {
			out = append(out, mesh.Vec2{X: n.HeadX(p.X), Y: p.Y})
		}
	}
	return Simplify(out)
}

// headNote says that the top view of an angled headstock is not its true size.
func headNote(n *neck.Neck) string {
	h := n.Spec().Headstock
	if h == nil || h.Angle == 0 {
		return ""
	}
	u := n.Spec().Units
	return " The headstock is seen at its angle: " + u.Rounded(-n.Start()) + " from nut to tip here are " + u.Rounded(n.HeadU(n.Start())) +
		" along its face. Cut and drill it by the sheet of the headstock, which is true."
}

// eachFret calls f for the nut, as fret 0, and every fret over the wood, or where
// one would be on a neck without. The nut and the frets that commonly carry a
// dot are to be named, where there is room for it.
func eachFret(n *neck.Neck, f func(fret int, x float64, named bool)) {
	s := n.Spec()
	var names []float64
	named := map[int]bool{}
	for _, dots := range [][]int{{0}, {5, 7}, {3, 9}} {
		for i := range s.LastNamed() + 1 {
			x := s.FretX(float64(i))
			crowded := slices.ContainsFunc(names, func(at float64) bool { return math.Abs(at-x) < fretNameRoom })
			if slices.Contains(dots, i%12) && !crowded {
				names, named[i] = append(names, x), true
			}
		}
	}
	for i := range s.LastNamed() + 1 {
		if x := s.FretX(float64(i)); x >= n.Start() && x <= n.End() {
			f(i, x, named[i])
		}
	}
}

// fretNameRoom is the least distance, in mm, between the middles of the names of
// two frets.
const fretNameRoom = 5.5

// fretless reports whether a neck has no frets, whose places sheets mark dashed.
func fretless(n *neck.Neck) bool { return n.Spec().Scale.Frets == 0 }

func fretName(fret int) string {
	if fret == 0 {
		return "nut"
	}
	return "fret " + strconv.Itoa(fret)
}

func fretLabel(fret int) string {
	if fret == 0 {
		return "nut"
	}
	return strconv.Itoa(fret)
}

// faceMark names where the face of the headstock begins.
const faceMark = "face"

// eachLandmark calls f for the stations besides the frets that a builder marks,
// from the headstock to the heel, with the distance of its name from the
// outline: names that would run together stand in two rows.
func eachLandmark(n *neck.Neck, f func(name string, x, off float64)) {
	type mark struct {
		name string
		x    float64
	}
	var marks []mark
	s := n.Spec()
	if s.Headstock != nil {
		marks = append(marks, mark{faceMark, -s.Break()})
	}
	if v := s.Volute; v != nil {
		marks = append(marks, mark{"volute", n.VoluteCentre()})
	}
	if s.Heel != nil {
		marks = append(marks, mark{"heel starts", n.HeelStart()}, mark{"heel full", n.HeelFull()})
	}
	sort.SliceStable(marks, func(i, j int) bool { return marks[i].x < marks[j].x })
	const apart = 22 // mm; names are at most so long
	last, off := math.Inf(-1), labelOff
	for _, m := range marks {
		if m.x <= n.Start() || m.x >= n.End() {
			continue
		}
		if m.x-last < apart && off == labelOff {
			off += labelRow
		} else {
			off = labelOff
		}
		last = m.x
		f(m.name, m.x, off)
	}
}

// trace returns the curve f over the wood from the headstock to the heel,
// within the tolerance, with a point at each landmark.
func trace(n *neck.Neck, f func(x float64) float64) []mesh.Vec2 { return traceFrom(n, n.Start(), f) }

// traceFrom is trace from a station on.
func traceFrom(n *neck.Neck, from float64, f func(x float64) float64) []mesh.Vec2 {
	xs := n.Landmarks()
	sort.Float64s(xs)
	point := func(x float64) mesh.Vec2 { return mesh.Vec2{X: x, Y: f(x)} }
	out := []mesh.Vec2{point(from)}
	var split func(a, b mesh.Vec2, deep int)
	split = func(a, b mesh.Vec2, deep int) {
		if deep < 14 {
			worst := 0.0
			for _, t := range []float64{0.25, 0.5, 0.75} {
				worst = math.Max(worst, math.Abs(f(numeric.Lerp(a.X, b.X, t))-numeric.Lerp(a.Y, b.Y, t)))
			}
			if worst > sheetTolerance {
				m := point((a.X + b.X) / 2)
				split(a, m, deep+1)
				split(m, b, deep+1)
				return
			}
		}
		out = append(out, b)
	}
	for _, x := range xs {
		// A line between landmarks may bend symmetrically, so that none of
		// three points betrays it: look at pieces of it.
		x = math.Min(x, n.End())
		a := out[len(out)-1]
		if x-a.X < 0.001 {
			continue
		}
		const pieces = 4
		for i := 1; i <= pieces; i++ {
			split(out[len(out)-1], point(numeric.Lerp(a.X, x, float64(i)/pieces)), 0)
		}
	}
	return out
}

// Simplify leaves out points on a straight line between their neighbours, to a
// millionth of a millimetre, and points that repeat the one before.
func Simplify(points []mesh.Vec2) []mesh.Vec2 {
	var out []mesh.Vec2
	for _, p := range points {
		if k := len(out); k > 0 && p.Sub(out[k-1]).Norm() < 1e-6 {
			continue
		}
		for k := len(out); k > 1; k = len(out) {
			u, v := out[k-1].Sub(out[k-2]), p.Sub(out[k-1])
			if u.Dot(v) <= 0 || math.Abs(u.Cross(v)) > 1e-6*u.Add(v).Norm() {
				break
			}
			out = out[:k-1]
		}
		out = append(out, p)
	}
	return out
}

// channelsInNote lets the note of a top view name what it has: channels of any kind,
// the rod's, or none.
func channelsInNote(n *neck.Neck, note string) string {
	switch {
	case len(n.Spec().Channels) > 0:
		return strings.Replace(note, "rod channel", "channels and pockets", 1)
	case len(n.Channels()) == 0:
		return strings.Replace(note, ", rod channel", "", 1)
	}
	return note
}
