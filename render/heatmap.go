package render

import (
	"image"
	"math"
	"sort"
	"strconv"

	"github.com/fogleman/fauxgl"
	"gonum.org/v1/plot/vg"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/compare"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// heatmap shows a value over the back of a neck: the back as it looks from
// below, and the two sides unfolded from it, with a scale of colours.
type heatmap struct {
	n             *neck.Neck
	title, note   string
	less, more    string // what the ends of the scale mean
	ramp          ramp
	unit          spec.Unit
	mark          float64 // a value to mark on the scale; NaN for none
	markName      string
	scene         *scene
	views         [3]elevation // the side of lower y, the back, the other side
	left, right   vg.Length
	titleH, scale vg.Length
	gap           vg.Length
}

// mapStep is the distance of the rows of a map of a neck, in mm.
func mapStep(n *neck.Neck) float64 { return math.Min(2, (n.End()-n.Start())/300) }

// newHeatmap lays a map of the values over the back.
func newHeatmap(n *neck.Neck, b *neck.Back, values [][]float64) *heatmap {
	h := &heatmap{n: n, unit: n.Spec().PrintUnit(), mark: math.NaN()}
	h.scene = mapScene(b, values)
	lo, hi := h.scene.lo, h.scene.hi
	hi.X = math.Max(hi.X, n.BoardEnd()) // for the frets
	x := mesh.Vec{X: 1}
	for i, v := range []struct {
		up     mesh.Vec
		v0, v1 float64
	}{
		{mesh.Vec{Z: 1}, lo.Z, hi.Z},
		{mesh.Vec{Y: -1}, -hi.Y, -lo.Y},
		{mesh.Vec{Z: -1}, -hi.Z, -lo.Z},
	} {
		h.views[i] = elevation{camera: along(x, v.up), x0: lo.X, x1: hi.X, v0: v.v0, v1: v.v1}
	}
	return h
}

// mapScene returns the back as triangles that carry the values.
func mapScene(b *neck.Back, values [][]float64) *scene {
	s := &scene{
		lo: mesh.Vec{X: math.Inf(1), Y: math.Inf(1), Z: math.Inf(1)},
		hi: mesh.Vec{X: math.Inf(-1), Y: math.Inf(-1), Z: math.Inf(-1)},
	}
	m := b.Mesh()
	columns := len(b.Points[0])
	store := make([]fauxgl.Triangle, len(m.Faces))
	s.wood = make([]*fauxgl.Triangle, len(m.Faces))
	for i, f := range m.Faces {
		t := &store[i]
		for k, v := range []*fauxgl.Vertex{&t.V1, &t.V2, &t.V3} {
			row, column := int(f[k])/columns, int(f[k])%columns
			v.Position = fauxgl.Vector(m.Vertices[f[k]])
			v.Normal = fauxgl.Vector(b.Normals[row][column])
			v.Texture.Y = values[row][column]
		}
		s.wood[i] = t
	}
	for _, v := range m.Vertices {
		s.lo = mesh.Vec{X: math.Min(s.lo.X, v.X), Y: math.Min(s.lo.Y, v.Y), Z: math.Min(s.lo.Z, v.Z)}
		s.hi = mesh.Vec{X: math.Max(s.hi.X, v.X), Y: math.Max(s.hi.Y, v.Y), Z: math.Max(s.hi.Z, v.Z)}
	}
	return s
}

// newDifferenceMap maps how far the back of the first neck stands out from
// that of neck i.
func newDifferenceMap(c *compare.Comparison, i int, u spec.Unit) *heatmap {
	a, o := c.Necks[0], c.Necks[i]
	b := a.Back(mapStep(a))
	values := b.DistanceTo(o, mapStep(o))
	h := newHeatmap(a, b, values)
	h.unit = u
	letter := compare.LetterOf(i)
	h.title = "Back of A against " + letter + ": how far it stands out from it, in " + unitName(u)
	h.less, h.more = letter+" farther out", "A farther out"
	h.note = "Nut on nut and glue plane on glue plane; the distance is the shortest in space. The scale fits the playing length; what lies beyond it has the colour of its end."
	// The scale fits what the hand feels: nut to the start of the heel.
	var sizes []float64
	for k, row := range b.Points {
		if x := row[0].X; x < 0 || x > playingEnd(a) || x > playingEnd(o) {
			continue
		}
		for _, v := range values[k] {
			sizes = append(sizes, math.Abs(v))
		}
	}
	most := 0.0
	if len(sizes) > 0 {
		sort.Float64s(sizes)
		most = sizes[len(sizes)*95/100]
	}
	step := roundUp(math.Max(u.Of(most)/4.5, u.Of(0.005)))
	h.ramp = ramp{lo: -4.5 * u.Millimetres(step), hi: 4.5 * u.Millimetres(step), bands: 9, stops: differenceStops}
	h.scene.ramp = &h.ramp
	return h
}

// newThicknessMap maps how much wood lies under each place of the back.
func newThicknessMap(n *neck.Neck) *heatmap {
	b := n.Back(mapStep(n))
	values := n.Thickness(b)
	h := newHeatmap(n, b, values)
	u := h.unit
	h.title = "Wood under the back, in " + unitName(u)
	h.less, h.more = "thin", "thick"
	h.note = "Square to the back as far as the glue plane, the headstock's face or the far side; over the rod channel the cover, the shortest way to it. Bare wood, without the board."
	var all []float64
	for k, row := range b.Points {
		if x := row[0].X; x >= 0 && x <= playingEnd(n) {
			all = append(all, values[k]...)
		}
	}
	sort.Float64s(all)
	lo, hi := all[0], all[len(all)*9/10]
	step := roundUp(u.Of(hi-lo) / 9)
	first := math.Floor(u.Of(lo)/step) * step
	h.ramp = ramp{lo: u.Millimetres(first), hi: u.Millimetres(first + 9*step), bands: 9, stops: thicknessStops}
	h.scene.ramp = &h.ramp
	if c := n.Spec().Limits.Cover; len(n.Channels()) > 0 && c > h.ramp.lo && c < h.ramp.hi {
		h.mark, h.markName = c, "limit of cover"
	}
	return h
}

// unitName is the word for a unit in a sentence.
func unitName(u spec.Unit) string {
	if u == spec.Inch {
		return "inches"
	}
	return "millimetres"
}

// playingEnd is where the neck begins to leave its profile towards the body.
func playingEnd(n *neck.Neck) float64 {
	if h := n.Spec().Heel; h != nil {
		return math.Min(n.End(), n.Spec().X(h.Start))
	}
	return n.End()
}

// roundUp returns the least of 1, 2, 2.5 and 5 times a power of ten that is
// not less than v.
func roundUp(v float64) float64 {
	if !(v > 1e-6) {
		return 1e-6
	}
	p := math.Pow(10, math.Floor(math.Log10(v)))
	for _, k := range []float64{1, 2, 2.5, 5, 10} {
		if k*p >= v*(1-1e-9) {
			return k * p
		}
	}
	return 10 * p
}

func (h *heatmap) sceneOf(int) *scene { return h.scene }

func (h *heatmap) lay(p *drawing.Page, left, right vg.Length) vg.Length {
	h.left, h.right = left, right
	names := p.TextWidth("treble side", figureText) + p.Em*0.8
	h.titleH = whole(p.TextHeight(titleText) * 1.6)
	h.gap = whole(p.Em * 0.7)
	total := h.titleH
	for i := range h.views {
		v := &h.views[i]
		v.fit(left+names, right, (right-left)*0.3)
		total += vg.Length(v.h) + h.gap
	}
	h.scale = p.Em*1.2 + p.TextHeight(figureText)*2 + p.Em*1.2
	return total + fretAxisHeight(p) + p.Em*0.6 + h.scale + p.TextHeight(factText)*leading*vg.Length(len(h.noteLines(p)))
}

func (h *heatmap) noteLines(p *drawing.Page) []string {
	return wrapped(p, h.note, h.right-h.left, factText)
}

func (h *heatmap) shots() []shot {
	out := make([]shot, len(h.views))
	for i := range h.views {
		out[i] = h.views[i].shot()
	}
	return out
}

func (h *heatmap) draw(p *drawing.Page, y vg.Length, images []*image.NRGBA) {
	p.DrawText(drawing.Pt(h.left, y), h.title, titleText)
	y -= h.titleH
	name := figureText
	name.AlignX, name.AlignY, name.Color = 0, 0.5, quietColor
	for i, text := range []string{h.n.SideName(neck.MinusY) + " side", "back", h.n.SideName(neck.PlusY) + " side"} {
		v := &h.views[i]
		v.draw(p, y, images[i])
		middle := y - vg.Length(v.h)/2
		if i == 1 {
			middle = v.frame.Y(0)
		}
		p.DrawText(drawing.Pt(h.left, middle), text, name)
		y -= vg.Length(v.h) + h.gap
	}
	y -= p.Em * 0.3
	drawFretAxis(p, h.n, h.views[1].frame, y)
	y -= fretAxisHeight(p) + p.Em*0.3
	h.drawScale(p, y)
	y -= h.scale
	for _, s := range h.noteLines(p) {
		p.DrawText(drawing.Pt(h.left, y), s, factText)
		y -= p.TextHeight(factText) * leading
	}
}

// drawScale draws the scale of colours with its top at y.
func (h *heatmap) drawScale(p *drawing.Page, y vg.Length) {
	t := figureText
	end := t
	end.Color = quietColor
	room := p.TextWidth(h.less, end) + p.Em
	wide := (h.right - h.left) * 0.62
	x0 := h.left + max(room, (h.right-h.left-wide)/2)
	wide = min(wide, h.right-x0-p.TextWidth(h.more, end)-p.Em)
	block := wide / vg.Length(h.ramp.bands)
	top, foot := y-p.Em*0.9-p.TextHeight(t)*0.2, y-p.Em*2.0-p.TextHeight(t)*0.2
	for i := range h.ramp.bands {
		x := x0 + block*vg.Length(i)
		p.Fill(drawing.Rect(x, foot, x+block, top).Path(), h.ramp.color(i))
	}
	p.Outline([]vg.Point{drawing.Pt(x0, foot), drawing.Pt(x0+wide, foot), drawing.Pt(x0+wide, top), drawing.Pt(x0, top)}, drawing.Line{Color: quietColor})
	t.AlignX, t.AlignY = 0.5, 1
	for i := range h.ramp.bands + 1 {
		x := x0 + block*vg.Length(i)
		p.Stroke(drawing.Pt(x, foot), drawing.Pt(x, foot-p.Em*0.2), drawing.Line{Color: quietColor})
		p.TryText(scaleFigure(h.unit.Of(h.ramp.edge(i))), t, drawing.Pt(x, foot-p.Em*0.3))
	}
	end.AlignX, end.AlignY = 1, 0.5
	p.DrawText(drawing.Pt(x0-p.Em*0.6, (top+foot)/2), h.less, end)
	end.AlignX = 0
	p.DrawText(drawing.Pt(x0+wide+p.Em*0.6, (top+foot)/2), h.more, end)
	if !math.IsNaN(h.mark) {
		x := x0 + wide*vg.Length((h.mark-h.ramp.lo)/(h.ramp.hi-h.ramp.lo))
		p.Stroke(drawing.Pt(x, foot-p.Em*0.1), drawing.Pt(x, top+p.Em*0.3), drawing.Line{Width: 0.12})
		t.AlignY = 0
		p.TryText(h.markName+" "+plain(h.mark, h.unit), t, drawing.Pt(x, top+p.Em*0.35))
	}
}

// scaleFigure prints a value of a scale.
func scaleFigure(v float64) string {
	return positive(strconv.FormatFloat(math.Round(v*1e6)/1e6, 'f', -1, 64))
}
