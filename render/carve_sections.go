package render

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// sectionPlaces returns the stations of the section drawings: where the router
// stops, and between.
func (s *carveSheet) sectionPlaces() [5]float64 {
	p := s.p
	a, b := p.Stretch.From, p.Stretch.To
	if !p.Refuses(carve.StageRound) {
		a, b = math.Max(a, p.Round.From), math.Min(b, p.Round.To)
	}
	var out [5]float64
	for i := range out {
		out[i] = a + (b-a)*float64(i)/4
	}
	return out
}

// sectionRoom is what the sections need, in mm of the neck: across, over the
// glue plane and under it.
type sectionRoom struct{ wide, deep, under float64 }

func (s *carveSheet) sectionRoom() sectionRoom {
	p, n, places := s.p, s.p.Neck, s.sectionPlaces()
	var r sectionRoom
	for _, x := range places {
		r.wide = math.Max(r.wide, n.Width(x))
		r.deep = math.Max(r.deep, p.Taper.Depth(x))
	}
	if p.Refuses(carve.StageRound) {
		return r
	}
	b := p.Round.Bit
	r.wide += 2 * axisOff(b)
	// The bearing reaches below the glue plane.
	r.under = math.Max(0, b.BearingHeight-least(places[:], func(x float64) float64 { return edgeAt(p, x) }))
	board, template := underGlue(p)
	r.under = math.Max(r.under, board+template)
	for _, x := range places {
		r.under = math.Max(r.under, -dialPlane(p).Depth(x))
	}
	return r
}

// sectionViews draws sections as they lie under the router, back up, between
// the levels top and foot: three beside each other and two under them beside the
// check bars, or three alone beside the bars where that makes them larger. It
// returns the level under which there is room for the bars.
func (s *carveSheet) sectionViews(top, foot float64) (free float64) {
	places := s.sectionPlaces()
	room, label := s.sectionRoom(), s.lineHeight(picText)
	beside := 25.0 // for the figures on either side
	if onRails(s.p) {
		beside = 32
	}
	words := 4.2 * label // under and over a section
	routed := !s.p.Refuses(carve.StageRound)
	full := s.w - 2*carveEdge
	tall := foot - s.blank().headingIn(top, full, "Sections", s.sectionWords(1/2.5, routed))
	fit := func(width, tall float64) float64 {
		return math.Min(fitScale(room.wide, width/3-beside), fitScale(room.deep+room.under, tall-words-2))
	}
	two, one := fit(full, tall/2), fit(full-barsWide, tall-label)
	if one > two {
		y := s.headingIn(top, full-barsWide, "Sections", s.sectionWords(one, routed))
		s.sectionRow([]float64{places[0], places[2], places[4]}, y, (full-barsWide)/3, one, room)
		return top
	}
	y := s.headingIn(top, full, "Sections", s.sectionWords(two, routed))
	s.sectionRow(places[:3], y, full/3, two, room)
	mid := y + (foot-y)/2
	s.sectionRow(places[3:], mid, full/3, two, room)
	return mid
}

// sectionRow draws sections beside each other, with the words over them at y.
func (s *carveSheet) sectionRow(places []float64, y, column, scale float64, room sectionRoom) {
	p, n, u := s.p, s.p.Neck, s.u
	label := s.lineHeight(picText)
	base := y + 2.1*label + room.deep*scale
	for i, x := range places {
		cx := carveEdge + column*(float64(i)+0.5)
		s.section(x, cx, base, scale, !p.Refuses(carve.StageRound))
		t := drawing.Text{Weight: drawing.Medium, Scale: viewText, AlignX: 0.5}
		s.text(cx, base+room.under*scale+label, n.WhereIn(u, x), t)
		rest := "finished " + number(n.Depth(x), u) + " deep"
		if !p.Refuses(carve.StageTaper) {
			rest = fmt.Sprintf("flat %s deep, finished %s", number(p.Taper.Depth(x), u), number(n.Depth(x), u))
		}
		s.text(cx, base+room.under*scale+2.05*label, rest, drawing.Text{Scale: viewText, AlignX: 0.5, Color: quietColor})
	}
}

// sectionWords says what the sections show.
func (s *carveSheet) sectionWords(scale float64, routed bool) string {
	how := "back up as under the router"
	if s.p.Table != nil {
		how = "back up"
	}
	words := scaleName(scale) + ", " + how + ", " + s.p.Neck.SideName(neck.MinusY) + " left, seen from the nut. " + s.finishedWords()
	if routed {
		words += " Red: cut by the router. set: the height to dial, " + s.p.Options.Reference.CountsFrom() + "."
	}
	if !s.p.Refuses(carve.StageFlats) {
		words += " Blue: flats."
	}
	return words
}

