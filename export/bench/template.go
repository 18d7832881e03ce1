package bench

import (
	"errors"
	"io"

	"neckloft/export"
	"neckloft/neck"
)

// jointed reports whether a spec says anything of a joint that templates can be
// made of: [joint], or bolts.
func jointed(n *neck.Neck) bool {
	s := n.Spec()
	return s.Heel != nil && (s.Joint != nil || len(s.Heel.Bolts) > 0) && len(export.Templates(n)) > 0
}

// writeTemplates writes the templates of the joint on paper.
func writeTemplates(w io.Writer, j *job) error {
	sheets, title := templateSheets(j.n)
	return export.WriteSheetPDF(w, title, sheets, export.PaperFor(j.n.Spec()))
}

// writeTemplatePlates writes them as plates.
func writeTemplatePlates(w io.Writer, j *job) error {
	s := j.n.Spec()
	var objects []export.Object
	for _, t := range export.Templates(j.n) {
		m, err := export.TemplateSolid(t, export.TemplateThickness)
		if err != nil {
			return err
		}
		objects = append(objects, export.Object{Name: t.Name, Mesh: m})
	}
	if len(objects) == 0 {
		return errors.New("the joint has no template")
	}
	return export.Write3MF(w, objects, export.Metadata{Title: s.Name + ", templates", SpecHash: s.Hash()})
}

func templateSheets(n *neck.Neck) (sheets []export.Sheet, title string) {
	name := n.Spec().Name
	for _, t := range export.Templates(n) {
		sheets = append(sheets, export.TemplateSheet(t, name))
	}
	return sheets, name + ", templates"
}
