package render

import (
	"image"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// side is the side elevation from the side of lower y, with the thickness at each
// depth target and the lengths along the neck.
type side struct {
	n      *neck.Neck
	e      elevation
	most   float64 // greatest height of the picture, in units of the width
	chain  []length
	levels int
	row    drawing.Row
	under  float64 // z below which the labels stand
	left   vg.Length
	right  vg.Length
	height struct{ title, chain, picture, rows vg.Length }
}

// Distances in the chain of lengths, in Em: of the lowest above the picture,
// which leaves room for the arrows on the board's top, and between levels.
const (
	chainFoot = 1.55
	chainStep = 1.35
	arrowTail = 0.85
)

// length is a dimension along the neck.
type length struct {
	from, to float64
	name     string
	level    int // above the neck, 0 the lowest
}

func newSide(n *neck.Neck, most float64) *side {
	s := &side{n: n, most: most}
	s.e.camera = along(mesh.Vec{X: 1}, mesh.Vec{Z: 1})
	s.e.withBoard = true
	s.e.x0, s.e.x1 = xExtent(n, true)
	lowest, _ := alongWood(n, func(x float64) float64 { return -n.Depth(x) })
	s.e.v0, s.e.v1 = lowest, n.Spec().Board.Thickness
	s.under, _ = span(math.Max(0, n.Start()), n.End(), func(x float64) float64 { return -n.Depth(x) })
	s.chain = lengths(n)
	for _, c := range s.chain {
		s.levels = max(s.levels, c.level+1)
	}
	return s
}

// lengths returns the dimensions along the neck, each above the shorter ones
// that it spans.
func lengths(n *neck.Neck) []length {
	const same = 0.005
	x0, x1 := xExtent(n, true)
	out := []length{{0, n.BoardEnd(), "nut to end of board", 0}}
	end := "nut to end of wood"
	if heelFaces(n.Spec()) {
		end = "nut to heel's face"
	}
	switch gap := n.End() - n.BoardEnd(); {
	case gap > same:
		out = append(out, length{0, n.End(), end, 1})
	case gap < -same:
		out[0].level = 1
		out = append(out, length{0, n.End(), end, 0})
	}
	if n.Tip() > n.End() {
		out = withTenon(out, n)
	}
	if x0 < -same {
		out = append(out, length{x0, x1, "overall", len(out)}, length{x0, 0, "nut to tip", 0})
	}
	return out
}

// callouts returns the labels under the elevation, in order along the neck,
// their tips on its back.
func (s *side) callouts() []drawing.Callout {
	n, sp := s.n, s.n.Spec()
	num := func(mm float64) string { return number(mm, sp.PrintUnit()) }
	var items []placedCallout
	add := func(x float64, c drawing.Callout) { items = append(items, placedCallout{x, c}) }
	for _, d := range sp.Depth {
		x := sp.X(d.At)
		add(x, drawing.Callout{
			Lines: []string{placeWords(sp, d.At), "total " + num(n.Total(x)), "wood " + num(n.Depth(x))},
			Color: measureColor,
		})
	}
	if v := sp.Volute; v != nil {
		x := sp.X(v.Centre)
		add(x, drawing.Callout{
			Lines: []string{"volute", "crest at x " + num(x), "adds " + num(v.Rise)},
			Color: featureColor,
		})
	}
	if h := sp.Heel; h != nil {
		for _, end := range []struct {
			what string
			at   spec.Place
		}{{"heel begins", h.Start}, {"heel full", h.Full}} {
			x := sp.X(end.at)
			if end.at == h.Full && h.Capped() {
				end.what = "cap begins"
			}
			add(x, drawing.Callout{
				Lines: []string{end.what, placeWords(sp, end.at), "wood " + num(n.Depth(x))},
				Color: featureColor,
			})
		}
		if c := faceCallout(n, num); c != nil {
			add(n.FaceX(n.HeelDepth())-1e-6, *c)
		}
	}
	return alongNeck(items, s.e.frame)
}

func (s *side) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	s.left, s.right = left, right
	s.e.fit(left, right, (right-left)*vg.Length(s.most))
	h := &s.height
	h.title = p.TextHeight(titleText) * 1.5
	h.chain = p.Em * (chainFoot + chainStep*vg.Length(s.levels-1) + 0.6)
	h.picture = vg.Length(s.e.h)
	s.row = p.LayRow(s.callouts(), s.clear(), right, labelText)
	s.height.rows = p.Em*1.1 + fretAxisHeight(p) + p.Em*0.3 + s.row.Height
	// The labels stand under the back, beside the headstock where it is lower.
	below := s.e.frame.Scale * vg.Length(s.under-s.e.v0)
	return whole(h.title) + whole(h.chain) + h.picture + whole(max(0, h.rows-below))
}

