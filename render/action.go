package render

import (
	"image"
	"image/color"
	"math"
	"sort"
	"strconv"

	"gonum.org/v1/plot/vg"

	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// Action draws the clearance of each string over each fret as a graph, w pixels
// wide. The error is that of fretboard.Strings.
func Action(b *fretboard.Board, w int) (image.Image, error) {
	lines, err := b.Strings()
	if err != nil {
		return nil, err
	}
	g := newActionGraph(b, lines)
	em := vg.Length(w) / 75
	p, img := drawing.NewPicture(w, int(0.46*float64(w)), em, inkColor, paperColor)
	g.draw(p)
	return img, nil
}

// actionGraph is the clearance of strings over frets, in the unit that it is
// printed in.
type actionGraph struct {
	b            *fretboard.Board
	u            spec.Unit
	gaps         [][]float64 // by string and fret
	lo, hi, step float64
	x0, x1       vg.Length // of the nut and the last fret on the page
	y0, y1       vg.Length // of lo and hi
}

func newActionGraph(b *fretboard.Board, lines []fretboard.String) *actionGraph {
	g := &actionGraph{b: b, u: b.Neck().Spec().PrintUnit()}
	for i := range lines {
		var gaps []float64
		for k := range b.Frets {
			v := g.u.Of(b.Clearance(&lines[i], &b.Frets[k]))
			gaps = append(gaps, v)
			if !math.IsNaN(v) {
				g.lo, g.hi = math.Min(g.lo, v), math.Max(g.hi, v)
			}
		}
		g.gaps = append(g.gaps, gaps)
	}
	if g.hi <= g.lo {
		g.hi = g.lo + g.u.Of(1)
	}
	g.step = drawing.Round((g.hi - g.lo) / 5)
	g.hi += 0.05 * (g.hi - g.lo)
	return g
}

func (g *actionGraph) at(x, gap float64) vg.Point {
	end := g.b.Neck().BoardEnd()
	return drawing.Pt(g.x0+(g.x1-g.x0)*vg.Length(x/end), g.y0+(g.y1-g.y0)*vg.Length((gap-g.lo)/(g.hi-g.lo)))
}

// draw draws the graph over the whole page.
func (g *actionGraph) draw(p *drawing.Page) {
	s := g.b.Neck().Spec()
	g.x0, g.x1 = p.Em*5, p.Width-p.Em*8
	g.y0, g.y1 = p.Em*5, p.Height-p.Em*6.5
	p.DrawText(drawing.Pt(p.Em*1.5, p.Height-p.Em*1.2), s.Name, titleText)
	fact := labelText
	fact.Color = quietColor
	p.DrawText(drawing.Pt(p.Em*1.5, p.Height-p.Em*3.6), "Clearance of the strings at rest over the frets, in "+g.u.String()+"; frets "+
		g.u.Format(s.FretHeight())+" high, relief "+g.u.Format(s.Strings.Relief), fact)
	g.grid(p)
	for i := range g.gaps {
		g.line(p, i)
	}
	g.names(p)
	foot := figureText
	foot.AlignX, foot.AlignY, foot.Color = 0, 1, quietColor
	p.DrawText(drawing.Pt(g.x0, p.Em*2.2), "frets, as they lie along the neck; string 1 is on the treble side", foot)
}

// grid draws the axes, a line for each step and one for each fret.
func (g *actionGraph) grid(p *drawing.Page) {
	fine := drawing.Line{Width: 0.05, Color: gridColor}
	t := figureText
	t.AlignX, t.AlignY, t.Color = 1, 0.5, quietColor
	for v := math.Ceil(g.lo/g.step) * g.step; v <= g.hi; v += g.step {
		a := g.at(0, v)
		p.Stroke(a, drawing.Pt(g.x1, a.Y), fine)
		p.DrawText(drawing.Pt(a.X-p.Em*0.5, a.Y), strconv.FormatFloat(math.Round(v/g.step)*g.step, 'g', 4, 64), t)
	}
	t.AlignX, t.AlignY = 0.5, 1
	for i := range g.b.Frets {
		f := &g.b.Frets[i]
		a := g.at(f.X, g.lo)
		p.Stroke(a, drawing.Pt(a.X, g.y1), fine)
		p.TryText(f.Label, t, drawing.Pt(a.X, a.Y-p.Em*0.4))
	}
	zero := g.at(0, 0)
	p.Stroke(zero, drawing.Pt(g.x1, zero.Y), drawing.Line{Width: 0.1, Color: quietColor})
}

// line draws the course of one string.
func (g *actionGraph) line(p *drawing.Page, i int) {
	ink := g.ink(i)
	var run []vg.Point
	for n, v := range g.gaps[i] {
		if math.IsNaN(v) {
			continue
		}
		run = append(run, g.at(g.b.Frets[n].X, v))
		p.Dot(run[len(run)-1], p.Em*0.16, ink)
	}
	if len(run) == 0 {
		return
	}
	p.Polyline(run, drawing.Line{Width: 0.14, Color: ink})
}

// names writes the strings' numbers at the ends of their lines, the highest on
// top.
func (g *actionGraph) names(p *drawing.Page) {
	type name struct {
		i int
		y vg.Length
	}
	var names []name
	for i, gaps := range g.gaps {
		for n := len(gaps) - 1; n >= 0; n-- {
			if !math.IsNaN(gaps[n]) {
				names = append(names, name{i, g.at(0, gaps[n]).Y})
				break
			}
		}
	}
	sort.SliceStable(names, func(a, b int) bool { return names[a].y > names[b].y })
	row := p.TextHeight(figureText) * 1.1
	for k := 1; k < len(names); k++ {
		names[k].y = min(names[k].y, names[k-1].y-row)
	}
	t := figureText
	t.AlignX, t.AlignY = 0, 0.5
	for _, n := range names {
		t.Color = g.ink(n.i)
		p.DrawText(drawing.Pt(g.x1+p.Em*0.8, n.y), "string "+strconv.Itoa(n.i+1), t)
	}
}

// ink returns the colour of a string's line, from the accent of what is measured
// to that of what is named.
func (g *actionGraph) ink(i int) color.NRGBA {
	k := float64(i) / math.Max(1, float64(len(g.gaps)-1))
	mix := func(a, b uint8) uint8 { return uint8(float64(a)*(1-k) + float64(b)*k + 0.5) }
	return color.NRGBA{mix(measureColor.R, featureColor.R), mix(measureColor.G, featureColor.G), mix(measureColor.B, featureColor.B), 255}
}
