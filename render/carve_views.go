package render

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// Colours and lines of the plan: what the router does, what the pencil does,
// and what is only there to measure from.
var (
	routerColor = featureColor
	pencilColor = measureColor

	routerLine = drawing.Line{Width: 0.14, Color: routerColor}
	ridgeLine  = drawing.Line{Width: 0.07, Color: routerColor, Dash: drawing.HiddenDash}
	pencilLine = drawing.Line{Width: 0.11, Color: pencilColor}
	laterLine  = drawing.Line{Width: 0.07, Color: pencilColor, Dash: []float64{0.25, 0.22}}
	edgeLine   = drawing.Line{Width: 0.11, Color: inkColor}
	thinLine   = drawing.Line{Width: 0.05, Color: quietColor}
	axisLine   = drawing.Line{Width: 0.05, Color: quietColor, Dash: drawing.ChainDash}

	stripeColor = color.NRGBA{241, 240, 236, 255}
)

// lengthScales are the scales that a builder can measure on a drawing with a
// rule, from large to small.
var lengthScales = []float64{5, 4, 2, 1, 1 / 1.5, 1 / 2.0, 1 / 2.5, 1 / 3.0, 1 / 4.0, 1 / 5.0, 1 / 7.5, 1 / 10.0, 1 / 15.0, 1 / 20.0, 1 / 30.0, 1 / 50.0, 1 / 100.0}

// fitScale returns the largest scale at which size mm fit into room mm.
func fitScale(size, room float64) float64 {
	for _, k := range lengthScales {
		if size*k <= room {
			return k
		}
	}
	return lengthScales[len(lengthScales)-1]
}

// scaleName names a scale: "1:2.5", "2:1".
func scaleName(k float64) string {
	f := func(v float64) string { return strconv.FormatFloat(math.Round(v*100)/100, 'f', -1, 64) }
	if k >= 1 {
		return f(k) + ":1"
	}
	return "1:" + f(1/k)
}

// drawings lays out the first page: the back with the marks, the side with the
// taper, and sections.
func (s *carveSheet) drawings(top float64) {
	n := s.p.Neck
	x0, x1 := math.Min(n.Start(), 0), math.Max(n.End(), n.BoardEnd())
	foot := s.remarks()
	views := func(s *carveSheet, scale float64) float64 {
		left := (s.w - (x1-x0)*scale) / 2
		originX := left - x0*scale
		y := s.backView(top, originX, scale)
		return s.sideView(y+3, originX, scale) + 3
	}
	// The largest scale that fits across and leaves room for the sections.
	const sections = 46
	scale := lengthScales[len(lengthScales)-1]
	for _, k := range lengthScales {
		if (x1-x0)*k <= s.w-2*carveEdge-4 && views(s.blank(), k) <= foot-sections {
			scale = k
			break
		}
	}
	y := s.sectionViews(views(s, scale), foot)
	s.bitTable(y+3, foot-2)
}

// blank returns a sheet like s that draws nothing, to measure with.
func (s *carveSheet) blank() *carveSheet {
	b := *s
	b.pg = drawing.NewBlank(s.pg.Width, s.pg.Height, s.pg.Em)
	b.pg.Ink, b.pg.Paper = s.pg.Ink, s.pg.Paper
	return &b
}

// frame maps the model with its origin at (x, y) mm on the page; v runs down.
func (s *carveSheet) frame(x, y, scale float64) drawing.Frame {
	return drawing.Frame{Origin: s.at(x, y), Scale: vg.Length(scale * s.k), FlipV: true}
}

func (s *carveSheet) heading(y float64, title, rest string) float64 {
	t := drawing.Text{Weight: drawing.Medium, Scale: 1.15}
	s.text(carveEdge, y, title, t)
	s.text(carveEdge+s.textWidth(title, t)+2, y+0.35, rest, drawing.Text{Color: quietColor})
	return y + s.lineHeight(t) + 0.8
}

