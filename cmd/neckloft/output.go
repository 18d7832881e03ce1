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
	asked  askedUnit
	output string
}

func (f *tableFlags) add(cmd *cobra.Command) {
	f.addFormat(cmd.Flags(), "text, csv or json")
	cmd.Flags().StringVarP(&f.output, "output", "o", "-", "file to write, - for the terminal")
	writes(cmd.Flags(), "output")
}

// addFormat defines --format, --in and --mm.
func (f *tableFlags) addFormat(fs *pflag.FlagSet, usage string) {
	addChoice(fs, &f.format, "format", "text", usage, export.Formats()...)
	f.asked.add(fs)
}

// write sends the table where the flags say, in their unit or else the usual
// one.
func (p *program) writeTable(t *export.Table, f tableFlags, usual spec.Unit) error {
	return p.write(f.output, func(w io.Writer) error { return t.Write(w, f.format, f.asked.unit(usual)) })
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
