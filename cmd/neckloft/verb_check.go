package main

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"neckloft/neck"
)

func (p *program) checkVerb() *cobra.Command {
	return &cobra.Command{
		Use:   "check [SPEC.toml]",
		Short: "Judge a spec: errors, and what to look at before cutting wood",
		Args:  atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := p.readSpec(args)
			if err != nil {
				return specError(err)
			}
			_, problems := neck.Check(s)
			var b bytes.Buffer
			for _, w := range problems.Warnings() {
				fmt.Fprintln(&b, w.Error())
			}
			if problems.Err() == nil {
				switch n := len(problems); n {
				case 0:
					fmt.Fprintf(&b, "%s: the spec is sound, nothing to warn of.\n", s.Name)
				case 1:
					fmt.Fprintf(&b, "%s: the neck can be made; 1 warning.\n", s.Name)
				default:
					fmt.Fprintf(&b, "%s: the neck can be made; %d warnings.\n", s.Name, n)
				}
			}
			// What is wrong with the spec goes before a terminal that is gone.
			_, err = p.out.Write(b.Bytes())
			if errs := problems.Err(); errs != nil {
				return errs
			}
			return err
		},
	}
}
