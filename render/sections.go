package render

import (
	"image"
	"image/color"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// sections is a row of sections to one scale, seen from the body towards the
// nut so that the side of lower y is on the left.
type sections struct {
	n           *neck.Neck
	cuts        []cut
	most        float64 // greatest height of the sections, in units of the width
	scale       vg.Length
	left, right vg.Length
	cell, gap   vg.Length
	room        vg.Length // at either side of a section, for its dimensions
	top, deep   float64   // greatest height above and depth below the glue plane
	woods       strips
	u           spec.Unit // that numbers are printed in
	rows        []drawing.Row
	tallest     vg.Length
	title       vg.Length
}

func newSections(n *neck.Neck, cuts []cut, most float64) *sections {
	return &sections{n: n, cuts: cuts, most: most, woods: newStrips(n.Spec()), u: n.Spec().PrintUnit()}
}

func (s *sections) num(mm float64) string { return number(mm, s.u) }

// half returns the greater half-width of wood and board at x.
func (s *sections) half(x float64) float64 {
	sec := s.n.Section(x)
	return math.Max(sec.HalfWidth, s.n.BoardHalfWidth(x))
}

// beside is the distance of a vertical dimension from the section, in Em.
const beside = 1.3

func (s *sections) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	s.left, s.right = left, right
	k := vg.Length(len(s.cuts))
	s.gap = p.Em * 1.2
	s.cell = (right - left - s.gap*(k-1)) / k
	widest := 0.0
	s.room, s.top, s.deep = 0, 0, 0
	for _, c := range s.cuts {
		widest = math.Max(widest, s.half(c.x))
		s.top = math.Max(s.top, s.crown(c.x))
		s.deep = math.Max(s.deep, s.n.Depth(c.x))
		for _, text := range []string{"wood", "total", s.num(s.n.Depth(c.x)), s.num(s.n.Total(c.x))} {
			s.room = max(s.room, p.TextWidth(text, labelText))
		}
	}
	s.room += p.Em * (beside + 0.6)
	s.scale = min((s.cell-2*s.room)/vg.Length(2*widest), (right-left)*vg.Length(s.most)/vg.Length(s.top+s.deep))

	s.rows = nil
	s.tallest = 0
	for i, c := range s.cuts {
		l := s.left + (s.cell+s.gap)*vg.Length(i)
		row := p.LayRow(s.callouts(c, s.frame(i)), l, l+s.cell, labelText)
		s.rows = append(s.rows, row)
		s.tallest = max(s.tallest, row.Height)
	}
	s.title = p.TextHeight(titleText)*1.6 + p.TextHeight(labelText)*leading*2
	return whole(s.title + s.widthRoom(p) + s.scale*vg.Length(s.top+s.deep) + p.Em*0.9 + s.tallest + p.Em*0.6 + s.legendHeight(p))
}

// widthRoom is the height of the dimension of the width above a section.
func (s *sections) widthRoom(p *drawing.Page) vg.Length { return p.Em * 2.2 }

func (s *sections) legendHeight(p *drawing.Page) vg.Length {
	return p.Em*0.55 + p.TextHeight(figureText)
}

// crown returns the height of the board on the centreline at x, 0 off it.
func (s *sections) crown(x float64) float64 {
	return s.n.Total(x) - s.n.Depth(x)
}

// frame returns the frame of section i, its level still to be set.
func (s *sections) frame(i int) drawing.Frame {
	x := s.left + (s.cell+s.gap)*vg.Length(i) + s.cell/2
	return drawing.Frame{Origin: drawing.Pt(x, 0), Scale: s.scale}
}

// callouts returns the labels under a section from left to right.
func (s *sections) callouts(c cut, f drawing.Frame) []drawing.Callout {
	n := s.n
	sec := n.Section(c.x)
	var out []drawing.Callout
	add := func(y, z float64, ink color.Color, lines ...string) {
		out = append(out, drawing.Callout{Tip: f.At(y, z), Lines: lines, Color: ink})
	}
	if wall := sec.Top - sec.CurveStart(); sec.Blend() == 0 && wall > 0 {
		add(-sec.HalfWidth, -wall/2, measureColor, "wall", s.num(wall))
	}
	f0, f1 := sec.Flat()
	apex := (f0 + f1) / 2
	deepest := func() { add(apex, -sec.Depth, measureColor, "apex", s.offset(apex)) }
	if !c.covered {
		deepest()
		return out
	}
	if c.back.Y > apex {
		deepest()
	}
	add(c.back.Y, c.back.Z, featureColor, "cover", s.num(c.cover))
	if c.back.Y <= apex {
		deepest()
	}
	return out
}

// offset says where the apex lies.
func (s *sections) offset(apex float64) string {
	switch text := s.num(math.Abs(apex)); {
	case text == s.num(0):
		return "centred"
	case apex < 0:
		return text + " to " + s.n.SideName(neck.MinusY)
	default:
		return text + " to " + s.n.SideName(neck.PlusY)
	}
}

func (s *sections) shots() []shot { return nil }

