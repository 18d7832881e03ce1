package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/fit/progress"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// Colours of readings: told apart by their hue and by where the bar stands too.
var (
	leftColor  = color.NRGBA{24, 84, 160, 255}
	belowColor = color.NRGBA{186, 32, 28, 255}
	goodColor  = color.NRGBA{38, 118, 72, 255}
)

// leftOut marks a reading that does not belong to the rest.
const leftOut = "left out"

// crowded is the number of marks of a section beyond which a figure stands beside
// its mark or not at all.
const crowded = 16

// emphasis is the text of a warning in the head of a picture.
var emphasis = drawing.Text{Weight: drawing.Medium, Scale: 1, Color: belowColor, AlignY: 1}

// maxReadingCells is the number of stations that a picture of readings shows.
const maxReadingCells = 24

// mark is a contour point in a section: its place, and a bar from the surface
// to either side.
type mark struct {
	at, foot neck.YZ
	side     neck.Side
	phi      float64
	off      float64 // mm, positive outside the surface
	ink      color.Color
	label    string
	crossed  bool // a reading that was left out
}

// caption is a line of text below a section.
type caption struct {
	text string
	ink  color.Color
}

// readingCell is a section with its readings.
type readingCell struct {
	title, sub string
	n          *neck.Neck
	x          float64
	marks      []mark
	captions   []caption
}

// readingSheet is a page of sections with readings, to one scale.
type readingSheet struct {
	title   string
	facts   []string
	warning string // a fact that must not be missed
	cells   []readingCell
	dropped int // stations for which there was no room
	unit    spec.Unit
	line    string // what the outline is
	keys    []caption
	silent  int // figures for which there was no room

	magnify       float64
	columns       int
	em            vg.Length
	edge, gap     vg.Length
	cell, high    vg.Length
	head, foot    vg.Length
	scale         vg.Length
	half          float64
	up, deep      float64 // mm above and below the glue plane
	captionHeight vg.Length
	room          vg.Length // below the lowest bar, for its figure
	most          int       // captions of a cell
}

// ProgressPicture draws the sections that were read while carving: the target,
// each reading, and what is left, in the given unit. The width is in pixels, 0 for the default.
func ProgressPicture(p *progress.Progress, unit spec.Unit, width int) (image.Image, error) {
	return progressSheet(p, unit).draw(width)
}

func progressSheet(p *progress.Progress, unit spec.Unit) *readingSheet {
	s := p.Neck.Spec()
	sheet := &readingSheet{
		title: s.Name + ": what is left to carve",
		unit:  unit,
		line:  "target",
		keys:  []caption{{"to come off", leftColor}, {"on target", goodColor}, {"below target", belowColor}},
	}
	sheet.facts = []string{fmt.Sprintf("%d to come off, %d on target, %d below", p.Count(progress.ToComeOff), p.Count(progress.OnTarget), p.Count(progress.Below))}
	limit := p.Neck.Spec().Limits.Cover
	switch cover := fmt.Sprintf("least cover as read %s at x %s, limit %s", number(p.Cover, unit), number(p.CoverAt, unit), plain(limit, unit)); {
	case math.IsNaN(p.Cover):
	case p.Cover < 0:
		sheet.warning = fmt.Sprintf("STOP: as read, the channel is cut through at x %s", number(p.CoverAt, unit))
	case p.Cover < limit:
		sheet.warning = cover + ": TOO LITTLE"
	default:
		sheet.facts = append(sheet.facts, cover)
	}
	for _, checks := range p.Stations() {
		c := readingCell{title: checks[0].Station, sub: "x " + number(checks[0].X, unit), n: p.Neck, x: checks[0].X}
		for _, q := range checks {
			ink := [...]color.Color{progress.OnTarget: goodColor, progress.ToComeOff: leftColor, progress.Below: belowColor}[q.Status]
			if q.Kind == readings.Point {
				c.marks = append(c.marks, mark{
					at: neck.YZ{Y: q.Y, Z: -q.Value}, foot: q.Foot, side: q.Side, phi: q.Phi, off: q.Remaining,
					ink: ink, label: number(math.Abs(q.Remaining), unit),
				})
				continue
			}
			if q.Kind == readings.Centre {
				c.marks = append(c.marks, onCentre(p, q, ink, number(math.Abs(q.Remaining), unit)))
			}
			if q.Kind == readings.Total || q.Kind == readings.Wood {
				c.marks = append(c.marks, deepest(p.Neck, q.X, q.Remaining, ink, number(math.Abs(q.Remaining), unit)))
			}
			left := number(math.Abs(q.Remaining), unit)
			switch {
			case q.Kind == readings.Girth || q.Kind == readings.Width:
				left = q.Direction(unit)
			case q.Status == progress.ToComeOff:
				left += " " + q.Direction(unit)
			}
			text := fmt.Sprintf("%s %s, target %s: ", q.Kind, number(q.Value, unit), number(q.Target, unit))
			switch q.Status {
			case progress.OnTarget:
				text += "on target"
			case progress.ToComeOff:
				text += left
			default:
				if q.Kind == readings.Girth || q.Kind == readings.Width {
					text += "below by " + left
				} else {
					text += left + " below"
				}
			}
			c.captions = append(c.captions, caption{text, ink})
		}
		sheet.cells = append(sheet.cells, c)
	}
	return sheet
}

