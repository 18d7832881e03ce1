package render

import (
	"image"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// topView is a view square on the neck's width: of the back, of the front with
// its board, or of the front of the bare wood.
type topView struct {
	n           *neck.Neck
	view        View
	title       string
	e           elevation
	most        float64 // greatest height of the picture, in units of the width
	row         drawing.Row
	left, right vg.Length
	titleHeight vg.Length
}

func newTopView(n *neck.Neck, view View, most float64) *topView {
	p := &topView{n: n, view: view, most: most}
	up := mesh.Vec{Y: 1}
	switch view {
	case ViewBack:
		p.title = "Back view, " + n.SideName(neck.MinusY) + " side up"
		up = mesh.Vec{Y: -1}
		p.e.withBoard = true
	case ViewFront:
		p.title = "Front view with the board, " + n.SideName(neck.PlusY) + " side up"
		p.e.withBoard = true
	default:
		p.title = "Front view of the bare wood, " + n.SideName(neck.PlusY) + " side up"
	}
	p.e.camera = along(mesh.Vec{X: 1}, up)
	p.e.x0, p.e.x1 = xExtent(n, p.e.withBoard)
	// Both sides alike, so that the centreline is in the middle.
	_, widest := alongWood(n, func(x float64) float64 {
		bass, treble := n.Edges(x)
		return 2 * math.Max(-bass, treble)
	})
	if p.e.withBoard {
		widest = math.Max(widest, 2*math.Max(n.BoardHalfWidth(0), n.BoardHalfWidth(n.BoardEnd())))
	}
	p.e.v0, p.e.v1 = -widest/2, widest/2
	return p
}

// width is a dimension across the neck, its middle so far off the centreline.
type width struct {
	x, value float64
	name     string
	middle   float64
}

// headWidth is the width of the headstock where it is widest: a paddle's, where
// it has its full width.
func headWidth(n *neck.Neck) width {
	w := width{x: n.Start() * 0.8, name: "headstock"}
	if n.HeadEdge() != nil {
		most := 0.0
		for i := range outlineSteps {
			x := n.Start() * float64(i) / outlineSteps
			if wide := n.Width(x); wide > most+1e-9 {
				most, w.x = wide, x
			}
		}
	}
	bass, treble := n.Edges(w.x)
	w.value, w.middle = treble-bass, (treble+bass)/2
	return w
}

// widths returns the widths that the view gives, in order along the neck.
func (p *topView) widths() []width {
	n, s := p.n, p.n.Spec()
	var ws []width
	if s.Headstock != nil {
		ws = append(ws, headWidth(n))
	}
	if p.e.withBoard && p.view != ViewBack {
		ws = append(ws, width{0, 2 * n.BoardHalfWidth(0), "nut", 0},
			width{n.BoardEnd(), 2 * n.BoardHalfWidth(n.BoardEnd()), "end of board", 0})
		return ws
	}
	ws = append(ws, width{0, n.Width(0), "nut", 0})
	if x := s.FretX(12); s.Scale.Frets >= 12 && x < n.End() && (s.Heel == nil || x < s.X(s.Heel.Start)) {
		ws = append(ws, width{x, n.Width(x), "fret 12", 0})
	}
	end := "end of wood"
	if heelFaces(s) {
		end = "heel's face"
	}
	ws = append(ws, width{n.End(), n.Width(n.End()), end, 0})
	if e := n.BoardEnd(); p.e.withBoard && e > n.End()+0.02*(p.e.x1-p.e.x0) {
		ws = append(ws, width{e, 2 * n.BoardHalfWidth(e), "end of board", 0})
	}
	return ws
}

func (p *topView) callouts() []drawing.Callout {
	n, s := p.n, p.n.Spec()
	num := func(mm float64) string { return number(mm, s.PrintUnit()) }
	var items []placedCallout
	for _, w := range p.widths() {
		items = append(items, placedCallout{w.x, drawing.Callout{
			Lines: []string{w.name, num(w.value) + " wide"},
			Color: measureColor,
		}})
	}
	if p.view != ViewFront {
		for i, c := range n.Channels() {
			// Off the middle, where fret 12 often lies.
			from, to := c.Ends()
			x := from + (0.3+0.17*float64(i%3))*(to-from)
			items = append(items, placedCallout{x, drawing.Callout{
				Lines: []string{c.Name, num(c.Width()) + " wide, " + depthWords(c, num),
					"x " + num(from) + " to " + num(to)},
				Color: featureColor,
			}})
		}
	}
	return alongNeck(items, p.e.frame)
}

func (p *topView) lay(pg *drawing.Page, left, right vg.Length) vg.Length {
	p.left, p.right = left, right
	p.e.fit(left, right, (right-left)*vg.Length(p.most))
	title := pg.TextHeight(titleText) * 1.6
	for _, w := range p.widths() {
		if !pg.HeadsFit(p.e.frame.Scale * vg.Length(w.value)) {
			title += pg.Em // room for arrowheads outside the neck
			break
		}
	}
	p.titleHeight = whole(title)
	p.row = pg.LayRow(p.callouts(), left, right, labelText)
	return p.titleHeight + vg.Length(p.e.h) + whole(p.axisHeight(pg)+p.row.Height+pg.Em*0.3)
}

// axisHeight returns the room for the fret numbers under the front view.
func (p *topView) axisHeight(pg *drawing.Page) vg.Length {
	if p.view != ViewFront {
		return 0
	}
	return pg.Em*0.9 + fretAxisHeight(pg)
}

func (p *topView) shots() []shot { return []shot{p.e.shot()} }

// draw draws the top view on a page.
//
// Long, since all that is drawn shares one scale.
func (p *topView) draw(pg *drawing.Page, y vg.Length, images []*image.NRGBA) {
	n, s := p.n, p.n.Spec()
	pg.DrawText(drawing.Pt(p.left, y), p.title, titleText)
	drawScale(pg, p.left, p.right, y, p.e.frame.Scale, s.PrintUnit())
	y -= p.titleHeight
	p.e.draw(pg, y, images[0])
	f := p.e.frame
	p.glueUp(pg, y+p.titleHeight)
	foot := y - vg.Length(p.e.h)

	p.shelfEnd(pg)
	if p.view == ViewFront {
		p.frets(pg)
	} else if p.view == ViewBack {
		for _, c := range n.Channels() {
			var outline []vg.Point
			corners := c.Outline()
			slices.Reverse(corners)
			for _, q := range corners {
				outline = append(outline, f.At(q.X, -q.Y)) // bass side up
			}
			pg.Outline(outline, hiddenLine)
		}
	}
	if p.view == ViewBack {
		p.bolts(pg)
	}
	x0, x1 := f.X(p.e.x0)-pg.Em*0.6, f.X(p.e.x1)+pg.Em*0.6
	pg.Stroke(drawing.Pt(x0, f.Y(0)), drawing.Pt(x1, f.Y(0)), drawing.Line{Color: inkColor, Dash: drawing.ChainDash})
	if b := math.Max(0, n.End()); p.view == ViewFront {
		pg.Stroke(f.At(0, 0), f.At(n.BoardEnd(), 0), drawing.Line{Color: fretColor, Dash: drawing.ChainDash})
	} else if p.e.withBoard && b < n.BoardEnd() {
		pg.Stroke(f.At(b, 0), f.At(n.BoardEnd(), 0), drawing.Line{Color: fretColor, Dash: drawing.ChainDash})
	}

	for _, w := range p.widths() {
		x := f.X(w.x)
		a, b := drawing.Pt(x, f.Y(w.middle-w.value/2)), drawing.Pt(x, f.Y(w.middle+w.value/2))
		pg.Stroke(a, b, drawing.Line{Width: 0.14, Color: paperColor})
		pg.Span(a, b, measureLine)
	}
	items := p.callouts()
	if p.view == ViewFront {
		axis := foot - pg.Em*0.9
		drawFretAxis(pg, n, f, axis)
		foot = axis - fretAxisHeight(pg)
	}
	if p.view != ViewFront {
		for _, c := range items {
			x := float64((c.Tip.X - f.Origin.X) / f.Scale)
			bass, _ := n.Edges(x)
			edge := -bass
			if x > n.End() {
				edge = n.BoardHalfWidth(x)
			}
			if c.Color == featureColor {
				edge = p.channelEdge(c.Lines[0], x)
			}
			from := drawing.Pt(c.Tip.X, f.Y(-edge))
			if c.Color == featureColor {
				// Light under the line where it runs over the wood.
				pg.Stroke(from, drawing.Pt(from.X, f.Y(-n.Width(x)/2)), drawing.Line{Width: 0.14, Color: paperColor})
				pg.Dot(from, pg.Em*0.12, featureColor)
			}
			pg.Stroke(from, drawing.Pt(c.Tip.X, foot), drawing.Line{Color: c.Color})
		}
	}
	p.row.Lead(foot)
	pg.DrawRow(p.row, foot-pg.Em*0.3)
}

// channelEdge returns how far below the centreline, as the view shows it, the
// lower edge of the channel of that name lies.
func (p *topView) channelEdge(name string, x float64) float64 {
	for _, c := range p.n.Channels() {
		if c.Name == name {
			y := c.AxisY(x)
			if p.view == ViewBack {
				y = -y
			}
			return c.Width()/2 - y
		}
	}
	return 0
}

// shelfEnd draws where the headstock's shelf ends along a leaning nut, which
// little light tells.
func (p *topView) shelfEnd(pg *drawing.Page) {
	if !p.n.Spec().ShelfLeans() || p.view == ViewBack {
		return
	}
	f, ends := p.e.frame, p.n.ShelfLine()
	pg.Stroke(f.At(ends[0].X, ends[0].Y), f.At(ends[1].X, ends[1].Y), drawing.Line{Width: 0.07, Color: inkColor})
}

// frets draws the frets, the markers and the binding over the board.
func (p *topView) frets(pg *drawing.Page) {
	f := p.e.frame
	wire := drawing.Line{Width: 0.11, Color: fretColor}
	b := fretboard.New(p.n)
	fill := func(outline []mesh.Vec2) {
		var points []vg.Point
		for _, q := range outline {
			points = append(points, f.At(q.X, p.n.Y(q.Y)))
		}
		pg.Polygon(points, markerColor)
	}
	for _, strip := range b.BindingPlan(0.05) {
		fill(strip)
	}
	for _, k := range b.Pockets(0.05) {
		fill(k.Outline)
	}
	nut := b.Line(0)
	for _, r := range append([]fretboard.Fret{nut}, b.Frets...) {
		pg.Stroke(f.At(r.At(r.EdgeBass), p.n.Y(r.EdgeBass)), f.At(r.At(r.EdgeTreble), p.n.Y(r.EdgeTreble)), wire)
	}
}

// drawScale draws a scale bar at the right of a title's line, if there is
// room.
func drawScale(p *drawing.Page, left, right, y, scale vg.Length, u spec.Unit) {
	bar := drawing.NewScaleBar((right-left)*0.2, scale*vg.Length(u.Millimetres(1)), u.String())
	box := bar.Box(p, drawing.Pt(0, 0), figureText)
	at := drawing.Pt(right-box.Max.X, y-box.Max.Y)
	if p.Free(bar.Box(p, at, figureText)) {
		bar.Draw(p, at, figureText)
	}
}

// glueUp draws what the neck is glued up of over its picture: strips, with their
// woods in the title's line, and the lines of a scarf joint and of stacked
// blocks. Under a board none of it shows.
func (p *topView) glueUp(pg *drawing.Page, y vg.Length) {
	n, f := p.n, p.e.frame
	at := func(x, v float64) vg.Point { return f.At(x, v) }
	from, to := n.Start(), n.End()
	switch p.view {
	case ViewBack:
		at = func(x, v float64) vg.Point { return f.At(x, -v) }
	case ViewFront:
		to = math.Min(to, 0) // the board covers the rest
	}
	if woods := newStrips(n.Spec()); len(woods.fills) > 0 && from < to {
		woods.drawStrips(pg, n, from, to, at, veil)
		woods.drawLegend(pg, p.left+pg.TextWidth(p.title, titleText), p.right-(p.right-p.left)*0.32, y-pg.TextHeight(titleText), figureText)
	}
	if p.view == ViewBack {
		drawGlueLines(pg, n, at)
	} else {
		drawFaceLine(pg, n, at)
	}
}
