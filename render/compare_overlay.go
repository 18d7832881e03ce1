package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// overlays shows the sections of several necks over each other, a panel a
// station, all to one scale, on a grid in millimetres. Sections lie with the
// centreline on the centreline and the glue plane on the glue plane, or the
// apexes on one level.
type overlays struct {
	c           *compare.Comparison
	o           CompareOptions
	left, right vg.Length
	columns     int
	cell        vg.Length // width of a panel
	tall        vg.Length // height of a panel
	scale       vg.Length
	half        float64 // extent of the grid to either side, mm
	top, foot   float64 // of the grid, mm
	title, note vg.Length
	key         vg.Length
	frames      []drawing.Frame // of the panels, once they are drawn
}

func newOverlays(c *compare.Comparison, o CompareOptions) *overlays {
	return &overlays{c: c, o: o}
}

// lift returns how far to move a section up the page, in mm.
func (v *overlays) lift(s *compare.Section) float64 {
	if v.o.AlignApex {
		return s.Section.Depth
	}
	return 0
}

// gridStep is the spacing of the grid in mm, and gridMajor that of its figures.
const (
	gridStep  = 5.0
	gridMajor = 10.0
)

func (v *overlays) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	v.left, v.right = left, right
	k := len(v.c.Stations)
	switch {
	case k <= 3:
		v.columns = k
	case k == 4:
		v.columns = 2
	default:
		v.columns = 3
	}
	v.half, v.top, v.foot = 0, 0, 0
	if v.o.AlignApex {
		v.top = -math.MaxFloat64
	}
	for i := range v.c.Stations {
		for j := range v.c.Stations[i].Sections {
			s := &v.c.Stations[i].Sections[j]
			if !s.On() {
				continue
			}
			n, up := v.c.Necks[j], v.lift(s)
			v.half = math.Max(v.half, s.Section.HalfWidth)
			if s.X >= 0 && s.X <= n.BoardEnd() {
				v.half = math.Max(v.half, n.BoardHalfWidth(s.X))
			}
			v.top = math.Max(v.top, math.Max(n.Total(s.X)-s.Section.Depth, s.Section.Top)+up)
			v.foot = math.Min(v.foot, up-s.Section.Depth)
		}
	}
	const air = 1.5 // mm around the sections
	v.half = gridStep * math.Ceil((v.half+air)/gridStep)
	v.top = gridStep * math.Ceil((v.top+air)/gridStep)
	v.foot = gridStep * math.Floor((v.foot-air)/gridStep)
	gap := p.Em * 2
	v.cell = (right - left - gap*vg.Length(v.columns-1)) / vg.Length(v.columns)
	figures := p.TextWidth("-00", figureText) + p.Em*0.4
	// One panel alone need not be a poster.
	v.scale = min((v.cell-figures)/vg.Length(2*v.half), (right-left)*0.42/vg.Length(v.top-v.foot))
	h := p.TextHeight(labelText) * leading
	v.title = h * 1.15
	v.note = h*vg.Length(len(v.c.Necks)-1) + p.Em*0.35
	figuresHeight := p.TextHeight(figureText) + p.Em*0.35
	v.tall = v.title + v.scale*vg.Length(v.top-v.foot) + figuresHeight + v.note
	rows := (k + v.columns - 1) / v.columns
	v.key = p.TextHeight(figureText)*1.3 + p.Em*0.4
	return p.TextHeight(titleText)*1.6 + v.tall*vg.Length(rows) + p.Em*1.3*vg.Length(rows-1) + v.key
}

func (v *overlays) shots() []shot { return nil }

func (v *overlays) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	title := "Sections to one scale, on the glue plane, seen from the body"
	if v.o.AlignApex {
		title = "Sections to one scale, on the apex, seen from the body"
	}
	p.DrawText(drawing.Pt(v.left, y), title, titleText)
	y -= p.TextHeight(titleText) * 1.6
	gap := (v.right - v.left - v.cell*vg.Length(v.columns)) / vg.Length(max(1, v.columns-1))
	for i := range v.c.Stations {
		if i > 0 && i%v.columns == 0 {
			y -= v.tall + p.Em*1.3
		}
		x := v.left + (v.cell+gap)*vg.Length(i%v.columns)
		v.station(p, &v.c.Stations[i], x, y)
	}
	v.drawKey(p, y-v.tall-v.key)
}

