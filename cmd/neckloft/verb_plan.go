package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/spec"
	"neckloft/render"
)

// planFlags are the flags of plan as they are typed.
type planFlags struct {
	table                              tableFlags
	which, paper, pdf, at, every       string
	stock, leave, step, height         string
	radius, bearing, diameter          string
	bearingHeight, shoulder, base      string
	guide, template, reference         string
	span, offset                       string
	unsupported, thickness, plateWidth string
	modulus, mass, handRate            string
	feed, carries, species, facets     string
	bits                               bool
}

func (p *program) planVerb() *cobra.Command {
	var f planFlags
	cmd := &cobra.Command{
		Use:   "plan [SPEC.toml]",
		Short: "The carving plan: taper, round-over, stop marks, flats",
		Long: `Works out the way from the squared blank to the round back: the flat that the back
is tapered to and what to set on a sled for it, the height of a round-over bit
and its passes, where the bit has to stop, the pencil lines for carving by flats,
and what is left for hand tools at every station.

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
	o := carve.DefaultOptions()
	plain := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	mm := func(v float64) string { return plain(v) + "mm" }
	fl := cmd.Flags()
	fl.StringVar(&f.stock, "stock-depth", "", "present depth of the wood below the glue plane; without it the [blank]'s thickness")
	fl.StringVar(&f.leave, "leave", mm(o.Leave), "wood that router and flats leave over the finished back")
	fl.StringVar(&f.radius, "bit-radius", "", "radius of the round-over bit, such as 12.7mm or 1/2in; without it the common size that leaves least")
	fl.StringVar(&f.bearing, "bearing", "0mm", "how far the bearing holds the arc's end off the guide, outward")
	fl.StringVar(&f.diameter, "bit-diameter", "", "largest diameter of the bit; without it twice the radius and a bearing of 12.7mm")
	fl.StringVar(&f.bearingHeight, "bearing-height", mm(o.Bit.BearingHeight), "from the arc's end to the foot of the bearing")
	fl.StringVar(&f.shoulder, "shoulder", mm(o.Bit.Straight), "straight cutting edge above the bit's arc")
	fl.StringVar(&f.base, "base", "", "half width of the router's base plate, to keep it clear of the wood beyond the run")
	fl.StringVar(&f.guide, "guide", "edge", "what the bearing runs on: edge (the neck's side) or template (under the glue face)")
	fl.StringVar(&f.template, "template", "12mm", "thickness of the template")
	fl.StringVar(&f.reference, "reference", "back", "what carries the router: back (the flat back) or glue (rails parallel to the glue plane)")
	fl.StringVar(&f.height, "height", "", "your own height of the bit, counted as the plan prints it, to see what it leaves; refused if it cuts into the finished back")
	fl.StringVar(&f.step, "step", mm(o.Step), "depth of a pass")
	fl.StringVar(&f.facets, "facets", strconv.Itoa(o.Facets), "pairs of flats for carving by hand, 1 to 3")
	fl.StringVar(&f.span, "sled-span", "", "from the sled's hinge to its shim; without it the offset and the run")
	fl.StringVar(&f.offset, "sled-offset", "0mm", "from the sled's hinge to the near end of the run")
	fl.StringVar(&f.unsupported, "sled-unsupported", "", "length of the plate without support, for its sag")
	fl.StringVar(&f.thickness, "sled-thickness", mm(o.Sled.Thickness), "thickness of the plate")
	fl.StringVar(&f.plateWidth, "sled-width", mm(o.Sled.Width), "width of the plate")
	fl.StringVar(&f.modulus, "sled-modulus", plain(o.Sled.Modulus), "modulus of elasticity of the plate in MPa")
	fl.StringVar(&f.mass, "router-mass", plain(o.Sled.RouterMass), "mass of the router in kg")
	fl.StringVar(&f.carries, "sled-carries", "work", "what the sagging plate carries: work (sags away from the cutter) or router (sags into the wood)")
	fl.StringVar(&f.feed, "feed", "", "your feed of the router a minute, such as 1500mm, for an estimate of time")
	fl.StringVar(&f.handRate, "hand-rate", "", "wood you take off by hand in cm3 a minute, for an estimate of time")
	fl.StringVar(&f.at, "at", "", "stations, such as 1,5,12 or x=120mm; without it both ends of the run and every fret")
	fl.StringVar(&f.every, "every", "", "a station every so far from the nut, such as 25mm or 1-1/2in")
	fl.BoolVar(&f.bits, "bits", false, "compare the common bits in a table")
	fl.StringVar(&f.which, "table", "", "one table alone: "+strings.Join(export.PlanTables(), ", "))
	fl.StringVar(&f.species, "species", "", "wood for the masses, such as \"black walnut\"; without it that of the spec")
	fl.StringVar(&f.pdf, "pdf", "", "write the pages to this file too")
	writes(fl, "pdf")
	fl.StringVar(&f.paper, "paper", "A4", "paper for the pages: A4 or Letter")
	f.table.add(cmd)
	return cmd
}

// textEndings are the endings of files that hold a plan as text or numbers.
var textEndings = []string{"", ".txt", ".csv", ".json"}

func (p *program) plan(given *pflag.FlagSet, f *planFlags, args []string) error {
	format := strings.ToLower(filepath.Ext(f.table.output))
	pages := format == ".pdf" || format == ".png"
	paper, err := export.ParsePaper(f.paper)
	switch {
	case err != nil:
		return wrong("--paper: %w", err)
	case given.Changed("paper") && !pages && f.pdf == "":
		return wrong("--paper goes with a .pdf or .png file")
	case pages && (given.Changed("format") || given.Changed("table") || f.bits):
		return wrong("--format, --table and --bits go with a table, not with a %s file", format)
	case given.Changed("pdf") && strings.ToLower(filepath.Ext(f.pdf)) != ".pdf":
		return wrong("--pdf %q; allowed: the name of a .pdf file", f.pdf)
	case pages && f.pdf != "":
		return wrong("-o %s and --pdf exclude each other", f.table.output)
	case (format == ".csv" || format == ".json") && given.Changed("format") && f.table.format != format[1:]:
		return wrong("-o %s and --format %s exclude each other", f.table.output, f.table.format)
	case f.table.output != "-" && !pages && !known(format, textEndings):
		return wrong("-o %q: the plan has no %s files; allowed: .pdf, .png, .csv, .json, .txt", f.table.output, format)
	case f.bits && given.Changed("table"):
		return wrong("--bits is --table bits; give one of them")
	case given.Changed("every") && given.Changed("at"):
		return wrong("--at and --every exclude each other")
	case given.Changed("template") && f.guide != carve.GuideTemplate.String():
		return wrong("--template goes with --guide template")
	}
	if format == ".csv" || format == ".json" {
		f.table.format = format[1:]
	}
	if f.bits {
		f.which = "bits"
	}
	if f.which == "" && f.table.format == "csv" {
		f.which = "stations"
	}
	if (f.which != "" || given.Changed("table")) && !known(f.which, export.PlanTables()) {
		return wrong("--table %q is unknown; allowed: %s", f.which, strings.Join(export.PlanTables(), ", "))
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	o, err := f.options(given, n)
	if err != nil {
		return err
	}
	if n, err = f.adapt(given, n); err != nil {
		return err
	}
	plan, err := carve.New(n, o)
	if err != nil {
		return usageError{err}
	}
	return p.writePlan(f, plan, format, paper)
}

// adapt returns the neck with the unit and the wood that the flags ask for.
// Flags without a unit are in the spec's unit all the same, so that they are
// read before.
func (f *planFlags) adapt(given *pflag.FlagSet, n *neck.Neck) (*neck.Neck, error) {
	if !f.table.inches && !given.Changed("species") {
		return n, nil
	}
	s := *n.Spec()
	if f.table.inches {
		s.Units = spec.Inch
	}
	if given.Changed("species") {
		wood, ok := spec.FindSpecies(f.species)
		if !ok {
			var names []string
			for _, w := range spec.AllSpecies() {
				names = append(names, w.Name)
			}
			return nil, wrong("--species %q is not in the table of woods; allowed: %s; or give density under [wood] in the spec",
				f.species, strings.Join(names, ", "))
		}
		s.Wood = spec.Wood{Species: wood.Name}
	}
	return neck.New(&s)
}

// writePlan writes a plan where the flags say. Pages go on a wall and outlive
// the message on a terminal, so that a plan that breaks the limit of cover has
// none.
func (p *program) writePlan(f *planFlags, plan *carve.Plan, format string, paper export.Paper) error {
	var failed error
	if len(plan.Refusals) > 0 {
		failed = errors.New("the plan is not complete: " + strings.Join(plan.Refusals, "; "))
	}
	unit := plan.Neck.Spec().Units
	if !f.table.inches && f.table.format != "text" {
		unit = spec.Millimetre
	}
	output, pdf := f.table.output, f.pdf
	if format == ".pdf" {
		output, pdf = "", output
	}
	if plan.BreaksCover() != nil {
		for _, name := range []string{pdf, output} {
			if name == "" || name == output && format != ".png" {
				continue
			}
			failed = fmt.Errorf("%s is not written: %w", name, failed)
			pdf, output, format = "", "-", ""
			break
		}
	}
	if pdf != "" {
		if err := p.write(pdf, func(w io.Writer) error { return render.WritePlanPDF(w, plan, paper) }); err != nil {
			return err
		}
	}
	if output == "" {
		return failed
	}
	err := p.write(output, func(w io.Writer) error {
		switch {
		case format == ".png":
			return render.WritePlanPNG(w, plan, paper)
		case f.which != "":
			t, err := export.PlanTable(plan, f.which)
			if err != nil {
				return err
			}
			if f.which == "stations" && f.table.format == "text" {
				t = export.PlanBenchTable(plan)
			}
			if (f.which == "taper" || f.which == "roundover") && f.table.format == "text" {
				return export.WriteRecord(w, t, unit)
			}
			return t.Write(w, f.table.format, unit)
		case f.table.format == "json":
			return export.WritePlanJSON(w, plan, unit)
		}
		return export.WritePlanText(w, plan, unit)
	})
	if err != nil {
		return err
	}
	return failed
}

// options reads the flags into the options of a plan.
func (f *planFlags) options(given *pflag.FlagSet, n *neck.Neck) (carve.Options, error) {
	o := carve.DefaultOptions()
	units := n.Spec().Units
	for _, l := range []struct {
		flag, text string
		into       *float64
	}{
		{"stock-depth", f.stock, &o.StockDepth},
		{"leave", f.leave, &o.Leave},
		{"bit-radius", f.radius, &o.Bit.Radius},
		{"bearing", f.bearing, &o.Bit.Offset},
		{"bit-diameter", f.diameter, &o.Bit.Diameter},
		{"bearing-height", f.bearingHeight, &o.Bit.BearingHeight},
		{"shoulder", f.shoulder, &o.Bit.Straight},
		{"base", f.base, &o.Base},
		{"template", f.template, &o.Template},
		{"height", f.height, &o.Height},
		{"step", f.step, &o.Step},
		{"sled-span", f.span, &o.Sled.Span},
		{"sled-offset", f.offset, &o.Sled.Offset},
		{"sled-unsupported", f.unsupported, &o.Sled.Unsupported},
		{"sled-thickness", f.thickness, &o.Sled.Thickness},
		{"sled-width", f.plateWidth, &o.Sled.Width},
		{"feed", f.feed, &o.Feed},
	} {
		if l.text == "" && !given.Changed(l.flag) {
			continue
		}
		v, err := spec.ParseLength(l.text, units)
		if err == nil && v == 0 && l.flag != "leave" && l.flag != "bearing" && l.flag != "shoulder" && l.flag != "sled-offset" && l.flag != "height" {
			err = errors.New("0 is no length here; leave the flag out or give more than 0")
		}
		if err != nil {
			return o, wrong("--%s: %w", l.flag, err)
		}
		*l.into = v
	}
	var err error
	if o.Guide, err = carve.ParseGuide(f.guide); err != nil {
		return o, wrong("--guide: %w", err)
	}
	if o.Reference, err = carve.ParseReference(f.reference); err != nil {
		return o, wrong("--reference: %w", err)
	}
	switch f.carries {
	case "work":
	case "router":
		o.Sled.Carries = carve.CarriesRouter
	default:
		return o, wrong("--sled-carries %q is unknown; allowed: work, router", f.carries)
	}
	rate := 0.0
	for _, v := range []struct {
		flag, text, unit string
		into             *float64
	}{
		{"sled-modulus", f.modulus, "MPa", &o.Sled.Modulus},
		{"router-mass", f.mass, "kg", &o.Sled.RouterMass},
		{"hand-rate", f.handRate, "cm3 a minute", &rate},
	} {
		if v.text == "" && !given.Changed(v.flag) {
			continue
		}
		x, err := strconv.ParseFloat(strings.TrimSpace(v.text), 64)
		if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
			return o, wrong("--%s %q is no number; allowed: a number in %s, such as %s", v.flag, v.text, v.unit, map[string]string{
				"sled-modulus": "9000", "router-mass": "3.5", "hand-rate": "2.5"}[v.flag])
		}
		*v.into = x
	}
	if given.Changed("hand-rate") && !(rate > 0) {
		return o, wrong("--hand-rate %g; allowed: more than 0 cm3 a minute", rate)
	}
	o.HandRate = rate * 1e3
	if o.Facets, err = strconv.Atoi(strings.TrimSpace(f.facets)); err != nil {
		return o, wrong("--facets %q; allowed: 1, 2 or 3 pairs of flats", f.facets)
	}
	if !given.Changed("at") && !given.Changed("every") {
		return o, nil
	}
	places, err := stationPlaces(n, f.at, f.every)
	if err != nil {
		return o, err
	}
	if f.every != "" || f.at == "frets" {
		st := carve.StretchOf(n)
		var on []spec.Place
		for _, place := range places {
			if st.Holds(n.Spec().X(place)) {
				on = append(on, place)
			}
		}
		if len(on) == 0 {
			return o, wrong("no station lies between %s and %s, where the plan works", units.Rounded(st.From), units.Rounded(st.To))
		}
		places = on
	}
	o.Places = places
	return o, nil
}
