package bench

import (
	"io"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
	"neckloft/render"
)

// planFiles is how the names of the carving plan's files begin.
const planFiles = "plan."

// kind is one kind of product.
type kind struct {
	file  string
	what  string
	write func(w io.Writer, j *job) error
	when  func(n *neck.Neck) bool // whether the spec gives cause for it; nil for always
}

// kinds are all that there is, in the order of the index. PAPER in their words
// stands for the name of the paper.
var kinds = []kind{
	{"preview.png", "The neck's back, side and sections, with its main dimensions.", writePreview, nil},
	{"stations.csv", "Widths, thicknesses, cover and depths at every fret, for a spreadsheet or a note on the wall.", writeStations, nil},
	{"neck.stl", "The wood of the neck with the rod channel cut, in millimetres, for a viewer, a slicer or a mill.", writeSTL, nil},
	{"neck.3mf", "Wood and board as two named objects in one file, with their unit.", write3MF, nil},
	{"gauges.stl", "Carving gauges for frets 1, 3, 5, 7, 9 and 12, labelled, to print flat in one go.", writeGauges, nil},
	{"gauges.pdf", "The same gauges on PAPER at full size, to glue to card or plywood. Print at 100 % and measure the bars.", writeGaugePages, nil},
	{"sheets.pdf", "Side view and top view of the whole neck on PAPER at full size, in overlapping sheets. Print at 100 % and measure the bars.", writeSheets, nil},
	{"board.pdf", "The fretboard on PAPER at full size: outline and the middles of the slots, to mark or glue on. Print at 100 % and measure the bars.", writeBoardSheet, fretboard.Cut},
	{"board.csv", "The frets' places from the nut, in mm and inches, the lengths of slots and wire, what a slot that is off does to the pitch.", writeBoardTable, fretboard.Cut},
	{"board.stl", "The fretboard with all that is cut into it, in millimetres, for a viewer, a slicer or a mill.", writeBoardSTL, fretboard.Cut},
	{"headstock.pdf", "The drilling sheet of the headstock on PAPER, true to size in the plane of its face, with its list of places. Print at 100 % and measure the bars and both check lines.", writeHead, export.HeadDrawn},
	{"headstock.dxf", "The same sheet for a cutter: outline, slots and holes on the layer CUT, lines on the layer MARK, in millimetres.", writeHeadDXF, export.HeadDrawn},
	{"sticks.pdf", "What wood to buy, what to cut from it and how to glue it up, drawn and in words, on PAPER.", writeSticks, gluedUp},
	{"sticks.csv", "The same sticks and pieces as a table, for a spreadsheet or the timber yard.", writeSticksTable, gluedUp},
	{"template.pdf", "Templates for the pocket or mortise and the holes of the joint on PAPER at full size. Print at 100 % and measure the bars.", writeTemplates, jointed},
	{"template.3mf", "The same templates as plates, to print or to rout from.", writeTemplatePlates, jointed},
	{"plan.pdf", "The carving plan for the wall: the order of work with what to set, then the steps in full, the neck with its stops, tables.", writePlan, nil},
	{"plan.csv", "The plan's stations: depth of the flat back, what to take off, bit heights, ridge, wood remaining, cover at every stage.", writePlanTable, nil},
	{"plan.json", "The same plan as numbers: settings, stop marks, stations, flats and their lines along the neck, bits compared.", writePlanData, nil},
}

// job is what the products of one neck have in common.
type job struct {
	n     *neck.Neck
	wood  func() (*mesh.Mesh, error) // the wood at the default tolerance
	board func() (*mesh.Mesh, error)

	gauges func() ([]export.Piece, error) // the default ones
	plan   *carve.Plan                    // nil where there is none, and then none of its files
}

// unit returns the unit that tables are printed in.
func (j *job) unit() spec.Unit { return j.n.Spec().PrintUnit() }

