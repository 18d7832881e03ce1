package render

import (
	"image/color"
	"math"
	"slices"

	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// woodTints are colours near those of the woods; a wood that is not among them
// takes the next of spareTints.
var woodTints = map[string]color.NRGBA{
	"sugar maple":      {240, 219, 180, 255},
	"black walnut":     {148, 112, 84, 255},
	"black cherry":     {206, 150, 108, 255},
	"true mahogany":    {190, 122, 92, 255},
	"African mahogany": {202, 138, 108, 255},
	"sapele":           {168, 98, 74, 255},
	"Spanish-cedar":    {218, 162, 132, 255},
	"Indian rosewood":  {122, 88, 84, 255},
	"purpleheart":      {150, 104, 132, 255},
}

var spareTints = []color.NRGBA{{188, 196, 150, 255}, {156, 178, 186, 255}, {214, 196, 128, 255}, {178, 160, 178, 255}}

// namedTint is a wood and the colour that it is drawn in.
type namedTint struct {
	name string
	fill color.NRGBA
}

// strips are the colours of a laminated neck: one a strip, and one a wood for
// the legend.
type strips struct {
	fills  []color.NRGBA
	legend []namedTint
}

// newStrips returns the colours of a neck's laminations, without any for a neck
// of one piece across.
func newStrips(s *spec.Spec) strips {
	var out strips
	spare := 0
	for _, l := range s.Laminations {
		name := s.LaminationWood(l).Material().Name
		i := slices.IndexFunc(out.legend, func(t namedTint) bool { return t.name == name })
		if i < 0 {
			fill, known := woodTints[name]
			if !known {
				fill = spareTints[spare%len(spareTints)]
				spare++
			}
			i = len(out.legend)
			out.legend = append(out.legend, namedTint{name, fill})
		}
		out.fills = append(out.fills, out.legend[i].fill)
	}
	return out
}

// topSteps is how finely strips are drawn along the neck.
const topSteps = 300

// topStrips returns the strips in a view square on the neck's width, as polygons
// of x and y within the wood's outline between two stations.
func topStrips(n *neck.Neck, from, to float64) [][]neck.YZ {
	k := len(n.Spec().Laminations)
	if k == 0 {
		return nil
	}
	out := make([][]neck.YZ, k)
	for i := range k {
		var there, back []neck.YZ
		for j := range topSteps + 1 {
			x := from + (to-from)*float64(j)/topSteps
			minus, plus := n.Edges(x)
			edges := n.LaminationEdges(x)
			edges[0], edges[k] = math.Inf(-1), math.Inf(1)
			hold := func(d float64) float64 { return max(minus, min(plus, n.Y(d))) }
			there = append(there, neck.YZ{Y: x, Z: hold(edges[i])})
			back = append(back, neck.YZ{Y: x, Z: hold(edges[i+1])})
		}
		slices.Reverse(back)
		out[i] = append(there, back...)
	}
	return out
}

// veil is how strongly a strip's colour lies over a picture of the solid.
const veil = 130

// drawStrips lays the strips over a view of the neck's width between two
// stations, and draws their edges; see-through over a picture of the solid.
func (s strips) drawStrips(p *drawing.Page, n *neck.Neck, from, to float64, at func(x, y float64) vg.Point, alpha uint8) {
	for i, outline := range topStrips(n, from, to) {
		points := make([]vg.Point, len(outline))
		for j, q := range outline {
			points[j] = at(q.Y, q.Z)
		}
		fill := s.fills[i]
		fill.A = alpha
		p.Polygon(points, fill)
		if i > 0 {
			p.Polyline(points[:len(points)/2], drawing.Line{Width: 0.05, Color: woodHatch})
		}
	}
}

// drawLegend sets the woods with their colours in a line that ends at the right,
// if there is room for it.
func (s strips) drawLegend(p *drawing.Page, left, right, y vg.Length, t drawing.Text) {
	t.AlignX, t.AlignY = 0, 0
	h := p.TextHeight(t) * 0.8
	need := vg.Length(0)
	for _, k := range s.legend {
		need += p.Em*2.75 + p.TextWidth(k.name, t)
	}
	if need > right-left {
		return
	}
	for _, k := range slices.Backward(s.legend) {
		width := p.Em*1.65 + p.TextWidth(k.name, t)
		x := right - width
		swatch := []vg.Point{drawing.Pt(x, y), drawing.Pt(x+p.Em*1.3, y), drawing.Pt(x+p.Em*1.3, y+h), drawing.Pt(x, y+h)}
		p.Polygon(swatch, k.fill)
		p.Outline(swatch, drawing.Line{})
		p.DrawText(drawing.Pt(x+p.Em*1.65, y), k.name, t)
		right = x - p.Em*1.1
	}
}

// seamLines returns the edges between the strips of a laminated neck in the
// section at x, each from the top, or from the floor of a channel, down to the
// back.
func seamLines(n *neck.Neck, x float64) [][2]neck.YZ {
	edges := n.LaminationEdges(x)
	if len(edges) < 3 {
		return nil
	}
	sec := n.Section(x)
	channels := channelOutlines(n, x)
	var out [][2]neck.YZ
	for _, d := range edges[1 : len(edges)-1] {
		y := n.Y(d)
		depth, ok := sec.DepthAt(y)
		if !ok {
			continue
		}
		top := sec.Top
		for _, line := range channels {
			top = min(top, floorAt(line, y, top))
		}
		if top > -depth {
			out = append(out, [2]neck.YZ{{Y: y, Z: top}, {Y: y, Z: -depth}})
		}
	}
	return out
}

// floorAt returns the height of a channel's section, from lip to lip, at y across,
// or the height top beside it.
func floorAt(line []neck.YZ, y, top float64) float64 {
	low := top
	for i := 0; i+1 < len(line); i++ {
		a, b := line[i], line[i+1]
		if (a.Y-y)*(b.Y-y) <= 0 && a.Y != b.Y {
			low = min(low, a.Z+(b.Z-a.Z)*(y-a.Y)/(b.Y-a.Y))
		}
	}
	return low
}

// drawSeams draws seams lifted up the page by so many mm.
func drawSeams(p *drawing.Page, n *neck.Neck, x float64, f drawing.Frame, lift float64, line drawing.Line) {
	for _, seam := range seamLines(n, x) {
		p.Stroke(f.At(seam[0].Y, seam[0].Z+lift), f.At(seam[1].Y, seam[1].Z+lift), line)
	}
}