// station draws one panel with its upper left corner at (x, y).
func (v *overlays) station(p *drawing.Page, st *compare.Station, x, y vg.Length) {
	figures := p.TextWidth("-00", figureText) + p.Em*0.4
	f := drawing.Frame{Scale: v.scale, Origin: drawing.Pt(x+figures+(v.cell-figures)/2, y-v.title-v.scale*vg.Length(v.top))}
	v.frames = append(v.frames, f)
	head := labelText
	head.AlignX, head.AlignY, head.Weight = 0.5, 1, drawing.Medium
	p.DrawText(drawing.Pt(f.Origin.X, y), p.Shorten(v.heading(st), v.cell, head), head)

	v.grid(p, f)
	v.shade(p, st, f)
	for i := range st.Sections {
		s := &st.Sections[i]
		if !s.On() {
			continue
		}
		line := styleOf(i).line()
		p.Outline(onPage(f, v.outline(s)), line)
		v.glued(p, s, v.c.Necks[i], f, line)
		board := boardOutline(v.c.Necks[i], s.X)
		for k := range board {
			board[k].Z += v.lift(s)
		}
		line.Width *= 0.6
		if board != nil {
			p.Polyline(onPage(f, board), line)
		}
	}
	foot := f.Y(v.foot) - p.Em*0.7 - p.TextHeight(figureText)
	v.notes(p, st, f.Origin.X, foot)
}

// glued draws what a neck is glued up of at a section: the seams between its
// strips, and the outlines of bars and strips in its channels.
func (v *overlays) glued(p *drawing.Page, s *compare.Section, n *neck.Neck, f drawing.Frame, line drawing.Line) {
	line.Width *= 0.5
	line.Dash = drawing.HiddenDash
	drawSeams(p, n, s.X, f, v.lift(s), line)
	line.Dash = nil
	for _, c := range n.Channels() {
		for _, inlay := range n.InlayOutlines(c, s.X, backSteps) {
			for k := range inlay.Closed {
				inlay.Closed[k].Z += v.lift(s)
			}
			p.Outline(onPage(f, inlay.Closed), line)
		}
	}
}

// heading names the station; where the necks differ in scale a fret lies at
// different places.
func (v *overlays) heading(st *compare.Station) string {
	first := st.Sections[0].X
	same := true
	for i := range st.Sections {
		if s := &st.Sections[i]; s.On() && math.Abs(s.X-first) > 0.005 {
			same = false
		}
	}
	u := v.o.Unit
	switch {
	case !st.Place.ByFret:
		return "x " + number(first, u) + " " + u.String()
	case same:
		return st.Label + ", x " + number(first, u) + " " + u.String()
	}
	return st.Label + " of each"
}

// outline returns a section as a closed polygon, lifted to its place.
func (v *overlays) outline(s *compare.Section) []neck.YZ {
	out := backOutline(&s.Section)
	for i := range out {
		out[i].Z += v.lift(s)
	}
	return out
}

// shade tints what one section has and another has not.
func (v *overlays) shade(p *drawing.Page, st *compare.Station, f drawing.Frame) {
	var loops [][]neck.YZ
	var who []int
	for i := range st.Sections {
		if s := &st.Sections[i]; s.On() {
			loops = append(loops, v.outline(s))
			who = append(who, i)
		}
	}
	if len(loops) < 2 {
		return
	}
	shared := loops[0]
	for _, l := range loops[1:] {
		if shared != nil {
			shared = common(shared, l)
		}
	}
	spacing := p.Em * 0.3
	for k := len(loops) - 1; k >= 0; k-- {
		tint := color.NRGBA{222, 219, 212, 255}
		if len(v.c.Necks) == 2 {
			tint = styleOf(who[k]).tint(0.22)
		}
		p.Polygon(onPage(f, loops[k]), tint)
	}
	if shared == nil {
		return
	}
	inner := onPage(f, shared)
	if len(v.c.Necks) == 2 {
		// Hatched too, one way each, since tints fade in a copy.
		for k, l := range loops {
			angle := math.Pi / 4
			if k == 1 {
				angle = -angle
			}
			line := drawing.Line{Width: 0.05, Color: styleOf(who[k]).tint(0.6)}
			p.Hatch([][]vg.Point{onPage(f, l), inner}, angle, spacing, line)
		}
	}
	p.Polygon(inner, sharedFill)
	v.lines(p, f, inner)
}

