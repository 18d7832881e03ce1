package main

import (
	"slices"
	"strings"

	"github.com/spf13/pflag"
)

// choiceFlag is one of a few words.
type choiceFlag struct {
	name    string
	into    *string
	allowed []string
}

// addChoice defines a flag that is one of the allowed words; def may be empty,
// for none.
func addChoice(fs *pflag.FlagSet, into *string, name, def, usage string, allowed ...string) {
	*into = def
	fs.Var(&choiceFlag{name, into, allowed}, name, usage)
}

func (f *choiceFlag) String() string { return *f.into }
func (f *choiceFlag) Type() string   { return "word" }

func (f *choiceFlag) Set(word string) error {
	if !slices.Contains(f.allowed, word) {
		return wrong("--%s %q is unknown; allowed: %s", f.name, word, strings.Join(f.allowed, ", "))
	}
	*f.into = word
	return nil
}