// deepest returns the mark of a thickness, which stands at the deepest point.
func deepest(n *neck.Neck, x, off float64, ink color.Color, label string) mark {
	sec := n.Section(x)
	f0, f1 := sec.Flat()
	foot := neck.YZ{Y: (f0 + f1) / 2, Z: -sec.Depth}
	return mark{at: neck.YZ{Y: foot.Y, Z: foot.Z - off}, foot: foot, side: neck.Treble, phi: math.Pi / 2, off: off, ink: ink, label: label}
}

// onCentre marks a thickness on the centreline, straight down from the target.
func onCentre(p *progress.Progress, q progress.Check, ink color.Color, label string) mark {
	foot := neck.YZ{Z: p.Neck.Total(q.X) - p.Neck.Depth(q.X) - q.Target}
	return mark{at: neck.YZ{Z: foot.Z - q.Remaining}, foot: foot, side: neck.Treble, phi: math.Pi / 2, off: q.Remaining, ink: ink, label: label}
}

// FitPicture draws the sections of a fitted neck where it was read, with the
// readings and how far they lie off, in the given unit. The width is in pixels, 0 for the default.
func FitPicture(r *fit.Result, unit spec.Unit, width int) (image.Image, error) {
	sheet, err := fitSheet(r, unit)
	if err != nil {
		return nil, err
	}
	return sheet.draw(width)
}

func fitSheet(r *fit.Result, unit spec.Unit) (*readingSheet, error) {
	n, err := neck.New(r.Spec)
	if err != nil {
		return nil, err
	}
	s := r.Spec
	sheet := &readingSheet{
		title: s.Name + ": readings and fitted neck",
		unit:  unit,
		line:  "fitted",
		keys:  []caption{{"reading outside", leftColor}, {"reading inside", featureColor}, {leftOut, belowColor}},
	}
	used := 0
	by := make(map[float64]*readingCell)
	var xs []float64
	for _, q := range r.Residuals {
		if !q.Dropped {
			used++
		}
		if !q.Placed {
			continue
		}
		x := s.X(q.At)
		c := by[x]
		if c == nil {
			c = &readingCell{title: s.Label(q.At), sub: "x " + number(x, unit), n: n, x: x}
			by[x] = c
			xs = append(xs, x)
		}
		ink := color.Color(leftColor)
		switch {
		case q.Dropped:
			ink = belowColor
		case q.Off < 0:
			ink = featureColor
		}
		if q.Kind != readings.Point {
			text := fmt.Sprintf("%s %s, fitted %s", q.Kind, number(q.Value, unit), number(q.Model, unit))
			if q.Dropped {
				text += ": " + leftOut
			} else {
				ink = inkColor
			}
			c.captions = append(c.captions, caption{text, ink})
			continue
		}
		at := neck.YZ{Y: q.Y - r.Pose[0] - r.Pose[1]*x, Z: -q.Value}
		sec := n.Section(x)
		off, side, phi := sec.Nearest(at)
		m := mark{at: at, side: side, phi: phi, off: off, ink: ink, crossed: q.Dropped}
		m.foot = neck.YZ{Y: at.Y - off*side.Sign()*math.Cos(phi), Z: at.Z + off*math.Sin(phi)}
		if q.Dropped {
			m.label = leftOut
		}
		c.marks = append(c.marks, m)
	}
	slices.Sort(xs)
	for _, x := range xs {
		sheet.cells = append(sheet.cells, *by[x])
	}
	sheet.facts = []string{fmt.Sprintf("%s used, %d left out", count(used, "reading"), len(r.Residuals)-used)}
	return sheet, nil
}

