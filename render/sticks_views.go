package render

import (
	"image"
	"image/color"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/neck/sticks"
	"neckloft/render/drawing"
)

// Tints of the pieces in the drawings of stick and blank.
var (
	shaftTint = color.NRGBA{236, 211, 168, 255}
	headTint  = color.NRGBA{222, 186, 138, 255}
	blockTint = color.NRGBA{206, 176, 150, 255}
	wasteTint = color.NRGBA{243, 236, 222, 255}
	grainLine = drawing.Line{Width: 0.045, Color: woodHatch}
	cutLine   = drawing.Line{Width: 0.1, Color: featureColor}
)

// drawPiece draws a piece of wood with its grain at an angle to the page.
func drawPiece(p *drawing.Page, points []vg.Point, tint color.Color, grain float64) {
	p.Polygon(points, tint)
	p.Hatch([][]vg.Point{points}, grain, p.Em*0.36, grainLine)
	p.Outline(points, drawing.Line{Width: 0.08})
}

// stickPanel is the stick from the side as it is sawn, its end at the body at the
// right and the glue face up.
type stickPanel struct {
	l *sticks.List
	u spec.Unit

	left, right vg.Length
	scale       vg.Length
	title       vg.Length
}

// Room over and under the stick for its dimensions, in Em.
const (
	overStick  = 3.3
	underStick = 1.9
)

func (s *stickPanel) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	s.left, s.right = left, right
	s.scale = (right - left) / vg.Length(s.l.Length)
	s.title = p.TextHeight(titleText) * 1.5
	return whole(s.title + p.Em*(overStick+underStick) + s.scale*vg.Length(s.l.Stick))
}

func (s *stickPanel) shots() []shot { return nil }

// draw draws the pieces in the stick.
func (s *stickPanel) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	l := s.l
	title := "The stick from its side, glue face up, the end at the body at the right"
	if len(l.Neck.Spec().Laminations) > 0 {
		title = "The stick, laminated, from its side, glue face up, the end at the body at the right"
	}
	p.DrawText(drawing.Pt(s.left, y), title, titleText)
	d := stickDrawing{stickPanel: s, p: p, top: y - s.title - p.Em*overStick}
	d.foot = d.top - s.scale*vg.Length(l.Stick)
	waste := d.quad(0, l.Length, l.Length, 0)
	p.Polygon(waste, wasteTint)
	p.Outline(waste, drawing.Line{Color: quietColor})
	p.Horizontal(d.x(l.Length), d.x(0), d.top, d.top, d.top+p.Em*2.3,
		"stick "+d.num(l.Length)+" long, "+d.num(l.Stick)+" thick, "+d.num(l.Width)+" wide", labelText, measureLine)
	// The heel's blocks come off the end at the body, where their strips match.
	trim, end := l.Saw.Trim, l.Length
	blocks := end - l.Neck.StickLength(l.Saw)
	if h := l.Halves; l.Scarf != nil {
		from := blocks + trim
		d.piece(from, from+h.ShaftShort, from+h.ShaftLong, from, shaftTint, "shaft")
		d.piece(end-trim-h.HeadLong, end-trim, end-trim, end-trim-h.HeadShort, headTint, "headstock, underside up", "headstock")
	} else {
		d.piece(blocks+trim, end-trim, end-trim, blocks+trim, shaftTint, "neck")
	}
	if l.Stack == nil || !l.FromNeck {
		return
	}
	length := l.Stack.To - l.Stack.From
	for i := range l.Stack.Blocks {
		from := float64(i)*(length+2*trim+l.Saw.Kerf) + trim
		d.piece(from, from+length, from+length, from, blockTint, "block "+strconv.Itoa(i+1))
	}
}

// stickDrawing is the stick on a page. Places along it count from the end at the
// body, to the left.
type stickDrawing struct {
	*stickPanel
	p         *drawing.Page
	top, foot vg.Length
}

func (d *stickDrawing) num(mm float64) string    { return plain(mm, d.u) }
func (d *stickDrawing) x(from float64) vg.Length { return d.right - d.scale*vg.Length(from) }

// quad returns the outline of a piece: from a to b on the glue face, and from c
// to d0 on the underside.
func (d *stickDrawing) quad(a, b, c, d0 float64) []vg.Point {
	return []vg.Point{drawing.Pt(d.x(a), d.top), drawing.Pt(d.x(b), d.top), drawing.Pt(d.x(c), d.foot), drawing.Pt(d.x(d0), d.foot)}
}