// clear returns the left end of the ground under the back that no part of the
// headstock reaches into.
func (s *side) clear() vg.Length {
	x := s.n.Start()
	for i := range outlineSteps {
		u := s.n.Start() * (1 - float64(i)/outlineSteps)
		if -s.n.Depth(u) < s.under-1e-6 {
			x = u
		}
	}
	if x <= s.n.Start() {
		return s.left
	}
	return max(s.left, s.e.frame.X(math.Min(x, 0)))
}

func (s *side) shots() []shot { return []shot{s.e.shot()} }

func (s *side) draw(p *drawing.Page, y vg.Length, images []*image.NRGBA) {
	n := s.n
	p.DrawText(drawing.Pt(s.left, y), "Side view, from the "+n.SideName(neck.MinusY)+" side", titleText)
	drawScale(p, s.left, s.right, y, s.e.frame.Scale, n.Spec().PrintUnit())
	y -= whole(s.height.title) + whole(s.height.chain)
	s.e.draw(p, y, images[0])
	f := s.e.frame
	drawSideGlueLines(p, n, f)

	// The lengths, above the highest point.
	for _, c := range s.chain {
		at := y + p.Em*(chainFoot+chainStep*vg.Length(c.level))
		top := func(x float64) vg.Length {
			if x < 0 {
				return f.Y(math.Max(n.SideTop(x), 0))
			}
			return f.Y(n.Spec().Board.Thickness)
		}
		p.Horizontal(f.X(c.from), f.X(c.to), top(c.from), top(c.to), at,
			c.name+" "+number(c.to-c.from, n.Spec().PrintUnit()), labelText, measureLine)
	}

	// The glue plane shows only where wood and board part; a line makes the
	// headstock's drop readable too.
	p.Stroke(f.At(n.Start(), 0), f.At(math.Min(0, n.End()), 0), centreLine)

	axis := f.Y(s.under) - p.Em*1.1
	drawFretAxis(p, n, f, axis)
	for _, d := range n.Spec().Depth {
		s.thickness(p, n.Spec().X(d.At))
	}
	items := s.callouts()
	foot := axis - fretAxisHeight(p)
	for _, c := range items {
		// From the back to the axis; the row draws the rest.
		x := float64((c.Tip.X - f.Origin.X) / f.Scale)
		p.Stroke(drawing.Pt(c.Tip.X, f.Y(-n.Depth(x))), drawing.Pt(c.Tip.X, axis), drawing.Line{Color: c.Color})
	}
	s.row.Lead(foot)
	p.DrawRow(s.row, foot-p.Em*0.3)
}

// thickness marks the total and the wood at x: arrows from outside on the
// board's top and on the back, and a light line between them.
func (s *side) thickness(p *drawing.Page, x float64) {
	f := s.e.frame
	top, back := f.At(x, s.n.Total(x)-s.n.Depth(x)), f.At(x, -s.n.Depth(x))
	p.Stroke(top, back, drawing.Line{Width: 0.14, Color: paperColor})
	p.Stroke(top, back, measureLine)
	tail := p.Em * arrowTail
	p.Stroke(top.Add(drawing.Pt(0, p.Em*0.3)), top.Add(drawing.Pt(0, tail)), measureLine)
	p.Arrow(top, top.Add(drawing.Pt(0, tail)), measureColor)
	p.Arrow(back, back.Sub(drawing.Pt(0, tail)), measureColor)
}
