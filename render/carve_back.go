package render

import (
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/render/drawing"
)

// backView draws the back towards you, the nut to the left, and returns where it ends.
func (s *carveSheet) backView(y, originX, scale float64) float64 {
	p, n := s.p, s.p.Neck
	r := &p.Round
	routed := !p.Refuses(carve.StageRound)
	y = s.heading(y, "Back", s.backWords(scale))
	bearing := r.Bit.BodyRadius() - r.Bit.Radius + r.Bit.Offset
	half := s.backHalf(scale, bearing)
	label := s.lineHeight(picText)
	above := 2*label + 1
	mid := y + above + half*scale
	f := s.frame(originX, mid, scale)

	// The run, then the outline over it.
	st := p.Stretch
	a0, a1 := n.Width(st.From)/2, n.Width(st.To)/2
	s.pg.Polygon([]vg.Point{f.At(st.From, -a0), f.At(st.To, -a1), f.At(st.To, a1), f.At(st.From, a0)}, woodFill)
	s.fretTicks(f)
	s.pg.Outline(s.backOutline(f), edgeLine)
	s.pg.Stroke(f.At(n.Start(), 0), f.At(n.End(), 0), axisLine)
	for _, x := range []float64{st.From, st.To} {
		s.pg.Stroke(f.At(x, -n.Width(x)/2), f.At(x, n.Width(x)/2), edgeLine)
	}
	s.backFlats(f)
	below := mid + half*scale + 0.8
	if routed {
		s.ridge(f)
		s.stops(f, mid, half*scale, bearing)
	}
	s.runEnds(f, below)
	if routed && p.Table == nil { // on a table the neck lies the other way up
		s.feed(f, half*scale, bearing)
	}
	s.fretNumbers(f)
	return below + label
}

// backWords says what the view of the back shows.
func (s *carveSheet) backWords(scale float64) string {
	rest := scaleName(scale) + ", the back towards you, " + s.p.Neck.SideName(neck.MinusY) + " side up"
	if s.p.Round.Travel > 0 && !s.p.Refuses(carve.StageRound) {
		rest += ". Red: stops and ridge"
		if s.p.Table == nil {
			rest += "; arrows: the router's travel"
		}
	}
	if !s.p.Refuses(carve.StageFlats) {
		rest += ". Blue: pencil lines of the flats, full on the back, dashed on earlier flats."
	}
	return rest
}

// backHalf returns half of what the view of the back needs across, in mm of the
// neck.
func (s *carveSheet) backHalf(scale, bearing float64) float64 {
	p, n := s.p, s.p.Neck
	_, widest := alongWood(n, n.Width)
	half := widest / 2
	if !p.Refuses(carve.StageRound) {
		half += 5 / scale // for the way to feed
		for _, stop := range p.Round.Stops {
			if stop.Feature != "" {
				half = math.Max(half, n.Width(stop.Centre)/2+bearing+bitRadius(p))
			}
		}
	}
	return math.Max(half, widestIn(n, p.Stretch.From, n.End())/2+3/scale) // for the fret numbers
}

// backOutline returns the outline of the wood.
func (s *carveSheet) backOutline(f drawing.Frame) []vg.Point {
	n := s.p.Neck
	var minus, plus []vg.Point
	for i := range 301 {
		x := n.Start() + (n.End()-n.Start())*float64(i)/300
		from, to := n.Edges(x)
		minus, plus = append(minus, f.At(x, from)), append(plus, f.At(x, to))
	}
	slices.Reverse(plus)
	return append(minus, plus...)
}

