package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/joint"
)

// templateFormats are the endings of the files that template writes.
var templateFormats = []string{".pdf", ".svg", ".dxf", ".stl", ".3mf"}

// templateFlags are the flags of template as they are typed.
type templateFlags struct {
	output, of        string
	clearance, cutter lengthFlag
	thickness         lengthFlag
	paper             paperFlag
}

func (p *program) templateVerb() *cobra.Command {
	var f templateFlags
	cmd := &cobra.Command{
		Use:   "template [SPEC.toml]",
		Short: "Templates for the pocket or mortise and the holes, at full size",
		Long: `Makes the template that a router follows to cut the pocket or the mortise for the
neck, and the plates for drilling the holes of the joint. The opening is the heel
or the tenon, let out by the clearance; its corners have the cutter's radius, and
what the cutter does not reach is said.

The ending of -o chooses the format: .pdf, .svg and .dxf at full size, .stl and .3mf
a plate to print or to rout from.`,
		Example: `  neckloft template my-neck.toml -o pocket.pdf
  neckloft template my-neck.toml --clearance 0.1 --cutter 1/2in -o pocket.dxf
  neckloft template my-neck.toml --of holes -o holes.stl`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error { return p.template(cmd.Flags(), &f, args) },
	}
	fl := cmd.Flags()
	fl.StringVarP(&f.output, "output", "o", "template.pdf", "file to write: "+strings.Join(templateFormats, ", "))
	writes(fl, "output")
	addChoice(fl, &f.of, "of", "", "one of them alone: pocket (or the mortise) or holes", "pocket", "holes")
	addLength(fl, &f.clearance, "clearance", "", "between neck and body on each side (default the spec's)")
	addLength(fl, &f.cutter, "cutter", "", "diameter of the bit (default the spec's)")
	addLength(fl, &f.thickness, "thickness", inMM(export.TemplateThickness), "of the plate in .stl and .3mf")
	addPaper(fl, &f.paper, "paper", "A4", "paper for .pdf: A4 or Letter, which is usual with inches")
	return cmd
}

func (p *program) template(given *pflag.FlagSet, f *templateFlags, args []string) error {
	format := strings.ToLower(filepath.Ext(f.output))
	switch {
	case !known(format, templateFormats):
		return wrong("-o %q: the file's ending gives its format; allowed: %s", f.output, strings.Join(templateFormats, ", "))
	case given.Changed("paper") && format != ".pdf":
		return wrong("--paper goes with a .pdf file")
	case given.Changed("thickness") && format != ".stl" && format != ".3mf":
		return wrong("--thickness goes with .stl and .3mf")
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	if n, err = f.fitted(given, n); err != nil {
		return err
	}
	list, err := f.list(n)
	if err != nil {
		return err
	}
	thickness, err := f.thickness.between(n.Spec().Units, 1, 50)
	if err != nil {
		return err
	}
	if format == ".stl" && len(list) > 1 {
		list = list[:1]
		fmt.Fprintf(p.err, "neckloft: %s holds the %s; the holes are --of holes, and all are in a .3mf\n", f.output, list[0].Name)
	}
	if err := p.write(f.output, func(w io.Writer) error {
		return writeTemplates(w, n, list, format, thickness, f.paper.on(given, n))
	}); err != nil {
		return err
	}
	for _, t := range list {
		for _, line := range t.Notes {
			fmt.Fprintf(p.err, "neckloft: %s: %s\n", t.Name, line)
		}
	}
	return nil
}

// fitted returns the neck with the clearance and the cutter that the flags give.
func (f *templateFlags) fitted(given *pflag.FlagSet, n *neck.Neck) (*neck.Neck, error) {
	if !given.Changed("clearance") && !given.Changed("cutter") {
		return n, nil
	}
	s := *n.Spec()
	j := joint.Of(&s)
	var err error
	if given.Changed("clearance") {
		if j.Clearance, err = f.clearance.between(s.Units, 0, 3); err != nil {
			return nil, err
		}
	}
	if given.Changed("cutter") {
		if j.Cutter, err = f.cutter.between(s.Units, 0.5, 60); err != nil {
			return nil, err
		}
	}
	s.Joint = &j
	return neck.New(&s)
}

// list returns the templates that are asked for.
func (f *templateFlags) list(n *neck.Neck) ([]joint.Template, error) {
	pocket, err := joint.Pocket(n)
	holes := joint.Drill(n)
	switch {
	case f.of == "pocket" && err != nil, len(holes) == 0 && err != nil && f.of == "":
		return nil, usageError{err}
	case f.of == "holes" && len(holes) == 0:
		return nil, wrong("--of holes: the spec gives no bolts and no inserts")
	case f.of == "pocket":
		return []joint.Template{pocket}, nil
	case f.of == "holes":
		return holes, nil
	}
	return export.Templates(n), nil
}

func writeTemplates(w io.Writer, n *neck.Neck, list []joint.Template, format string, thickness float64, paper export.Paper) error {
	name := n.Spec().Name
	switch format {
	case ".stl":
		m, err := export.TemplateSolid(list[0], thickness)
		if err != nil {
			return err
		}
		return export.WriteSTL(w, m, export.STLOptions{Name: name + ", " + list[0].Name})
	case ".3mf":
		var objects []export.Object
		for _, t := range list {
			m, err := export.TemplateSolid(t, thickness)
			if err != nil {
				return err
			}
			objects = append(objects, export.Object{Name: t.Name, Mesh: m})
		}
		return export.Write3MF(w, objects, export.Metadata{Title: name + ", templates", SpecHash: n.Spec().Hash()})
	}
	var sheets []export.Sheet
	for _, t := range list {
		sheets = append(sheets, export.TemplateSheet(t, name))
	}
	title := name + ", templates"
	switch format {
	case ".pdf":
		return export.WriteSheetPDF(w, title, sheets, paper)
	case ".dxf":
		return export.WriteDXF(w, export.Stack(title, sheets))
	}
	return export.WriteSVG(w, export.Stack(title, sheets))
}
