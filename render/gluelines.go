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
		var bass, treble []vg.Point
		for _, q := range l.Points {
			bass = append(bass, at(q.X, q.Bass))
			treble = append(treble, at(q.X, q.Treble))
		}
		p.Polyline(bass, glueLine)
		p.Polyline(treble, glueLine)
		last := len(bass) - 1
		if l.OutFirst {
			p.Stroke(bass[0], treble[0], glueLine)
		}
		if l.OutLast {
			p.Stroke(bass[last], treble[last], glueLine)
		}
	}
}
