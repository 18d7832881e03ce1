package carve

import (
	"neckloft/neck"
	"neckloft/neck/spec"
)

// GluedUp returns what a neck's blank is like now: what the spec says of it, with
// the measures of its scarf joint and its stacked heel. A blank whose side
// profile is cut has neither any more.
func GluedUp(n *neck.Neck) BlankState {
	b := n.Spec().Blank
	if b == nil {
		b = &spec.Blank{}
	}
	state := StateOf(b)
	if b.Profiled() {
		return state
	}
	if _, ok := n.Scarf(); ok {
		state.Head, state.HeadThickness = EndScarfed, n.Spec().Scarf.Thickness
	}
	if k, ok := n.HeelStack(); ok {
		state.Heel, state.HeelFrom, state.HeelDepth = EndStacked, k.From, k.Depth()
	}
	return state
}