// sharedFill is what all the sections have in common.
var sharedFill = color.NRGBA{244, 233, 211, 255}

// grid draws the grid with its figures.
func (v *overlays) grid(p *drawing.Page, f drawing.Frame) {
	v.lines(p, f, nil)
	t := figureText
	t.Color = quietColor
	for w := math.Ceil(v.foot/gridMajor) * gridMajor; w <= v.top; w += gridMajor {
		t.AlignX, t.AlignY = 1, 0.5
		p.TryText(strconv.Itoa(int(w)), t, drawing.Pt(f.X(-v.half)-p.Em*0.3, f.Y(w)))
	}
	for u := -math.Floor(v.half/gridMajor) * gridMajor; u <= v.half; u += gridMajor {
		t.AlignX, t.AlignY = 0.5, 1
		p.TryText(strconv.Itoa(int(u)), t, drawing.Pt(f.X(u), f.Y(v.foot)-p.Em*0.25))
	}
}

// lines draws the lines of the grid, or the parts of them within a convex
// polygon if one is given.
func (v *overlays) lines(p *drawing.Page, f drawing.Frame, within []vg.Point) {
	fine := drawing.Line{Width: 0.03, Color: gridColor}
	bold := drawing.Line{Width: 0.055, Color: gridColor}
	zero := drawing.Line{Width: 0.055, Color: quietColor, Dash: drawing.ChainDash}
	one := func(at float64, a, b vg.Point) {
		l := fine
		switch m := math.Mod(math.Abs(at), gridMajor); {
		case at == 0:
			l = zero
		case m == 0:
			l = bold
		}
		if within != nil {
			var ok bool
			if a, b, ok = chord(within, a, b); !ok {
				return
			}
		}
		p.Stroke(a, b, l)
	}
	for u := -v.half; u <= v.half; u += gridStep {
		one(u, f.At(u, v.foot), f.At(u, v.top))
	}
	for w := v.foot; w <= v.top; w += gridStep {
		one(w, f.At(-v.half, w), f.At(v.half, w))
	}
}

var gridColor = color.NRGBA{196, 200, 198, 255}

// chord returns the part of the line from a to b that lies in a convex polygon,
// and false if there is none (Cyrus and Beck, 1978).
func chord(loop []vg.Point, a, b vg.Point) (from, to vg.Point, ok bool) {
	turn := vg.Length(0)
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		turn += p.X*q.Y - q.X*p.Y
	}
	t0, t1 := vg.Length(0), vg.Length(1)
	for i, p := range loop {
		q := loop[(i+1)%len(loop)]
		inner := func(r vg.Point) vg.Length {
			v := (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X)
			if turn < 0 {
				return -v
			}
			return v
		}
		u, v := inner(a), inner(b)
		switch {
		case u < 0 && v < 0:
			return a, b, false
		case u < 0:
			t0 = max(t0, u/(u-v))
		case v < 0:
			t1 = min(t1, u/(u-v))
		}
	}
	at := func(t vg.Length) vg.Point { return drawing.Pt(a.X+(b.X-a.X)*t, a.Y+(b.Y-a.Y)*t) }
	return at(t0), at(t1), t0 < t1
}

