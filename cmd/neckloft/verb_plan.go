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
	table          tableFlags
	which, pdf     string
	guide, carries string
	reference      string
	species        string
	paper          paperFlag
	along          alongFlags
	bit            bitFlags
	lengths        []boundLength
	numbers        []boundNumber
	pairs          string
	bits           bool
	modes          modeFlags
}

// boundLength is a flag that is a length, and where it goes.
type boundLength struct {
	flag *lengthFlag
	into func(o *carve.Options) *float64
	zero bool // 0 says something
}

// boundNumber is a flag that is a number, where it goes and by what factor.
type boundNumber struct {
	flag   *numberFlag
	into   func(o *carve.Options) *float64
	factor float64
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
	renameWord(cmd.Flags(), "guide", "edge", "side", p.err)
	p.renameFlags(cmd, map[string]string{"leave": "allowance", "facets": "pairs", "shoulder": "straight"})
	return cmd
}

// add adds the flags to the verb, in groups.
func (f *planFlags) add(cmd *cobra.Command) {
	fl := cmd.Flags()
	o := carve.DefaultOptions(spec.Millimetre)
	f.length(fl, "stock-depth", "", "present depth of the wood below the glue plane; without it the [blank]'s thickness", false,
		func(o *carve.Options) *float64 { return &o.StockDepth })
	f.length(fl, "allowance", inMM(o.Allowance), "wood that router and flats leave over the finished back", true,
		func(o *carve.Options) *float64 { return &o.Allowance })
	addChoice(fl, &f.pairs, "pairs", strconv.Itoa(o.Pairs), "pairs of flats for carving by hand, 1 to 3", "1", "2", "3")
	f.addRouter(fl, o.Router)
	f.addSled(fl, o.Sled)
	f.modes.add(fl)
	f.length(fl, "feed", "", "your feed of the router a minute, such as 1500mm, for an estimate of time", false,
		func(o *carve.Options) *float64 { return &o.Feed })
	f.number(fl, "hand-rate", "", "cm3 a minute", "2.5", "wood you take off by hand in cm3 a minute, for an estimate of time", 1e3,
		func(o *carve.Options) *float64 { return &o.HandRate })
	addStations(fl, &f.along.at, "at", "", "stations, such as 1,5,12 or x=120mm; without it both ends of the run and every fret")
	addLength(fl, &f.along.every, "every", "", "a station every so far from the nut, such as 25mm or 1-1/2in")
	fl.BoolVar(&f.bits, "bits", false, "compare the bits you have, or the common ones, in a table")
	addChoice(fl, &f.which, "table", "", "one table alone: "+strings.Join(export.PlanTables(), ", "), export.PlanTables()...)
	fl.StringVar(&f.species, "species", "", "wood for the masses, such as \"black walnut\"; without it that of the spec")
	fl.StringVar(&f.pdf, "pdf", "", "write the pages to this file too")
	writes(fl, "pdf")
	addPaper(fl, &f.paper, "paper", "A4", "paper for the pages: A4 or Letter, which is usual with inches")
	f.table.add(cmd)
}

// addRouter adds the flags of the router, its bit and what guides it.
func (f *planFlags) addRouter(fl *pflag.FlagSet, r carve.Router) {
	f.bit.add(fl, r.Bit)
	f.length(fl, "base", "", "half width of the router's base plate, to keep it clear of the wood beyond the run", false,
		func(o *carve.Options) *float64 { return &o.Base })
	addChoice(fl, &f.guide, "guide", "side", "what the bearing runs on: side (the neck's own) or template (under the glue face)", "side", "template")
	f.length(fl, "template", "12mm", "thickness of the template", false, func(o *carve.Options) *float64 { return &o.Template })
	addChoice(fl, &f.reference, "reference", "back", "what carries the router: back (the flat back) or glue (rails parallel to the glue plane)", "back", "glue")
	f.length(fl, "height", "", "your own height of the bit, counted as the plan prints it, to see what it leaves; refused if it cuts into the finished back", true,
		func(o *carve.Options) *float64 { return &o.Height })
	f.length(fl, "step", inMM(r.Step), "depth of a pass", false, func(o *carve.Options) *float64 { return &o.Step })
}

// addSled adds the flags of the sled.
func (f *planFlags) addSled(fl *pflag.FlagSet, s carve.Sled) {
	f.length(fl, "sled-span", "", "from the sled's hinge to its shim; without it the offset and the run", false,
		func(o *carve.Options) *float64 { return &o.Sled.Span })
	f.length(fl, "sled-offset", "0mm", "from the sled's hinge to the near end of the run", true,
		func(o *carve.Options) *float64 { return &o.Sled.Offset })
	f.length(fl, "sled-unsupported", "", "length of the plate without support, for its sag", false,
		func(o *carve.Options) *float64 { return &o.Sled.Unsupported })
	f.length(fl, "sled-thickness", inMM(s.Thickness), "thickness of the plate", false,
		func(o *carve.Options) *float64 { return &o.Sled.Thickness })
	f.length(fl, "sled-width", inMM(s.Width), "width of the plate", false, func(o *carve.Options) *float64 { return &o.Sled.Width })
	f.number(fl, "sled-modulus", decimal(s.Modulus), "MPa", "9000", "modulus of elasticity of the plate in MPa", 1,
		func(o *carve.Options) *float64 { return &o.Sled.Modulus })
	f.number(fl, "router-mass", decimal(s.RouterMass), "kg", "3.5", "mass of the router in kg", 1,
		func(o *carve.Options) *float64 { return &o.Sled.RouterMass })
	addChoice(fl, &f.carries, "sled-carries", spec.CarriesWork, "what the sagging plate carries: work (sags away from the cutter) or router (sags into the wood)",
		spec.CarriesWork, spec.CarriesRouter)
}

// length adds a flag that is a length and goes into the options; zero says
// whether 0 is one.
func (f *planFlags) length(fl *pflag.FlagSet, name, def, usage string, zero bool, into func(*carve.Options) *float64) {
	flag := &lengthFlag{}
	addLength(fl, flag, name, def, usage)
	f.lengths = append(f.lengths, boundLength{flag, into, zero})
}

// number adds a flag that is a number and goes into the options, times factor.
func (f *planFlags) number(fl *pflag.FlagSet, name, def, unit, example, usage string, factor float64, into func(*carve.Options) *float64) {
	flag := &numberFlag{}
	addNumber(fl, flag, name, def, unit, example, usage)
	f.numbers = append(f.numbers, boundNumber{flag, into, factor})
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
	return nil
}

func (p *program) plan(given *pflag.FlagSet, f *planFlags, args []string) error {
	out, err := f.output(given)
	if err != nil {
		return err
	}
	if err := f.choose(given); err != nil {
		return err
	}
	if err := f.along.check(given); err != nil {
		return err
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	out.paper = f.paper.on(given, n)
	o, err := f.options(given, n)
	if err != nil {
		return err
	}
	plan, err := carve.New(n, o)
	if err != nil {
		return usageError{flagRange(given, err)}
	}
	return p.writePlan(f, plan, out)
}

// writePlan writes a plan where the flags say. Pages go on a wall and outlive
// the message on a terminal, so that a plan that breaks the limit of cover has
// none.
func (p *program) writePlan(f *planFlags, plan *carve.Plan, out planOutput) error {
	var failed error
	if refusals := plan.In(plan.Options.Unit).Refusals(); len(refusals) > 0 {
		failed = errors.New(export.OneALine("the plan is not complete", refusals))
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
