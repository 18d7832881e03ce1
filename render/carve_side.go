package render

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/render/drawing"
)

// sideView draws the side with glue plane up, the stock, the taper and the
// target, and returns where it ends.
func (s *carveSheet) sideView(y, originX, scale float64) float64 {
	p, n, t := s.p, s.p.Neck, s.p.Taper
	y = s.heading(y, "Side", s.sideWords(scale))
	_, low := alongWood(n, n.Depth)
	if p.Stock.Depth < 2.5*math.Max(t.DepthFrom, t.DepthTo) {
		low = math.Max(low, p.Stock.Depth)
	}
	zero := y + 1
	f := s.frame(originX, zero, scale)
	outline := s.sideOutline(f)
	s.pg.Polygon(outline, woodFill)
	for _, c := range n.Channels() {
		var line []vg.Point
		for _, q := range n.ChannelSide(c, 0.05) {
			line = append(line, f.At(q.X, -q.Y))
		}
		s.pg.Polyline(line, drawing.Line{Color: quietColor, Dash: drawing.HiddenDash})
	}
	s.pg.Outline(outline, edgeLine)
	if p.Stock.Depth <= low {
		s.stock(f)
	}
	if !p.Refuses(carve.StageTaper) {
		s.pg.Stroke(f.At(t.From, t.DepthFrom), f.At(t.To, t.DepthTo), routerLine)
	}
	if !p.Refuses(carve.StageFlats) {
		for _, l := range wallLines(p, neck.MinusY) {
			var points []vg.Point
			for _, q := range l.Points {
				points = append(points, f.At(q.X, -q.Z))
			}
			s.pg.Polyline(points, pencilLine)
		}
	}
	foot := zero + low*scale + 0.8
	if !p.Refuses(carve.StageTaper) {
		s.depths(f, foot)
	}
	return foot + s.lineHeight(picText)
}

// sideWords says what the side view shows, and what to set on the sled.
func (s *carveSheet) sideWords(scale float64) string {
	p, t, u := s.p, s.p.Taper, s.u
	title := scaleName(scale) + ", glue face up, " + p.Neck.SideName(neck.MinusY) + " side. "
	switch {
	case p.Refuses(carve.StageTaper):
		return title + "The taper is refused."
	case p.Sled.Shim < 0.005:
		return title + "The flat back is parallel to the glue plane: no shim."
	}
	return title + fmt.Sprintf("The flat back drops by %s over %s, %.3f degrees: shim %s at the %s, %s from the hinge.",
		number(math.Abs(t.Drop()), u), number(t.Length(), u), math.Abs(t.Angle)*180/math.Pi,
		number(p.Sled.Shim, u), p.Sled.ShimAt, number(p.Sled.Span, u))
}

// sideOutline returns the outline of the wood from the side.
func (s *carveSheet) sideOutline(f drawing.Frame) []vg.Point {
	n := s.p.Neck
	var line, top []vg.Point
	for i := range 301 {
		x := n.Start() + (n.End()-n.Start())*float64(i)/300
		line = append(line, f.At(x, n.Depth(x)))
		top = append(top, f.At(x, -n.SideTop(x)))
	}
	slices.Reverse(top)
	return append(line, top...)
}

// stock draws the wood at the outset.
func (s *carveSheet) stock(f drawing.Frame) {
	p, n, st := s.p, s.p.Neck, s.p.Stretch
	line := []vg.Point{f.At(st.From, p.Stock.At(st.From)), f.At(st.To, p.Stock.At(st.To))}
	if x := p.Stock.BlocksFrom; p.Stock.BlocksDepth > 0 && x > st.From {
		line = slices.Insert(line, 1, f.At(x, p.Stock.Depth), f.At(x, p.Stock.BlocksDepth))
	}
	s.pg.Polyline(line, thinLine)
	for _, x := range []float64{st.From, st.To} {
		low := n.Depth(x)
		if !p.Refuses(carve.StageTaper) {
			low = p.Taper.Depth(x)
		}
		s.pg.Stroke(f.At(x, p.Stock.At(x)), f.At(x, low), thinLine)
	}
}

// depths sets under the side view how deep the flat back is and what comes off.
func (s *carveSheet) depths(f drawing.Frame, below float64) {
	p, t, u := s.p, s.p.Taper, s.u
	lab := drawing.Text{Scale: viewText, AlignY: 1}
	foot := s.at(0, below).Y
	name := func(x float64) string {
		return fmt.Sprintf("flat back %s deep, take off %s", number(t.Depth(x), u), number(p.Stock.At(x)-t.Depth(x), u))
	}
	outside := s.textWidth(name(t.From)+name(t.To), lab)+3 > t.Length()*float64(f.Scale)/s.k
	for i, x := range []float64{t.From, t.To} {
		lab.AlignX = float64(i)
		if outside {
			lab.AlignX = 1 - lab.AlignX
		}
		s.pg.DrawText(drawing.Pt(f.X(x), foot), name(x), lab)
	}
	lab.AlignX, lab.Color = 0.5, quietColor
	s.pg.TryText(fmt.Sprintf("stock %s deep", number(p.Stock.Depth, u)), lab, drawing.Pt(f.X((t.From+t.To)/2), foot))
}

// wallLines returns the flats' lines on one of the neck's own sides, whichever
// side their flats are of.
func wallLines(p *carve.Plan, side neck.Side) []carve.Line {
	var out []carve.Line
	for _, l := range p.Flats.Lines {
		if wall, ok := l.Wall(); ok && wall == side {
			out = append(out, l)
		}
	}
	return out
}