// notes writes the differences under a panel, a line for each neck after the
// first.
func (v *overlays) notes(p *drawing.Page, st *compare.Station, x, y vg.Length) {
	t := labelText
	t.AlignX, t.AlignY = 0.5, 1
	ref := &st.Sections[0]
	for i := 1; i < len(st.Sections); i++ {
		s := &st.Sections[i]
		text := compare.LetterOf(i) + ": no wood here"
		if s.On() {
			d := func(mm float64) string { return signed(mm, v.o.Unit) }
			text = fmt.Sprintf("%s − A: total %s, width %s, shoulders %s bass, %s treble", compare.LetterOf(i),
				d(s.Total-ref.Total), d(s.Width-ref.Width), d(s.FullerBy[compare.Bass]), d(s.FullerBy[compare.Treble]))
			if p.TextWidth(text, t) > v.cell {
				text = fmt.Sprintf("%s − A: total %s, width %s, sh. %s / %s", compare.LetterOf(i),
					d(s.Total-ref.Total), d(s.Width-ref.Width), d(s.FullerBy[compare.Bass]), d(s.FullerBy[compare.Treble]))
			}
		}
		p.DrawText(drawing.Pt(x, y), p.Shorten(text, v.cell, t), t)
		y -= p.TextHeight(labelText) * leading
	}
}

// signed prints a difference with its sign.
func signed(mm float64, u spec.Unit) string {
	text := number(math.Abs(mm), u)
	switch {
	case text == number(0, u):
		return "0"
	case mm < 0:
		return "−" + text
	}
	return "+" + text
}

// drawKey tells what the tints and the grid are, its foot at y.
func (v *overlays) drawKey(p *drawing.Page, y vg.Length) {
	t := figureText
	t.AlignY, t.Color = 0, quietColor
	x := v.left
	h := p.TextHeight(t) * 0.85
	swatch := func(c color.Color, hatch *drawing.Line, angle float64, text string) {
		r := drawing.Rect(x, y, x+p.Em*1.6, y+h)
		corners := []vg.Point{r.Min, drawing.Pt(r.Max.X, r.Min.Y), r.Max, drawing.Pt(r.Min.X, r.Max.Y)}
		p.Polygon(corners, c)
		if hatch != nil {
			p.Hatch([][]vg.Point{corners}, angle, p.Em*0.3, *hatch)
		}
		p.Outline(corners, drawing.Line{Color: quietColor})
		x = p.DrawText(drawing.Pt(r.Max.X+p.Em*0.4, y), text, t).Max.X + p.Em*1.4
	}
	if len(v.c.Necks) == 2 {
		for i := range 2 {
			angle := math.Pi / 4
			if i == 1 {
				angle = -angle
			}
			line := drawing.Line{Width: 0.05, Color: styleOf(i).tint(0.6)}
			swatch(styleOf(i).tint(0.22), &line, angle, "only "+compare.LetterOf(i))
		}
		swatch(sharedFill, nil, 0, "both")
	} else {
		swatch(color.NRGBA{222, 219, 212, 255}, nil, 0, "some of them")
		swatch(sharedFill, nil, 0, "all")
	}
	text := "Grid in mm. Shoulders: reach at 45° beyond that of A stretched to the same width and depth."
	if words := v.gluedWords(); words != "" {
		text = words + " " + text
	}
	p.DrawText(drawing.Pt(x, y), p.Shorten(text, v.right-x, t), t)
}

// gluedWords says what the thin lines in the sections are.
func (v *overlays) gluedWords() string {
	var seams, inlays bool
	for i := range v.c.Stations {
		for j := range v.c.Stations[i].Sections {
			s, n := &v.c.Stations[i].Sections[j], v.c.Necks[j]
			if !s.On() {
				continue
			}
			seams = seams || len(seamLines(n, s.X)) > 0
			for _, c := range n.Channels() {
				inlays = inlays || len(n.InlayOutlines(c, s.X, 4)) > 0
			}
		}
	}
	switch {
	case seams && inlays:
		return "Thin: seams (dashed), bars and strips."
	case seams:
		return "Thin, dashed: seams of the laminations."
	case inlays:
		return "Thin: bars and strips in the channels."
	}
	return ""
}
