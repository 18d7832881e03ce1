package render

import (
	"context"
	"image"
	"math"
	"sort"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/bending"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// courses shows measures of several necks against the distance from the nut:
// small graphs under each other with one axis.
type courses struct {
	c           *compare.Comparison
	o           CompareOptions
	left, right vg.Length
	x1          float64
	cell        vg.Length // width of one graph with its figures
	graphs      []graph
	tall        vg.Length // height of one graph
	title, gap  vg.Length
}

// graph is one measure of every neck.
type graph struct {
	name   string
	lines  []course
	lo, hi float64
	step   float64
}

// course is the course of a measure along one neck.
type course struct{ xs, ys []float64 }

// measure is what a graph shows.
type measure struct {
	name  string
	steps int // samples along the neck
	value func(n *neck.Neck, x float64) float64
}

// courseMeasures are the measures that are shown, in the given unit.
func courseMeasures(u spec.Unit) []measure {
	return []measure{
		{"total, " + u.String(), 240, func(n *neck.Neck, x float64) float64 { return u.Of(n.Total(x)) }},
		{"bare wood, " + u.String(), 240, func(n *neck.Neck, x float64) float64 { return u.Of(n.Depth(x)) }},
		{"girth of the back, " + u.String(), 120, func(n *neck.Neck, x float64) float64 { s := n.Section(x); return u.Of(s.Girth()) }},
		{"area of the wood, " + u.String() + "²", 120, func(n *neck.Neck, x float64) float64 { s := n.Section(x); return u.Of(u.Of(s.Area())) }},
		// Every cover is a search of its own.
		{"cover over the channel, " + u.String(), 32, func(n *neck.Neck, x float64) float64 {
			d, ok := n.Cover(x)
			if !ok {
				return math.NaN()
			}
			return u.Of(d)
		}},
		{"stiffness with the board, N m²", 120, func(n *neck.Neck, x float64) float64 { return bending.StiffnessAt(n, x).EI * 1e-6 }},
	}
}

func newCourses(c *compare.Comparison, o CompareOptions) *courses {
	v := &courses{c: c, o: o}
	_, v.x1 = courseExtent(c)
	for _, m := range courseMeasures(o.Unit) {
		g := graph{name: m.name, lo: math.Inf(1), hi: math.Inf(-1)}
		for _, n := range c.Necks {
			l := m.along(n)
			g.lines = append(g.lines, l)
			// Up to the heel, which would dwarf what the hand feels.
			for i, x := range l.xs {
				if x <= playingEnd(n)+1e-9 {
					g.lo, g.hi = math.Min(g.lo, l.ys[i]), math.Max(g.hi, l.ys[i])
				}
			}
		}
		if math.IsInf(g.lo, 0) {
			continue // no neck has a channel
		}
		g.settle()
		v.graphs = append(v.graphs, g)
	}
	return v
}

// along returns the course of the measure along the board.
func (m *measure) along(n *neck.Neck) course {
	end := math.Min(n.End(), n.BoardEnd())
	xs := samples1(0, end, m.steps)
	for _, c := range n.Channels() {
		xs = append(xs, c.From, math.Min(c.To, end)) // where the cover begins and ends
	}
	sort.Float64s(xs)
	ys := make([]float64, len(xs))
	jobs := make([]func(), len(xs))
	for i, x := range xs {
		jobs[i] = func() { ys[i] = m.value(n, x) }
	}
	_ = inParallel(context.Background(), jobs, func() {}) // nothing to cancel it
	var l course
	for i, x := range xs {
		if y := ys[i]; !math.IsNaN(y) && x >= 0 {
			l.xs, l.ys = append(l.xs, x), append(l.ys, y)
		}
	}
	return l
}

// settle widens the range to round figures.
func (g *graph) settle() {
	if g.hi-g.lo < 1e-3*math.Abs(g.hi) {
		pad := math.Max(0.02*math.Abs(g.hi), 1e-6)
		g.lo, g.hi = g.lo-pad, g.hi+pad
	}
	g.step = drawing.Round((g.hi - g.lo) / 2)
	pad := 0.06 * (g.hi - g.lo)
	g.lo, g.hi = g.lo-pad, g.hi+pad
}

// courseColumns is the number of graphs beside each other.
const courseColumns = 2

func (v *courses) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	v.left, v.right = left, right
	v.cell = (right - left - p.Em*1.5*(courseColumns-1)) / courseColumns
	v.tall = whole((right - left) * 0.08)
	v.title = p.TextHeight(titleText) * 1.5
	v.gap = p.TextHeight(labelText)*1.2 + p.Em*0.7
	return v.title + (v.tall+v.gap)*vg.Length(v.rows()) + v.axisHeight(p)
}

