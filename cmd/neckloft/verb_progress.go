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
	"neckloft/neck/spec"
	"neckloft/render"
)

// progressFlags are the flags of progress as they were given.
type progressFlags struct {
	table          tableFlags
	tolerance      string
	rescue         string
	log, date      string
	history        bool
	picture        string
	rescueAsked    bool
	dateGiven      bool
	rescueToScreen bool
}

func (p *program) progressVerb() *cobra.Command {
	var f progressFlags
	cmd := &cobra.Command{
		Use:   "progress SPEC.toml READINGS",
		Short: "Readings taken while carving against the target: what is left, where",
		Long: `Compares readings taken on the workpiece with the spec that it is to become:
for each, whether it is on target, what is still to come off and which way, or
how far it is below already; and the least cover over the rod channel as carved.

Readings are a file such as "neckloft fit" takes; its --help shows one.

--rescue looks for the nearest new target inside the wood that is left.
--log adds a dated line to a carving log, and --history prints how each station
came down; --history --log carve.csv alone only prints it.`,
		Example: `  neckloft progress my-neck.toml today.csv --picture left.png
  neckloft progress my-neck.toml today.csv --rescue=rescued.toml
  neckloft progress my-neck.toml today.csv --log carve.csv --history`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 && !(f.history && len(args) == 0) {
				if len(args) == 3 && f.rescue == "-" {
					return wrong("progress: 3 arguments; wanted: SPEC.toml and READINGS (a file for --rescue stands after an equals sign: --rescue=%s)", args[2])
				}
				return wrong("progress: %d arguments; wanted: SPEC.toml and READINGS", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			f.rescueAsked, f.dateGiven = cmd.Flags().Changed("rescue"), cmd.Flags().Changed("date")
			return p.follow(f, args)
		},
	}
	fs := cmd.Flags()
	f.table.add(cmd)
	fs.StringVar(&f.tolerance, "tolerance", fmt.Sprintf("%gmm", progress.DefaultTolerance), "how near to its target a reading is on it")
	fs.StringVar(&f.rescue, "rescue", "", "look for a new target, and write its spec to =FILE or the terminal")
	fs.Lookup("rescue").NoOptDefVal = "-"
	fs.StringVar(&f.log, "log", "", "carving log to add a line to")
	fs.BoolVar(&f.history, "history", false, "print how each station of the log came down")
	fs.StringVar(&f.date, "date", "", "date of the readings for the log, such as 2026-03-14 or \"2026-03-14 15:09\" (default now)")
	fs.StringVar(&f.picture, "picture", "", "PNG file for the sections with target, readings and what is left")
	writes(fs, "picture", "rescue", "log")
	return cmd
}

func (p *program) follow(f progressFlags, args []string) error {
	f.rescueToScreen = f.rescueAsked && f.rescue == "-"
	date := time.Now()
	switch {
	case f.history && f.log == "":
		return wrong("--history goes with --log, which names the carving log")
	case f.rescueAsked && f.rescue == "":
		return wrong("--rescue=: a file's name is wanted after the equals sign")
	case f.rescueToScreen && f.table.format != "text":
		return wrong("--rescue prints a spec, which does not go with --format %s on one terminal; allowed: --rescue=rescued.toml", f.table.format)
	case f.history && len(args) > 0 && f.table.format != "text" && f.table.output == "-":
		return wrong("--history prints a second table, which does not go with --format %s on one terminal; allowed: -o for the first, or --history --log alone", f.table.format)
	case f.dateGiven && f.date == "":
		return wrong("--date: a date is wanted, such as 2026-03-14")
	case f.log == "" && f.date != "":
		return wrong("--date goes with --log")
	case len(args) == 0 && (f.rescueAsked || f.picture != "" || f.date != ""):
		return wrong("--rescue, --picture and --date go with SPEC.toml and READINGS")
	case !isPNG(f.picture):
		return wrong("--picture %q: the picture is a PNG; allowed: a name that ends in .png", f.picture)
	}
	switch {
	case f.date != "":
		var err error
		if date, err = parseDate(f.date); err != nil {
			return err
		}
	}
	if len(args) == 0 {
		return p.history(f, true)
	}
	if args[0] == "-" && args[1] == "-" {
		return wrong("progress: the spec and the readings cannot both be standard input")
	}
	n, err := p.readNeck(args[:1])
	if err != nil {
		return err
	}
	tolerance, err := spec.ParseLength(f.tolerance, n.Spec().Units)
	if err != nil {
		return wrong("--tolerance: %w", err)
	}
	if tolerance < 0 || tolerance > 5 {
		return wrong("--tolerance %s is not sensible; allowed: 0 to 5 mm", f.tolerance)
	}
	set, err := p.readSet(args[1:], nil)
	if err != nil {
		return err
	}
	pr, err := progress.Follow(n, set, tolerance)
	if err != nil {
		return usage(err)
	}
	unit := f.table.unit()
	if set.Units == spec.Inch && f.table.format == "text" {
		unit = spec.Inch
	}
	table := export.ProgressTable(pr, unit)
	write := func(w io.Writer) error {
		if f.table.format == "text" && pr.Cover < 0 {
			fmt.Fprintf(w, "%s\n\n", export.Stop(pr, unit))
		}
		return table.Write(w, f.table.format, unit)
	}
	if err := p.write(f.table.output, write); err != nil {
		return err
	}
	if f.table.format != "text" || f.table.output != "-" {
		// What must not be missed goes to the terminal too.
		for line := range strings.SplitSeq(export.ProgressSummary(pr, unit), "\n") {
			fmt.Fprintln(p.err, "neckloft:", line)
		}
	}
	if f.picture != "" {
		img, err := render.ProgressPicture(pr, unit, 0)
		if err != nil {
			return err
		}
		if err := p.write(f.picture, func(w io.Writer) error { return render.WritePNG(w, img) }); err != nil {
			return err
		}
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
		// The last thing that can fail, so that a call made again after another
		// failure adds no second line.
		if err := export.AppendCarveLog(f.log, export.NewCarveEntry(pr, date)); err != nil {
			return err
		}
	}
	if f.history {
		return p.history(f, false)
	}
	return nil
}

// parseDate reads a date, with the time of day or without, in the zone of the
// clock where it names none.
func parseDate(text string) (time.Time, error) {
	for _, layout := range []string{time.RFC3339, "2006-01-02 15:04", "2006-01-02"} {
		if date, err := time.ParseInLocation(layout, text, time.Local); err == nil {
			// A day ahead may be today in another zone; a slip of the keys is
			// farther off.
			if date.Year() < 1970 || time.Until(date) > 48*time.Hour {
				return time.Time{}, wrong("--date %s is not sensible; allowed: 1970 to today", text)
			}
			return date, nil
		}
	}
	return time.Time{}, wrong("--date %q is not understood; allowed: 2026-03-14, \"2026-03-14 15:09\" or 2026-03-14T15:09:26+01:00", text)
}

// history prints the carving log, which alone is the table that -o writes.
func (p *program) history(f progressFlags, alone bool) error {
	entries, err := export.ReadCarveLog(f.log)
	if err != nil {
		return usageError{err}
	}
	if len(entries) == 0 {
		return fmt.Errorf("%s: the carving log has no entry yet", f.log)
	}
	table := export.CarveHistory(entries)
	if alone {
		return p.writeTable(table, f.table)
	}
	if f.table.output == "-" && f.table.format == "text" {
		fmt.Fprintln(p.out)
	}
	return table.Write(p.out, f.table.format, f.table.unit())
}

// rescue looks for a new target and writes its spec.
func (p *program) rescue(f progressFlags, pr *progress.Progress, unit spec.Unit) error {
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
	fmt.Fprintf(out, "\nA new target inside the wood that is left, named %s: it takes %.1f g of wood more\nthan the old one, and its surface lies up to %s inside that.\n\n", r.Spec.Name, r.Lost, unit.Rounded(r.Moved))
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
	if f.rescueToScreen {
		fmt.Fprintln(p.out)
		return r.Spec.WriteTOML(p.out)
	}
	return p.write(f.rescue, r.Spec.WriteTOML)
}