// lay fixes the arrangement of the page.
func (s *readingSheet) lay(width int) (height int) {
	w := vg.Length(width)
	s.em = max(9, w/90)
	s.edge, s.gap = whole(s.em*2), whole(s.em*1.4)
	if len(s.cells) > maxReadingCells {
		s.dropped = len(s.cells) - maxReadingCells
		s.cells = s.cells[:maxReadingCells]
	}
	switch k := len(s.cells); {
	case k <= 1:
		s.columns = 1
	case k <= 8:
		s.columns = 2
	default:
		s.columns = 3
	}
	if width < 900 {
		s.columns = min(s.columns, 2)
	}
	s.cell = (w - 2*s.edge - s.gap*vg.Length(s.columns-1)) / vg.Length(s.columns)
	far := 0.0
	s.half, s.up, s.deep = 1, 0, 0
	for _, c := range s.cells {
		sec := c.n.Section(c.x)
		s.half = math.Max(s.half, sec.HalfWidth)
		if c.x >= 0 && c.x <= c.n.BoardEnd() {
			s.half = math.Max(s.half, c.n.BoardHalfWidth(c.x))
		}
		s.up = math.Max(s.up, c.n.Total(c.x)-sec.Depth)
		s.deep = math.Max(s.deep, sec.Depth)
		s.most = max(s.most, len(c.captions))
		for _, m := range c.marks {
			if !m.crossed {
				far = math.Max(far, math.Abs(m.off))
			}
			s.half = math.Max(s.half, math.Min(math.Abs(m.at.Y), 1.5*sec.HalfWidth))
			s.deep = math.Max(s.deep, math.Min(-m.at.Z, 1.5*sec.Depth))
		}
	}
	// The longest bar is to be about as long as a quarter of the half width.
	s.magnify = 1
	if far > 0 {
		s.magnify = math.Min(50, math.Max(1, drawing.Round(0.28*s.half/far)))
	}
	// Room for the bars, and for their figures beside them.
	wide, low := s.half, s.deep
	for _, c := range s.cells {
		for _, m := range c.marks {
			tip := s.tip(m)
			wide, low = math.Max(wide, math.Abs(tip.Y)), math.Max(low, -tip.Z)
		}
	}
	s.deep = low
	label := 3.4 * float64(s.em)
	s.scale = (s.cell - vg.Length(2*label)) / vg.Length(2*wide)
	probe, _ := drawing.NewPicture(16, 16, s.em, inkColor, paperColor)
	line := probe.TextHeight(labelText) * leading
	s.captionHeight = line
	s.head = probe.TextHeight(titleText)*1.3 + s.em*0.6
	s.room = s.em * 1.4
	for _, c := range s.cells {
		for _, m := range c.marks {
			if m.label != "" {
				s.room = s.em * 3.4
			}
		}
	}
	s.high = whole(s.head + s.scale*vg.Length(s.up+s.deep) + s.em*0.6 + s.room + line*vg.Length(s.most) + s.em*0.4)
	s.foot = whole(s.em * 4)
	rows := (len(s.cells) + s.columns - 1) / s.columns
	top := s.top(probe)
	return int(math.Ceil(float64(s.edge + top + (s.high+s.gap)*vg.Length(rows) + s.foot + s.edge*0.5)))
}