// finishedWords says how the finished neck is drawn.
func (s *carveSheet) finishedWords() string {
	words := "Tan: the finished neck."
	if len(s.p.Neck.Spec().Laminations) > 0 {
		words = "Filled: the finished neck in the colours of its woods."
	}
	if slices.ContainsFunc(s.p.Neck.Spec().Channels, func(c spec.Channel) bool { return c.Bar.Has() }) {
		words += " Grey: bars."
	}
	return words
}

func least(xs []float64, f func(float64) float64) float64 {
	v := math.Inf(1)
	for _, x := range xs {
		v = math.Min(v, f(x))
	}
	return v
}

// section draws one section with its glue plane at (cx, base).
func (s *carveSheet) section(x, cx, base, scale float64, routed bool) {
	v := sectionView{s: s, f: s.frame(cx, base, scale), x: x, half: s.p.Neck.Width(x) / 2, flat: s.p.Taper.Depth(x), scale: scale}
	v.wood()
	if !routed {
		return
	}
	v.under(underGlue(s.p))
	v.router()
}

// sectionView is one section in the making. The model's z runs down the page.
type sectionView struct {
	s          *carveSheet
	f          drawing.Frame
	x          float64
	half, flat float64 // half the width, and the depth of the flat back
	scale      float64
}

// line maps points of the section.
func (v *sectionView) line(points ...neck.YZ) []vg.Point {
	out := make([]vg.Point, len(points))
	for i, q := range points {
		out[i] = v.f.At(q.Y, q.Z)
	}
	return out
}

// wood draws the finished neck with its channel, the flat back and the flats.
func (v *sectionView) wood() {
	pg, p, n, f := v.s.pg, v.s.p, v.s.p.Neck, v.f
	target := v.line(p.Outline(carve.StageFinal, v.x)...)
	pg.Polygon(target, woodFill)
	fills := newStrips(n.Spec()).fills
	for i, strip := range n.Strips(v.x, p.Outline(carve.StageFinal, v.x)) {
		pg.Polygon(v.line(strip...), fills[i])
	}
	drawSeams(pg, n, v.x, f, 0, drawing.Line{Width: 0.06, Color: woodHatch})
	for _, line := range channelOutlines(n, v.x) {
		slices.Reverse(line)
		channel := v.line(line...)
		pg.Polygon(channel, pg.Paper)
		pg.Polyline(channel, thinLine)
	}
	drawInlays(pg, n, v.x, f)
	if !p.Refuses(carve.StageTaper) {
		pg.Polyline(v.line(p.Outline(carve.StageTaper, v.x)...), thinLine)
	}
	pg.Polyline(target, edgeLine)
	pg.Stroke(f.At(-v.half-1.5/v.scale, 0), f.At(v.half+1.5/v.scale, 0), edgeLine)
	pg.Stroke(f.At(0, 1.5/v.scale), f.At(0, -v.flat-1.5/v.scale), axisLine)
	if !p.Refuses(carve.StageFlats) {
		for _, flat := range p.Flats.At(v.x) {
			pg.Stroke(f.At(flat.Board.Y, flat.Board.Z), f.At(flat.Back.Y, flat.Back.Z), pencilLine)
		}
	}
}

// under draws board and template on the glue face.
func (v *sectionView) under(board, template float64) {
	pg, a := v.s.pg, v.half
	at := 0.0
	for _, b := range []struct {
		name  string
		thick float64
	}{{"fretboard", board}, {"template", template}} {
		if b.thick == 0 {
			continue
		}
		box := v.line(neck.YZ{Y: -a, Z: at}, neck.YZ{Y: -a, Z: at + b.thick}, neck.YZ{Y: a, Z: at + b.thick}, neck.YZ{Y: a, Z: at})
		pg.Polygon(box, stripeColor)
		pg.Outline(box, edgeLine)
		pg.TryText(b.name+" "+number(b.thick, v.s.u), drawing.Text{Scale: leastText, AlignX: 0.5, AlignY: 0.5, Color: quietColor}, v.f.At(0, at+b.thick/2))
		at += b.thick
	}
}

