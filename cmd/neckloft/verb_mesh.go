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
	"neckloft/neck/exact"
	"neckloft/neck/fretboard"
	"neckloft/neck/spec"
)

// meshFormats are the endings of the files that mesh writes.
var meshFormats = []string{".stl", ".3mf", ".glb", ".step", ".stp"}

// meshFlags are the flags of mesh.
type meshFlags struct {
	output, part string
	tolerance    lengthFlag
	ascii        bool
	protocol     string
}

func (p *program) meshVerb() *cobra.Command {
	var f meshFlags
	endings := strings.Join(meshFormats, ", ")
	cmd := &cobra.Command{
		Use:   "mesh [SPEC.toml]",
		Short: "The neck as a closed solid: mesh, STL, 3MF or glTF, or exact, STEP",
		Long: `The neck as a closed mesh.

The ending of -o chooses the format: .stl and .3mf hold the part that --part names,
.glb (binary glTF 2.0) holds wood and board as two objects, in metres, for viewers.
.step (or .stp, ISO 10303-21) is no mesh but the exact solid, for CAD and mills, of
the part that --part names: planes, cylinders and few free surfaces.`,
		Example: `  neckloft mesh my-neck.toml -o neck.stl
  neckloft mesh my-neck.toml --part both --tolerance 0.005 -o neck.3mf
  neckloft mesh my-neck.toml -o neck.glb
  neckloft mesh my-neck.toml --part both -o neck.step`,
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			format := strings.ToLower(filepath.Ext(f.output))
			if f.output == "-" {
				format = ".stl"
			}
			switch {
			case !known(format, meshFormats):
				return wrong("-o %q: the file's ending gives its format; allowed: %s, or - for STL on standard output", f.output, endings)
			case f.ascii && format != ".stl":
				return wrong("--ascii goes with an .stl file")
			case format == ".glb" && cmd.Flags().Changed("part"):
				return wrong("--part goes with .stl, .3mf and .step; a .glb holds wood and board, each by its name")
			case isSTEP(format) && cmd.Flags().Changed("tolerance"):
				return wrong("--tolerance goes with meshes; a STEP file holds the surface within %s", millimetres(exact.Promised))
			case !isSTEP(format) && cmd.Flags().Changed("protocol"):
				return wrong("--protocol goes with .step and .stp files")
			}
			if isSTEP(format) {
				return p.meshSTEP(args, f)
			}
			return p.mesh(args, f, format)
		},
	}
	cmd.Flags().StringVarP(&f.output, "output", "o", "neck.stl", "file to write: "+endings+"; - for STL on standard output")
	writes(cmd.Flags(), "output")
	addChoice(cmd.Flags(), &f.part, "part", "wood", "wood, board or both; a .glb holds both as two objects, a .step as two solids", "wood", "board", "both")
	addLength(cmd.Flags(), &f.tolerance, "tolerance", fmt.Sprintf("%gmm", neck.DefaultTolerance), "largest distance between surface and mesh")
	addChoice(cmd.Flags(), &f.protocol, "protocol", "AP242", "of a .step file: AP242, or AP214 for older readers", "AP242", "AP214")
	cmd.Flags().BoolVar(&f.ascii, "ascii", false, "write text STL instead of binary")
	return cmd
}

// mesh writes what the flags ask for.
func (p *program) mesh(args []string, f meshFlags, format string) error {
	part, err := neck.ParsePart(f.part)
	if err != nil {
		return err
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	tol, err := f.tolerance.mm(n.Spec().Units)
	if err != nil {
		return err
	}
	var written string
	var triangles int
	if format == ".glb" {
		written = "wood and board"
		triangles, err = p.meshGLB(f.output, n, tol)
	} else {
		written = part.String()
		triangles, err = p.meshPart(f, format, n, part, tol)
	}
	if err != nil {
		return err
	}
	if f.tolerance.bare() && n.Spec().Units == spec.Inch {
		fmt.Fprintf(p.err, "neckloft: warning: --tolerance %s is in inches, as the spec is: %s; type %smm if millimetres are meant\n",
			f.tolerance.text, millimetres(tol), f.tolerance.text)
	}
	if f.output != "-" {
		fmt.Fprintf(p.err, "neckloft: %s: %s, %d triangles within %s of the surface\n", f.output, written, triangles, millimetres(tol))
	}
	return nil
}

// meshPart writes one part as STL or 3MF and returns the number of its triangles.
func (p *program) meshPart(f meshFlags, format string, n *neck.Neck, part neck.Part, tol float64) (int, error) {
	m, err := fretboard.Solid(n, part, tol)
	if err != nil {
		return 0, wrong("--tolerance: %w", err)
	}
	return len(m.Faces), p.write(f.output, func(w io.Writer) error {
		if format == ".3mf" {
			return write3MF(w, n, m, part)
		}
		return export.WriteSTL(w, m, export.STLOptions{Name: n.Spec().Name, ASCII: f.ascii})
	})
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