// tip returns where the bar of a mark ends. A bar is cut off where it would run
// over the page, as that of a bad reading may.
func (s *readingSheet) tip(m mark) neck.YZ {
	long := s.long(m)
	sin, cos := math.Sincos(m.phi)
	return neck.YZ{Y: m.foot.Y + m.side.Sign()*cos*long, Z: m.foot.Z - sin*long}
}

// long returns the length of the bar of a mark, in mm of the drawing.
func (s *readingSheet) long(m mark) float64 {
	far := 0.55 * s.half
	if m.crossed {
		far /= 2 // that it is off matters, not how far
	}
	return math.Max(-far, math.Min(far, m.off*s.magnify))
}

// top is the height of the header.
func (s *readingSheet) top(p *drawing.Page) vg.Length {
	warning := vg.Length(0)
	if s.warning != "" {
		warning = p.TextHeight(emphasis)*leading + s.em*0.4
	}
	return whole(p.TextHeight(nameText)*1.25 + p.TextHeight(factText)*leading + warning + s.em*1.4)
}

func (s *readingSheet) draw(width int) (image.Image, error) {
	_, img, err := s.page(width)
	return img, err
}

// page draws the sheet.
func (s *readingSheet) page(width int) (*drawing.Page, image.Image, error) {
	if width == 0 {
		width = DefaultWidth
	}
	if err := checkSize(width, 0); err != nil {
		return nil, nil, err
	}
	height := s.lay(width)
	if height > MaxSide || width*height > maxPixels {
		return nil, nil, fmt.Errorf("these stations need a picture of %d x %d pixels, which is too large; give a smaller width", width, height)
	}
	p, img := drawing.NewPicture(width, height, s.em, inkColor, paperColor)
	y := p.Height - s.edge
	p.DrawText(drawing.Pt(s.edge, y), p.Shorten(s.title, p.Width-2*s.edge, nameText), nameText)
	y -= p.TextHeight(nameText) * 1.25
	facts := ""
	for i, f := range s.facts {
		if i > 0 {
			facts += "  ·  "
		}
		facts += f
	}
	if s.dropped > 0 {
		facts += fmt.Sprintf("  ·  %s more not shown", count(s.dropped, "station"))
	}
	facts += "  ·  " + map[spec.Unit]string{spec.Millimetre: "lengths in millimetres", spec.Inch: "lengths in inches"}[s.unit]
	p.DrawText(drawing.Pt(s.edge, y), p.Shorten(facts, p.Width-2*s.edge, factText), factText)
	if s.warning != "" {
		y -= p.TextHeight(factText)*leading + s.em*0.2
		p.DrawText(drawing.Pt(s.edge, y), p.Shorten(s.warning, p.Width-2*s.edge, emphasis), emphasis)
	}
	y = p.Height - s.edge - s.top(p)
	for i := range s.cells {
		col, row := i%s.columns, i/s.columns
		s.drawCell(p, &s.cells[i], s.edge+(s.cell+s.gap)*vg.Length(col), y-(s.high+s.gap)*vg.Length(row))
	}
	s.legend(p)
	return p, img, nil
}

