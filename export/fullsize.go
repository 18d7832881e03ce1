package export

import (
	"unicode/utf8"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/gauge"
)

// Sizes of the drawing of a full-size sheet, in mm.
const (
	fullSizeText = 2.6 // height of its labels
	fullSizeEdge = 8.0 // room around it
)

// fullSizeSheet returns a view of a neck as a sheet: its outline to cut, and
// lines and names to mark.
func fullSizeSheet(t gauge.Sheet, title string) Sheet {
	return fullSize(title, t.Note, SheetCut{Name: t.Name, Region: mesh.Region{Outer: t.Outline, Holes: t.Holes}}, t.Marks, t.Labels)
}

// fullSize lays one area to cut, with its marks and labels, on a sheet that is
// as large as they need.
func fullSize(title, note string, cut SheetCut, marks []gauge.Mark, labels []gauge.Label) Sheet {
	s := Sheet{Title: title + ", " + cut.Name, Note: note}
	if len(cut.Region.Outer) > 0 { // a list of words has nothing to cut
		s.Cuts = []SheetCut{cut}
	}
	for _, m := range marks {
		s.Marks = append(s.Marks, SheetLine{Points: m.Points, Dashed: m.Dashed})
	}
	for _, l := range labels {
		s.Texts = append(s.Texts, SheetText{l.At, l.Text, fullSizeText})
	}
	lo, hi := s.bounds()
	for _, l := range labels {
		half := letterWidth * fullSizeText * float64(utf8.RuneCountInString(l.Text)) / 2
		lo.X, hi.X = min(lo.X, l.At.X-half), max(hi.X, l.At.X+half)
		lo.Y = min(lo.Y, l.At.Y-fullSizeText)
		hi.Y = max(hi.Y, l.At.Y+fullSizeText)
	}
	edge := mesh.Vec2{X: fullSizeEdge, Y: fullSizeEdge}
	s.Move(edge.Sub(lo))
	size := hi.Sub(lo).Add(edge.Scale(2))
	s.Width, s.Height = size.X, size.Y
	return s
}

// FullSizeSheets returns the full-size sheets of a neck: side view and top view.
func FullSizeSheets(n *neck.Neck) []Sheet {
	name := n.Spec().Name
	return []Sheet{fullSizeSheet(gauge.SideView(n), name), fullSizeSheet(gauge.TopView(n), name)}
}

// HeadSheets returns the drilling sheet of the headstock, in the plane of its
// face, and the list of its places. It is an error if the neck has no headstock.
func HeadSheets(n *neck.Neck) ([]Sheet, error) {
	views, err := gauge.HeadViews(n)
	var out []Sheet
	for _, v := range views {
		out = append(out, fullSizeSheet(v, n.Spec().Name))
	}
	return out, err
}

// MarkedSheets returns the full-size sheets of a neck with the pencil lines of
// flats on them.
func MarkedSheets(f *carve.Flats) []Sheet {
	n := f.Neck()
	name := n.Spec().Name
	side, top := gauge.SideView(n), gauge.TopView(n)
	f.MarkSideView(&side)
	f.MarkTopView(&top)
	return []Sheet{fullSizeSheet(side, name), fullSizeSheet(top, name)}
}

// noteRow is the room for a line of a sheet's note under it, in mm.
const noteRow = 4.6

// letterWidth is the width of a letter, by its height, that is reckoned with:
// more than a text takes.
const letterWidth = 0.8

// noteLines breaks a sheet's note into lines that fit under it.
func noteLines(s Sheet) []string {
	letters := int((s.Width - 2*fullSizeEdge) / (letterWidth * fullSizeText))
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
			out.Texts = append(out.Texts, SheetText{mesh.Vec2{X: s.Width / 2, Y: y + noteRow/2}, line, fullSizeText})
		}
	}
	return out
}