// piece draws a piece with the lengths of its sides, and the first of its names
// that there is room for. A square piece has one length.
func (d *stickDrawing) piece(a, b, c, d0 float64, tint color.Color, names ...string) {
	p := d.p
	drawPiece(p, d.quad(a, b, c, d0), tint, 0)
	from, to := math.Max(a, d0), math.Min(b, c)
	t := labelText
	t.AlignX, t.AlignY = 0.5, 0.5
	at := drawing.Pt((d.x(from)+d.x(to))/2, (d.top+d.foot)/2)
	for _, text := range names {
		if p.TextWidth(text, t) > d.scale*vg.Length(to-from)-p.Em {
			continue
		}
		box := p.TextBox(at, text, t)
		p.Polygon([]vg.Point{box.Min, drawing.Pt(box.Max.X, box.Min.Y), box.Max, drawing.Pt(box.Min.X, box.Max.Y)}, paperColor)
		p.DrawText(at, text, t)
		break
	}
	p.Horizontal(d.x(c), d.x(d0), d.foot, d.foot, d.foot-p.Em*1.1, d.num(c-d0), labelText, measureLine)
	if b-a != c-d0 {
		p.Horizontal(d.x(b), d.x(a), d.top, d.top, d.top+p.Em*0.9, d.num(b-a), labelText, measureLine)
	}
}

// gluedPanel is the blank as it is glued up, from its side, with the
// finished neck in it.
type gluedPanel struct {
	l           *sticks.List
	u           spec.Unit
	left, right vg.Length
	f           drawing.Frame
	x0, x1      float64
	low         float64
	title       vg.Length
	row         drawing.Row
}

func newGluedPanel(l *sticks.List, u spec.Unit) *gluedPanel {
	g := &gluedPanel{l: l, u: u, low: math.Inf(1), x0: math.Inf(1), x1: math.Inf(-1)}
	for _, piece := range l.Side(0, 0) {
		for _, q := range piece.Points {
			g.low = math.Min(g.low, q.Z)
			g.x0, g.x1 = math.Min(g.x0, q.Y), math.Max(g.x1, q.Y)
		}
	}
	return g
}

// tints are the colours of the parts of a blank.
var tints = [...]color.Color{sticks.Shaft: shaftTint, sticks.Head: headTint, sticks.Block: blockTint}

// drawSidePieces draws the pieces of a blank in the side view.
func drawSidePieces(p *drawing.Page, f drawing.Frame, pieces []sticks.SidePiece) {
	for _, piece := range pieces {
		points := make([]vg.Point, len(piece.Points))
		for i, q := range piece.Points {
			points[i] = f.At(q.Y, q.Z)
		}
		drawPiece(p, points, tints[piece.Part], piece.Grain)
	}
}

// callouts are the labels under the drawing.
func (g *gluedPanel) callouts() []drawing.Callout {
	l := g.l
	n := l.Neck
	num := func(mm float64) string { return number(mm, g.u) }
	var items []placedCallout
	add := func(x float64, lines ...string) {
		items = append(items, placedCallout{x, drawing.Callout{Lines: lines, Color: featureColor}})
	}
	if j := l.Scarf; j != nil {
		if along, ok := j.FaceLine(); ok {
			add(j.From, "on the face", num(along)+" from its break")
		} else {
			add(j.To, "under the board", "x "+num(j.To))
		}
		for _, x := range neck.Outs(n.ScarfLines()) {
			add(x, "out on the back", "x "+num(x))
		}
	}
	if k := l.Stack; k != nil {
		add(k.From, "blocks' fronts", "x "+num(k.From))
		for _, b := range k.Blocks {
			if b.Need < n.End() {
				add(b.Need, "needed from", "x "+num(b.Need), num(b.Top)+" deep")
			}
		}
	}
	return alongNeck(items, g.f)
}

func (g *gluedPanel) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	g.left, g.right = left, right
	g.title = p.TextHeight(titleText) * 1.8
	scale := (right - left) / vg.Length(g.x1-g.x0)
	g.f = drawing.Frame{Origin: drawing.Pt(left-scale*vg.Length(g.x0), 0), Scale: scale}
	g.row = p.LayRow(g.callouts(), left, right, labelText)
	return whole(g.title + scale*vg.Length(-g.low) + p.Em*0.6 + g.row.Height)
}

func (g *gluedPanel) shots() []shot { return nil }