// PreviewWidth is how wide the preview is drawn, in pixels. Programs that draw
// many previews without looking at them may set it before the first.
var PreviewWidth = render.DefaultWidth

func writePreview(w io.Writer, j *job) error {
	img, err := render.Preview(j.n, render.Options{Width: PreviewWidth})
	if err != nil {
		return err
	}
	return render.WritePNG(w, img)
}

func writeStations(w io.Writer, j *job) error {
	rows, err := j.n.Stations(FretsOnTheWood(j.n))
	if err != nil {
		return err
	}
	return export.StationTable(rows, j.n.Spec().Hand, false).Write(w, "csv", j.unit())
}

// FretsOnTheWood returns the nut and the frets that have wood under them: a
// heel that ends before the board leaves none at the last frets.
func FretsOnTheWood(n *neck.Neck) []spec.Place {
	var on []spec.Place
	for _, p := range n.Spec().FretPlaces() {
		if n.Spec().X(p) <= n.End() {
			on = append(on, p)
		}
	}
	return on
}

func writeSTL(w io.Writer, j *job) error {
	m, err := j.wood()
	if err != nil {
		return err
	}
	return export.WriteSTL(w, m, export.STLOptions{Name: j.n.Spec().Name})
}

func write3MF(w io.Writer, j *job) error {
	wood, err := j.wood()
	if err != nil {
		return err
	}
	board, err := j.board()
	if err != nil {
		return err
	}
	s := j.n.Spec()
	return export.Write3MF(w, []export.Object{
		{Name: s.Name + ", wood", Mesh: wood},
		{Name: s.Name + ", board", Mesh: board},
	}, export.Metadata{Title: s.Name, SpecHash: s.Hash()})
}

// writeGauges writes the default gauges on one bed.
func writeGauges(w io.Writer, j *job) error {
	pieces, err := j.gauges()
	if err != nil {
		return err
	}
	plate, err := export.BedFor(j.n.Spec()).LayOnOne(pieces)
	if err != nil {
		return err
	}
	m, err := plate.Solid()
	if err != nil {
		return err
	}
	return export.WriteSTL(w, m, export.STLOptions{Name: j.n.Spec().Name + ", gauges"})
}

// writeGaugePages writes the same gauges on paper.
func writeGaugePages(w io.Writer, j *job) error {
	pieces, err := j.gauges()
	if err != nil {
		return err
	}
	return export.WriteGaugePDF(w, j.n.Spec().Name+", gauges", pieces, export.PaperFor(j.n.Spec()))
}

// writeSheets writes the full-size sheets of the neck on paper, with the lines of
// the flats that are cut by hand.
func writeSheets(w io.Writer, j *job) error {
	sheets, err := j.fullSize()
	if err != nil {
		return err
	}
	return export.WriteSheetPDF(w, j.n.Spec().Name+", full-size sheets", sheets, export.PaperFor(j.n.Spec()))
}

// writeHead writes the drilling sheet of the headstock on paper, and writeHeadDXF
// for a cutter.
func writeHead(w io.Writer, j *job) error {
	sheets, err := export.HeadSheets(j.n)
	if err != nil {
		return err
	}
	return export.WriteSheetPDF(w, j.n.Spec().Name+", headstock", sheets, export.PaperFor(j.n.Spec()))
}

func writeHeadDXF(w io.Writer, j *job) error {
	sheets, err := export.HeadSheets(j.n)
	if err != nil {
		return err
	}
	return export.WriteDXF(w, export.Stack(j.n.Spec().Name+", headstock", sheets))
}

func writePlan(w io.Writer, j *job) error {
	return render.WritePlanPDF(w, j.plan, export.PaperFor(j.n.Spec()))
}

func writePlanTable(w io.Writer, j *job) error {
	return export.PlanStationTable(j.plan).Write(w, "csv", j.unit())
}

func writePlanData(w io.Writer, j *job) error {
	return export.WritePlanJSON(w, j.plan, j.unit())
}