// drawCell draws a section with its upper left corner at (left, top).
func (s *readingSheet) drawCell(p *drawing.Page, c *readingCell, left, top vg.Length) {
	p.DrawText(drawing.Pt(left, top), c.title, titleText)
	sub := factText
	p.DrawText(drawing.Pt(left+p.TextWidth(c.title, titleText)+p.Em*0.8, top-p.Em*0.08), c.sub, sub)
	p.Stroke(drawing.Pt(left, top-s.head+p.Em*0.35), drawing.Pt(left+s.cell, top-s.head+p.Em*0.35), drawing.Line{Color: fretColor})

	f := drawing.Frame{Origin: drawing.Pt(left+s.cell/2, top-s.head-p.Em*0.6-s.scale*vg.Length(s.up)), Scale: s.scale}
	wood := onPage(f, woodOutline(c.n, c.x))
	p.Polygon(wood, woodFill)
	if b := onPage(f, boardOutline(c.n, c.x)); b != nil {
		p.Polygon(b, boardFill)
	}
	sec := c.n.Section(c.x)
	p.Outline(wood, drawing.Line{Color: quietColor})
	p.Polyline(onPage(f, backOutline(&sec)), drawing.Line{Width: 0.12})
	p.Stroke(f.At(0, s.up*0.5), f.At(0, -sec.Depth-1), centreLine)

	side := figureText
	side.Color = quietColor
	side.AlignX, side.AlignY = 1, 0.5
	gap := 0.03 * s.half
	p.TryText("bass", side, drawing.Pt(f.X(-sec.HalfWidth-gap), f.Y(s.up*0.5)))
	side.AlignX = 0
	p.TryText("treble", side, drawing.Pt(f.X(sec.HalfWidth+gap), f.Y(s.up*0.5)))

	for _, m := range c.marks {
		tip := s.tip(m)
		a, b := f.At(m.foot.Y, m.foot.Z), f.At(tip.Y, tip.Z)
		bar := drawing.Line{Width: 0.22, Color: m.ink}
		if m.crossed {
			bar.Dash = drawing.HiddenDash
		}
		p.Stroke(a, b, bar)
		if m.crossed {
			strike(p, b, m.ink)
		} else {
			p.Dot(b, p.Em*0.17, m.ink)
		}
		// Marks keep figures off themselves.
		r := p.Em * 0.12
		p.Reserve(drawing.Rect(min(a.X, b.X)-r, min(a.Y, b.Y)-r, max(a.X, b.X)+r, max(a.Y, b.Y)+r))
	}
	// The middle line too: a figure on it could belong to any.
	w := p.Em * 0.1
	p.Reserve(drawing.Rect(f.X(0)-w, f.Y(s.up*0.5), f.X(0)+w, f.Y(-sec.Depth)))
	var placed []vg.Rectangle
	for _, m := range c.marks {
		if m.label == "" {
			continue
		}
		long := math.Max(0, s.long(m))
		sin, cos := math.Sincos(m.phi)
		t := figureText
		t.Color = m.ink
		var places []vg.Point
		// Outside the bar, square to the surface: the box's corner nearest to
		// it stands there.
		t.AlignX, t.AlignY = 0.5-0.5*m.side.Sign()*cos, 0.5+0.5*sin
		outside, within := []float64{0.4, 0.9, 1.5, 2.1}, []float64{0.5, 1.2}
		if len(c.marks) > crowded {
			// Farther off, nobody could tell whose it is.
			outside, within = outside[:2], nil
		}
		for _, more := range outside {
			out := vg.Length(long)*s.scale + p.Em*vg.Length(more)
			at := f.At(m.foot.Y, m.foot.Z)
			places = append(places, drawing.Pt(at.X+out*vg.Length(m.side.Sign()*cos), at.Y-out*vg.Length(sin)))
		}
		if within != nil {
			// Or beside the bar's end.
			for _, aside := range []float64{1.3, -1.3} {
				at := f.At(m.foot.Y, m.foot.Z)
				out, along := vg.Length(long)*s.scale+p.Em*0.5, p.Em*vg.Length(aside)
				places = append(places, drawing.Pt(
					at.X+out*vg.Length(m.side.Sign()*cos)+along*vg.Length(m.side.Sign()*sin),
					at.Y-out*vg.Length(sin)+along*vg.Length(cos)))
			}
		}
		// Or inside, past the bar's foot.
		for _, less := range within {
			at := f.At(m.foot.Y, m.foot.Z)
			in := vg.Length(math.Max(0, -s.long(m)))*s.scale + p.Em*vg.Length(less+0.9)
			places = append(places, drawing.Pt(at.X-in*vg.Length(m.side.Sign()*cos), at.Y+in*vg.Length(sin)))
		}
		clear := slices.IndexFunc(places, func(at vg.Point) bool {
			// Room to either side, or two figures read as one.
			box := p.TextBox(at, m.label, t)
			box.Min.X -= p.Em * 0.3
			box.Max.X += p.Em * 0.3
			for _, q := range placed {
				if box.Min.X < q.Max.X && q.Min.X < box.Max.X && box.Min.Y < q.Max.Y && q.Min.Y < box.Max.Y {
					return false
				}
			}
			return p.Free(p.TextBox(at, m.label, t))
		})
		if clear < 0 {
			s.silent++
			continue
		}
		p.DrawText(places[clear], m.label, t)
		placed = append(placed, p.TextBox(places[clear], m.label, t))
	}
	y := top - s.high + s.captionHeight*vg.Length(s.most) + p.Em*0.4
	for _, line := range c.captions {
		t := labelText
		t.AlignY, t.Color = 1, line.ink
		p.DrawText(drawing.Pt(left, y), p.Shorten(line.text, s.cell, t), t)
		y -= s.captionHeight
	}
}

