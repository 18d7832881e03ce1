package exact

import (
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/fretboard"
)

// leastCorner is the least radius, in mm, that a corner of headstock or heel has
// here: a sharp one is as close as 0.0034 mm to it.
const leastCorner = 0.008

// cutFace reports whether the headstock's face is cut from a level top, as that of one
// with an outline, a veneer or a leaning shelf is.
func cutFace(n *neck.Neck) bool {
	h := n.Spec().Headstock
	return h != nil && (n.HeadEdge() != nil || h.FaceVeneer > 0 || n.Spec().ShelfLeans())
}

// cut takes from the wood what is not laid with its faces: all but one channel, and
// the holes unless these are.
func (w *wood) cut(s *brep.Solid, laid *neck.Channel, holes bool) (*brep.Solid, error) {
	n := w.n
	lists := []func() ([]*brep.Solid, error){
		func() ([]*brep.Solid, error) {
			return n.ChannelCutters(func(c *neck.Channel) bool { return c == laid })
		},
		n.HeadCutters, n.HeelCutters, n.InsertCutters,
		func() ([]*brep.Solid, error) { return fretboard.ExactCutters(n, neck.PartWood) },
	}
	if w.raw {
		lists = append(lists, func() ([]*brep.Solid, error) {
			f, err := n.FaceCutter()
			if f == nil {
				return nil, err
			}
			return []*brep.Solid{f}, err
		})
	}
	if !holes {
		lists = append(lists, n.TunerCutters, n.BoltCutters)
	}
	var cutters []*brep.Solid
	for _, list := range lists {
		more, err := list()
		if err != nil {
			return nil, err
		}
		cutters = append(cutters, more...)
	}
	if len(cutters) == 0 {
		return s, nil
	}
	return subtract(s, cutters)
}

// Uncut is the error of a solid from which something could not be taken: where faces
// touch, or all but run along each other.
type Uncut struct{ Err error }

func (u *Uncut) Error() string {
	return u.Err.Error() + ": an exact solid cannot be cut so; a mesh can (.stl, .3mf, .glb)"
}

// Unwrap returns what brep.Subtract said.
func (u *Uncut) Unwrap() error { return u.Err }