// backView draws the back with bass up, and returns where it ends.
func (s *carveSheet) backView(y, originX, scale float64) float64 {
	p, n, u := s.p, s.p.Neck, s.u
	r := &p.Round
	routed := !p.Refuses(carve.StageRound)
	rest := scaleName(scale) + ", the back towards you, bass side up"
	if r.Travel > 0 && routed {
		rest += ". Red: stops and ridge; arrows: the router's travel. Blue: pencil lines of the flats, full on the back, dashed on earlier flats."
	} else if !p.Refuses(carve.StageFlats) {
		rest += ". Blue: pencil lines of the flats, full on the back, dashed on earlier flats."
	}
	y = s.heading(y, "Back", rest)

	_, widest := alongWood(n, n.Width)
	half := widest / 2
	body := r.Bit.BodyRadius()
	bearing := body - r.Bit.Radius + r.Bit.Offset
	if routed {
		half += 5 / scale // for the way to feed
		for _, stop := range r.Stops {
			if stop.Feature != "" {
				half = math.Max(half, n.Width(stop.Centre)/2+bearing+body)
			}
		}
	}
	half = math.Max(half, widestIn(n, p.Stretch.From, n.End())/2+3/scale) // for the fret numbers
	label := s.lineHeight(drawing.Text{})
	above := 2*label + 1
	mid := y + above + half*scale
	f := s.frame(originX, mid, scale)

	// The run, then the outline over it.
	st := p.Stretch
	a0, a1 := n.Width(st.From)/2, n.Width(st.To)/2
	s.pg.Polygon([]vg.Point{f.At(st.From, -a0), f.At(st.To, -a1), f.At(st.To, a1), f.At(st.From, a0)}, woodFill)
	var bass, treble []vg.Point
	for i := range 301 {
		x := n.Start() + (n.End()-n.Start())*float64(i)/300
		bass = append(bass, f.At(x, -n.Width(x)/2))
		treble = append(treble, f.At(x, n.Width(x)/2))
	}
	for i := len(treble) - 1; i >= 0; i-- {
		bass = append(bass, treble[i])
	}
	s.fretTicks(f)
	s.pg.Outline(bass, edgeLine)
	s.pg.Stroke(f.At(n.Start(), 0), f.At(n.End(), 0), axisLine)
	for _, x := range []float64{st.From, st.To} {
		s.pg.Stroke(f.At(x, -n.Width(x)/2), f.At(x, n.Width(x)/2), edgeLine)
	}

	if !p.Refuses(carve.StageFlats) {
		for _, l := range p.Flats.Lines {
			var points []vg.Point
			for _, q := range l.Points {
				points = append(points, f.At(q.X, q.Y))
			}
			switch {
			case l.OnBack():
				s.pg.Polyline(points, pencilLine)
			case l.OnFlat():
				s.pg.Polyline(points, laterLine)
			}
		}
	}
	below := mid + half*scale + 0.8
	if routed {
		s.ridge(f)
		s.stops(f, mid, half*scale, bearing)
	}
	// What the ends of the run are, under the drawing, with the frets.
	names := []string{"run begins" + after(st.FromWhat) + ", x " + number(st.From, u), "run ends" + after(st.ToWhat) + ", x " + number(st.To, u)}
	t := drawing.Text{Scale: 0.95, AlignY: 1}
	outside := s.textWidth(names[0]+names[1], t)+3 > st.Length()*scale
	for i, x := range []float64{st.From, st.To} {
		s.pg.Stroke(f.At(x, n.Width(x)/2), drawing.Pt(f.X(x), s.at(0, below).Y), thinLine)
		t.AlignX = float64(i)
		if outside {
			t.AlignX = 1 - t.AlignX
		}
		s.pg.DrawText(drawing.Pt(f.X(x), s.at(0, below).Y), names[i], t)
	}
	s.fretNumbers(f)
	if routed {
		s.feed(f, half*scale, bearing)
	}
	return below + label
}

// widestIn returns the greatest width between two stations.
func widestIn(n *neck.Neck, a, b float64) float64 {
	_, w := span(a, b, n.Width)
	return w
}

// after names what a run ends at.
func after(what string) string {
	if what == "" {
		return " with the wood"
	}
	return " at the " + what
}

func clampTo(x float64, n *neck.Neck) float64 {
	return math.Max(n.Start(), math.Min(n.End(), x))
}

// fretTicks draws the frets over the wood.
func (s *carveSheet) fretTicks(f drawing.Frame) {
	n := s.p.Neck
	spec := n.Spec()
	for i := range spec.Scale.Frets + 1 {
		x := spec.FretX(float64(i))
		if x > n.End() {
			break
		}
		s.pg.Stroke(f.At(x, -n.Width(x)/2), f.At(x, n.Width(x)/2), drawing.Line{Width: 0.05, Color: fretColor})
	}
}

