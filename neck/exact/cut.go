package exact

import (
	"fmt"
	"strings"

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
	return subtract(n, s, cutters)
}

// Uncut is the error of a solid from which something could not be taken: where faces
// touch, or all but run along each other. Feature is the name of what should be taken,
// Key its place in the spec, and Other what it touches; they are empty if it is not one
// feature's fault.
type Uncut struct {
	Feature, Key, Other string
	Err                 error
}

func (u *Uncut) Error() string {
	const but = "an exact solid cannot be cut so; a mesh can (.stl, .3mf, .glb)"
	if u.Feature == "" {
		return u.Err.Error() + ": " + but
	}
	return fmt.Sprintf("%q%s touches %s: %v: %s. A change of either by 0.02 mm may help", u.Feature, inSpec(u.Key), u.Other, u.Err, but)
}

// Unwrap returns what brep.Subtract said.
func (u *Uncut) Unwrap() error { return u.Err }

// inSpec returns a key as a sentence has it.
func inSpec(key string) string {
	if key == "" {
		return ""
	}
	return " (" + key + " in the spec)"
}

// cutterKeys are the keys of cutters by the beginnings of their names. Those of which
// the spec may have several end in their number.
var cutterKeys = []struct{ begins, key string }{
	{"face of the headstock", "headstock"},
	{"outline of the headstock", "headstock.outline"},
	{"pocket of the headstock", "headstock.pocket"},
	{"tuner ", "tuner[%s]"},
	{"slot of the nut", "nut"},
	{"slot of fret", "slots"},
	{"slot ", "headstock.slot[%s]"},
	{"raked face", "heel.rake"},
	{"corner of the end", "heel.end_corner"},
	{"shoulder of the tenon", "joint"},
	{"bolt hole", "heel.bolt"},
	{"hole for an insert", "joint.insert"},
	{"end of the board", "board.end"},
	{"hollow ", "scallop"},
	{"channel of the binding", "binding"},
	{"marker ", "marker"},
	{"side dot ", "side_dots"},
	{"pin ", "pins"},
}

// keyOf returns the key in the spec of a cutter with a name, empty for none.
func keyOf(n *neck.Neck, name string) string {
	for _, c := range n.Channels() {
		if c.Name == name {
			return c.Key
		}
	}
	for _, k := range cutterKeys {
		if number, ok := strings.CutPrefix(name, k.begins); ok {
			return strings.Replace(k.key, "%s", number, 1)
		}
	}
	return ""
}
