package jig

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
)

// scribeThick is the thickness of a scribe, and scribeLead how far its edge stands
// back from the line, for half the pencil's lead, in mm: common practice, no
// published source.
const (
	scribeThick = 3.0
	scribeLead  = 0.3
	scribeLeast = 12.5 // of plate between a straight edge and the line
	scribeBand  = 20.0
)

// buildScribes makes a strip for each pencil line of the flats on back and sides.
// One of its edges is the line; the other is straight and lies on the centreline
// or, for a side, on the bench.
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
	return parts, fmt.Sprintf("The edge that the pencil follows stands %s back from the line, for half its lead.", m.u.Rounded(scribeLead)), nil
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
	line, least, most := m.scribeLine(l, wall)
	word := "FROM CENTRE"
	if wall {
		word = "ON BENCH"
	}
	straight := func(y float64) []mesh.Vec2 {
		return []mesh.Vec2{{X: line[0].X, Y: y}, {X: line[len(line)-1].X, Y: y}}
	}
	s := strip{lower: straight(0), upper: moved(line, -scribeLead)}
	if least < scribeLeast {
		// Too near the straight edge: the strip lies on the other side of the line,
		// and its straight edge so far off.
		off := math.Ceil(most + scribeBand)
		s = strip{lower: moved(line, scribeLead), upper: straight(off)}
		word = m.u.Rounded(off) + " " + word
	}
	s, home := s.facing(m, side, wall)
	edge := "board"
	if l.Back {
		edge = "back"
	}
	name := fmt.Sprintf("scribe %s, line towards the %s, from x = %s", l.Flat, edge, m.u.Rounded(l.Points[0].X))
	parts, _ := m.plates(name, l.Flat+" "+edge+" "+word, s, scribeThick)
	for i := range parts {
		parts[i].Home, parts[i].OnNeck = home, true
	}
	return parts, true
}

// scribeLine returns a pencil line in the plane that it is drawn on, X along it
// from the nut and Y from the centreline or the bench, with the least and the
// greatest Y.
func (m *maker) scribeLine(l *carve.Line, wall bool) (line []mesh.Vec2, least, most float64) {
	least, most = math.Inf(1), math.Inf(-1)
	t := &m.plan.Taper
	// Back and sides are askew to the centreline, and longer.
	longer := 1 / math.Cos(t.Angle)
	if wall {
		longer = math.Hypot(1, (m.n.Width(t.To)-m.n.Width(t.From))/2/t.Length())
	}
	for _, p := range l.Points {
		q := mesh.Vec2{X: p.X * longer, Y: math.Abs(p.Y)}
		if wall {
			q.Y = -p.Z
		}
		least, most = math.Min(least, q.Y), math.Max(most, q.Y)
		line = append(line, q)
	}
	return thinned(line, 0.005), least, most
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
		return strip{turn(s.lower), turn(s.upper)},
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
	return strip{over(s.upper), over(s.lower)}, home
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
