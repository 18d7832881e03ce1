package main

import (
	"fmt"
	"io"

	"neckloft/export/step"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/render"
)

// isSTEP reports whether a file's ending is that of a STEP file.
func isSTEP(format string) bool { return format == ".step" || format == ".stp" }

// meshSTEP writes what the flags ask for as exact solids.
func (p *program) meshSTEP(args []string, f meshFlags) error {
	part, err := neck.ParsePart(f.part)
	if err != nil {
		return err
	}
	n, err := p.readNeck(args)
	if err != nil {
		return err
	}
	models, err := exact.Build(n, part)
	if err != nil {
		return err
	}
	s := n.Spec()
	ofWood, ofBoard := render.SurfaceColors(s.Wood)
	var parts []step.Part
	faces, miss := 0, 0.0
	for _, m := range models {
		colour := ofWood
		if m.Part == neck.PartBoard {
			colour = ofBoard
		}
		parts = append(parts, step.Part{Solid: m.Solid, Colour: colour})
		faces += len(m.Faces)
		miss = max(miss, m.Miss)
	}
	o := step.Options{
		Name: s.Name, Program: "neckloft",
		Description: []string{s.Name + ", " + part.String(), "spec_sha256 " + s.Hash()},
	}
	if f.protocol == "AP214" {
		o.Schema = step.AP214
	}
	if err := p.write(f.output, func(w io.Writer) error { return step.Write(w, parts, o) }); err != nil {
		return err
	}
	what := map[neck.Part]string{neck.PartWood: "wood", neck.PartBoard: "board", neck.PartBoth: "wood and board"}[part]
	fmt.Fprintf(p.err, "neckloft: %s: %s, %d faces; surface and file are nowhere farther than %.4f mm from each other\n", f.output, what, faces, miss)
	return nil
}
