package main

import (
	"io"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck/spec"
)

// tableFlags are the flags of every verb that prints a table.
type tableFlags struct {
	format string
	inches bool
	output string
}

func (f *tableFlags) add(cmd *cobra.Command) {
	f.addFormat(cmd.Flags(), "text, csv or json")
	cmd.Flags().StringVarP(&f.output, "output", "o", "-", "file to write, - for the terminal")
	writes(cmd.Flags(), "output")
}

// addFormat defines --format and --in.
func (f *tableFlags) addFormat(fs *pflag.FlagSet, usage string) {
	addChoice(fs, &f.format, "format", "text", usage, export.Formats()...)
	fs.BoolVar(&f.inches, "in", false, "print inches")
}

// unit returns the unit to print: the flag's, or that of the table's columns.
func (f *tableFlags) unit() spec.Unit {
	if f.inches {
		return spec.Inch
	}
	return spec.Millimetre
}

// write sends the table where the flags say.
func (p *program) writeTable(t *export.Table, f tableFlags) error {
	return p.write(f.output, func(w io.Writer) error { return t.Write(w, f.format, f.unit()) })
}

// write sends what fn writes to a file, whole or not at all, or to standard
// output for "-". It is the last to see that the file is none that was given.
func (p *program) write(path string, fn func(io.Writer) error) error {
	if path == "-" {
		return fn(p.out)
	}
	if err := keepApart(p.given, []namedFile{{name: "the file", path: path}}); err != nil {
		return err
	}
	return export.File(path, fn)
}
