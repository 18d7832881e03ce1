package carve

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/numeric"
)

// Room that the name of a flat's line takes on a sheet, in mm: from its
// middle to an upright line over half its width, along to another name, to a
// line of a flat, and of a letter of a name of more than three.
const (
	nameToLine = 3.4
	nameAcross = 6.5
	nameAlong  = 3.4
	nameOff    = 2.2
	nameLetter = 2.1
)

// MarkSideView adds the pencil lines that the flats have on the neck's sides to a
// side view: those of the side that it shows, and dashed those of the other,
// where they differ. Flats that are refused add none.
func (f *Flats) MarkSideView(t *gauge.Sheet) {
	n := f.wood.Neck
	front, far := n.SideName(neck.MinusY), n.SideName(neck.PlusY)
	f.mark(t, sheetView{
		pick: func(l *Line) (dashed, ok bool) {
			wall, ok := l.Wall()
			return wall == neck.PlusY, ok
		},
		at: func(q neck.XYZ) mesh.Vec2 { return mesh.Vec2{X: q.X, Y: q.Z} },
		meaning: fmt.Sprintf("%s is pair 1 on the %s side, full; %s on the %s side, dashed where it lies elsewhere.",
			FlatName(n, 1, neck.MinusY), front, FlatName(n, 1, neck.PlusY), far),
	})
}

// MarkTopView adds the pencil lines that the flats have on the back to a top view, and
// dashed those on flats that are cut by then.
func (f *Flats) MarkTopView(t *gauge.Sheet) {
	f.mark(t, sheetView{
		pick:    func(l *Line) (dashed, ok bool) { return !l.OnBack(), l.OnBack() || l.OnFlat() },
		at:      func(q neck.XYZ) mesh.Vec2 { return mesh.Vec2{X: q.X, Y: q.Y} },
		meaning: "1B is pair 1, bass side; full on the back, dashed on a flat that is cut by then.",
	})
}

// drawnLine is a flat's line on a sheet, all its pieces that join.
type drawnLine struct {
	flat        string
	side        neck.Side
	back        bool
	points      []mesh.Vec2
	first, last neck.Side // the half that its ends lie on
	marks       []gauge.Mark
}

// sheetView is how a sheet shows the lines of the flats.
type sheetView struct {
	pick    func(*Line) (dashed, ok bool) // which of them, and how
	at      func(neck.XYZ) mesh.Vec2
	meaning string // of the names, for the note
}

// mark adds the lines that a sheet shows, with their names: "1B" is the first
// pair's line on the bass side. Where both edges of a flat are drawn, "3Bc" is
// the one nearer the centreline and "3Bs" the other. Where a line's end lies over
// the centreline its name says on which side.
func (f *Flats) mark(t *gauge.Sheet, v sheetView) {
	if f.Refusal().Refused() {
		return
	}
	var drawn []drawnLine
	often := map[string]int{}
	for _, l := range f.joined(v) {
		l.points = gauge.Simplify(l.points)
		if same(l.points, drawn) {
			continue
		}
		drawn = append(drawn, l)
		often[l.flat]++
		for _, m := range l.marks {
			m.Points = gauge.Simplify(m.Points)
			t.Marks = append(t.Marks, m)
		}
	}
	if len(drawn) == 0 {
		return
	}
	two, over := false, false
	var names []gauge.Label
	for _, l := range drawn {
		name := l.flat
		if often[name] > 1 { // both edges of a flat
			two = true
			name += map[bool]string{true: "c", false: "s"}[l.back]
		}
		first, last := l.names(f.wood.Neck, name)
		over = over || first != name || last != name
		names = append(names, f.nameLine(t, l.points, first, last, names)...)
	}
	t.Labels = append(t.Labels, names...)
	t.Note += fmt.Sprintf(" Pencil lines of the flats, which leave %s: %s", f.wood.Neck.Rounded(f.Allowance), v.meaning)
	if two {
		t.Note += " c: the flat's edge nearer the centreline; s: nearer the side."
	}
	if over {
		t.Note += " A name with bass or treble: the line lies there, over the centreline."
	}
}

// joined returns the lines that a sheet shows, each of all its pieces that join.
func (f *Flats) joined(v sheetView) []drawnLine {
	var lines []drawnLine
	for i := range f.Lines {
		l := &f.Lines[i]
		dashed, ok := v.pick(l)
		if !ok || len(l.Points) < 2 {
			continue
		}
		points := make([]mesh.Vec2, len(l.Points))
		for i, q := range l.Points {
			points[i] = v.at(q)
		}
		mark := gauge.Mark{Name: "flat " + l.Flat, Points: points, Dashed: dashed}
		k := len(lines) - 1
		if k < 0 || lines[k].flat != l.Flat || lines[k].back != l.Back || !joins(lines[k].points, points) {
			lines = append(lines, drawnLine{l.Flat, l.Side, l.Back, points, l.Half, l.Half, []gauge.Mark{mark}})
			continue
		}
		// The line goes on, drawn as before or otherwise.
		d := &lines[k]
		d.points = append(slices.Clone(d.points), points...)
		d.last = l.Half
		if m := &d.marks[len(d.marks)-1]; m.Dashed == dashed {
			m.Points = append(slices.Clone(m.Points), points...)
		} else {
			d.marks = append(d.marks, mark)
		}
	}
	return lines
}

// names returns what a line is called at either end.
func (l *drawnLine) names(n *neck.Neck, name string) (first, last string) {
	first, last = name, name
	if l.first != l.side {
		first += " " + n.SideName(l.first)
	}
	if l.last != l.side {
		last += " " + n.SideName(l.last)
	}
	return first, last
}

// joins reports whether a line goes on where another ends.
func joins(a, b []mesh.Vec2) bool { return a[len(a)-1].Sub(b[0]).Norm() < 1e-3 }