func (s *sections) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	p.DrawText(drawing.Pt(s.left, y), "Sections to one scale, seen from the body", titleText)
	for i := range s.cuts {
		s.drawCut(p, i, y-p.TextHeight(titleText)*1.6)
	}
	foot := y - s.title - s.widthRoom(p) - s.scale*vg.Length(s.top+s.deep) - p.Em*0.9 - s.tallest - p.Em*0.6 - s.legendHeight(p)
	s.legend(p, foot)
}

func (s *sections) drawCut(p *drawing.Page, i int, y vg.Length) {
	c := s.cuts[i]
	f := s.frame(i)
	centred := labelText
	centred.AlignX, centred.AlignY = 0.5, 1
	h := p.TextHeight(labelText) * leading
	strong := centred
	strong.Weight = drawing.Medium
	p.DrawText(drawing.Pt(f.Origin.X, y), c.title, strong)
	where := "x " + s.num(c.x)
	if c.place != "" {
		where = c.place + ", " + where
	}
	p.DrawText(drawing.Pt(f.Origin.X, y-h), where, centred)

	f.Origin.Y = y - 2*h - s.widthRoom(p) - s.scale*vg.Length(s.top)
	s.drawSolid(p, c.x, f)
	s.dimension(p, c, f)

	// Under the deepest of all, or under its own where that is far above.
	deep := s.deep
	if own := s.n.Depth(c.x); deep > 2*own {
		deep = own
	}
	foot := f.Y(-deep) - p.Em*0.9
	items := s.callouts(c, f)
	for _, item := range items {
		p.Stroke(item.Tip, drawing.Pt(item.Tip.X, foot), drawing.Line{Color: item.Color})
		p.Dot(item.Tip, p.Em*0.1, item.Color)
	}
	s.rows[i].Lead(foot)
	p.DrawRow(s.rows[i], foot)
}

// drawSolid draws what is cut: wood, board and the channel between.
func (s *sections) drawSolid(p *drawing.Page, x float64, f drawing.Frame) {
	edge := drawing.Line{Width: 0.09}
	outline := woodOutline(s.n, x)
	woods := onPage(f, outline)
	p.Polygon(woods, woodFill)
	for i, strip := range s.n.Strips(x, outline) {
		p.Polygon(onPage(f, strip), s.woods.fills[i])
	}
	p.Hatch([][]vg.Point{woods}, math.Pi/4, p.Em*0.42, drawing.Line{Width: 0.045, Color: woodHatch})
	drawSeams(p, s.n, x, f, 0, drawing.Line{Width: 0.06, Color: woodHatch})
	p.Outline(woods, edge)
	drawInlays(p, s.n, x, f)
	if b := onPage(f, boardOutline(s.n, x)); b != nil {
		p.Polygon(b, boardFill)
		p.Outline(b, edge)
	}
	half, over := s.half(x), float64(p.Em/s.scale)
	p.Stroke(f.At(0, s.crown(x)+0.7*over), f.At(0, -s.n.Depth(x)-0.7*over), centreLine)
	glue := drawing.Line{Color: quietColor, Dash: drawing.HiddenDash}
	p.Stroke(f.At(-half-0.9*over, 0), f.At(-half, 0), glue)
	p.Stroke(f.At(half, 0), f.At(half+0.9*over, 0), glue)
}

// drawInlays draws what is glued into the channels of a neck at x.
func drawInlays(p *drawing.Page, n *neck.Neck, x float64, f drawing.Frame) {
	for _, c := range n.Channels() {
		for _, i := range n.InlayOutlines(c, x, backSteps) {
			closed := onPage(f, i.Closed)
			if i.Name == "bar" {
				p.Polygon(closed, barFill)
			} else {
				p.Polygon(closed, woodFill)
				p.Hatch([][]vg.Point{closed}, -math.Pi/4, p.Em*0.3, drawing.Line{Width: 0.045, Color: woodHatch})
			}
			p.Outline(closed, drawing.Line{Width: 0.06})
		}
	}
}

// inlaid returns what is glued into a channel at one of the cuts.
func (s *sections) inlaid() map[string]bool {
	has := make(map[string]bool)
	for _, cut := range s.cuts {
		for _, c := range s.n.Channels() {
			for _, i := range s.n.InlayOutlines(c, cut.x, backSteps) {
				if has["bar"] = has["bar"] || i.Name == "bar"; i.Name != "bar" {
					has["strip"] = true
				}
			}
		}
	}
	return has
}

