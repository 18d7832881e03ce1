package render

import (
	"gonum.org/v1/plot/vg"

	"neckloft/neck"
	"neckloft/render/drawing"
)

// glueLine is how the line of a joint is drawn.
var glueLine = drawing.Line{Width: 0.1, Color: featureColor}

// allGlueLines returns the lines that joints show on sides and back.
func allGlueLines(n *neck.Neck) []neck.GlueLine {
	lines := n.ScarfLines()
	if k, ok := n.HeelStack(); ok {
		for _, b := range k.Blocks {
			lines = append(lines, b.Lines...)
		}
	}
	return lines
}

// drawGlueLines draws the lines that joints show in a view square on the neck's
// width: on both sides, and across where they come out on the apex.
func drawGlueLines(p *drawing.Page, n *neck.Neck, at func(x, y float64) vg.Point) {
	for _, l := range allGlueLines(n) {
		var one, other []vg.Point
		for _, q := range l.Points {
			one = append(one, at(q.X, q.From))
			other = append(other, at(q.X, q.To))
		}
		p.Polyline(one, glueLine)
		p.Polyline(other, glueLine)
		last := len(one) - 1
		if l.OutFirst {
			p.Stroke(one[0], other[0], glueLine)
		}
		if l.OutLast {
			p.Stroke(one[last], other[last], glueLine)
		}
	}
}

// drawFaceLine draws the line of a scarf joint across the headstock's face, where
// it has one.
func drawFaceLine(p *drawing.Page, n *neck.Neck, at func(x, y float64) vg.Point) {
	j, ok := n.Scarf()
	if !ok {
		return
	}
	if _, onFace := j.FaceLine(); onFace && j.From > n.Start() {
		from, to := n.Edges(j.From)
		p.Stroke(at(j.From, from), at(j.From, to), glueLine)
	}
}

// drawSideGlueLines draws the lines that joints show in a view from the side.
func drawSideGlueLines(p *drawing.Page, n *neck.Neck, f drawing.Frame) {
	for _, l := range allGlueLines(n) {
		var side []vg.Point
		for _, q := range l.Points {
			side = append(side, f.At(q.X, q.Z))
		}
		p.Polyline(side, glueLine)
	}
}