// fretNumbers sets numbers below the edge that help to find the frets.
func (s *carveSheet) fretNumbers(f drawing.Frame) {
	n := s.p.Neck
	spec := n.Spec()
	t := drawing.Text{Scale: 0.76, Color: quietColor, AlignX: 0.5, AlignY: 0.5, Halo: s.pg.Paper}
	for _, i := range fretOrder(spec.Scale.Frets) {
		x := spec.FretX(float64(i))
		if x > n.End() {
			continue
		}
		name := strconv.Itoa(i)
		if i == 0 {
			name = "nut"
		}
		at := f.At(x, n.Width(x)/2)
		s.pg.TryText(name, t, drawing.Pt(at.X, at.Y-s.pg.TextHeight(t)*7/10))
	}
}

// ridge draws the edges of the flat that the router leaves.
func (s *carveSheet) ridge(f drawing.Frame) {
	st, r := s.p.Stretch, &s.p.Round
	from, to := math.Max(st.From, r.From), math.Min(st.To, r.To)
	for _, sign := range []float64{-1, 1} {
		var points []vg.Point
		const steps = 40
		for i := range steps + 1 {
			x := from + (to-from)*float64(i)/steps
			points = append(points, f.At(x, sign*s.p.Round.RidgeAt(x)/2))
		}
		s.pg.Polyline(points, ridgeLine)
	}
}

// stops draws the marks where the bit's centre stops, with the bit in its last
// place, and which way to feed.
func (s *carveSheet) stops(f drawing.Frame, mid, half, bearing float64) {
	p, n := s.p, s.p.Neck
	r := &p.Round
	body := r.Bit.BodyRadius()
	top := s.at(0, mid-half-0.6).Y
	t := drawing.Text{Color: routerColor, AlignY: 0}
	step := vg.Length(s.lineHeight(t) * s.k)
	// The labels stand between the marks, or outside them where that is too
	// narrow.
	room := float64(f.X(clampTo(r.To, n))-f.X(clampTo(r.From, n))) / s.k
	for _, stop := range r.Stops[:2] {
		room -= s.textWidth(dual(stop.Board)+" from the board's end", t) + 3
	}
	outside := room < 0
	for i, stop := range r.Stops[:2] {
		x := clampTo(stop.Centre, n)
		t.AlignX = float64(i)
		if outside {
			t.AlignX = 1 - t.AlignX
		}
		if stop.Feature == "" {
			at := drawing.Pt(f.X(x), top)
			t.Weight = drawing.Regular
			s.pg.DrawText(at, "no stop: the bit runs out over the end", t)
			continue
		}
		for _, sign := range []float64{-1, 1} {
			a := n.Width(x) / 2
			c := f.At(x, sign*(a+bearing))
			s.circle(c, vg.Length(body)*f.Scale, drawing.Line{Width: 0.05, Color: routerColor})
			s.circle(c, vg.Length(bearing)*f.Scale, drawing.Line{Width: 0.05, Color: routerColor})
			s.pg.Dot(c, s.pg.Em*0.1, routerColor)
		}
		s.pg.Stroke(drawing.Pt(f.X(x), top), drawing.Pt(f.X(x), f.Y(n.Width(x)/2+bearing)), routerLine)
		gap := s.pg.Em * 0.3
		if t.AlignX == 1 {
			gap = -gap
		}
		at := drawing.Pt(f.X(x)+gap, top)
		t.Weight = drawing.Medium
		s.pg.DrawText(drawing.Pt(at.X, at.Y+step), "stop: "+dual(stop.Centre)+" from the nut", t)
		t.Weight = drawing.Regular
		s.pg.DrawText(at, dual(stop.Board)+" from the board's end", t)
	}
}

