package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/fit/progress"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
	"neckloft/render"
)

// progressFlags are the flags of progress as they were given.
type progressFlags struct {
	table       tableFlags
	tolerance   lengthFlag
	rescue      string
	rescueAsked bool
	log         string
	date        dateFlag
	history     bool
	picture     string
}

func (p *program) progressVerb() *cobra.Command {
	var f progressFlags
	cmd := &cobra.Command{
		Use:   "progress SPEC.toml READINGS",
		Short: "Readings taken while carving against the target: what remains, where",
		Long: `Compares readings taken on the workpiece with the spec that it is to become:
for each, whether it is on target, what is still to come off and which way, or
how far it is below already; and the least cover over the rod channel as carved.

Readings are a file such as "neckloft fit" takes; its --help shows one.

--rescue looks for the nearest new target inside the wood that remains.
--log adds a dated line to a carving log, and --history prints how each station
came down; --history --log carve.csv alone only prints it.`,
		Example: `  neckloft progress my-neck.toml today.csv --picture today.png
  neckloft progress my-neck.toml today.csv --rescue=rescued.toml
  neckloft progress my-neck.toml today.csv --log carve.csv --history`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 2 || f.history && len(args) == 0 {
				return nil
			}
			if len(args) == 3 && f.rescue == "-" {
				return wrong("progress: 3 arguments; wanted: SPEC.toml and READINGS (a file for --rescue stands after an equals sign: --rescue=%s)", args[2])
			}
			return wrong("progress: %s; wanted: SPEC.toml and READINGS", readings.Count(len(args), "argument"))
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			f.rescueAsked = cmd.Flags().Changed("rescue")
			return p.follow(&f, args)
		},
	}
	fs := cmd.Flags()
	f.table.add(cmd)
	addLength(fs, &f.tolerance, "tolerance", fmt.Sprintf("%gmm", progress.DefaultTolerance), "how near to its target a reading is on it")
	fs.StringVar(&f.rescue, "rescue", "", "look for a new target, and write its spec to =FILE or the terminal")
	fs.Lookup("rescue").NoOptDefVal = "-"
	fs.StringVar(&f.log, "log", "", "carving log to add a line to")
	fs.BoolVar(&f.history, "history", false, "print how each station of the log came down")
	addDate(fs, &f.date, "date", "date of the readings for the log, such as 2026-03-14 or \"2026-03-14 15:09\" (default now)")
	addPicture(fs, &f.picture, "picture", "PNG file for the sections with target, readings and what remains")
	writes(fs, "rescue", "log")
	return cmd
}

// check judges the flags before any work is done.
func (f *progressFlags) check(args []string) error {
	format := f.table.format
	switch {
	case f.history && f.log == "":
		return wrong("--history goes with --log, which names the carving log")
	case f.rescueAsked && f.rescue == "":
		return wrong("--rescue=: a file's name is wanted after the equals sign")
	case f.rescueToScreen() && format != "text":
		return wrong("--rescue prints a spec, which does not go with --format %s on one terminal; allowed: --rescue=rescued.toml", format)
	case f.history && len(args) > 0 && format != "text" && f.table.output == "-":
		return wrong("--history prints a second table, which does not go with --format %s on one terminal; allowed: -o for the first, or --history --log alone", format)
	case f.log == "" && f.date.given():
		return wrong("--date goes with --log")
	case len(args) == 0 && (f.rescueAsked || f.picture != "" || f.date.given()):
		return wrong("--rescue, --picture and --date go with SPEC.toml and READINGS")
	case len(args) == 2 && args[0] == "-" && args[1] == "-":
		return wrong("progress: the spec and the readings cannot both be standard input")
	}
	return nil
}

// rescueToScreen reports whether the spec of a rescue goes to the terminal.
func (f *progressFlags) rescueToScreen() bool { return f.rescueAsked && f.rescue == "-" }

// follow reads, compares and writes what the flags ask for. The log is the last
// thing that can fail, so that a call made again after another failure adds no
// second line.
func (p *program) follow(f *progressFlags, args []string) error {
	if err := f.check(args); err != nil {
		return err
	}
	if len(args) == 0 {
		unit, err := p.shopUnit()
		if err != nil {
			return err
		}
		return p.history(f, f.table.asked.unit(unit), true)
	}
	pr, err := p.readProgress(f, args[0], args[1])
	if err != nil {
		return err
	}
	unit := f.unitOf(pr)
	if err := p.reportProgress(f, pr, unit); err != nil {
		return err
	}
	if f.rescueAsked {
		if err := p.rescue(f, pr, unit); err != nil {
			if f.log != "" {
				err = fmt.Errorf("%w (nothing was added to %s)", err, f.log)
			}
			return err
		}
	}
	if f.log != "" {
		date := f.date.Time
		if !f.date.given() {
			date = time.Now()
		}
		if err := export.AppendCarveLog(f.log, export.NewCarveEntry(pr, date)); err != nil {
			return err
		}
	}
	if f.history {
		return p.history(f, unit, false)
	}
	return nil
}

