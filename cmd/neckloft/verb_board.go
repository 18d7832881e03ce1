package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/render"
)

// boardFlags are what the verb board is asked for.
type boardFlags struct {
	table    tableFlags
	what     string
	stick    lengthFlag
	pin      lengthFlag
	bed      bedFlag
	paper    paperFlag
	graph    string
	at       stationsFlag
	abrasive lengthFlag
}

// boardTables and boardFiles are what the verb writes: the first as tables, the
// others as files whose ending gives their format.
var (
	boardTables = []string{"frets", "wire", "markers", "action", "glue"}
	boardFiles  = map[string][]string{
		"sheet":    {".pdf", ".svg", ".dxf"},
		"template": {".pdf", ".svg", ".dxf", ".stl", ".3mf"},
		"nut":      {".pdf", ".svg", ".dxf"},
		"radius":   {".pdf", ".svg", ".dxf", ".stl", ".3mf"},
		"block":    {".stl", ".3mf"},
	}
)

func (p *program) boardVerb() *cobra.Command {
	var f boardFlags
	cmd := &cobra.Command{
		Use:   "board [SPEC.toml]",
		Short: "The fretboard: fret places, wire, slotting sheet and template",
		Long: `Prints the places of the frets from the nut, with the lengths of slots and
wire; or with --what the list to cut and order wire by, the markers to drill and
rout, the clearance of the strings over the frets. With -o FILE it writes the
board at full size to mark its slots by (sheet), a strip with notches for the pin
of a mitre box (template), or the nut with its slots (nut).`,
		Example: `  neckloft board my-neck.toml
  neckloft board my-neck.toml --what wire --stick 300mm
  neckloft board my-neck.toml --what sheet -o board.pdf
  neckloft board my-neck.toml --what template -o slots.dxf`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if err := f.check(cmd.Flags()); err != nil {
				return err
			}
			n, err := p.readNeck(args)
			if err != nil {
				return err
			}
			return p.board(cmd.Flags(), &f, fretboard.New(n))
		},
	}
	fl := cmd.Flags()
	addChoice(fl, &f.what, "what", "frets", "tables: frets, wire, markers, action, glue; files: sheet, template, nut, radius, block",
		"frets", "wire", "markers", "action", "glue", "sheet", "template", "nut", "radius", "block")
	addPicture(fl, &f.graph, "graph", "also draw the clearances of --what action as this PNG")
	addLength(fl, &f.stick, "stick", "600mm", "straight length that wire is sold in, for --what wire")
	addLength(fl, &f.pin, "pin", "2mm", "diameter of the pin in the mitre box, for --what template")
	addBed(fl, &f.bed, "bed", "220x220", "what pieces and blocks have to fit, a bare size in mm; a template without it is one piece")
	addStations(fl, &f.at, "at", "1,12", "where radius gauges stand, frets or x=120mm")
	addLength(fl, &f.abrasive, "abrasive", "0mm", "thickness of the paper on a sanding block")
	addPaper(fl, &f.paper, "paper", "A4", "A4 or Letter; without it that of the spec's tools, Letter with inches")
	f.table.add(cmd)
	return cmd
}

// check judges the flags that belong together.
func (f *boardFlags) check(given *pflag.FlagSet) error {
	endings, file := boardFiles[f.what]
	format := strings.ToLower(filepath.Ext(f.table.output))
	if file && !known(format, endings) {
		return wrong("--what %s writes a file: give -o with one of %s", f.what, strings.Join(endings, ", "))
	}
	for name, what := range map[string]string{"stick": "wire", "pin": "template", "graph": "action", "at": "radius", "abrasive": "block"} {
		if given.Changed(name) && f.what != what {
			return wrong("--%s goes with --what %s", name, what)
		}
	}
	if given.Changed("bed") && f.what != "template" && f.what != "radius" && f.what != "block" {
		return wrong("--bed goes with --what template, --what radius and --what block")
	}
	if given.Changed("paper") && !known(f.what, []string{"sheet", "nut", "radius", "template"}) {
		return wrong("--paper goes with --what sheet, nut, radius and template")
	}
	if file && given.Changed("format") {
		return wrong("--format goes with --what %s; a file's ending gives its format", strings.Join(boardTables, " and "))
	}
	return nil
}