// strike draws the cross at the end of the bar of a reading that was left out.
func strike(p *drawing.Page, at vg.Point, ink color.Color) {
	d := p.Em * 0.28
	p.Stroke(drawing.Pt(at.X-d, at.Y-d), drawing.Pt(at.X+d, at.Y+d), drawing.Line{Width: 0.14, Color: ink})
	p.Stroke(drawing.Pt(at.X-d, at.Y+d), drawing.Pt(at.X+d, at.Y-d), drawing.Line{Width: 0.14, Color: ink})
}

// legend draws the scale bar and the key.
func (s *readingSheet) legend(p *drawing.Page) {
	y := s.edge + p.Em*0.4
	bar := drawing.NewScaleBar((p.Width-2*s.edge)*0.16, s.scale*vg.Length(s.unit.Millimetres(1)), s.unit.String())
	at := drawing.Pt(s.edge+p.TextWidth("0", figureText)/2, y)
	bar.Draw(p, at, figureText)
	x := bar.Box(p, at, figureText).Max.X + p.Em*1.6
	t := figureText
	t.AlignY = 0
	add := func(text string, wide vg.Length, draw func(x, y vg.Length)) {
		if x+wide+p.TextWidth(text, t) > p.Width-s.edge {
			return
		}
		draw(x, y+p.TextHeight(t)*0.4)
		p.DrawText(drawing.Pt(x+wide+p.Em*0.35, y), text, t)
		x += wide + p.Em*1.3 + p.TextWidth(text, t)
	}
	w := p.Em * 1.3
	add(s.line, w, func(x, y vg.Length) { p.Stroke(drawing.Pt(x, y), drawing.Pt(x+w, y), drawing.Line{Width: 0.12}) })
	for _, k := range s.keys {
		add(k.text, w, func(x, y vg.Length) {
			bar := drawing.Line{Width: 0.22, Color: k.ink}
			if k.text == leftOut {
				bar.Dash = drawing.HiddenDash
				end := drawing.Pt(x+w-p.Em*0.25, y)
				p.Stroke(drawing.Pt(x, y), end, bar)
				strike(p, end, k.ink)
				return
			}
			p.Stroke(drawing.Pt(x, y), drawing.Pt(x+w, y), bar)
			p.Dot(drawing.Pt(x+w, y), p.Em*0.17, k.ink)
		})
	}
	if s.silent > 0 {
		add(fmt.Sprintf("%s without room: see the table", count(s.silent, "figure")), 0, func(vg.Length, vg.Length) {})
	}
	if s.magnify > 1 {
		add(fmt.Sprintf("bars drawn %g times as long as they are", s.magnify), 0, func(vg.Length, vg.Length) {})
	}
}
