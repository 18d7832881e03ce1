package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render"
)

// planFlags are the flags of plan as they are typed.
type planFlags struct {
	table                              tableFlags
	which, paper, pdf, at, every       string
	stock, allowance, step, height     string
	radius, bearing, diameter          string
	bearingHeight, straight, base      string
	guide, template, reference         string
	span, offset                       string
	unsupported, thickness, plateWidth string
	modulus, mass, handRate            string
	feed, carries, species, pairs      string
	bits                               bool
	modes                              modeFlags
}

func (p *program) planVerb() *cobra.Command {
	var f planFlags
	cmd := &cobra.Command{
		Use:   "plan [SPEC.toml]",
		Short: "The carving plan: taper, round-over, stop marks, flats",
		Long: `Works out the way from the squared blank to the round back: the flat that the back
is tapered to and what to set on a sled for it, the height of a round-over bit
and its passes, where the bit has to stop, the pencil lines for carving by flats,
and what remains for hand tools at every station.

The bit's height is where the end of its quarter circle stands, just over the
bearing: with --reference back how far it stands out of a base plate that lies on
the flat back, with --reference glue how far it stands above the glue plane, with
a template too. Everything printed counts from that one plane, and so does --height.

The ending of -o chooses pages to print: .pdf, or .png for a picture of the first;
.csv, .json and .txt are written as such. Otherwise the plan is printed as --format
says; csv holds one table, --table. With --pdf the pages are written besides.

A stage that would leave less wood over the rod channel than [limits] cover is
refused: the plan names it and the station, prints no settings for it, writes no
pages, and the exit code is 1.`,
		Example: `  neckloft plan my-neck.toml --bit-radius 1/2in
  neckloft plan my-neck.toml --bits
  neckloft plan my-neck.toml --bit-radius 19mm --guide template --template 12mm -o plan.pdf
  neckloft plan my-neck.toml --format csv --table flats --at 1,3,5,7
  neckloft plan my-neck.toml --pdf plan.pdf --paper letter --in`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error { return p.plan(cmd.Flags(), &f, args) },
	}
	f.add(cmd)
	p.renameFlags(cmd, map[string]string{"leave": "allowance", "facets": "pairs", "shoulder": "straight"})
	return cmd
}

// add adds the flags to the verb, in groups.
func (f *planFlags) add(cmd *cobra.Command) {
	fl := cmd.Flags()
	o := carve.DefaultOptions(spec.Millimetre)
	fl.StringVar(&f.stock, "stock-depth", "", "present depth of the wood below the glue plane; without it the [blank]'s thickness")
	fl.StringVar(&f.allowance, "allowance", inMM(o.Allowance), "wood that router and flats leave over the finished back")
	fl.StringVar(&f.pairs, "pairs", strconv.Itoa(o.Pairs), "pairs of flats for carving by hand, 1 to 3")
	f.addRouter(fl, o.Router)
	f.addSled(fl, o.Sled)
	f.modes.add(fl)
	fl.StringVar(&f.feed, "feed", "", "your feed of the router a minute, such as 1500mm, for an estimate of time")
	fl.StringVar(&f.handRate, "hand-rate", "", "wood you take off by hand in cm3 a minute, for an estimate of time")
	fl.StringVar(&f.at, "at", "", "stations, such as 1,5,12 or x=120mm; without it both ends of the run and every fret")
	fl.StringVar(&f.every, "every", "", "a station every so far from the nut, such as 25mm or 1-1/2in")
	fl.BoolVar(&f.bits, "bits", false, "compare the bits you have, or the common ones, in a table")
	fl.StringVar(&f.which, "table", "", "one table alone: "+strings.Join(export.PlanTables(), ", "))
	fl.StringVar(&f.species, "species", "", "wood for the masses, such as \"black walnut\"; without it that of the spec")
	fl.StringVar(&f.pdf, "pdf", "", "write the pages to this file too")
	writes(fl, "pdf")
	fl.StringVar(&f.paper, "paper", "A4", "paper for the pages: A4 or Letter, which is usual with inches")
	f.table.add(cmd)
}

