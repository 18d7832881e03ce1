package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export/bench"
	"neckloft/neck/mill"
	"neckloft/neck/spec"
)

// millFormats are the endings of the files that mill writes.
var millFormats = []string{".pdf", ".dxf", ".svg"}

// millFlags are the flags of mill as they are typed.
type millFlags struct {
	output, pins                       string
	ball, step, cutter, allowance, pin lengthFlag
	tabs                               int
	paper                              paperFlag
}

func (p *program) millVerb() *cobra.Command {
	var f millFlags
	o := mill.DefaultOptions()
	cmd := &cobra.Command{
		Use:   "mill [SPEC.toml]",
		Short: "Set-up sheet and outlines by layer for a mill",
		Long: `What a mill's CAM program and its operator want beside the solid: a set-up sheet
with datum, stock, pins to turn the neck over on, tabs, order of work and the ridges
that a ball nose leaves, or the outlines by layer.

The ending of -o chooses: .pdf is the set-up sheet, .dxf and .svg the outlines. It
writes no machine code: feeds, speeds and posts belong to the machine's software.`,
		Example: `  neckloft mill my-neck.toml -o mill.pdf
  neckloft mill my-neck.toml --ball 12.7mm --step 0.5mm --pins board -o mill.pdf
  neckloft mill my-neck.toml -o mill.dxf`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error { return p.mill(cmd.Flags(), &f, args) },
	}
	fl := cmd.Flags()
	fl.StringVarP(&f.output, "output", "o", "mill.pdf", "file to write: "+strings.Join(millFormats, ", "))
	writes(fl, "output")
	inches := mill.DefaultsFor(spec.Inch)
	size := func(into *lengthFlag, name string, of func(*mill.Options) float64, usage string) {
		addLength(fl, into, name, inMM(of(&o)), usage+"; beside inches "+spec.Inch.Format(of(&inches)))
	}
	size(&f.ball, "ball", func(o *mill.Options) float64 { return o.Ball }, "diameter of the ball nose")
	size(&f.step, "step", func(o *mill.Options) float64 { return o.Step }, "between its passes")
	size(&f.cutter, "cutter", func(o *mill.Options) float64 { return o.Cutter }, "diameter of the flat cutter that goes round the outline")
	size(&f.allowance, "allowance", func(o *mill.Options) float64 { return o.Allowance }, "allowance on the back for the scraper")
	size(&f.pin, "pin", func(o *mill.Options) float64 { return o.Pin }, "diameter of the pins that the neck is turned over on")
	addChoice(fl, &f.pins, "pins", "auto", "where they go: in the waste at the ends, in the wood under the board, or where the blank has room", mill.PinPlaces...)
	fl.IntVar(&f.tabs, "tabs", o.Tabs, "tabs on each side that hold the neck in its frame; 0 for none")
	addPaper(fl, &f.paper, "paper", "A4", "paper for .pdf: A4 or Letter, which is usual with inches")
	return cmd
}

// options returns what the flags say.
func (f *millFlags) options(given *pflag.FlagSet, s *spec.Spec) (mill.Options, error) {
	o := mill.DefaultsFor(s.PrintUnit())
	for _, l := range []struct {
		flag *lengthFlag
		into *float64
	}{{&f.ball, &o.Ball}, {&f.step, &o.Step}, {&f.cutter, &o.Cutter}, {&f.allowance, &o.Allowance}, {&f.pin, &o.Pin}} {
		if !given.Changed(l.flag.name) {
			continue // the default's size is usual beside the unit that is printed
		}
		v, err := l.flag.mm(s.Units)
		if err != nil {
			return o, err
		}
		*l.into = v
	}
	for i, word := range mill.PinPlaces {
		if word == f.pins {
			o.PinsWhere = mill.PinPlace(i)
		}
	}
	if given.Changed("tabs") {
		o.Tabs = f.tabs
	}
	return o, nil
}

func (p *program) mill(given *pflag.FlagSet, f *millFlags, args []string) error {
	format := strings.ToLower(filepath.Ext(f.output))
	switch {
	case !known(format, millFormats):
		return wrong("-o %q: the file's ending gives its format; allowed: %s", f.output, strings.Join(millFormats, ", "))
	case given.Changed("paper") && format != ".pdf":
		return wrong("--paper goes with a .pdf file")
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	o, err := f.options(given, n.Spec())
	if err != nil {
		return err
	}
	s, err := mill.New(n, o)
	if err != nil {
		return usageError{flagRange(given, err)}
	}
	u := n.Spec().PrintUnit()
	if err := p.write(f.output, func(w io.Writer) error { return bench.WriteMill(w, s, u, format, f.paper.on(given, n)) }); err != nil {
		return err
	}
	where := "in the waste"
	if !s.Waste {
		where = "in the wood under the board"
	}
	fmt.Fprintf(p.err, "neckloft: %s: pins %s; a ball nose of %s in steps of %s leaves ridges of %s\n",
		f.output, where, u.Format(o.Ball), u.Format(o.Step), mill.RidgeWords(u, mill.Scallop(o.Ball/2, o.Step)))
	for _, short := range s.Short {
		fmt.Fprintf(p.err, "neckloft: warning: blank: %s\n", short)
	}
	return nil
}
