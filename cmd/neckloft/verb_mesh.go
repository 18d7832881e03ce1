package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
)

func (p *program) meshVerb() *cobra.Command {
	var output, partName string
	var tolerance lengthFlag
	var ascii bool
	cmd := &cobra.Command{
		Use:   "mesh [SPEC.toml]",
		Short: "The neck as a closed mesh, STL or 3MF",
		Example: `  neckloft mesh my-neck.toml -o neck.stl
  neckloft mesh my-neck.toml --part both --tolerance 0.005 -o neck.3mf`,
		Args: atMost(1),
		RunE: func(_ *cobra.Command, args []string) error {
			part, err := neck.ParsePart(partName)
			if err != nil {
				return err
			}
			format := strings.ToLower(filepath.Ext(output))
			if output == "-" {
				format = ".stl"
			}
			if format != ".stl" && format != ".3mf" {
				return wrong("-o %q: the file's ending gives its format; allowed: .stl, .3mf, or - for STL on standard output", output)
			}
			if ascii && format != ".stl" {
				return wrong("--ascii goes with an .stl file")
			}
			n, err := p.readNeck(args)
			if err != nil {
				return err
			}
			tol, err := tolerance.mm(n.Spec().Units)
			if err != nil {
				return err
			}
			m, err := fretboard.Solid(n, part, tol)
			if err != nil {
				return wrong("--tolerance: %w", err)
			}
			err = p.write(output, func(w io.Writer) error {
				if format == ".3mf" {
					return write3MF(w, n, m, part)
				}
				return export.WriteSTL(w, m, export.STLOptions{Name: n.Spec().Name, ASCII: ascii})
			})
			if err != nil {
				return err
			}
			if tolerance.bare() && n.Spec().Units == spec.Inch {
				fmt.Fprintf(p.err, "neckloft: warning: --tolerance %s is in inches, as the spec is: %s; type %smm if millimetres are meant\n",
					tolerance.text, millimetres(tol), tolerance.text)
			}
			if output != "-" {
				fmt.Fprintf(p.err, "neckloft: %s: %s, %d triangles within %s of the surface\n", output, part, len(m.Faces), millimetres(tol))
			}
			return nil
		},
	}
	cmd.Flags().StringVarP(&output, "output", "o", "neck.stl", "file to write, .stl or .3mf; - for STL on standard output")
	writes(cmd.Flags(), "output")
	addChoice(cmd.Flags(), &partName, "part", "wood", "wood, board or both", "wood", "board", "both")
	addLength(cmd.Flags(), &tolerance, "tolerance", fmt.Sprintf("%gmm", neck.DefaultTolerance), "largest distance between surface and mesh")
	cmd.Flags().BoolVar(&ascii, "ascii", false, "write text STL instead of binary")
	return cmd
}

func write3MF(w io.Writer, n *neck.Neck, m *mesh.Mesh, part neck.Part) error {
	s := n.Spec()
	return export.Write3MF(w,
		[]export.Object{{Name: s.Name + ", " + part.String(), Mesh: m}},
		export.Metadata{Title: s.Name, SpecHash: s.Hash()})
}

// millimetres prints a tolerance, whatever the spec's unit: printers, slicers
// and mills have theirs in millimetres.
func millimetres(v float64) string { return fmt.Sprintf("%.4g mm", v) }
