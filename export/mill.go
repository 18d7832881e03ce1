package export

import (
	"fmt"
	"strings"

	"neckloft/mesh"
	"neckloft/neck/mill"
	"neckloft/neck/spec"
)

// MillSheet returns the outlines of a neck by layer, for a CAM program, with the
// datum as the zero of a DXF file.
func MillSheet(s *mill.Setup) Sheet {
	out := Sheet{Title: s.Neck.Spec().Name + ", for the mill"}
	put := func(layers []mill.Layer, by mesh.Vec2) {
		for _, l := range layers {
			for _, loop := range l.Loops {
				out.Cuts = append(out.Cuts, SheetCut{Name: l.Name, Region: mesh.Region{Outer: loop}.Translate(by), Layer: l.Name})
			}
			for _, line := range l.Lines {
				out.Marks = append(out.Marks, SheetLine{Points: mesh.Region{Outer: line}.Translate(by).Outer, Layer: l.Name})
			}
		}
	}
	label := func(x, y float64, text string) {
		out.Texts = append(out.Texts, SheetText{At: mesh.Vec2{X: x, Y: y}, Text: text, Height: fullSizeText})
	}
	middle := (s.Lo.X + s.Hi.X) / 2
	put(s.Layers(), mesh.Vec2{})
	label(middle, s.Hi.Y+fullSizeEdge/2, "seen from the glue face; datum: the nut's front on the centreline, z = 0 the glue plane; mm")
	if words := s.BackWords(spec.Millimetre); words != "" {
		label(middle, s.Lo.Y-fullSizeEdge/2, words)
	}
	for _, p := range s.Planes(spec.Millimetre) {
		put(p.Layer, p.At)
		put([]mill.Layer{mill.DatumCross()}, p.At)
		var names []string
		for _, l := range p.Layer {
			names = append(names, l.Name)
		}
		high := s.Hi.Y - fullSizeText
		label(middle, p.At.Y+high, strings.Join(names, ", "))
		label(middle, p.At.Y+high-2*fullSizeText, fmt.Sprintf("%s; its datum at 0, %g", p.Words, p.At.Y))
	}
	lo, hi := out.bounds()
	edge := mesh.Vec2{X: fullSizeEdge, Y: fullSizeEdge}
	out.Move(edge.Sub(lo))
	size := hi.Sub(lo).Add(edge.Scale(2))
	out.Width, out.Height = size.X, size.Y
	out.Zero = edge.Sub(lo)
	return out
}

// RidgeTable is the table of the ridges that a ball nose leaves, in thousandths of
// a millimetre or of an inch.
func RidgeTable(s *mill.Setup, u spec.Unit) *Table {
	type row = mill.Ridge
	t := tableOf([]field[row]{
		length("ball", func(r row) float64 { return r.Ball }),
		length("step", func(r row) float64 { return r.Step }),
		thousandths("ridge", u, func(r row) float64 { return r.Height }),
		thousandths("rule", u, func(r row) float64 { return r.About }),
		thousandths("round", u, func(r row) float64 { return r.Round }),
	}, s.Ridges(u))
	t.Note = "ridge: R - sqrt(R^2 - s^2/4), on a plane. rule: s^2/8R. round: across the roundest place\nof the back. In " + Thousandths(u) + "."
	return t
}

// inchThousandths is the unit of small lengths beside inches.
const inchThousandths = "thou"

// Thousandths names a thousandth of a unit.
func Thousandths(u spec.Unit) string {
	if u == spec.Inch {
		return "thousandths of an inch"
	}
	return "thousandths of a millimetre"
}

// thousandths is a field of lengths in mm, in thousandths of a unit.
func thousandths[T any](key string, u spec.Unit, f func(T) float64) field[T] {
	name := "um"
	if u == spec.Inch {
		name = inchThousandths
	}
	return number(key, name, func(r T) float64 { return 1000 * u.Of(f(r)) })
}
