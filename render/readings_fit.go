package render

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"

	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// leftOut marks a reading that does not belong to the rest.
const leftOut = "left out"

// FitPicture draws the sections of a fitted neck where it was read, with the
// readings and how far they lie off, in the given unit. The width is in pixels,
// 0 for the default.
func FitPicture(r *fit.Result, unit spec.Unit, width int) (image.Image, error) {
	sheet, err := fitSheet(r, unit)
	if err != nil {
		return nil, err
	}
	return sheet.draw(width)
}

func fitSheet(r *fit.Result, unit spec.Unit) (*readingSheet, error) {
	n, err := neck.New(r.Spec)
	if err != nil {
		return nil, err
	}
	s := r.Spec
	used := 0
	by := make(map[float64]*readingCell)
	var xs []float64
	for i := range r.Residuals {
		q := &r.Residuals[i]
		if !q.Dropped {
			used++
		}
		if !q.Placed {
			continue
		}
		x := s.X(q.At)
		c := by[x]
		if c == nil {
			c = &readingCell{title: s.Label(q.At), sub: "x " + number(x, unit), n: n, x: x}
			by[x] = c
			xs = append(xs, x)
		}
		if q.Kind == readings.Point {
			c.marks = append(c.marks, fitMark(r, n, q, x))
		} else {
			c.captions = append(c.captions, fitCaption(q, unit))
		}
	}
	slices.Sort(xs)
	sheet := &readingSheet{
		title: s.Name + ": readings and fitted neck",
		facts: []string{fmt.Sprintf("%s used, %d left out", count(used, "reading"), len(r.Residuals)-used)},
		unit:  unit,
		line:  "fitted",
		keys:  []caption{{"reading outside", remainingColor}, {"reading inside", featureColor}, {leftOut, belowColor}},
	}
	for _, x := range xs {
		sheet.cells = append(sheet.cells, *by[x])
	}
	return sheet, nil
}

// fitMark returns the mark of a contour point at x.
func fitMark(r *fit.Result, n *neck.Neck, q *fit.Residual, x float64) mark {
	at := neck.YZ{Y: q.Y - r.Pose[0] - r.Pose[1]*x, Z: -q.Value}
	sec := n.Section(x)
	off, side, phi := sec.Nearest(at)
	m := mark{at: at, side: side, phi: phi, off: off, ink: remainingColor, crossed: q.Dropped}
	m.foot = neck.YZ{Y: at.Y - off*side.Sign()*math.Cos(phi), Z: at.Z + off*math.Sin(phi)}
	switch {
	case q.Dropped:
		m.ink, m.label = belowColor, leftOut
	case q.Off < 0:
		m.ink = featureColor
	}
	return m
}

// fitCaption says of a reading that is no point what the fitted neck has there.
func fitCaption(q *fit.Residual, unit spec.Unit) caption {
	text := fmt.Sprintf("%s %s, fitted %s", q.Kind, number(q.Value, unit), number(q.Model, unit))
	if q.Dropped {
		return caption{text + ": " + leftOut, belowColor}
	}
	return caption{text, color.Color(inkColor)}
}