// router draws the cut with the bearing on both sides, what it leaves, and what
// is dialled and measured.
func (v *sectionView) router() {
	s, p, b, a := v.s, v.s.p, v.s.p.Round.Bit, v.half
	s.pg.Polyline(v.line(p.Outline(carve.StageRound, v.x)...), routerLine)
	e := edgeAt(p, v.x)
	half := b.BodyRadius() - b.Radius + b.Offset // of the bearing, up to the bit's axis
	thin := drawing.Line{Width: 0.05, Color: routerColor}
	chain := drawing.Line{Width: 0.05, Color: routerColor, Dash: drawing.ChainDash}
	for _, sign := range []float64{-1, 1} {
		inner, axis, foot := sign*a, sign*(a+half), b.BearingHeight-e
		s.pg.Polyline(v.line(neck.YZ{Y: axis, Z: -e}, neck.YZ{Y: inner, Z: -e}, neck.YZ{Y: inner, Z: foot}, neck.YZ{Y: axis, Z: foot}), thin)
		s.pg.Polyline(v.line(neck.YZ{Y: axis, Z: foot + 1/v.scale}, neck.YZ{Y: axis, Z: -e - 1/v.scale}), chain)
	}
	st := p.StationAt(v.x)
	v.ridge(&st)
	v.highest(&st)
	// What is dialled, beside the cutter, and what can be measured on the wood.
	side := -math.Copysign(1, st.RemainingY)
	s.dialled(v.f, side, a, half, dialPlane(p).Depth(v.x), e)
	if !math.IsNaN(st.Edge) && !onRails(p) {
		s.toEdge(v.f, side, a+half+1/v.scale, st.Edge)
	}
}

// ridge draws the width of the back that remains flat.
func (v *sectionView) ridge(st *carve.Station) {
	s, wide := v.s, st.Ridge/2
	t := drawing.Text{Scale: leastText, Color: routerColor, AlignX: 0.5}
	level := v.f.Y(-v.flat) + vg.Length(1.2*s.k)
	s.pg.Span(drawing.Pt(v.f.X(-wide), level), drawing.Pt(v.f.X(wide), level), drawing.Line{Width: 0.05, Color: routerColor})
	s.pg.TryText("ridge "+number(st.Ridge, s.u), t, drawing.Pt(v.f.X(0), level+vg.Length(0.6*s.k)))
}

// highest draws where the most wood remains, and how much.
func (v *sectionView) highest(st *carve.Station) {
	s, y := v.s, st.RemainingY
	t := drawing.Text{Scale: leastText, Color: routerColor, AlignY: 0.5}
	if y < 0 {
		t.AlignX = 1
	}
	q := v.f.At(y, -remainingDepth(s.p, v.x, st))
	s.pg.Dot(q, s.pg.Em*0.13, routerColor)
	out := drawing.Pt(v.f.X(math.Copysign(v.half, y))+vg.Length(math.Copysign(1.2*s.k, y)), v.f.Y(-v.flat)-vg.Length(0.2*s.k))
	s.pg.Stroke(q, out, drawing.Line{Width: 0.05, Color: routerColor})
	out.X += vg.Length(math.Copysign(0.5*s.k, y))
	s.pg.TryText(number(st.Remaining, s.u), t, out)
	s.pg.TryText("remaining", t, drawing.Pt(out.X, out.Y+s.pg.TextHeight(t)*11/10))
}

// dialled draws the height that is set on the tool, from the plane at the depth from to the
// arc's end at the depth e, beside a bit whose bearing is half across to its
// axis.
func (s *carveSheet) dialled(f drawing.Frame, side, a, half, from, e float64) {
	at := side * (a + math.Min(half*0.6, 2.5*s.k/float64(f.Scale)))
	if onRails(s.p) {
		at = side*(a+half) + side*1.8*s.k/float64(f.Scale)
	}
	l := drawing.Line{Width: 0.07, Color: routerColor}
	s.pg.Span(drawing.Pt(f.X(at), f.Y(-e)), drawing.Pt(f.X(at), f.Y(-from)), l)
	// From the plane and the arc's end to the dimension.
	over := at + side*0.8*s.k/float64(f.Scale)
	for _, depth := range []float64{from, e} {
		s.pg.Stroke(f.At(side*a, -depth), f.At(over, -depth), thinLine)
	}
	t := drawing.Text{Scale: leastText, AlignY: 0.5, Color: routerColor, Weight: drawing.Medium}
	if side < 0 {
		t.AlignX = 1
	}
	text := "set " + number(s.p.In(s.u).SafeHeight(s.p.Round.Setting.Height), s.u)
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
	t := drawing.Text{Scale: leastText, AlignY: 0.5}
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

// remainingDepth returns the depth of the highest wood's point.
func remainingDepth(p *carve.Plan, x float64, st *carve.Station) float64 {
	line := p.Outline(carve.StageRound, x)
	best, depth := math.Inf(1), p.Taper.Depth(x)
	for _, q := range line {
		if d := math.Abs(q.Y - st.RemainingY); d < best || d == best && -q.Z > depth {
			best, depth = d, -q.Z
		}
	}
	return depth
}
