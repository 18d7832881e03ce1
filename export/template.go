package export

import (
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/gauge"
)

// Sizes of the drawing of a template, in mm.
const (
	templateText = 2.6 // height of its labels
	templateEdge = 8.0 // room around it
)

// TemplateSheet returns a template as a sheet: its outline to cut, and lines and
// names to mark.
func TemplateSheet(t gauge.Sheet, title string) Sheet {
	s := Sheet{Title: title + ", " + t.Name, Note: t.Note}
	s.Cuts = []SheetCut{{t.Name, mesh.Region{Outer: t.Outline}}}
	for _, m := range t.Marks {
		s.Marks = append(s.Marks, SheetLine{m.Points, m.Dashed})
	}
	for _, l := range t.Labels {
		s.Texts = append(s.Texts, SheetText{l.At, l.Text, templateText})
	}
	lo, hi := s.bounds()
	for _, l := range t.Labels {
		half := letterWidth * templateText * float64(len(l.Text)) / 2
		lo.X, hi.X = min(lo.X, l.At.X-half), max(hi.X, l.At.X+half)
		lo.Y = min(lo.Y, l.At.Y-templateText)
		hi.Y = max(hi.Y, l.At.Y+templateText)
	}
	edge := mesh.Vec2{X: templateEdge, Y: templateEdge}
	s.Move(edge.Sub(lo))
	size := hi.Sub(lo).Add(edge.Scale(2))
	s.Width, s.Height = size.X, size.Y
	return s
}

// Templates returns the sheets of both full-length templates.
func Templates(n *neck.Neck) []Sheet {
	name := n.Spec().Name
	return []Sheet{TemplateSheet(gauge.SideView(n), name), TemplateSheet(gauge.TopView(n), name)}
}

// MarkedTemplates returns the sheets of both full-length templates with the
// pencil lines of flats on them.
func MarkedTemplates(f *carve.Flats) []Sheet {
	n := f.Neck()
	name := n.Spec().Name
	side, top := gauge.SideView(n), gauge.TopView(n)
	f.MarkSideView(&side)
	f.MarkTopView(&top)
	return []Sheet{TemplateSheet(side, name), TemplateSheet(top, name)}
}

// noteRow is the room for a line of a sheet's note under it, in mm.
const noteRow = 4.6

// letterWidth is the width of a letter, by its height, that is reckoned with:
// more than a text takes.
const letterWidth = 0.8

// noteLines breaks a sheet's note into lines that fit under it.
func noteLines(s Sheet) []string {
	letters := int((s.Width - 2*templateEdge) / (letterWidth * templateText))
	return InLines(s.Note, letters)
}

// Stack returns one sheet with all of the sheets, the first at the top, and
// under each its note.
func Stack(title string, sheets []Sheet) Sheet {
	out := Sheet{Title: title}
	for _, s := range sheets {
		out.Width = max(out.Width, s.Width)
		out.Height += s.Height
		out.Height += noteRow * float64(len(noteLines(s)))
	}
	y := out.Height
	for _, s := range sheets {
		y -= s.Height
		s = s.clone()
		s.Move(mesh.Vec2{Y: y})
		out.Cuts = append(out.Cuts, s.Cuts...)
		out.Marks = append(out.Marks, s.Marks...)
		out.Texts = append(out.Texts, s.Texts...)
		for _, line := range noteLines(s) {
			y -= noteRow
			out.Texts = append(out.Texts, SheetText{mesh.Vec2{X: s.Width / 2, Y: y + noteRow/2}, line, templateText})
		}
	}
	return out
}
