package neck

import (
	"fmt"
	"math"
	"strings"

	"neckloft/mesh"
)

// Room that the name of a flat's line takes on a template, from its middle, in
// mm: to an upright line, and to another name across and along.
const (
	nameToLine = 3.4
	nameAcross = 6.5
	nameAlong  = 3.4
)

// MarkSide adds the pencil lines that the flats have on the neck's sides to a
// side elevation: those of the bass side, which it shows, and dashed those of
// the treble side, where they differ. A plan that refuses the flats adds none.
func (p *Plan) MarkSide(t *Template) {
	p.markFlats(t, func(l FacetLine) (dashed, ok bool) {
		return l.Side == Treble, l.On == "side"
	}, func(q XYZ) mesh.Vec2 { return mesh.Vec2{X: q.X, Y: q.Z} },
		"1B is pair 1 on the bass side, full; 1T on the treble side, dashed where it lies elsewhere.")
}

// MarkPlan adds the pencil lines that the flats have on the back to a plan, and
// dashed those on flats that are cut by then.
func (p *Plan) MarkPlan(t *Template) {
	p.markFlats(t, func(l FacetLine) (dashed, ok bool) {
		return l.On != "back", l.On == "back" || strings.HasPrefix(l.On, "flat")
	}, func(q XYZ) mesh.Vec2 { return mesh.Vec2{X: q.X, Y: q.Y} },
		"1B is pair 1, bass half of the back; full on the back, dashed on a flat that is cut by then.")
}

// markFlats adds the lines that pick chooses, as at projects them, with their
// names: "1B" is the first pair's line on the bass side. Where both edges of a
// flat are drawn, "3Bc" is the one nearer the centreline and "3Bs" the other.
func (p *Plan) markFlats(t *Template, pick func(FacetLine) (dashed, ok bool), at func(XYZ) mesh.Vec2, meaning string) {
	if p.Stage(StageFlats).Refused != "" {
		return
	}
	type flatLine struct {
		name   string
		back   bool
		points []mesh.Vec2
	}
	var lines []flatLine
	var drawn [][]mesh.Vec2
	often := map[string]int{}
	for _, l := range p.FacetLines() {
		dashed, ok := pick(l)
		if !ok || len(l.Points) < 2 {
			continue
		}
		points := make([]mesh.Vec2, len(l.Points))
		for i, q := range l.Points {
			points[i] = at(q)
		}
		points = simplify(points)
		if same(points, drawn) {
			continue
		}
		drawn = append(drawn, points)
		name := fmt.Sprintf("%d%s", l.Pair, strings.ToUpper(l.Side.String()[:1]))
		often[name]++
		lines = append(lines, flatLine{name, l.Back, points})
		t.Marks = append(t.Marks, TemplateMark{Name: "flat " + name, Points: points, Dashed: dashed})
	}
	two := false
	var names []mesh.Vec2
	for _, l := range lines {
		name := l.name
		if often[name] > 1 { // both edges of a flat
			two = true
			name += map[bool]string{true: "c", false: "s"}[l.back]
		}
		if spot, ok := p.nameSpot(t, l.points, names); ok {
			names = append(names, spot)
			t.Labels = append(t.Labels, TemplateLabel{spot, name})
		}
	}
	if len(lines) == 0 {
		return
	}
	t.Note += fmt.Sprintf(" Pencil lines of the flats, which leave %s: %s", p.Neck.round(p.Options.Leave), meaning)
	if two {
		t.Note += " c: the flat's edge nearer the centreline; s: nearer the side."
	}
}

// nameSpot returns a place for the name of a line: past its end, on the wood,
// off upright lines and the names that are there. It reports false where there
// is no wood past either end.
func (p *Plan) nameSpot(t *Template, line []mesh.Vec2, names []mesh.Vec2) (mesh.Vec2, bool) {
	free := func(q mesh.Vec2) bool {
		for _, m := range t.Marks {
			if len(m.Points) == 2 && m.Points[0].X == m.Points[1].X && math.Abs(q.X-m.Points[0].X) < nameToLine {
				return false
			}
		}
		for _, other := range names {
			if math.Abs(q.X-other.X) < nameAcross && math.Abs(q.Y-other.Y) < nameAlong {
				return false
			}
		}
		return true
	}
	n := p.Neck
	const step, reach = 0.5, 60
	for _, end := range []struct {
		at  mesh.Vec2
		way float64
	}{{line[len(line)-1], 1}, {line[0], -1}} {
		for d := nameToLine; d < reach; d += step {
			q := mesh.Vec2{X: end.at.X + end.way*d, Y: end.at.Y}
			if q.X < n.start+nameToLine || q.X > n.end-nameToLine {
				break
			}
			if free(q) {
				return q, true
			}
		}
	}
	return mesh.Vec2{}, false
}

// same reports whether a line lies on one of those before it.
func same(points []mesh.Vec2, drawn [][]mesh.Vec2) bool {
	const seen = 0.1 // mm
	for _, d := range drawn {
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
			return lerp(a.Y, b.Y, (x-a.X)/(b.X-a.X))
		}
	}
	return l[len(l)-1].Y
}
