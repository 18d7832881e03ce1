package main

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/carve"
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
			n, problems := carve.Check(s)
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
			if n != nil && s.Headstock != nil {
				if err := writeHead(&b, n); err != nil {
					return err
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

// writeHead writes what a headstock comes to: its thickness, and the ways of the
// strings.
func writeHead(b *bytes.Buffer, n *neck.Neck) error {
	fmt.Fprintf(b, "\nHeadstock, thickness square to its face at u along it from the nut:\n\n")
	unit := n.Spec().PrintUnit()
	if err := export.HeadTable(n).Write(b, "text", unit); err != nil {
		return err
	}
	if len(n.StringRuns()) == 0 {
		return nil
	}
	fmt.Fprintf(b, "\nStrings from the nut to their posts:\n\n")
	return export.StringTable(n).Write(b, "text", unit)
}