// feed draws which way to feed on either side, against the rotation: on the
// bass side towards the nut, on the treble side towards the body.
func (s *carveSheet) feed(f drawing.Frame, half, bearing float64) {
	p, n := s.p, s.p.Neck
	r := &p.Round
	x0, x1 := math.Max(r.From, p.Stretch.From), math.Min(r.To, p.Stretch.To)
	c, l := (x0+x1)/2, (x1-x0)*0.3
	off := bearing
	if h := n.Width(c)/2 + bearing; h*float64(f.Scale)/s.k > half {
		off = 0
	}
	arrow := drawing.Text{Color: routerColor, AlignX: 0.5, AlignY: 0.5, Halo: s.pg.Paper}
	for _, side := range []neck.Side{neck.Bass, neck.Treble} {
		y := side.Sign() * (n.Width(c)/2 + math.Max(off, 4.2/float64(f.Scale)*s.k))
		a, b := f.At(c+l, y), f.At(c-l, y)
		name := map[neck.Side]string{neck.Bass: "bass side: router travels towards the nut", neck.Treble: "treble side: router travels towards the body"}[side]
		// Long enough for its words, where the bits leave room.
		if need := (float64(s.pg.TextWidth(name, arrow))/2 + 4.5*s.k) / float64(f.Scale); need > l && need < (x1-x0)/2-r.Bit.BodyRadius() {
			a, b = f.At(c+need, y), f.At(c-need, y)
		}
		if side == neck.Treble {
			a, b = b, a
		}
		s.pg.Stroke(a, b, drawing.Line{Width: 0.09, Color: routerColor})
		// A head that is seen from across the bench.
		l := vg.Length(2.6 * s.k)
		if b.X < a.X {
			l = -l
		}
		w := vg.Length(0.9 * s.k)
		s.pg.Polygon([]vg.Point{b, drawing.Pt(b.X-l, b.Y-w), drawing.Pt(b.X-l, b.Y+w)}, routerColor)
		if s.pg.TextWidth(name, arrow)+vg.Length(8*s.k) < max(a.X, b.X)-min(a.X, b.X) {
			s.pg.TryText(name, arrow, drawing.Pt((a.X+b.X)/2, a.Y))
			continue
		}
		// Beside a short arrow, clear of the bits.
		beside := arrow
		body := vg.Length(r.Bit.BodyRadius()) * f.Scale
		a.X, b.X = min(a.X, b.X, f.X(x0)-body), max(a.X, b.X, f.X(x1)+body)
		for _, end := range []struct{ at, align float64 }{{float64(max(a.X, b.X)), 0}, {float64(min(a.X, b.X)), 1}} {
			beside.AlignX = end.align
			gap := vg.Length((1 - 2*end.align) * 1.2 * s.k)
			if s.pg.TryText(name, beside, drawing.Pt(vg.Length(end.at)+gap, a.Y)) {
				break
			}
		}
	}
}

// circle draws a circle of radius r.
func (s *carveSheet) circle(c vg.Point, r vg.Length, l drawing.Line) {
	const k = 72
	points := make([]vg.Point, k)
	for i := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / k)
		points[i] = drawing.Pt(c.X+r*vg.Length(cos), c.Y+r*vg.Length(sin))
	}
	s.pg.Outline(points, l)
}

// dual prints a length in both units.
func dual(mm float64) string {
	return strconv.FormatFloat(mm, 'f', 1, 64) + " mm / " + strconv.FormatFloat(spec.Inch.Of(mm), 'f', 3, 64) + " in"
}