// backFlats draws the pencil lines of the flats on the back, and on flats that
// are cut by then.
func (s *carveSheet) backFlats(f drawing.Frame) {
	if s.p.Refuses(carve.StageFlats) {
		return
	}
	for _, l := range s.p.Flats.Lines {
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

// runEnds says under the view of the back what the ends of the run are.
func (s *carveSheet) runEnds(f drawing.Frame, below float64) {
	n, u, st := s.p.Neck, s.u, s.p.Stretch
	names := []string{"run begins" + after(st.FromWhat) + ", x " + number(st.From, u), "run ends" + after(st.ToWhat) + ", x " + number(st.To, u)}
	t := drawing.Text{Scale: viewText, AlignY: 1}
	outside := s.textWidth(names[0]+names[1], t)+3 > st.Length()*float64(f.Scale)/s.k
	for i, x := range []float64{st.From, st.To} {
		s.pg.Stroke(f.At(x, n.Width(x)/2), drawing.Pt(f.X(x), s.at(0, below).Y), thinLine)
		t.AlignX = float64(i)
		if outside {
			t.AlignX = 1 - t.AlignX
		}
		s.pg.DrawText(drawing.Pt(f.X(x), s.at(0, below).Y), names[i], t)
	}
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

// fretNumbers sets numbers that help to find the frets: before each fret beside
// the centreline, or wherever no bit stands over them.
func (s *carveSheet) fretNumbers(f drawing.Frame) {
	n := s.p.Neck
	spec := n.Spec()
	t := drawing.Text{Scale: leastText, Color: quietColor, AlignX: 1, AlignY: 0.5}
	for _, i := range fretOrder(spec.LastNamed()) {
		x := spec.FretX(float64(i))
		if x > n.End() {
			continue
		}
		name := strconv.Itoa(i)
		if i == 0 {
			name = "nut"
		}
		at, step := f.At(x, 0), s.pg.TextHeight(t)*7/10
		at.X -= s.pg.Em * 0.15
		// Lines that run under a number stop beside it.
		t.Halo = s.pg.Paper
		if st := s.p.Stretch; x > st.From && x <= st.To {
			t.Halo = woodFill
		}
		s.pg.TryText(name, t, drawing.Pt(at.X, at.Y-step), drawing.Pt(at.X, at.Y+step), drawing.Pt(at.X, f.Y(n.Width(x)/2)-step))
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
	body := bitRadius(p)
	top := s.at(0, mid-half-0.6).Y
	t := drawing.Text{Scale: viewText, Color: routerColor}
	step := vg.Length(s.lineHeight(t) * s.k)
	// The labels stand between the marks, or outside them where that is too
	// narrow.
	outside := false
	room := float64(f.X(clampTo(r.To, n))-f.X(clampTo(r.From, n))) / s.k
	for _, t.Scale = range []float64{viewText, leastText} {
		need := 0.0
		for _, stop := range r.Stops[:2] {
			need += s.textWidth(carve.InBoth(s.u, stop.Board)+" from the board's end", t) + 2
		}
		if need <= room {
			break
		}
		outside = t.Scale == leastText
	}
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
			s.keepOff(c, vg.Length(body)*f.Scale)
		}
		s.pg.Stroke(drawing.Pt(f.X(x), top), drawing.Pt(f.X(x), f.Y(n.Width(x)/2+bearing)), routerLine)
		gap := s.pg.Em * 0.3
		if t.AlignX == 1 {
			gap = -gap
		}
		at := drawing.Pt(f.X(x)+gap, top)
		if wide := s.pg.TextWidth(carve.InBoth(s.u, stop.Board)+" from the board's end", t); t.AlignX == 0 {
			at.X = min(at.X, s.at(s.w-carveEdge, 0).X-wide)
		} else {
			at.X = max(at.X, s.at(carveEdge, 0).X+wide)
		}
		t.Weight = drawing.Medium
		s.pg.DrawText(drawing.Pt(at.X, at.Y+step), "stop: "+carve.InBoth(s.u, stop.Centre)+" from the nut", t)
		t.Weight = drawing.Regular
		s.pg.DrawText(at, carve.InBoth(s.u, stop.Board)+" from the board's end", t)
	}
}

// feed draws which way to feed on either side, against the rotation: on the
// side of lower y towards the nut, on the other towards the body.
func (s *carveSheet) feed(f drawing.Frame, half, bearing float64) {
	p, n := s.p, s.p.Neck
	r := &p.Round
	x0, x1 := math.Max(r.From, p.Stretch.From), math.Min(r.To, p.Stretch.To)
	c, l := (x0+x1)/2, (x1-x0)*0.3
	off := bearing
	if h := n.Width(c)/2 + bearing; h*float64(f.Scale)/s.k > half {
		off = 0
	}
	arrow := drawing.Text{Scale: viewText, Color: routerColor, AlignX: 0.5, AlignY: 0.5, Halo: s.pg.Paper}
	for _, side := range []neck.Side{neck.MinusY, neck.PlusY} {
		y := side.Sign() * (n.Width(c)/2 + math.Max(off, 4.2/float64(f.Scale)*s.k))
		a, b := f.At(c+l, y), f.At(c-l, y)
		name := travelWords(n)[side]
		// Long enough for its words, where the bits leave room.
		if need := (float64(s.pg.TextWidth(name, arrow))/2 + 4.5*s.k) / float64(f.Scale); need > l && need < (x1-x0)/2-bitRadius(p) {
			a, b = f.At(c+need, y), f.At(c-need, y)
		}
		if side == neck.PlusY {
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
		body := vg.Length(bitRadius(p)) * f.Scale
		a.X, b.X = min(a.X, b.X, f.X(x0)-body), max(a.X, b.X, f.X(x1)+body)
		for _, end := range []struct{ at, align float64 }{{float64(max(a.X, b.X)), 0}, {float64(min(a.X, b.X)), 1}} {
			beside.AlignX = end.align
			gap := vg.Length((1 - 2*end.align) * 1.2 * s.k)
			at := drawing.Pt(vg.Length(end.at)+gap, a.Y)
			if s.onPaper(s.pg.TextBox(at, name, beside)) && s.pg.TryText(name, beside, at) {
				break
			}
		}
	}
}

// travelWords says by side which way the router travels.
func travelWords(n *neck.Neck) [2]string {
	return [2]string{
		neck.MinusY: n.SideName(neck.MinusY) + " side: router travels towards the nut",
		neck.PlusY:  n.SideName(neck.PlusY) + " side: router travels towards the body",
	}
}

// onPaper reports whether a box keeps clear of the margin on the left and right.
func (s *carveSheet) onPaper(box vg.Rectangle) bool {
	return box.Min.X >= s.at(carveEdge, 0).X && box.Max.X <= s.at(s.w-carveEdge, 0).X
}

// keepOff keeps labels that look for a free place off a disc.
func (s *carveSheet) keepOff(c vg.Point, r vg.Length) {
	const strips = 12
	for i := range strips {
		// A strip is as wide as the disc at its edge nearer the centre.
		lo, hi := 2*float64(i)/strips-1, 2*float64(i+1)/strips-1
		near := math.Min(math.Abs(lo), math.Abs(hi))
		w := r * vg.Length(math.Sqrt(1-near*near))
		s.pg.Reserve(drawing.Rect(c.X-w, c.Y+r*vg.Length(lo), c.X+w, c.Y+r*vg.Length(hi)))
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
