package render

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/render/drawing"
)

// sectionPlaces returns the stations of the section drawings: where the router
// stops, and half way.
func (s *carveSheet) sectionPlaces() [3]float64 {
	p := s.p
	a, b := p.Stretch.From, p.Stretch.To
	if p.Stage(carve.StageRound).Refused == "" {
		a, b = math.Max(a, p.Round.From), math.Min(b, p.Round.To)
	}
	return [3]float64{a, (a + b) / 2, b}
}

// sectionViews draws sections as they lie under the router, back up, between
// the levels top and foot, and returns where they end.
func (s *carveSheet) sectionViews(top, foot float64) float64 {
	p, n, u := s.p, s.p.Neck, s.u
	places := s.sectionPlaces()
	routed := p.Stage(carve.StageRound).Refused == ""
	bearing := 0.0
	if routed {
		bearing = 2 * (p.Round.Bit.BodyRadius() - p.Round.Bit.Radius + p.Round.Bit.Offset)
	}
	widest, deepest := 0.0, 0.0
	for _, x := range places {
		widest = math.Max(widest, n.Width(x))
		deepest = math.Max(deepest, p.Taper.Depth(x))
	}
	label := s.lineHeight(drawing.Text{})
	column := (s.w - 2*carveEdge) / 3
	headroom := s.lineHeight(drawing.Text{Scale: 1.15}) + 0.8
	room := foot - top - headroom - 4.2*label - 3
	under := 0.0 // the bearing reaches below the glue plane
	if routed {
		under = math.Max(0, p.Round.Bit.BearingHeight-least(places[:], func(x float64) float64 { return edgeAt(p, x) }))
	}
	if p.Options.Guide == carve.GuideTemplate && routed {
		under = math.Max(under, p.Options.Template)
	}
	beside := 20.0 // for the figures on either side
	if p.Options.Reference == carve.ReferenceGlue {
		beside = 26
	}
	scale := math.Min(fitScale(widest+bearing, column-beside), fitScale(deepest+under, room))
	rest := fmt.Sprintf("%s, back up as under the router, bass left, seen from the nut. Tan: the finished neck.", scaleName(scale))
	if routed {
		rest += " Red: cut by the router. set: the height to dial, " + p.HeightFrom() + "."
	}
	if p.Stage(carve.StageFlats).Refused == "" {
		rest += " Blue: flats."
	}
	y := s.heading(top, "Sections", rest)
	base := y + 2.1*label + deepest*scale
	for i, x := range places {
		cx := carveEdge + column*(float64(i)+0.5)
		s.section(x, cx, base, scale, routed)
		t := drawing.Text{Weight: drawing.Medium, AlignX: 0.5}
		s.text(cx, base+under*scale+1.2*label, n.Where(x), t)
		rest := "finished " + number(n.Depth(x), u) + " deep"
		if p.Stage(carve.StageTaper).Refused == "" {
			rest = fmt.Sprintf("flat %s deep, finished %s", number(p.Taper.Depth(x), u), number(n.Depth(x), u))
		}
		s.text(cx, base+under*scale+2.25*label, rest, drawing.Text{AlignX: 0.5, Color: quietColor})
	}
	return base + under*scale + 3.3*label
}

func least(xs []float64, f func(float64) float64) float64 {
	v := math.Inf(1)
	for _, x := range xs {
		v = math.Min(v, f(x))
	}
	return v
}

// edgeAt returns the depth of the bit's vertical end at x.
func edgeAt(p *carve.Plan, x float64) float64 {
	h := p.Round.Setting.Height
	if p.Options.Reference == carve.ReferenceGlue {
		return h
	}
	return p.Taper.Depth(x) - h*math.Hypot(1, p.Taper.Slope)
}

