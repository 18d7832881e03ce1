package neck

import (
	"fmt"

	"neckloft/mesh"
)

// cutter is a closed mesh that is taken from the loft, and what it makes.
type cutter struct {
	name string
	mesh *mesh.Mesh
}

// cutters returns what is taken from the loft of a part, with chords within e of
// what they stand for.
func (n *Neck) cutters(part Part, e float64) ([]cutter, error) {
	if part == PartBoard {
		return nil, nil
	}
	return n.headCutters(e)
}

// cut takes the cutters from the loft.
func (n *Neck) cut(m *mesh.Mesh, part Part, e float64) (*mesh.Mesh, error) {
	list, err := n.cutters(part, e)
	if err != nil || len(list) == 0 {
		return m, err
	}
	meshes := make([]*mesh.Mesh, len(list))
	for i, c := range list {
		meshes[i] = c.mesh
	}
	out, err := mesh.Subtract(m, meshes...)
	if err != nil {
		return nil, fmt.Errorf("cutting the neck's wood: %w", err)
	}
	return out, nil
}
