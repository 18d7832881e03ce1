package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/fit/scan"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
	"neckloft/render"
)

// fitFlags are the flags of fit as they were given.
type fitFlags struct {
	table    tableFlags
	report   string
	base     string
	picture  string
	opts     fit.Options
	board    lengthFlag
	scale    lengthFlag
	frets    int
	fretless bool // --frets 0
	hand     string
	scan     scanFlags
}

func (p *program) fitVerb() *cobra.Command {
	var f fitFlags
	cmd := &cobra.Command{
		Use:   "fit [READINGS]",
		Short: "A spec from measurements or a scan of an existing neck",
		Long: `Finds the spec of a neck that was measured: totals, widths, contour points and
girths in a csv or TOML file, or a scan of the neck as STL, or both. Prints the
spec as TOML with the 95 % range of each number, the residual of each reading,
what the readings cannot tell, and which reading does not belong to the rest.

With -o the spec goes to a file and the report to the terminal; without, the
report stands as comments in front of the spec. --format csv or json prints the
table that --report names instead.

A file of readings, in millimetres or with _in for inches, y negative on the
bass side (of a left-handed neck on the treble side, see --hand) and depths of
points from the glue plane down:

  kind,station,y_mm,value_mm
  scale,,,636                 facts: scale, frets, end (nut to the board's end)
  board,,,5.6                 thickness of the board; wall: straight side below it
  width,nut,,42.8             across the board's edges
  total,5,,21.4               board and wood at the deepest point, at fret 5;
                              centre: on the centreline; wood: without the board
  girth,x=120,,66.5           around the back, 120 mm from the nut
  point,5,-14,9.8             a point of a contour
  radius,12,,355              of the board's face

(The words on the right are no part of the file.) A column sigma_mm says how
good a reading is, a column note is kept. The same in TOML has units, the facts
and board and wall on top, and tables such as [[total]] with fret or x and value,
or [[contour]] with points = [[y, depth], ...].`,
		Example: `  neckloft fit readings.csv -o fitted.toml
  neckloft fit readings.csv --spec my-neck.toml --picture fit.png
  neckloft fit --scan scan.stl --units mm --scale 636 --frets 22 --board 5.6`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return wrong("fit: %d arguments; allowed: one file of readings", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error { return p.fit(cmd.Flags(), &f, args) },
	}
	f.add(cmd)
	return cmd
}

func (f *fitFlags) add(cmd *cobra.Command) {
	fs := cmd.Flags()
	f.table.add(cmd)
	fs.Lookup("output").Usage = "file for the spec, - for the terminal"
	addChoice(fs, &f.report, "report", "residuals", "table that --format csv or json prints: residuals, ranges or, of a scan, stations", "residuals", "ranges", "stations")
	fs.StringVar(&f.base, "spec", "", "spec whose numbers stay where the readings say nothing: rod, heel, headstock")
	fs.StringVar(&f.opts.Name, "name", "", "name of the fitted spec")
	fs.IntVar(&f.opts.Targets, "targets", 0, "number of depth targets (default as the readings ask for)")
	fs.IntVar(&f.opts.Profiles, "profiles", 0, "number of profile stations (default as the readings ask for)")
	addPicture(fs, &f.picture, "picture", "PNG file for the sections with the readings")
	addLength(fs, &f.scale, "scale", "", "scale length, where no readings give it")
	fs.IntVar(&f.frets, "frets", 0, "number of frets, 0 for none, where no readings give it")
	addChoice(fs, &f.hand, "hand", "", "hand that the neck is for, left or right (default that of --spec, or right)", "left", "right")
	addLength(fs, &f.board, "board", "", "thickness of the board, where no readings give it")
	f.scan.add(fs)
	reads(fs, "spec", "the base spec")
}

func (p *program) fit(given *pflag.FlagSet, f *fitFlags, args []string) error {
	if err := f.check(given, args); err != nil {
		return err
	}
	base, err := f.readBase(p)
	if err != nil {
		return err
	}
	set, err := p.readSet("fit", args, base)
	if err != nil {
		return err
	}
	if err := f.facts(set); err != nil {
		return err
	}
	switch f.hand {
	case "left":
		f.opts.Hand = new(spec.Hand)
		*f.opts.Hand = spec.LeftHand
	case "right":
		f.opts.Hand = new(spec.Hand)
	}
	var result *fit.Result
	var scan *scan.Result
	if f.scan.file != "" {
		if scan, err = f.scan.read(p, set, base, f.opts); err != nil {
			return err
		}
		result = scan.Result
	} else if result, err = fit.Fit(set, base, f.opts); err != nil {
		return usage(err)
	}
	if f.picture != "" {
		img, err := render.FitPicture(result, f.unitOf(set), 0)
		if err != nil {
			return err
		}
		if err := p.write(f.picture, func(w io.Writer) error { return render.WritePNG(w, img) }); err != nil {
			return err
		}
	}
	return p.fitOutput(f, set, result, scan)
}

// usage marks errors in a file of readings as those of the call.
func usage(err error) error {
	var problems spec.Problems
	var problem spec.Problem
	if errors.As(err, &problems) || errors.As(err, &problem) {
		return usageError{err}
	}
	return err
}

// check judges the flags before any work is done.
func (f *fitFlags) check(given *pflag.FlagSet, args []string) error {
	switch {
	case len(args) == 0 && f.scan.file == "":
		return wrong("fit: wanted: a file of readings, or --scan scan.stl")
	case f.report == "stations" && f.scan.file == "":
		return wrong("--report stations goes with --scan")
	case f.opts.Targets < 0 || f.opts.Targets > 9 || f.opts.Profiles < 0 || f.opts.Profiles > 9:
		return wrong("--targets and --profiles: allowed: 1 to 9, or 0 for as the readings ask for")
	case f.base == "-" && len(args) > 0 && args[0] == "-":
		return wrong("fit: the readings and --spec cannot both be standard input")
	case f.frets < 0 || f.frets > 60:
		return wrong("--frets %d: allowed: 0 to 60", f.frets)
	}
	f.fretless = given.Changed("frets") && f.frets == 0
	return f.scan.check(given)
}

func (f *fitFlags) readBase(p *program) (*spec.Spec, error) {
	if f.base == "" {
		return nil, nil
	}
	s, err := p.readSpec([]string{f.base})
	if err != nil {
		return nil, specError(err)
	}
	if _, problems := neck.Check(s); problems.Err() != nil {
		return nil, problems.Err()
	}
	return s, nil
}

// noReadings stands for the file of readings where there is a scan alone.
const noReadings = "scan"

// readSet returns the readings named by the arguments of a verb, or none.
func (p *program) readSet(verb string, args []string, base *spec.Spec) (*readings.Set, error) {
	switch {
	case len(args) == 0:
		set := &readings.Set{File: noReadings}
		if base != nil {
			set.Units = base.Units
		}
		return set, nil
	case args[0] == "-":
		var text bytes.Buffer
		set, err := readings.Read(io.TeeReader(p.in, &text), "-")
		return set, specOrNil(askForReadings(err, "-", verb, text.Bytes()))
	}
	set, err := readings.ReadFile(args[0])
	return set, specOrNil(askForReadings(err, args[0], verb, textOf(args[0])))
}

func specOrNil(err error) error {
	if err == nil {
		return nil
	}
	return specError(err)
}

// facts adds what the flags say of the neck to the readings.
func (f *fitFlags) facts(set *readings.Set) error {
	if f.scale.given() {
		v, err := f.scale.between(set.Units, 50, 3000)
		if err != nil {
			return err
		}
		if set.Scale > 0 {
			return wrong("--scale: the readings give the scale length too; allowed: one of them")
		}
		set.Scale = v
	}
	if f.frets > 0 || f.fretless {
		if set.Frets > 0 || set.Fretless {
			return wrong("--frets: the readings give the number of frets too; allowed: one of them")
		}
		set.Frets, set.Fretless = f.frets, f.fretless
	}
	if !f.board.given() {
		return nil
	}
	v, err := f.board.between(set.Units, 0.5, 50)
	if err != nil {
		return err
	}
	for _, r := range set.Readings {
		if r.Kind == readings.BoardAt {
			return wrong("--board: the readings give the board's thickness too, on line %d; allowed: one of them", r.Line)
		}
	}
	set.Readings = append(set.Readings, readings.Reading{Kind: readings.BoardAt, Value: v, Sigma: readings.BoardAt.Sigma()})
	return nil
}

// fitOutput writes the spec and the report where the flags say.
func (p *program) fitOutput(f *fitFlags, set *readings.Set, r *fit.Result, scan *scan.Result) error {
	report, err := fitReport(f, set, r, scan)
	if err != nil {
		return err
	}
	for _, w := range r.Warnings {
		fmt.Fprintln(p.err, "neckloft:", w.Error())
	}
	spec := func(head string) func(io.Writer) error {
		return func(w io.Writer) error { return r.WriteTOML(w, head) }
	}
	if f.table.format != "text" {
		// What must not be missed goes beside a table for another program.
		for _, n := range r.Notes {
			fmt.Fprintln(p.err, "neckloft:", n)
		}
		if f.table.output != "-" {
			if err := p.write(f.table.output, spec("Fitted by neckloft.")); err != nil {
				return err
			}
		}
		return fitTable(f.report, r, scan).Write(p.out, f.table.format, f.unitOf(set))
	}
	if f.table.output == "-" {
		return p.write("-", spec(report))
	}
	if err := p.write(f.table.output, spec(report)); err != nil {
		return err
	}
	_, err = io.WriteString(p.out, report)
	return err
}

// unitOf returns the unit of a report: the one asked for, or that of the
// readings.
func (f *fitFlags) unitOf(set *readings.Set) spec.Unit {
	return f.table.asked.unit(set.Units)
}

func fitTable(name string, r *fit.Result, scan *scan.Result) *export.Table {
	switch name {
	case "ranges":
		return export.FitRanges(r)
	case "stations":
		return export.ScanStations(scan)
	}
	return export.FitResiduals(r)
}

// fitReport is the report in text.
func fitReport(f *fitFlags, set *readings.Set, r *fit.Result, scan *scan.Result) (string, error) {
	unit := f.unitOf(set)
	var b strings.Builder
	sources := []string{}
	if set.File != noReadings {
		sources = append(sources, set.File)
	}
	if scan != nil {
		sources = append(sources, f.scan.file)
	}
	fmt.Fprintf(&b, "%s, fitted by neckloft to %s.\n\n", r.Spec.Name, strings.Join(sources, " and "))
	if scan != nil {
		b.WriteString("Found in the scan:\n")
		for _, t := range scan.Found {
			writeNote(&b, t)
		}
		b.WriteString("\n")
	}
	if len(r.Notes) > 0 {
		b.WriteString("What to know:\n")
		for _, n := range r.Notes {
			writeNote(&b, n)
		}
		b.WriteString("\n")
	}
	if err := export.FitRanges(r).Write(&b, "text", unit); err != nil {
		return "", err
	}
	b.WriteString("\n")
	table := export.FitResiduals(r)
	if scan != nil {
		table = export.ScanStations(scan)
	}
	if err := table.Write(&b, "text", unit); err != nil {
		return "", err
	}
	switch {
	case r.DOF == 1:
		b.WriteString("\nThere is 1 reading to spare.\n")
	case r.Assumed && r.DOF > 0:
		fmt.Fprintf(&b, "\nThere are %d readings to spare.\n", r.DOF)
	case r.DOF > 0:
		fmt.Fprintf(&b, "\nThe residuals are %.2f times as large as the readings' standard deviations, with %d readings\nto spare.\n", r.Scale, r.DOF)
	}
	if scan != nil {
		b.WriteString("The ranges of a scan take the errors of its points for independent; a scanner that is off by the\nsame everywhere, or a wrong unit, they do not show.\n")
	}
	return b.String(), nil
}

// writeNote writes a point of a list, in lines of no more than 92 characters.
// A number and its unit stay together.
func writeNote(w io.Writer, text string) {
	const lead, most = "- ", 92
	lines := export.Wrap(withUnits(strings.Fields(text)), " ", func(line string) bool {
		return len(lead)+utf8.RuneCountInString(line) <= most
	})
	io.WriteString(w, lead+strings.Join(lines, "\n  ")+"\n")
}

// withUnits joins each number to the word after it.
func withUnits(words []string) []string {
	var out []string
	for i, word := range words {
		if i > 0 && isNumber(words[i-1]) && len(out) > 0 && out[len(out)-1] == words[i-1] {
			out[len(out)-1] += " " + word
			continue
		}
		out = append(out, word)
	}
	return out
}

// isNumber reports whether a word ends in a digit, as a number before its unit.
func isNumber(word string) bool {
	c := word[len(word)-1]
	return c >= '0' && c <= '9'
}
