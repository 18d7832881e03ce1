package main

import (
	"fmt"

	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck/fit"
	"neckloft/neck/fit/scan"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// scanFlags are the flags of fit that concern a scan.
type scanFlags struct {
	file              string
	units             unitFlag
	part              string
	nut               lengthFlag
	flip, endsGiven   bool
	origin, along, up vectorFlag
	from, to          float64
}

func (f *scanFlags) add(fs *pflag.FlagSet) {
	fs.StringVar(&f.file, "scan", "", "STL file of a scan of the neck alone")
	addUnit(fs, &f.units, "units", "mm", "unit of the scan: mm, cm, m or in")
	addChoice(fs, &f.part, "part", "wood", "what the scan shows: wood, or both with the board on", "wood", "both")
	addLength(fs, &f.nut, "nut", "", "scan: from where the flat begins to the nut's front (default 5mm with a headstock)")
	fs.BoolVar(&f.flip, "flip", false, "scan: the nut is at the wider end; --flip=false: at the narrower, whatever else tells")
	addVector(fs, &f.origin, "origin", "scan: x,y,z of the nut's front, on the centreline and glue plane; with --along and --up nothing is sought")
	addVector(fs, &f.along, "along", "scan: direction x,y,z from the nut to the body")
	addVector(fs, &f.up, "up", "scan: direction x,y,z from the back to the board")
	fs.Float64Var(&f.from, "from", 0, "scan: first fret to slice at (default 1)")
	fs.Float64Var(&f.to, "to", 0, "scan: last fret to slice at (default 12, or the heel of --spec)")
	reads(fs, "scan", "the scan")
}

// check judges the flags before any work is done.
func (f *scanFlags) check(given *pflag.FlagSet) error {
	f.endsGiven = given.Changed("flip")
	if f.file == "" {
		return f.checkNone(given)
	}
	vectors := 0
	for _, v := range []*vectorFlag{&f.origin, &f.along, &f.up} {
		if v.given() {
			vectors++
		}
	}
	switch {
	case vectors != 0 && vectors != 3:
		return wrong("--origin, --along and --up go together")
	case !isFret(f.from) || !isFret(f.to) || f.to > 0 && f.to < f.from+3:
		return wrong("--from %g --to %g: allowed: frets, 3 or more apart", f.from, f.to)
	case f.from > 0 && f.to == 0:
		return wrong("--from goes with --to")
	}
	return nil
}

// checkNone refuses the flags of a scan where there is none.
func (f *scanFlags) checkNone(given *pflag.FlagSet) error {
	for _, name := range []string{"part", "nut", "flip", "origin", "along", "up", "from", "to"} {
		if given.Changed(name) {
			return wrong("--%s goes with --scan, as --part, --nut, --flip, --origin, --along, --up, --from and --to do", name)
		}
	}
	if given.Changed("units") {
		return wrong("--units goes with --scan; the unit of readings stands in their file")
	}
	return nil
}

// isFret reports whether a fret can have this number, which may be fractional.
func isFret(n float64) bool { return n >= 0 && n <= 60 }

// options reads the flags into the options of a scan.
func (f *scanFlags) options(set *readings.Set, base *spec.Spec) (scan.Options, error) {
	o := scan.Options{Millimetres: f.units.mm(), Unit: f.units.symbol, Flip: f.flip, Ends: f.endsGiven, From: f.from, To: f.to}
	if f.part == "both" {
		for _, r := range set.Readings {
			if r.Kind == readings.BoardAt {
				o.Board = r.Value
			}
		}
		if o.Board == 0 && base != nil {
			o.Board = base.Board.Thickness
		}
		if o.Board == 0 {
			return o, wrong("--part both: the scan does not show where the board ends and the wood begins; give the board's thickness with --board")
		}
	}
	if f.nut.given() {
		v, err := f.nut.mm(set.Units)
		if err != nil {
			return o, err
		}
		o.Nut = &v
	}
	if f.origin.given() {
		frame, err := scan.NewFrame(f.origin.Scale(o.Millimetres), f.along.Vec, f.up.Vec)
		if err != nil {
			return o, wrong("--along, --up: %w", err)
		}
		o.Frame = &frame
	}
	return o, nil
}

// read reads the scan and fits the neck to it.
func (f *scanFlags) read(p *program, set *readings.Set, base *spec.Spec, opts fit.Options) (*scan.Result, error) {
	o, err := f.options(set, base)
	if err != nil {
		return nil, err
	}
	bar := p.progress("reading the scan")
	defer bar.done()
	bar.to(0, 2)
	m, err := export.ReadSTLFile(f.file)
	if err != nil {
		return nil, usageError{err}
	}
	bar.to(1, 2)
	r, err := scan.Scan(m, set, base, o, opts)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", f.file, usage(err))
	}
	return r, nil
}
