package render

import (
	"image"
	"math"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
)

// courses shows measures of several necks against the distance from the nut:
// small graphs under each other with one axis.
type courses struct {
	c           *neck.Comparison
	o           CompareOptions
	left, right vg.Length
	x1          float64
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

// courseSteps is how finely a course is sampled along the neck.
const courseSteps = 240

func newCourses(c *neck.Comparison, o CompareOptions) *courses {
	v := &courses{c: c, o: o}
	_, v.x1 = courseExtent(c)
	u := o.Unit
	for _, m := range []struct {
		name  string
		value func(n *neck.Neck, x float64) float64
	}{
		{"total, " + u.String(), func(n *neck.Neck, x float64) float64 { return u.Of(n.Total(x)) }},
		{"bare wood, " + u.String(), func(n *neck.Neck, x float64) float64 { return u.Of(n.Depth(x)) }},
		{"girth of the back, " + u.String(), func(n *neck.Neck, x float64) float64 { s := n.Section(x); return u.Of(s.Girth()) }},
		{"area of the wood, " + u.String() + "²", func(n *neck.Neck, x float64) float64 { s := n.Section(x); return u.Of(u.Of(s.Area())) }},
		{"cover over the channel, " + u.String(), func(n *neck.Neck, x float64) float64 {
			d, ok := n.Cover(x)
			if !ok {
				return math.NaN()
			}
			return u.Of(d)
		}},
		{"stiffness with the board, N m²", func(n *neck.Neck, x float64) float64 { return n.Stiffness(x).EI * 1e-6 }},
	} {
		g := graph{name: m.name, lo: math.Inf(1), hi: math.Inf(-1)}
		for _, n := range c.Necks {
			end := math.Min(n.End(), n.BoardEnd())
			// Up to the heel, which would dwarf what the hand feels.
			playing := end
			if h := n.Spec().Heel; h != nil {
				playing = math.Min(end, n.Spec().X(h.Start))
			}
			var l course
			for _, x := range samples1(0, end, courseSteps) {
				y := m.value(n, x)
				if math.IsNaN(y) {
					continue
				}
				l.xs, l.ys = append(l.xs, x), append(l.ys, y)
				if x <= playing+1e-9 {
					g.lo, g.hi = math.Min(g.lo, y), math.Max(g.hi, y)
				}
			}
			g.lines = append(g.lines, l)
		}
		if math.IsInf(g.lo, 0) {
			continue // no neck has a channel
		}
		g.settle()
		v.graphs = append(v.graphs, g)
	}
	return v
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

func (v *courses) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	v.left, v.right = left+axisRoom(p), right
	v.tall = whole((right - left) * 0.072)
	v.title = p.TextHeight(titleText) * 1.5
	v.gap = p.TextHeight(labelText)*1.2 + p.Em*0.5
	return v.title + (v.tall+v.gap)*vg.Length(len(v.graphs)) + p.TextHeight(figureText) + p.Em*0.7
}

func (v *courses) shots() []shot { return nil }

func (v *courses) draw(p *drawing.Page, y vg.Length, _ []*image.NRGBA) {
	p.DrawText(drawing.Pt(v.left-axisRoom(p), y), "Along the neck, from the nut; a heel may rise out of a graph", titleText)
	y -= v.title
	x0, _ := courseExtent(v.c)
	across := (v.right - v.left) / vg.Length(v.x1-x0)
	px := func(x float64) vg.Length { return v.left + across*vg.Length(x-x0) }
	for _, g := range v.graphs {
		name := labelText
		name.AlignY = 1
		p.DrawText(drawing.Pt(v.left, y), g.name, name)
		y -= v.gap - p.Em*0.5
		v.graph(p, g, px, y)
		y -= v.tall + p.Em*0.5
	}
	// The axis under the last.
	y += p.Em * 0.5
	t := figureText
	t.AlignX, t.AlignY, t.Color = 0.5, 1, quietColor
	u := v.o.Unit
	step := drawing.Round(u.Of(v.x1) / 7)
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