// addRouter adds the flags of the router, its bit and what guides it.
func (f *planFlags) addRouter(fl *pflag.FlagSet, r carve.Router) {
	fl.StringVar(&f.radius, "bit-radius", "", "radius of the round-over bit, such as 12.7mm or 1/2in; without it the one that leaves least, of the bits you have or the common sizes")
	fl.StringVar(&f.bearing, "bearing", "0mm", "how far the bearing holds the arc's end off the guide, outward")
	fl.StringVar(&f.diameter, "bit-diameter", "", "largest diameter of the bit; without it twice the radius and a bearing of 12.7mm")
	fl.StringVar(&f.bearingHeight, "bearing-height", inMM(r.Bit.BearingHeight), "from the arc's end to the foot of the bearing")
	fl.StringVar(&f.straight, "straight", inMM(r.Bit.Straight), "straight cutting edge above the bit's arc")
	fl.StringVar(&f.base, "base", "", "half width of the router's base plate, to keep it clear of the wood beyond the run")
	fl.StringVar(&f.guide, "guide", "side", "what the bearing runs on: side (the neck's own) or template (under the glue face)")
	fl.StringVar(&f.template, "template", "12mm", "thickness of the template")
	fl.StringVar(&f.reference, "reference", "back", "what carries the router: back (the flat back) or glue (rails parallel to the glue plane)")
	fl.StringVar(&f.height, "height", "", "your own height of the bit, counted as the plan prints it, to see what it leaves; refused if it cuts into the finished back")
	fl.StringVar(&f.step, "step", inMM(r.Step), "depth of a pass")
}

// addSled adds the flags of the sled.
func (f *planFlags) addSled(fl *pflag.FlagSet, s carve.Sled) {
	fl.StringVar(&f.span, "sled-span", "", "from the sled's hinge to its shim; without it the offset and the run")
	fl.StringVar(&f.offset, "sled-offset", "0mm", "from the sled's hinge to the near end of the run")
	fl.StringVar(&f.unsupported, "sled-unsupported", "", "length of the plate without support, for its sag")
	fl.StringVar(&f.thickness, "sled-thickness", inMM(s.Thickness), "thickness of the plate")
	fl.StringVar(&f.plateWidth, "sled-width", inMM(s.Width), "width of the plate")
	fl.StringVar(&f.modulus, "sled-modulus", decimal(s.Modulus), "modulus of elasticity of the plate in MPa")
	fl.StringVar(&f.mass, "router-mass", decimal(s.RouterMass), "mass of the router in kg")
	fl.StringVar(&f.carries, "sled-carries", "work", "what the sagging plate carries: work (sags away from the cutter) or router (sags into the wood)")
}

// decimal prints a number as a flag shows its default, and inMM a length.
func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
func inMM(v float64) string    { return decimal(v) + "mm" }

// textEndings are the endings of files that hold a plan as text or numbers.
var textEndings = []string{"", ".txt", ".csv", ".json"}

// planOutput is where a plan goes, by its flags.
type planOutput struct {
	format string // the ending of -o
	pages  bool   // -o is pages
	paper  export.Paper
}

// output judges the flags that say where the plan goes.
func (f *planFlags) output(given *pflag.FlagSet) (planOutput, error) {
	o := planOutput{format: strings.ToLower(filepath.Ext(f.table.output))}
	o.pages = o.format == ".pdf" || o.format == ".png"
	var err error
	if o.paper, err = export.ParsePaper(f.paper); err != nil {
		return o, wrong("--paper: %w", err)
	}
	switch data := o.format == ".csv" || o.format == ".json"; {
	case data && given.Changed("format") && f.table.format != o.format[1:]:
		return o, wrong("-o %s and --format %s exclude each other", f.table.output, f.table.format)
	case data:
		f.table.format = o.format[1:]
	case f.table.output != "-" && !o.pages && !known(o.format, textEndings):
		return o, wrong("-o %q: the plan has no %s files; allowed: .pdf, .png, .csv, .json, .txt", f.table.output, o.format)
	}
	return o, f.checkPages(given, o)
}

