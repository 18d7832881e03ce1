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
		n.HeadCutters, n.HeelCutters,
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
		lists = append(lists, n.TunerCutters, n.HoleCutters)
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
	return brep.Subtract(s, cutters...)
}
