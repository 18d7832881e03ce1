package render

import (
	"fmt"
	"image"
	"io"
	"math"

	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/mill"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// WriteMillPDF draws the set-up sheet of a mill: stock, datum, pins and tabs from
// above and from the side, their places, the ridges of the ball nose, the order of
// work and its cautions.
func WriteMillPDF(w io.Writer, s *mill.Setup, u spec.Unit, paper export.Paper) error {
	paper = paper.Landscape()
	width, height := vg.Length(paper.Width*perMM), vg.Length(paper.Height*perMM)
	pages := drawing.NewPages(width, height)
	em, edge := vg.Length(0.9*carveText*perMM), vg.Length(carveEdge*perMM)
	for _, panels := range sharedOut(millPanels(s, u), em, edge, width, height) {
		sh := &sheet{em: em, edge: edge, gap: em}
		sh.onPaper(panels, width, height)
		sh.draw(pages.Next(sh.em, inkColor, paperColor), nil)
	}
	_, err := pages.WriteTo(w)
	return err
}

// millPanels are all that is on the sheet.
func millPanels(s *mill.Setup, u spec.Unit) []panel {
	ridges := export.RidgeTable(s, u).Print(u)
	var steps []string
	for i, step := range s.Steps(u) {
		steps = append(steps, fmt.Sprintf("%d. %s", i+1, step))
	}
	heads, rows := millPlaces(s, u)
	return []panel{
		&header{n: s.Neck, phrases: millPhrases(s, u)},
		&millView{s: s, u: u},
		&millView{s: s, u: u, side: true},
		&rackPanel{title: "Places from the datum", heads: heads, rows: rows},
		&textPanel{title: "Order of work", items: steps},
		&textPanel{title: "Cautions", items: s.Cautions()},
		&rackPanel{title: "Ridges that a ball nose leaves between its passes, in " + export.Thousandths(u), heads: ridges.Heads, rows: ridges.Rows},
		&footer{},
	}
}

// millPhrases says in a line what is set up.
func millPhrases(s *mill.Setup, u spec.Unit) []string {
	o := s.Options
	size := s.Hi.Sub(s.Lo)
	stock := "stock at least "
	if s.GluedUp() {
		stock = "glued-up stock at least "
	}
	out := []string{
		"set-up for a mill",
		stock + plain(size.X, u) + " x " + plain(size.Y, u) + " x " + plain(size.Z, u),
		"ball nose " + plain(o.Ball, u) + " in steps of " + u.Format(o.Step),
		"ridges of " + mill.RidgeWords(u, mill.Scallop(o.Ball/2, o.Step)),
		"allowance on the back " + u.Format(o.Allowance),
	}
	for _, short := range s.Short {
		out = append(out, "too small: "+short)
	}
	if u == spec.Inch {
		return append(out, "all lengths in inches")
	}
	return append(out, "all lengths in millimetres")
}

// millPlaces lists the places of stock, pins and tabs.
func millPlaces(s *mill.Setup, u spec.Unit) (heads, rows [][]string) {
	num := func(v float64) string { return plain(v, u) }
	add := func(name string, x, y float64, note string) {
		rows = append(rows, []string{name, num(x), num(y), note})
	}
	add("stock, from", s.Lo.X, s.Lo.Y, "z "+num(s.Lo.Z))
	add("stock, to", s.Hi.X, s.Hi.Y, "z "+num(s.Hi.Z)+", before the glue face is planed")
	add("datum", 0, 0, "z 0: nut's front, centreline, glue plane")
	for i, p := range s.Pins {
		note := "in the waste, through the stock"
		if !s.Waste {
			note = fmt.Sprintf("in the wood under the board, %s deep; nearest channel, hole or edge %s away, %s of wood under it", num(p.Depth), num(s.Room(p)), num(s.Under(p)))
		}
		if p.Y != 0 {
			note += "; when the neck is turned over at y " + num(-p.Y)
		}
		add(fmt.Sprintf("pin %d", i+1), p.X, p.Y, num(p.Diameter)+" across, "+note)
	}
	for i, t := range s.Tabs {
		add(fmt.Sprintf("tab %d", i+1), t.X, t.Y, num(s.Options.TabWidth)+" wide, z 0 to "+num(-s.Options.TabHeight))
	}
	return [][]string{{"place", "x", "y", "note"}}, rows
}

// millView is the neck in its stock, from the glue face or from the side.
type millView struct {
	s    *mill.Setup
	u    spec.Unit
	side bool

	left, right, title vg.Length
	f                  drawing.Frame
	lo, hi             mesh.Vec2 // of the stock
}

func (m *millView) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	s := m.s
	m.left, m.right = left, right
	m.title = p.TextHeight(titleText)*1.6 + p.Em*1.6
	m.lo, m.hi = mesh.Vec2{X: s.Lo.X, Y: s.Lo.Y}, mesh.Vec2{X: s.Hi.X, Y: s.Hi.Y}
	if m.side {
		m.lo.Y, m.hi.Y = s.Lo.Z, s.Hi.Z
	}
	scale := (right - left) / vg.Length(m.hi.X-m.lo.X)
	m.f = drawing.Frame{Origin: drawing.Pt(left-scale*vg.Length(m.lo.X), 0), Scale: scale}
	return whole(m.title + scale*vg.Length(m.hi.Y-m.lo.Y) + p.Em*0.4)
}

