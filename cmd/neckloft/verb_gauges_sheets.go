package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/carve"
)

// sheets writes full-size sheets of the neck.
func (p *program) sheets(given *pflag.FlagSet, f *gaugeFlags, format string, args []string) error {
	first, last, err := f.checkSheets(given, format)
	if err != nil {
		return err
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	var sheets []export.Sheet
	if f.sheet == "head" {
		if sheets, err = export.HeadSheets(n); err != nil {
			return usageError{err}
		}
	} else {
		if sheets, err = f.lay(p, n); err != nil {
			return err
		}
		sheets = sheets[first:last]
	}
	title := n.Spec().Name + ", full-size sheets"
	err = p.write(f.output, func(w io.Writer) error {
		switch format {
		case ".pdf":
			return export.WriteSheetPDF(w, title, sheets, f.paper.on(given, n))
		case ".dxf":
			return export.WriteDXF(w, export.Stack(title, sheets))
		}
		return export.WriteSVG(w, export.Stack(title, sheets))
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(p.err, "neckloft: %s: %s\n", f.output, plural(len(sheets), "full-size sheet"))
	return nil
}

// checkSheets judges the flags of full-size sheets, and returns which of the two
// are asked for.
func (f *gaugeFlags) checkSheets(given *pflag.FlagSet, format string) (first, last int, err error) {
	if !known(format, []string{".svg", ".dxf", ".pdf"}) {
		return 0, 0, wrong("--sheet goes with .svg, .dxf and .pdf")
	}
	var misplaced []string
	given.Visit(func(fl *pflag.Flag) {
		if !known(fl.Name, []string{"sheet", "output", "paper", "pairs", "allowance", "tools"}) {
			misplaced = append(misplaced, "--"+fl.Name)
		}
	})
	if f.sheet == "head" && (given.Changed("pairs") || given.Changed("allowance")) {
		return 0, 0, wrong("--pairs and --allowance have no meaning with --sheet head, which has no flats")
	}
	switch {
	case len(misplaced) == 1:
		return 0, 0, wrong("%s has no meaning with --sheet", misplaced[0])
	case len(misplaced) > 1:
		return 0, 0, wrong("%s have no meaning with --sheet", strings.Join(misplaced, ", "))
	case f.pairs < 0 || f.pairs > carve.MostPairs:
		return 0, 0, wrong("--pairs %d; allowed: 0 to %d", f.pairs, carve.MostPairs)
	}
	switch f.sheet {
	case "side":
		return 0, 1, nil
	case "top":
		return 1, 2, nil
	}
	return 0, 2, nil
}

// lay returns both sheets, with the lines of the flats unless they are refused.
func (f *gaugeFlags) lay(p *program, n *neck.Neck) ([]export.Sheet, error) {
	if f.pairs == 0 {
		return export.FullSizeSheets(n), nil
	}
	unit, allowance := n.Spec().Units, carve.DefaultAllowance
	if f.allowance.given() {
		var err error
		if allowance, err = f.allowance.lengthFlag.mm(unit); err != nil {
			return nil, err
		}
	}
	flats, err := carve.NewFlats(carve.NewTapered(n), f.pairs, allowance)
	if err != nil {
		return nil, usageError{err}
	}
	if why := flats.Refusal(); why.Refused() {
		fmt.Fprintf(p.err, "neckloft: the full-size sheets carry no lines for flats: %s\n", why.Words(n, unit))
	}
	return export.MarkedSheets(&flats), nil
}
