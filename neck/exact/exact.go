package exact

import (
	"fmt"
	"strings"

	"neckloft/mesh/brep"
	"neckloft/neck"
)

// Model is a part of a neck as an exact solid.
type Model struct {
	*brep.Solid
	Part neck.Part // wood or board

	// Miss is how far, in mm, any point looked at of the free surfaces is from
	// the neck's, and the other way round; 0 where there are none.
	Miss float64
}

// Build returns a part of a neck: the wood or the board, or both, each a solid
// of its own. What the neck has and a solid cannot hold yet is an error, a
// *Unsupported.
func Build(n *neck.Neck, part neck.Part) ([]Model, error) {
	if err := supported(n, part); err != nil {
		return nil, err
	}
	var out []Model
	if part != neck.PartBoard {
		m, err := buildWood(n)
		if err != nil {
			return nil, fmt.Errorf("the exact solid of the wood: %w", err)
		}
		out = append(out, *m)
	}
	if part != neck.PartWood {
		s, err := buildBoard(n)
		if err != nil {
			return nil, fmt.Errorf("the exact solid of the board: %w", err)
		}
		out = append(out, Model{Solid: s, Part: neck.PartBoard})
	}
	return out, nil
}

// Unsupported names what a neck has that an exact solid cannot hold yet.
type Unsupported struct{ Features []string }

func (u *Unsupported) Error() string {
	return "an exact solid cannot hold " + strings.Join(u.Features, ", ") + " yet; a mesh can (.stl, .3mf, .glb)"
}

// supported returns an error that names what of a part cannot be built.
func supported(n *neck.Neck, part neck.Part) error {
	var missing []string
	h := n.Spec().Headstock
	if part == neck.PartBoard || h == nil {
		return nil
	}
	if n.HeadEdge() != nil && n.Stretches()[0].Kind != neck.StretchHead {
		missing = append(missing, "a headstock with an outline that ends before its section has left the neck's")
	}
	if h.Angle == 0 && h.FaceVeneer > 0 && h.FaceVeneer > h.Step+neck.VeneerLevel {
		missing = append(missing, "a veneer that stands over the glue plane")
	}
	if len(missing) == 0 {
		return nil
	}
	return &Unsupported{missing}
}
