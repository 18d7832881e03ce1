package jig

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
)

// Sizes of a scribe, in mm: common practice, no published source. Its edge stands
// back from the line by half the pencil's lead.
const (
	scribeThick = 3.0
	scribeStout = 12.0 // of one whose face has no room for letters
	scribeLead  = 0.3
	scribeLeast = 10.0 // of plate between a straight edge and the line
)

// buildScribes makes a strip for each pencil line of the flats on back and sides.
// One of its edges is the line; the other is straight and lies on the centreline or
// flush with the neck's edge or, for a side, on the bench.
func buildScribes(m *maker) ([]Part, string, error) {
	if m.plan == nil {
		return nil, "", m.why
	}
	var parts []Part
	for i := range m.plan.Flats.Lines {
		l := &m.plan.Flats.Lines[i]
		if len(l.Points) < 2 || l.Points[len(l.Points)-1].X-l.Points[0].X < 20 {
			continue
		}
		if p, ok := m.scribe(l); ok {
			parts = append(parts, p...)
		}
	}
	if len(parts) == 0 {
		return nil, "", errors.New("no line of a flat lies on the back or on a side; allowed: flats that do")
	}
	return parts, fmt.Sprintf("The edge that the pencil follows stands %s back from the line, for half its lead. Each piece is set by itself and need not be joined. The picture has those of one flat, and shows it cut.", m.u.Rounded(scribeLead)), nil
}

// scribe returns the strip of a line, in pieces, and false for one that is drawn on
// a flat.
func (m *maker) scribe(l *carve.Line) ([]Part, bool) {
	side, wall := l.Wall()
	if !wall && !l.OnBack() {
		return nil, false
	}
	if !wall {
		side = l.Half
	}
	line := m.scribeLine(l, wall)
	ends := func(y func(x float64) float64) []mesh.Vec2 {
		var out []mesh.Vec2
		for i, x := range []float64{l.Points[0].X, l.Points[len(l.Points)-1].X} {
			out = append(out, mesh.Vec2{X: line[i*(len(line)-1)].X, Y: y(x)})
		}
		return out
	}
	// Between the line and the bench or the centreline; or, on the back, where that
	// is narrow, between the line and the neck's edge.
	s := strip{lower: ends(func(float64) float64 { return 0 }), upper: moved(line, -scribeLead)}
	word, least := "FROM CENTRE", least(line)
	switch {
	case wall:
		word = "ON BENCH"
	case least < scribeLeast:
		word = "FROM EDGE"
		s = strip{lower: moved(line, scribeLead), upper: ends(func(x float64) float64 { return m.n.Width(x) / 2 })}
	}
	longer := m.longerBy(wall)
	s, home := s.facing(m, side, wall)
	edge := "board"
	if l.Back {
		edge = "back"
	}
	name := fmt.Sprintf("scribe %s, line towards the %s, from x = %s", l.Flat, edge, m.u.Rounded(l.Points[0].X))
	parts, _ := m.plates(name, l.Flat+" "+edge+" "+word, s, scribeThick)
	for i := range parts {
		if p := &parts[i]; p.Label.Height < letterLeast {
			p.Thick = scribeStout
			p.Written = p.Label
			lo, hi := p.Region.Bounds()
			p.edgeLabel(s.straightEdge(lo.X, math.Min(hi.X, s.lower[len(s.lower)-1].X)))
		}
		m.markFirst(&parts[i], s, longer)
		// One at a time: a picture shows those of one flat, on the side whose words on
		// back and side both read from the nut.
		parts[i].Home, parts[i].OnNeck = home, l.Pair == 1 && l.Side == neck.PlusY
	}
	return parts, true
}

// least returns the least Y of a line.
func least(line []mesh.Vec2) float64 {
	lo, _ := mesh.LoopBounds(line)
	return lo.Y
}

// scribeLine returns a pencil line in the plane that it is drawn on, X along it
// from the nut and Y from the centreline or the bench.
func (m *maker) scribeLine(l *carve.Line, wall bool) []mesh.Vec2 {
	longer := m.longerBy(wall)
	var line []mesh.Vec2
	for _, p := range l.Points {
		q := mesh.Vec2{X: p.X * longer, Y: math.Abs(p.Y)}
		if wall {
			q.Y = -p.Z
		}
		line = append(line, q)
	}
	return thinned(line, 0.005)
}

// longerBy returns how much longer the back or a side is than the centreline, to
// which it is askew.
func (m *maker) longerBy(wall bool) float64 {
	t := &m.plan.Taper
	if wall {
		return math.Hypot(1, (m.n.Width(t.To)-m.n.Width(t.From))/2/t.Length())
	}
	return 1 / math.Cos(t.Angle)
}

// scribeMark is how long the sides are of the arrowhead at a scribe's first end, in
// mm.
const scribeMark = 2.0

// scribeFirst is how much of a strip is kept for the place of its first end, in mm.
const scribeFirst = 30.0

