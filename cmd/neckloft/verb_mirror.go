package main

import (
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"neckloft/neck/spec"
)

func (p *program) mirrorVerb() *cobra.Command {
	var output string
	cmd := &cobra.Command{
		Use:   "mirror [SPEC.toml]",
		Short: "Turn a spec to the other hand, left or right",
		Long: `Turn a spec to the other hand. Its values stay: bass is bass and treble is
treble. The key hand turns the neck they describe, and with it all that is made
of it: solid, tables, plan, gauges, sheets and pictures. Comments and layout stay
as they are, and a spec that is mirrored twice is the same, byte for byte.`,
		Example: `  neckloft mirror my-neck.toml -o my-left-neck.toml
  neckloft mirror my-neck.toml | neckloft preview - -o left.png`,
		Args: atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			s, text, err := p.specText(args)
			if err != nil {
				return specError(err)
			}
			out, err := mirrored(text)
			if err != nil {
				return err
			}
			if back, err := spec.Read(strings.NewReader(out), "mirrored spec"); err != nil || back.Hash() != s.Mirrored().Hash() {
				return errNotMirrored
			}
			return p.write(output, func(w io.Writer) error {
				_, err := io.WriteString(w, out)
				return err
			})
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "-", "file to write, - for the terminal")
	writes(cmd.Flags(), "output")
	return cmd
}

// specText returns the spec named by a verb's arguments as readSpec does, with
// its text.
func (p *program) specText(args []string) (*spec.Spec, string, error) {
	var text strings.Builder
	switch {
	case len(args) == 0:
		text.WriteString(spec.Starter())
	case args[0] == "-":
		q := *p
		q.in = io.TeeReader(p.in, &text)
		s, err := q.readSpec(args)
		return s, text.String(), err
	default:
		f, err := os.Open(args[0])
		if err != nil {
			break // readSpec says so
		}
		defer f.Close()
		if _, err := io.Copy(&text, io.LimitReader(f, spec.MaxFileSize+1)); err != nil {
			break
		}
	}
	s, err := p.readSpec(args)
	return s, text.String(), err
}
