package export

import (
	"fmt"
	"math"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/joint"
)

// TemplateSheet returns a template of the joint as a sheet at full size.
func TemplateSheet(t joint.Template, title string) Sheet {
	return fullSize(title, strings.Join(t.Notes, " "), SheetCut{Name: t.Name, Region: t.Region}, t.Marks, t.Labels)
}

// TemplateThickness is how thick a template is where nothing is said of it, in mm.
const TemplateThickness = 12.0

// TemplateSolid returns a template as a plate so thick, to print or to mill.
func TemplateSolid(t joint.Template, thickness float64) (*mesh.Mesh, error) {
	m, err := mesh.Extrude(t.Region, 0, thickness)
	if err != nil {
		return nil, fmt.Errorf("the template %s: %w", t.Name, err)
	}
	return m, m.Validate()
}

// Templates returns all templates of a neck's joint: for the pocket or mortise
// first, then for the holes; none where the spec asks for none.
func Templates(n *neck.Neck) []joint.Template {
	var out []joint.Template
	if t, err := joint.Pocket(n); err == nil {
		out = append(out, t)
	}
	return append(out, joint.Drill(n)...)
}

// AngleTable returns a table of neck angles, one row for each of the heights. The
// words for the first stand under it.
func AngleTable(n *neck.Neck, rows []joint.Heights) *Table {
	type row = *joint.Heights
	fields := []field[row]{
		length("gap", func(h row) float64 { return h.Gap }),
		length("rise", func(h row) float64 { return h.Rise() }),
		length("length", func(h row) float64 { return h.Length() }),
		number("angle", "deg", func(h row) float64 { return h.Angle() * 180 / math.Pi }),
	}
	set := func(h row) joint.Setting { return joint.SettingOf(n, h.Angle()) }
	switch s := n.Spec(); {
	case joint.InPocket(s):
		fields = append(fields, length("shim", func(h row) float64 { return math.Copysign(set(h).Wedge, h.Angle()) }))
	case s.Heel != nil && !s.Heel.Through():
		fields = append(fields, length("cut", func(h row) float64 { return set(h).Cut }))
	}
	return tableOf(fields, pointers(rows))
}