// checkPages judges the flags of the pages.
func (f *planFlags) checkPages(given *pflag.FlagSet, o planOutput) error {
	switch {
	case given.Changed("paper") && !o.pages && f.pdf == "":
		return wrong("--paper goes with a .pdf or .png file")
	case o.pages && (given.Changed("format") || given.Changed("table") || f.bits):
		return wrong("--format, --table and --bits go with a table, not with a %s file", o.format)
	case given.Changed("pdf") && strings.ToLower(filepath.Ext(f.pdf)) != ".pdf":
		return wrong("--pdf %q; allowed: the name of a .pdf file", f.pdf)
	case o.pages && f.pdf != "":
		return wrong("-o %s and --pdf exclude each other", f.table.output)
	}
	return nil
}

// choose judges the flags that say which table is printed.
func (f *planFlags) choose(given *pflag.FlagSet) error {
	if f.bits {
		if given.Changed("table") {
			return wrong("--bits is --table bits; give one of them")
		}
		f.which = "bits"
		if f.modes.searches(given) {
			f.which = "offsets"
		}
	}
	if f.which == "" && f.table.format == "csv" {
		f.which = "stations"
	}
	if (f.which != "" || given.Changed("table")) && !known(f.which, export.PlanTables()) {
		return wrong("--table %q is unknown; allowed: %s", f.which, strings.Join(export.PlanTables(), ", "))
	}
	return nil
}

func (p *program) plan(given *pflag.FlagSet, f *planFlags, args []string) error {
	if f.guide == "edge" {
		p.renamed("--guide edge", "--guide side")
		f.guide = carve.GuideSide.String()
	}
	out, err := f.output(given)
	if err != nil {
		return err
	}
	if err := f.choose(given); err != nil {
		return err
	}
	if given.Changed("every") && given.Changed("at") {
		return wrong("--at and --every exclude each other")
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	if !given.Changed("paper") {
		out.paper = export.PaperFor(n.Spec())
	}
	o, err := f.options(given, n)
	if err != nil {
		return err
	}
	plan, err := carve.New(n, o)
	if err != nil {
		return usageError{err}
	}
	return p.writePlan(f, plan, out)
}

// writePlan writes a plan where the flags say. Pages go on a wall and outlive
// the message on a terminal, so that a plan that breaks the limit of cover has
// none.
func (p *program) writePlan(f *planFlags, plan *carve.Plan, out planOutput) error {
	var failed error
	if refusals := plan.In(plan.Options.Unit).Refusals(); len(refusals) > 0 {
		failed = errors.New("the plan is not complete: " + strings.Join(refusals, "; "))
	}
	output, pdf := f.table.output, f.pdf
	if out.format == ".pdf" {
		output, pdf = "", output
	}
	if name := firstOf(pdf, out.pages, output); plan.BreaksCover() != nil && name != "" {
		failed = fmt.Errorf("%s is not written: %w", name, failed)
		pdf, output, out.format = "", "-", ""
	}
	if pdf != "" {
		if err := p.write(pdf, func(w io.Writer) error { return render.WritePlanPDF(w, plan, out.paper) }); err != nil {
			return err
		}
	}
	if output == "" {
		return failed
	}
	err := p.write(output, func(w io.Writer) error {
		if out.format == ".png" {
			return render.WritePlanPNG(w, plan, out.paper)
		}
		return f.print(w, plan)
	})
	if err != nil {
		return err
	}
	return failed
}

// firstOf returns the first file of pages that is to be written.
func firstOf(pdf string, pages bool, output string) string {
	if pdf == "" && pages {
		return output
	}
	return pdf
}

// print writes the plan as text or numbers.
func (f *planFlags) print(w io.Writer, plan *carve.Plan) error {
	unit := plan.Options.Unit
	switch {
	case f.which != "":
		return export.WritePlanTable(w, plan, f.which, f.table.format, unit)
	case f.table.format == "json":
		return export.WritePlanJSON(w, plan, unit)
	}
	return export.WritePlanText(w, plan, unit)
}