// section draws one section with its glue plane at (cx, base).
func (s *carveSheet) section(x, cx, base, scale float64, routed bool) {
	p, n, u := s.p, s.p.Neck, s.u
	// The model's v is z, which runs down the page here.
	f := s.frame(cx, base, scale)
	line := func(points []neck.YZ) []vg.Point {
		out := make([]vg.Point, len(points))
		for i, q := range points {
			out[i] = f.At(q.Y, q.Z)
		}
		return out
	}
	target := line(p.Outline(carve.StageFinal, x))
	s.pg.Polygon(target, woodFill)
	a, d := n.Width(x)/2, p.Taper.Depth(x)
	if from, to, ok := n.Channel(); ok && x >= from && x <= to {
		w, deep := n.Spec().Rod.Width/2, n.Spec().Rod.Depth
		s.pg.Polygon(line([]neck.YZ{{Y: -w}, {Y: -w, Z: -deep}, {Y: w, Z: -deep}, {Y: w}}), s.pg.Paper)
		s.pg.Polyline(line([]neck.YZ{{Y: -w}, {Y: -w, Z: -deep}, {Y: w, Z: -deep}, {Y: w}}), thinLine)
	}
	if p.Stage(carve.StageTaper).Refused == "" {
		s.pg.Polyline(line(p.Outline(carve.StageTaper, x)), thinLine)
	}
	s.pg.Polyline(target, edgeLine)
	s.pg.Stroke(f.At(-a-1.5/scale, 0), f.At(a+1.5/scale, 0), edgeLine)
	s.pg.Stroke(f.At(0, 1.5/scale), f.At(0, -d-1.5/scale), axisLine)
	if p.Stage(carve.StageFlats).Refused == "" {
		for _, flat := range p.FlatsAt(x) {
			s.pg.Stroke(f.At(flat.Board.Y, flat.Board.Z), f.At(flat.Back.Y, flat.Back.Z), pencilLine)
		}
	}
	small := drawing.Text{Scale: 0.9}
	if t := p.Options.Template; routed && p.Options.Guide == carve.GuideTemplate {
		s.pg.Polygon(line([]neck.YZ{{Y: -a}, {Y: -a, Z: t}, {Y: a, Z: t}, {Y: a}}), stripeColor)
		s.pg.Outline(line([]neck.YZ{{Y: -a}, {Y: -a, Z: t}, {Y: a, Z: t}, {Y: a}}), edgeLine)
		s.pg.TryText("template "+number(t, u), drawing.Text{Scale: 0.9, AlignX: 0.5, AlignY: 0.5, Color: quietColor}, f.At(0, t/2))
	}
	if routed {
		s.pg.Polyline(line(p.Outline(carve.StageRound, x)), routerLine)
		e := edgeAt(p, x)
		b := p.Round.Bit
		w := 2 * (b.BodyRadius() - b.Radius + b.Offset)
		half := w / 2 // of the bearing, up to the bit's axis
		for _, sign := range []float64{-1, 1} {
			s.pg.Polyline(line([]neck.YZ{
				{Y: sign * (a + half), Z: -e}, {Y: sign * a, Z: -e},
				{Y: sign * a, Z: b.BearingHeight - e}, {Y: sign * (a + half), Z: b.BearingHeight - e},
			}), drawing.Line{Width: 0.05, Color: routerColor})
			s.pg.Polyline(line([]neck.YZ{{Y: sign * (a + half), Z: b.BearingHeight - e + 1/scale}, {Y: sign * (a + half), Z: -e - 1/scale}}),
				drawing.Line{Width: 0.05, Color: routerColor, Dash: drawing.ChainDash})
		}
		if st := s.stationAt(x); st != nil {
			small.Color = routerColor
			small.AlignX, small.AlignY = 0.5, 0
			ridge := "ridge " + number(st.Ridge, u)
			wide := st.Ridge / 2
			level := f.Y(-d) + vg.Length(1.2*s.k)
			s.pg.Span(drawing.Pt(f.X(-wide), level), drawing.Pt(f.X(wide), level), drawing.Line{Width: 0.05, Color: routerColor})
			s.pg.TryText(ridge, small, drawing.Pt(f.X(0), level+vg.Length(0.6*s.k)))
			// The highest wood, and how close the cut comes to the board.
			q := f.At(st.LeftY, -leftDepth(p, x, st))
			s.pg.Dot(q, s.pg.Em*0.13, routerColor)
			out := s.at(0, 0)
			small.AlignX = 0
			if st.LeftY < 0 {
				small.AlignX = 1
			}
			out = drawing.Pt(f.X(math.Copysign(a, st.LeftY))+vg.Length(math.Copysign(1.2*s.k, st.LeftY)), f.Y(-d)-vg.Length(0.2*s.k))
			s.pg.Stroke(q, out, drawing.Line{Width: 0.05, Color: routerColor})
			small.AlignY = 0.5
			out.X += vg.Length(math.Copysign(0.5*s.k, st.LeftY))
			s.pg.TryText("left "+number(st.Left, u), small, out)
			// What is dialled, beside the cutter, and what can be measured on the
			// wood.
			side := -math.Copysign(1, st.LeftY)
			s.dialled(f, side, a, half, d, e)
			if !math.IsNaN(st.Edge) && !(p.Options.Reference == carve.ReferenceGlue && math.Abs(st.Edge-e) < 0.1) {
				s.toEdge(f, side, a+half+1/scale, st.Edge)
			}
		}
	}
}