// markFirst marks the end of a strip's piece that is nearer to the nut by an arrowhead
// that points to it, and says in its name, and on a sheet where no words are cut
// through it, where along the neck that end lies.
func (m *maker) markFirst(p *Part, s strip, longer float64) {
	lo, hi := p.Region.Bounds()
	x, away := lo.X, 1.0
	if s.back {
		x, away = hi.X, -1
		corner := mesh.Vec2{X: hi.X, Y: at(s.lower, hi.X)}
		if !slices.ContainsFunc(p.Region.Outer, func(q mesh.Vec2) bool { return q.Sub(corner).Norm() < 1e-6 }) {
			x -= tailLong // the shoulder that the tail stands on
		}
	}
	half := math.Min(scribeMark, (at(s.upper, x)-at(s.lower, x))/4)
	mid := mesh.Vec2{X: x + away*0.5, Y: (at(s.upper, x) + at(s.lower, x)) / 2}
	joint := math.Abs(x-s.lower[0].X) > 1e-6 && !s.back || s.back && x < s.lower[len(s.lower)-1].X-1e-6
	if _, room := s.tail(x, 0); joint && room {
		half = math.Min(half, 0.9)
		mid.Y = at(s.lower, x) + half + 0.5 // beside the dovetail
	}
	p.Ends = [][]mesh.Vec2{{mid.Add(mesh.Vec2{X: away * 2 * half, Y: half}), mid, mid.Add(mesh.Vec2{X: away * 2 * half, Y: -half})}}
	first := "x = " + m.u.Rounded(math.Abs(x)/longer)
	before, after, _ := strings.Cut(p.Name, ", from x = ")
	p.Name = before + ", from " + first
	if _, number, several := strings.Cut(after, ", piece "); several {
		p.Name += ", piece " + number
	}
	if p.Label.Up.Z != 0 {
		p.Written.Words = []string{p.Label.Words[0] + ", FROM " + first}
		return
	}
	// Its words are cut through: beside them, at the first end, is room for the place.
	l := &p.Label
	if l.Width < 4*scribeFirst {
		return
	}
	p.Written = *l
	p.Written.Words, p.Written.Width = []string{first}, scribeFirst-3*scribeMark
	l.Width -= scribeFirst
	if s.back {
		p.Written.At.X += l.Width + scribeMark
		return
	}
	p.Written.At.X += 2 * scribeMark // past the arrowhead
	l.At.X += scribeFirst
}

// facing returns a strip as it is seen from outside of the wood, and where it lies:
// on the back, Y across from the centreline, or against a side, Y up from the bench.
func (s strip) facing(m *maker, side neck.Side, wall bool) (strip, Frame) {
	t := &m.plan.Taper
	switch {
	case wall && side == neck.PlusY:
		return s, Frame{Origin: mesh.Vec{Y: m.n.Width(t.To) / 2}, X: mesh.Vec{X: 1}, Y: mesh.Vec{Z: -1}, Z: mesh.Vec{Y: 1}}
	case wall:
		turn := func(line []mesh.Vec2) []mesh.Vec2 {
			out := mesh.Region{Outer: line}.Map(func(p mesh.Vec2) mesh.Vec2 { return mesh.Vec2{X: -p.X, Y: p.Y} }).Outer
			slices.Reverse(out)
			return out
		}
		return strip{turn(s.lower), turn(s.upper), true},
			Frame{Origin: mesh.Vec{Y: -m.n.Width(t.To) / 2}, X: mesh.Vec{X: -1}, Y: mesh.Vec{Z: -1}, Z: mesh.Vec{Y: -1}}
	}
	sin, cos := math.Sincos(t.Angle)
	home := Frame{Origin: mesh.Vec{Z: -t.Depth(0)}, X: mesh.Vec{X: cos, Z: -sin}, Y: mesh.Vec{Y: -1}, Z: mesh.Vec{X: -sin, Z: -cos}}
	if side == neck.MinusY {
		return s, home
	}
	over := func(line []mesh.Vec2) []mesh.Vec2 {
		return mesh.Region{Outer: line}.Map(func(p mesh.Vec2) mesh.Vec2 { return mesh.Vec2{X: p.X, Y: -p.Y} }).Outer
	}
	return strip{lower: over(s.upper), upper: over(s.lower)}, home
}

// moved returns a line moved up.
func moved(line []mesh.Vec2, by float64) []mesh.Vec2 {
	return mesh.Region{Outer: line}.Translate(mesh.Vec2{Y: by}).Outer
}

// thinned drops points of a line that lie within e of the line without them.
func thinned(line []mesh.Vec2, e float64) []mesh.Vec2 {
	out := []mesh.Vec2{line[0]}
	for from := 0; from < len(line)-1; {
		to := from + 1
		for to+1 < len(line) && straightWithin(line[from:to+2], e) {
			to++
		}
		out = append(out, line[to])
		from = to
	}
	return out
}

// straightWithin reports whether all points lie within e of the line between the
// first and the last.
func straightWithin(line []mesh.Vec2, e float64) bool {
	a, b := line[0], line[len(line)-1]
	for _, p := range line[1 : len(line)-1] {
		if math.Abs(p.Y-a.Y-(b.Y-a.Y)*(p.X-a.X)/(b.X-a.X)) > e {
			return false
		}
	}
	return true
}
