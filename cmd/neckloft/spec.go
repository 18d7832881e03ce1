package main

import (
	"bytes"
	"fmt"
	"io"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// readSpec returns the spec named by a verb's arguments: the demo neck for
// none, standard input for "-".
func (p *program) readSpec(args []string) (*spec.Spec, error) {
	switch {
	case len(args) == 0:
		fmt.Fprintf(p.err, "neckloft: no spec given: this is the built-in demo neck, %q\n", spec.Demo().Name)
		return p.equip(spec.Demo())
	case args[0] == "-":
		var text bytes.Buffer
		s, err := spec.Read(io.TeeReader(p.in, &text), "-")
		if err != nil {
			return nil, askForSpec(err, "-", text.Bytes())
		}
		return p.equip(s)
	}
	s, err := spec.ReadFile(args[0])
	if err != nil {
		return nil, askForSpec(err, args[0], textOf(args[0]))
	}
	return p.equip(s)
}

// readNeck returns the neck named by a verb's arguments and prints its
// warnings.
func (p *program) readNeck(args []string) (*neck.Neck, error) {
	return p.readNeckBy(neck.Check, args)
}

// readNeckBy is readNeck with another judge of the spec.
func (p *program) readNeckBy(check func(*spec.Spec) (*neck.Neck, spec.Problems), args []string) (*neck.Neck, error) {
	s, err := p.readSpec(args)
	if err != nil {
		return nil, specError(err)
	}
	n, problems := check(s)
	if err := problems.Err(); err != nil {
		return nil, err
	}
	for _, w := range problems {
		fmt.Fprintln(p.err, "neckloft:", w.Error())
	}
	return n, nil
}

// specError marks every error of reading a spec as the spec's: a file that
// cannot be read is as wrong an argument as one that cannot be understood.
func specError(err error) error { return usageError{err} }
