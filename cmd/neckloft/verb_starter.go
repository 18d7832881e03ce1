package main

import (
	"io"

	"github.com/spf13/cobra"

	"neckloft/neck/spec"
)

func (p *program) starterVerb() *cobra.Command {
	var output string
	cmd := &cobra.Command{
		Use:   "starter",
		Short: "Print a commented spec to begin from",
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return wrong("starter takes no SPEC.toml")
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error {
			return p.write(output, func(w io.Writer) error {
				_, err := io.WriteString(w, spec.Starter())
				return err
			})
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "-", "file to write, - for the terminal")
	writes(cmd.Flags(), "output")
	return cmd
}