// unitOf returns the unit to print: that of the spec and its tools, but in text
// that of readings in inches where nothing says another.
func (f *progressFlags) unitOf(pr *progress.Progress) spec.Unit {
	s := pr.Neck.Spec()
	usual := s.PrintUnit()
	if pr.Set.Units == spec.Inch && f.table.format == "text" && s.Shop().Print == "" {
		usual = spec.Inch
	}
	return f.table.asked.unit(usual)
}

// readProgress reads spec and readings and compares them.
func (p *program) readProgress(f *progressFlags, target, read string) (*progress.Progress, error) {
	if whatIs(textOf(target)) == someReadings && whatIs(textOf(read)) == aSpec {
		return nil, wrong("progress: the files are in the wrong order: %s holds readings and %s is a spec; type \"neckloft progress %s %s\"", target, read, read, target)
	}
	n, err := p.readNeck([]string{target})
	if err != nil {
		return nil, err
	}
	tolerance, err := f.tolerance.between(n.Spec().Units, 0, 5)
	if err != nil {
		return nil, err
	}
	set, err := p.readSet("progress", []string{read}, nil)
	if err != nil {
		return nil, err
	}
	pr, err := progress.Follow(n, set, tolerance)
	return pr, usage(err)
}

// reportProgress writes the table and the picture.
func (p *program) reportProgress(f *progressFlags, pr *progress.Progress, unit spec.Unit) error {
	table := export.ProgressTable(pr, unit)
	err := p.write(f.table.output, func(w io.Writer) error {
		if f.table.format == "text" && pr.Cover < 0 {
			fmt.Fprintf(w, "%s\n\n", export.Stop(pr, unit))
		}
		return table.Write(w, f.table.format, unit)
	})
	if err != nil {
		return err
	}
	if f.table.format != "text" || f.table.output != "-" {
		// What must not be missed goes to the terminal too.
		for line := range strings.SplitSeq(export.ProgressSummary(pr, unit), "\n") {
			fmt.Fprintln(p.err, "neckloft:", line)
		}
	}
	if f.picture == "" {
		return nil
	}
	img, err := render.ProgressPicture(pr, unit, 0)
	if err != nil {
		return err
	}
	return p.write(f.picture, func(w io.Writer) error { return render.WritePNG(w, img) })
}

// history prints the carving log, which alone is the table that -o writes.
func (p *program) history(f *progressFlags, unit spec.Unit, alone bool) error {
	entries, err := export.ReadCarveLog(f.log)
	if err != nil {
		return usageError{err}
	}
	if len(entries) == 0 {
		return fmt.Errorf("%s: the carving log has no entry yet", f.log)
	}
	table := export.CarveHistory(entries)
	if alone {
		return p.writeTable(table, f.table, unit)
	}
	if f.table.output == "-" && f.table.format == "text" {
		fmt.Fprintln(p.out)
	}
	return table.Write(p.out, f.table.format, unit)
}

// rescue looks for a new target and writes its spec.
func (p *program) rescue(f *progressFlags, pr *progress.Progress, unit spec.Unit) error {
	r, err := progress.Rescue(pr)
	if errors.Is(err, progress.ErrNothingLow) {
		fmt.Fprintln(p.err, "neckloft: --rescue:", err)
		return nil
	}
	if err != nil {
		return fmt.Errorf("--rescue: %w", err)
	}
	out := p.err // beside a table for another program
	if f.table.format == "text" && f.table.output == "-" {
		out = p.out
	}
	fmt.Fprintf(out, "\nA new target inside the wood that remains, named %s: it takes %.1f g of wood more\nthan the old one, and its surface lies up to %s inside that.\n\n", r.Spec.Name, r.Lost, unit.Rounded(r.Moved))
	if err := export.RescueTable(r).Write(out, "text", unit); err != nil {
		return err
	}
	for _, n := range r.Notes {
		fmt.Fprintln(out)
		writeNote(out, n)
	}
	if r.Cover == r.Cover {
		fmt.Fprintf(out, "\nLeast cover over the rod channel: %s.\n", unit.Rounded(r.Cover))
	}
	_, problems := neck.Check(r.Spec)
	for _, w := range problems {
		fmt.Fprintln(out, w.Error())
	}
	fmt.Fprint(out, "Between readings the low spots are taken to run straight from one to the next: read again where\nthe rasp went deep. A thinner neck is a weaker one; look at check and stations of the new spec\nbefore going on.\n")
	written := *r.Spec
	written.Tools = p.own // those of --tools stay in their file
	if f.rescueToScreen() {
		fmt.Fprintln(p.out)
		return written.WriteTOML(p.out)
	}
	return p.write(f.rescue, written.WriteTOML)
}