func (m *millView) shots() []shot { return nil }

func (m *millView) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	n := m.s.Neck
	title := "The neck in its stock, seen from the glue face, " + n.SideName(neck.PlusY) + " side up"
	if m.side {
		title = "From the " + n.SideName(neck.MinusY) + " side, glue face up"
		if m.s.GluedUp() {
			title += ", the stock as it is glued up"
		}
	}
	p.DrawText(drawing.Pt(m.left, y), title, titleText)
	drawScale(p, m.left, m.right, y, m.f.Scale, m.u)
	m.f.Origin.Y = y - m.title - m.f.Scale*vg.Length(m.hi.Y)
	corner := func(x, v float64) vg.Point { return m.f.At(x, v) }
	stock := []vg.Point{corner(m.lo.X, m.lo.Y), corner(m.hi.X, m.lo.Y), corner(m.hi.X, m.hi.Y), corner(m.lo.X, m.hi.Y)}
	if glued := m.s.StockSide(); m.side && glued != nil {
		drawSidePieces(p, m.f, glued)
	} else {
		p.Polygon(stock, wasteTint)
		p.Outline(stock, drawing.Line{Color: quietColor})
	}
	if m.side {
		m.fromSide(p)
	} else {
		m.fromTop(p)
	}
	// The datum.
	cross := vg.Length(0.9) * p.Em
	at := m.f.At(0, 0)
	p.Stroke(drawing.Pt(at.X-cross, at.Y), drawing.Pt(at.X+cross, at.Y), cutLine)
	p.Stroke(drawing.Pt(at.X, at.Y-cross), drawing.Pt(at.X, at.Y+cross), cutLine)
	word := labelText
	word.Color, word.AlignY = featureColor, 0
	p.DrawText(drawing.Pt(at.X+p.Em*0.3, stock[2].Y+p.Em*0.2), "datum", word)
	p.Stroke(drawing.Pt(at.X, at.Y), drawing.Pt(at.X, stock[2].Y+p.Em*0.9), drawing.Line{Color: featureColor})
}

func (m *millView) loop(points []mesh.Vec2) []vg.Point {
	out := make([]vg.Point, len(points))
	for i, q := range points {
		out[i] = m.f.At(q.X, q.Y)
	}
	return out
}

// fromTop draws the outlines by layer, pins and tabs with their numbers.
func (m *millView) fromTop(p *drawing.Page) {
	s := m.s
	p.Polygon(m.loop(gauge.TopView(s.Neck).Outline), woodFill)
	for _, l := range s.Layers() {
		if l.Name == mill.LayerDatum || l.Name == mill.LayerStock {
			continue
		}
		line := drawing.Line{Width: 0.1}
		switch l.Name {
		case mill.LayerPins, mill.LayerTabs:
			line = cutLine
		case mill.LayerBoard, mill.LayerBackHoles, mill.LayerBackCounterbore:
			line = hiddenLine
		}
		for _, loop := range l.Loops {
			p.Outline(m.loop(loop), line)
		}
		for _, open := range l.Lines {
			// The board may reach far past the wood.
			for _, part := range partsWithin(open, s.Lo.X, s.Hi.X) {
				p.Polyline(m.loop(part), line)
			}
		}
	}
	p.Stroke(m.f.At(s.Lo.X, 0), m.f.At(s.Hi.X, 0), centreLine)
	m.names(p)
}

// names sets the names of pins and tabs beside them.
func (m *millView) names(p *drawing.Page) {
	s := m.s
	word := labelText
	word.Color, word.AlignX, word.AlignY = featureColor, 0.5, 0.5
	for i, pin := range s.Pins {
		at := m.f.At(pin.X, pin.Y)
		off := m.f.Scale*vg.Length(pin.Diameter/2) + p.Em*0.7
		if pin.Y < 0 { // away from what lies on the centreline
			off = -off
		}
		p.DrawText(drawing.Pt(at.X, at.Y+off), fmt.Sprintf("pin %d", i+1), word)
	}
	for i, t := range s.Tabs {
		at := m.f.At(t.X, t.Y)
		off := vg.Length(math.Copysign(float64(p.Em)*0.8, -t.Y))
		p.DrawText(drawing.Pt(at.X, at.Y+off), fmt.Sprintf("tab %d", i+1), word)
	}
}

// fromSide draws the wood, what is cut into it, and the pins.
func (m *millView) fromSide(p *drawing.Page) {
	s := m.s
	view := gauge.SideView(s.Neck)
	p.Polygon(m.loop(view.Outline), woodFill)
	p.Outline(m.loop(view.Outline), drawing.Line{Width: 0.1})
	for _, c := range s.Neck.Channels() {
		p.Polyline(m.loop(s.Neck.ChannelSide(c, 0.05)), hiddenLine)
	}
	for _, pin := range s.Pins {
		low := -pin.Depth
		if s.Waste {
			low = -s.StockUnder(pin.X)
		}
		r := pin.Diameter / 2
		p.Polyline(m.loop([]mesh.Vec2{{X: pin.X - r}, {X: pin.X - r, Y: low}, {X: pin.X + r, Y: low}, {X: pin.X + r}}), cutLine)
	}
	p.Stroke(m.f.At(s.Lo.X, 0), m.f.At(s.Hi.X, 0), centreLine)
}