// dialled draws the height that is set on the tool, from its reference to the
// arc's end at the depth e, beside a bit whose bearing is half across to its
// axis.
func (s *carveSheet) dialled(f drawing.Frame, side, a, half, d, e float64) {
	from, at := d, side*(a+math.Min(half*0.6, 2.5*s.k/float64(f.Scale)))
	if s.p.Options.Reference == carve.ReferenceGlue {
		from, at = 0, side*(a+half)+side*1.8*s.k/float64(f.Scale)
	}
	l := drawing.Line{Width: 0.07, Color: routerColor}
	s.pg.Span(drawing.Pt(f.X(at), f.Y(-e)), drawing.Pt(f.X(at), f.Y(-from)), l)
	// From the plane and the arc's end to the dimension.
	over := at + side*0.8*s.k/float64(f.Scale)
	for _, depth := range []float64{from, e} {
		s.pg.Stroke(f.At(side*a, -depth), f.At(over, -depth), thinLine)
	}
	t := drawing.Text{Scale: 0.9, AlignY: 0.5, Color: routerColor, Weight: drawing.Medium}
	if side < 0 {
		t.AlignX = 1
	}
	text := "set " + number(s.p.SafeHeight(s.u, s.p.Round.Setting.Height), s.u)
	x := f.X(at) + vg.Length(side*0.9*s.k)
	mid := (f.Y(-e) + f.Y(-from)) / 2
	// Where the dimension is too short for its figure, above and below it.
	step := s.pg.TextHeight(t) * 12 / 10
	s.pg.TryText(text, t, drawing.Pt(x, mid), drawing.Pt(x, mid+step), drawing.Pt(x, mid-step), drawing.Pt(x, mid-2*step), drawing.Pt(x, mid+2*step))
}

// toEdge draws how far the cut stays from the board's edge, at y off the
// centreline.
func (s *carveSheet) toEdge(f drawing.Frame, side, y, edge float64) {
	x := f.X(side * y)
	l := drawing.Line{Width: 0.05}
	s.pg.Stroke(drawing.Pt(x, f.Y(0)), drawing.Pt(x, f.Y(-edge)), l)
	for _, y := range []vg.Length{f.Y(0), f.Y(-edge)} {
		s.pg.Stroke(drawing.Pt(x-vg.Length(side*1.2*s.k), y), drawing.Pt(x, y), l)
	}
	t := drawing.Text{Scale: 0.9, AlignY: 0.5}
	if side < 0 {
		t.AlignX = 1
	}
	step := s.pg.TextHeight(t) * 11 / 10
	at := drawing.Pt(x+vg.Length(side*0.8*s.k), f.Y(-edge/2))
	if s.pg.Free(s.pg.TextBox(drawing.Pt(at.X, at.Y+step/2), "to edge", t)) {
		s.pg.TryText("to edge", t, drawing.Pt(at.X, at.Y+step/2))
		at.Y -= step / 2
	}
	s.pg.TryText(number(edge, s.u), t, at)
}

// stationAt returns what the plan says at x.
func (s *carveSheet) stationAt(x float64) *carve.Station {
	st := s.p.StationAt(x)
	return &st
}

// leftDepth returns the depth of the highest wood's point.
func leftDepth(p *carve.Plan, x float64, st *carve.Station) float64 {
	line := p.Outline(carve.StageRound, x)
	best, depth := math.Inf(1), p.Taper.Depth(x)
	for _, q := range line {
		if d := math.Abs(q.Y - st.LeftY); d < best || d == best && -q.Z > depth {
			best, depth = d, -q.Z
		}
	}
	return depth
}