// sideView draws the side with glue plane up, the stock, the taper and the
// target, and returns where it ends.
func (s *carveSheet) sideView(y, originX, scale float64) float64 {
	p, n, u := s.p, s.p.Neck, s.u
	t := p.Taper
	title := fmt.Sprintf("%s, glue face up, bass side. The flat back drops by %s over %s, %.3f degrees: shim %s at the %s, %s from the hinge.",
		scaleName(scale), number(math.Abs(t.Drop()), u), number(t.Length(), u), math.Abs(t.Angle)*180/math.Pi,
		number(p.Sled.Shim, u), p.Sled.ShimAt, number(p.Sled.Span, u))
	if p.Sled.Shim < 0.005 {
		title = scaleName(scale) + ", glue face up, bass side. The flat back is parallel to the glue plane: no shim."
	}
	if p.Refuses(carve.StageTaper) {
		title = scaleName(scale) + ", glue face up, bass side. The taper is refused."
	}
	y = s.heading(y, "Side", title)
	_, deepest := alongWood(n, n.Depth)
	low := deepest
	if p.Stock.Depth < 2.5*math.Max(t.DepthFrom, t.DepthTo) {
		low = math.Max(low, p.Stock.Depth)
	}
	zero := y + 1
	f := s.frame(originX, zero, scale)
	var line []vg.Point
	for i := range 301 {
		x := n.Start() + (n.End()-n.Start())*float64(i)/300
		line = append(line, f.At(x, n.Depth(x)))
	}
	for i := 300; i >= 0; i-- {
		x := n.Start() + (n.End()-n.Start())*float64(i)/300
		line = append(line, f.At(x, -n.Top(x)))
	}
	s.pg.Polygon(line, woodFill)
	if from, to, ok := n.Channel(); ok {
		d := n.Spec().Rod.Depth
		s.pg.Polyline([]vg.Point{f.At(from, 0), f.At(from, d), f.At(to, d), f.At(to, 0)}, drawing.Line{Color: quietColor, Dash: drawing.HiddenDash})
	}
	s.pg.Outline(line, edgeLine)
	st := p.Stretch
	if p.Stock.Depth <= low {
		s.pg.Stroke(f.At(st.From, p.Stock.Depth), f.At(st.To, p.Stock.Depth), thinLine)
		for _, x := range []float64{st.From, st.To} {
			low := n.Depth(x)
			if !p.Refuses(carve.StageTaper) {
				low = t.Depth(x)
			}
			s.pg.Stroke(f.At(x, p.Stock.Depth), f.At(x, low), thinLine)
		}
	}
	if !p.Refuses(carve.StageTaper) {
		s.pg.Stroke(f.At(t.From, t.DepthFrom), f.At(t.To, t.DepthTo), routerLine)
	}
	if !p.Refuses(carve.StageFlats) {
		for _, l := range wallLines(p, neck.Bass) {
			var points []vg.Point
			for _, q := range l.Points {
				points = append(points, f.At(q.X, -q.Z))
			}
			s.pg.Polyline(points, pencilLine)
		}
	}
	lab := drawing.Text{AlignY: 1}
	foot := s.at(0, zero+low*scale+0.8).Y
	if !p.Refuses(carve.StageTaper) {
		name := func(x float64) string {
			return fmt.Sprintf("flat back %s deep, take off %s", number(t.Depth(x), u), number(p.Stock.Depth-t.Depth(x), u))
		}
		outside := s.textWidth(name(t.From)+name(t.To), lab)+3 > t.Length()*scale
		for i, x := range []float64{t.From, t.To} {
			lab.AlignX = float64(i)
			if outside {
				lab.AlignX = 1 - lab.AlignX
			}
			name := name(x)
			s.pg.DrawText(drawing.Pt(f.X(x), foot), name, lab)
		}
		mid := fmt.Sprintf("stock %s deep", number(p.Stock.Depth, u))
		lab.AlignX, lab.Color = 0.5, quietColor
		s.pg.TryText(mid, lab, drawing.Pt(f.X((t.From+t.To)/2), foot))
	}
	return zero + low*scale + 0.8 + s.lineHeight(lab)
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

// checkBar draws a bar of known length in the lower right corner, and returns
// the width that it takes. Drawings to scale are worth as much as the printer's
// settings.
func (s *carveSheet) checkBar() float64 {
	bar := drawing.ScaleBar{Length: 60, Divided: 6, Width: vg.Length(60 * s.k), UnitName: "mm"}
	if s.u == spec.Inch {
		const long = 2 * spec.MillimetresPerInch
		bar = drawing.ScaleBar{Length: 2, Divided: 4, Width: vg.Length(long * s.k), UnitName: "in"}
	}
	const tail = 7 // the unit after the last figure
	wide := float64(bar.Width) / s.k
	x := s.w - carveEdge - tail - wide
	t := drawing.Text{Scale: 0.95}
	bar.Draw(s.pg, s.at(x, s.h-carveEdge), t)
	t.Color = quietColor
	line := "Print at 100 %, then measure this bar:"
	s.text(x, s.h-carveEdge-2*s.lineHeight(t)-2.2, line, t)
	return tail + math.Max(wide, s.textWidth(line, t)) + 6
}

// remarks sets verdict, refusals and notes at the foot of the page, beside the
// check bar, and returns where they begin.
func (s *carveSheet) remarks() float64 {
	p := s.p
	var lines []string
	for _, r := range p.In(s.u).Refusals() {
		lines = append(lines, "! "+strings.ToUpper(r[:1])+r[1:]+".")
	}
	if v := p.In(s.u).Verdict(); v != "" {
		lines = append(lines, "Bit of "+p.Round.Bit.Label(s.u)+" radius: "+v+".")
	}
	lines = append(lines, p.In(s.u).NoteLines()...)
	width := s.w - 2*carveEdge - s.checkBar()
	const least = 11 // the check bar's height
	for _, scale := range []float64{1, 0.9, 0.8} {
		t := drawing.Text{Scale: scale}
		var set []string
		for _, l := range lines {
			set = append(set, s.wrap(l, width, t)...)
		}
		tall := float64(len(set)) * s.lineHeight(t)
		if tall > 32 && scale > 0.8 {
			continue
		}
		y := s.h - carveEdge - tall
		begin := math.Min(y, s.h-carveEdge-least)
		for _, l := range set {
			t.Color = nil
			if strings.HasPrefix(l, "! ") {
				t.Color = routerColor
			}
			s.text(carveEdge, y, l, t)
			y += s.lineHeight(t)
		}
		return begin
	}
	return s.h - carveEdge
}
