package exact

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/mesh/brep"
	"neckloft/neck"
)

// Round numbers of a spec often make two cuts end in the same plane, or one run along
// an edge of the wood: a pocket as wide as its channel, a bore as wide as the channel
// it ends in. There is no telling then on which side a face lies. Such a cutter is
// moved aside, each by another vector, by far less than what is promised.

// asides are the ways that a cutter is moved aside, in mm, one after the other until it
// can be taken out. None goes along an axis, nor in a plane of two. Planes are apart
// after the least; what is all but tangent, as a cylinder between two walls, wants more,
// this way or that. All are shorter than what is Promised.
var asides = []mesh.Vec{
	{X: -0.0006, Y: 0.0005, Z: -0.0004},
	{X: 0.0005, Y: -0.0006, Z: 0.0004},
	{X: 0.001, Y: 0.0009, Z: -0.0008},
	{X: -0.0009, Y: -0.001, Z: 0.0008},
	{X: -0.0034, Y: 0.0003, Z: -0.0006},
	{X: 0.0034, Y: -0.0003, Z: 0.0006},
	{X: 0.0003, Y: 0.0034, Z: -0.0005},
	{X: -0.0003, Y: -0.0034, Z: -0.0005},
	{X: -0.0007, Y: -0.0005, Z: -0.0034},
	{X: -0.0007, Y: 0.0005, Z: 0.0034},
	{X: 0.0022, Y: 0.0017, Z: 0.0017},
	{X: -0.0023, Y: 0.0018, Z: 0.0016},
}

// aside returns the way of a try for the k-th cutter: by multiples of the golden ratio
// no two cutters have the same.
func aside(k, try int) mesh.Vec {
	_, part := math.Modf(float64(k+1) * (math.Sqrt(5) - 1) / 2)
	return asides[try].Scale(0.9 + 0.4*part)
}

// subtract takes cutters of a neck from a solid, those that touch what is there from a
// little aside.
func subtract(n *neck.Neck, s *brep.Solid, cutters []*brep.Solid) (*brep.Solid, error) {
	list := slices.Clone(cutters)
	tries := map[int]int{}
	first := map[int]error{} // by cutter
	for {
		out, err := brep.SubtractQuick(s, list...)
		if lastTry(err, tries) {
			out, err = brep.Subtract(s, list...)
		}
		if err == nil {
			out = out.Shrunk()
			return out, out.Check()
		}
		var of *brep.CutError
		if !errors.As(err, &of) || !errors.Is(err, brep.ErrTouch) {
			return nil, &Uncut{Err: err}
		}
		k := of.Cutter
		if first[k] == nil {
			first[k] = of.Err
		}
		if tries[k] == len(asides) {
			return nil, &Uncut{of.Name, keyOf(n, of.Name), touched(n, s, cutters, k), first[k]}
		}
		list[k] = cutters[k].Moved(aside(k, tries[k]))
		tries[k]++
	}
}

// lastTry reports whether a cutter that touches cannot be moved aside any more.
func lastTry(err error, tries map[int]int) bool {
	var of *brep.CutError
	return errors.As(err, &of) && tries[of.Cutter] == len(asides)
}

// touched says what the k-th cutter touches: a cutter before it with which it cannot be
// taken out, or else the solid itself.
func touched(n *neck.Neck, s *brep.Solid, cutters []*brep.Solid, k int) string {
	if _, err := brep.SubtractQuick(s, cutters[k]); err == nil {
		for _, c := range cutters[:k] {
			if _, err := brep.SubtractQuick(s, c, cutters[k]); errors.Is(err, brep.ErrTouch) {
				return fmt.Sprintf("%q%s", c.Name, inSpec(keyOf(n, c.Name)))
			}
		}
	}
	return "the " + s.Name
}