// board writes what is asked for.
func (p *program) board(given *pflag.FlagSet, f *boardFlags, b *fretboard.Board) error {
	n := b.Neck()
	usual := n.Spec().PrintUnit()
	switch f.what {
	case "sheet":
		return p.boardSheet(given, f, b, export.BoardSheet(b), "the board at full size, "+plural(len(b.Frets), "fret"))
	case "nut":
		sheet, err := export.NutSheet(b)
		if err != nil {
			return usageError{err}
		}
		return p.boardSheet(given, f, b, sheet, "the nut at full size")
	case "glue":
		t, err := export.GlueTable(b)
		if err != nil {
			return usageError{err}
		}
		return p.writeTable(t, f.table, usual)
	case "radius":
		return p.radiusGauges(given, f, b)
	case "block":
		return p.blocks(given, f, b)
	case "action":
		return p.action(f, b)
	case "template":
		return p.slotTemplate(given, f, b)
	case "markers":
		return p.writeTable(export.MarkerTable(b), f.table, usual)
	case "wire":
		stick, err := f.stick.between(n.Spec().Units, 20, 10000)
		if err != nil {
			return err
		}
		t, err := export.WireTable(b, stick)
		if err != nil {
			return wrong("--stick: %w", err)
		}
		return p.writeTable(t, f.table, usual)
	}
	return p.writeTable(export.FretTable(b, f.table.format == "text"), f.table, usual)
}

// action writes the table of clearances, and their graph.
func (p *program) action(f *boardFlags, b *fretboard.Board) error {
	t, err := export.ActionTable(b)
	if err != nil {
		return usageError{err}
	}
	if f.graph != "" {
		img, err := render.Action(b, render.DefaultWidth)
		if err != nil {
			return err
		}
		if err := p.write(f.graph, func(w io.Writer) error { return render.WritePNG(w, img) }); err != nil {
			return err
		}
		fmt.Fprintf(p.err, "neckloft: %s: the clearance of each string over each fret\n", f.graph)
	}
	return p.writeTable(t, f.table, b.Neck().Spec().PrintUnit())
}