func (v *courses) rows() int { return (len(v.graphs) + courseColumns - 1) / courseColumns }

func (v *courses) axisHeight(p *drawing.Page) vg.Length {
	return p.TextHeight(figureText) + p.Em*0.4
}

func (v *courses) shots() []shot { return nil }

func (v *courses) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	p.DrawText(drawing.Pt(v.left, y), "Along the neck, from the nut; a heel may rise out of a graph", titleText)
	y -= v.title
	for i, g := range v.graphs {
		x := v.left + (v.cell+p.Em*1.5)*vg.Length(i%courseColumns)
		top := y - (v.tall+v.gap)*vg.Length(i/courseColumns)
		left, right := x+axisRoom(p), x+v.cell
		px := func(x float64) vg.Length { return left + (right-left)*vg.Length(x/v.x1) }
		name := labelText
		name.AlignY = 1
		p.DrawText(drawing.Pt(x, top), p.Shorten(g.name, v.cell, name), name)
		top -= v.gap - p.Em*0.5
		v.graph(p, g, px, top)
		if i+courseColumns >= len(v.graphs) {
			v.axis(p, px, top-v.tall)
		}
	}
}

// axis draws the figures of the distance from the nut under a graph.
func (v *courses) axis(p *drawing.Page, px func(float64) vg.Length, y vg.Length) {
	t := figureText
	t.AlignX, t.AlignY, t.Color = 0.5, 1, quietColor
	u := v.o.Unit
	step := drawing.Round(u.Of(v.x1) / 5)
	for x := 0.0; x <= u.Of(v.x1); x += step {
		at := px(u.Millimetres(x))
		p.Stroke(drawing.Pt(at, y), drawing.Pt(at, y-p.Em*0.25), drawing.Line{Color: quietColor})
		text := strconv.FormatFloat(x, 'g', 6, 64)
		if x == 0 {
			text += " " + u.String()
		}
		p.TryText(text, t, drawing.Pt(at, y-p.Em*0.4))
	}
}

// graph draws one graph with its top at y.
func (v *courses) graph(p *drawing.Page, g graph, px func(float64) vg.Length, y vg.Length) {
	foot := y - v.tall
	py := func(w float64) vg.Length { return foot + v.tall*vg.Length((w-g.lo)/(g.hi-g.lo)) }
	left, right := px(0), px(v.x1)
	fretLines(p, v.c, px, foot, y)
	t := figureText
	t.AlignX, t.AlignY, t.Color = 1, 0.5, quietColor
	for w := math.Ceil(g.lo/g.step) * g.step; w <= g.hi; w += g.step {
		p.Stroke(drawing.Pt(left, py(w)), drawing.Pt(right, py(w)), drawing.Line{Width: 0.05, Color: gridColor})
		text := strconv.FormatFloat(math.Round(w/g.step)*g.step, 'g', 6, 64)
		p.TryText(text, t, drawing.Pt(left-p.Em*0.4, py(w)))
	}
	p.Polyline([]vg.Point{drawing.Pt(left, y), drawing.Pt(left, foot), drawing.Pt(right, foot)}, drawing.Line{Color: quietColor})
	for i := len(g.lines) - 1; i >= 0; i-- {
		l := g.lines[i]
		var run []vg.Point
		for k := range l.xs {
			q := drawing.Pt(px(l.xs[k]), py(l.ys[k]))
			if out := l.ys[k] < g.lo || l.ys[k] > g.hi; !out {
				if len(run) == 0 && k > 0 {
					run = append(run, cross(drawing.Pt(px(l.xs[k-1]), py(l.ys[k-1])), q, foot, y))
				}
				run = append(run, q)
				continue
			}
			if len(run) > 0 {
				run = append(run, cross(run[len(run)-1], q, foot, y))
				p.Polyline(run, styleOf(i).line())
				run = nil
			}
		}
		p.Polyline(run, styleOf(i).line())
	}
}

// cross returns the point of the line from a to b that is nearest to b and
// between the levels.
func cross(a, b vg.Point, foot, top vg.Length) vg.Point {
	level := min(max(b.Y, foot), top)
	if level == b.Y {
		level = min(max(a.Y, foot), top)
	}
	if b.Y == a.Y {
		return a
	}
	t := (level - a.Y) / (b.Y - a.Y)
	return drawing.Pt(a.X+(b.X-a.X)*t, level)
}
