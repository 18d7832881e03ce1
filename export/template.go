package export

import (
	"neckloft/mesh"
	"neckloft/neck"
)

// Sizes of the drawing of a template, in mm.
const (
	templateText = 2.6 // height of its labels
	templateEdge = 8.0 // room around it
)

// TemplateSheet returns a template as a sheet: its outline to cut, and lines and
// names to mark.
func TemplateSheet(t neck.Template, title string) Sheet {
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
	return []Sheet{TemplateSheet(n.SideTemplate(), name), TemplateSheet(n.PlanTemplate(), name)}
}

// MarkedTemplates returns the sheets of both full-length templates with the
// pencil lines of the plan's flats on them.
func MarkedTemplates(p *neck.Plan) []Sheet {
	name := p.Neck.Spec().Name
	side, plan := p.Neck.SideTemplate(), p.Neck.PlanTemplate()
	p.MarkSide(&side)
	p.MarkPlan(&plan)
	return []Sheet{TemplateSheet(side, name), TemplateSheet(plan, name)}
}

// noteRow is the room for a sheet's note under it, in mm.
const noteRow = 6.0

// Stack returns one sheet with all of the sheets, the first at the top, and
// under each its note.
func Stack(title string, sheets []Sheet) Sheet {
	out := Sheet{Title: title}
	for _, s := range sheets {
		out.Width = max(out.Width, s.Width)
		out.Height += s.Height
		if s.Note != "" {
			out.Height += noteRow
		}
	}
	y := out.Height
	for _, s := range sheets {
		y -= s.Height
		s = s.clone()
		s.Move(mesh.Vec2{Y: y})
		out.Cuts = append(out.Cuts, s.Cuts...)
		out.Marks = append(out.Marks, s.Marks...)
		out.Texts = append(out.Texts, s.Texts...)
		if s.Note == "" {
			continue
		}
		// Letters are less wide than tall; a short sheet has small ones.
		width := s.Width - 2*templateEdge
		y -= noteRow
		out.Texts = append(out.Texts, SheetText{mesh.Vec2{X: templateEdge + width/2, Y: y + noteRow/2}, s.Note,
			min(templateText, width/(0.8*float64(len(s.Note))))})
	}
	return out
}
