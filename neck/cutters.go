package neck

import (
	"errors"
	"fmt"
	"math"

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
	var out []cutter
	for _, of := range []func() ([]cutter, error){
		func() ([]cutter, error) { return n.channelCutters(part, e) },
		func() ([]cutter, error) { return n.shelfCutters(e) },
		func() ([]cutter, error) { return n.headCutters(e) },
		func() ([]cutter, error) { return n.heelCutters(part, e) },
	} {
		list, err := of()
		if err != nil {
			return nil, err
		}
		out = append(out, list...)
	}
	return out, nil
}

// Cutting returns how what is within a tolerance is cut. Slivers are mended in a
// twentieth of it, or a fifth of it where a cutter made the surface: the chords of
// cutters take half of it alone.
func Cutting(tolerance float64) mesh.Cutting {
	most := math.Min(0.05, tolerance)
	return mesh.Cutting{Within: most / 20, WithinCuts: most / 5}
}

// cut takes from the loft of a part what its cutters hold. A loft without
// cutters stays as it is, but for slivers that go where they hardly move it.
func (n *Neck) cut(m *mesh.Mesh, part Part, e float64, by mesh.Cutting) (*mesh.Mesh, error) {
	list, err := n.cutters(part, e)
	if err != nil {
		return m, err
	}
	if len(list) == 0 {
		const flipped, sliver = 1e-4, 5e-3 // as newLoft keeps for the flipping of needles
		if by.Within >= flipped {
			return mesh.Cutting{Within: flipped}.Mend(m, sliver), nil
		}
		return m, nil
	}
	return takeOut(m, list, by)
}

// isCut reports whether anything is cut from the loft of a part, or joined to it.
func (n *Neck) isCut(part Part) bool {
	if part == PartBoard {
		return false
	}
	list, err := n.cutters(part, MaxTolerance)
	return err != nil || len(list) > 0 || n.faceVeneer() > 0
}

// takeOut takes cutters from a solid. An error names the one that it failed at.
func takeOut(m *mesh.Mesh, list []cutter, by mesh.Cutting) (*mesh.Mesh, error) {
	meshes := make([]*mesh.Mesh, len(list))
	for i, c := range list {
		meshes[i] = c.mesh
	}
	out, err := by.Subtract(m, meshes...)
	if failed := (*mesh.CutError)(nil); errors.As(err, &failed) {
		return nil, fmt.Errorf("%s cannot be cut from the solid: %w", list[failed.Cutter].name, failed.Err)
	}
	return out, err
}
