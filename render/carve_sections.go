package render

import (
	"fmt"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
)

// sectionPlaces returns the stations of the section drawings: where the router
// stops, and half way.
func (s *carveSheet) sectionPlaces() [3]float64 {
	p := s.p
	a, b := p.Stretch.From, p.Stretch.To
	if p.Stage(neck.StageRound).Refused == "" {
		a, b = math.Max(a, p.Round.From), math.Min(b, p.Round.To)
	}
	return [3]float64{a, (a + b) / 2, b}
}

// sectionViews draws sections as they lie under the router, back up, between
// the levels top and foot, and returns where they end.
func (s *carveSheet) sectionViews(top, foot float64) float64 {
	p, n, u := s.p, s.p.Neck, s.u
	places := s.sectionPlaces()
	routed := p.Stage(neck.StageRound).Refused == ""
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
	scale := math.Min(fitScale(widest+2*bearing, column-11), fitScale(deepest+under, room))
	rest := fmt.Sprintf("%s, back up as under the router, bass left, seen from the nut. Tan: the finished neck.", scaleName(scale))
	if routed {
		rest += " Red: cut by the router."
	}
	if p.Stage(neck.StageFlats).Refused == "" {
		rest += " Blue: flats."
	}
	y := s.heading(top, "Sections", rest)
	base := y + 2.1*label + deepest*scale
	for i, x := range places {
		cx := carveEdge + column*(float64(i)+0.5)
		s.section(x, cx, base, scale, routed)
		t := drawing.Text{Weight: drawing.Medium, AlignX: 0.5}
		s.text(cx, base+under*scale+1.2*label, n.Where(x), t)
		rest := fmt.Sprintf("flat %s deep, finished %s", number(p.Taper.Depth(x), u), number(n.Depth(x), u))
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
func edgeAt(p *neck.Plan, x float64) float64 {
	h := p.Round.Setting.Height
	if p.Options.Reference == neck.ReferenceGlue {
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
	target := line(p.Outline(neck.StageFinal, x))
	s.pg.Polygon(target, woodFill)
	a, d := n.Width(x)/2, p.Taper.Depth(x)
	if from, to, ok := n.Channel(); ok && x >= from && x <= to {
		w, deep := n.Spec().Rod.Width/2, n.Spec().Rod.Depth
		s.pg.Polygon(line([]neck.YZ{{Y: -w}, {Y: -w, Z: -deep}, {Y: w, Z: -deep}, {Y: w}}), s.pg.Paper)
		s.pg.Polyline(line([]neck.YZ{{Y: -w}, {Y: -w, Z: -deep}, {Y: w, Z: -deep}, {Y: w}}), thinLine)
	}
	s.pg.Polyline(line(p.Outline(neck.StageTaper, x)), thinLine)
	s.pg.Polyline(target, edgeLine)
	s.pg.Stroke(f.At(-a-1.5/scale, 0), f.At(a+1.5/scale, 0), edgeLine)
	s.pg.Stroke(f.At(0, 1.5/scale), f.At(0, -d-1.5/scale), axisLine)
	if p.Stage(neck.StageFlats).Refused == "" {
		for _, flat := range p.FlatsAt(x) {
			s.pg.Stroke(f.At(flat.Board.Y, flat.Board.Z), f.At(flat.Back.Y, flat.Back.Z), pencilLine)
		}
	}
	small := drawing.Text{Scale: 0.9}
	if routed {
		s.pg.Polyline(line(p.Outline(neck.StageRound, x)), routerLine)
		e := edgeAt(p, x)
		b := p.Round.Bit
		w := 2 * (b.BodyRadius() - b.Radius + b.Offset)
		for _, sign := range []float64{-1, 1} {
			s.pg.Outline(line([]neck.YZ{
				{Y: sign * a, Z: -e}, {Y: sign * (a + w), Z: -e},
				{Y: sign * (a + w), Z: b.BearingHeight - e}, {Y: sign * a, Z: b.BearingHeight - e},
			}), drawing.Line{Width: 0.05, Color: routerColor})
		}
		if st := s.stationAt(x); st != nil {
			small.Color = routerColor
			small.AlignX, small.AlignY = 0.5, 0
			ridge := "ridge " + number(st.Ridge, u)
			half := st.Ridge / 2
			level := f.Y(-d) + vg.Length(1.2*s.k)
			s.pg.Span(drawing.Pt(f.X(-half), level), drawing.Pt(f.X(half), level), drawing.Line{Width: 0.05, Color: routerColor})
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
			if !math.IsNaN(st.Edge) {
				small.AlignX, small.Color = 0, nil
				if st.LeftY > 0 {
					small.AlignX = 1
				}
				side := -math.Copysign(1, st.LeftY)
				at := drawing.Pt(f.X(side*(a+w))+vg.Length(side*0.8*s.k), f.Y(-st.Edge/2))
				s.pg.Span(drawing.Pt(f.X(side*(a+w)), f.Y(0)), drawing.Pt(f.X(side*(a+w)), f.Y(-st.Edge)), drawing.Line{Width: 0.05})
				s.pg.TryText(number(st.Edge, u), small, at)
			}
		}
	}
}

// stationAt returns what the plan says at x.
func (s *carveSheet) stationAt(x float64) *neck.PlanStation {
	st := s.p.StationAt(x)
	return &st
}

// leftDepth returns the depth of the highest wood's point.
func leftDepth(p *neck.Plan, x float64, st *neck.PlanStation) float64 {
	line := p.Outline(neck.StageRound, x)
	best, depth := math.Inf(1), p.Taper.Depth(x)
	for _, q := range line {
		if d := math.Abs(q.Y - st.LeftY); d < best || d == best && -q.Z > depth {
			best, depth = d, -q.Z
		}
	}
	return depth
}