// boardSheet writes a sheet of the board at full size, and says what it is.
func (p *program) boardSheet(given *pflag.FlagSet, f *boardFlags, b *fretboard.Board, sheet export.Sheet, what string) error {
	title := sheet.Title
	err := p.write(f.table.output, func(w io.Writer) error {
		switch strings.ToLower(filepath.Ext(f.table.output)) {
		case ".pdf":
			return export.WriteSheetPDF(w, title, []export.Sheet{sheet}, f.paper.on(given, b.Neck()))
		case ".dxf":
			return export.WriteDXF(w, export.Stack(title, []export.Sheet{sheet}))
		}
		return export.WriteSVG(w, export.Stack(title, []export.Sheet{sheet}))
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(p.err, "neckloft: %s: %s\n", f.table.output, what)
	return nil
}

// radiusGauges writes gauges of the crown.
func (p *program) radiusGauges(given *pflag.FlagSet, f *boardFlags, b *fretboard.Board) error {
	n := b.Neck()
	places, err := f.at.places(n)
	if err != nil {
		return err
	}
	pieces, err := export.RadiusGauges(b, places)
	if err != nil {
		return usageError{err}
	}
	plate, err := f.bedOf(given, n).LayOnOne(pieces)
	if err != nil {
		return err
	}
	format := strings.ToLower(filepath.Ext(f.table.output))
	paper := f.paper.on(given, n)
	if err := p.write(f.table.output, func(w io.Writer) error { return writeFlat(w, n, plate, format, "radius gauges", paper) }); err != nil {
		return err
	}
	fmt.Fprintf(p.err, "neckloft: %s: %s\n", f.table.output, plural(len(pieces), "radius gauge"))
	return nil
}

// bedOf returns the bed that was asked for, or that of the spec's tools.
func (f *boardFlags) bedOf(given *pflag.FlagSet, n *neck.Neck) export.Bed {
	bed := export.BedFor(n.Spec())
	if given.Changed("bed") {
		bed.Width, bed.Depth = f.bed.width, f.bed.depth
	}
	return bed
}

// blocks writes sanding blocks, as long as the bed is.
func (p *program) blocks(given *pflag.FlagSet, f *boardFlags, b *fretboard.Board) error {
	n := b.Neck()
	o := fretboard.DefaultBlock()
	var err error
	if o.Abrasive, err = f.abrasive.between(n.Spec().Units, 0, 5); err != nil {
		return err
	}
	bed := f.bedOf(given, n)
	o.Longest = min(o.Longest, max(bed.Width, bed.Depth)-2*bed.Edge)
	blocks, err := b.Blocks(o, 0.01)
	if err != nil {
		return usageError{err}
	}
	u := n.Spec().PrintUnit()
	var objects []export.Object
	all := &mesh.Mesh{}
	y := 0.0
	for _, k := range blocks {
		_, hi := k.Mesh.Bounds()
		k.Mesh.Translate(mesh.Vec{Y: y + hi.Y})
		k.Mesh.RoundFloat32()
		y += 2*hi.Y + bed.Spacing
		objects = append(objects, export.Object{Name: "sanding block, x = " + u.Rounded(k.From) + " to " + u.Rounded(k.To), Mesh: k.Mesh})
		all.Append(k.Mesh)
	}
	title := n.Spec().Name + ", sanding blocks"
	err = p.write(f.table.output, func(w io.Writer) error {
		if strings.ToLower(filepath.Ext(f.table.output)) == ".3mf" {
			return export.Write3MF(w, objects, export.Metadata{Title: title, SpecHash: n.Spec().Hash()})
		}
		return export.WriteSTL(w, all, export.STLOptions{Name: title})
	})
	if err != nil {
		return err
	}
	for _, o := range objects {
		fmt.Fprintf(p.err, "neckloft: %s: %s\n", f.table.output, o.Name)
	}
	if len(blocks) > 1 {
		fmt.Fprintf(p.err, "neckloft: the radius changes along the board: each block is true in its own place only\n")
	}
	return nil
}

// slotTemplate writes the notched strip.
func (p *program) slotTemplate(given *pflag.FlagSet, f *boardFlags, b *fretboard.Board) error {
	n := b.Neck()
	o := export.DefaultSlotTemplate()
	var err error
	if o.Pin, err = f.pin.between(n.Spec().Units, 0.5, 6); err != nil {
		return err
	}
	bed := f.bedOf(given, n)
	if given.Changed("bed") {
		o.Longest = bed.Width - 2*bed.Edge
	}
	pieces, err := export.SlotTemplatePieces(b, o)
	if err != nil {
		return usageError{err}
	}
	plate := export.Alone(pieces[:1])[0]
	if len(pieces) > 1 {
		if plate, err = bed.LayOnOne(pieces); err != nil {
			return err
		}
	}
	format := strings.ToLower(filepath.Ext(f.table.output))
	paper := f.paper.on(given, n)
	if err := p.write(f.table.output, func(w io.Writer) error { return writeFlat(w, n, plate, format, "slotting template", paper) }); err != nil {
		return err
	}
	fmt.Fprintf(p.err, "neckloft: %s: a slotting template in %s\n", f.table.output, plural(len(pieces), "piece"))
	return nil
}

// writeFlat writes a plate of flat pieces under a name; in a PDF they are laid anew,
// for the pages.
func writeFlat(w io.Writer, n *neck.Neck, plate export.Plate, format, name string, paper export.Paper) error {
	title := n.Spec().Name + ", " + name
	switch format {
	case ".pdf":
		return export.WritePiecesPDF(w, title, plate.Pieces, paper)
	case ".svg":
		return export.WriteSVG(w, plate.Sheet(title))
	case ".dxf":
		return export.WriteDXF(w, plate.Sheet(title))
	case ".3mf":
		objects, err := plate.Objects()
		if err != nil {
			return err
		}
		return export.Write3MF(w, objects, export.Metadata{Title: title, SpecHash: n.Spec().Hash()})
	}
	m, err := plate.Solid()
	if err != nil {
		return err
	}
	return export.WriteSTL(w, m, export.STLOptions{Name: title})
}
