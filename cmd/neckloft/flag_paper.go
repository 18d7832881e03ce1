package main

import (
	"github.com/spf13/pflag"

	"neckloft/export"
	"neckloft/neck"
)

// paperFlag is a paper by its name.
type paperFlag struct {
	name string
	export.Paper
}

// addPaper defines a flag that is a paper.
func addPaper(fs *pflag.FlagSet, f *paperFlag, name, def, usage string) {
	f.name = name
	if err := f.Set(def); err != nil {
		panic(err) // a slip in the verb
	}
	fs.Var(f, name, usage)
}

func (f *paperFlag) String() string { return f.Paper.Name }
func (f *paperFlag) Type() string   { return "paper" }

func (f *paperFlag) Set(text string) (err error) {
	if f.Paper, err = export.ParsePaper(text); err != nil {
		return wrong("--%s: %w", f.name, err)
	}
	return nil
}

// on returns the paper that was asked for, or, where none was, that of the
// neck's shop.
func (f *paperFlag) on(given *pflag.FlagSet, n *neck.Neck) export.Paper {
	if given.Changed(f.name) {
		return f.Paper
	}
	return export.PaperFor(n.Spec())
}