// dimension draws the width, the depth of the wood, the total and the cover.
func (s *sections) dimension(p *drawing.Page, c cut, f drawing.Frame) {
	n, x := s.n, c.x
	sec := n.Section(x)
	half, crown := s.half(x), s.crown(x)
	edgeZ := 0.0
	if crown > 0 {
		edgeZ = n.BoardTop(x, n.BoardHalfWidth(x))
	}
	level := f.Y(s.top) + p.Em*1.1
	w := sec.HalfWidth
	text := s.num(2*w) + " wide"
	if !p.FitsSpan(text, f.X(w)-f.X(-w), labelText) {
		text = s.num(2 * w)
	}
	p.Horizontal(f.X(-w), f.X(w), f.Y(edgeZ), f.Y(edgeZ), level, text, labelText, measureLine)
	side := labelText
	side.Color = quietColor
	side.AlignX, side.AlignY = 1, 0.5
	p.TryText(n.SideName(neck.MinusY), side, drawing.Pt(f.X(-w)-p.Em*0.8, level))
	side.AlignX = 0
	p.TryText(n.SideName(neck.PlusY), side, drawing.Pt(f.X(w)+p.Em*0.8, level))

	f0, f1 := sec.Flat()
	foot := f.Y(-sec.Depth)
	l := f.X(-half) - p.Em*beside
	p.Vertical(f.Y(0), foot, f.X(-half)-p.Em*0.6, f.X(f0), l, []string{"wood", s.num(sec.Depth)}, -1, labelText, measureLine)
	r := f.X(half) + p.Em*beside
	p.Vertical(f.Y(crown), foot, f.X(half*0.2), f.X(f1), r, []string{"total", s.num(n.Total(x))}, 1, labelText, measureLine)

	if c.covered {
		a, b := c.channel, c.back
		p.Stroke(f.At(a.Y, a.Z), f.At(b.Y, b.Z), drawing.Line{Width: 0.14, Color: woodFill})
		p.Stroke(f.At(a.Y, a.Z), f.At(b.Y, b.Z), drawing.Line{Width: 0.09, Color: featureColor})
		p.Dot(f.At(a.Y, a.Z), p.Em*0.1, featureColor)
	}
}

// legend draws the scale bar and the key to tints and lines, its foot at y.
func (s *sections) legend(p *drawing.Page, y vg.Length) {
	u := s.u
	bar := drawing.NewScaleBar((s.right-s.left)*0.22, s.scale*vg.Length(u.Millimetres(1)), u.String())
	zero := p.TextWidth("0", figureText) / 2
	at := drawing.Pt(s.left+zero, y)
	bar.Draw(p, at, figureText)
	x := bar.Box(p, at, figureText).Max.X + p.Em*1.6
	t := figureText
	t.AlignY = 0
	h := p.TextHeight(t) * 0.8
	type key struct {
		name string
		wide float64
		draw func(r vg.Rectangle)
	}
	var keys []key
	for _, wood := range s.woods.legend {
		keys = append(keys, key{wood.name, 1.3, func(r vg.Rectangle) { s.swatch(p, r, wood.fill, 1) }})
	}
	if keys == nil {
		keys = append(keys, key{"wood", 1.3, func(r vg.Rectangle) { s.swatch(p, r, woodFill, 1) }})
	}
	keys = append(keys, key{"board", 1.3, func(r vg.Rectangle) { s.swatch(p, r, boardFill, 0) }})
	has := s.inlaid()
	if has["bar"] {
		keys = append(keys, key{"bar", 1.3, func(r vg.Rectangle) { s.swatch(p, r, barFill, 0) }})
	}
	if has["strip"] {
		keys = append(keys, key{"strip", 1.3, func(r vg.Rectangle) { s.swatch(p, r, woodFill, -1) }})
	}
	keys = append(keys, []key{
		{"centreline", 3, func(r vg.Rectangle) { s.sample(p, r, centreLine) }},
		{"glue plane", 1.95, func(r vg.Rectangle) {
			s.sample(p, r, drawing.Line{Color: quietColor, Dash: drawing.HiddenDash})
		}},
	}...)
	for _, k := range keys {
		w := p.Em * vg.Length(k.wide)
		width := w + p.Em*0.35 + p.TextWidth(k.name, t)
		if x+width > s.right {
			return
		}
		k.draw(drawing.Rect(x, y, x+w, y+h))
		p.DrawText(drawing.Pt(x+w+p.Em*0.35, y), k.name, t)
		x += width + p.Em*1.1
	}
}

func (s *sections) swatch(p *drawing.Page, r vg.Rectangle, c color.Color, hatch float64) {
	corners := []vg.Point{r.Min, drawing.Pt(r.Max.X, r.Min.Y), r.Max, drawing.Pt(r.Min.X, r.Max.Y)}
	p.Polygon(corners, c)
	if hatch != 0 {
		p.Hatch([][]vg.Point{corners}, hatch*math.Pi/4, p.Em*0.42, drawing.Line{Width: 0.045, Color: woodHatch})
	}
	p.Outline(corners, drawing.Line{})
}

func (s *sections) sample(p *drawing.Page, r vg.Rectangle, l drawing.Line) {
	y := (r.Min.Y + r.Max.Y) / 2
	p.Stroke(drawing.Pt(r.Min.X, y), drawing.Pt(r.Max.X, y), l)
}

// onPage maps points of a section to a page.
func onPage(f drawing.Frame, points []neck.YZ) []vg.Point {
	if points == nil {
		return nil
	}
	out := make([]vg.Point, len(points))
	for i, q := range points {
		out[i] = f.At(q.Y, q.Z)
	}
	return out
}
