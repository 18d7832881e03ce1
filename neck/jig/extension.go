package jig

import (
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/carve"
	"neckloft/neck/gauge"
)

const (
	extensionLong = 60.0 // beyond the wood, mm: common practice, no published source

	// extensionTip is how thin an extension is at the least, in mm, where it runs out
	// beside a rounded corner: a line of a printer's nozzle. The bearing rolls over.
	extensionTip = 0.4

	// extensionArm is how wide it is at the least beside a tenon, in mm.
	extensionArm = 4.0
)

// extends reports at which ends a template can be extended: where the outline ends
// between two sides. The headstock has none such.
func (m *maker) extends() (nut, body bool) { return m.s.Headstock == nil, true }

// shapedEnd reports whether the outline ends at the body in more than a straight line.
func (m *maker) shapedEnd() bool {
	return m.s.Heel != nil && m.s.Heel.EndCorner > 0 || m.n.TenonDepth() > 0
}

// buildExtension makes plates that go on where a template ends, their sides in line
// with its own, for the bearing to run on to and off.
func buildExtension(m *maker) ([]Part, string, error) {
	nut, _ := m.extends()
	thick := carve.DefaultTemplate
	if m.plan != nil && m.plan.Options.Template > 0 {
		thick = m.plan.Options.Template
	}
	var parts []Part
	add := func(name string, x, way float64) {
		lower, upper := m.onwards(x, way, extensionLong)
		if way < 0 {
			slices.Reverse(lower)
			slices.Reverse(upper)
		}
		more, _ := m.plates("template extension, "+name, name+" EXTENSION", strip{lower: lower, upper: upper}, thick)
		for i := range more {
			more[i].Home, more[i].OnNeck = upright(mesh.Vec{X: x}), true
		}
		parts = append(parts, more...)
	}
	if nut {
		add("nut end", m.n.Start(), -1)
	}
	gaps := fmt.Sprintf("As thick as the template, %s, and %s long; its sides are in line with those of the neck's outline, without clearance.", m.u.Format(thick), m.u.Rounded(extensionLong))
	if !m.shapedEnd() {
		add("body end", m.n.End(), 1)
		return parts, gaps + m.outlineOnly(), nil
	}
	p, err := m.fork(thick)
	if err != nil {
		if len(parts) > 0 {
			return parts, gaps + " At the body there is none: " + err.Error() + ".", nil
		}
		return nil, "", err
	}
	gaps = fmt.Sprintf("As thick as the template, %s, and %s long past the wood; its sides are in line with those of the neck's outline, without clearance. It goes round the outline's end with %s of room.", m.u.Format(thick), m.u.Rounded(extensionLong), m.u.Rounded(m.Fit))
	if m.s.Heel.EndCorner > 0 {
		gaps += fmt.Sprintf(" Beside the rounded corners it runs out to %s: there the sides go straight on, and the corners are rounded after the extension is off.", m.u.Rounded(extensionTip))
	}
	return append(parts, p), gaps + m.outlineOnly(), nil
}

// outlineOnly warns of passes over the back that end before the extension at the body:
// a round-over bit that ran on to it would cut the heel.
func (m *maker) outlineOnly() string {
	if m.plan == nil || m.plan.Taper.To > m.n.End()-1 {
		return ""
	}
	return fmt.Sprintf(" At the body it is for passes round the outline alone: those of the round-over bit end before it, at x = %s, with the run.", m.u.Rounded(m.plan.Taper.To))
}

// onwards returns how both sides of the outline go straight on from x, in a frame
// whose zero is there: as far as said towards the body, or the nut where way is -1.
func (m *maker) onwards(x, way, far float64) (lower, upper []mesh.Vec2) {
	const h = 0.01
	a, b := m.n.Edges(x)
	a1, b1 := m.n.Edges(x - way*h)
	side := func(y, y1 float64) []mesh.Vec2 {
		return []mesh.Vec2{{Y: y}, {X: way * far, Y: y + (y-y1)/h*far}}
	}
	return side(a, a1), side(b, b1)
}

