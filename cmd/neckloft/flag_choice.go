package main

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/pflag"
)

// choiceFlag is one of a few words.
type choiceFlag struct {
	name    string
	into    *string
	allowed []string

	was  map[string]string // words that had another name
	warn io.Writer         // where their new name is said
}

// addChoice defines a flag that is one of the allowed words; def may be empty,
// for none.
func addChoice(fs *pflag.FlagSet, into *string, name, def, usage string, allowed ...string) {
	*into = def
	fs.Var(&choiceFlag{name: name, into: into, allowed: allowed}, name, usage)
}

// renameWord has a choice read an old word for a new one, with a warning.
func renameWord(fs *pflag.FlagSet, name, old, word string, warn io.Writer) {
	f := fs.Lookup(name).Value.(*choiceFlag)
	if f.was == nil {
		f.was = make(map[string]string)
	}
	f.was[old], f.warn = word, warn
}

func (f *choiceFlag) String() string { return *f.into }
func (f *choiceFlag) Type() string   { return "word" }

func (f *choiceFlag) Set(word string) error {
	if now, ok := f.was[word]; ok {
		sayRenamed(f.warn, "--"+f.name+" "+word, "--"+f.name+" "+now)
		word = now
	}
	if !slices.Contains(f.allowed, word) {
		return wrong("--%s %q is unknown; allowed: %s", f.name, word, strings.Join(f.allowed, ", "))
	}
	*f.into = word
	return nil
}