func (g *gluedPanel) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	n := g.l.Neck
	title := "Glued up, from the " + n.SideName(neck.MinusY) + " side, with the finished neck in it and the grain of each piece"
	if g.l.Scarf == nil && g.l.Stack == nil {
		title = "The finished neck in its stick, from the " + n.SideName(neck.MinusY) + " side, with the grain"
	}
	p.DrawText(drawing.Pt(g.left, y), title, titleText)
	drawScale(p, g.left, g.right, y, g.f.Scale, g.u)
	f := g.f
	f.Origin.Y = y - g.title
	drawSidePieces(p, f, g.l.Side(0, 0))
	var line, top []vg.Point
	for i := range outlineSteps + 1 {
		x := n.Start() + (n.End()-n.Start())*float64(i)/outlineSteps
		if x <= n.FaceX(n.HeelDepth()) {
			line = append(line, f.At(x, -n.Depth(x)))
		}
		top = append(top, f.At(x, n.SideTop(x)))
	}
	if n.Spec().Heel != nil {
		for _, q := range n.EndSide() {
			line = append(line, f.At(q.X, q.Y))
		}
	}
	slices.Reverse(top)
	p.Outline(append(line, top...), drawing.Line{Width: 0.14, Color: measureColor})
	for _, c := range n.Channels() {
		var side []vg.Point
		for _, q := range n.ChannelSide(c, 0.05) {
			side = append(side, f.At(q.X, q.Y))
		}
		p.Polyline(side, hiddenLine)
	}
	if j := g.l.Scarf; j != nil {
		p.Stroke(f.At(j.From, j.Z(j.From)), f.At(j.To, j.Z(j.To)), cutLine)
	}
	foot := f.Y(g.low) - p.Em*0.3
	for _, c := range g.callouts() {
		x := float64((c.Tip.X - f.Origin.X) / f.Scale)
		p.Stroke(drawing.Pt(c.Tip.X, f.Y(-n.Depth(x))), drawing.Pt(c.Tip.X, foot), drawing.Line{Color: c.Color})
	}
	g.row.Lead(foot)
	p.DrawRow(g.row, foot-p.Em*0.3)
}

// stripPanel is the back with its strips and glue lines.
type stripPanel struct {
	n           *neck.Neck
	woods       strips
	left, right vg.Length
	f           drawing.Frame
	half        float64
	title       vg.Length
}

func newStripPanel(n *neck.Neck) *stripPanel {
	_, widest := alongWood(n, func(x float64) float64 {
		from, to := n.Edges(x)
		return math.Max(-from, to)
	})
	return &stripPanel{n: n, woods: newStrips(n.Spec()), half: widest}
}

func (s *stripPanel) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	s.left, s.right = left, right
	s.title = p.TextHeight(titleText) * 1.6
	scale := (right - left) / vg.Length(s.n.End()-s.n.Start())
	s.f = drawing.Frame{Origin: drawing.Pt(left-scale*vg.Length(s.n.Start()), 0), Scale: scale, FlipV: true}
	return whole(s.title + scale*vg.Length(2*s.half) + p.Em*0.3)
}

func (s *stripPanel) shots() []shot { return nil }

func (s *stripPanel) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	n := s.n
	title := "The finished back, " + n.SideName(neck.MinusY) + " side up"
	if len(allGlueLines(n)) > 0 {
		title += ", with what the joints show"
	}
	p.DrawText(drawing.Pt(s.left, y), title, titleText)
	s.woods.drawLegend(p, s.left+p.TextWidth(title, titleText), s.right, y-p.TextHeight(titleText), labelText)
	f := s.f
	f.Origin.Y = y - s.title - f.Scale*vg.Length(s.half)
	var outline, back []vg.Point
	for i := range outlineSteps + 1 {
		x := n.Start() + (n.End()-n.Start())*float64(i)/outlineSteps
		from, to := n.Edges(x)
		outline, back = append(outline, f.At(x, from)), append(back, f.At(x, to))
	}
	slices.Reverse(back)
	outline = append(outline, back...)
	p.Polygon(outline, woodFill)
	at := func(x, y float64) vg.Point { return f.At(x, y) }
	s.woods.drawStrips(p, n, n.Start(), n.End(), at, 255)
	drawGlueLines(p, n, at)
	p.Stroke(f.At(n.Start(), 0), f.At(n.End(), 0), centreLine)
	p.Outline(outline, drawing.Line{Width: 0.1})
}