// nameLine returns the names of a line whose ends are to be called first and
// last: one where both are called alike.
func (f *Flats) nameLine(t *gauge.Sheet, line []mesh.Vec2, first, last string, names []gauge.Label) []gauge.Label {
	begin, end := nameEnd{line[0], -1, first}, nameEnd{line[len(line)-1], 1, last}
	if first == last {
		return []gauge.Label{f.nameSpot(t, line, []nameEnd{end, begin}, names)}
	}
	a := f.nameSpot(t, line, []nameEnd{begin}, names)
	return []gauge.Label{a, f.nameSpot(t, line, []nameEnd{end}, append(slices.Clone(names), a))}
}

// nameEnd is an end of a line, the way on from there along the neck, and what
// the line is called there.
type nameEnd struct {
	at   mesh.Vec2
	way  float64
	name string
}

// nameHalf returns half the width of a name.
func nameHalf(name string) float64 {
	return math.Max(nameAcross, nameLetter*float64(len(name))) / 2
}

// nameSpot returns a place for the name of a line: past an end of it, on the
// wood, off upright lines, the lines of flats and the names that are there. A
// line that runs to the end of the wood has its name beyond that, and one with
// no room there has it over the line.
func (f *Flats) nameSpot(t *gauge.Sheet, line []mesh.Vec2, ends []nameEnd, names []gauge.Label) gauge.Label {
	free := func(q mesh.Vec2, half float64) bool {
		return clearOfMarks(t.Marks, q, half) && clearOfNames(names, q, half)
	}
	n := f.wood.Neck
	for _, beyond := range []bool{false, true} {
		for _, end := range ends {
			half := nameHalf(end.name)
			room := half + nameToLine - nameAcross/2
			on := wood{n.Start() + room, n.End() - room}
			if beyond {
				on = wood{n.Start() - room, n.End() + room}
			}
			if q, ok := pastEnd(end, room, half, on, beyond, free); ok {
				return gauge.Label{At: q, Text: end.name}
			}
		}
	}
	end := ends[0]
	a, b := line[0], line[len(line)-1]
	for _, off := range []float64{3, -3, 6, -6} {
		for d := nameHalf(end.name); d < b.X-a.X; d += nameStep {
			x := end.at.X - end.way*d
			if q := (mesh.Vec2{X: x, Y: heightAt(line, x) + off}); free(q, nameHalf(end.name)) {
				return gauge.Label{At: q, Text: end.name}
			}
		}
	}
	return gauge.Label{At: end.at, Text: end.name}
}

// nameStep is the step of the search for a name's place, in mm.
const nameStep = 0.5

// wood is where along the neck there is wood for a name, or, for names beyond
// it, where there is some.
type wood struct{ from, to float64 }

// pastEnd looks for a name's place past the end of a line: on the wood, or beyond
// it.
func pastEnd(end nameEnd, room, half float64, on wood, beyond bool, free func(q mesh.Vec2, half float64) bool) (mesh.Vec2, bool) {
	const reach = 60
	for d := room; d < reach; d += nameStep {
		q := mesh.Vec2{X: end.at.X + end.way*d, Y: end.at.Y}
		switch {
		case beyond && q.X > on.from && q.X < on.to:
			continue
		case !beyond && (q.X < on.from || q.X > on.to):
			return q, false
		}
		if free(q, half) {
			return q, true
		}
	}
	return mesh.Vec2{}, false
}

// clearOfMarks reports whether a name at q, so wide to either side, is off upright
// lines and the lines of flats.
func clearOfMarks(marks []gauge.Mark, q mesh.Vec2, half float64) bool {
	for _, m := range marks {
		a, b := m.Points[0], m.Points[len(m.Points)-1]
		if len(m.Points) == 2 && a.X == b.X && math.Abs(q.X-a.X) < half+nameToLine-nameAcross/2 {
			return false
		}
		if !strings.HasPrefix(m.Name, "flat ") || a.X >= q.X+half || b.X <= q.X-half {
			continue
		}
		lo, hi := math.Inf(1), math.Inf(-1)
		for _, x := range []float64{q.X - half, q.X, q.X + half} {
			y := heightAt(m.Points, numeric.Clamp(x, a.X, b.X))
			lo, hi = math.Min(lo, y), math.Max(hi, y)
		}
		if q.Y > lo-nameOff && q.Y < hi+nameOff {
			return false
		}
	}
	return true
}

// clearOfNames reports whether it is off the names that are there.
func clearOfNames(names []gauge.Label, q mesh.Vec2, half float64) bool {
	for _, l := range names {
		if math.Abs(q.X-l.At.X) < half+nameHalf(l.Text) && math.Abs(q.Y-l.At.Y) < nameAlong {
			return false
		}
	}
	return true
}

// same reports whether a line lies on one of those before it.
func same(points []mesh.Vec2, drawn []drawnLine) bool {
	const seen = 0.1 // mm
	for _, l := range drawn {
		d := l.points
		a, b := points[0].Sub(d[0]).Norm(), points[len(points)-1].Sub(d[len(d)-1]).Norm()
		mid := func(l []mesh.Vec2) float64 { return heightAt(l, (l[0].X+l[len(l)-1].X)/2) }
		if a < seen && b < seen && mid(points)-mid(d) < seen && mid(d)-mid(points) < seen {
			return true
		}
	}
	return false
}

// heightAt returns y of a line at x.
func heightAt(l []mesh.Vec2, x float64) float64 {
	for i := 0; i+1 < len(l); i++ {
		if a, b := l[i], l[i+1]; x <= b.X {
			return numeric.Lerp(a.Y, b.Y, (x-a.X)/(b.X-a.X))
		}
	}
	return l[len(l)-1].Y
}
