package main

import (
	"io"

	"neckloft/export"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/render"
)

// meshGLB writes wood and board to a .glb file, each as a node of its own, and
// returns the number of their triangles.
func (p *program) meshGLB(path string, n *neck.Neck, tolerance float64) (int, error) {
	s := n.Spec()
	ofWood, ofBoard := render.SurfaceColors(s.Wood)
	bodies := []export.Body{{Name: "wood", Colour: ofWood}, {Name: "board", Colour: ofBoard}}
	triangles := 0
	for i, part := range []neck.Part{neck.PartWood, neck.PartBoard} {
		m, err := fretboard.Solid(n, part, tolerance)
		if err != nil {
			return 0, wrong("--tolerance: %w", err)
		}
		bodies[i].Mesh = m
		triangles += len(m.Faces)
	}
	return triangles, p.write(path, func(w io.Writer) error {
		return export.WriteGLB(w, bodies, export.Metadata{Title: s.Name, SpecHash: s.Hash()})
	})
}
