package carve

import (
	"math"
	"neckloft/neck"
	"neckloft/neck/numeric"
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

// stackShort returns an error where the heel is deeper than its stick and the
// spec's blocks together: no carving brings such a neck out of the blank.
func stackShort(n *neck.Neck, state BlankState, u spec.Unit) error {
	k, ok := n.HeelStack()
	if !ok {
		return nil
	}
	need, at := numeric.Maximize(n.Depth, state.HeelFrom, n.End(), 400)
	if need <= state.HeelDepth+1e-6 {
		return nil
	}
	return n.Spec().Problem("stack", "stick and blocks are %s thick together and the finished heel needs %s at %s; allowed: %d blocks of %s or more, or thicker ones",
		u.Format(state.HeelDepth), u.Limit(need, math.Ceil), n.WhereIn(u, at), int(math.Ceil((need-state.Depth)/k.Thickness-1e-9)), u.Format(k.Thickness))
}