// fork returns the extension at the body of an outline that ends in rounded corners or
// a tenon: its sides go straight on from where the corners begin, and its near edge is
// the outline's end, so much farther off as there is room.
func (m *maker) fork(thick float64) (Part, error) {
	from := m.n.End() - m.s.Heel.EndCorner
	far := m.n.Tip() - from + extensionLong
	lower, upper := m.onwards(from, 1, far)
	var end []mesh.Vec2 // from the lower side round to the upper one
	for _, p := range m.outlineEnd(from) {
		end = append(end, p.Sub(mesh.Vec2{X: from}))
	}
	end = letOut(end, m.Fit)
	// Only what is stout enough beside the sides remains.
	for _, side := range []func(p mesh.Vec2) float64{
		func(p mesh.Vec2) float64 { return p.Y - at(lower, p.X) },
		func(p mesh.Vec2) float64 { return at(upper, p.X) - p.Y },
	} {
		end = stout(end, side)
		slices.Reverse(end)
	}
	if len(end) < 2 {
		return Part{}, fmt.Errorf("the outline's end at the body leaves no room for an extension beside it; allowed: an end narrower than the heel")
	}
	first, last := end[0], end[len(end)-1]
	loop := []mesh.Vec2{{X: first.X, Y: at(lower, first.X)}, lower[1], upper[1], {X: last.X, Y: at(upper, last.X)}}
	slices.Reverse(end)
	loop = append(loop, end...)
	tip := m.n.Tip() - from + m.Fit
	if m.n.TenonDepth() > 0 {
		arm := math.Inf(1)
		for _, p := range end {
			if p.X > m.n.End()-from+1 {
				arm = math.Min(arm, math.Min(p.Y-at(lower, p.X), at(upper, p.X)-p.Y))
			}
		}
		if arm < extensionArm {
			return Part{}, fmt.Errorf("beside the tenon the extension's arms would be %s wide; allowed: a tenon that leaves %s or more on either side", m.u.Rounded(arm), m.u.Rounded(extensionArm))
		}
	}
	const edge = 4.0 // about the letters
	lo := mesh.Vec2{X: tip + edge, Y: math.Max(lower[0].Y, at(lower, tip)) + edge}
	hi := mesh.Vec2{X: far - edge, Y: math.Min(upper[0].Y, at(upper, tip)) - edge}
	p := plate("template extension, body end", mesh.Region{Outer: clean(loop)}, thick, m.words("BODY END EXTENSION", 0, 1), lo, hi)
	p.Home, p.OnNeck = upright(mesh.Vec{X: from}), true
	return p, nil
}

// outlineEnd returns the part of the outline past a station near the body, from the
// side of lower y round to the other.
func (m *maker) outlineEnd(from float64) []mesh.Vec2 {
	outline := gauge.TopView(m.n).Outline
	k := len(outline)
	past := func(i int) bool { return outline[(i+k)%k].X > from-1e-6 }
	start := 0
	for !past(start) || past(start-1) {
		start++
	}
	var out []mesh.Vec2
	for i := start; past(i); i++ {
		out = append(out, outline[i%k])
	}
	if out[0].Y > out[len(out)-1].Y {
		slices.Reverse(out)
	}
	return out
}

// stout returns a line from where it is first so far from its side as an extension is
// thick at the least.
func stout(line []mesh.Vec2, side func(mesh.Vec2) float64) []mesh.Vec2 {
	for i, p := range line {
		if side(p) < extensionTip {
			continue
		}
		if i == 0 {
			return line
		}
		a, b := side(line[i-1]), side(p)
		t := (extensionTip - a) / (b - a)
		return append([]mesh.Vec2{line[i-1].Add(p.Sub(line[i-1]).Scale(t))}, line[i:]...)
	}
	return nil
}

// letOut moves a line so far to its right, corner by corner; its ends go square to
// themselves. No side may be shorter than by how much it moves at a hollow corner.
func letOut(line []mesh.Vec2, by float64) []mesh.Vec2 {
	right := func(a, b mesh.Vec2) mesh.Vec2 {
		d := b.Sub(a)
		return mesh.Vec2{X: d.Y, Y: -d.X}.Scale(1 / d.Norm())
	}
	line = clean(line)
	out := make([]mesh.Vec2, len(line))
	for i, p := range line {
		before, after := mesh.Vec2{}, mesh.Vec2{}
		if i > 0 {
			before = right(line[i-1], p)
		}
		if i+1 < len(line) {
			after = right(p, line[i+1])
		}
		if i == 0 {
			before = after
		} else if i+1 == len(line) {
			after = before
		}
		mid := before.Add(after)
		out[i] = p.Add(mid.Scale(2 * by / mid.Dot(mid)))
	}
	return out
}
